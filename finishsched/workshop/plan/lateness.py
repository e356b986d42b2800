"""Which pieces a plan has after their due dates."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from finishsched.planning.score import goal_finishes

if TYPE_CHECKING:
    from finishsched.planning.problem import Plan, Problem
    from finishsched.workshop.plan.work_left import Work


def late_by_piece(works: Mapping[str, Work], problem: Problem, plan: Plan) -> Mapping[str, int]:
    """Return by how many minutes ``plan`` has each piece after its due date, where it has."""
    finishes = goal_finishes(problem, plan)
    return {
        ref: finishes[goal.key] - goal.due_min
        for goal in problem.goals
        if goal.due_min is not None and finishes.get(goal.key, 0) > goal.due_min
        for ref in works[goal.key].refs or (goal.key,)
    }
