"""What a plan rests on: what is at risk, and what would help."""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from finishsched.planning.problem import (
    Activity,
    Hands,
    HeldBy,
    Lag,
    Plan,
    Problem,
    Score,
    Store,
    Window,
)
from finishsched.planning.quick import re_decode
from finishsched.planning.replan import no_sooner
from finishsched.planning.score import goal_finishes, score
from finishsched.workshop.plan.answers import Help
from finishsched.workshop.plan.problem_of_shop import PlanStep, ShopProblem

DRAWN_STEPS, FEWEST_DRAWS, MOST_DRAWS = 20_000, 10, 100
"""How many courses the waits are drawn for goes with the steps there are, so that it takes about a
second at the most; what so many tell is for those who put the odds in words."""
MANY_STEPS = 800
UPPER_TENTH = 1.2816
"""The standard normal's upper tenth, where a range's slow end lies."""
WORTH_SAVING_MIN = 60
MOST_HELPS = 3
DAYS_TO_TRY, FEW_DAYS_TO_TRY = 7, 2

Ratio = Callable[[PlanStep], float]


@dataclass(frozen=True, slots=True)
class Outlook:
    """When goals are reached if the waits turn out otherwise, in the same order of work."""

    latest_min: Mapping[str, int]
    """If every wait takes as long as it may; without a goal that has no hours left then."""
    late_odds: Mapping[str, float]
    """For each goal with a due date, the share of the drawn cases in which it is late."""
    draws: int = 0
    """How many cases were drawn."""


def outlook(shop: ShopProblem, problem: Problem, plan: Plan) -> Outlook:
    """Return what becomes of the goals if waits are slow; the draws are the same every time.

    Nothing is done sooner than the plan has it: a wait that ends early brings nobody to the bench.
    """
    order = [placed.key for placed in plan.placed]
    problem = no_sooner(problem, plan)
    slow = _with_waits(shop, problem, lambda step: step.wait.slow_ratio if step.wait else 1.0)
    due = {goal.key: goal.due_min for goal in problem.goals if goal.due_min is not None}
    late = dict.fromkeys(due, 0)
    draws = DRAWN_STEPS // max(1, len(problem.activities))
    draws = min(MOST_DRAWS, max(FEWEST_DRAWS, draws)) if due else 0
    for number in range(draws):
        drawn = _with_waits(shop, problem, drawn_ratio(random.Random(number)))  # noqa: S311  # no secret
        finishes = _finishes(drawn, order)
        for key, due_min in due.items():
            late[key] += finishes.get(key, due_min + 1) > due_min
    odds = {key: count / draws for key, count in late.items()}
    return Outlook(_finishes(slow, order), odds, draws)


def _finishes(problem: Problem, order: Sequence[str]) -> dict[str, int]:
    """Return when each goal is reached; one that no hours are left for is reached never."""
    plan = re_decode(problem, order, reasons=False)
    left_out = set(plan.left_out)
    never = {each.goal for each in problem.activities if each.key in left_out}
    return {key: at for key, at in goal_finishes(problem, plan).items() if key not in never}


def drawn_ratio(rng: random.Random) -> Ratio:
    """Return ratios drawn for one course: lognormal about likely, between earliest and latest.

    Later than latest something is wrong with the work, which no plan foresees; without that end a
    cure of five days would now and then be drawn at five weeks.
    """

    def ratio(step: PlanStep) -> float:
        sign = rng.gauss(0.0, 1.0)
        wait = step.wait
        if wait is None or wait.likely_min <= 0:
            return 1.0
        slowest = max(1.0, wait.slow_ratio)
        spread = math.log(slowest) / UPPER_TENTH
        return min(slowest, max(wait.earliest_min / wait.likely_min, math.exp(spread * sign)))

    return ratio


def _with_waits(shop: ShopProblem, problem: Problem, ratio_of: Ratio) -> Problem:
    """Return the problem with each wait so many times as long; one that runs is not over yet."""
    ratios = {key: ratio_of(step) for key, step in sorted(shop.steps.items())}
    done = {each.key: each.end_min for each in problem.done}
    lags = tuple(_longer(lag, ratios, done, problem.now_min) for lag in problem.lags)
    activities = tuple(_with_tail(a, ratios, done, problem.now_min) for a in problem.activities)
    return replace(problem, lags=lags, activities=activities)


def _longer(lag: Lag, ratios: Mapping[str, float], done: Mapping[str, int], now: int) -> Lag:
    if lag.least_min <= 0:
        return lag
    least = _times(lag.least_min, ratios[lag.before], done.get(lag.before), now)
    most = lag.most_min if lag.most_min is None else max(lag.most_min, least)
    return replace(lag, least_min=least, most_min=most)


def _with_tail(
    activity: Activity, ratios: Mapping[str, float], done: Mapping[str, int], now: int
) -> Activity:
    if not activity.tail_min:
        return activity
    tail = _times(activity.tail_min, ratios[activity.key], done.get(activity.key), now)
    return replace(activity, tail_min=tail)


def _times(minutes: int, ratio: float, began_min: int | None, now: int) -> int:
    longer = math.ceil(minutes * ratio)
    if began_min is None:
        return longer
    # It runs, and is not over: what was drawn shorter than it has taken already was drawn amiss.
    return max(longer, min(minutes, now - began_min))


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
