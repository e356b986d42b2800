"""Where each piece stands: its steps, its progress, its clock, its sheet."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import NamedTuple

from finishsched.drying.clock import ClockState, CureClock
from finishsched.journal.events import Event, Payload, StepDone
from finishsched.journal.progress import PieceProgress
from finishsched.model.job import Job, Piece
from finishsched.model.kinds import ProductKind
from finishsched.model.names import NaturalKey, natural
from finishsched.model.schedule import Schedule
from finishsched.model.step import Step
from finishsched.workshop.base.answers import LogLine, PieceView, State, StepSheet, WaitsFor
from finishsched.workshop.base.shown import Shown
from finishsched.workshop.base.spans import span
from finishsched.workshop.base.words import entry_words
from finishsched.workshop.standing.beside import Beside, holding
from finishsched.workshop.standing.cure import CureRoom
from finishsched.workshop.standing.waits import Laid

LOG_LINES_SHOWN = 12
MOISTURE_HOLDS = timedelta(days=3)
"""How long a wood's moisture as measured stands for it (our assumption)."""
BEGUN_ANEW = (
    "Begun anew: what stripping and sanding took off before is not counted. Measure the veneer "
    "that is left, and write it in the job's document before any sanding."
)

_CLOCK_STATES = {
    ClockState.DRYING: State.DRYING,
    ClockState.NEARLY: State.NEARLY,
    ClockState.CHECK: State.CHECK,
    ClockState.CLOSED: State.CLOSED,
}
_URGENCY = list(State)


class Life(NamedTuple):
    """The work on a piece until it was stripped and begun anew."""

    entries: tuple[Event, ...]
    steps: tuple[Step, ...]
    beside: tuple[tuple[str, tuple[Step, ...]], ...] = ()
    """What was worked beside it: by its name, and with its steps."""


@dataclass(frozen=True, slots=True)
class Standing:
    """One piece, all of it that does not change with the time of day."""

    ref: str
    piece: Piece
    job: Job | None
    schedule: Schedule | None
    steps: tuple[Step, ...]
    progress: PieceProgress | None
    """None for a piece not begun."""
    sheet: StepSheet | None
    next_sheet: StepSheet | None
    log: tuple[LogLine, ...]
    changed_schedule: bool
    laid: Laid | None = None
    """The wait that runs, where one does."""
    before: Laid | None = None
    """Else the wait that was over before the step in hand: its window may close."""
    earlier: tuple[Life, ...] = ()
    """What was done before it was begun anew, the first life first."""
    of: str = ""
    """For a line of work beside a piece: that piece."""
    holds: str = ""
    """And the key of that piece's step that waits for it; empty for none."""
    bare: bool = False
    """And whether it lets in new wood."""
    beside: tuple[Beside, ...] = ()
    """For a piece: what is worked beside it."""

    @property
    def over(self) -> ProductKind | None:
        """The kind of finish that was there before the work; None for bare wood."""
        return self.schedule.over if self.schedule is not None else None

    def step_of(self, event: Event, key: str) -> Step | None:
        """Return the step that an entry of the piece means by ``key``, in its own life."""
        lives = (life.steps for life in self.earlier if event.seq <= life.entries[-1].seq)
        return next((step for step in next(lives, self.steps) if step.key == key), None)

    @property
    def step(self) -> Step | None:
        """The step in hand, or the first of a piece not begun."""
        if self.progress is None:
            return self.steps[0] if self.steps else None
        return self.progress.current

    def state(self, clock: CureClock | None) -> State:
        """Return the word for where the piece stands."""
        if self.progress is None:
            return State.NOT_BEGUN
        if self.progress.finished:
            return State.FINISHED
        return State.TO_DO if clock is None else _CLOCK_STATES[clock.state]


def view_of(standing: Standing, room: CureRoom, now: datetime) -> PieceView:
    """Return the piece as it stands at ``now``, its wait run over the air of ``room``."""
    laid = standing.laid
    clock = room.clock(laid, now) if laid is not None else None
    state = standing.state(clock)
    progress = standing.progress
    warnings = _warnings(standing, room, state, now)
    return PieceView(
        ref=standing.ref,
        title=standing.piece.title,
        job_title=standing.job.title if standing.job else standing.ref.partition("/")[0],
        schedule_title=standing.schedule.title if standing.schedule else standing.piece.schedule,
        state=state,
        due=standing.piece.due or (standing.job.due if standing.job else None),
        step=standing.step,
        sheet=standing.sheet,
        next_sheet=standing.next_sheet,
        clock=clock,
        steps_done=progress.steps_passed if progress else 0,
        steps_in_all=len(standing.steps),
        log=standing.log,
        why=(*_why(standing, room, clock, state), *(f"warning: {text}" for text in warnings)),
        pace=_pace(standing, room, clock, now),
        warnings=warnings,
        waits_for=_waits_for(standing, state),
        changed_schedule=standing.changed_schedule,
    )


def urgency(view: PieceView) -> tuple[int, float, NaturalKey]:
    """Order pieces: those that want hands first, then by when their wait is likely over."""
    if view.clock is not None:
        instant = view.clock.likely_at.timestamp()
    else:
        instant = float(view.due.toordinal()) if view.due is not None else math.inf
    rank = _URGENCY.index(State.NEARLY if view.waits_for else view.state)
    return rank, instant, natural(view.ref)


