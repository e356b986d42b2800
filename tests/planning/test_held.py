"""What held a start back: the real reason, also where it lies at the beginning of a session."""

from dataclasses import replace

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from planning_shops import DAY, problems

from finishsched.planning.held import held_back
from finishsched.planning.judging.checker import check
from finishsched.planning.problem import (
    Activity,
    Bare,
    Done,
    Hands,
    HeldBy,
    Lag,
    Placed,
    Plan,
    Problem,
    RoomRule,
    SetUp,
    Store,
    Use,
)
from finishsched.planning.quick import first_plan
from finishsched.planning.window import Window

LAWS = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
EVENINGS = tuple(Window(day * DAY + 1080, day * DAY + 1260) for day in range(5))
INES = Hands("Ines", EVENINGS)


def why(problem, *placed):
    """Return by key what held each start back; the plan is right."""
    ordered = tuple(sorted(placed, key=lambda each: (each.start_min, each.key)))
    plan = Plan(ordered)
    assert check(problem, plan) == ()
    return {each.key: (each.held_by, each.held_by_key) for each in held_back(problem, plan).placed}


def work(key, minutes=30, **more):
    """Return an activity of Ines's."""
    return Activity(key, minutes, ("Ines",), **more)


def at(key, day, minute=0, minutes=30):
    """Return where it lies: so many minutes into the session of a day."""
    start = EVENINGS[day].start_min + minute
    return Placed(key, start, start + minutes, "Ines")


def test_hours_where_there_were_none_since_its_wait():
    """A wait that ends in the night leads to the next session, and nothing else is named."""
    problem = Problem((work("a"), work("b")), (Lag("a", "b", 600),), (INES,))
    assert why(problem, at("a", 0), at("b", 1))["b"] == (HeldBy.HOURS, "Ines")


def test_hours_where_the_session_before_was_too_short_for_it():
    """What is left of a session after its wait does not count when the work is longer."""
    problem = Problem((work("a"), work("b", 60)), (Lag("a", "b", 100),), (INES,))
    assert why(problem, at("a", 0), at("b", 1, 0, 60))["b"] == (HeldBy.HOURS, "Ines")


def test_a_full_rack_is_told_at_the_beginning_of_a_session():
    """Hands were free yesterday evening and the rack was not."""
    use = (Use("rack", hold_min=1200),)
    problem = Problem((work("a", uses=use), work("b", uses=use)), (), (INES,), (Store("rack", 1),))
    assert why(problem, at("a", 0), at("b", 1))["b"] == (HeldBy.STORE, "rack")


def test_a_wet_room_is_told_at_the_beginning_of_a_session():
    """All of yesterday evening a coat lay wet, and this makes dust."""
    problem = Problem(
        (
            work("coat", room="shed", bare=(Bare("dust", 400),)),
            work("b", room="shed", stirs=("dust",)),
        ),
        (), (INES,), rules=(RoomRule("shed", "dust", 10),),
    )  # fmt: skip
    assert why(problem, at("coat", 0), at("b", 1))["b"] == (HeldBy.ROOM, "coat")


def test_busy_hands_are_told_at_the_beginning_of_a_session():
    """Yesterday evening was full: the last work in it is named."""
    problem = Problem((work("a", 100), work("b", 60), work("c")), (), (INES,))
    told = why(problem, at("a", 0, 0, 100), at("b", 0, 100, 60), at("c", 1))
    assert told["c"] == (HeldBy.BUSY, "b")


def test_the_order_is_told_where_yesterday_was_free():
    """Nothing stood in the way: it is the plan that has it today."""
    problem = Problem((work("a"), work("b")), (), (INES,))
    assert why(problem, at("a", 0), at("b", 1))["b"] == (HeldBy.ORDER, "")


def test_a_window_to_keep_is_told_at_the_beginning_of_a_session():
    """Yesterday would be too long before what has to follow it soon."""
    problem = Problem((work("a"), work("b")), (Lag("a", "b", 0, 120),), (INES,))
    told = why(problem, at("a", 1), at("b", 1, 40))
    assert told["a"] == (HeldBy.WINDOW, "b")


def test_getting_ready_from_now_on_is_told():
    """In the middle of a session it cannot begin before the hands have got ready."""
    problem = Problem((work("a", kind="glue"),), (), (INES,), set_ups=(SetUp("glue", 10),))
    problem = replace(problem, now_min=EVENINGS[0].start_min + 60)
    assert why(problem, at("a", 0, 70))["a"] == (HeldBy.SET_UP, "glue")


def test_getting_ready_after_what_was_done_a_while_ago_is_told():
    """What ended before now, and has been cleared up since, holds nothing back any more."""
    start = EVENINGS[0].start_min
    problem = Problem(
        (work("a", kind="sand"), work("b", kind="glue")), (), (INES,),
        set_ups=(SetUp("glue", 10), SetUp("sand", 0, 5)),
        done=(Done("a", start, start + 30, "Ines"),), now_min=start + 60,
    )  # fmt: skip
    assert why(problem, at("b", 0, 70))["b"] == (HeldBy.SET_UP, "glue")


def test_getting_ready_after_other_work_names_that_work():
    """The hands are at something else until just before; the minutes between are set-ups."""
    problem = Problem(
        (work("a", kind="sand"), work("b", kind="glue")), (), (INES,),
        set_ups=(SetUp("glue", 10), SetUp("sand", 0, 5)),
    )  # fmt: skip
    assert why(problem, at("a", 0), at("b", 0, 45))["b"] == (HeldBy.BUSY, "a")


@LAWS
@given(problems() | problems(progress=True), st.integers(1, 11))
def test_no_session_before_would_have_done(problem, every_min):
    """Where hours, hands, a room or a store held a start, the checker agrees for every hour before.

    Tried at every so many minutes of the sessions since the end of its waits.
    """
    plan = first_plan(problem)
    there = {each.key: each for each in (*problem.done, *plan.placed)}
    windows = {hands.name: hands.windows for hands in problem.hands}
    for place, placed in enumerate(plan.placed):
        if placed.held_by not in {HeldBy.HOURS, HeldBy.BUSY, HeldBy.ROOM, HeldBy.STORE}:
            continue
        ends = [
            there[g.before].end_min + g.least_min for g in problem.lags if g.after == placed.key
        ]
        ready = max(problem.now_min, *ends, 0)
        length = placed.end_min - placed.start_min
        if placed.start_min not in {w.start_min for w in windows.get(placed.by, ())}:
            continue
        before = [w for w in windows[placed.by] if w.end_min < placed.start_min]
        for window in before[-6:]:
            starts = range(max(window.start_min, ready), window.end_min - length + 1, every_min)
            assert not starts or placed.held_by is not HeldBy.HOURS or problem.set_ups
            for start in starts:
                sooner = replace(placed, start_min=start, end_min=start + length)
                moved = [*plan.placed[:place], sooner, *plan.placed[place + 1 :]]
                moved.sort(key=lambda each: (each.start_min, each.key))
                assert check(problem, replace(plan, placed=tuple(moved)))
