"""Who is done early goes on: this sitting's work is begun now, all of it by as much.

A plan that is kept would have somebody wait beside work that can be begun, for no other reason than
that it was shown so. The hands are here, nobody else counts on the minute, and nothing of a later
day moves: so the rest of the sitting is moved up as one, where the checker finds nothing wrong.
"""

from __future__ import annotations

from dataclasses import replace

from finishsched.planning.judging.checker import is_sound
from finishsched.planning.pots import mixed_of
from finishsched.planning.problem import Hands, Placed, Plan, Problem
from finishsched.planning.score import score
from finishsched.planning.window import Window

IDLE_MIN = 10
"""So long nobody stands idle; less is a breath (our assumption)."""


def begun_now(problem: Problem, plan: Plan) -> Plan:
    """Return the plan with the work of the hours that are open now moved up to now, where it can.

    The plan itself where nobody would wait for long, or something is in the way. Never a worse one.
    """
    for hands in problem.hands:
        window = _open_now(problem, hands)
        if window is not None:
            plan = _moved_up(problem, plan, hands.name, window)
    return plan


def _open_now(problem: Problem, hands: Hands) -> Window | None:
    """Return the hours that are open now."""
    for window in hands.windows:
        if window.start_min <= problem.now_min < window.end_min:
            return window
    return None


def _moved_up(problem: Problem, plan: Plan, name: str, window: Window) -> Plan:
    """Return the plan with one person's work of these hours moved up to now, where it can be.

    What nobody does, and only takes time, moves with it.

    Args:
        problem: what is to do now.
        plan: the plan.
        name: who works.
        window: the hours that are open now.

    """
    tonight = _begun_in(plan, name, problem.now_min, window.end_min)
    first_start = _first_start(plan, name, tonight)
    if first_start is None or first_start - problem.now_min <= IDLE_MIN:
        return plan
    up_min = first_start - problem.now_min
    placed = [_up(each, up_min) if each.key in tonight else each for each in plan.placed]
    mixed = mixed_of(problem, placed)
    moved = replace(plan, placed=tuple(placed), mixed=mixed)
    if not is_sound(problem, moved):
        return plan
    is_worse = score(problem, moved) > score(problem, plan)
    return plan if is_worse else moved


def _first_start(plan: Plan, name: str, tonight: set[str]) -> int | None:
    """Return when one person begins the first of some activities; None where none is theirs.

    Args:
        plan: where everything lies.
        name: who works.
        tonight: the keys of the activities.

    """
    for each in plan.placed:
        if each.by == name and each.key in tonight:
            return each.start_min
    return None


def _begun_in(plan: Plan, name: str, from_min: int, to_min: int) -> set[str]:
    """Return the keys of what one person, or nobody, begins between two minutes.

    Args:
        plan: where everything lies.
        name: whose work.
        from_min: the one minute, which counts.
        to_min: the other, which does not.

    """
    found: set[str] = set()
    for each in plan.placed:
        moves_with_it = each.by in (name, None)
        if moves_with_it and from_min <= each.start_min < to_min:
            found.add(each.key)
    return found


def _up(placed: Placed, up_min: int) -> Placed:
    """Return an activity so many minutes sooner."""
    return replace(
        placed,
        start_min=placed.start_min - up_min,
        end_min=placed.end_min - up_min,
    )
