"""How far a film has dried in air that changes: the pace of drying added up over time.

Progress is counted in seconds of the air that the stated time holds for, so a film is likely ready
when its progress reaches that time. Concrete is reckoned in the same way by the equivalent age of
ASTM C1074.
"""

from __future__ import annotations

from array import array
from bisect import bisect_left, bisect_right
from collections import OrderedDict

from finishsched.drying.course import Course
from finishsched.drying.forecast import Reading
from finishsched.drying.laws import Law, speed
from finishsched.factors import DAY_S
from finishsched.model.shop import Air

AHEAD_S = 60 * DAY_S
"""How far to look: what is not dry by then, 60 days after the last reading, never is."""

MOST_LAWS = 64
FAR_S = 3 * DAY_S
"""A span this far from a window is reckoned apart, and not all that lies between."""
MOST_WINDOWS = 64


class DryingSums:
    """Progress of drying over one course of the air, for every law that is asked about.

    Each law keeps running sums over the time that was asked for, so that every later question is
    a search in them. A reading at the end costs nothing; one in the past, the sums after it.
    """

    def __init__(self, course: Course, most_laws: int = MOST_LAWS) -> None:
        """Reckon over ``course``, and keep sums for the ``most_laws`` last asked about."""
        self._course = course
        self._most_laws = most_laws
        self._sums: OrderedDict[Law, list[_Sums]] = OrderedDict()

    def progress_s(self, law: Law, start_s: float, end_s: float) -> float:
        """Return the progress between two instants in epoch seconds; 0 when end is not later."""
        if end_s <= start_s:
            return 0.0
        sums = self._of(law, start_s, end_s)
        sums.reach(start_s, end_s)
        return max(0.0, sums.at(end_s) - sums.at(start_s))

    def when_s(self, law: Law, start_s: float, amount_s: float) -> float | None:
        """Return the instant at which progress since ``start_s`` comes to ``amount_s``.

        None when it does not come to that within 60 days of the last reading, or of the start.
        """
        if amount_s <= 0:
            return start_s
        last_s = self._course.last_s
        limit_s = AHEAD_S + (start_s if last_s is None else max(start_s, last_s))
        return self._of(law, start_s, start_s).when_s(start_s, amount_s, limit_s)

    def add(self, reading: Reading) -> None:
        """Take a reading into the course, and forget what it makes untrue.

        Raises:
            ValueError: for a reading that is no air at all.

        """
        self._course.add(reading)
        for windows in self._sums.values():
            for sums in windows:
                sums.forget_after(reading.at_s)

    def _of(self, law: Law, start_s: float, end_s: float) -> _Sums:
        """Return the sums of ``law`` near a span: a wait of long ago has a window of its own."""
        windows = self._sums.setdefault(law, [])
        self._sums.move_to_end(law)
        if len(self._sums) > self._most_laws:
            self._sums.popitem(last=False)
        near = next((sums for sums in windows if sums.is_near(start_s, end_s)), None)
        if near is None and len(windows) >= MOST_WINDOWS:
            near = windows[-1]
        if near is None:
            near = _Sums(self._course, law)
            windows.append(near)
        return near


class _Sums:
    """Running sums of one law, over the window of time that was asked for so far."""

    __slots__ = ("_course", "_edges_s", "_paces", "_sums_s")

    def __init__(self, course: Course, law: Law) -> None:
        self._course = course
        self._edges_s = array("d")
        self._sums_s = array("d")
        self._paces = _Paces(law)

    def reach(self, start_s: float, end_s: float) -> None:
        """Widen the window so that it holds both instants."""
        if not self._edges_s:
            self._edges_s.append(start_s)
            self._sums_s.append(0.0)
        elif start_s < self._edges_s[0]:
            self._reach_back(start_s)
        if self._edges_s[-1] < end_s:
            self._reach_on(end_s)

    def is_near(self, start_s: float, end_s: float) -> bool:
        """Tell whether to hold both instants costs little beside what the window holds."""
        if not self._edges_s:
            return True
        return start_s <= self._edges_s[-1] + FAR_S and end_s >= self._edges_s[0] - FAR_S

    def at(self, at_s: float) -> float:
        """Return the running sum at an instant within the window."""
        edges_s, sums_s = self._edges_s, self._sums_s
        after = bisect_right(edges_s, at_s)
        if after == len(edges_s):
            return sums_s[-1]
        share = (at_s - edges_s[after - 1]) / (edges_s[after] - edges_s[after - 1])
        return sums_s[after - 1] + share * (sums_s[after] - sums_s[after - 1])

    def when_s(self, start_s: float, amount_s: float, limit_s: float) -> float | None:
        """Return when the sum has grown by ``amount_s`` since ``start_s``; None after the limit."""
        self.reach(start_s, start_s)
        begun_s = self.at(start_s)
        target_s = begun_s + amount_s
        if target_s <= begun_s:
            return start_s
        self._reach_on(limit_s, target_s)
        edges_s, sums_s = self._edges_s, self._sums_s
        after = bisect_left(sums_s, target_s)
        if after == len(sums_s):
            return None
        share = (target_s - sums_s[after - 1]) / (sums_s[after] - sums_s[after - 1])
        found_s = edges_s[after - 1] + share * (edges_s[after] - edges_s[after - 1])
        return max(start_s, found_s) if found_s <= limit_s else None

    def forget_after(self, at_s: float) -> None:
        """Cut the window at an instant after which the air has changed."""
        kept = bisect_right(self._edges_s, at_s)
        del self._edges_s[kept:]
        del self._sums_s[kept:]

    def _reach_on(self, end_s: float, target_s: float = float("inf")) -> None:
        edges_s, sums_s = self._edges_s, self._sums_s
        total_s = sums_s[-1]
        if edges_s[-1] >= end_s or total_s >= target_s:
            return
        paces = self._paces
        for start_s, until_s, air in self._course.pieces(edges_s[-1]):
            total_s += (until_s - start_s) * paces[air[1:]]
            edges_s.append(until_s)
            sums_s.append(total_s)
            if until_s >= end_s or total_s >= target_s:
                return

    def _reach_back(self, start_s: float) -> None:
        first_s, total_s = self._edges_s[0], 0.0
        edges_s, sums_s = array("d", [start_s]), array("d", [0.0])
        for from_s, until_s, air in self._course.pieces(start_s):
            end_s = min(until_s, first_s)
            total_s += (end_s - from_s) * self._paces[air[1:]]
            edges_s.append(end_s)
            sums_s.append(total_s)
            if until_s >= first_s:
                break
        begun_s = self._sums_s[0]
        earlier_s = [min(begun_s, begun_s - total_s + sum_s) for sum_s in sums_s[:-1]]
        self._edges_s = edges_s[:-1] + self._edges_s
        self._sums_s = array("d", earlier_s) + self._sums_s


class _Paces(dict[tuple[float, float, float], float]):
    """The pace of a law by temperature, humidity and movement.

    Instruments read in steps, so that the same air comes again and again.
    """

    def __init__(self, law: Law) -> None:
        super().__init__()
        self._law = law

    def __missing__(self, air: tuple[float, float, float]) -> float:
        pace = self[air] = speed(self._law, Air(*air))
        return pace
