"""The checker to the minute: what just touches is in order, and a minute more is not."""

from dataclasses import replace

import pytest

from finishsched.planning.judging.checker import Broken, check
from finishsched.planning.problem import (
    Activity,
    Bare,
    Done,
    Hands,
    Placed,
    Plan,
    Problem,
    RoomRule,
    SetUp,
    Store,
    Use,
)
from finishsched.planning.window import Window

ADA = Hands("Ada", (Window(100, 200), Window(300, 400)))


def kinds(problem, *placed):
    """Return what is broken."""
    order = tuple(sorted(placed, key=lambda each: (each.start_min, each.key)))
    return {violation.kind for violation in check(problem, Plan(order))}


def work(key, minutes=20, **more):
    """Return an activity of Ada's."""
    return Activity(key, minutes, ("Ada",), **more)


@pytest.mark.parametrize(("start", "broken"), [(180, set()), (181, {Broken.HOURS}), (100, set())])
def test_work_may_end_with_the_hours_and_no_later(start, broken):
    """The last minute of a window is worked, the first after it is not."""
    problem = Problem((work("a"),), hands=(ADA,))
    assert kinds(problem, Placed("a", start, start + 20, "Ada")) == broken


@pytest.mark.parametrize(("start", "broken"), [(120, set()), (119, {Broken.OVERLAP})])
def test_hands_go_from_one_work_to_the_next_without_a_gap(start, broken):
    """What ends as the next begins shares no minute with it."""
    problem = Problem((work("a"), work("b")), hands=(ADA,))
    found = kinds(problem, Placed("a", 100, 120, "Ada"), Placed("b", start, start + 20, "Ada"))
    assert found == broken


@pytest.mark.parametrize(("start", "broken"), [(150, set()), (149, {Broken.STORE})])
def test_a_slot_is_free_at_the_minute_in_which_it_is_given_back(start, broken):
    """Held for half an hour after its end, it is taken again at that very minute."""
    use = Use("rack", 1, hold_min=30)
    problem = Problem(
        (work("a", uses=(use,)), work("b", uses=(use,))), hands=(ADA,), stores=(Store("rack", 1),)
    )
    found = kinds(problem, Placed("a", 100, 120, "Ada"), Placed("b", start, start + 20, "Ada"))
    assert found == broken


@pytest.mark.parametrize(
    ("coat", "sand", "broken"),
    [(100, 150, set()), (100, 149, {Broken.ROOM}), (135, 100, set()), (134, 100, {Broken.ROOM})],
)
def test_dust_may_be_made_from_the_minute_on_at_which_a_coat_takes_no_more(coat, sand, broken):
    """Dust-free half an hour after its end; what was stirred up settles in a quarter of one."""
    problem = Problem(
        (
            work("coat", room="shop", bare=(Bare("dust", 30),)),
            work("sand", room="shop", stirs=("dust",)),
        ),
        hands=(ADA,),
        rules=(RoomRule("shop", "dust", 15),),
    )
    found = kinds(
        problem, Placed("coat", coat, coat + 20, "Ada"), Placed("sand", sand, sand + 20, "Ada")
    )
    assert found == broken


def glue_shop(done):
    """Return glueing with ten minutes before and five after, after something that is done."""
    return Problem(
        (work("b", kind="glue"), work("old", kind="glue")),
        hands=(ADA,),
        set_ups=(SetUp("glue", 10, 5),),
        done=(done,),
        now_min=done.end_min,
    )


@pytest.mark.parametrize(
    ("done", "start", "broken"),
    [
        # Done before the window, up to its first minute: nothing is left to clear up in it.
        (Done("old", 80, 100, "Ada"), 110, set()),
        (Done("old", 80, 100, "Ada"), 109, {Broken.SET_UP}),
        # Overrun into it: cleared up first, then got ready.
        (Done("old", 290, 301, "Ada"), 316, set()),
        (Done("old", 290, 301, "Ada"), 315, {Broken.SET_UP}),
        # Begun in its very first minute it belongs to it, and the same kind goes on at once.
        (Done("old", 300, 320, "Ada"), 320, set()),
        # Begun as hours end it belongs to none, and there is getting ready in the next.
        (Done("old", 200, 220, "Ada"), 310, set()),
        (Done("old", 200, 220, "Ada"), 309, {Broken.SET_UP}),
    ],
)
def test_getting_ready_counts_from_the_minute_at_which_hands_are_free(done, start, broken):
    """What is done shortens or spares the getting ready only in the hours that it lies in."""
    assert kinds(glue_shop(done), Placed("b", start, start + 20, "Ada")) == broken


