"""What the past leaves to hands and stores: where hands stand, and what is still held."""

from __future__ import annotations

from dataclasses import dataclass

from finishsched.planning.exact.facts import Facts
from finishsched.planning.problem import Done, Hands
from finishsched.planning.window import Window

NO_KIND = "\0"
"""No kind of work is called so."""


@dataclass(frozen=True, slots=True)
class Past:
    """What one pair of hands did last in the window that now lies in, and what they are at."""

    now_min: int
    running: tuple[Window, ...]
    """What they are at, from now on."""
    overrun: tuple[Window, ...]
    """What ran into a window that it did not begin in, until it is cleared up."""
    kind: str = NO_KIND
    """The kind of the last in this window."""
    end_min: int = 0
    clear_min: int = 0

    def ready_min(self, kind: str) -> int:
        """Return when they can begin to get ready for a kind of work.

        What could be cleared up before now has been.
        """
        if kind == self.kind:
            return self.now_min
        return max(self.end_min + self.clear_min, self.now_min)


def past_of(facts: Facts, hands: Hands) -> Past:
    """Return what the past leaves to ``hands``."""
    now_min = facts.problem.now_min
    window = next((w for w in hands.windows if w.start_min <= now_min < w.end_min), None)
    theirs = [done for done in facts.done.values() if done.by == hands.name]
    theirs = [done for done in theirs if done.end_min > done.start_min]
    here = [done for done in theirs if window and window.start_min <= done.start_min]
    running = tuple(Window(now_min, d.end_min) for d in theirs if d.end_min > now_min)
    overrun = tuple(
        Window(now_min, done.end_min + _clear_min(facts, done))
        for done in theirs
        if done.end_min + _clear_min(facts, done) > now_min and _runs_into(done, hands)
    )
    if not here:
        return Past(now_min, running, overrun)
    last = max(here, key=lambda done: (done.start_min, done.end_min, done.key))
    end_min = max(done.end_min for done in here)
    return Past(now_min, running, overrun, _kind(facts, last), end_min, _clear_min(facts, last))


def _kind(facts: Facts, done: Done) -> str:
    activity = facts.past.get(done.key)
    return activity.kind if activity else ""


def _runs_into(done: Done, hands: Hands) -> bool:
    """Tell whether work that is done lasted into hours that began meanwhile."""
    return any(done.start_min < window.start_min < done.end_min for window in hands.windows)


def _clear_min(facts: Facts, done: Done) -> int:
    return facts.set_ups.get(_kind(facts, done), (0, 0))[1]


def past_holds(
    facts: Facts, store: str
) -> tuple[list[tuple[str, int, int]], list[tuple[int, int, int]]]:
    """Return what done activities hold of a store from now on.

    First what is held until an open activity starts, as that, the own end and the amount; then how
    much else is held together, as start, end and amount, one after the other.
    """
    now_min = facts.problem.now_min
    open_: list[tuple[str, int, int]] = []
    ends: list[tuple[int, int]] = []
    for key, activity in facts.past.items():
        end_min = facts.done[key].end_min
        for use in activity.uses:
            if use.store != store or not use.amount:
                continue
            if use.until in facts.open:
                open_.append((str(use.until), end_min, use.amount))
                continue
            until = facts.done.get(use.until) if use.until is not None else None
            over_min = max(end_min, until.start_min) if until else end_min + use.hold_min
            if over_min > now_min:
                ends.append((over_min, use.amount))
    steps: list[tuple[int, int, int]] = []
    at = now_min
    for over_min in sorted({end for end, _amount in ends}):
        steps.append((at, over_min, sum(amount for end, amount in ends if end >= over_min)))
        at = over_min
    return open_, steps
