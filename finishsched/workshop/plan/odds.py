"""The odds of being late: the same work lived through many times, as life in this shop goes.

Waits turn out longer or shorter together: a damp month slows every coat of the shop, and a product
that dries slowly does so on every piece. Evenings are missed, as often as the shop's own record
shows. What was planned is done in the plan's order as soon as it can be, and nothing of it sooner
than the plan has it.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from finishsched.journal import events
from finishsched.planning.hours import minute_of, windows_of
from finishsched.planning.problem import Activity, Hands, Lag, Plan, Problem
from finishsched.planning.quick import in_turn
from finishsched.planning.replan import no_sooner
from finishsched.planning.score import goal_finishes
from finishsched.planning.window import Window
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.hands_and_hours import Place
from finishsched.workshop.plan.work_left import PlanStep, ShopProblem

DRAWN_STEPS, FEWEST_DRAWS, MOST_DRAWS = 10_000, 10, 100
"""How many courses are drawn goes with the steps there are, so that it takes about a second at the
most; what so many tell is for those who put the odds in words."""
UPPER_TENTH = 1.2816
"""The standard normal's upper tenth, where a range's slow end lies."""
OF_SHOP, OF_PRODUCT = 0.3, 0.3
"""How much of what makes waits differ is common to the shop, and to a product; the rest is each
wait's own (our assumption: air and a batch of material act on everything that dries in them)."""
USUALLY_MISSED = 0.05
RECORD_DAYS, RECORD_WORTH = 56, 20
"""How far back the record of missed sittings is read, and against how many sittings the usual share
weighs (our assumption)."""
MOST_MISSED = 0.4
LOGGED_WITHIN_MIN = 120
"""Work of a sitting that is logged so long after its end still belongs to it (our assumption)."""

Ratio = Callable[[PlanStep], float]


@dataclass(frozen=True, slots=True)
class Outlook:
    """When goals are reached if waits turn out otherwise and sittings are missed."""

    latest_min: Mapping[str, int]
    """If every wait takes as long as it may; without a goal that has no hours left then."""
    late_odds: Mapping[str, float]
    """For each goal with a due date, the share of the drawn cases in which it is late."""
    draws: int = 0
    """How many cases were drawn."""


def outlook(
    shop: ShopProblem, problem: Problem, plan: Plan, missed: float = USUALLY_MISSED
) -> Outlook:
    """Return what becomes of the goals; the draws are the same every time.

    Args:
        shop: what the problem's keys mean.
        problem: the problem that the plan is of.
        plan: the plan.
        missed: the share of sittings that are missed, 0 to 1.

    """
    order = [placed.key for placed in plan.placed]
    as_planned = no_sooner(problem, plan)
    slow = _with_waits(shop, as_planned, lambda step: step.wait.slow_ratio if step.wait else 1.0)
    due = {goal.key: goal.due_min for goal in problem.goals if goal.due_min is not None}
    late = dict.fromkeys(due, 0)
    draws = DRAWN_STEPS // max(1, len(problem.activities))
    draws = min(MOST_DRAWS, max(FEWEST_DRAWS, draws)) if due else 0
    for number in range(draws):
        rng = random.Random(number)  # noqa: S311  # no secret
        finishes = _course(shop, as_planned, order, rng, missed)
        for key, due_min in due.items():
            late[key] += finishes.get(key, due_min + 1) > due_min
    odds = {key: count / draws for key, count in late.items()}
    return Outlook(_finishes(slow, order), odds, draws)


def one_course(
    shop: ShopProblem, problem: Problem, plan: Plan, rng: random.Random, missed: float
) -> Mapping[str, int]:
    """Return when each goal is reached, in minutes, in one course of life that is drawn."""
    order = [placed.key for placed in plan.placed]
    return _course(shop, no_sooner(problem, plan), order, rng, missed)


def _course(
    shop: ShopProblem, as_planned: Problem, order: list[str], rng: random.Random, missed: float
) -> dict[str, int]:
    drawn = _with_waits(shop, as_planned, drawn_ratio(rng))
    return _finishes(replace(drawn, hands=_hands_that_come(drawn, rng, missed)), order)


def _finishes(problem: Problem, order: list[str]) -> dict[str, int]:
    """Return when each goal is reached; one that no hours are left for is reached never."""
    plan = in_turn(problem, order)
    left_out = set(plan.left_out)
    never = {each.goal for each in problem.activities if each.key in left_out}
    return {key: at for key, at in goal_finishes(problem, plan).items() if key not in never}


def drawn_ratio(rng: random.Random) -> Ratio:
    """Return ratios drawn for one course: lognormal about likely, in part together.

    None is shorter than the earliest end; a tenth are longer than the latest, how long whatever.
    """
    of_shop = rng.gauss(0.0, 1.0)
    of_product: dict[str, float] = {}
    own_share = math.sqrt(1.0 - OF_SHOP - OF_PRODUCT)

    def ratio(step: PlanStep) -> float:
        own = rng.gauss(0.0, 1.0)
        wait = step.wait
        if wait is None or wait.likely_min <= 0:
            return 1.0
        product = step.step.product or ""
        if product not in of_product:
            of_product[product] = rng.gauss(0.0, 1.0)
        together = math.sqrt(OF_SHOP) * of_shop + math.sqrt(OF_PRODUCT) * of_product[product]
        spread = math.log(max(1.0, wait.slow_ratio)) / UPPER_TENTH
        drawn = math.exp(spread * (together + own_share * own))
        return max(wait.earliest_min / wait.likely_min, drawn)

    return ratio


def _hands_that_come(problem: Problem, rng: random.Random, missed: float) -> tuple[Hands, ...]:
    """Return the hands without the sittings that they miss; one that has begun is not missed."""

    def comes(window: Window) -> bool:
        begun = window.start_min <= problem.now_min
        return rng.random() >= missed or begun

    return tuple(
        Hands(hands.name, tuple(window for window in hands.windows if comes(window)))
        for hands in problem.hands
    )


def missed_share(workshop: Workshop, place: Place) -> float:
    """Return the share of sittings that are missed here, by the record of the last eight weeks.

    A sitting counts between the first and the last work that was logged in that time; it was missed
    where no work was logged in it or soon after. The less record there is, the more the usual share
    counts. Sittings in which everything was waiting count as missed too: better too wary.
    """
    worked = sorted(_worked_min(workshop, place.now))
    if not worked:
        return USUALLY_MISSED
    sittings = [
        window
        for name in place.people
        for window in windows_of(place.hours(name), place.zone, worked[0], worked[-1])
    ]
    missed = sum(
        not any(w.start_min <= at <= w.end_min + LOGGED_WITHIN_MIN for at in worked)
        for w in sittings
    )
    share = (missed + USUALLY_MISSED * RECORD_WORTH) / (len(sittings) + RECORD_WORTH)
    return min(MOST_MISSED, share)


def _worked_min(workshop: Workshop, now: datetime) -> Iterator[int]:
    since = now - timedelta(days=RECORD_DAYS)
    book = workshop.book()
    for piece in book.pieces:
        for event in book.told(piece, events.StepDone):
            if since <= event.at <= now:
                yield minute_of(event.at)


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