def test_clearing_up_ends_with_the_hours():
    """Five minutes after the last work are still inside, and four are not enough."""
    problem = replace(glue_shop(Done("old", 60, 80, "Ada")), now_min=80)
    assert kinds(problem, Placed("b", 175, 195, "Ada")) == set()
    assert kinds(problem, Placed("b", 176, 196, "Ada")) == {Broken.SET_UP}


def test_history_that_holds_too_much_is_no_fault_of_the_plan():
    """Two pieces on one slot are judged only where the plan puts one more there."""
    use = Use("rack", 1, hold_min=500)
    steps = tuple(work(key, uses=(use,)) for key in ("a", "b"))
    done = (Done("a", 100, 120, "Ada"), Done("b", 120, 140, "Ada"))
    crowded = Problem((*steps, work("c")), hands=(ADA,), stores=(Store("rack", 1),), done=done)
    assert kinds(replace(crowded, now_min=140), Placed("c", 140, 160, "Ada")) == set()


def spans(problem, *placed):
    """Return what is broken, between which, and by how many minutes."""
    order = tuple(sorted(placed, key=lambda each: (each.start_min, each.key)))
    return [(found.kind, found.keys, found.minutes) for found in check(problem, Plan(order))]


def test_what_is_forgotten_hides_no_other_fault():
    """One that is not there is told, and so is that two others meet in the same hands."""
    problem = Problem((work("a"), work("b"), work("forgotten")), hands=(ADA,))
    found = kinds(problem, Placed("a", 100, 120, "Ada"), Placed("b", 110, 130, "Ada"))
    assert found == {Broken.UNPLACED, Broken.OVERLAP}


def test_a_crowd_at_one_minute_is_told_once_with_all_of_them():
    """Three pieces put on one slot at once: one fault, with every name, and two too many."""
    use = Use("rack", 1)
    ben, cleo = (Hands(name, ADA.windows) for name in ("Ben", "Cleo"))
    steps = [Activity(key, 20, (by,), uses=(use,)) for key, by in
             (("a", "Ada"), ("b", "Ben"), ("c", "Cleo"))]  # fmt: skip
    problem = Problem(tuple(steps), hands=(ADA, ben, cleo), stores=(Store("rack", 1),))
    placed = (Placed(step.key, 100, 120, step.by[0]) for step in steps)
    assert spans(problem, *placed) == [(Broken.STORE, ("a", "b", "c"), 2)]


def test_a_crowd_is_found_between_what_comes_before_and_after_it():
    """Two at one minute, with the slot in good order before and after."""
    use, ben = Use("rack", 1), Hands("Ben", ADA.windows)
    starts = {"before": 100, "a": 140, "b": 140, "after": 180}
    steps = [Activity(key, 20, ("Ada", "Ben"), uses=(use,)) for key in starts]
    problem = Problem(tuple(steps), hands=(ADA, ben), stores=(Store("rack", 1),))
    placed = [
        Placed(key, start, start + 20, "Ben" if key == "b" else "Ada")
        for key, start in starts.items()
    ]
    assert spans(problem, *placed) == [(Broken.STORE, ("a", "b"), 1)]


@pytest.mark.parametrize(
    ("other", "broken"),
    [
        (work("other", room="shop"), set()),
        (work("other", room="shop", stirs=("fumes",)), set()),
        (work("other", room="yard", stirs=("dust",)), set()),
        (work("other", 0, room="shop", stirs=("dust",)), set()),
        (work("other", room="shop", stirs=("dust",)), {Broken.ROOM}),
    ],
    ids=["stirs nothing", "stirs another thing", "in another room", "takes no time", "dust"],
)
def test_only_dust_in_the_same_room_harms_a_coat_that_takes_it(other, broken):
    """While a coat is bare to dust, what stirs none here may go on beside it."""
    coat = work("coat", room="shop", bare=(Bare("dust", 30),))
    problem = Problem((coat, other), hands=(ADA,), rules=(RoomRule("shop", "dust", 15),))
    placed = Placed("other", 130, 130 + other.minutes, "Ada")
    assert kinds(problem, Placed("coat", 100, 120, "Ada"), placed) == broken


