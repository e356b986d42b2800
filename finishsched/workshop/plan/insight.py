"""What would help a plan."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from finishsched.planning.problem import Hands, HeldBy, Plan, Problem, Score, Store
from finishsched.planning.quick import re_decode
from finishsched.planning.replan import better_than, replan
from finishsched.planning.score import score
from finishsched.planning.window import Window
from finishsched.workshop.plan.answers import Help

MANY_STEPS = 800
WORTH_SAVING_MIN = 60
MOST_HELPS = 3
APART = "a room apart"
DAYS_TO_TRY, FEW_DAYS_TO_TRY = 7, 2


@dataclass(frozen=True, slots=True)
class Trial:
    """One change to try, in words."""

    what: str
    problem: Problem


def helps(
    problem: Problem,
    plan: Plan,
    better: Plan | None,
    trials: Iterable[Trial],
) -> tuple[Help, ...]:
    """Return what would help most, the best first, and what it brings to whoever does it.

    All are reckoned in the same order of work, which is soon done; the best few are then planned as
    they would be if they came true. A change is credited only with what replanning does not bring
    without it: in the order of the plan, and in that of the better one where one was found.

    Args:
        problem: what is to do.
        plan: the one that people work by.
        better: a better one, where one was found.
        trials: what could be changed.

    """
    to_try = list(trials)
    if not to_try:
        return ()
    plans = [plan] if better is None else [plan, better]
    orders = [_order_of(each) for each in plans]
    there = [score(problem, each) for each in plans]
    now = min(_in_order(problem, orders), *there)
    hopes = [_hope(trial, now, _in_order(trial.problem, orders)) for trial in to_try]
    best_few = _best_first(hopes)[:MOST_HELPS]
    tried = [_hope(hope.trial, now, _planned(hope.trial.problem, plan)) for hope in best_few]
    return tuple(
        Help(hope.trial.what, hope.saves_min, hope.less_late_min) for hope in _best_first(tried)
    )


@dataclass(frozen=True, slots=True)
class _Hope:
    """What a trial is hoped to bring, in minutes."""

    trial: Trial
    saves_min: int
    less_late_min: int
    keeps_all: bool
    """That nothing more is left out or breaks a window that must not be missed."""

    @property
    def is_worth_it(self) -> bool:
        """Whether it is worth a line."""
        less_late = self.less_late_min >= WORTH_SAVING_MIN
        sooner = self.less_late_min >= 0 and self.saves_min >= WORTH_SAVING_MIN
        return self.keeps_all and (less_late or sooner)


def _hope(trial: Trial, now: Score, other: Score) -> _Hope:
    """Return what a trial brings.

    Args:
        trial: what is changed.
        now: how good a plan is without it.
        other: how good one is with it.

    """
    keeps_all = (other.left_out, other.hard_late_min) <= (now.left_out, now.hard_late_min)
    return _Hope(
        trial,
        saves_min=now.finish_min - other.finish_min,
        less_late_min=now.late_min - other.late_min,
        keeps_all=keeps_all,
    )


def _best_first(hopes: Iterable[_Hope]) -> list[_Hope]:
    """Return those that are worth a line, what makes least late first, then what ends soonest."""
    worth_it = [hope for hope in hopes if hope.is_worth_it]
    worth_it.sort(key=lambda hope: (-hope.less_late_min, -hope.saves_min))
    return worth_it


def _order_of(plan: Plan) -> list[str]:
    return [placed.key for placed in plan.placed]


def _in_order(problem: Problem, orders: list[list[str]]) -> Score:
    """Return the best score of the same work in any of some orders."""
    plans = [re_decode(problem, order, reasons=False) for order in orders]
    return min([score(problem, plan) for plan in plans])


def _planned(problem: Problem, plan: Plan) -> Score:
    """Return the score of what would be planned, or offered instead, if it came true."""
    found = replan(problem, plan)
    better = better_than(problem, found.plan)
    return found.score if better is None else score(problem, better)


def more_hands(problem: Problem, day_words: Callable[[int], str]) -> Iterator[Trial]:
    """Give one more hour after the last hours of each of the next days, for each pair of hands.

    Args:
        problem: what is to do.
        day_words: names the day of a minute.

    """
    days = DAYS_TO_TRY if len(problem.activities) < MANY_STEPS else FEW_DAYS_TO_TRY
    for number, hands in enumerate(problem.hands):
        whose = f" for {hands.name}" if len(problem.hands) > 1 else ""
        for window in _last_of_days(hands, problem.now_min, day_words)[:days]:
            longer = _longer_by_an_hour(hands, window)
            changed = (*problem.hands[:number], longer, *problem.hands[number + 1 :])
            what = f"one more hour on {day_words(window.start_min)}{whose}"
            yield Trial(what, replace(problem, hands=changed))


def _last_of_days(hands: Hands, now_min: int, day_words: Callable[[int], str]) -> list[Window]:
    """Return the last hours of each day that are not over."""
    ahead = [window for window in hands.windows if window.end_min > now_min]
    last: list[Window] = []
    for window, following in pairwise(ahead):
        if day_words(window.start_min) != day_words(following.start_min):
            last.append(window)
    return last + ahead[-1:]


def _longer_by_an_hour(hands: Hands, window: Window) -> Hands:
    """Return hands with one of their windows longer, joined with what it then touches."""
    at = hands.windows.index(window)
    end = window.end_min + 60
    rest = list(hands.windows[at + 1 :])
    while rest and rest[0].start_min <= end:
        touched = rest.pop(0)
        end = max(end, touched.end_min)
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
        yield Trial("a separate room for dusty work", _dusty_work_apart(problem))


def _dusty_work_apart(problem: Problem) -> Problem:
    """Return the problem with all that stirs anything up in a room of its own.

    The rules stay as they are, as they do for whoever has such a room: with none of them it would
    be planned in another way, and more promised than it brings.
    """
    moved = [replace(each, room=APART) if each.stirs else each for each in problem.activities]
    there = [replace(rule, room=APART) for rule in problem.rules]
    rules = dict.fromkeys((*there, *problem.rules))
    return replace(problem, activities=tuple(moved), rules=tuple(rules))
