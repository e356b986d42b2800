"""The coming days as rows to draw: hands, pieces, the rack, each with what is on it and when."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo
from enum import StrEnum

from finishsched.planning.hours import instant_of
from finishsched.planning.problem import Activity, Plan, Problem, Store, Use
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.answers import PlanAnswer, PlannedStep
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
        for hands in self._plan.problem.hands:
            hours = [
                Bar(Stretch.OPEN, instant_of(w.start_min), instant_of(w.end_min))
                for w in hands.windows
            ]
            work = [_work(step) for step in self._plan.steps if step.person == hands.name]
            yield Row(hands.name, self._cut([*hours, *work]))

    def pieces(self) -> Iterator[Row]:
        rows = []
        for piece in self._plan.pieces:
            bars = [bar for s in self._plan.steps if s.ref == piece.ref for bar in _bars(s)]
            bars += self._running(piece.ref)
            row = Row(piece.ref, self._cut(bars), due=piece.due_at, finish=piece.finish)
            rows.append(row)
        rows.sort(key=lambda row: (row.bars[0].start if row.bars else self._end, row.name))
        yield from rows

    def _running(self, ref: str) -> Iterator[Bar]:
        """Give the wait that runs now, which began before the plan."""
        problem = self._plan.problem
        done = {each.key: each.end_min for each in problem.done}
        for lag in problem.lags:
            if lag.before in done and lag.before.partition("#")[0] == ref:
                end = instant_of(done[lag.before] + lag.least_min)
                if end > self._start:
                    yield Bar(Stretch.WAIT, instant_of(done[lag.before]), end, ref=ref)

    def stores(self) -> Iterator[Row]:
        for store in self._plan.problem.stores:
            bars = _levels(store, self._plan.problem, self._plan.plan)
            yield Row(store.name, self._cut(bars), capacity=store.capacity)

    def _cut(self, bars: Sequence[Bar]) -> tuple[Bar, ...]:
        inside = [bar for bar in bars if bar.end > self._start and bar.start < self._end]
        return tuple(sorted(inside, key=lambda bar: (bar.start, bar.what, bar.end)))


def _work(step: PlannedStep) -> Bar:
    label = f"{step.step.number} {step.step.title}"
    return Bar(Stretch.WORK, step.start, step.end, label, step.ref, step.person)


def _bars(step: PlannedStep) -> Iterator[Bar]:
    if step.end > step.start:
        yield _work(step)
    if step.ready_likely > step.end:
        yield Bar(Stretch.WAIT, step.end, step.ready_likely, ref=step.ref)
    if step.ready_latest > step.ready_likely:
        yield Bar(Stretch.MAYBE, step.ready_likely, step.ready_latest, ref=step.ref)


def _levels(store: Store, problem: Problem, plan: Plan) -> list[Bar]:
    """Return how many places are taken, stretch after stretch."""
    activities = {a.key: a for a in problem.activities}
    at = {each.key: (each.start_min, each.end_min) for each in problem.done}
    at.update({each.key: (each.start_min, each.end_min) for each in plan.placed})
    steps: dict[int, int] = {}
    for key, (start, end) in at.items():
        for first, last, amount in _holds(activities[key], store, start, end, at):
            steps[first] = steps.get(first, 0) + amount
            steps[last] = steps.get(last, 0) - amount
    bars, level, before = [], 0, 0
    for minute in sorted(steps):
        if level:
            bars.append(Bar(Stretch.HELD, instant_of(before), instant_of(minute), amount=level))
        level, before = level + steps[minute], minute
    return bars


def _holds(
    activity: Activity, store: Store, start: int, end: int, at: dict[str, tuple[int, int]]
) -> Iterator[tuple[int, int, int]]:
    for use in activity.uses:
        if use.store == store.name:
            first = start if use.from_start else end
            last = _released(use, end, at)
            if last > first:
                yield first, last, use.amount


def _released(use: Use, end: int, at: dict[str, tuple[int, int]]) -> int:
    if use.until is not None and use.until in at:
        return max(end, at[use.until][0])
    return end + use.hold_min
