"""Like goes with like within a run of work, and nothing gets worse for it."""

from hypothesis import given, settings
from planning_shops import DAY, evenings, problems

from finishsched.planning.faults import sound
from finishsched.planning.in_step import in_step
from finishsched.planning.judging.checker import check
from finishsched.planning.problem import Activity, Goal, Hands, Lag, Placed, Plan, Problem
from finishsched.planning.quick import quick_plan
from finishsched.planning.score import score

BEGINS = 18 * 60


def three_panels():
    """Return three panels sanded with two papers, and a plan that takes each to its end."""
    activities, lags, placed = [], [], []
    at = BEGINS
    for name in "abc":
        for paper in ("P120", "P180"):
            step = Activity(f"{name} {paper}", 10, ("Ada",), name, like=paper)
            activities.append(step)
            placed.append(Placed(f"{name} {paper}", at, at + 10, "Ada"))
            at += 10
        lags.append(Lag(f"{name} P120", f"{name} P180"))
    hands = (Hands("Ada", evenings()),)
    goals = tuple(Goal(name) for name in "abc")
    return Problem(tuple(activities), tuple(lags), hands, goals=goals), Plan(tuple(placed))


def order(plan):
    """Return what is done, in the order of time."""
    return " ".join(each.key.replace(" P1", "") for each in plan.placed)


def test_one_paper_goes_over_all_pieces_before_the_next():
    """Three panels with two papers: the paper is changed once, not five times."""
    problem, plan = three_panels()
    found = in_step(problem, plan)
    assert order(plan) == "a20 a80 b20 b80 c20 c80"
    assert order(found) == "a20 b20 c20 a80 b80 c80"
    assert not check(problem, found)


def test_what_the_next_evening_waits_for_is_not_put_off():
    """The first panel is to be taken up again just a day after its second paper: it stays first."""
    problem, plan = three_panels()
    again = Activity("a again", 10, ("Ada",), "a")
    wait = Lag("a P180", "a again", DAY - 20)
    problem = Problem(
        (*problem.activities, again), (*problem.lags, wait), problem.hands, goals=problem.goals
    )
    late = Placed("a again", BEGINS + DAY, BEGINS + DAY + 10, "Ada")
    plan = Plan((*plan.placed, late))
    assert not check(problem, plan)
    found = in_step(problem, plan)
    assert order(found) == "a20 a80 b20 c20 b80 c80 a again"
    assert not check(problem, found)


def test_a_run_of_which_anything_stays_is_left_alone():
    """What was shown for this evening is not laid in another order for the sake of paper."""
    problem, plan = three_panels()
    assert in_step(problem, plan, old=plan) == plan


@settings(max_examples=80)
@given(problems())
def test_in_step_a_plan_is_as_good_and_can_be_carried_out(problem):
    """Nothing that counts before the ends of pieces gets worse, and no rule is broken."""
    problem = sound(problem).problem
    plan = quick_plan(problem, rounds=3)
    found = in_step(problem, plan)
    assert not check(problem, found)
    was, now = score(problem, plan), score(problem, found)
    assert now.late_min <= was.late_min
    assert now.finish_min <= was.finish_min
    assert now.pots <= was.pots
