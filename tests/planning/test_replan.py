"""A plan that goes on: the past stays, nothing moves that need not, better is offered only."""

from contextlib import contextmanager
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from planning_shops import DAY, evenings, problems

from finishsched.planning import replan as replanning
from finishsched.planning.bounds import lower_bound
from finishsched.planning.faults import sound
from finishsched.planning.going_on.remaking import LATER_MIN
from finishsched.planning.going_on.steady import (
    FIRMLY_STEADY,
    USUALLY_STEADY,
    WORTH_KEEPING,
    cheaper,
    gone_by,
    promise_of,
)
from finishsched.planning.judging.checker import check
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
)
from finishsched.planning.quick import quick_plan
from finishsched.planning.replan import ChangeKind, better_than, changes, replan
from finishsched.planning.score import score
from finishsched.planning.window import Window

ROUNDS = 4
LAWS = settings(max_examples=60)


def planned(problem):
    """Return the sound part of a problem and its first plan."""
    problem = sound(problem).problem
    return problem, replan(problem, None, rounds=ROUNDS).plan


def at_now(problem, now_min, done):
    """Return the problem as it is then, with what happened and is happening."""
    return replace(problem, now_min=now_min, done=tuple(done))


def two_pieces():
    """Return two pieces of two steps each, a night's wait between, one pair of hands."""
    steps = [
        Activity(f"{piece}{number}", 60, ("Ada",), piece) for piece in "ab" for number in (1, 2)
    ]
    lags = (Lag("a1", "a2", 720), Lag("b1", "b2", 720))
    goals = (Goal("a"), Goal("b"))
    return Problem(tuple(steps), lags, (Hands("Ada", evenings()),), goals=goals)


def places(placed):
    """Return where each lies and whose it is, without what held it back."""
    return [(p.key, p.start_min, p.end_min, p.by) for p in placed]


def test_the_plan_by_hand():
    """Both first steps fit the first evening and both second ones the next: optimal, and bound."""
    problem = two_pieces()
    found = replan(problem, None)
    evening = 18 * 60
    starts = [evening, evening + 60, DAY + evening, DAY + evening + 60]
    assert [placed.start_min for placed in found.plan.placed] == starts
    assert found.score.finish_min == DAY + evening + 120
    assert lower_bound(problem) <= found.score.finish_min


def overrun(due_min, third_min):
    """One step runs over and the next has to move; a third, due then, could go sooner than then."""
    evening = 18 * 60
    steps = tuple(Activity(key, 30, ("Ada",), key) for key in ("first", "next", "late"))
    goals = (Goal("first"), Goal("next"), Goal("late", due_min))
    problem = Problem(steps, hands=(Hands("Ada", evenings()),), goals=goals)
    old = Plan(
        (
            Placed("first", evening, evening + 30, "Ada"),
            Placed("next", evening + 30, evening + 60, "Ada"),
            Placed("late", third_min, third_min + 30, "Ada"),
        )
    )
    now = evening + 40
    problem = at_now(problem, now, (Done("first", evening, now, "Ada"),))
    return problem, old


def test_a_due_date_at_risk_makes_the_plan_anew_and_says_what_keeping_would_have_cost():
    """Tomorrow's step is due tonight: it goes tonight, and how late it would have been is told."""
    evening = 18 * 60
    problem, old = overrun(evening + 120, DAY + evening)
    new = replan(problem, old)
    assert new.score.late_min == 0
    assert new.keeping is not None
    assert new.keeping.late_min == DAY - 90


def test_steady_moves_only_what_has_to_where_nothing_is_gained():
    """What lies an hour later this evening stays put to the minute, and nothing is told."""
    evening = 18 * 60
    problem, old = overrun(DAY, evening + 120)
    new = replan(problem, old, steady=FIRMLY_STEADY)
    assert places(new.plan.placed) == [
        ("next", evening + 40, evening + 70, "Ada"),
        ("late", evening + 120, evening + 150, "Ada"),
    ]
    assert new.keeping is None


BY_ANOTHER_SEARCH_MIN = 5
"""So much less late a search from nothing was found to be than that within going on: a minute."""


@contextmanager
def own_search():
    """Keep the plans that going on makes from nothing."""
    found, usual = [], replanning.quick_plan

    def kept(problem, **how):
        plan = usual(problem, **how)
        if "search" in how and not check(problem, plan):
            found.append(plan)
        return plan

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(replanning, "quick_plan", kept)
        yield found


