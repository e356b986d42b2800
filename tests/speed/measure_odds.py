"""Whether the odds of a late piece hold when life happens: said beside true, in fifths. A table.

    .venv/bin/python tests/speed/measure_odds.py [--shops 200] [--pieces 3 6] [--lives 4]

Small shops written as documents are planned by the plain starts; each piece is due some days about
its planned end, and its odds are read. Then some courses of life are drawn for each shop in each of
five worlds: as the odds assume; with a tenth of the evenings missed; with waits that have more of
their cause in common; with both; and one unlike what is assumed. Who works does so in the order of
the plan. Of the evenings that are missed the odds know what a record of eight weeks would tell,
where one was drawn. What is true stands with where it lies 19 times in 20, the pieces of a shop
taken together; what was found stands in odds.txt. Nothing here is ever asserted.
"""

from __future__ import annotations

import argparse
import random
import statistics
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import NamedTuple
from unittest import mock

from document_shops import NOW, write_shop

from finishsched.planning.problem import Hands, Lag, Plan, Problem
from finishsched.planning.quick import first_plan, in_turn
from finishsched.planning.replan import no_sooner
from finishsched.planning.score import goal_finishes
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan import odds
from finishsched.workshop.plan.plans import shop_sound
from finishsched.workshop.plan.work_left import PlanStep, ShopProblem

RECORD_SITTINGS = 40
"""Five sittings a week for eight weeks."""
FIFTHS = 5
NEVER = 0.01
"""What is said to come true less often counts as never."""
WORK_DRAGS = 0.25
"""In the world unlike ours: the spread of how much longer all work takes."""
DAY_MIN, WEEK_MIN = 1440, 7 * 1440
DUE_DAYS = (-1.0, 14.0)
"""Between so many days after the planned end each piece is due."""
AGAIN = 1000
"""So often the shops are drawn again to tell how sure a share is."""


@dataclass(frozen=True)
class World:
    """How life goes."""

    name: str
    missed: float = odds.USUALLY_MISSED
    of_shop: float = odds.OF_SHOP
    of_product: float = odds.OF_PRODUCT
    has_record: bool = False
    """Whether the shop's own record of missed evenings is there."""
    is_unlike: bool = False


WORLDS = (
    World("as assumed"),
    World("a tenth missed", missed=0.1, has_record=True),
    World("waits together", of_shop=0.5),
    World("both", missed=0.1, has_record=True, of_shop=0.5),
    World("unlike ours", missed=0.1, has_record=True, is_unlike=True),
)


class Case(NamedTuple):
    """One piece with a due date, in one course of life."""

    shop: int
    said: float
    late: bool


@dataclass(frozen=True)
class Planned:
    """A shop with its plan."""

    shop: ShopProblem
    problem: Problem
    plan: Plan


