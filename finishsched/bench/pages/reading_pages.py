"""What is read of a piece on the bench: which scale, which grade of it, what was read so far."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from finishsched.bench.screens.choice import Choice, ChoiceCard
from finishsched.bench.screens.page import Page, Paragraph
from finishsched.model.readings import CONDITIONS, PENCILS, SMELL, SWABS, THUMBNAIL, Measure
from finishsched.workshop.papers.compared import Compared, facts
from finishsched.workshop.papers.conditions import Condition, text_lines

SO_FAR, CONDITION, COST, COMPARE, BOARD = "so far", "condition", "cost", "compare", "board"
GRADES: Mapping[Measure, tuple[str, ...]] = MappingProxyType(
    {
        Measure.PENCIL: PENCILS,
        Measure.THUMBNAIL: THUMBNAIL,
        Measure.SMELL: SMELL,
        Measure.FOUND: CONDITIONS,
        Measure.SWAB: tuple(f"{solvent}: " for solvent in SWABS),
    }
)
"""What is chosen from a list before it is written down."""
_MEANT: Mapping[Measure, str] = MappingProxyType(
    {
        Measure.GLOSS: "units at 60, 20 or 85 degrees",
        Measure.COLOUR: "L*, a*, b*",
        Measure.PENCIL: "the hardest that leaves it whole",
        Measure.THUMBNAIL: "dent, print, no mark",
        Measure.SMELL: "with the nose on it",
        Measure.JUDGED: "up to 10, in your own words",
        Measure.FOUND: "what an old piece shows",
        Measure.SWAB: "a solvent tried on a hidden spot",
        Measure.LEAVE: "what must not be touched",
    }
)


def what_card(title: str, board: str) -> ChoiceCard:
    """Ask what was read, or what is wanted of it; ``board`` is the board it is a strip of."""
    choices = [Choice(measure.value, measure.value, _MEANT[measure]) for measure in Measure]
    choices.append(Choice(SO_FAR, "what was read so far", "the sheen beside the one wanted"))
    choices.append(Choice(CONDITION, "its condition report", "found, tried, left alone"))
    choices.append(Choice(COST, "what it cost so far", "hours, material, one more like it"))
    if board:
        choices.append(Choice(COMPARE, "the strips side by side", f"of {board}; take one"))
    choices.append(Choice(BOARD, "make a sample board", "a strip for each schedule"))
    return ChoiceCard(f"Read: {title}", "choose it", choices)


def grade_card(title: str, measure: Measure) -> ChoiceCard:
    """Ask which grade of a scale it is."""
    choices = [Choice(grade, grade.strip(" :")) for grade in GRADES[measure]]
    return ChoiceCard(f"{measure.value}: {title}", "take it", choices)


def lines_page(title: str, lines: Iterable[str]) -> Page:
    """Show lines as they are, those set in by a sign in their margin."""
    return Page(title, _as_paragraphs(lines))


def condition_card(title: str, report: Condition) -> ChoiceCard:
    """Show the condition report of a piece, and offer it as a page to print."""
    printed = Choice("print", "write it as a page to print", "into the shop's folder")
    return ChoiceCard(
        f"Condition: {title}", "write it", [printed], after=_as_paragraphs(text_lines(report))
    )


def strips_card(board: str, rows: Iterable[Compared]) -> ChoiceCard:
    """Show strips side by side, the best judged first; one of them is taken."""
    choices = [Choice(row.ref, row.title, _facts(row)) for row in rows]
    return ChoiceCard(f"{board}: strips, the best first", "take its schedule", choices)


def target_card(schedule: str, pieces: Iterable[tuple[str, str]]) -> ChoiceCard:
    """Ask which piece takes the schedule of a strip."""
    choices = [Choice(ref, title) for ref, title in pieces]
    return ChoiceCard(f"Which piece takes {schedule}?", "write it there", choices)


def _as_paragraphs(lines: Iterable[str]) -> tuple[Paragraph, ...]:
    return tuple(Paragraph("·" if line.startswith(" ") else "", line.strip()) for line in lines)


def _facts(row: Compared) -> str:
    return "; ".join(f"{name} {said}" for name, said in facts(row) if said)
