"""How good a plan is."""

from __future__ import annotations

from collections.abc import Iterator

from finishsched.planning.problem import Done, Placed, Plan, Problem, Score


def goal_finishes(problem: Problem, plan: Plan) -> dict[str, int]:
    """Return when each goal is reached, as far as its activities are done or placed.

    A goal that has none of either is left out.
    """
    finishes: dict[str, int] = {}
    for goal, reached_min in _reached(problem, plan):
        if goal and finishes.get(goal, reached_min) <= reached_min:
            finishes[goal] = reached_min
    return finishes


def score(problem: Problem, plan: Plan) -> Score:
    """Return the score of a plan; its misses are taken as it tells them."""
    finishes = goal_finishes(problem, plan)
    late = [
        max(0, finishes[goal.key] - goal.due_min)
        for goal in problem.goals
        if goal.due_min is not None and goal.key in finishes
    ]
    minutes = {activity.key: activity.minutes for activity in problem.activities}
    return Score(
        left_out=len(plan.left_out),
        hard_late_min=sum(miss.late_min for miss in plan.misses if miss.hard),
        late_min=sum(late),
        latest_min=max(late, default=0),
        finish_min=max((end for _, end in _reached(problem, plan)), default=problem.now_min),
        remedies_min=sum(p.end_min - p.start_min - minutes[p.key] for p in plan.placed),
        goals_min=sum(finishes.values()),
    )


def _reached(problem: Problem, plan: Plan) -> Iterator[tuple[str, int]]:
    """Yield the goal of each activity that is done or placed, and its end with its tail."""
    activities = {activity.key: activity for activity in problem.activities}
    everything: tuple[Done | Placed, ...] = (*problem.done, *plan.placed)
    for there in everything:
        activity = activities[there.key]
        yield activity.goal, there.end_min + activity.tail_min
