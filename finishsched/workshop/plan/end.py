"""What decides the end of a plan, from its last step back to now, in words."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from finishsched.planning.bounds import Bound
from finishsched.planning.problem import HeldBy, Placed, Plan, Problem
from finishsched.planning.replan import WORTH_MIN
from finishsched.workshop.base.spans import span
from finishsched.workshop.plan.work_left import ShopProblem

FAR_MIN = 1440
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
    shop: ShopProblem, plan: Plan, bound: Bound, day_words: Callable[[int], str]
) -> tuple[str, ...]:
    """Return what the last goal waits for: its own steps alone where it could not end much sooner.

    ``day_words`` names the day of a minute.
    """
    placed = {each.key: each for each in plan.placed}
    if not placed:
        return ()
    tails = {activity.key: activity.tail_min for activity in shop.problem.activities}
    last = max(placed.values(), key=lambda each: (each.end_min + tails[each.key], each.key))
    ref = shop.steps[last.key].ref
    alone = dict(bound.goals).get(ref, 0) + WORTH_MIN > last.end_min + tails[last.key]
    chain = list(_back(last, placed, shop, alone=alone))
    return tuple(_lines(chain, shop, day_words))[:MOST_LINES]


def _back(
    last: Placed, placed: Mapping[str, Placed], shop: ShopProblem, *, alone: bool
) -> Iterator[_Link]:
    before = {lag.after: lag for lag in shop.problem.lags}
    able = {activity.key: activity.by for activity in shop.problem.activities}
    ends = {each.key: each.end_min for each in shop.problem.done}
    ends.update({each.key: each.end_min for each in placed.values()})
    seen: set[str] = set()
    at: Placed | None = last
    while at is not None and at.key not in seen:
        seen.add(at.key)
        lag = before.get(at.key)
        ready = ends[lag.before] + lag.least_min if lag and lag.before in ends else None
        gap = None if ready is None else _gap(able[at.key], ready, shop.problem)
        yield _Link(at, gap, able[at.key][0] if len(able[at.key]) == 1 else "")
        if ready is not None and gap is not None and ready - gap[0] >= FAR_MIN:
            return
        held = None if alone else placed.get(at.held_by_key)
        if held is None or held.start_min > at.start_min:
            held = placed.get(lag.before) if lag else None
        at = held


def _gap(able: Collection[str], ready_min: int, problem: Problem) -> tuple[int, int] | None:
    """Return from when to when nobody who is able has hours, where it gets ready in a long gap."""
    windows = [w for hands in problem.hands if hands.name in able for w in hands.windows]
    closed = [w.end_min for w in windows if w.end_min <= ready_min]
    opens = [w.start_min for w in windows if w.start_min > ready_min]
    now_open = any(w.start_min <= ready_min < w.end_min for w in windows)
    if now_open or not closed or not opens or min(opens) - max(closed) < FAR_MIN:
        return None
    return max(closed), min(opens)


def _lines(
    chain: Sequence[_Link], shop: ShopProblem, day_words: Callable[[int], str]
) -> Iterator[str]:
    """Join what follows on one piece into one line for each piece and reason."""
    groups: list[list[_Link]] = []
    for link in chain:
        ref = shop.steps[link.placed.key].ref
        if groups and shop.steps[groups[-1][0].placed.key].ref == ref:
            groups[-1].append(link)
        else:
            groups.append([link])
    for number, group in enumerate(groups):
        why = ""
        first = group[-1]
        if number + 1 < len(groups):
            other = shop.steps[groups[number + 1][0].placed.key]
            reason = first.placed.held_by.value
            why = f", after {other.ref} step {other.step.number} ({reason})"
        idle = "".join(_idle_words(link, day_words) for link in group)
        yield f"{_steps(group, shop)}{why}{idle}"


def _idle_words(link: _Link, day_words: Callable[[int], str]) -> str:
    if link.no_hours is None:
        return ""
    since, until = map(day_words, link.no_hours)
    whose = f" of {link.whose}" if link.whose else ""
    return f"; no hours{whose} from {since} to {until}"


def _steps(group: Sequence[_Link], shop: ShopProblem) -> str:
    """Say which steps of a piece these are, and what they take."""
    first, last = shop.steps[group[-1].placed.key], shop.steps[group[0].placed.key]
    steps = f"step {first.step.number}"
    if last.step.number != first.step.number:
        steps = f"steps {first.step.number} to {last.step.number}"
    each = [link.placed for link in group]
    waits = [shop.steps[placed.key].wait for placed in each]
    wait_min = sum(wait.likely_min for wait in waits if wait is not None)
    work_min = sum(placed.end_min - placed.start_min for placed in each)
    lengths = [
        f"{span(minutes * 60)} of {what}"
        for minutes, what in ((work_min, "work"), (wait_min, "waits"))
        if minutes
    ]
    takes = " and ".join(lengths) or "no time"
    full = dict.fromkeys(placed.held_by_key for placed in each if placed.held_by is HeldBy.STORE)
    waited = f", with no place in {' and '.join(full)}" if full else ""
    return f"{first.ref}: {steps}, {takes}{waited}"
