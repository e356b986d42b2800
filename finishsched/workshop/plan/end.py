"""What decides the end of a plan, from its last step back to now, in words."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from finishsched.factors import DAY_MIN
from finishsched.planning.bounds import Bound
from finishsched.planning.problem import HeldBy, Placed, Plan, Problem
from finishsched.planning.replan import WORTH_MIN
from finishsched.workshop.base.spans import span
from finishsched.workshop.plan.work_left import ShopProblem

FAR_MIN = DAY_MIN
"""No hours for so long are told; and where a wait would have to end by as much sooner for the hours
before it to serve, nothing before it decides (our assumption)."""
MOST_LINES = 8


@dataclass(frozen=True, slots=True)
class _Link:
    """A step on the way."""

    placed: Placed
    no_hours: tuple[int, int] | None = None
    """From when to when there are none for it, where that is long."""
    whose: str = ""
    """The only hands that can do it, where they are the only ones."""


def decides(
    shop: ShopProblem,
    plan: Plan,
    bound: Bound,
    day_words: Callable[[int], str],
) -> tuple[str, ...]:
    """Return what the last goal waits for: its own steps alone where it could not end much sooner.

    Args:
        shop: the problem, and the steps that its activities are.
        plan: of that problem.
        bound: when each goal can be reached at best.
        day_words: names the day of a minute.

    Returns:
        Lines for people, what comes last first.

    """
    if not plan.placed:
        return ()
    way = _Way(shop, plan)
    last, reached_min = way.last()
    ref = shop.steps[last.key].ref
    at_best_min = dict(bound.goals).get(ref, 0)
    could_end_sooner = at_best_min + WORTH_MIN <= reached_min
    chain = list(way.back_from(last, alone=not could_end_sooner))
    lines = list(_lines(chain, shop, day_words))
    return tuple(lines[:MOST_LINES])


class _Way:
    """A plan, looked up for going back from each step to what it waited for."""

    def __init__(self, shop: ShopProblem, plan: Plan) -> None:
        self._problem = shop.problem
        self._activities = {activity.key: activity for activity in shop.problem.activities}
        self._placed = {each.key: each for each in plan.placed}
        self._lag_before = {lag.after: lag for lag in shop.problem.lags}
        self._ends = {each.key: each.end_min for each in shop.problem.done}
        for each in plan.placed:
            self._ends[each.key] = each.end_min

    def last(self) -> tuple[Placed, int]:
        """Return the step that the last goal is reached with, and the minute."""
        last = max(self._placed.values(), key=lambda each: (self._reached_min(each), each.key))
        return last, self._reached_min(last)

    def _reached_min(self, placed: Placed) -> int:
        """Return its end with its tail."""
        return placed.end_min + self._activities[placed.key].tail_min

    def back_from(self, last: Placed, *, alone: bool) -> Iterator[_Link]:
        """Go back from a step to what held it, and so on.

        Args:
            last: where to begin.
            alone: only along what it waits for, not along what was in its way.

        """
        seen: set[str] = set()
        at: Placed | None = last
        while at is not None and at.key not in seen:
            seen.add(at.key)
            able = self._activities[at.key].by
            ready_min = self._ready_min(at)
            gap = None if ready_min is None else _gap(able, ready_min, self._problem)
            yield _Link(at, gap, able[0] if len(able) == 1 else "")
            if ready_min is not None and gap is not None:
                closed_min, _ = gap
                if ready_min - closed_min >= FAR_MIN:
                    return
            at = self._held_by(at, alone=alone)

    def _ready_min(self, at: Placed) -> int | None:
        """Return when its wait was over; None where it waits for nothing that has an end."""
        lag = self._lag_before.get(at.key)
        if lag is None or lag.before not in self._ends:
            return None
        return self._ends[lag.before] + lag.least_min

    def _held_by(self, at: Placed, *, alone: bool) -> Placed | None:
        """Return what was in its way, or else what it waits for."""
        held = None if alone else self._placed.get(at.held_by_key)
        if held is not None and held.start_min <= at.start_min:
            return held
        lag = self._lag_before.get(at.key)
        return None if lag is None else self._placed.get(lag.before)


def _gap(able: Collection[str], ready_min: int, problem: Problem) -> tuple[int, int] | None:
    """Return from when to when nobody who is able has hours, where it gets ready in a long gap."""
    closed: list[int] = []
    opens: list[int] = []
    for hands in problem.hands:
        if hands.name not in able:
            continue
        for window in hands.windows:
            if window.start_min > ready_min:
                opens.append(window.start_min)
            elif window.end_min <= ready_min:
                closed.append(window.end_min)
            else:
                return None
    if not closed or not opens:
        return None
    since, until = max(closed), min(opens)
    return (since, until) if until - since >= FAR_MIN else None


def _lines(
    chain: Sequence[_Link],
    shop: ShopProblem,
    day_words: Callable[[int], str],
) -> Iterator[str]:
    """Join what follows on one piece into one line for each piece and reason."""
    groups = _by_piece(chain, shop)
    for number, group in enumerate(groups):
        why = ""
        if number + 1 < len(groups):
            why = _why_words(group, groups[number + 1], shop)
        idle = "".join([_idle_words(link, day_words) for link in group])
        yield f"{_steps(group, shop)}{why}{idle}"


def _by_piece(chain: Sequence[_Link], shop: ShopProblem) -> list[list[_Link]]:
    """Return the links of a chain, those that follow each other on one piece together."""
    groups = groupby(chain, key=lambda link: shop.steps[link.placed.key].ref)
    return [list(group) for _, group in groups]


def _why_words(group: Sequence[_Link], before: Sequence[_Link], shop: ShopProblem) -> str:
    """Say which step of another piece the first of these waited for, and why."""
    first = group[-1].placed
    other = shop.steps[before[0].placed.key]
    return f", after {other.ref} step {other.step.number} ({first.held_by.value})"


def _idle_words(link: _Link, day_words: Callable[[int], str]) -> str:
    """Say from when to when there were no hours, where that is long."""
    if link.no_hours is None:
        return ""
    since, until = map(day_words, link.no_hours)
    whose = f" of {link.whose}" if link.whose else ""
    return f"; no hours{whose} from {since} to {until}"


def _steps(group: Sequence[_Link], shop: ShopProblem) -> str:
    """Say which steps of a piece these are, and what they take."""
    first = shop.steps[group[-1].placed.key]
    last = shop.steps[group[0].placed.key]
    steps = f"step {first.step.number}"
    if last.step.number != first.step.number:
        steps = f"steps {first.step.number} to {last.step.number}"
    placed = [link.placed for link in group]
    full = dict.fromkeys([each.held_by_key for each in placed if each.held_by is HeldBy.STORE])
    waited = f", with no place in {' and '.join(full)}" if full else ""
    return f"{first.ref}: {steps}, {_takes(placed, shop)}{waited}"


def _takes(placed: Sequence[Placed], shop: ShopProblem) -> str:
    """Say how long the work of some steps takes, and their waits."""
    work_min = sum(each.end_min - each.start_min for each in placed)
    waits = [shop.steps[each.key].wait for each in placed]
    wait_min = sum(wait.likely_min for wait in waits if wait is not None)
    lengths: list[str] = []
    if work_min:
        lengths.append(f"{span(work_min * 60)} of work")
    if wait_min:
        lengths.append(f"{span(wait_min * 60)} of waits")
    return " and ".join(lengths) or "no time"