def put_out(promise, later_min):
    """Return a promise that is so much later."""
    return promise._replace(late_min=promise.late_min + later_min)


@settings(max_examples=25)
@given(problems(most_pieces=4), st.integers(1, 5), st.sampled_from((USUALLY_STEADY, FIRMLY_STEADY)))
def test_after_a_missed_evening_the_plan_goes_on_no_dearer_than_kept_or_made_anew(
    problem, evenings_off, steady
):
    """Planning from nothing promises no more, but for half an hour; as late, it costs no less.

    The plan is held against what its own search made anew; another search may find some minutes,
    and one that costs less. A mix that is shared may move as much as it is worth.
    Hours that a sitting is split by count as late, as they do where plans are weighed.
    What keeps a third of the next week goes before what keeps less, whatever either costs.
    """
    problem, plan = planned(problem)
    late = at_now(problem, evenings_off * DAY, ())
    with own_search() as made:
        new = replan(late, plan, steady=steady)
    assert not check(late, new.plan)
    promised = promise_of(new.score)
    for own in made:
        anew, went_on = (gone_by(late, plan, one, steady) for one in (own, new.plan))
        assert promised <= put_out(promise_of(anew.score), LATER_MIN)
        keeps = anew.kept_share >= min(WORTH_KEEPING, went_on.kept_share)
        saved = max(0, anew.score.pots - went_on.score.pots)
        is_cheaper = keeps and cheaper(anew, went_on, replanning.A_MIX_MOVED_MIN * saved)
        assert not is_cheaper or anew.score.late_min > new.score.late_min
    for fresh in (replan(late, None, rounds=0), replan(late, None)):
        assert promised <= put_out(promise_of(fresh.score), LATER_MIN + BY_ANOTHER_SEARCH_MIN)


def test_done_on_time_moves_nothing():
    """Logging a step done as planned keeps every other step to the minute."""
    problem = two_pieces()
    old = replan(problem, None).plan
    first = old.placed[0]
    done = (Done(first.key, first.start_min, first.end_min, "Ada"),)
    new = replan(at_now(problem, first.end_min, done), old)
    assert new.kept
    assert places(new.plan.placed) == places(old.placed[1:])
    assert [change.kind for change in new.changes] == [ChangeKind.GONE]


def test_done_late_moves_what_has_to_and_no_more():
    """A step that took half an hour longer pushes the next one, and leaves the next evening."""
    problem = two_pieces()
    old = replan(problem, None).plan
    first, second = old.placed[:2]
    done = (Done(first.key, first.start_min, first.end_min + 30, "Ada"),)
    new = replan(at_now(problem, first.end_min + 30, done), old)
    moved = {change.key: change for change in new.changes if change.kind is ChangeKind.LATER}
    assert set(moved) == {second.key}
    assert moved[second.key].minutes == 30
    assert places(new.plan.placed[1:]) == places(old.placed[2:])


def test_a_sick_day_moves_that_day_only():
    """Without the first evening its work moves to the next, and it says what moved."""
    problem = two_pieces()
    old = replan(problem, None).plan
    ill = replace(problem, hands=(Hands("Ada", evenings()[1:]),))
    new = replan(ill, old)
    assert {change.key for change in new.changes} == {p.key for p in old.placed}
    assert all(change.kind is ChangeKind.LATER for change in new.changes)


def test_what_runs_past_closing_stays():
    """Work under way that has overrun closing time breaks no plan, and the rest goes on after."""
    problem = two_pieces()
    closing = 21 * 60
    done = (Done("a1", closing - 60, closing + 45, "Ada"),)
    new = replan(at_now(problem, closing + 20, done), replan(problem, None).plan)
    assert check(new.problem, new.plan) == ()
    assert min(p.start_min for p in new.plan.placed) >= DAY + 18 * 60


@LAWS
@given(problems(progress=True))
def test_an_unchanged_state_gives_the_same_plan(problem):
    """Asked again with nothing changed, the answer is the very same plan."""
    problem, plan = planned(problem)
    again = replan(problem, plan)
    assert again.plan.placed == plan.placed
    assert again.changes == ()


