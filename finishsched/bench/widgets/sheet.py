"""The sheet of the chosen piece: everything that the hands need, in the order they need it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, tzinfo
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content

from finishsched.bench import words
from finishsched.bench.at_hand.side import NOTHING, Side
from finishsched.bench.widgets.drawn import Drawn, hanging, lines
from finishsched.workshop.base.answers import PieceView, State, StepSheet, Window
from finishsched.workshop.base.spans import between

if TYPE_CHECKING:
    from finishsched.checking.rule import Finding

_INDENT = 11


@dataclass(frozen=True, slots=True)
class SheetFacts:
    """The chosen piece, and what stands beside it."""

    piece: PieceView | None
    now: datetime
    zone: tzinfo
    windows: tuple[Window, ...] = ()
    """Those of the piece."""
    side: Side = NOTHING
    findings: tuple[Finding, ...] = ()
    """What the rules find in the piece and its schedule."""


@dataclass(frozen=True, slots=True)
class Line:
    """One labelled paragraph of the sheet, with a mark before its text where it has one."""

    label: str
    text: str
    style: str = ""
    mark: str = ""


def sheet_lines(facts: SheetFacts) -> Iterator[Line]:
    """Give the paragraphs of the sheet, in order."""
    piece = facts.piece
    if piece is None:
        return
    yield Line("", f"{words.plain(piece.title)} · {words.plain(piece.job_title)}", "bold")
    yield from _clock(piece, facts)
    yield from _given("pace", piece.pace)
    if piece.later is not None:
        yield Line("later", words.plain(piece.later.why), "bold", mark=f"{piece.mark} ")
    for line in piece.waits_for:
        yield Line("waits for", words.plain(line.title), "bold", mark="! ")
    for number, warning in enumerate(piece.warnings):
        yield Line("" if number else "the air", warning, "$text-warning", mark="! ")
    for number, warning in enumerate(facts.side.before.get(piece.ref, ())):
        yield Line("" if number else "vapour", warning, "$text-warning", mark="! ")
    if piece.state.may_go_on and piece.sheet:
        yield from _work(piece.sheet)
        yield from _cautions((piece.sheet,), facts.side)
        yield from _check(piece.sheet)
    elif piece.sheet:
        yield from _check(piece.sheet)
        if piece.next_sheet:
            yield Line("then", words.plain(piece.next_sheet.step.title), "bold")
            yield from _work(piece.next_sheet)
        yield from _cautions((piece.sheet, piece.next_sheet), facts.side)
    yield from _findings(facts.findings)
    yield from _standing(piece, facts)


def _clock(piece: PieceView, facts: SheetFacts) -> Iterator[Line]:
    """Give the progress and the range of the wait, and what closes on the piece."""
    clock = piece.clock

    def at(instant: datetime) -> str:
        return words.wall(instant, facts.now, facts.zone)

    if clock is not None:
        span = between(clock.earliest_at, clock.latest_at, facts.now, facts.zone)
        yield Line("dried", f"{clock.percent:.0f} %, likely {at(clock.likely_at)}, {span}")
    for window in facts.windows:
        when = "closed" if window.state == "closed" else "closes"
        style = "" if window.state == "open" else "$text-warning"
        yield Line("window", f"{window.kind.value} {when} {at(window.closes_at)}", style)


def _work(sheet: StepSheet) -> Iterator[Line]:
    step = sheet.step
    yield Line("how", step.how)
    yield from _given("with", step.in_hand)
    yield from _given("product", sheet.product)
    yield from _given("grade", sheet.abrasive)
    yield from _given("wet with", sheet.lubricant)
    if sheet.jar or sheet.as_bought:
        yield Line("take", sheet.mix_makes, "bold")
    if sheet.jar:
        yield Line("from", sheet.jar, "bold")
    elif not sheet.as_bought:
        yield from _to_mix(sheet)
    if sheet.hands_on_min > 0:
        yield Line("work", words.span(sheet.hands_on_min * 60, up=True))


def _to_mix(sheet: StepSheet) -> Iterator[Line]:
    for number, line in enumerate(sheet.mix):
        yield Line("" if number else "mix", f"{line.amount}  {line.what}", "bold")
    yield from _given("makes", sheet.mix_makes)
    yield from _given("gives", sheet.mix_gives)


def _given(label: str, text: str) -> Iterator[Line]:
    if text:
        yield Line(label, text)


def _check(sheet: StepSheet) -> Iterator[Line]:
    yield from _given("dry check", sheet.step.dry_check)


def _cautions(sheets: tuple[StepSheet | None, ...], side: Side) -> Iterator[Line]:
    """Give the cautions of the step in hand and of the one after it, the gravest first.

    Those that were read today are only named.
    """
    held = [sheet for sheet in sheets if sheet is not None]
    found = sorted({caution for sheet in held for caution in sheet.cautions})
    unread = side.unread(found)
    for number, caution in enumerate(unread):
        yield Line("" if number else "caution", caution.text, mark="! ")
    if read := side.read_words(found):
        yield Line("" if unread else "caution", read)
    if found:
        yield Line("", held[0].deferral, "$text-muted")


def _findings(findings: tuple[Finding, ...]) -> Iterator[Line]:
    if not findings:
        return
    from finishsched.checking.rule import Severity  # noqa: PLC0415  # as the finders have

    for number, found in enumerate(findings):
        mark = "! " if found.severity is Severity.ERROR else ""
        yield Line("" if number else "checker", f"{found.message}; {found.remedy}", mark=mark)


def _standing(piece: PieceView, facts: SheetFacts) -> Iterator[Line]:
    yield Line(
        "schedule", f"{piece.schedule_title}, {piece.steps_done} of {piece.steps_in_all} steps"
    )
    if piece.state is State.FINISHED and not piece.is_beside:
        yield Line("record", f"finishsched record {piece.ref} writes all that was done on it")
    if piece.changed_schedule:
        yield Line("", "its document was edited since; this piece goes on by the old one", "bold")
    if piece.due:
        yield Line("due", words.dated(piece.due, facts.now.astimezone(facts.zone).date()))
    yield from _given("the room", facts.side.vapour)
    for number, entry in enumerate(piece.log):
        at = words.wall(entry.at, facts.now, facts.zone)
        by = f", {entry.by}" if entry.by else ""
        yield Line("" if number else "entries", f"{at}  {entry.text}{by}", "$text-muted")


class SheetText(Drawn[SheetFacts]):
    """The sheet's text."""

    GROWS = True

    def draw(self, facts: SheetFacts, width: int) -> Content:
        """Return the paragraphs wrapped to ``width``."""
        drawn: list[Content] = []
        for line in sheet_lines(facts):
            indent = _INDENT if line.label or drawn[1:] else 0
            drawn += hanging(
                line.label, words.plain(line.text), width, indent, line.style, line.mark
            )
        return lines(*drawn)


class Sheet(VerticalScroll, can_focus=False):
    """The sheet, which turns page by page."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002  # Textual's own name
        super().__init__(id=id)
        self._shown_ref = ""

    def compose(self) -> ComposeResult:
        """Lay out the text."""
        yield SheetText()

    def on_click(self) -> None:
        """Turn the sheet on; from its end, back to the top."""
        if self.scroll_offset.y >= self.max_scroll_y:
            self.scroll_home(animate=False)
        else:
            self.scroll_relative(y=max(1, self.size.height - 1), animate=False)

    def show(self, facts: SheetFacts) -> None:
        """Take the facts; another piece starts at its top."""
        ref = facts.piece.ref if facts.piece else ""
        if ref != self._shown_ref:
            self._shown_ref = ref
            self.scroll_home(animate=False)
        self.query_one(SheetText).show(facts)
