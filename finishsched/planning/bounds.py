"""How early a plan can end at best, proven without a search.

Two arguments, and the stronger counts. The longest chain: waits and working hours alone, as if
there were hands and room for everything at once. The work: what a group of hands has to do, cut
into minutes and poured into their hours between the earliest start and the latest end of each
activity; no plan can be quicker than that.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from heapq import heappop, heappush

from finishsched.planning.problem import Problem
from finishsched.planning.quick.inner import NEVER, NOT, Inner
from finishsched.planning.quick.numbering import inner_of
from finishsched.planning.quick.start_bounds import earliest_from, latest_starts

FIRST_STEP_MIN = 120
"""How far a finish is put off first, where work cannot be poured in."""
PASSES = 8
"""How often waits that run in circles are followed; fewer only make the bound weaker."""


class Argument(StrEnum):
    """What a bound rests on."""

    PAST = "what is done"
    CHAIN = "longest chain"
    WORK = "work of the hands"


@dataclass(frozen=True, slots=True)
class Bound:
    """No plan that places all that can be placed is better than this."""

    finish_min: int
    argument: Argument
    hands: tuple[str, ...]
    """Whose work it is, where the argument is work."""
    late_min: int
    """Minutes by which goals must be late together, even so."""
    goals: tuple[tuple[str, int], ...]
    """Each goal that has anything, and when it can be reached at best."""


def lower_bound(problem: Problem) -> int:
    """Return when a plan is finished at the earliest; see `bound` for why."""
    return bound(problem).finish_min


@lru_cache(maxsize=4)
def bound(problem: Problem) -> Bound:
    """Return the bound; what no calendar has room for, and what follows it, is left aside.

    It is kept, since one plan asks for it again and again.
    """
    inner = inner_of(problem)
    starts = _earliest(inner)
    reached = [
        NOT if start >= NEVER >> 1 else start + minutes + tail
        for start, minutes, tail in zip(starts, inner.minutes, inner.tail, strict=True)
    ]
    goals = inner.goal_floor[:]
    for number, end in enumerate(reached):
        if inner.goal[number] >= 0:
            goals[inner.goal[number]] = max(goals[inner.goal[number]], end)
    finish, argument = inner.floor_min, Argument.PAST
    hands: tuple[int, ...] = ()
    if max(reached, default=NOT) > finish:
        finish, argument = max(reached), Argument.CHAIN
    for group in _groups(inner):
        later = _by_work(inner, starts, group, finish)
        if later > finish:
            finish, argument, hands = later, Argument.WORK, group
    return Bound(
        finish_min=finish if finish != NOT else problem.now_min,
        argument=argument,
        hands=tuple(problem.hands[number].name for number in hands),
        late_min=sum(max(0, end - due) for end, due in zip(goals, inner.due, strict=True)),
        goals=tuple(
            (goal.key, end) for goal, end in zip(problem.goals, goals, strict=True) if end != NOT
        ),
    )


def _earliest(inner: Inner) -> list[int]:
    """Return earliest starts by waits and hours; windows may be missed, and pull at nothing."""
    line = inner.line or list(range(len(inner.keys)))
    starts = inner.release[:]
    for number, out in enumerate(inner.needs_out):
        if out:
            starts[number] = NEVER
    for _ in range(PASSES):
        found = earliest_from(inner, line, starts)
        if found == starts:
            break
        starts = found
    return starts


def _groups(inner: Inner) -> list[tuple[int, ...]]:
    """Return the groups of hands whose work is looked at: each that is named, and all."""
    groups = {tuple(sorted(set(by))) for by in inner.by if by}
    groups |= {(number,) for group in groups for number in group}
    groups.add(tuple(sorted({number for group in groups for number in group})))
    return sorted(groups - {()})


def _by_work(inner: Inner, starts: list[int], group: tuple[int, ...], least: int) -> int:
    """Return the earliest finish from ``least`` on at which the group's work can be poured in."""
    here = set(group)
    mine = [
        number
        for number, by in enumerate(inner.by)
        if by and inner.minutes[number] and here.issuperset(by) and starts[number] < NEVER >> 1
    ]
    hours = _capacity(inner, group)
    if not mine or not hours:
        return least
    line = inner.line or list(range(len(inner.keys)))
    circles = inner.line is None
    order = sorted(mine, key=starts.__getitem__)
    most = hours[-1][1] + max(inner.tail) + 1

    def fits(finish: int) -> bool:
        if circles:
            ends = {number: finish - inner.tail[number] for number in mine}
        else:
            latest = latest_starts(inner, line, [finish] * len(inner.due), finish)
            ends = {number: latest[number] + inner.minutes[number] for number in mine}
        return _pours(inner, order, starts, ends, hours)

    if fits(least):
        return least
    poured = _all_poured(hours, sum(inner.minutes[number] for number in mine))
    low = max(least, poured + min(inner.tail[number] for number in mine))
    if low > least and fits(low):
        return low
    step = FIRST_STEP_MIN
    while low + step < most and not fits(low + step):
        low += step
        step *= 2
    high = low + step
    if not fits(high):
        return low
    while high - low > 1:
        middle = (low + high) // 2
        if fits(middle):
            high = middle
        else:
            low = middle
    return high


def _capacity(inner: Inner, group: tuple[int, ...]) -> list[tuple[int, int, int]]:
    """Return the hours of a group: stretches with how many of its hands are there."""
    changes: dict[int, int] = {}
    for hands in group:
        for start, end in zip(*inner.windows_of[hands], strict=True):
            changes[start] = changes.get(start, 0) + 1
            changes[end] = changes.get(end, 0) - 1
    stretches = []
    there, since = 0, 0
    for time in sorted(changes):
        if there:
            stretches.append((since, time, there))
        there += changes[time]
        since = time
    return stretches


def _all_poured(hours: list[tuple[int, int, int]], work: int) -> int:
    """Return the minute by which so much work is over if it could all be begun at once."""
    for first, last, there in hours:
        poured = (last - first) * there
        if poured >= work:
            return first - (-work // there)
        work -= poured
    return hours[-1][1]


def _pours(
    inner: Inner,
    order: list[int],
    starts: list[int],
    ends: dict[int, int],
    hours: list[tuple[int, int, int]],
) -> bool:
    """Return whether all work can be poured into the hours, the most pressing always first."""
    at = 0
    open_work: list[tuple[int, float]] = []
    for first, last, there in hours:
        time = float(first)
        while time < last:
            while at < len(order) and starts[order[at]] <= time:
                heappush(open_work, (ends[order[at]], inner.minutes[order[at]]))
                at += 1
            until = min(last, starts[order[at]]) if at < len(order) else last
            if not open_work:
                if at == len(order):
                    return True
                time = until
                continue
            due, work = heappop(open_work)
            poured = min(until, time + work / there)
            left = work - (poured - time) * there
            if left > 1e-6:
                heappush(open_work, (due, left))
                if poured >= due:
                    return False
            elif poured > due + 1e-6:
                return False
            time = poured
    return not open_work and at == len(order)
