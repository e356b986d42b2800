"""Plans that are placed goal by goal: all of one piece, then all of the next around it."""

from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given
from planning_shops import DAY, evenings, problems
from test_quick_ways import LAWS

from finishsched.planning.judging.checker import check
from finishsched.planning.numbers.inner import NEVER
from finishsched.planning.numbers.numbering import inner_of
from finishsched.planning.problem import Activity, Bare, Goal, Hands, Lag, Problem, RoomRule, SetUp
from finishsched.planning.quick.answer import plan_of
from finishsched.planning.quick.search import Search
from finishsched.planning.quick.walks.as_late import AsLate
from finishsched.planning.quick.walks.by_goals import GoalClimb
from finishsched.planning.quick.walks.goal_by_goal import GoalByGoal, Stage, goes_by_goals
from finishsched.planning.window import Window

SIX, NINE, DRIES = 18 * 60, 21 * 60, 65


def _pieces(*, coat_min=10, sand_min=60):
    """Return a box to be coated twice, a night apart, and a tray to be sanded, in one room."""
    ada = ("Ada",)
    bare = (Bare("dust", DRIES),)
    return (
        Activity("coat 1", coat_min, ada, "box", room="shed", bare=bare),
        Activity("coat 2", coat_min, ada, "box", room="shed", bare=bare),
        Activity("sand", sand_min, ada, "tray", room="shed", stirs=("dust",)),
    )


def _shop(windows=None, **minutes):
    """Return these pieces, due when they can be if the coats are laid first."""
    return Problem(
        _pieces(**minutes),
        (Lag("coat 1", "coat 2", 12 * 60),),
        (Hands("Ada", windows or evenings(start=SIX)),),
        rules=(RoomRule("shed", "dust", 15),),
        goals=(Goal("box", DAY), Goal("tray", NINE)),
        now_min=SIX,
    )


def _by_goal(problem):
    search = Search(inner_of(problem), 0)
    forward, pressure = search.ways.forward(0)
    return search, GoalByGoal(forward, pressure, search.costing)


def test_a_coat_leaves_the_evening_to_dust():
    """The box goes first, but its coat is laid last that evening, so that the tray is in time."""
    problem = _shop()
    _, by_goal = _by_goal(problem)
    placing = by_goal.place(by_goal.goals, len(by_goal.goals), [], NEVER)
    start = dict(zip(placing.inner.keys, placing.board.start, strict=True))
    assert [problem.goals[goal].key for goal in by_goal.goals] == ["box", "tray"]
    assert start == {"coat 1": NINE - 10, "sand": SIX, "coat 2": DAY + SIX}


def test_the_last_coat_is_not_laid_later():
    """What a goal is reached with has nothing to spare: later hours would be a later goal."""
    inner = inner_of(_shop())
    as_late = AsLate(inner)
    first, last = inner.index["coat 1"], inner.index["coat 2"]
    assert as_late.spare_min(last, 0, SIX + 10) == 0
    assert as_late.spare_min(first, 0, SIX + 10) == NINE - SIX - 10


def test_what_dries_within_the_hours_is_not_laid_later():
    """On a long day the second coat follows on the same day, and each minute counts."""
    inner = inner_of(_shop(windows=(Window(SIX, SIX + DAY),)))
    assert AsLate(inner).spare_min(inner.index["coat 1"], 0, SIX + 10) == 0


def test_no_more_minutes_than_the_next_hours_give():
    """A coat that is ready an hour before the next evening has that hour to spare, and no more."""
    end = DAY + SIX - 60 - 12 * 60
    windows = (Window(SIX, end + 180), Window(DAY + SIX, DAY + NINE))
    inner = inner_of(_shop(windows=windows))
    assert AsLate(inner).spare_min(inner.index["coat 1"], 0, end) == 60


def test_clearing_up_is_kept_free():
    """What must be over some minutes before the hours end is not laid into these minutes."""
    problem = _shop()
    coat = problem.activities[0]
    windows = (Window(SIX, NINE), Window(DAY + SIX, DAY + NINE))
    problem = replace(
        problem,
        activities=(replace(coat, kind="coat"), *problem.activities[1:]),
        hands=(Hands("Ada", windows),),
        set_ups=(SetUp("coat", 0, 0, at_end_min=5),),
    )
    inner = inner_of(problem)
    assert AsLate(inner).spare_min(inner.index["coat 1"], 0, NINE - 30) == 25


@LAWS
@given(problems(most_pieces=4))
def test_every_plan_of_goals_is_sound(problem):
    """The checker, which shares no code with it, finds nothing in plans placed goal by goal."""
    search, by_goal = _by_goal(problem)
    _, pressure = search.ways.forward(0)
    if not goes_by_goals(search.inner, pressure):
        return
    for order, head in product((by_goal.goals, by_goal.goals[::-1]), (1, len(by_goal.goals))):
        placing = by_goal.place(order, head, [], NEVER)
        faults = check(problem, plan_of(problem, placing))
        assert placing.left_out or not faults, faults


@LAWS
@given(problems(most_pieces=4))
def test_going_on_gives_what_beginning_gives(problem):
    """From a board kept before any goal the same plan comes out as from nothing."""
    search, by_goal = _by_goal(problem)
    _, pressure = search.ways.forward(0)
    if not goes_by_goals(search.inner, pressure):
        return
    for head in range(1, len(by_goal.goals) + 1):
        stages: list[Stage] = []
        whole = by_goal.place(by_goal.goals, head, stages, NEVER)
        assert len(stages) == head + 1
        for at in range(head + 1):
            again = by_goal.place(by_goal.goals, head, stages[: at + 1], NEVER)
            assert again.board.start == whole.board.start


def test_the_rest_goes_forward_around_the_first():
    """With the box alone placed for itself, the tray finds the same hour before its coat."""
    _, by_goal = _by_goal(_shop())
    whole = by_goal.place(by_goal.goals, 2, [], NEVER)
    around = by_goal.place(by_goal.goals, 1, [], NEVER)
    assert around.board.start == whole.board.start


@pytest.mark.parametrize(("at_most", "is_placed"), [(26 * 60, True), (12 * 60, False)])
def test_what_is_later_than_is_of_use_is_given_up(at_most, is_placed):
    """The box is 18 h 10 min late at best: who allows less gets no plan."""
    _, by_goal = _by_goal(_shop())
    assert (by_goal.place(by_goal.goals, 2, [], at_most) is not None) == is_placed


def test_a_walk_finds_the_order_that_loses_least():
    """Long sanding leaves no evening for the coat: the walk finds that it is better first."""
    search, by_goal = _by_goal(_shop(sand_min=170))
    walk = GoalClimb(search, by_goal, [2])
    begun = search.best_cost.late_and_split_min
    for _ in range(20):
        walk.step()
    assert search.best_cost.late_and_split_min < begun
    assert search.tries == 21


def test_goals_that_wait_for_each_other_are_left_to_others():
    """Where a tray is to be sanded before the box is coated the two cannot be placed one by one."""
    problem = _shop()
    _, pressure = Search(inner_of(problem), 0).ways.forward(0)
    assert goes_by_goals(pressure.inner, pressure)
    lags = (*problem.lags, Lag("sand", "coat 1", 0))
    tied = Problem(problem.activities, lags, problem.hands, rules=problem.rules)
    _, pressure = Search(inner_of(tied), 0).ways.forward(0)
    assert not goes_by_goals(pressure.inner, pressure)
