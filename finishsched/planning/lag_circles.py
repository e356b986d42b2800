"""Activities that wait for each other in a circle, so that none of them can ever start."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TypeAlias

from finishsched.planning.problem import Lag, Problem

_Edge: TypeAlias = tuple[str, str, int]
"""An activity, another, and the least minutes from the start of the one to that of the other.

They are below zero where the other may start so much sooner, as at the end of a window.
"""


def circle_of(problem: Problem) -> list[str]:
    """Return activities that can never start, each later than itself; empty when there are none.

    Starts are pushed along the lags, and back along hard windows; what is still pushed after as
    many rounds as there are activities lies on, or behind, a circle that goes up in time.
    """
    minutes = _open_minutes(problem)
    edges = _all_edges(problem, minutes)
    start = dict.fromkeys(minutes, 0)
    pushed_by: dict[str, str] = {}
    pushed = ""
    for _ in range(len(minutes) + 1):
        pushed = ""
        for one, other, weight in edges:
            least = start[one] + weight
            if least > start[other]:
                start[other] = least
                pushed_by[other] = one
                pushed = other
        if not pushed:
            return []
    for _ in minutes:
        # Far enough back it lies on the circle, and not only behind it.
        pushed = pushed_by[pushed]
    return _round(pushed, pushed_by)


def _all_edges(problem: Problem, minutes: Mapping[str, int]) -> list[_Edge]:
    """Return what the lags say of the starts of activities that are not done.

    Args:
        problem: has the lags.
        minutes: how long each activity takes that is not done, by key.

    """
    edges: list[_Edge] = []
    for lag in problem.lags:
        if lag.before in minutes and lag.after in minutes:
            edges += _edges(lag, minutes[lag.before])
    return edges


def _open_minutes(problem: Problem) -> dict[str, int]:
    """Return how long each activity takes that is not done."""
    done = {each.key for each in problem.done}
    minutes: dict[str, int] = {}
    for activity in problem.activities:
        if activity.key not in done:
            minutes[activity.key] = activity.minutes
    return minutes


def _round(first: str, pushed_by: Mapping[str, str]) -> list[str]:
    """Return a circle, from one of its activities on, each before the one that it pushes.

    Args:
        first: one that lies on the circle.
        pushed_by: by activity, the one that it is later for.

    """
    circle = [first]
    other = pushed_by[first]
    while other != first:
        circle.append(other)
        other = pushed_by[other]
    circle.reverse()
    return circle


def _edges(lag: Lag, before_min: int) -> Iterator[_Edge]:
    """Give what a lag says of two starts.

    Args:
        lag: from the end of the one to the start of the other.
        before_min: the minutes that the one before takes.

    """
    least = before_min + lag.least_min
    yield lag.before, lag.after, least
    if lag.most_min is not None and lag.hard:
        # The one before starts no sooner than so long before the one after.
        most = before_min + lag.most_min
        yield lag.after, lag.before, -most
