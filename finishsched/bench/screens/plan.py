"""The plan: the coming days as a timeline, what decides the end, and which promises are at risk."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from itertools import chain
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.screen import ModalScreen

from finishsched.bench import bindings, keys, words
from finishsched.bench.drawing.timeline import LEGEND, day_rows
from finishsched.bench.lasting import Lasting
from finishsched.bench.widgets.drawn import Drawn, hanging, lines
from finishsched.bench.widgets.taps import TapLine, tap
from finishsched.numerals import counted
from finishsched.workshop.plan.answers import Better, PlanAnswer
from finishsched.workshop.plan.pots import mix_words
from finishsched.workshop.plan.sentences import (
    at_risk,
    gain_words,
    piece_words,
    promises,
    when_words,
)
from finishsched.workshop.plan.timeline import Timeline

DAYS = 14
_MOST_DECIDES = 3
MOST_CHANGES = 4
LOOKING = "looking for a better plan"


_TAKE, *_TURNS, _CLOSE = (tap(key) for key in keys.PLAN)
_TAPS = (_CLOSE, *_TURNS)


@dataclass(frozen=True, slots=True)
class PlanFacts:
    """The plan as far as it is known, and what is being worked out."""

    answer: PlanAnswer | None = None
    shown: Timeline | None = None
    busy: str = ""
    """What is still being worked out; empty for nothing."""
    fault: str = ""
    day: int = 0
    """Which day is shown; 0 is today."""
    looking: bool = False
    """A better plan is looked for."""
    changed: tuple[str, ...] = ()
    """What the last change of the plan was, piece by piece."""
    changed_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class _Line:
    label: str
    text: str
    style: str = ""


class PlanText(Drawn[PlanFacts]):
    """The timeline of a day, and the words below it."""

    GROWS = True

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002  # Textual's own name
        super().__init__(id=id)
        self._last: tuple[PlanFacts, int, Content] | None = None

    def draw(self, facts: PlanFacts, width: int) -> Content:
        """Return the rows and the words wrapped to ``width``; once for all that ask."""
        if self._last is None or self._last[0] is not facts or self._last[1] != width:
            self._last = (facts, width, self._draw(facts, width))
        return self._last[2]

    def _draw(self, facts: PlanFacts, width: int) -> Content:
        answer, shown = facts.answer, facts.shown
        if answer is None or shown is None:
            return lines(*hanging("", facts.fault or f"{facts.busy}…", width, 0, "bold"))
        if not answer.pieces:
            return Content("nothing to plan: no piece is open; esc, then b begins one")
        titles = {piece.ref: piece.title for piece in answer.pieces}
        day = _date(facts, answer)
        legend = words.join_to_fit(LEGEND, width, "  ")
        return lines(
            *_words(_above(facts, answer), width, 0),
            *day_rows(shown, day, width, titles),
            Content.styled(legend, "$text-muted"),
            *_words(chain(_changed(facts, answer), _below(answer, day, titles)), width, 9),
        )


def _words(found: Iterator[_Line], width: int, indent: int) -> Iterator[Content]:
    for each in found:
        own = indent if each.label or indent else 0
        yield from hanging(each.label, words.plain(each.text), width, own, each.style)


def _date(facts: PlanFacts, answer: PlanAnswer) -> date:
    return answer.now.astimezone(answer.zone).date() + timedelta(days=facts.day)


def _above(facts: PlanFacts, answer: PlanAnswer) -> Iterator[_Line]:
    if facts.fault:
        yield _Line("", f"! {facts.fault}", "bold $text-error")
    if answer.better is not None:
        gain = gain_words(answer.better.saves_min, answer.better.less_late_min)
        yield _Line("", f"a better plan was found: {gain}", "bold $text-success")
    said = promises(answer)
    out = any(fault.left_out for fault in answer.faults)
    all_ = "what can be planned is" if out else "all"
    doing = facts.busy or (LOOKING if facts.looking else "")
    busy = f"; {doing}…" if doing else ""
    yield _Line("", f"{all_} finished {when_words(answer.finish, answer)}; {said}{busy}", "bold")


def _changed(facts: PlanFacts, answer: PlanAnswer) -> Iterator[_Line]:
    """Say what the last change was, and when."""
    if not facts.changed or facts.changed_at is None:
        return
    at = words.wall(facts.changed_at, answer.now, answer.zone)
    yield _Line("changed", f"at {at}: {facts.changed[0]}")
    for sentence in facts.changed[1:MOST_CHANGES]:
        yield _Line("", sentence)
    if len(facts.changed) > MOST_CHANGES:
        yield _Line("", f"and {counted(len(facts.changed) - MOST_CHANGES, 'more piece')}")


def _below(answer: PlanAnswer, day: date, titles: Mapping[str, str]) -> Iterator[_Line]:
    for fault in answer.faults:
        yield _Line("fault", f"! {fault.sentence}; {fault.remedy}", "$text-error")
    risky = at_risk(answer.pieces)
    for number, piece in enumerate(risky):
        style = "bold $text-error" if piece.late_min else "$text-warning"
        said = piece_words(replace(piece, ref=piece.title), answer).strip()
        yield _Line("" if number else "at risk", said, style)
    if not risky and any(piece.late_odds is not None for piece in answer.pieces):
        yield _Line("at risk", "none")
    for number, text in enumerate(answer.decides[:_MOST_DECIDES]):
        yield _Line("" if number else "the end", words.titled(text, titles))
    for number, each in enumerate(answer.helps):
        gain = gain_words(each.saves_min, each.less_late_min)
        yield _Line("" if number else "helps", f"{each.what}: {gain}")
    yield from _work(answer, day, titles)
    for number, note in enumerate(answer.notes):
        yield _Line("" if number else "note", note, "$text-muted")


def _work(answer: PlanAnswer, day: date, titles: Mapping[str, str]) -> Iterator[_Line]:
    """Give the hands-on work of the day shown, in its order."""
    several = len(answer.people) > 1
    mixes = {mix.keys[0]: mix for mix in answer.mixes if mix.is_shared}
    for step in answer.steps:
        start = step.start.astimezone(answer.zone)
        if start.date() != day or step.end <= step.start:
            continue
        who = f"{step.person}  " if several else ""
        title = titles.get(step.ref, step.ref)
        going = " (taken to be under way)" if step.under_way else ""
        yield _Line(f"{start:%H:%M}", f"{who}{title}: {step.step.title}{going}")
        if step.key in mixes:
            yield _Line("", words.titled(mix_words(mixes[step.key], answer.zone), titles))
        if step.clear_up_words:
            yield _Line("", step.clear_up_words)
        if step.late_min:
            yield _Line("", "! its window has closed by then", "$text-warning")
        if step.next_late_min:
            closes = words.span(step.next_late_min * 60)
            said = f"! opens a window that closes {closes} before the next coat"
            yield _Line("", said, "$text-warning")


class _Scroll(VerticalScroll, can_focus=False):
    """What is below turns with the arrow keys."""


class PlanHead(Drawn[PlanFacts]):
    """The day shown."""

    def draw(self, facts: PlanFacts, width: int) -> Content:
        """Return the day."""
        title = "Plan"
        if facts.answer is not None:
            day = _date(facts, facts.answer)
            name = {0: "today, ", 1: "tomorrow, "}.get(facts.day, "")
            today = facts.answer.now.astimezone(facts.answer.zone).date()
            title = f"Plan: {name}{words.weekday_of(day, today)}"
        return Content.styled(words.fit(title, width).rstrip(), "bold $text-primary")


class PlanScreen(Lasting, ModalScreen[str]):
    """Shows what it is given; asks the app to take the better plan."""

    BINDINGS: ClassVar[list[BindingType]] = [bindings.binding(key) for key in keys.PLAN]

    ONCE, TWICE = "turn(1)", "close"

    class Taken(Message):
        """Somebody wants to go on by the better plan that is shown."""

        def __init__(self, better: Better) -> None:
            super().__init__()
            self.better = better

    def __init__(self) -> None:
        super().__init__()
        self.facts = PlanFacts(busy="planning")

    def compose(self) -> ComposeResult:
        """Lay out the day's line and the rest."""
        yield PlanHead(id="plan-head")
        with _Scroll(id="plan-body"):
            yield PlanText(id="plan-text")
        yield TapLine(_TAPS, classes="foot")

    def on_mount(self) -> None:
        """Show what there is, once all of it is laid out."""
        self.call_after_refresh(lambda: self.show(self.facts))

    def show(self, facts: PlanFacts) -> None:
        """Take new facts; the day that is looked at stays."""
        self.facts = facts
        if self.query(PlanText):  # a beat may come before all of it is laid out
            self.query_one(PlanHead).show(facts)
            self.query_one(PlanText).show(facts)
            better = facts.answer is not None and facts.answer.better is not None
            self.query_one(TapLine).show((_TAKE, *_TAPS) if better else _TAPS)

    def action_day(self, step: int) -> None:
        """Show the day before or after."""
        day = min(max(self.facts.day + step, 0), DAYS - 1)
        self.show(replace(self.facts, day=day))
        self.query_one("#plan-body").scroll_home(animate=False)

    def action_turn(self, pages: int) -> None:
        """Turn by half the height."""
        body = self.query_one("#plan-body")
        body.scroll_relative(y=pages * max(1, body.size.height // 2), animate=False)

    def action_take(self) -> None:
        """Ask for the better plan, where there is one."""
        if self.facts.answer is not None and self.facts.answer.better is not None:
            self.post_message(self.Taken(self.facts.answer.better))

    def action_close(self) -> None:
        """Go back to the board."""
        if self.app.screen is self:
            self.dismiss("")
