"""The waits of a problem, looked up by what they begin and end with."""

from __future__ import annotations

from collections.abc import Sequence

from finishsched.planning.problem import Lag, Problem


class LagsAround:
    """What each activity waits for, and what waits for it."""

    def __init__(self, problem: Problem) -> None:
        """Look it up."""
        self._before: dict[str, list[Lag]] = {}
        self._after: dict[str, list[Lag]] = {}
        for lag in problem.lags:
            before = self._before.setdefault(lag.after, [])
            before.append(lag)
            after = self._after.setdefault(lag.before, [])
            after.append(lag)

    def before(self, key: str) -> Sequence[Lag]:
        """Return the waits that an activity ends."""
        return self._before.get(key, ())

    def after(self, key: str) -> Sequence[Lag]:
        """Return the waits that an activity begins."""
        return self._after.get(key, ())
