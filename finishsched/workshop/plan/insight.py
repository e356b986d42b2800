"""What would help a plan."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from finishsched.planning.problem import (
    Hands,
    HeldBy,
    Plan,
    Problem,
    Score,
    Store,
    Window,
)
from finishsched.planning.quick import re_decode
from finishsched.planning.score import score
from finishsched.workshop.plan.answers import Help

MANY_STEPS = 800
WORTH_SAVING_MIN = 60
MOST_HELPS = 3
DAYS_TO_TRY, FEW_DAYS_TO_TRY = 7, 2


@dataclass(frozen=True, slots=True)
class Trial:
    """One change to try, in words."""

    what: str
    problem: Problem


def helps(
    problem: Problem, plan: Plan, better: Plan | None, trials: Iterable[Trial]
) -> tuple[Help, ...]:
    """Return what would help most, the best first, each reckoned in the same order of work.

    A change is credited only with what replanning does not bring without it: in the order of the
    plan, and in that of the better one where one was found.
    """
    orders = [[placed.key for placed in each.placed] for each in (plan, better) if each]

    def best(where: Problem) -> Score:
        return min(score(where, re_decode(where, order, reasons=False)) for order in orders)

    there = [score(problem, each) for each in (plan, better) if each]
    now = min(best(problem), *there)
    found = []
    for trial in trials:
        other = best(trial.problem)
        if (other.left_out, other.hard_late_min) > (now.left_out, now.hard_late_min):
            continue
        saves, less_late = now.finish_min - other.finish_min, now.late_min - other.late_min
        if less_late >= WORTH_SAVING_MIN or (less_late >= 0 and saves >= WORTH_SAVING_MIN):
            found.append(Help(trial.what, saves, less_late))
    found.sort(key=lambda help_: (-help_.less_late_min, -help_.saves_min))
    return tuple(found[:MOST_HELPS])


def more_hands(problem: Problem, day_words: Callable[[int], str]) -> Iterator[Trial]:
    """Give one more hour after the last hours of each of the next days, for each pair of hands.

    ``day_words`` names the day of a minute.
    """
    days = DAYS_TO_TRY if len(problem.activities) < MANY_STEPS else FEW_DAYS_TO_TRY
    for number, hands in enumerate(problem.hands):
        ends = [w for w in hands.windows if w.end_min > problem.now_min]
        gaps = list(pairwise([*ends, Window(10**9, 10**9)]))
        last_of_day = [
            w
            for w, following in gaps
            if day_words(w.start_min) != day_words(following.start_min)
            or following.start_min == 10**9
        ]
        for window in last_of_day[:days]:
            longer = _longer_by_an_hour(hands, window)
            changed = (*problem.hands[:number], longer, *problem.hands[number + 1 :])
            whose = f" for {hands.name}" if len(problem.hands) > 1 else ""
            what = f"one more hour on {day_words(window.start_min)}{whose}"
            yield Trial(what, replace(problem, hands=changed))


def _longer_by_an_hour(hands: Hands, window: Window) -> Hands:
    at = hands.windows.index(window)
    end = window.end_min + 60
    rest = hands.windows[at + 1 :]
    while rest and rest[0].start_min <= end:
        end, rest = max(end, rest[0].end_min), rest[1:]
    longer = Window(window.start_min, end)
    return Hands(hands.name, (*hands.windows[:at], longer, *rest))


def more_room(problem: Problem, plan: Plan) -> Iterator[Trial]:
    """Give one more of each store that held something back, and a room apart for the dust."""
    held = {each.held_by_key for each in plan.placed if each.held_by is HeldBy.STORE}
    for number, store in enumerate(problem.stores):
        if store.name in held:
            more = Store(store.name, store.capacity + 1)
            changed = (*problem.stores[:number], more, *problem.stores[number + 1 :])
            yield Trial(f"one more place in {store.name}", replace(problem, stores=changed))
    if any(each.held_by is HeldBy.ROOM for each in plan.placed):
        yield Trial("a separate room for dusty work", replace(problem, rules=()))