THREE_KINDS = Problem(
    tuple(work(kind, kind=kind) for kind in ("saw", "plane", "glue")),
    hands=(ADA,),
    set_ups=(SetUp("saw", 0, 30), SetUp("plane", 0, 5), SetUp("glue", 10)),
)


@pytest.mark.parametrize(("start", "broken"), [(155, set()), (154, {Broken.SET_UP})])
def test_between_two_kinds_the_one_just_before_is_cleared_up_and_no_other(start, broken):
    """The plane takes five to clear up and glue ten to get ready, whatever the saw took before."""
    before = (Placed("saw", 100, 120, "Ada"), Placed("plane", 120 + 30, 140 + 30, "Ada"))
    problem = replace(THREE_KINDS, hands=(Hands("Ada", (Window(100, 300),)),))
    assert kinds(problem, *before, Placed("glue", start + 30, start + 50, "Ada")) == broken


def test_what_was_done_is_taken_in_the_order_of_the_clock():
    """Glue after glue wants no getting ready, in whatever order the past is told."""
    steps = tuple(work(key, kind=kind) for key, kind in
                  (("late", "glue"), ("early", "saw"), ("next", "glue")))  # fmt: skip
    done = (Done("late", 150, 160, "Ada"), Done("early", 100, 120, "Ada"))
    problem = Problem(steps, hands=(ADA,), set_ups=(SetUp("glue", 10),), done=done, now_min=160)
    assert kinds(problem, Placed("next", 160, 180, "Ada")) == set()


def test_a_slot_is_counted_in_the_order_of_the_clock():
    """Two that were on it one after the other leave it free, in whatever order they are told."""
    use = Use("rack", 1)
    steps = tuple(work(key, uses=(use,)) for key in ("late", "early", "next"))
    done = (Done("late", 150, 160, "Ada"), Done("early", 100, 120, "Ada"))
    problem = Problem(steps, hands=(ADA,), stores=(Store("rack", 1),), done=done, now_min=160)
    assert kinds(problem, Placed("next", 160, 180, "Ada")) == set()


def test_an_overlap_is_told_with_whichever_ends_last():
    """A long work, a short one inside it and one after that: both meet the long one."""
    problem = Problem((work("long", 60), work("short", 10), work("after")), hands=(ADA,))
    long, short = Placed("long", 100, 160, "Ada"), Placed("short", 110, 120, "Ada")
    assert spans(problem, long, short, Placed("after", 130, 150, "Ada")) == [
        (Broken.OVERLAP, ("long", "short"), 10),
        (Broken.OVERLAP, ("long", "after"), 20),
    ]
    done = replace(problem, done=(Done("after", 130, 150, "Ada"),), now_min=100)
    assert spans(done, long, short) == [
        (Broken.OVERLAP, ("long", "short"), 10),
        (Broken.OVERLAP, ("long", "after"), 20),
    ]


def test_who_can_do_it_must_be_among_the_hands_too():
    """A name that the activity bears and no hands have is told, as is one that it does not bear."""
    hands = (Hands("Ada", (Window(0, 300),)), Hands("Cem", (Window(0, 300),)))
    problem = Problem((Activity("a", 20, by=("Ada", "Ben")),), hands=hands)
    assert kinds(problem, Placed("a", 0, 20, "Ada")) == set()
    assert Broken.HANDS in kinds(problem, Placed("a", 0, 20, "Ben"))
    assert Broken.HANDS in kinds(problem, Placed("a", 0, 20, "Cem"))


def test_what_takes_no_time_meets_nobody():
    """An activity of no minutes, in the middle of other work, shares no minute with it."""
    problem = Problem((work("a"), work("look", 0), work("b")), hands=(ADA,))
    placed = Placed("a", 100, 120, "Ada"), Placed("look", 110, 110, "Ada")
    assert kinds(problem, *placed, Placed("b", 120, 140, "Ada")) == set()