def planned(pieces: int, seed: int) -> Planned:
    """Return a small shop, planned."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        write_shop(folder, pieces, seed)
        with Workshop.open(folder, NOW) as workshop:
            shop, whole = shop_sound(workshop, NOW)
    plan = first_plan(whole.problem)
    return Planned(shop, _due_about_its_end(whole.problem, plan, seed), plan)


def _due_about_its_end(problem: Problem, plan: Plan, seed: int) -> Problem:
    """Return the problem with due dates about the planned ends, so that little is certain."""
    chance = random.Random(f"due {seed}")  # noqa: S311 - made-up shops
    ends = goal_finishes(problem, plan)
    goals = tuple(
        replace(goal, due_min=ends[goal.key] + round(chance.uniform(*DUE_DAYS) * DAY_MIN))
        for goal in problem.goals
        if goal.key in ends
    )
    return replace(problem, goals=goals)


def known_share(world: World, seed: int) -> float:
    """Return the share of missed evenings that the odds of a shop reckon with."""
    if not world.has_record:
        return odds.USUALLY_MISSED
    chance = random.Random(f"record {seed}")  # noqa: S311 - made-up shops
    record = sum(chance.random() < world.missed for _ in range(RECORD_SITTINGS))
    usual = odds.USUALLY_MISSED * odds.RECORD_WORTH
    return (record + usual) / (RECORD_SITTINGS + odds.RECORD_WORTH)


def lives(
    world: World, one: Planned, chance: random.Random, count: int
) -> Iterator[Mapping[str, int]]:
    """Give when each goal is reached, in so many courses of life."""
    with mock.patch.multiple(odds, OF_SHOP=world.of_shop, OF_PRODUCT=world.of_product):
        for _ in range(count):
            if world.is_unlike:
                yield _unlike(one, chance, world.missed)
            else:
                yield odds.one_course(one.shop, one.problem, one.plan, chance, world.missed)


def _unlike(one: Planned, chance: random.Random, missed: float) -> Mapping[str, int]:
    """Return the same where waits lie anywhere in their ranges, and share nothing.

    All work takes longer or shorter than was planned, and evenings are missed by the week.
    """
    drags = chance.lognormvariate(0.0, WORK_DRAGS)
    longer = {key: _ratio(step, chance) for key, step in one.shop.steps.items()}
    planned_so = no_sooner(one.problem, one.plan)
    lived = replace(
        planned_so,
        activities=tuple(
            replace(
                each,
                minutes=max(1, round(each.minutes * drags)) if each.by else each.minutes,
                tail_min=round(each.tail_min * longer[each.key]),
            )
            for each in planned_so.activities
        ),
        lags=tuple(_longer(lag, longer) for lag in planned_so.lags),
        hands=tuple(_by_the_week(hands, chance, missed) for hands in planned_so.hands),
    )
    plan = in_turn(lived, [placed.key for placed in one.plan.placed])
    out = set(plan.left_out)
    never = {each.goal for each in lived.activities if each.key in out}
    reached = goal_finishes(lived, plan)
    return {goal: at_min for goal, at_min in reached.items() if goal not in never}


def _ratio(step: PlanStep, chance: random.Random) -> float:
    """Return how many times as long as likely a wait takes: as often shorter as longer, evenly."""
    wait = step.wait
    if wait is None or not wait.likely_min:
        return 1.0
    end_min = chance.choice((wait.earliest_min, wait.latest_min))
    return chance.uniform(end_min, wait.likely_min) / wait.likely_min


def _longer(lag: Lag, ratios: Mapping[str, float]) -> Lag:
    """Return a lag that takes so many times as long; its window closes no sooner."""
    if lag.least_min <= 0 or lag.before not in ratios:
        return lag
    least_min = round(lag.least_min * ratios[lag.before])
    most_min = None if lag.most_min is None else max(lag.most_min, least_min)
    return replace(lag, least_min=least_min, most_min=most_min)


def _by_the_week(hands: Hands, chance: random.Random, missed: float) -> Hands:
    """Return hands that stay away for whole weeks."""
    weeks = {window.start_min // WEEK_MIN for window in hands.windows}
    away = {week for week in sorted(weeks) if chance.random() < missed}
    kept = [window for window in hands.windows if window.start_min // WEEK_MIN not in away]
    return Hands(hands.name, tuple(kept))


def cases_of(
    worlds: Sequence[World], one: Planned, seed: int, count: int
) -> Iterator[tuple[World, Case]]:
    """Give in each of some worlds for each piece the odds of being late, and whether it was."""
    said: dict[float, Mapping[str, float]] = {}
    for world in worlds:
        share = known_share(world, seed)
        if share not in said:
            said[share] = odds.outlook(one.shop, one.problem, one.plan, share).late_odds
        chance = random.Random(f"{world.name} {seed}")  # noqa: S311 - made-up shops
        for reached in lives(world, one, chance, count):
            for goal in one.problem.goals:
                if goal.due_min is not None:
                    late = reached.get(goal.key, goal.due_min + 1) > goal.due_min
                    yield world, Case(seed, said[share][goal.key], late)


def interval(cases: Sequence[Case]) -> tuple[float, float]:
    """Return between which shares what is true lies 19 times in 20, shops drawn again and again."""
    by_shop: dict[int, list[bool]] = {}
    for case in cases:
        by_shop.setdefault(case.shop, []).append(case.late)
    shops = list(by_shop.values())
    chance = random.Random(len(cases))  # noqa: S311 - made-up shops
    shares = []
    for _ in range(AGAIN):
        drawn = chance.choices(shops, k=len(shops))
        shares.append(sum(map(sum, drawn)) / sum(map(len, drawn)))
    shares.sort()
    return shares[AGAIN // 40], shares[-AGAIN // 40]


def told(name: str, cases: Sequence[Case], lives_each: int) -> str:
    """Return a row of the table: what was said, and what was true."""
    said = statistics.mean(case.said for case in cases)
    true = statistics.mean(case.late for case in cases)
    low, high = interval(cases)
    pieces = len(cases) // lives_each
    return f"{name:<10} {pieces:>6} {len(cases):>6} {said:>6.0%} {true:>6.0%}  {low:.0%}-{high:.0%}"


def table(world: World, cases: Sequence[Case], lives_each: int) -> Iterator[str]:
    """Give the rows of a world, by fifths of what was said, and what was said to be never."""
    yield world.name
    yield "said       pieces  lives   said   true  19 in 20"
    for number in range(FIFTHS):
        low, high = number / FIFTHS, (number + 1) / FIFTHS
        inside = [c for c in cases if min(FIFTHS - 1, int(c.said * FIFTHS)) == number]
        if inside:
            yield told(f"{low:.1f}-{high:.1f}", inside, lives_each)
    never = [case for case in cases if case.said < NEVER]
    if never:
        yield told("never", never, lives_each)


def main() -> None:
    """Measure and print."""
    asked = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    asked.add_argument("--shops", type=int, default=200)
    asked.add_argument("--pieces", type=int, nargs=2, default=[3, 6])
    asked.add_argument("--lives", type=int, default=4)
    asked.add_argument("--world", nargs="*", default=[world.name for world in WORLDS])
    args = asked.parse_args()
    worlds = [world for world in WORLDS if world.name in args.world]
    found: dict[str, list[Case]] = {world.name: [] for world in worlds}
    fewest, most = args.pieces
    for seed in range(args.shops):
        one = planned(fewest + seed % (most - fewest + 1), seed)
        for world, case in cases_of(worlds, one, seed, args.lives):
            found[world.name].append(case)
    for world in worlds:
        print("\n".join(table(world, found[world.name], args.lives)), flush=True)


if __name__ == "__main__":
    main()
