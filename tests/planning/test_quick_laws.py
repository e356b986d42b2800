"""What holds for every plan of the quick planner, on random shops; the checker is the judge."""

from dataclasses import replace

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from planning_shops import DAY, problems

from finishsched.planning.bounds import bound, lower_bound
from finishsched.planning.held import held_back
from finishsched.planning.judging.checker import check
from finishsched.planning.problem import Activity, Goal, Hands, HeldBy, Lag, Problem, Store, Use
from finishsched.planning.quick import Enough, first_plan, quick_plan, re_decode
from finishsched.planning.score import goal_finishes, score
from finishsched.planning.window import Window

LAWS = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
FEW = settings(LAWS, max_examples=25)
ROUNDS = 30
WEEK = 7 * DAY

any_problem = problems() | problems(progress=True)


@st.composite
def racks(draw):
    """Draw pieces that lie on a rack until their next step begins, on fewer slots than pieces."""
    pieces, steps = draw(st.integers(1, 4)), draw(st.integers(2, 4))
    activities, lags = [], []
    for piece in range(pieces):
        for step in range(steps):
            following = f"{piece}-{step + 1}" if step + 1 < steps else None
            use = Use(
                "rack",
                draw(st.integers(1, 2)),
                from_start=draw(st.booleans()),
                hold_min=draw(st.integers(0, 900)),
                until=following,
            )
            uses = (use,) if draw(st.integers(0, 3)) else ()
            minutes = draw(st.integers(1, 50))
            key = f"{piece}-{step}"
            activities.append(Activity(key, minutes, ("Ada",), goal=str(piece), uses=uses))
            if step:
                lags.append(Lag(f"{piece}-{step - 1}", key, draw(st.integers(0, 600))))
    days = tuple(Window(day * DAY + 600, day * DAY + 750) for day in range(30))
    return Problem(
        tuple(activities),
        tuple(lags),
        (Hands("Ada", days),),
        (Store("rack", draw(st.integers(2, 3))),),
        goals=tuple(Goal(str(piece)) for piece in range(pieces)),
    )


@st.composite
def bare_projects(draw):
    """Draw activities that take no hands, with stores, and lags that may run backwards in time."""
    count = draw(st.integers(2, 7))
    stores = tuple(Store(name, draw(st.integers(2, 4))) for name in "AB")
    activities = tuple(
        Activity(
            str(n),
            draw(st.integers(0, 9)),
            uses=tuple(Use(s.name, draw(st.integers(1, 2))) for s in stores if draw(st.booleans())),
        )
        for n in range(count)
    )
    lags = []
    for after in range(1, count):
        before = draw(st.integers(0, after - 1))
        least = draw(st.integers(-5, 6))
        slack = draw(st.none() | st.integers(0, 12))
        lags.append(Lag(str(before), str(after), least, None if slack is None else least + slack))
        if slack is None and draw(st.booleans()):
            lags.append(Lag(str(after), str(before), -60))
    return Problem(activities, tuple(lags), stores=stores)


any_kind = any_problem | racks() | bare_projects()


@LAWS
@given(any_kind, st.integers(0, 9))
def test_every_plan_can_be_carried_out(problem, seed):
    """Nobody is in two places, and every session, wait, window, rack and room is kept or told."""
    first = first_plan(problem)
    assert not check(problem, first)
    again = re_decode(problem, [placed.key for placed in first.placed])
    assert not check(problem, again)
    assert not check(problem, re_decode(problem, ()))
    assert not check(problem, quick_plan(problem, seed=seed, rounds=ROUNDS))


@LAWS
@given(racks())
def test_a_rack_that_is_given_back_late_leaves_nothing_out(problem):
    """Where each piece takes one slot at a time, none is left out for want of one."""
    one_each = replace(
        problem,
        activities=tuple(
            replace(a, uses=tuple(replace(use, amount=1, from_start=False) for use in a.uses))
            for a in problem.activities
        ),
    )
    assert not quick_plan(one_each, rounds=ROUNDS).left_out


@FEW
@given(any_problem, st.integers(0, 9))
def test_same_seed_same_plan(problem, seed):
    """A seed and a number of rounds give one plan, and more rounds none that is worse."""
    plan = quick_plan(problem, seed=seed, rounds=ROUNDS)
    assert plan == quick_plan(problem, seed=seed, rounds=ROUNDS)
    more = quick_plan(problem, seed=seed, rounds=2 * ROUNDS)
    assert score(problem, more) <= score(problem, plan)


@FEW
@given(any_problem)
def test_the_first_plan_that_will_do_ends_the_search(problem):
    """Whoever asks for nothing more than the least that must be late and long gets no less."""
    whole = score(problem, quick_plan(problem, rounds=ROUNDS))
    enough = Enough(whole.late_min, whole.finish_min)
    found = score(problem, quick_plan(problem, rounds=ROUNDS, enough=enough))
    assert (found.left_out, found.hard_late_min) == (whole.left_out, whole.hard_late_min)
    assert (found.late_min, found.finish_min) == (whole.late_min, whole.finish_min)


