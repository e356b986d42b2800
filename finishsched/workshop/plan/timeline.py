"""The coming days as rows to draw: hands, pieces, the rack, each with what is on it and when."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo
from enum import StrEnum

from finishsched.planning.hours import instant_of
from finishsched.planning.problem import Done, Placed, Plan, Problem, Store, Use
from finishsched.planning.window import Window
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.answers import PlanAnswer, PlannedPiece, PlannedStep
from finishsched.workshop.plan.plans import Asked, plan_answer


class Stretch(StrEnum):
    """What a stretch of a row is."""

    WORK = "work"
    WAIT = "wait"
    """Drying, until it is likely ready."""
    MAYBE = "maybe"
    """From likely to at the latest."""
    OPEN = "open"
    """Hours, for hands."""
    HELD = "held"
    """So many places taken, for a store."""


@dataclass(frozen=True, slots=True)
class Bar:
    """One stretch of a row."""

    what: Stretch
    start: datetime
    end: datetime
    label: str = ""
    ref: str = ""
    person: str = ""
    amount: int = 1


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its name, how many places it has where it is a store, and its bars in order."""

    name: str
    bars: tuple[Bar, ...]
    capacity: int = 1
    due: datetime | None = None
    finish: datetime | None = None


@dataclass(frozen=True, slots=True)
class Timeline:
    """The coming days."""

    now: datetime
    until: datetime
    zone: tzinfo
    hands: tuple[Row, ...]
    pieces: tuple[Row, ...]
    """The one with the earliest work first."""
    stores: tuple[Row, ...]


def timeline(workshop: Workshop, now: datetime, days: int) -> Timeline:
    """Return the plan of the next ``days`` days, by the plan that was shown last.

    Raises:
        NoPlanError: when no plan comes out right.

    """
    return timeline_of(plan_answer(workshop, now, Asked(insight=False)), days)


def timeline_of(plan: PlanAnswer, days: int) -> Timeline:
    """Return the next ``days`` days of a plan that is at hand."""
    until = plan.now + timedelta(days=days)
    seen = _Seen(plan, plan.now, until)
    return Timeline(
        plan.now,
        until,
        plan.zone,
        tuple(seen.hands()),
        tuple(seen.pieces()),
        tuple(seen.stores()),
    )


class _Seen:
    """Cuts what there is to what is asked for."""

    def __init__(self, plan: PlanAnswer, start: datetime, end: datetime) -> None:
        self._plan = plan
        self._start = start
        self._end = end

    def hands(self) -> Iterator[Row]:
        """Give a row for each pair of hands: their hours, and their work."""
        for hands in self._plan.problem.hands:
            hours = [_open(window) for window in hands.windows]
            work = [_work(step) for step in self._plan.steps if step.person == hands.name]
            yield Row(hands.name, self._cut([*hours, *work]))

    def pieces(self) -> list[Row]:
        """Return a row for each piece, the one with the earliest work first."""
        rows = [self._piece(piece) for piece in self._plan.pieces]
        rows.sort(key=lambda row: (self._begins(row), row.name))
        return rows

    def _piece(self, piece: PlannedPiece) -> Row:
        """Return the work and the waits of one piece."""
        bars: list[Bar] = []
        for step in self._plan.steps:
            if step.ref == piece.ref:
                bars += _bars(step)
        bars += self._running(piece.ref)
        return Row(piece.ref, self._cut(bars), due=piece.due_at, finish=piece.finish)

    def _begins(self, row: Row) -> datetime:
        """Return when a row has anything first; the end where it has nothing."""
        return row.bars[0].start if row.bars else self._end

    def _running(self, ref: str) -> Iterator[Bar]:
        """Give the wait that runs now, which began before the plan."""
        problem = self._plan.problem
        done = {each.key: each.end_min for each in problem.done}
        for lag in problem.lags:
            if lag.before not in done or lag.before.partition("#")[0] != ref:
                continue
            began_min = done[lag.before]
            end = instant_of(began_min + lag.least_min)
            if end > self._start:
                yield Bar(Stretch.WAIT, instant_of(began_min), end, ref=ref)

    def stores(self) -> Iterator[Row]:
        """Give a row for each store: how many of its places are taken."""
        for store in self._plan.problem.stores:
            bars = _levels(store, self._plan.problem, self._plan.plan)
            yield Row(store.name, self._cut(bars), capacity=store.capacity)

    def _cut(self, bars: Sequence[Bar]) -> tuple[Bar, ...]:
        """Return the bars that lie in the days that are asked for, in the order of time."""
        inside = [bar for bar in bars if bar.end > self._start and bar.start < self._end]
        inside.sort(key=lambda bar: (bar.start, bar.what, bar.end))
        return tuple(inside)


def _open(window: Window) -> Bar:
    """Return hours as a bar."""
    return Bar(
        Stretch.OPEN,
        instant_of(window.start_min),
        instant_of(window.end_min),
    )


def _work(step: PlannedStep) -> Bar:
    """Return the work of a step as a bar."""
    return Bar(
        Stretch.WORK,
        step.start,
        step.end,
        label=f"{step.step.number} {step.step.title}",
        ref=step.ref,
        person=step.person,
    )


def _bars(step: PlannedStep) -> Iterator[Bar]:
    """Give the work of a step, the wait after it, and how much longer that may last."""
    if step.end > step.start:
        yield _work(step)
    if step.ready_likely > step.end:
        yield Bar(Stretch.WAIT, step.end, step.ready_likely, ref=step.ref)
    if step.ready_latest > step.ready_likely:
        yield Bar(Stretch.MAYBE, step.ready_likely, step.ready_latest, ref=step.ref)


def _levels(store: Store, problem: Problem, plan: Plan) -> list[Bar]:
    """Return how many places are taken, stretch after stretch."""
    activities = {activity.key: activity for activity in problem.activities}
    there: dict[str, Done | Placed] = {each.key: each for each in problem.done}
    there.update({each.key: each for each in plan.placed})
    changes: dict[int, int] = {}
    for key, each in there.items():
        uses = [use for use in activities[key].uses if use.store == store.name]
        for use in uses:
            first = each.start_min if use.from_start else each.end_min
            last = _released_min(use, each, there)
            if last > first:
                changes[first] = changes.get(first, 0) + use.amount
                changes[last] = changes.get(last, 0) - use.amount
    return _held(changes)


def _held(changes: Mapping[int, int]) -> list[Bar]:
    """Return a bar for each stretch in which as many places are taken.

    Args:
        changes: by minute, how many more are taken from then on, or fewer.

    """
    bars: list[Bar] = []
    taken = since = 0
    for minute in sorted(changes):
        if taken:
            bar = Bar(Stretch.HELD, instant_of(since), instant_of(minute), amount=taken)
            bars.append(bar)
        taken += changes[minute]
        since = minute
    return bars


def _released_min(use: Use, each: Done | Placed, there: Mapping[str, Done | Placed]) -> int:
    """Return when an activity gives back what it uses: when another starts, or after a time."""
    if use.until is not None and use.until in there:
        return max(each.end_min, there[use.until].start_min)
    return each.end_min + use.hold_min
