"""The odds of being late: within the waits' own ranges, and told no finer than the draws allow."""

import math
import random
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from statistics import correlation
from types import SimpleNamespace

import pytest

from finishsched.journal.events import NewEvent, StepDone
from finishsched.planning.problem import Activity, Goal, Hands, Lag, Problem
from finishsched.planning.quick import re_decode
from finishsched.planning.window import Window
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.hands_and_hours import WhatIf, place_of
from finishsched.workshop.plan.odds import (
    MOST_DRAWS,
    OF_PRODUCT,
    OF_SHOP,
    USUALLY_MISSED,
    drawn_ratio,
    missed_share,
    outlook,
)
from finishsched.workshop.plan.plans import Asked, plan_answer
from finishsched.workshop.plan.sentences import odds_words, piece_words
from finishsched.workshop.plan.waits_ahead import WaitRange
from finishsched.workshop.plan.work_left import PlanStep, ShopProblem

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
DAY = 1440
CURE = WaitRange(2 * DAY, 5 * DAY, 15 * DAY)
COAT = SimpleNamespace(product="oil")


def shop_of(due_min, hours_end=60 * DAY):
    """Return a shop whose one piece is coated, cures, and is waxed in hours without a break."""
    problem = Problem(
        activities=(
            Activity("a#coat", 10, ("Ada",), goal="a"),
            Activity("a#wax", 10, ("Ada",), goal="a"),
        ),
        lags=(Lag("a#coat", "a#wax", CURE.likely_min),),
        hands=(Hands("Ada", (Window(0, hours_end),)),),
        goals=(Goal("a", due_min),),
    )
    steps = {"a#coat": PlanStep("a", COAT, CURE), "a#wax": PlanStep("a", None, None)}
    return ShopProblem(problem, {}, steps, ())


def seen(shop):
    """Return the outlook of a shop's one plan."""
    plan = re_decode(shop.problem, ["a#coat", "a#wax"])
    return outlook(shop, shop.problem, plan, 0.0)


def sitting(evening_min, due_min):
    """Return a shop whose one piece takes three coats in one sitting, likely 15 min apart."""
    keys = [f"a#coat.{number}" for number in (1, 2, 3)]
    apart = WaitRange(10, 15, 30)
    problem = Problem(
        activities=tuple(Activity(key, 5, ("Ada",), goal="a") for key in keys),
        lags=tuple(
            Lag(one, other, apart.likely_min, apart.likely_min + 45, in_one_sitting=True)
            for one, other in pairwise(keys)
        ),
        hands=(Hands("Ada", tuple(Window(d * DAY, d * DAY + evening_min) for d in range(90))),),
        goals=(Goal("a", due_min),),
    )
    shop = ShopProblem(problem, {}, {key: PlanStep("a", COAT, apart) for key in keys}, ())
    return outlook(shop, problem, re_decode(problem, keys), 0.0)


def test_a_sitting_that_outgrows_its_evening_is_split_and_not_late_for_ever():
    """Coats that likely just fit in one evening go on the next where waits turn out longer.

    They were left out, so that work with months to spare was told late in every such case.
    """
    found = sitting(50, due_min=60 * DAY)
    assert found.late_odds["a"] == 0.0
    assert DAY < found.latest_min["a"] < 3 * DAY
    late_for_tonight = sitting(50, due_min=50).late_odds["a"]
    assert 0.2 < late_for_tonight < 0.8
    assert sitting(240, due_min=240).late_odds["a"] == 0.0


def test_a_tenth_of_the_waits_outlast_their_range_and_none_is_over_before_it():
    """A cure of 2 to 15 days, likely 5: half are below 5, one in ten is above 15, none below 2."""
    step = PlanStep("a", COAT, CURE)
    courses = (random.Random(n) for n in range(2000))  # noqa: S311  # no secret
    drawn = [5 * drawn_ratio(course)(step) for course in courses]
    assert min(drawn) >= 2
    assert sum(days < 5 for days in drawn) == pytest.approx(1000, abs=100)
    assert sum(days > 15 for days in drawn) == pytest.approx(200, abs=50)


def test_waits_of_one_shop_and_of_one_product_are_slow_together():
    """Within a course, waits of a product differ less than waits of two, and these than by chance.

    Their correlation is what is common to the shop, and to the product on top of it.
    """
    steps = [
        PlanStep("a", SimpleNamespace(product=name), WaitRange(1, 5 * DAY, 15 * DAY))
        for name in ("oil", "oil", "wax")
    ]
    logs = []
    for number in range(3000):
        ratio = drawn_ratio(random.Random(number))  # noqa: S311  # no secret
        logs.append([math.log(ratio(step)) for step in steps])
    one, like, other = zip(*logs, strict=True)
    assert correlation(one, other) == pytest.approx(OF_SHOP, abs=0.06)
    assert correlation(one, like) == pytest.approx(OF_SHOP + OF_PRODUCT, abs=0.06)


