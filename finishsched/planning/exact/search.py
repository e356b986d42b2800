"""One run of the exact planner: what it was given, and the best plan up to now."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from finishsched.planning.held import held_back
from finishsched.planning.judging.checker import is_sound
from finishsched.planning.problem import Plan, Problem, Score
from finishsched.planning.score import score


@dataclass(slots=True)
class Search:
    """The best plan of one problem, while better ones are looked for until a time or a word."""

    problem: Problem
    start: Plan
    """The plan that was given."""
    ends_s: float
    """On the monotonic clock."""
    stop: Callable[[], bool]
    """Tells whether somebody wants it to end, or its time is up."""
    on_better: Callable[[Plan], None] | None
    """Is given each better plan."""
    best: Plan = field(init=False)
    best_score: Score = field(init=False)

    def __post_init__(self) -> None:
        """Begin with the plan that was given."""
        self.best = self.start
        self.best_score = score(self.problem, self.start)

    @property
    def placed(self) -> bool:
        """Whether the best plan holds everything."""
        return not self.best_score.left_out

    @property
    def whole(self) -> bool:
        """Whether it also keeps every hard window."""
        return self.placed and not self.best_score.hard_late_min

    def offer(self, plan: Plan) -> None:
        """Keep ``plan`` if it is better and passes the checker."""
        points = score(self.problem, plan)
        if points >= self.best_score or not is_sound(self.problem, plan):
            return
        self.best = held_back(self.problem, plan)
        self.best_score = points
        if self.on_better is not None:
            self.on_better(self.best)
