"""The judge of plans: a plan worked out by hand passes, and each way to spoil it is found."""

from dataclasses import replace

import pytest

from finishsched.planning.judging.checker import Broken, check
from finishsched.planning.problem import (
    Activity,
    Bare,
    Done,
    Goal,
    Hands,
    Lag,
    Miss,
    Placed,
    Plan,
    Problem,
    RoomRule,
    SetUp,
    Store,
    Use,
)
from finishsched.planning.window import Window

# Ada works from 600 to 780 and from 2040 to 2220, Ben from 600 to 700. A lid is sanded (getting
# ready takes 5, clearing up 10), coated twice, 240 to 500 apart, and the panel is sanded by Ben.
LID_SAND = Activity("lid-sand", 20, ("Ada",), "lid", room="shop", kind="sand", stirs=("dust",))
LID_COAT = Activity(
    "lid-coat", 10, ("Ada", "Ben"), "lid", room="shop", kind="coat", bare=(Bare("dust", 60),),
    uses=(Use("rack", from_start=False, until="lid-second"),),
)  # fmt: skip
LID_SECOND = Activity(
    "lid-second", 10, ("Ada",), "lid", tail_min=100, room="shop", kind="coat",
    bare=(Bare("dust", 60),), uses=(Use("rack", hold_min=300),), release_min=2040,
)  # fmt: skip
PANEL = Activity("panel-sand", 30, ("Ben",), "panel", room="shop", kind="sand", stirs=("dust",))
REST = Activity("panel-rest", 0, (), "panel", kind="rest")
PROBLEM = Problem(
    activities=(LID_SAND, LID_COAT, LID_SECOND, PANEL, REST),
    lags=(
        Lag("lid-sand", "lid-coat"),
        Lag("lid-coat", "lid-second", 240, 1500, 15),
        Lag("panel-sand", "panel-rest", 60),
    ),
    hands=(
        Hands("Ada", (Window(600, 780), Window(2040, 2220))),
        Hands("Ben", (Window(600, 700),)),
    ),
    stores=(Store("rack", 1),),
    rules=(RoomRule("shop", "dust", 15),),
    set_ups=(SetUp("sand", 5, 10),),
    goals=(Goal("lid", 5000), Goal("panel")),
)
GOOD = Plan(
    (
        Placed("lid-sand", 605, 625, "Ada"),
        Placed("panel-sand", 605, 635, "Ben"),
        Placed("lid-coat", 650, 660, "Ada"),
        Placed("panel-rest", 695, 695),
        Placed("lid-second", 2040, 2050, "Ada"),
    )
)


def moved(key, start, end=None, by="same", plan=GOOD):
    """Return the plan with one activity elsewhere, in order."""
    placed = []
    for each in plan.placed:
        if each.key == key:
            end = start + each.end_min - each.start_min if end is None else end
            each = Placed(key, start, end, each.by if by == "same" else by)  # noqa: PLW2901
        placed.append(each)
    placed.sort(key=lambda each: (each.start_min, each.key))
    return replace(plan, placed=tuple(placed))


def kinds(problem, plan):
    """Return the kinds of what is wrong."""
    return [violation.kind for violation in check(problem, plan)]


def test_the_plan_by_hand_passes():
    """A plan that keeps every rule to the minute has nothing wrong with it."""
    assert check(PROBLEM, GOOD) == ()


@pytest.mark.parametrize(
    ("plan", "kind", "minutes"),
    [
        (moved("lid-sand", 606), None, 0),
        (moved("lid-sand", 604), Broken.SET_UP, 1),
        (moved("panel-sand", 660), Broken.ROOM, 45),
        (moved("panel-sand", 636), Broken.ROOM, 31),
        (moved("lid-coat", 649), Broken.ROOM, 1),
        (moved("lid-coat", 690, by="Ben"), None, 0),
        (moved("lid-coat", 691, by="Ben"), Broken.HOURS, 0),
        (moved("lid-coat", 650, by="Cleo"), Broken.HANDS, 0),
        (moved("lid-coat", 650, by=None), Broken.HANDS, 0),
        (moved("panel-rest", 695, by="Ada"), Broken.HANDS, 0),
        (moved("panel-rest", 694), Broken.EARLY, 1),
        (moved("lid-second", 2039), Broken.RELEASE, 1),
        (moved("lid-second", 2040, 2051), Broken.LENGTH, 1),
        (moved("lid-second", 2161), Broken.LENGTH, 15),
        (replace(GOOD, placed=GOOD.placed[:-1]), Broken.UNPLACED, 0),
        (replace(GOOD, placed=GOOD.placed[::-1]), Broken.ORDER, 0),
        (replace(GOOD, placed=(*GOOD.placed, GOOD.placed[-1])), Broken.TWICE, 0),
        (replace(GOOD, left_out=("lid-sand",)), Broken.TWICE, 0),
        (replace(GOOD, left_out=("box",)), Broken.UNKNOWN, 0),
        (replace(GOOD, misses=(Miss("lid-coat", "lid-second", 3, hard=False),)), Broken.MISS, 3),
        (
            replace(GOOD, placed=GOOD.placed[1:], left_out=("lid-sand",)),
            Broken.AFTER_NOTHING,
            0,
        ),
    ],
)  # fmt: skip
def test_each_way_to_spoil_it_is_found(plan, kind, minutes):
    """Moving one thing by a minute past what is allowed is found, with its kind and size."""
    found = check(PROBLEM, plan)
    if kind is None:
        assert found == ()
        return
    mine = [violation for violation in found if violation.kind is kind]
    assert mine, found
    assert mine[0].minutes == minutes


