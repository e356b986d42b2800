"""A plan that goes on: what happened becomes constant, and nothing else moves that need not.

The only place that knows now. A plan is kept while it can be carried out as it stands and things
happen as it said. When they do not, keeping to it is weighed against making it anew around what can
stay (`steady.py`). A better plan that is found by looking longer is offered, never put in the place
of the one that people work by.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from finishsched.planning.bounds import bound
from finishsched.planning.checker import Violation, check
from finishsched.planning.held import held_back
from finishsched.planning.problem import Activity, Miss, Placed, Plan, Problem, Score
from finishsched.planning.quick import Enough, first_plan, orderly_plan, quick_plan, re_decode
from finishsched.planning.remaking import LATER_MIN, remade
from finishsched.planning.score import score
from finishsched.planning.steady import (
    IDLE_MIN,
    STUBBORN_MIN,
    USUALLY_STEADY,
    Gone,
    Steadiness,
    cheaper,
    gone_by,
    work_tonight_min,
)
from finishsched.planning.tonight import begun_now
from finishsched.refusals import RefusalError

WORTH_MIN = 30
"""A better plan is offered when it finishes, or is less late, by half an hour (our assumption)."""
SITTING_MIN = 360
"""Done so much sooner, in the end or in the mean of the pieces, a plan saves a sitting, which pays
for a less plain order (our assumption)."""
ROUND_STEPS, MOST_ROUNDS = 20_000, 120
"""How long to look where nobody says: rounds go with the steps there are, so that nobody waits much
longer in a large shop than in a small one."""
MANY_STEPS = 1500
"""From so many steps on little is looked for, and whoever reads the plan is told."""


class NoPlanError(RefusalError):
    """No planner found a plan that can be carried out: a fault of ours, never shown as a plan."""

    def __init__(self, violations: tuple[Violation, ...]) -> None:
        self.violations = violations
        more = f" (and {len(violations) - 1} more)" if len(violations) > 1 else ""
        super().__init__(f"no plan came out right: {violations[0].sentence}{more}")


class ChangeKind(StrEnum):
    """What became of an activity from one plan to the next."""

    NEW = "new"
    GONE = "gone"
    """Done, or not asked for any more."""
    LATER = "later"
    SOONER = "sooner"
    HANDS = "other hands"
    LEFT_OUT = "left out"
    MISSED = "window missed"


@dataclass(frozen=True, slots=True)
class Change:
    """One difference between two plans."""

    kind: ChangeKind
    key: str
    minutes: int = 0
    """By how much, later or sooner or missed."""
    was_min: int | None = None
    is_min: int | None = None
    by: str | None = None
    """Whose it is now."""


@dataclass(frozen=True, slots=True)
class Replanned:
    """The plan to go on by, and what moved."""

    problem: Problem
    plan: Plan
    score: Score
    changes: tuple[Change, ...]
    kept: bool
    """True when everything lies where it lay."""
    keeping: Score | None = None
    """Where it was made anew though more could have stayed: what keeping that would have cost."""


def usual_rounds(problem: Problem) -> int:
    """Return for how many rounds to look for a plan that somebody waits for."""
    steps = max(1, len(problem.activities))
    return max(1, min(MOST_ROUNDS, ROUND_STEPS // steps))


def replan(
    problem: Problem,
    old: Plan | None,
    *,
    seed: int = 0,
    rounds: int | None = None,
    steady: Steadiness = USUALLY_STEADY,
) -> Replanned:
    """Return the plan that goes on from ``old``, as it was where it can; without one, a first plan.

    Raises:
        NoPlanError: when no planner's plan passes the checker.

    """
    if old is None:
        most = usual_rounds(problem) if rounds is None else rounds
        enough = _no_use_to_look_on(problem)
        best = checked(problem, lambda: quick_plan(problem, seed=seed, rounds=most, enough=enough))
        plan = held_back(problem, _plain_unless_it_pays(problem, best))
        return Replanned(problem, plan, score(problem, plan), (), kept=False)
    found, keeping = _going_on(problem, old, steady)
    plan = held_back(problem, begun_now(problem, found))
    moved = changes(old, plan, problem)
    kept = all(change.kind is ChangeKind.GONE for change in moved)
    return Replanned(problem, plan, score(problem, plan), moved, kept, keeping)


def better_than(
    problem: Problem,
    plan: Plan,
    *,
    seed: int = 0,
    rounds: int | None = None,
    stop: Callable[[], bool] | None = None,
) -> Plan | None:
    """Return a plan that is better by enough to say so, or None."""
    if none_worth_offering(problem, plan):
        return None
    most = usual_rounds(problem) if rounds is None else rounds
    least = bound(problem)
    enough = Enough(least.late_min, least.finish_min)
    found = quick_plan(problem, seed=seed, rounds=most, start=plan, stop=stop, enough=enough)
    return found if worth_offering(problem, plan, found) else None


def _no_use_to_look_on(problem: Problem) -> Enough:
    """Return what no plan can beat by enough to be taken instead of it."""
    least = bound(problem)
    if problem.rules:
        # As little late and as soon done, the orderly plan stands: it seldom pays to leave it.
        return Enough(least.late_min, least.finish_min)
    goals_min = sum(reached for _, reached in least.goals)
    return Enough(least.late_min, least.finish_min, goals_min)


def none_worth_offering(problem: Problem, plan: Plan) -> bool:
    """Tell whether the bound alone shows that no plan is better by enough to say so."""
    found, least = score(problem, plan), bound(problem)
    if found.left_out or found.hard_late_min:
        return False
    late = found.late_min - least.late_min >= WORTH_MIN
    return not late and found.finish_min - least.finish_min < WORTH_MIN


def worth_offering(problem: Problem, plan: Plan, found: Plan) -> bool:
    """Tell whether a plan passes the checker, and is better than ``plan`` by enough to say so."""
    return not check(problem, found) and _worth(score(problem, plan), score(problem, found))


def checked(problem: Problem, *makers: Callable[[], Plan]) -> Plan:
    """Return the first plan that passes the checker, of these makers and then the plain ones.

    Raises:
        NoPlanError: when none does.

    """
    violations: tuple[Violation, ...] = ()
    plain: list[Callable[[], Plan]] = [
        lambda: first_plan(problem),
        lambda: re_decode(problem, ()),
    ]
    for make in (*makers, *plain):
        plan = make()
        violations = check(problem, plan)
        if not violations:
            return plan
    raise NoPlanError(violations)


def changes(old: Plan, new: Plan, problem: Problem) -> tuple[Change, ...]:
    """Return every difference, in the order of the new plan and then of keys."""
    return tuple(_changes(old, new, problem))


def _plain_unless_it_pays(problem: Problem, best: Plan) -> Plan:
    """Return the orderly plan where the best one gains too little to be less plain."""
    if not problem.rules:
        return best
    plain = orderly_plan(problem)
    ours, theirs = score(problem, plain), score(problem, best)
    gone = (ours.left_out, ours.hard_late_min) > (theirs.left_out, theirs.hard_late_min)
    less_late = ours.late_min - theirs.late_min
    sooner = ours.finish_min - theirs.finish_min
    goals_sooner = ours.goals_min - theirs.goals_min
    pays = less_late >= WORTH_MIN or sooner >= SITTING_MIN
    pays = pays or goals_sooner >= SITTING_MIN * len(problem.goals)
    return best if gone or pays or check(problem, plain) else plain


def _worth(kept: Score, found: Score) -> bool:
    if found >= kept:
        return False
    if (found.left_out, found.hard_late_min) < (kept.left_out, kept.hard_late_min):
        return True
    if found.late_min != kept.late_min:
        return kept.late_min - found.late_min >= WORTH_MIN
    return kept.finish_min - found.finish_min >= WORTH_MIN


def _going_on(problem: Problem, old: Plan, steady: Steadiness) -> tuple[Plan, Score | None]:
    """Return the plan to go on by, and the score of keeping more where that would cost too much.

    It is the old plan itself where it can be carried out, nothing else happened than it said, and
    nobody stands idle; else the cheapest of what stays as it is, what is put off, and what is made
    anew around as much as can stay.
    """
    same = _as_it_was(problem, old)
    if same is not None and not _cause(problem, old, same):
        return same, None
    keeping = _keeping(problem, old, same, steady)

    def from_nothing() -> Plan:
        rounds, enough = usual_rounds(problem), _no_use_to_look_on(problem)
        return quick_plan(problem, rounds=rounds, enough=enough)

    anew = remade(problem, old, steady, None if same is not None else from_nothing)
    if keeping is None or anew is None:
        there = keeping or anew
        if there is not None:
            return there.plan, None
        return checked(problem, lambda: quick_plan(problem, rounds=usual_rounds(problem))), None
    worth_min = STUBBORN_MIN if same is not None else 0
    if same is not None and _fills_evening(problem, same, anew.plan):
        worth_min = 0
    later_min = keeping.score.late_min - anew.score.late_min
    too_late = same is None and later_min > LATER_MIN
    if too_late or cheaper(anew, keeping, worth_min):
        return anew.plan, keeping.score if _tells(keeping.score, anew.score) else None
    return keeping.plan, None


def _tells(keeping: Score, anew: Score) -> bool:
    """Tell whether what is gained by making it anew is worth a line."""
    less_late = keeping.late_min - anew.late_min
    saves = keeping.finish_min - anew.finish_min
    return less_late >= WORTH_MIN or (less_late >= 0 and saves >= WORTH_MIN)


def _keeping(problem: Problem, old: Plan, same: Plan | None, steady: Steadiness) -> Gone | None:
    """Return the plan as it was, or with no more put off than has to be, in its old order."""
    if same is not None:
        return gone_by(problem, old, same, steady)
    order = [placed.key for placed in old.placed]
    found: Gone | None = None
    for place in (no_sooner(problem, old, hands=True), no_sooner(problem, old)):
        plan = re_decode(place, order, reasons=False)
        if not check(problem, plan):
            gone = gone_by(problem, old, plan, steady)
            if found is None or cheaper(gone, found):
                found = gone
    return found


def _cause(problem: Problem, old: Plan, same: Plan) -> bool:
    """Tell whether something else happened than the plan said, so that another may be better."""
    if not _as_good(_promises(problem, same), _promised(problem, old)):
        return True
    was = {placed.key: placed for placed in old.placed}
    for there in problem.done:
        placed = was.get(there.key)
        if placed is not None and (placed.start_min, placed.end_min) != (
            there.start_min,
            there.end_min,
        ):
            return True
    return False


def _fills_evening(problem: Problem, same: Plan, anew: Plan) -> bool:
    """Tell whether another plan finds work for hands that would stand idle this evening."""
    return work_tonight_min(problem, anew) - work_tonight_min(problem, same) >= IDLE_MIN


def no_sooner(problem: Problem, old: Plan, *, hands: bool = False) -> Problem:
    """Return the problem with nothing sooner than in the old plan, and with its hands if asked."""
    was = {placed.key: placed for placed in old.placed}
    return replace(
        problem,
        activities=tuple(
            replace(
                activity,
                release_min=max(was[activity.key].start_min, activity.release_min or 0),
                by=_same_hands(activity, was[activity.key]) if hands else activity.by,
            )
            if activity.key in was
            else activity
            for activity in problem.activities
        ),
    )


def _same_hands(activity: Activity, was: Placed) -> tuple[str, ...]:
    return (was.by,) if was.by in activity.by else activity.by


def _promises(problem: Problem, plan: Plan) -> tuple[int, int, int]:
    found = score(problem, plan)
    return found.left_out, found.hard_late_min, found.late_min


def _promised(problem: Problem, old: Plan) -> tuple[int, int, int]:
    """Return the same for what is still open of a plan, as it promised it."""
    open_ = {a.key for a in problem.activities} - {each.key for each in problem.done}
    placed = tuple(each for each in old.placed if each.key in open_)
    return _promises(problem, Plan(placed, tuple(_misses(problem, placed))))


def _as_good(plan: tuple[int, int, int], other: tuple[int, int, int]) -> bool:
    """Tell whether promises are kept as well but for lateness that nobody would move work for."""
    *ours, our_late = plan
    *theirs, their_late = other
    if ours != theirs:
        return ours < theirs
    return our_late < their_late + WORTH_MIN


def _as_it_was(problem: Problem, old: Plan) -> Plan | None:
    """Return what is still open of the old plan, each where it lay; None where that cannot be."""
    done = {each.key for each in problem.done}
    wanted = {a.key for a in problem.activities} - done
    placed = tuple(each for each in old.placed if each.key in wanted)
    if {each.key for each in placed} != wanted:
        return None
    plan = Plan(placed, tuple(_misses(problem, placed)))
    return None if check(problem, plan) else plan


def _misses(problem: Problem, placed: Iterable[Placed]) -> Iterator[Miss]:
    starts = {each.key: each.start_min for each in placed}
    ends = {each.key: each.end_min for each in problem.done}
    ends.update({each.key: each.end_min for each in placed})
    for lag in problem.lags:
        if lag.most_min is not None and lag.after in starts and lag.before in ends:
            late = starts[lag.after] - ends[lag.before] - lag.most_min
            if late > 0:
                yield Miss(lag.before, lag.after, late, lag.hard)


def _changes(old: Plan, new: Plan, problem: Problem) -> Iterator[Change]:
    before = {placed.key: placed for placed in old.placed}
    after = {placed.key: placed for placed in new.placed}
    missed = {(miss.before, miss.after) for miss in old.misses}
    for key, placed in after.items():
        was = before.get(key)
        if was is None:
            yield Change(ChangeKind.NEW, key, 0, None, placed.start_min, placed.by)
            continue
        moved = placed.start_min - was.start_min
        if moved:
            kind = ChangeKind.LATER if moved > 0 else ChangeKind.SOONER
            yield Change(kind, key, abs(moved), was.start_min, placed.start_min, placed.by)
        elif placed.by != was.by:
            at = placed.start_min
            yield Change(ChangeKind.HANDS, key, 0, at, at, placed.by)
    for miss in new.misses:
        if (miss.before, miss.after) not in missed:
            yield Change(ChangeKind.MISSED, miss.after, miss.late_min)
    known = {activity.key for activity in problem.activities}
    for key in sorted(before.keys() - after.keys()):
        gone = key not in known or key not in new.left_out
        kind = ChangeKind.GONE if gone else ChangeKind.LEFT_OUT
        yield Change(kind, key, 0, before[key].start_min)