def test_due_just_after_the_slow_end_it_is_late_one_time_in_ten():
    """The slow end is the upper tenth: due then, about one case in ten is late, not none."""
    slowest = seen(shop_of(None)).latest_min["a"]
    few = seen(shop_of(slowest))
    assert few.draws == MOST_DRAWS
    assert 0.03 < few.late_odds["a"] < 0.2
    half = seen(shop_of(5 * DAY + 20)).late_odds["a"]
    assert half == pytest.approx(0.5, abs=0.12)
    assert seen(shop_of(5 * DAY + 20)).late_odds["a"] == half, "the same draws every time"


def test_missed_sittings_make_late_what_has_no_evening_to_spare():
    """A coat due on the evening it is planned for is late as often as an evening is missed."""
    evenings = tuple(Window(day * DAY + 1080, day * DAY + 1200) for day in range(1, 9))
    problem = Problem(
        (Activity("a#sand", 100, ("Ada",), goal="a"),),
        hands=(Hands("Ada", evenings),),
        goals=(Goal("a", 2 * DAY),),
    )
    shop = ShopProblem(problem, {}, {"a#sand": PlanStep("a", None, None)}, ())
    plan = re_decode(problem, ["a#sand"])
    assert outlook(shop, problem, plan, 0.0).late_odds == {"a": 0.0}
    assert outlook(shop, problem, plan, 0.3).late_odds["a"] == pytest.approx(0.3, abs=0.13)


def test_the_share_of_missed_sittings_is_read_from_the_record(folder):
    """Work logged on every second evening of three weeks: towards a half, from the usual share."""
    text = (folder / "shop.yaml").read_text()
    (folder / "shop.yaml").write_text(text + "hours: Mon-Sun 18:00-21:00\n")
    with Workshop.open(folder, NOW) as workshop:
        place = place_of(workshop, NOW)
        assert missed_share(workshop, place) == USUALLY_MISSED
        for days in range(20, 1, -2):
            worked = NewEvent(NOW - timedelta(days=days, minutes=-30), "box/lid", StepDone("any"))
            workshop.append(lambda _, worked=worked: worked, NOW)
        assert 0.2 < missed_share(workshop, place) < 0.4


def test_what_no_hours_are_left_for_counts_as_late():
    """With hours that end on the sixth day, a cure longer than that leaves the wax out: late."""
    short = seen(shop_of(30 * DAY, hours_end=6 * DAY))
    ratio = math.log(6 / 5) / (math.log(3) / 1.2816)
    longer = 1 - 0.5 * (1 + math.erf(ratio / math.sqrt(2)))
    assert short.late_odds["a"] == pytest.approx(longer, abs=0.12)
    assert "a" not in short.latest_min


@pytest.mark.parametrize(
    ("share", "draws", "words"),
    [
        (0.0, 200, "in fewer than 1 case of 20"),
        (0.0, 40, "in fewer than 1 case of 10"),
        (0.0, 20, "in fewer than 1 case of 5"),
        (0.0, 10, "in fewer than 1 case of 3"),
        (0.05, 200, "in 1 case of 10"),
        (0.26, 200, "in 3 cases of 10"),
        (0.26, 40, "in 1 case of 5"),
        (0.5, 20, "in 2 cases of 4"),
        (0.4, 10, "in 1 case of 3"),
        (1.0, 10, "in more than 2 cases of 3"),
        (1.0, 200, "in more than 19 cases of 20"),
    ],
)
def test_odds_are_no_finer_than_the_draws(share, draws, words):
    """None of 40 is not never, and ten draws tell no tenths."""
    assert odds_words(share, draws) == words


def test_none_of_the_draws_is_told_only_where_it_could_be(workshop):
    """Of a piece that is late with slow waits the odds are told, though no draw showed it."""
    asked = Asked(what_if=WhatIf(by=date(2026, 12, 20)))
    plan = plan_answer(workshop, NOW, asked)
    piece = plan.pieces[0]
    assert (piece.late_odds, piece.late_latest_min) == (0.0, 0)
    assert piece.late_draws == MOST_DRAWS
    assert "late" not in piece_words(piece, plan)
    slow = replace(piece, late_latest_min=90)
    assert piece_words(slow, plan).endswith("; late in fewer than 1 case of 20")


def test_a_shop_without_due_dates_draws_nothing():
    """Nothing due, no odds."""
    found = seen(shop_of(None))
    assert (found.late_odds, found.draws) == ({}, 0)
