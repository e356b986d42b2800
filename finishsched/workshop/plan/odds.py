"""The odds of being late: the same work lived through many times, as life in this shop goes.

Waits turn out longer or shorter together: a damp month slows every coat of the shop, and a product
that dries slowly does so on every piece. Evenings are missed, as often as the shop's own record
shows. What was planned is done in the plan's order as soon as it can be, and nothing of it sooner
than the plan has it.
"""

from __future__ import annotations

import math
import random
from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
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
from finishsched.workshop.plan.assumed import BEGIN_AGAIN_MIN
from finishsched.workshop.plan.hands_and_hours import Place
from finishsched.workshop.plan.work_left import PlanStep, ShopProblem
from finishsched.workshop.standing.where import refs_since

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
    shop: ShopProblem,
    problem: Problem,
    plan: Plan,
    missed: float = USUALLY_MISSED,
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
    slow = _with_waits(shop, as_planned, _slow_ratio)
    due = {goal.key: goal.due_min for goal in problem.goals if goal.due_min is not None}
    late = dict.fromkeys(due, 0)
    draws = _draws(problem) if due else 0
    for number in range(draws):
        rng = random.Random(number)  # noqa: S311  # no secret
        finishes = _course(shop, as_planned, order, rng, missed)
        for key, due_min in due.items():
            never_min = due_min + 1
            late[key] += finishes.get(key, never_min) > due_min
    odds = {key: count / draws for key, count in late.items()}
    return Outlook(_finishes(slow, order), odds, draws)


def _draws(problem: Problem) -> int:
    """Return how many courses are drawn, fewer the more steps there are."""
    in_the_time = DRAWN_STEPS // max(1, len(problem.activities))
    return min(MOST_DRAWS, max(FEWEST_DRAWS, in_the_time))


def _slow_ratio(step: PlanStep) -> float:
    """Return how many times as long as likely the wait of a step may take."""
    return 1.0 if step.wait is None else step.wait.slow_ratio


def one_course(
    shop: ShopProblem,
    problem: Problem,
    plan: Plan,
    rng: random.Random,
    missed: float,
) -> Mapping[str, int]:
    """Return when each goal is reached, in minutes, in one course of life that is drawn.

    Args:
        shop: what the problem's keys mean.
        problem: the problem that the plan is of.
        plan: the plan.
        rng: for all that is left to chance.
        missed: the share of sittings that are missed, 0 to 1.

    """
    order = [placed.key for placed in plan.placed]
    return _course(shop, no_sooner(problem, plan), order, rng, missed)


def _course(
    shop: ShopProblem,
    as_planned: Problem,
    order: list[str],
    rng: random.Random,
    missed: float,
) -> dict[str, int]:
    """Return the same for a problem in which nothing is done sooner than it was planned."""
    with_waits = _with_waits(shop, as_planned, drawn_ratio(rng))
    hands = _hands_that_come(with_waits, rng, missed)
    return _finishes(replace(with_waits, hands=hands), order)


def _finishes(problem: Problem, order: list[str]) -> dict[str, int]:
    """Return when each goal is reached; one that no hours are left for is reached never."""
    plan = in_turn(problem, order)
    left_out = set(plan.left_out)
    never = {each.goal for each in problem.activities if each.key in left_out}
    finishes = goal_finishes(problem, plan)
    return {goal: at_min for goal, at_min in finishes.items() if goal not in never}


def drawn_ratio(rng: random.Random) -> Ratio:
    """Return ratios drawn for one course: lognormal about likely, in part together.

    None is shorter than the earliest end; a tenth are longer than the latest, how long whatever.
    """
    of_shop = rng.gauss(0.0, 1.0)
    of_product: dict[str, float] = {}
    shop_share = math.sqrt(OF_SHOP)
    product_share = math.sqrt(OF_PRODUCT)
    own_share = math.sqrt(1.0 - OF_SHOP - OF_PRODUCT)

    def ratio(step: PlanStep) -> float:
        """Return how many times as long as likely the wait of a step takes."""
        own = rng.gauss(0.0, 1.0)
        wait = step.wait
        if wait is None or wait.likely_min <= 0:
            return 1.0
        product = step.step.product or ""
        if product not in of_product:
            of_product[product] = rng.gauss(0.0, 1.0)
        together = shop_share * of_shop + product_share * of_product[product]
        spread = math.log(max(1.0, wait.slow_ratio)) / UPPER_TENTH
        drawn = math.exp(spread * (together + own_share * own))
        return max(wait.earliest_min / wait.likely_min, drawn)

    return ratio


def _hands_that_come(problem: Problem, rng: random.Random, missed: float) -> tuple[Hands, ...]:
    """Return the hands without the sittings that they miss; one that has begun is not missed."""

    def comes(window: Window) -> bool:
        """Tell whether a sitting takes place."""
        begun = window.start_min <= problem.now_min
        return rng.random() >= missed or begun

    found: list[Hands] = []
    for hands in problem.hands:
        windows = [window for window in hands.windows if comes(window)]
        found.append(Hands(hands.name, tuple(windows)))
    return tuple(found)