def later(problem, by_min):
    """Return a problem with all of its times moved."""

    def moved(time):
        return None if time is None else time + by_min

    return replace(
        problem,
        activities=tuple(replace(a, release_min=moved(a.release_min)) for a in problem.activities),
        hands=tuple(
            Hands(
                h.name, tuple(Window(w.start_min + by_min, w.end_min + by_min) for w in h.windows)
            )
            for h in problem.hands
        ),
        goals=tuple(Goal(goal.key, moved(goal.due_min)) for goal in problem.goals),
        done=tuple(
            replace(d, start_min=d.start_min + by_min, end_min=d.end_min + by_min)
            for d in problem.done
        ),
        now_min=problem.now_min + by_min,
    )


@FEW
@given(any_problem)
def test_a_week_later_is_the_same_plan_a_week_later(problem):
    """Nothing depends on where in time a problem lies."""
    here = quick_plan(problem, rounds=ROUNDS)
    there = quick_plan(later(problem, WEEK), rounds=ROUNDS)
    assert [
        (p.key, p.start_min + WEEK, p.end_min + WEEK, p.by, p.held_by) for p in here.placed
    ] == [(p.key, p.start_min, p.end_min, p.by, p.held_by) for p in there.placed]
    assert (here.misses, here.left_out) == (there.misses, there.left_out)


@FEW
@given(any_problem)
def test_never_worse_than_where_it_starts(problem):
    """A plan that was planned longer is kept, even by a search of one round."""
    longer = quick_plan(problem, seed=1, rounds=3 * ROUNDS)
    kept = quick_plan(problem, seed=2, rounds=1, start=longer)
    assert score(problem, kept) <= score(problem, longer)


@FEW
@given(problems(), st.integers(1, 90))
def test_more_hours_or_slots_are_never_worse(problem, minutes):
    """With longer sessions and a larger rack the old plan is still there to be kept."""
    old = quick_plan(problem, rounds=ROUNDS)
    wider = replace(
        problem,
        hands=tuple(
            Hands(h.name, (*h.windows, Window(50 * DAY, 50 * DAY + minutes))) for h in problem.hands
        ),
        stores=tuple(Store(store.name, store.capacity + 1) for store in problem.stores),
    )
    assert score(wider, quick_plan(wider, rounds=ROUNDS, start=old)) <= score(problem, old)


@LAWS
@given(any_kind)
def test_no_plan_beats_the_bound(problem):
    """What is proven to take so long takes no less, as a whole and for every goal."""
    plan = quick_plan(problem, rounds=ROUNDS)
    if plan.left_out:
        return
    proven = bound(problem)
    found = score(problem, plan)
    assert proven.finish_min == lower_bound(problem)
    assert proven.finish_min <= found.finish_min
    assert proven.late_min <= found.late_min
    finishes = goal_finishes(problem, plan)
    assert all(end <= finishes[goal] for goal, end in proven.goals)


@LAWS
@given(any_problem)
def test_what_holds_a_start_back_is_really_there(problem):
    """Nothing is said to be free to start that waits, and no wait is named that has ended."""
    plan = first_plan(problem)
    ends = {there.key: there.end_min for there in (*problem.done, *plan.placed)}
    waits = {(lag.before, lag.after): lag.least_min for lag in problem.lags}
    windows = {(hands.name, w.start_min) for hands in problem.hands for w in hands.windows}
    for placed in plan.placed:
        if placed.held_by is HeldBy.NOTHING:
            assert placed.start_min == problem.now_min
        elif placed.held_by is HeldBy.LAG and placed.held_by_key:
            least = waits[placed.held_by_key, placed.key]
            assert ends[placed.held_by_key] + least == placed.start_min
        elif placed.held_by is HeldBy.HOURS and not problem.set_ups:
            assert (placed.held_by_key, placed.start_min) in windows
        elif (
            placed.held_by is HeldBy.BUSY
            and not problem.set_ups
            and placed.start_min in ends.values()
        ):
            assert placed.held_by_key in ends
    assert held_back(problem, plan) == plan


@LAWS
@given(any_problem)
def test_moved_a_minute_forward_it_breaks_a_rule(problem):
    """Where something other than the order held a start, the checker will not have it earlier.

    What waits to share a mix could begin sooner, and would need a mix of its own.
    """
    plan = first_plan(problem)
    for place, placed in enumerate(plan.placed):
        if placed.held_by in {HeldBy.ORDER, HeldBy.WINDOW, HeldBy.POT}:
            continue
        sooner = replace(placed, start_min=placed.start_min - 1, end_min=placed.end_min - 1)
        moved = [*plan.placed[:place], sooner, *plan.placed[place + 1 :]]
        moved.sort(key=lambda each: (each.start_min, each.key))
        assert check(problem, replace(plan, placed=tuple(moved)))
