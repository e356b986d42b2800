"""What held back each start of a plan, in words."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable

from finishsched.planning.problem import Done, HeldBy, Placed, Plan, Problem
from finishsched.planning.replan import ChangeKind, Replanned
from finishsched.planning.window import Window
from finishsched.workshop.plan.work_left import ShopProblem

_MOVES = (ChangeKind.NEW, ChangeKind.LATER, ChangeKind.SOONER, ChangeKind.HANDS)


class ReasonWords:
    """Says of each start of a plan what held it back."""

    def __init__(
        self,
        shop: ShopProblem,
        problem: Problem,
        plan: Plan,
        found: Replanned | None = None,
    ) -> None:
        """Look up what lies where.

        Args:
            shop: the steps that activities are.
            problem: what was planned.
            plan: of that.
            found: how it came of the plan before it, where there was one.

        """
        self._shop = shop
        self._there: dict[str, Placed | Done] = {done.key: done for done in problem.done}
        self._there.update({each.key: each for each in plan.placed})
        self._windows = {hands.name: hands.windows for hands in problem.hands}
        self._opens: dict[str, list[int]] = {}
        """By hands, when each of their windows begins."""
        for name, windows in self._windows.items():
            self._opens[name] = [window.start_min for window in windows]
        self._set_ups = {each.kind for each in problem.set_ups}
        prepared = problem.activities if problem.set_ups else ()
        self._kinds = {activity.key: activity.kind for activity in prepared}
        changes = found.changes if found is not None else ()
        self._goes_on = found is not None and (found.kept or bool(changes))
        self._moved = {change.key for change in changes if change.kind in _MOVES}

    def of(self, placed: Placed) -> str:
        """Return what held it back; empty for nothing."""
        key = placed.held_by_key
        named = self._shop.say(key) if key in self._shop.steps else key
        say = _WORDS.get(placed.held_by)
        return say(self, placed, named) if say is not None else ""

    def wait(self, placed: Placed, named: str) -> str:
        """Name what comes first, or whose wait."""
        before = self._shop.steps.get(placed.held_by_key)
        if before is not None and before.wait is None:
            return f"{named} comes first"
        return f"the wait after {named}" if named else "the wait before"

    def hours(self, placed: Placed, named: str) -> str:
        """Name whose hours begin."""
        words = f"hours of {named}" if named else "hours"
        return words + self._between(placed)

    def busy(self, placed: Placed, named: str) -> str:
        """Name what the hands are at, or were at in all hours before."""
        other = self._there.get(placed.held_by_key)
        window = self._window(placed)
        words = f"{placed.by} is busy with {named}" if named else f"{placed.by} is busy"
        if other is not None and window is not None and other.end_min <= window.start_min:
            words = f"{placed.by} is busy in the hours before, last with {named}"
        return words + self._between(placed)

    def order(self, placed: Placed) -> str:
        """Say that it need not be so."""
        if self._goes_on and placed.key not in self._moved:
            return "kept where it was; it could begin sooner"
        return "something else goes first"

    def _between(self, placed: Placed) -> str:
        """Say what set-ups lie between what held it back and its start, where any do."""
        window = self._window(placed)
        if window is None or not self._set_ups:
            return ""
        since = window.start_min
        before = self._there.get(placed.held_by_key)
        if before is not None:
            since = max(since, before.end_min)
        if since >= placed.start_min:
            return ""
        kind = self._kinds.get(placed.key, "")
        return f", then getting ready for {kind}" if kind in self._set_ups else ", then clearing up"

    def _window(self, placed: Placed) -> Window | None:
        """Return the hours that it lies in."""
        name = placed.by or ""
        at = bisect_right(self._opens.get(name, ()), placed.start_min) - 1
        return self._windows[name][at] if at >= 0 else None


_WORDS: dict[HeldBy, Callable[[ReasonWords, Placed, str], str]] = {
    HeldBy.LAG: ReasonWords.wait,
    HeldBy.HOURS: ReasonWords.hours,
    HeldBy.BUSY: ReasonWords.busy,
    HeldBy.SET_UP: lambda _words, _placed, kind: f"getting ready for {kind}",
    HeldBy.ROOM: lambda _words, _placed, named: (
        f"dust and wet apart: {named}" if named else "dust and wet apart"
    ),
    HeldBy.STORE: lambda _words, _placed, named: f"no place in {named}" if named else "no place",
    HeldBy.WINDOW: lambda _words, _placed, named: (
        f"the window before {named}" if named else "a window to keep"
    ),
    HeldBy.POT: lambda _words, _placed, named: f"one mix for it and {named}",
    HeldBy.ORDER: lambda words, placed, _named: words.order(placed),
}
