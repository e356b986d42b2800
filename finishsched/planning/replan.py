"""A plan that goes on: what happened becomes constant, and nothing else moves that need not.

The only place that knows now. A plan is kept while it can be carried out as it stands and things
happen as it said. When they do not, keeping to it is weighed against making it anew around what can
stay (`going_on/`). A better plan that is found by looking longer is offered, never
put in the place of the one that people work by.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from finishsched.planning.bounds import bound
from finishsched.planning.changes import Change, ChangeKind, changes
from finishsched.planning.going_on.choosing import MANY_STEPS, WORTH_MIN, GoneOn, gone_on, no_sooner
from finishsched.planning.going_on.steady import (
    IN_TIME,
    USUALLY_STEADY,
    WORTH_KEEPING,
    Steadiness,
    gone_by,
    promise_of,
)
from finishsched.planning.held import held_back
from finishsched.planning.in_step import in_step
from finishsched.planning.judging.checker import Violation, check, is_sound
from finishsched.planning.problem import Plan, Problem, Score
from finishsched.planning.quick import Enough, first_plan, orderly_plan, quick_plan, re_decode
from finishsched.planning.quick.search import Search
from finishsched.planning.score import score
from finishsched.planning.sharing import with_shared_pots
from finishsched.planning.tonight import begun_now
from finishsched.refusals import RefusalError

__all__ = [
    "MANY_STEPS",
    "MOST_ROUNDS",
    "WORTH_MIN",
    "Change",
    "ChangeKind",
    "NoPlanError",
    "Replanned",
    "better_than",
    "changes",
    "checked",
    "no_sooner",
    "none_worth_offering",
    "replan",
    "usual_rounds",
    "worth_offering",
]

SITTING_MIN = 360
"""Done so much sooner, in the end or in the mean of the pieces, a plan saves a sitting, which pays
for a less plain order (our assumption)."""
A_MIX_MOVED_MIN = 120
"""What is paid in moved starts to save a mix, in the minutes of `going_on/steady.py` (our
assumption)."""
ROUND_WORK, MOST_ROUNDS = 1.4e6, 120
"""How long to look where nobody says. A round of twice the steps takes about three times as long
(fitted to shops of 8 to 500 pieces), so that nobody waits much longer in a large shop."""


class NoPlanError(RefusalError):
    """No planner found a plan that can be carried out: a fault of ours, never shown as a plan."""

    def __init__(self, violations: tuple[Violation, ...]) -> None:
        self.violations = violations
        first, *others = violations
        more = f" (and {len(others)} more)" if others else ""
        super().__init__(f"no plan came out right: {first.sentence}{more}")


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
    return max(1, min(MOST_ROUNDS, int(ROUND_WORK / steps**1.5)))


def replan(
    problem: Problem,
    old: Plan | None,
    *,
    seed: int = 0,
    rounds: int | None = None,
    steady: Steadiness = USUALLY_STEADY,
) -> Replanned:
    """Return the plan that goes on from ``old``, as it was where it can; without one, a first plan.

    Args:
        problem: what is to do, from now on.
        old: the plan up to now.
        seed: for what a first plan leaves to chance.
        rounds: how long to look for a first plan; as usual where it is None.
        steady: what a start that moves costs.

    Raises:
        NoPlanError: when no planner's plan passes the checker.

    """
    if old is None:
        most = usual_rounds(problem) if rounds is None else rounds
        plan = held_back(problem, _as_a_maker_would(problem, _first(problem, seed, most)))
        return Replanned(problem, plan, score(problem, plan), (), kept=False)
    gone = _gone_on(problem, old, steady)
    going_on = _tidied(problem, old, gone.plan, steady) if gone.anew else gone.plan
    plan = held_back(problem, begun_now(problem, going_on))
    moved = changes(old, plan, problem)
    kept = all(change.kind is ChangeKind.GONE for change in moved)
    return Replanned(problem, plan, score(problem, plan), moved, kept, gone.keeping)


def _first(problem: Problem, seed: int, rounds: int) -> Plan:
    """Return the best plan found, or a plainer one that is hardly worse.

    Args:
        problem: what is to do.
        seed: for all that is left to chance.
        rounds: how long to look.

    """
    if rounds <= 1 and problem.rules:
        # Where nothing is looked for, the plain plan stands if it is in time.
        plain = orderly_plan(problem)
        if promise_of(score(problem, plain)) == IN_TIME and is_sound(problem, plain):
            return plain
    enough = _no_use_to_look_on(problem)

    def looked_for() -> Plan:
        """Make the best plan that so many rounds find."""
        return quick_plan(problem, seed=seed, rounds=rounds, enough=enough)

    return _plain_unless_it_pays(problem, checked(problem, looked_for))


def _gone_on(problem: Problem, old: Plan, steady: Steadiness) -> GoneOn:
    """Return the plan to go on by, a new one where nothing of the old one can be carried out.

    Args:
        problem: what is to do now.
        old: the plan up to now.
        steady: what a start that moves costs.

    """
    rounds = usual_rounds(problem)

    def from_nothing(search: Search) -> Plan:
        """Make a plan of which nothing has to stay, the best of a search."""
        enough = _no_use_to_look_on(problem)
        return quick_plan(problem, rounds=rounds, enough=enough, search=search)

    def looked_for_long() -> Plan:
        """Make the best plan that the usual rounds find, however good it is sooner."""
        return quick_plan(problem, rounds=rounds)

    gone = gone_on(problem, old, steady, from_nothing)
    return gone or GoneOn(checked(problem, looked_for_long), anew=True)


def _tidied(problem: Problem, old: Plan, plan: Plan, steady: Steadiness) -> Plan:
    """Return a plan made anew as a maker would have it, where that moves no more than it saves.

    A third of the next week is kept whatever would be saved.

    Args:
        problem: what is to do now.
        old: the plan up to now.
        plan: the one made anew.
        steady: what a start that moves costs.

    """
    tidy = _as_a_maker_would(problem, plan, old)
    was, now = gone_by(problem, old, plan, steady), gone_by(problem, old, tidy, steady)
    if now.kept_share < min(was.kept_share, WORTH_KEEPING):
        return plan
    saved = was.score.pots - now.score.pots
    return tidy if now.price_min <= was.price_min + A_MIX_MOVED_MIN * saved else plan


def better_than(
    problem: Problem,
    plan: Plan,
    *,
    seed: int = 0,
    rounds: int | None = None,
    stop: Callable[[], bool] | None = None,
) -> Plan | None:
    """Return a plan that is better by enough to say so, or None.

    Args:
        problem: what is to do.
        plan: the one to be better than.
        seed: for all that is left to chance.
        rounds: how long to look; as usual where it is None.
        stop: asked after each plan that is tried; True ends it.

    """
    if none_worth_offering(problem, plan):
        return None
    most = usual_rounds(problem) if rounds is None else rounds
    least = bound(problem)
    enough = Enough(least.late_min, least.finish_min)
    found = quick_plan(problem, seed=seed, rounds=most, start=plan, stop=stop, enough=enough)
    found = _as_a_maker_would(problem, found)
    return found if worth_offering(problem, plan, found) else None


def _as_a_maker_would(problem: Problem, plan: Plan, old: Plan | None = None) -> Plan:
    """Return the plan with mixes shared, and like with like, where that costs nothing.

    Args:
        problem: what is to do.
        plan: one that can be carried out.
        old: the plan up to now, whose runs of work stay as they were shown.

    """
    shared = with_shared_pots(problem, plan)
    return in_step(problem, shared, old)


def _no_use_to_look_on(problem: Problem) -> Enough:
    """Return what no plan can beat by enough to be taken instead of it."""
    least = bound(problem)
    if problem.rules:
        # As little late and as soon done, the orderly plan stands: it seldom pays to leave it.
        return Enough(least.late_min, least.finish_min)
    goals_min = sum(reached_min for _, reached_min in least.goals)
    return Enough(least.late_min, least.finish_min, goals_min)


def none_worth_offering(problem: Problem, plan: Plan) -> bool:
    """Tell whether the bound alone shows that no plan is better by enough to say so."""
    found, least = score(problem, plan), bound(problem)
    if found.left_out or found.hard_late_min:
        return False
    later_than_needed = found.late_min - least.late_min
    longer_than_needed = found.finish_min - least.finish_min
    return later_than_needed < WORTH_MIN and longer_than_needed < WORTH_MIN


def worth_offering(problem: Problem, plan: Plan, found: Plan) -> bool:
    """Tell whether a plan passes the checker, and is better than ``plan`` by enough to say so.

    Args:
        problem: what is to do.
        plan: the one that people work by.
        found: the other.

    """
    return is_sound(problem, found) and _worth(score(problem, plan), score(problem, found))


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


def _plain_unless_it_pays(problem: Problem, best: Plan) -> Plan:
    """Return the orderly plan where the best one gains too little to be less plain."""
    if not problem.rules:
        return best
    plain = orderly_plan(problem)
    if _pays(score(problem, plain), score(problem, best), len(problem.goals)):
        return best
    return plain if is_sound(problem, plain) else best


def _pays(plain: Score, best: Score, goals: int) -> bool:
    """Tell whether a plan gains enough to be less plain.

    Args:
        plain: the score of the plain one.
        best: the score of the other.
        goals: how many there are.

    """
    *plain_loses, plain_late_min = promise_of(plain)
    *best_loses, best_late_min = promise_of(best)
    less_late = plain_late_min - best_late_min
    sooner = plain.finish_min - best.finish_min
    goals_sooner = plain.goals_min - best.goals_min
    saves_a_sitting = sooner >= SITTING_MIN or goals_sooner >= SITTING_MIN * goals
    return plain_loses > best_loses or less_late >= WORTH_MIN or saves_a_sitting


def _worth(kept: Score, found: Score) -> bool:
    """Tell whether a plan is better than another by enough to say so."""
    *kept_loses, kept_late_min = promise_of(kept)
    *found_loses, found_late_min = promise_of(found)
    if found_loses != kept_loses:
        return found_loses < kept_loses
    if found_late_min != kept_late_min:
        return kept_late_min - found_late_min >= WORTH_MIN
    if found.latest_min > kept.latest_min:
        return False
    return kept.finish_min - found.finish_min >= WORTH_MIN
