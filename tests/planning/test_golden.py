"""Small shops solved by hand: the best finish is worked out beside each, and found."""

from dataclasses import replace

import pytest
from planning_shops import DAY, evenings

from finishsched.planning.bounds import lower_bound
from finishsched.planning.judging.checker import check
from finishsched.planning.problem import (
    Activity,
    Bare,
    Goal,
    Hands,
    Lag,
    Problem,
    RoomRule,
    SetUp,
    Store,
    Use,
)
from finishsched.planning.quick import quick_plan
from finishsched.planning.score import score
from finishsched.planning.window import Window

EVENING = 18 * 60
ADA = Hands("Ada", evenings())


def work(key, minutes, goal="a", by=("Ada",), **more):
    """Return an activity."""
    return Activity(key, minutes, by, goal, **more)


def sanding(key, minutes, goal="a"):
    """Return sanding, which makes dust."""
    return work(key, minutes, goal, room="shop", kind="sand", stirs=("dust",))


def coat(key, minutes, dry, goal="a", **more):
    """Return a coat, to which dust sticks for ``dry`` minutes."""
    return work(key, minutes, goal, room="shop", kind="coat", bare=(Bare("dust", dry),), **more)


# One coat, a night of at least 20 h, a second: the next evening, at 18:20 + 20 h = 14:20, so 18:00.
NIGHT = Problem((work("a1", 20), work("a2", 20)), (Lag("a1", "a2", 1200),), (ADA,))
# The night from 18:20 to 18:00 is 23 h 40: wider by a minute, and the second coat waits a day more.
TOO_WIDE = replace(NIGHT, lags=(Lag("a1", "a2", 23 * 60 + 40),))
TOO_WIDE_BY_ONE = replace(NIGHT, lags=(Lag("a1", "a2", 23 * 60 + 41),))
# Coat b first, and the sanding of a waits until 18:10 + 60: 19:40. Sand first: 18:30, settle 15,
# coat 18:45 to 18:55.
DUST = Problem(
    (sanding("a1", 30, "a"), coat("b1", 10, 60, "b")),
    (), (ADA,), rules=(RoomRule("shop", "dust", 15),),
)  # fmt: skip
# The rack has one slot, held 10 h: the second coat cannot be laid before the next evening.
RACK = Problem(
    (coat("a1", 10, 0, "a", uses=(Use("rack", from_start=False, hold_min=600),)),
     coat("b1", 10, 0, "b", uses=(Use("rack", from_start=False, hold_min=600),))),
    (), (ADA,), (Store("rack", 1),),
)  # fmt: skip
# 2 x 45 of sanding and 2 x 30 of coats are 150; sorted by kind, one set-up of 20 for the sanding
# and 10 for the coats fill the 180 to the minute. Any other order needs another evening.
SET_UPS = Problem(
    (work("a1", 45, "a", kind="sand"), work("b1", 45, "b", kind="sand"),
     work("c1", 30, "c", kind="coat"), work("d1", 30, "d", kind="coat")),
    (), (ADA,), set_ups=(SetUp("sand", 15, 5), SetUp("coat", 5, 5)),
)  # fmt: skip
# The last 30 min of the evening are just enough for the second coat of a hard window of 30 min.
WINDOW = Problem(
    (work("a1", 30), work("a2", 30), work("b1", 120, "b")),
    (Lag("a1", "a2", 0, 30),), (ADA,),
)  # fmt: skip
# Two people do two things of three hours on one evening; one of them would take two.
TWO = Problem(
    (work("a1", 180, "a", ("Ada", "Ben")), work("b1", 180, "b", ("Ada", "Ben"))),
    (), (ADA, Hands("Ben", evenings())),
)  # fmt: skip
# Only Ben can do a1, and he comes a day later: Ada's work does not wait for him.
SKILL = Problem(
    (work("a1", 60, "a", ("Ben",)), work("b1", 180, "b")),
    (), (ADA, Hands("Ben", (Window(DAY + 600, DAY + 700),))),
)  # fmt: skip


@pytest.mark.parametrize(
    ("problem", "finish"),
    [
        (NIGHT, DAY + EVENING + 20),
        (TOO_WIDE, DAY + EVENING + 20),
        (TOO_WIDE_BY_ONE, DAY + EVENING + 21),
        (DUST, EVENING + 55),
        (RACK, DAY + EVENING + 10),
        (SET_UPS, EVENING + 175),
        (WINDOW, EVENING + 180),
        (TWO, EVENING + 180),
        (SKILL, DAY + 660),
    ],
    ids=["night", "as wide as the night", "wider by one", "dust", "rack", "set-ups", "window",
         "two people", "skills"],
)  # fmt: skip
def test_the_best_finish_is_found(problem, finish):
    """The quick planner finds the finish that was worked out by hand; the bound is not above it."""
    goals = tuple(Goal(key) for key in sorted({a.goal for a in problem.activities}))
    problem = replace(problem, goals=goals)
    plan = quick_plan(problem, rounds=40)
    assert check(problem, plan) == ()
    found = score(problem, plan)
    assert (found.left_out, found.hard_late_min) == (0, 0)
    assert found.finish_min == finish
    assert lower_bound(problem) <= finish


def test_lateness_is_least_and_then_fairest():
    """Two things of two hours due this evening: one is a day late, the other in time.

    Both evenings have room for one; which is late makes no difference, that only one is does.
    """
    problem = Problem(
        (work("a1", 120, "a"), work("b1", 120, "b")), (), (ADA,),
        goals=(Goal("a", EVENING + 180), Goal("b", EVENING + 180)),
    )  # fmt: skip
    found = score(problem, quick_plan(problem, rounds=40))
    assert found.late_min == found.latest_min == DAY - 60


def test_a_tight_due_date_goes_before_a_long_piece():
    """The short piece that is due goes first, although the long one decides the end."""
    problem = Problem(
        (work("a1", 170, "a"), work("b1", 60, "b")), (), (ADA,),
        goals=(Goal("a"), Goal("b", EVENING + 60)),
    )  # fmt: skip
    plan = quick_plan(problem, rounds=40)
    assert score(problem, plan).late_min == 0
    assert score(problem, plan).finish_min == DAY + EVENING + 170
