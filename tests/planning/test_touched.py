"""What a change touches is judged by the checker as the whole plan would be."""

from dataclasses import replace

from hypothesis import assume, event, given, settings
from hypothesis import strategies as st
from planning_shops import problems

from finishsched.planning.judging.checker import check
from finishsched.planning.judging.touched import Touched
from finishsched.planning.quick import quick_plan
from finishsched.planning.whole_plan import whole_plan

SHIFTS_MIN = (-1440, -60, -5, -1, 0, 1, 5, 60, 1440)


def held_until_the_next(problem):
    """Return the problem with each place on the rack held until the next step of the piece."""
    following = {lag.before: lag.after for lag in problem.lags}

    def held(activity):
        uses = tuple(replace(use, until=following.get(activity.key)) for use in activity.uses)
        return replace(activity, uses=uses)

    return replace(problem, activities=tuple(map(held, problem.activities)))


@settings(max_examples=150)
@given(st.data())
def test_a_change_is_found_sound_where_the_whole_plan_is(data):
    """Some work of a plan that can be carried out is moved, or changes hands.

    The part of the plan that this touches is found wrong exactly where all of it is.
    """
    problem = data.draw(problems(progress=True))
    if data.draw(st.booleans()):
        problem = held_until_the_next(problem)
    plan = quick_plan(problem, rounds=2)
    assume(plan.placed and not check(problem, plan))
    some = data.draw(st.sets(st.sampled_from([each.key for each in plan.placed]), max_size=3))
    shift = data.draw(st.sampled_from(SHIFTS_MIN))
    hands = [each.name for each in problem.hands]

    def moved(each):
        by = each.by
        if by is not None and data.draw(st.booleans()):
            by = data.draw(st.sampled_from(hands))
        start, end = each.start_min + shift, each.end_min + shift
        return replace(each, start_min=start, end_min=end, by=by)

    placed = [moved(each) if each.key in some else each for each in plan.placed]
    placed.sort(key=lambda each: (each.start_min, each.key))
    found = whole_plan(problem, placed, plan.left_out)
    whole = check(problem, found)
    event("broken" if whole else "sound")
    part = Touched(problem).broken(plan, found, some)
    assert bool(part) == bool(whole), (whole, part)