def missed_share(workshop: Workshop, place: Place) -> float:
    """Return the share of sittings that are missed here, by the record of the last eight weeks.

    A sitting counts between the first and the last work that was logged in that time; it was missed
    where no work was logged in it or soon after. The less record there is, the more the usual share
    counts. Sittings in which everything was waiting count as missed too: better too wary.
    """
    worked = sorted(_worked_min(workshop, place.now))
    if not worked:
        return USUALLY_MISSED
    sittings: list[Window] = []
    for name in place.people:
        sittings += windows_of(place.hours(name), place.zone, worked[0], worked[-1])
    missed = [sitting for sitting in sittings if not _was_used(sitting, worked)]
    usual = USUALLY_MISSED * RECORD_WORTH
    share = (len(missed) + usual) / (len(sittings) + RECORD_WORTH)
    return min(MOST_MISSED, share)


def _was_used(sitting: Window, worked: list[int]) -> bool:
    """Tell whether any work was logged in a sitting, or soon after; minutes are in order."""
    first = bisect_left(worked, sitting.start_min)
    return first < len(worked) and worked[first] <= sitting.end_min + LOGGED_WITHIN_MIN


def _worked_min(workshop: Workshop, now: datetime) -> Iterator[int]:
    """Give the minutes at which work was logged within the record that is read."""
    since = now - timedelta(days=RECORD_DAYS)
    book = workshop.book()
    for piece in refs_since(workshop, since, book):
        for event in book.told(piece, events.StepDone):
            if since <= event.at <= now:
                yield minute_of(event.at)


def _with_waits(shop: ShopProblem, problem: Problem, ratio_of: Ratio) -> Problem:
    """Return the problem with each wait so many times as long; one that runs is not over yet."""
    ratios = {key: ratio_of(step) for key, step in sorted(shop.steps.items())}
    done = {each.key: each.end_min for each in problem.done}
    waits = _Waits(ratios, done, problem.now_min)
    longer = replace(
        problem,
        lags=tuple(waits.longer(lag) for lag in problem.lags),
        activities=tuple(waits.with_tail(activity) for activity in problem.activities),
    )
    return _split_where_too_long(longer)


def _split_where_too_long(problem: Problem) -> Problem:
    """Return the problem with each sitting that outgrew all hours split where hours end.

    Its coats were planned in one go by their likely waits. Where those turn out longer, hands go on
    while there are hours, and begin again in the next: that is late by a day, and not for ever.
    """
    activities = {each.key: each for each in problem.activities}
    longest_min = max(
        (w.end_min - w.start_min for h in problem.hands for w in h.windows), default=0
    )
    too_long = {
        (lag.before, lag.after)
        for run in _sittings(problem.lags)
        if _run_min(problem, activities, run) > longest_min
        for lag in run
    }
    if not too_long:
        return problem
    lags = [
        replace(lag, remedy_min=BEGIN_AGAIN_MIN) if (lag.before, lag.after) in too_long else lag
        for lag in problem.lags
    ]
    return replace(problem, lags=tuple(lags))


def _sittings(lags: Iterable[Lag]) -> Iterator[list[Lag]]:
    """Give the lags of each sitting, in the order of its coats."""
    after = {lag.before: lag for lag in lags if lag.in_one_sitting}
    firsts = after.keys() - {lag.after for lag in after.values()}
    for first in sorted(firsts):
        run = [after[first]]
        while run[-1].after in after:
            run.append(after[run[-1].after])
        yield run


def _run_min(problem: Problem, activities: Mapping[str, Activity], run: Sequence[Lag]) -> int:
    """Return how long a sitting takes in one go, with getting ready and clearing up."""
    coats = [activities[run[0].before], *(activities[lag.after] for lag in run)]
    beside = [each for each in problem.set_ups if each.kind == coats[0].kind]
    beside_min = sum(each.before_min + max(each.after_min, each.at_end_min) for each in beside)
    return sum(each.minutes for each in coats) + sum(lag.least_min for lag in run) + beside_min


@dataclass(frozen=True, slots=True)
class _Waits:
    """How many times as long each wait takes."""

    ratios: Mapping[str, float]
    """By the step that it follows."""
    done: Mapping[str, int]
    """When those ended that are done."""
    now_min: int

    def longer(self, lag: Lag) -> Lag:
        """Return a lag whose wait takes as long; its window closes no sooner than it is over."""
        if lag.least_min <= 0:
            return lag
        least = self._takes(lag.before, lag.least_min)
        most = lag.most_min
        if most is not None:
            most = max(most, least)
        return replace(lag, least_min=least, most_min=most)

    def with_tail(self, activity: Activity) -> Activity:
        """Return an activity whose last wait takes as long."""
        if not activity.tail_min:
            return activity
        return replace(activity, tail_min=self._takes(activity.key, activity.tail_min))

    def _takes(self, key: str, minutes: int) -> int:
        """Return how long the wait after a step takes that is likely so many minutes."""
        longer = math.ceil(minutes * self.ratios[key])
        began_min = self.done.get(key)
        if began_min is None:
            return longer
        # It runs, and is not over: what was drawn shorter than it has taken was drawn amiss.
        return max(longer, min(minutes, self.now_min - began_min))
