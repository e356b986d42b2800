"""A schedule in one's own words: the lines of a notebook read, checked, shown and kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from finishsched.documents import library
from finishsched.documents.decode import dump
from finishsched.documents.editing.edit import edited
from finishsched.documents.faults import DocumentFaultsError, Fault
from finishsched.documents.lines.read import Context, ReadLines, read_lines
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.begin.questions import name_of
from finishsched.workshop.begin.written import Written, text_at
from finishsched.workshop.defects.checks import check_drafts

_HEAD = """# Written from a notebook's lines; each line is above the steps that it became.
# yaml-language-server: $schema=../.schemas/schedule.json
"""


@dataclass(frozen=True, slots=True)
class OwnLines:
    """What came of lines, before anything is written."""

    read: ReadLines
    findings: tuple[Fault, ...]
    """What the checker says of the schedule, at the lines."""
    lines: tuple[str, ...]
    """The notebook's lines, from the first."""

    @property
    def is_refused(self) -> bool:
        """True where the lines cannot be read, or the checker calls the schedule faulty."""
        return bool(self.read.faults) or any(f.severity != "advice" for f in self.findings)


def read_own_lines(
    text: str,
    name: str,
    papers: Papers | None,
    folder: Path | None,
    answers: Mapping[str, str],
    now: datetime,
    called: str = "",
) -> OwnLines:
    """Return the schedule that lines say, with what the checker finds in it.

    ``called`` is its id where the lines give none; ``answers`` settle doubts by their keys.
    """
    context = context_of(papers, folder, answers)
    found = read_lines(text, name, context, called or name_of(Path(name).stem, (), "own-schedule"))
    findings: tuple[Fault, ...] = ()
    if found.document is not None:
        findings = check_drafts([found.document], folder, now)
    return OwnLines(found, findings, tuple(text.splitlines()))


def context_of(papers: Papers | None, folder: Path | None, answers: Mapping[str, str]) -> Context:
    """Return what lines are read with in a shop, or where there is none."""
    products = papers.products if papers else library.shipped_products()
    grades = papers.shop.film.bare_grades if papers and _says_grades(folder) else None
    shipped = tuple(library.shipped_schedules().values())
    return Context(products, shipped, grades, answers)


def _says_grades(folder: Path | None) -> bool:
    """Tell whether the shop's document says how it means grades; else it has to be asked."""
    text = text_at(folder, "shop.yaml") if folder else None
    return text is not None and "bare_grades" in text


def kept_lines(own: OwnLines, folder: Path, called: str = "") -> Written:
    """Return the document that the schedule would be kept as: a new one, or its new text.

    Raises:
        DocumentFaultsError: when the lines cannot be read.

    """
    schedule = own.read.schedule
    if schedule is None:
        raise DocumentFaultsError(own.read.faults)
    if called:
        schedule = replace(schedule, id=called)
    path = f"schedules/{schedule.id}.yaml"
    before = text_at(folder, path)
    what = f"keep the schedule {schedule.id}"
    if before is not None:
        return Written(path, what, before, edited(before, path, schedule))
    return Written(path, what, None, f"{_HEAD}\n{dump(schedule)}")