@LAWS
@given(problems(), st.data())
def test_the_past_is_untouched_and_nothing_starts_before_now(problem, data):
    """However the work went so far, a replan keeps it to the byte and begins nothing before now."""
    problem, plan = planned(problem)
    count = data.draw(st.integers(0, len(plan.placed)))
    late = data.draw(st.integers(0, 90))
    done = tuple(Done(p.key, p.start_min, p.end_min + late, p.by) for p in plan.placed[:count])
    now = max([each.end_min for each in done], default=0) + data.draw(st.integers(0, 300))
    before = at_now(problem, now, done)
    new = replan(before, plan)
    assert new.problem.done == done
    assert repr(new.problem.done) == repr(done)
    assert check(new.problem, new.plan) == ()
    assert all(placed.start_min >= now for placed in new.plan.placed)
    assert not {each.key for each in done} & {each.key for each in new.plan.placed}


@LAWS
@given(problems(progress=True), st.integers(0, 3))
def test_more_of_anything_never_makes_it_worse(problem, what):
    """One more evening, a longer one or a rack slot, begun from the old plan, is no worse."""
    problem, plan = planned(problem)
    before = score(problem, plan)
    more = _more(problem, what)
    after = quick_plan(more, rounds=ROUNDS, start=plan)
    assert check(more, after) == ()
    assert score(more, after) <= before


def _more(problem, what):
    if what == 0:
        stores = tuple(Store(s.name, s.capacity + 1) for s in problem.stores)
        return replace(problem, stores=stores)
    if what == 1:
        return replace(problem, rules=())
    first, *rest = problem.hands
    last = first.windows[-1]
    windows = (*first.windows[:-1], Window(last.start_min, last.end_min + 120))
    if what == 2:
        gap = first.windows[0].start_min
        windows = (Window(max(0, gap - 1), first.windows[0].end_min), *first.windows[1:])
    return replace(problem, hands=(Hands(first.name, windows), *rest))


@LAWS
@given(problems(progress=True))
def test_a_better_plan_is_better_and_sound(problem):
    """What is offered passes the checker and has a lower score; nothing is offered for nothing."""
    problem, plan = planned(problem)
    better = better_than(problem, plan, rounds=ROUNDS)
    if better is not None:
        assert check(problem, better) == ()
        assert score(problem, better) < score(problem, plan)


@LAWS
@given(problems(progress=True))
def test_no_plan_beats_the_bound_and_the_same_seed_gives_the_same_plan(problem):
    """A plan that leaves nothing out is never below the bound; planning twice gives one plan."""
    problem, plan = planned(problem)
    found = score(problem, plan)
    if not found.left_out:
        assert found.finish_min >= lower_bound(problem)
    assert quick_plan(problem, seed=3, rounds=ROUNDS) == quick_plan(problem, seed=3, rounds=ROUNDS)


@LAWS
@given(problems(progress=True), st.integers(1, 60))
def test_a_week_later_the_plan_is_a_week_later(problem, weeks):
    """All times of a shop moved by whole weeks move its plan by as much, and nothing else."""
    problem, plan = planned(problem)
    shifted = _later(problem, weeks * 7 * DAY)
    moved = replan(shifted, None, rounds=ROUNDS).plan
    by = weeks * 7 * DAY
    assert [(p.key, p.start_min - by, p.end_min - by, p.by) for p in moved.placed] == [
        (p.key, p.start_min, p.end_min, p.by) for p in plan.placed
    ]


def _later(problem, by):
    def window(each):
        return Window(each.start_min + by, each.end_min + by)

    return replace(
        problem,
        now_min=problem.now_min + by,
        hands=tuple(Hands(h.name, tuple(map(window, h.windows))) for h in problem.hands),
        goals=tuple(
            Goal(g.key, None if g.due_min is None else g.due_min + by) for g in problem.goals
        ),
        done=tuple(Done(d.key, d.start_min + by, d.end_min + by, d.by) for d in problem.done),
        activities=tuple(
            a if a.release_min is None else replace(a, release_min=a.release_min + by)
            for a in problem.activities
        ),
    )


@LAWS
@given(problems(progress=True))
def test_changes_between_a_plan_and_itself_are_none(problem):
    """A plan differs from itself in nothing, and from no plan at all in everything."""
    problem, plan = planned(problem)
    assert changes(plan, plan, problem) == ()
    empty = replace(plan, placed=(), misses=())
    new = [c for c in changes(empty, plan, problem) if c.kind is ChangeKind.NEW]
    assert len(new) == len(plan.placed)
