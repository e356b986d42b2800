"""What a room's rule makes one piece wait for by itself, and what that proves of a plan."""

from hypothesis import given
from planning_shops import DAY, evenings, problems
from test_quick_ways import LAWS

from finishsched.planning.bounds import bound
from finishsched.planning.judging.checker import check
from finishsched.planning.numbers.numbering import inner_of
from finishsched.planning.numbers.waits_in_rooms import with_waits_of_rooms
from finishsched.planning.problem import (
    Activity,
    Bare,
    Goal,
    Hands,
    Lag,
    Placed,
    Plan,
    Problem,
    RoomRule,
)
from finishsched.planning.quick import first_plan
from finishsched.planning.score import score

SIX, SETTLES, DRIES = 18 * 60, 15, 200


def _box(*, tack_min=2, wait_min=60):
    """Return a box that is sanded, tacked off, coated and rubbed out, in one evening if it can."""
    ada = ("Ada",)
    return Problem(
        (
            Activity("sand", 30, ada, "box", room="shed", stirs=("dust",)),
            Activity("tack off", tack_min, ada, "box", room="shed"),
            Activity("coat", 10, ada, "box", room="shed", bare=(Bare("dust", DRIES),)),
            Activity("rub out", 5, ada, "box", room="shed", stirs=("dust",)),
        ),
        (
            Lag("sand", "tack off", 0),
            Lag("tack off", "coat", 0),
            Lag("coat", "rub out", wait_min),
        ),
        (Hands("Ada", evenings(start=SIX)),),
        rules=(RoomRule("shed", "dust", SETTLES),),
        goals=(Goal("box", SIX + 300),),
        now_min=SIX,
    )


def _waits(problem):
    """Return the waits that the room makes, by the keys of both."""
    inner = inner_of(problem)
    found = set()
    more = with_waits_of_rooms(inner).before
    for number, (waits, before) in enumerate(zip(more, inner.before, strict=True)):
        found |= {(inner.keys[other], inner.keys[number], least) for other, least in waits} - {
            (inner.keys[other], inner.keys[number], least) for other, least in before
        }
    return found


def test_dust_settles_and_a_coat_dries_first():
    """The coat waits for the dust of the sanding, and the rubbing for the coat."""
    assert _waits(_box()) == {("sand", "coat", SETTLES), ("coat", "rub out", DRIES)}


def test_what_is_over_long_before_makes_nobody_wait():
    """Twenty minutes of tacking off outlast the dust, and a day's wait the drying."""
    assert _waits(_box(tack_min=20, wait_min=DAY)) == set()


def test_what_takes_no_time_makes_nobody_wait_though_a_missed_window_could_make_it_long():
    """A rub of no minutes stirs up nothing, and may come as soon as the coat is laid."""
    problem = Problem(
        (
            Activity("coat", 0, goal="box", room="shed", bare=(Bare("dust", DRIES),)),
            Activity("rub out", 0, goal="box", room="shed", stirs=("dust",)),
        ),
        (Lag("coat", "rub out", 0, 0, remedy_min=15),),
        rules=(RoomRule("shed", "dust", SETTLES),),
        goals=(Goal("box"),),
    )
    at_once = Plan((Placed("coat", 0, 0), Placed("rub out", 0, 0)))
    assert not check(problem, at_once)
    assert _waits(problem) == set()
    assert bound(problem).finish_min == score(problem, at_once).finish_min == 0


def test_the_bound_is_the_plan_of_one_piece_alone():
    """Solved by hand: the coat dries past the evening, so that rubbing out begins the next one."""
    problem = _box()
    plan = first_plan(problem)
    starts = {placed.key: placed.start_min for placed in plan.placed}
    assert not check(problem, plan)
    assert starts["coat"] == SIX + 30 + SETTLES
    assert starts["rub out"] == DAY + SIX
    assert bound(problem).late_min == score(problem, plan).late_min == DAY + 5 - 300


@LAWS
@given(problems(most_pieces=4))
def test_no_sound_plan_is_better(problem):
    """Of shops drawn by chance no plan that the checker passes is less late, or ends sooner."""
    plan = first_plan(problem)
    if plan.left_out or plan.misses or check(problem, plan):
        return
    found = score(problem, plan)
    assert found.late_min >= bound(problem).late_min
    assert found.finish_min >= bound(problem).finish_min