def log_lines(
    entries: tuple[Event, ...], steps: tuple[Step, ...], shown: Shown
) -> tuple[LogLine, ...]:
    """Return the newest entries in words, the newest first."""
    by_key = {step.key: step for step in steps}
    newest = entries[-LOG_LINES_SHOWN:][::-1]
    return tuple(
        LogLine(
            event.at,
            entry_words(event.what, by_key, shown),
            getattr(event.what, "by", ""),
            entry_words(_without_amount(event.what), by_key, shown),
        )
        for event in newest
    )


def _without_amount(what: Payload) -> Payload:
    return replace(what, amount_ml=None, amount_g=None) if isinstance(what, StepDone) else what


def _pace(standing: Standing, room: CureRoom, clock: CureClock | None, now: datetime) -> str:
    """Return what makes the running wait stand still, or slower or quicker than the book.

    Of one that is likely over, by the air that it ended in: what is read now did not slow it.
    """
    if standing.laid is None or clock is None:
        return ""
    return room.pace_words(standing.laid, min(now, clock.likely_at))


def _warnings(standing: Standing, room: CureRoom, state: State, now: datetime) -> tuple[str, ...]:
    """Return what speaks against going on as if nothing were: the window, the air, the night."""
    window = _window_words(standing, room, now)
    step = standing.step
    if standing.laid is not None and (heavy := room.heavy(standing.laid)) is not None:
        return (*window, f"{heavy.text} {heavy.what_to_do}")
    if state is not State.TO_DO or step is None:
        return window
    found = room.warnings(step, standing.steps, now, _moisture(standing, now))
    return window + tuple(f"{warning.text} {warning.what_to_do}" for warning in found)


def _waits_for(standing: Standing, state: State) -> tuple[WaitsFor, ...]:
    """Say which lines beside the piece the step in hand waits for."""
    step = standing.step
    if state is not State.TO_DO or step is None:
        return ()
    lines = holding(step, standing.steps, standing.beside)
    return tuple(WaitsFor(line.ref, line.title) for line in lines)


def _moisture(standing: Standing, now: datetime) -> float | None:
    """Return the wood's moisture as last measured, while that still counts."""
    done = standing.progress.done if standing.progress else ()
    for _, event in reversed(done):
        what = event.what
        if isinstance(what, StepDone) and what.moisture_percent is not None:
            return what.moisture_percent if now - event.at <= MOISTURE_HOLDS else None
    return None


def _window_words(standing: Standing, room: CureRoom, now: datetime) -> tuple[str, ...]:
    laid = standing.laid or standing.before
    closes_at = room.closes_at(laid) if laid is not None else None
    if laid is None or closes_at is None:
        return ()
    left = closes_at - now
    if left.total_seconds() <= 0:
        return (
            (
                f"The window for the next step closed {span(-left.total_seconds())} ago. Rub the "
                "film dull and wipe it clean before the next coat (common practice)."
            ),
        )
    if left > (closes_at - laid.at) / 4:
        return ()
    return (f"The window for the next step closes in {span(left.total_seconds())}.",)


def _why(standing: Standing, room: CureRoom, clock: CureClock | None, state: State) -> list[str]:
    if standing.progress is None:
        return [f"{state.value}: no 'start' has been logged for this piece"]
    lines = [_state_reason(clock, state)]
    step = standing.step
    if clock is not None and step is not None and step.wait is not None:
        lines += _clock_reasons(standing, clock, step)
        lines += room.why(standing.laid, clock) if standing.laid is not None else ()
    return lines


def _state_reason(clock: CureClock | None, state: State) -> str:
    if state is State.FINISHED:
        return "finished: every step of the schedule is over or skipped"
    if clock is None:
        return "to do: the step before is over, and this one is not logged done"
    if state is State.CHECK:
        return "check: the likely time has passed; only the dry check ends the wait"
    if state is State.CLOSED:
        return "window closed: the next step is later than its schedule allows"
    return f"{state.value}: logged done, and its likely time has not come"


def _clock_reasons(standing: Standing, clock: CureClock, step: Step) -> list[str]:
    assert step.wait is not None  # noqa: S101
    schedule = standing.schedule
    source = schedule.source if schedule and schedule.source else "the schedule's document"
    lines = [
        (
            f"wait: {span(step.wait.earliest_s)} at the earliest, likely "
            f"{span(step.wait.likely_s)}, from the schedule as it was when the piece began "
            f"({source})"
        ),
    ]
    lines.append(
        "its range holds 8 waits in 10: before any check 0.58 to 1.72 times the likely one, wider "
        "far from the schedule's air (our assumption); the shop's own checks narrow it"
    )
    if clock.not_yet:
        times = "once" if clock.not_yet == 1 else f"{clock.not_yet} times"
        lines.append(
            f"a dry check said 'not yet' {times}: each adds a quarter of the time taken, "
            "five minutes at least (common practice)"
        )
    lines.append("the clock advises; the dry check decides")
    if not step.verb.does.rests:
        lines.append(f"dry check: {step.dry_check}")
    return lines
