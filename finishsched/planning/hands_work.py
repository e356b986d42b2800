"""What one pair of hands does, looked up: what lies beside a work, and what is free of a window."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple, Protocol

from finishsched.planning.problem import Activity, SetUp
from finishsched.planning.window import Window


class There(Protocol):
    """Where one activity lies, planned or done."""

    @property
    def key(self) -> str:
        """Which activity."""

    @property
    def start_min(self) -> int:
        """When it starts."""

    @property
    def end_min(self) -> int:
        """When it ends."""

    @property
    def by(self) -> str | None:
        """Whose hands do it."""


class SetUpMinutes(NamedTuple):
    """The minutes of getting ready for a kind of work, and of clearing up after it."""

    before: int
    after: int
    at_end: int = 0
    """Minutes before the end of the hours by which all of the kind is over."""


NO_SET_UP = SetUpMinutes(0, 0)


class Gap(NamedTuple):
    """What is free between two works, or a work and the edge of the window."""

    start_min: int
    end_min: int
    before: str | None
    """The kind of the work before it in its window; None where there is none."""
    after: str | None
    """The kind of the work after it in its window; None where there is none."""


class Works:
    """What one pair of hands does, in the order of starts, and when it could."""

    def __init__(
        self,
        windows: tuple[Window, ...],
        activities: Mapping[str, Activity],
        set_ups: Iterable[SetUp],
    ) -> None:
        """Begin with no work.

        Args:
            windows: when these hands are there, in the order of time.
            activities: all of them, by key.
            set_ups: what each kind of work takes beside itself.

        """
        self.windows = windows
        self.set_ups = set_up_minutes(set_ups)
        self._opens = [window.start_min for window in windows]
        self._activities = activities
        self._starts: list[int] = []
        """By work, when it starts."""
        self._works: list[There] = []
        self._widest: dict[int, int] = {}
        """By the place of a window, the minutes of its widest gap, once somebody has asked."""

    def add(self, there: There) -> There | None:
        """Add a work that starts no sooner than those before, and return the one before it."""
        before = self._works[-1] if self._works else None
        self._starts.append(there.start_min)
        self._works.append(there)
        return before

    def window_at(self, minute: int) -> int:
        """Return the place of the last window that begins by a minute, or -1."""
        return bisect_right(self._opens, minute) - 1

    def set_up(self, kind: str) -> SetUpMinutes:
        """Return what it takes to get ready for a kind of work, and to clear up after it."""
        return self.set_ups.get(kind, NO_SET_UP)

    def around(self, placed: There) -> tuple[There | None, There | None]:
        """Return what they do last before its start, and next from there on, but for itself."""
        works = self._works
        at = bisect_right(self._starts, placed.start_min - 1)
        after = at
        while after < len(works) and works[after].key == placed.key:
            after += 1
        last: There | None = None
        following: There | None = None
        if at:
            last = works[at - 1]
        if after < len(works):
            following = works[after]
        return last, following

    def widest(self, at: int) -> int:
        """Return the minutes of the widest gap in the window at a place."""
        if at not in self._widest:
            self._widest[at] = self._widest_in(self.windows[at])
        return self._widest[at]

    def _widest_in(self, window: Window) -> int:
        """Return the minutes of the widest gap in a window."""
        first, last = self._inside(window)
        start = window.start_min
        if first:
            ran_on_until = self._works[first - 1].end_min
            start = max(start, ran_on_until)
        widest = 0
        for work in self._works[first:last]:
            gap_min = work.start_min - start
            widest = max(widest, gap_min)
            start = max(start, work.end_min)
        left_min = window.end_min - start
        return max(widest, left_min)

    def last_of(self, at: int) -> There | None:
        """Return the last work in the window at a place, where there is one."""
        window = self.windows[at]
        _, after = self._inside(window)
        if not after:
            return None
        last = self._works[after - 1]
        return last if last.end_min > window.start_min else None

    def gaps(self, window: Window, since: int, least: int) -> Iterator[Gap]:
        """Give what is free of a window.

        Args:
            window: one of theirs.
            since: the minute from which on it counts.
            least: the minutes that must be left from then on.

        """
        first, last = self._inside(window)
        start = window.start_min
        before: str | None = None
        if first and self._works[first - 1].end_min > start:
            start = self._works[first - 1].end_min
            before = self._kind(first - 1)
        for at in range(first, last):
            end = self._starts[at]
            if end - max(start, since) >= least:
                yield Gap(start, end, before, self._kind(at))
            start = max(start, self._works[at].end_min)
            before = self._kind(at)
        if window.end_min - max(start, since) >= least:
            yield Gap(start, window.end_min, before, None)

    def _inside(self, window: Window) -> tuple[int, int]:
        """Return from where up to where works begin in a window."""
        first = bisect_left(self._starts, window.start_min)
        last = bisect_left(self._starts, window.end_min, first)
        return first, last

    def _kind(self, at: int) -> str:
        """Return the kind of the work at a place."""
        return self._activities[self._works[at].key].kind

    def inside(self, gap: Gap, window: Window, kind: str, now: int) -> tuple[int, int]:
        """Return from when until when there is room in a gap for work, beside set-ups.

        Args:
            gap: what is free.
            window: in which it lies.
            kind: the kind of the work.
            now: nobody gets ready before, but what could be cleared up before has been.

        """
        mine = self.set_up(kind)
        start, end = gap.start_min, gap.end_min
        if gap.before is None:
            start = max(window.start_min, now) + mine.before
        elif gap.before != kind:
            clear_up = self.set_up(gap.before).after
            start = max(start, now - clear_up) + clear_up + mine.before
        if gap.after is None:
            end -= mine.after
        elif gap.after != kind:
            end -= mine.after + self.set_up(gap.after).before
        return start, min(end, window.end_min - mine.at_end)


def set_up_minutes(set_ups: Iterable[SetUp]) -> dict[str, SetUpMinutes]:
    """Return what it takes to get ready for each kind of work, and to clear up after it."""
    found: dict[str, SetUpMinutes] = {}
    for each in set_ups:
        found[each.kind] = SetUpMinutes(each.before_min, each.after_min, each.at_end_min)
    return found
