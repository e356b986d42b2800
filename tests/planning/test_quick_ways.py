"""The quick planner's ways to a better plan, each by itself."""

from dataclasses import replace

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from planning_shops import DAY, evenings, problems

from finishsched.planning.judging.checker import check
from finishsched.planning.numbers.inner import MOST_IN_VAIN
from finishsched.planning.numbers.numbering import inner_of
from finishsched.planning.problem import (
    Activity,
    Done,
    Goal,
    Hands,
    Lag,
    Placed,
    Plan,
    Problem,
    Store,
    Use,
)
from finishsched.planning.quick import first_plan, not_found, re_decode
from finishsched.planning.quick.answer import plan_of
from finishsched.planning.quick.blocks import blocks_of
from finishsched.planning.quick.keys import FORWARD_RULES
from finishsched.planning.quick.one_by_one import one_by_one
from finishsched.planning.quick.placing import Placing
from finishsched.planning.quick.search import Search
from finishsched.planning.quick.walks.back_and_forth import BackAndForth, goes_both_ways
from finishsched.planning.quick.walks.by_keys import ForwardClimb
from finishsched.planning.quick.walks.pressing import held_up
from finishsched.planning.score import score
from finishsched.planning.window import Window

LAWS = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def singly(problem, order, begin=None, every=0):
    """Place a problem one by one in an order of keys; return the board and the halts."""
    inner = inner_of(problem)
    blocks = blocks_of(inner, keep_soft=False, shorter_min=0)
    placing = Placing(inner, blocks)
    turns = [blocks.of[inner.index[key]] for key in order]
    return placing, one_by_one(placing, turns, begin, every)


def tied_shop():
    """Tack off, other work, then the coat within 20 min; the coat can only go last."""
    return Problem(
        (
            Activity("tack", 5, ("Ada",), "box"),
            Activity("other", 30, ("Ada",), "tray"),
            Activity("dry", 0, (), "box"),
            Activity("coat", 10, ("Ada",), "box"),
        ),
        (
            Lag("dry", "coat", 60),
            Lag("tack", "coat", 0, 20),
        ),
        (Hands("Ada", evenings()),),
        goals=(Goal("box"), Goal("tray")),
        now_min=18 * 60,
    )


def test_what_a_window_ties_waits_until_the_rest_is_ready():
    """Placed first of all, the tack off is put off to 20 min before its coat, work between."""
    placing, _ = singly(tied_shop(), ["tack", "other", "dry", "coat"])
    plan = plan_of(tied_shop(), placing)
    starts = {each.key: each.start_min - 18 * 60 for each in plan.placed}
    assert starts == {"dry": 0, "other": 0, "tack": 35, "coat": 60}
    assert check(tied_shop(), plan) == ()


def test_other_work_lies_between_the_two_ends_of_a_window():
    """What blocks would keep together is taken apart where the order says so."""
    problem = Problem(
        (
            Activity("mix", 5, ("Ada",), "box"),
            Activity("other", 30, ("Ada",), "tray"),
            Activity("coat", 10, ("Ada",), "box"),
        ),
        (Lag("mix", "coat", 20, 60),),
        (Hands("Ada", evenings()),),
        goals=(Goal("box"), Goal("tray")),
    )
    placing, _ = singly(problem, ["mix", "other", "coat"])
    plan = plan_of(problem, placing)
    assert [each.key for each in plan.placed] == ["mix", "other", "coat"]
    assert check(problem, plan) == ()


@LAWS
@given(problem=problems() | problems(progress=True), data=st.data())
def test_every_order_comes_out_possible(problem, data):
    """Whatever the order, the checker finds nothing, and what is missed is told."""
    done = {each.key for each in problem.done}
    keys = [a.key for a in problem.activities if a.key not in done]
    placing, _ = singly(problem, data.draw(st.permutations(keys)))
    assert check(problem, plan_of(problem, placing)) == ()


@LAWS
@given(problem=problems(most_pieces=4), data=st.data())
def test_from_any_halt_the_same_plan_comes_out(problem, data):
    """Going on from a board that was kept is the same as beginning anew."""
    order = data.draw(st.permutations([a.key for a in problem.activities]))
    whole, halts = singly(problem, order, every=2)
    for halt in halts:
        again, _ = singly(problem, order, begin=halt)
        assert again.board.start == whole.board.start


def test_a_search_keeps_a_promise_that_hangs_on_the_order():
    """Of two pieces the one with the long cure has to go first."""
    problem = Problem(
        (
            Activity("quick", 120, ("Ada",), "quick"),
            Activity("slow", 120, ("Ada",), "slow", tail_min=2 * DAY),
        ),
        hands=(Hands("Ada", evenings()),),
        goals=(Goal("quick", 3 * DAY), Goal("slow", 3 * DAY)),
    )
    search = Search(inner_of(problem), 0)
    search.begin(20, lambda: False)
    assert search.best_cost[2] == 0


def test_where_nothing_is_late_the_end_comes_sooner():
    """The slow piece is due last, and yet goes first: nobody waits longer, and all ends sooner."""
    evenings_of_work = [Activity(f"much{n}", 150, ("Ada",), "much") for n in range(8)]
    problem = Problem(
        (*evenings_of_work, Activity("slow", 150, ("Ada",), "slow", tail_min=20 * DAY)),
        hands=(Hands("Ada", evenings()),),
        goals=(Goal("much", 10 * DAY), Goal("slow", 40 * DAY)),
    )
    search = Search(inner_of(problem), 0)
    begun = search.costing.cost_of(search.first())
    search.begin(30, lambda: False)
    late, finish = search.best_cost[2], search.best_cost[4]
    assert (begun[2], late) == (0, 0)
    assert begun[4] > 27 * DAY
    assert finish < 21 * DAY


