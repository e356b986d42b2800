"""How early a plan can end at best, proven without a search.

Two arguments, and the stronger counts. The longest chain: waits and working hours alone, as if
there were hands and room for everything at once, but each sitting in hours that hold all of it, and
what is wet not before the dust of its own piece has settled. The
work: what a group of hands has to do, cut into minutes and poured into their hours between the
earliest start and the latest end of each activity; no plan that splits no sitting can be quicker.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from finishsched.planning.numbers.inner import NEVER, NOT, Inner
from finishsched.planning.numbers.numbering import inner_of
from finishsched.planning.numbers.sittings import Sitting, sittings_of
from finishsched.planning.numbers.start_bounds import earliest_from
from finishsched.planning.numbers.waits_in_rooms import with_waits_of_rooms
from finishsched.planning.pouring import earliest_by_work
from finishsched.planning.problem import Problem

PASSES = 8
"""How often waits that run in circles are followed; fewer only make the bound weaker."""


class Argument(StrEnum):
    """What a bound rests on."""

    PAST = "what is done"
    CHAIN = "longest chain"
    WORK = "work of the hands"


@dataclass(frozen=True, slots=True)
class Bound:
    """No plan that places all that can be placed, and keeps what must be kept, is better."""

    finish_min: int
    argument: Argument
    hands: tuple[str, ...]
    """Whose work it is, where the argument is work."""
    late_min: int
    """Minutes by which goals must be late together, even so."""
    goals: tuple[tuple[str, int], ...]
    """Each goal that has anything, and when it can be reached at best."""


@dataclass(frozen=True, slots=True)
class _Finish:
    """When all is reached at best, and what shows it."""

    at_min: int
    argument: Argument
    hands: tuple[int, ...] = ()
    """The numbers of those whose work it is, where the argument is work."""


def lower_bound(problem: Problem) -> int:
    """Return when a plan is finished at the earliest; see `bound` for why."""
    return bound(problem).finish_min


@lru_cache(maxsize=4)
def bound(problem: Problem) -> Bound:
    """Return the bound; what no calendar has room for, and what follows it, is left aside.

    It is kept, since one plan asks for it again and again.
    """
    inner = with_waits_of_rooms(inner_of(problem))
    sittings = sittings_of(inner)
    starts = _earliest(inner, sittings)
    reached = _reached(inner, starts)
    goals = _goals(inner, reached)
    last_reached = max(reached, default=NOT)
    finish = _finish(inner, starts, last_reached, sittings)
    names = [problem.hands[number].name for number in finish.hands]
    return Bound(
        finish_min=finish.at_min if finish.at_min != NOT else problem.now_min,
        argument=finish.argument,
        hands=tuple(names),
        late_min=_late_together(goals, inner.due),
        goals=tuple(_named(problem, goals)),
    )


def _late_together(goals: list[int], due: list[int]) -> int:
    """Return the minutes by which goals must be late, together.

    Args:
        goals: by goal, the minute at which it can be reached at best.
        due: by goal, the minute at which it is due.

    """
    late_min = 0
    for at_min, due_min in zip(goals, due, strict=True):
        late_min += max(0, at_min - due_min)
    return late_min


def _named(problem: Problem, goals: list[int]) -> Iterator[tuple[str, int]]:
    """Give each goal that has anything by its key, and when it can be reached at best.

    Args:
        problem: has the goals.
        goals: the minutes, in the same order; NOT where a goal has nothing.

    """
    for goal, at_min in zip(problem.goals, goals, strict=True):
        if at_min != NOT:
            yield goal.key, at_min


def _earliest(inner: Inner, sittings: Mapping[int, Sitting]) -> list[int]:
    """Return earliest starts by waits and hours; other windows than sittings pull at nothing.

    Args:
        inner: the problem in numbers.
        sittings: what must lie inside one stretch of hours, by the activity that it begins with.

    """
    line = inner.line or list(range(len(inner.keys)))
    starts = inner.release[:]
    for number, out in enumerate(inner.needs_out):
        if out:
            starts[number] = NEVER
    for _ in range(PASSES):
        found = earliest_from(inner, line, starts, sittings)
        if found == starts:
            break
        starts = found
    return starts


def _reached(inner: Inner, starts: list[int]) -> list[int]:
    """Return by activity its earliest end with its tail; NOT where no calendar has room for it.

    Args:
        inner: the problem in numbers.
        starts: by activity, its earliest start.

    """
    found: list[int] = []
    for start, minutes, tail in zip(starts, inner.minutes, inner.tail, strict=True):
        has_room = start < NEVER >> 1
        reached = start + minutes + tail
        found.append(reached if has_room else NOT)
    return found


def _goals(inner: Inner, reached: list[int]) -> list[int]:
    """Return by goal when it can be reached at best; NOT where it has nothing.

    Args:
        inner: the problem in numbers.
        reached: by activity, when it is reached at best.

    """
    goals = inner.goal_floor[:]
    for goal, at_min in zip(inner.goal, reached, strict=True):
        if goal >= 0:
            goals[goal] = max(goals[goal], at_min)
    return goals


def _finish(
    inner: Inner,
    starts: list[int],
    last_reached: int,
    sittings: Mapping[int, Sitting],
) -> _Finish:
    """Return when all can be reached at best, by the strongest argument.

    Args:
        inner: the problem in numbers.
        starts: by activity, its earliest start.
        last_reached: when the last activity is reached by waits and hours alone.
        sittings: what must lie inside one stretch of hours, by the activity that it begins with.

    """
    finish = _Finish(inner.floor_min, Argument.PAST)
    if last_reached > finish.at_min:
        finish = _Finish(last_reached, Argument.CHAIN)
    for group in _groups(inner):
        later = earliest_by_work(inner, starts, group, finish.at_min, sittings)
        if later > finish.at_min:
            finish = _Finish(later, Argument.WORK, group)
    return finish


def _groups(inner: Inner) -> list[tuple[int, ...]]:
    """Return the groups of hands whose work is looked at: each that is named, each one, and all."""
    groups: set[tuple[int, ...]] = set()
    everybody: set[int] = set()
    for by in inner.by:
        groups.add(tuple(sorted(set(by))))
        everybody.update(by)
    groups.add(tuple(sorted(everybody)))
    for number in everybody:
        groups.add((number,))
    groups.discard(())
    return sorted(groups)
