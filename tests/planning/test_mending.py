"""A plan mended: all stays that can, an idle evening is filled, and the checker judges it all."""

from dataclasses import replace
from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from planning_shops import DAY, evenings, problems

from finishsched.planning.faults import sound
from finishsched.planning.going_on import choosing
from finishsched.planning.going_on.around import Around
from finishsched.planning.going_on.mending import mended
from finishsched.planning.judging.checker import check
from finishsched.planning.problem import Activity, Done, Goal, Hands, Lag, Placed, Plan, Problem
from finishsched.planning.replan import replan

EVENING = 18 * 60


def starts(plan):
    """Return by key the minute at which each begins."""
    return {placed.key: placed.start_min for placed in plan.placed}


def one_evening_and_more(done_min):
    """Return four half hours, three tonight and one tomorrow; the first took until a minute."""
    keys = ("first", "next", "third", "tomorrow")
    steps = tuple(Activity(key, 30, ("Ada",), key) for key in keys)
    begun = (EVENING, EVENING + 30, EVENING + 90, DAY + EVENING)
    placed = [Placed(k, at, at + 30, "Ada") for k, at in zip(keys, begun, strict=True)]
    problem = Problem(
        steps,
        hands=(Hands("Ada", evenings(length=120)),),
        goals=tuple(map(Goal, keys)),
        done=(Done("first", EVENING, done_min, "Ada"),),
        now_min=done_min,
    )
    return problem, Plan(tuple(placed))


def test_only_what_is_in_the_way_moves():
    """The first step ran over: the next one moves by no more than that, the others not at all."""
    problem, old = one_evening_and_more(EVENING + 40)
    assert starts(next(mended(Around(problem, old))).plan()) == {
        "next": EVENING + 40,
        "third": EVENING + 90,
        "tomorrow": DAY + EVENING,
    }


def test_hands_that_would_idle_this_evening_get_what_is_ready():
    """The first step took ten minutes: what was for tomorrow goes into the hour that is free."""
    problem, old = one_evening_and_more(EVENING + 10)
    problem = replace(problem, now_min=EVENING + 30)
    new = starts(next(mended(Around(problem, old))).plan())
    assert new["next"] == EVENING + 30
    assert new["third"] == EVENING + 90
    assert new["tomorrow"] == EVENING + 60


def test_room_is_made_far_ahead_for_what_would_be_late():
    """An hour a day, nine days full, the first missed: it goes where one that is not due was.

    That lies beyond the next week, of which not one start moves.
    """
    keys = [f"day{day}" for day in range(10)]
    steps = tuple(Activity(key, 60, ("Ada",), key) for key in keys)
    goals = tuple(Goal(key, 9 * DAY if key == "day0" else None) for key in keys)
    hands = (Hands("Ada", evenings(length=60)),)
    problem = Problem(steps, hands=hands, goals=goals, now_min=DAY)
    placed = []
    for day, key in enumerate(keys):
        begins = day * DAY + EVENING
        placed.append(Placed(key, begins, begins + 60, "Ada"))
    old = Plan(tuple(placed))
    kept_whole, *with_room = [starts(each.plan()) for each in mended(Around(problem, old))]
    assert kept_whole["day0"] == 10 * DAY + EVENING
    for new in with_room:
        assert new["day0"] == 8 * DAY + EVENING
        moved = [key for key in keys if new[key] != starts(old)[key]]
        assert not {f"day{day}" for day in range(1, 8)}.intersection(moved)


def test_who_is_in_the_way_makes_room_first():
    """An hour a day, twenty days full, the first missed: the evening before it is due is given up.

    All other pieces have as much time to spare, and lie where no room is needed: they stay.
    """
    keys = [f"day{day}" for day in range(20)]
    steps = tuple(Activity(key, 60, ("Ada",), key) for key in keys)
    goals = tuple(Goal(key, 9 * DAY if key == "day0" else None) for key in keys)
    hands = (Hands("Ada", evenings(length=60)),)
    problem = Problem(steps, hands=hands, goals=goals, now_min=DAY)
    begun = {key: day * DAY + EVENING for day, key in enumerate(keys)}
    old = Plan(tuple(Placed(key, at, at + 60, "Ada") for key, at in begun.items()))
    _, with_room, *_ = (starts(each.plan()) for each in mended(Around(problem, old)))
    assert with_room["day0"] == begun["day8"]
    assert {key for key in keys if with_room[key] != begun[key]} == {"day0", "day8"}


def missed_step(coat_day):
    """Return a piece that is to be coated on a day, and whose evening of sanding was missed."""
    steps = (Activity("sand", 60, ("Ada",), "box"), Activity("coat", 60, ("Ada",), "box"))
    lags = (Lag("sand", "coat", 30),)
    hands = (Hands("Ada", evenings()),)
    problem = Problem(steps, lags, hands, goals=(Goal("box"),), now_min=DAY)
    coat_min = coat_day * DAY + EVENING
    old = Plan(
        (
            Placed("sand", EVENING, EVENING + 60, "Ada"),
            Placed("coat", coat_min, coat_min + 60, "Ada"),
        )
    )
    return problem, old


@pytest.mark.parametrize(
    ("coat_day", "stays"),
    [
        pytest.param(2, True, id="an evening lies between, in which what was missed is done"),
        pytest.param(1, False, id="nothing lies between, and it goes after what was missed"),
    ],
)
def test_what_waits_for_a_missed_step_stays_where_that_can_be_done_in_between(coat_day, stays):
    """The coat stays put only where the sanding that was missed is done before it after all."""
    problem, old = missed_step(coat_day)
    around = Around(problem, old)
    order = around.order_of(old)
    place = partial(around.placed_in_order, order)
    plan = around.plan(around.closely_placed(place, lambda *_: True))
    assert not check(problem, plan)
    assert (starts(plan)["coat"] == starts(old)["coat"]) is stays


@settings(max_examples=40)
@given(problems(most_pieces=4), st.integers(0, 5))
def test_going_on_in_a_large_shop_breaks_no_rule(problem, days_off):
    """However many evenings were missed, what goes on passes the checker, and moves with cause."""
    problem = sound(problem).problem
    old = replan(problem, None, rounds=2).plan
    late = replace(problem, now_min=problem.now_min + days_off * DAY)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(choosing, "MANY_STEPS", 0)
        patch.setattr(choosing, "VERY_MANY_STEPS", 0)
        new = replan(late, old)
    assert not check(late, new.plan)
    if not days_off:
        assert starts(new.plan) == starts(old)


def test_next_week_keeps_what_makes_nothing_later():
    """An evening was missed: only the piece that is due soon changes places with what was planned.

    What was missed goes tonight, where a piece without a due date was; that of the day after stays.
    """
    keys = ("missed", "tonight", "day after")
    steps = tuple(Activity(key, 60, ("Ada",), key) for key in keys)
    due_tonight = DAY + EVENING + 60
    goals = (Goal("missed", due_tonight), Goal("tonight"), Goal("day after"))
    hands = (Hands("Ada", evenings(length=60)),)
    problem = Problem(steps, hands=hands, goals=goals, now_min=DAY)
    placed = [
        Placed(key, day * DAY + EVENING, day * DAY + EVENING + 60, "Ada")
        for day, key in enumerate(keys)
    ]
    new = replan(problem, Plan(tuple(placed)))
    assert new.score.late_min == 0
    assert starts(new.plan) == {
        "missed": DAY + EVENING,
        "day after": 2 * DAY + EVENING,
        "tonight": 3 * DAY + EVENING,
    }