def test_a_window_missed_and_told_is_in_order_with_its_remedy():
    """The second coat a minute after its window takes the remedy's time, and says so."""
    late = moved("lid-second", 2161, 2186)
    assert kinds(PROBLEM, late) == [Broken.MISS]
    told = replace(late, misses=(Miss("lid-coat", "lid-second", 1, hard=False),))
    assert check(PROBLEM, told) == ()
    wrong = replace(late, misses=(Miss("lid-coat", "lid-second", 2, hard=False),))
    assert kinds(PROBLEM, wrong) == [Broken.MISS, Broken.MISS]


def test_hands_in_two_places():
    """One person cannot be at two things, by a minute; at one right after the other they can."""
    problem = replace(PROBLEM, rules=(), set_ups=())
    touching = moved("lid-sand", 640)
    assert kinds(problem, touching) == [Broken.EARLY, Broken.OVERLAP]
    assert kinds(problem, moved("lid-sand", 630)) == []


def test_clearing_up_lies_inside_the_window():
    """Sanding that leaves no time to clear up before closing is found, unless more follows."""
    problem = replace(PROBLEM, rules=(), lags=())
    assert kinds(problem, moved("panel-sand", 661)) == [Broken.SET_UP]
    assert kinds(problem, moved("panel-sand", 660)) == []
    two = replace(
        problem, activities=(*problem.activities, replace(PANEL, key="panel-again", minutes=10))
    )
    plan = moved("panel-sand", 650)
    plan = replace(plan, placed=(*plan.placed, Placed("panel-again", 680, 690, "Ben")))
    plan = replace(plan, placed=tuple(sorted(plan.placed, key=lambda p: (p.start_min, p.key))))
    assert kinds(two, plan) == []


def test_a_store_at_every_event():
    """A second piece on the rack is found while the first is still on it, and not after."""
    other = Activity("box-coat", 5, ("Ada",), "box", kind="coat", uses=(Use("rack", hold_min=60),))
    problem = replace(PROBLEM, activities=(*PROBLEM.activities, other))
    early = replace(GOOD, placed=(*GOOD.placed[:4], Placed("box-coat", 700, 705, "Ada"),
                                  GOOD.placed[4]))  # fmt: skip
    assert kinds(problem, early) == [Broken.STORE]
    twice = replace(problem, stores=(Store("rack", 2),))
    assert kinds(twice, early) == []


def test_the_past_is_not_judged_but_holds():
    """Work that overran closing breaks nothing; what comes after it must still respect it."""
    done = (Done("lid-sand", 700, 800, "Ada"), Done("panel-sand", 600, 640, "Ben"))
    problem = replace(PROBLEM, done=done, now_min=790)
    plan = Plan(
        (
            Placed("panel-rest", 790, 790),
            Placed("lid-coat", 2040, 2050, "Ada"),
            Placed("lid-second", 2300, 2310, "Ada"),
        )
    )
    later = replace(problem, hands=(Hands("Ada", (Window(600, 780), Window(2040, 2400))),
                                    problem.hands[1]))  # fmt: skip
    assert kinds(later, plan) == []
    assert kinds(later, moved("panel-rest", 789, plan=plan)) == [Broken.NOW]
    again = [found for found in check(later, GOOD) if found.kind is Broken.PAST]
    assert [(found.keys, found.minutes) for found in again] == [
        (("lid-sand",), 0),
        (("panel-sand",), 0),
    ]
    busy = replace(later, done=(replace(done[0], end_min=2045), done[1]))
    assert Broken.OVERLAP in kinds(busy, plan)
    assert Broken.EARLY in kinds(busy, plan)


def test_dust_of_the_past_still_hangs():
    """A coat right after somebody sanded is found, though the sanding itself is not judged."""
    done = (Done("panel-sand", 600, 640, "Ben"), Done("lid-sand", 600, 620, "Ada"))
    problem = replace(PROBLEM, done=done, now_min=640)
    plan = Plan((Placed("lid-coat", 654, 664, "Ada"), *GOOD.placed[3:]))
    plan = moved("panel-rest", 700, plan=plan)
    assert kinds(problem, plan) == [Broken.ROOM]
    assert kinds(problem, moved("lid-coat", 655, plan=plan)) == []