def test_a_piece_of_which_only_a_wait_is_left_is_not_hurried():
    """The latest piece has nothing to place any more: what is pressed has blocks to move."""
    problem = Problem(
        (
            Activity("curing", 30, ("Ada",), "curing", tail_min=9 * DAY),
            Activity("one", 60, ("Ada",), "one"),
            Activity("other", 60, ("Ada",), "other"),
        ),
        hands=(Hands("Ada", evenings()),),
        goals=(Goal("curing", DAY), Goal("one", 5 * DAY), Goal("other", 5 * DAY)),
        done=(Done("curing", 0, 30, "Ada"),),
        now_min=60,
    )
    search = Search(inner_of(problem), 0)
    forward, pressure = search.ways.forward(0)
    climb = ForwardClimb(search, forward, pressure, pressure.keys(FORWARD_RULES[0]))
    assert set(climb.pressed) <= set(climb.by_goal)
    for _ in range(50):
        climb.step()


def test_waits_that_run_in_a_circle_are_followed_once():
    """The coat must follow the tack off within 10 min, so that each waits for the other."""
    problem = Problem(
        (Activity("tack", 10, ("Ada",), "box"), Activity("coat", 10, ("Ada",), "box")),
        (Lag("tack", "coat"), Lag("coat", "tack", -20)),
        (Hands("Ada", evenings()),),
        goals=(Goal("box"),),
        now_min=18 * 60,
    )
    search = Search(inner_of(problem), 0)
    assert held_up(search.costing, search.first(), 0) == []


def circle():
    """Two that must start within 5 min of each other, both ways, on one machine for one of them."""
    use = (Use("press", 1),)
    return Problem(
        (
            Activity("one", 10, uses=use),
            Activity("other", 10, uses=use),
            Activity("after", 10),
            Activity("free", 10),
        ),
        (Lag("one", "other", -15), Lag("other", "one", -15), Lag("other", "after")),
        stores=(Store("press", 1),),
    )


def test_what_rules_find_no_place_for_is_given_up_and_told():
    """So many tries in vain end the search before its rounds do; what hangs on it is told too."""
    problem = circle()
    inner = inner_of(problem)
    inner.vain_left = 300
    search = Search(inner, 0)
    search.begin(1000, lambda: False)
    search.improve(1000, lambda: False)
    assert search.given_up
    assert search.tries < 10
    plan = plan_of(problem, search.best)
    assert [placed.key for placed in plan.placed] == ["free"]
    assert not_found(problem, plan) == plan.left_out == ("one", "other", "after")


def test_what_can_be_placed_within_a_circle_is_never_given_up():
    """With a press for each, the two of the circle lie side by side, and nothing is in vain."""
    problem = replace(circle(), stores=(Store("press", 2),))
    inner = inner_of(problem)
    search = Search(inner, 0)
    plan = plan_of(problem, search.first())
    assert check(problem, plan) == ()
    assert plan.left_out == not_found(problem, plan) == ()
    assert inner.vain_left == MOST_IN_VAIN


def test_what_no_calendar_has_room_for_was_not_looked_for_in_vain():
    """The rules are not to blame where there are no hours."""
    problem = replace(tied_shop(), hands=(Hands("Ada", ()),))
    plan = first_plan(problem)
    assert plan.left_out
    assert not_found(problem, plan) == ()


def test_a_plan_that_is_asked_for_at_once_takes_one_pass():
    """A first plan holds everything, in the order of starts."""
    plan = first_plan(tied_shop())
    assert isinstance(plan, Plan)
    assert {each.key for each in plan.placed} == {a.key for a in tied_shop().activities}
    assert all(isinstance(each, Placed) for each in plan.placed)


def test_placed_back_and_forth_a_project_is_shorter():
    """A step that hangs on nothing took the place of the long chain: back and forth, it does not.

    The chain of a and b takes 12 hours and c fits beside it; with c first it takes 17.
    """
    steps = (
        Activity("c", 300, uses=(Use("saw"),)),
        Activity("a", 120, uses=(Use("saw"),)),
        Activity("b", 600, uses=(Use("press"),)),
    )
    stores = (Store("saw", 1), Store("press", 1))
    problem = Problem(steps, (Lag("a", "b"),), stores=stores)
    assert goes_both_ways(inner_of(problem))
    assert score(problem, re_decode(problem, ("c", "a", "b"))).finish_min == 1020
    search = Search(inner_of(problem), 0)
    search.by_order([0, 1, 2])
    climb = BackAndForth(search).climb([search.best])
    next(climb)
    assert search.best_cost.finish_min == 720


def test_time_runs_backwards_only_where_nothing_but_waits_and_stores_bind():
    """Hours, a rack held for drying, or a window have a direction, and are placed as ever."""
    plain = Problem(
        (Activity("a", 5, uses=(Use("saw"),)), Activity("b", 5)),
        (Lag("a", "b"),),
        stores=(Store("saw", 1),),
    )
    assert goes_both_ways(inner_of(plain))
    first, second = plain.activities
    held = replace(first, uses=(Use("saw", hold_min=30),))
    by_hand = replace(first, by=("Ada",))
    hands = (Hands("Ada", (Window(0, 100),)),)
    assert not goes_both_ways(inner_of(replace(plain, activities=(held, second))))
    assert not goes_both_ways(inner_of(replace(plain, lags=(Lag("a", "b", 0, 10),))))
    manual = replace(plain, activities=(by_hand, second), hands=hands)
    assert not goes_both_ways(inner_of(manual))
