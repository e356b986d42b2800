"""The handbook: short pages on the steps, the materials, the waits, what can hurt, the program.

A page is a text file beside the papers of the shops, in a small part of markdown: a heading, then
paragraphs and lists, then what to read next and where it comes from. Every page is our own writing;
its figures are those that the program reckons with.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib import resources
from types import MappingProxyType

from finishsched.model.said import told_marks
from finishsched.model.schedule import Verb
from finishsched.model.shop import ShownUnits
from finishsched.model.step import Step
from finishsched.near import nearest
from finishsched.refusals import RefusalError
from finishsched.safety.deferring import IN_PRINT, defers, speaks_of_hazard
from finishsched.workshop.base.shown import tell_in

GROUPS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "the steps": tuple(verb.value.replace(" ", "-") for verb in Verb),
        "the materials": (
            *("woods", "cuts", "mixing", "recipes", "storage"),
            *("pads", "grades", "film", "faces", "levelling", "readings", "boards"),
        ),
        "the waits": ("air", "drying", "dry-checks", "water"),
        "what can hurt": ("vapour", "rags", "dust", "glue-safety"),
        "when it goes wrong": ("defects", "rework", "spots", "old-finish", "condition", "rules"),
        "to begin with": (
            "beginning", "lines", "joining", "units", "settings", "questions", "limits",
        ),
        "the program": (
            *("bench", "tablet", "touch", "planning", "journal", "records", "costs", "backups"),
            "words",
        ),
        "a tour, with what is printed": (
            "tour-mix", "tour-air", "tour-shop", "tour-check", "tour-plan", "tour-need", "tour-log",
            "tour-several", "tour-film", "tour-gauge", "tour-defect", "tour-safety", "tour-keep",
            "tour-paper",
        ),
    }
)  # fmt: skip
"""Every topic, in the order in which they are listed."""

_ALSO = {
    "gluing": "glue-up",
    "glue": "glue-up",
    "tape": "strip-tape",
    "filling": "fill",
    "sanding": "sand",
    "padding": "pad",
    "spirit": "spirit-off",
    "rubbing-out": "rub-out",
    "cut": "cuts",
    "veneer": "film",
    "inlay": "faces",
    "edges": "faces",
    "grade": "grades",
    "grit": "grades",
    "humidity": "air",
    "blush": "air",
    "clock": "drying",
    "cure": "drying",
    "dry-check": "dry-checks",
    "thumbnail": "dry-checks",
    "solvents": "vapour",
    "ventilation": "vapour",
    "masks": "dust",
    "respirator": "dust",
    "scraper": "scrape",
    "toner": "tone",
    "glazing": "glaze",
    "dye": "stain",
    "tint": "recipes",
    "recipe": "recipes",
    "lye": "bleach",
    "neutralize": "neutralise",
    "masking": "mask",
    "gloves": "glue-safety",
    "epoxy": "glue-safety",
    "labels": "storage",
    "jars": "storage",
    "refresh": "old-finish",
    "restoring": "old-finish",
    "sample": "boards",
    "quote": "costs",
    "price": "costs",
    "cost": "costs",
    "compare": "boards",
    "gloss": "readings",
    "colour": "readings",
    "hardness": "readings",
    "keys": "bench",
    "states": "bench",
    "undo": "journal",
    "calendar": "planning",
    "faults": "rules",
    "glossary": "words",
    "begin": "beginning",
    "first-evening": "beginning",
    "start": "beginning",
    "notebook": "lines",
    "say": "lines",
    "join": "joining",
    "completion": "settings",
    "ounces": "units",
    "inches": "units",
    "faq": "questions",
    "report": "questions",
    "tour": "tour-mix",
}
"""Other names of a topic, which are never listed."""

METRIC = ShownUnits()
_SEE_ALSO, _SOURCES = "See also: ", "Sources: "
_DEFECTS = "(the defects)"
"""A paragraph that stands for what the catalogue of defects says."""
_SPACE_IN_CODE = "\u00a0"
"""Keeps a command on one line; it becomes a space again once the lines are made."""


class Kind(StrEnum):
    """What a block of a page is."""

    HEADING = "heading"
    PARAGRAPH = "paragraph"
    ITEM = "item"
    SHOWN = "shown"
    """What is typed, printed or written in a document: its lines stay lines."""


@dataclass(frozen=True, slots=True)
class Block:
    """One heading, paragraph, item of a list or text as it is shown.

    Commands and keys stand in backticks, but for what is shown.
    """

    kind: Kind
    text: str


@dataclass(frozen=True, slots=True)
class Page:
    """One page of the handbook."""

    id: str
    title: str
    group: str
    blocks: tuple[Block, ...]
    """All but the title, what to read next and the sources."""
    see_also: tuple[str, ...]
    """Ids of other topics."""
    sources: str
    """Where it comes from, in a sentence."""

    @property
    def text(self) -> str:
        """The page as markdown, without its title, its see-also and its sources."""
        text, before = "", None
        for block in self.blocks:
            tight = before is Kind.ITEM and block.kind is Kind.ITEM
            text += ("\n" if tight else "\n\n") + _marked(block)
            before = block.kind
        return text.strip()


class NoTopicError(RefusalError, LookupError):
    """A topic that the handbook does not have; ``near`` is what was perhaps meant."""

    def __init__(self, topic: str) -> None:
        self.near = near_topic(topic)
        remedy = f"did you mean {self.near!r}?" if self.near else "finishsched help lists them all"
        super().__init__(f"no topic {topic!r} in the handbook", remedy)


def topics() -> tuple[str, ...]:
    """Return the id of every topic, in the order of the groups."""
    return tuple(topic for group in GROUPS.values() for topic in group)


def topic_of(step: Step) -> str:
    """Return the topic on the verb of ``step``."""
    return step.verb.value.replace(" ", "-")


def topic_named(name: str) -> str | None:
    """Return the id of the topic that goes by ``name``: ``tack off`` is ``tack-off``."""
    plain = "-".join(re.sub(r"[^\w]+", " ", name.lower()).replace("_", " ").split())
    if plain in topics():
        return plain
    return _ALSO.get(plain)


def near_topic(name: str) -> str | None:
    """Return the topic whose name is nearest to ``name``, or None when none is near."""
    plain = "-".join(name.lower().split())
    near = nearest(plain, [*topics(), *_ALSO])
    return topic_named(near) if near else None


@cache
def page(topic: str, units: ShownUnits = METRIC) -> Page:
    """Return the page on ``topic``, by its id or another of its names, its figures in ``units``.

    A topic that nobody has written of yet has a page that says so.

    Raises:
        NoTopicError: when the handbook has none.

    """
    id_ = topic_named(topic)
    if id_ is None:
        raise NoTopicError(topic)
    file = resources.files("finishsched") / "workshop/papers/pages" / f"{id_}.md"
    text = file.read_text("utf-8") if file.is_file() else _unwritten(id_)
    title, *rest = _paragraphs(told_marks(text, tell_in(units)))
    told = [text for text in rest if not text.startswith((_SEE_ALSO, _SOURCES))]
    if speaks_of_hazard(whole := "\n".join([title, *told])) and not defers(whole):
        told.append(IN_PRINT)
    return Page(
        id=id_,
        title=title.removeprefix("# "),
        group=next(name for name, group in GROUPS.items() if id_ in group),
        blocks=tuple(block for text in told for block in _blocks(text)),
        see_also=tuple(_tail(rest, _SEE_ALSO).replace(" ", "").split(",")),
        sources=_tail(rest, _SOURCES),
    )


def _unwritten(id_: str) -> str:
    name = id_.replace("-", " ").capitalize()
    told = f"{name} is a step that schedules may have, and nothing is written of it here yet."
    return f"# {name}\n\n{told}\n\n{_SEE_ALSO}words\n\n{_SOURCES}none"


def page_lines(shown: Page, width: int) -> Iterator[str]:
    """Give a page as plain text, no line wider than ``width`` columns, 40 or more."""
    yield from _wrapped(shown.title, width)
    yield "=" * min(len(shown.title), width)
    before: Kind | None = None
    for block in shown.blocks:
        if before is not Kind.ITEM or block.kind is not Kind.ITEM:
            yield ""
        before = block.kind
        first, later = ("- ", "  ") if block.kind is Kind.ITEM else ("", "")
        if block.kind is Kind.SHOWN:
            yield from shown_lines(block, width)
        else:
            yield from _wrapped(block.text, width, first, later)
    yield ""
    yield from _wrapped(f"See also: {', '.join(shown.see_also)}", width, later="  ")
    yield from _wrapped(f"Sources: {shown.sources}", width, later="  ")


def shown_lines(block: Block, width: int) -> Iterator[str]:
    """Give what is shown line by line; what is too wide goes on below, further in."""
    for line in block.text.splitlines():
        indent = " " * min(len(line) - len(line.lstrip()) + 4, width // 3)
        yield from textwrap.wrap(
            line, width, subsequent_indent=indent, break_on_hyphens=False, drop_whitespace=True
        )


def _wrapped(text: str, width: int, first: str = "", later: str = "") -> Iterator[str]:
    def kept(code: re.Match[str]) -> str:
        # A command stays on one line as long as it fits into one.
        fits = len(code[1]) <= width - len(later)
        return code[1].replace(" ", _SPACE_IN_CODE) if fits else code[1]

    for line in textwrap.wrap(
        re.sub(r"`([^`]*)`", kept, text),
        width,
        initial_indent=first,
        subsequent_indent=later,
        break_on_hyphens=False,
    ):
        yield line.replace(_SPACE_IN_CODE, " ")


def _paragraphs(text: str) -> list[str]:
    return [part for part in re.split(r"\n\s*\n", text.strip()) if part]


def _tail(paragraphs: list[str], beginning: str) -> str:
    found = next(text for text in paragraphs if text.startswith(beginning))
    return " ".join(found.removeprefix(beginning).split()).rstrip()


def _blocks(paragraph: str) -> Iterator[Block]:
    if paragraph == _DEFECTS:
        yield from _defects()
    elif paragraph.startswith("#"):
        yield Block(Kind.HEADING, paragraph.lstrip("# "))
    elif paragraph.startswith("```"):
        yield Block(Kind.SHOWN, "\n".join(paragraph.splitlines()[1:-1]))
    elif paragraph.startswith("- "):
        for item in re.split(r"\n- ", paragraph.removeprefix("- ")):
            yield Block(Kind.ITEM, " ".join(item.split()))
    else:
        yield Block(Kind.PARAGRAPH, " ".join(paragraph.split()))


def _defects() -> Iterator[Block]:
    from finishsched.checking.defects.catalogue import CATALOGUE  # noqa: PLC0415  # one page only

    for defect in CATALOGUE.values():
        yield Block(Kind.ITEM, f"{defect.seen.value}: {defect.looks}")


def _marked(block: Block) -> str:
    if block.kind is Kind.SHOWN:
        return f"```\n{block.text}\n```"
    return {Kind.HEADING: "## ", Kind.PARAGRAPH: "", Kind.ITEM: "- "}[block.kind] + block.text
