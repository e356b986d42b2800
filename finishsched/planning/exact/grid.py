"""The ruler that the exact planner measures time with: whole units from a first minute.

A plan laid on the ruler keeps every rule in minutes as well, because what must not be too short is
rounded up and what must not be too long is rounded down.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import gcd

from finishsched.planning.problem import Problem


@dataclass(frozen=True, slots=True)
class Grid:
    """Marks every ``unit_min`` minutes from ``base_min`` on."""

    base_min: int
    """The minute of the first mark."""
    unit_min: int
    """The minutes from one mark to the next, at least 1."""

    def at_or_after(self, time_min: int) -> int:
        """Return the first mark that is not before ``time_min``."""
        return -((self.base_min - time_min) // self.unit_min)

    def at_or_before(self, time_min: int) -> int:
        """Return the last mark that is not after ``time_min``."""
        return (time_min - self.base_min) // self.unit_min

    def time_min(self, mark: int) -> int:
        """Return the minute of a mark."""
        return self.base_min + mark * self.unit_min

    def up(self, length_min: int) -> int:
        """Return the fewest units that are not shorter than ``length_min``."""
        return -(-length_min // self.unit_min)

    def down(self, length_min: int) -> int:
        """Return the most units that are not longer than ``length_min``."""
        return length_min // self.unit_min


def common_unit_min(problem: Problem) -> int:
    """Return the longest unit in which every figure of ``problem`` is a whole number, at least 1.

    On a grid of it no plan is lost: where all figures are whole, so are the starts of a best plan.
    """
    return max(gcd(*_figures(problem)), 1)


def _figures(problem: Problem) -> Iterator[int]:
    """Yield every figure in minutes that a start can hang on."""
    yield 0
    for activity in problem.activities:
        yield activity.minutes
        yield activity.tail_min
        for bare in activity.bare:
            yield bare.after_min
        for use in activity.uses:
            yield use.hold_min
    for lag in problem.lags:
        yield lag.least_min
        yield lag.most_min or 0
        yield lag.remedy_min or 0
    for set_up in problem.set_ups:
        yield set_up.before_min
        yield set_up.after_min
        yield set_up.at_end_min
    for rule in problem.rules:
        yield rule.settle_min
    for time_min in _times(problem):
        yield time_min - problem.now_min


def _times(problem: Problem) -> Iterator[int]:
    """Yield every minute at which something can begin or has to end."""
    now_min = problem.now_min
    for activity in problem.activities:
        if activity.release_min is not None and activity.release_min > now_min:
            yield activity.release_min
    for hands in problem.hands:
        for window in hands.windows:
            if window.end_min > now_min:
                yield max(window.start_min, now_min)
                yield window.end_min
    for goal in problem.goals:
        if goal.due_min is not None:
            yield goal.due_min
    for done in problem.done:
        yield done.end_min
