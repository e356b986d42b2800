"""What the past leaves to hands and stores: where hands stand, and what is still held."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from finishsched.planning.exact.facts import Facts
from finishsched.planning.hands_work import NO_SET_UP
from finishsched.planning.problem import Done, Hands, Use
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
    """When all that they did in it is over."""
    clear_min: int = 0
    """The minutes of clearing up after the last in it."""

    def ready_min(self, kind: str) -> int:
        """Return when they can begin to get ready for a kind of work.

        What could be cleared up before now has been.
        """
        if kind == self.kind:
            return self.now_min
        cleared_min = self.end_min + self.clear_min
        return max(cleared_min, self.now_min)


def past_of(facts: Facts, hands: Hands) -> Past:
    """Return what the past leaves to ``hands``.

    Args:
        facts: what is done.
        hands: whose work it was, and when they are there.

    """
    now_min = facts.problem.now_min
    theirs = [done for done in facts.done.values() if _took_time_of(done, hands)]
    unfinished = [done for done in theirs if done.end_min > now_min]
    running = tuple([Window(now_min, done.end_min) for done in unfinished])
    overrun = _overrun(facts, hands, theirs)
    window = _open_at(hands, now_min)
    # Hands are ready for the kind that they did last in these hours; new hours begin unready.
    here = [done for done in theirs if window and window.start_min <= done.start_min]
    if not here:
        return Past(now_min, running, overrun)
    last = max(here, key=_by_time)
    ends = [done.end_min for done in here]
    return Past(
        now_min=now_min,
        running=running,
        overrun=overrun,
        kind=_kind(facts, last),
        end_min=max(ends),
        clear_min=_clear_min(facts, last),
    )


def _by_time(done: Done) -> tuple[int, int, str]:
    """Return what work is ordered by: its start, its end, and its key, so that no two are alike."""
    return done.start_min, done.end_min, done.key


def _took_time_of(done: Done, hands: Hands) -> bool:
    """Return whether these hands were busy with something done, for any time at all."""
    took_time = done.end_min > done.start_min
    return took_time and done.by == hands.name


def _open_at(hands: Hands, now_min: int) -> Window | None:
    """Return the window that now lies in."""
    for window in hands.windows:
        if window.start_min <= now_min < window.end_min:
            return window
    return None


def _overrun(facts: Facts, hands: Hands, theirs: Sequence[Done]) -> tuple[Window, ...]:
    """Return what ran into a window that it did not begin in, and is not cleared up by now.

    Args:
        facts: what is done.
        hands: whose hours.
        theirs: what they did that took time.

    """
    now_min = facts.problem.now_min
    found: list[Window] = []
    for done in theirs:
        cleared_min = done.end_min + _clear_min(facts, done)
        if cleared_min > now_min and _runs_into(done, hands):
            found.append(Window(now_min, cleared_min))
    return tuple(found)


def _kind(facts: Facts, done: Done) -> str:
    """Return the kind of work that something done was; empty where it is not known.

    Args:
        facts: what is done.
        done: some of it.

    """
    activity = facts.past.get(done.key)
    return activity.kind if activity else ""


def _runs_into(done: Done, hands: Hands) -> bool:
    """Tell whether work that is done lasted into hours that began meanwhile."""
    return any(done.start_min < window.start_min < done.end_min for window in hands.windows)


def _clear_min(facts: Facts, done: Done) -> int:
    """Return the minutes of clearing up after something done."""
    return facts.set_ups.get(_kind(facts, done), NO_SET_UP).after


class OpenHold(NamedTuple):
    """What something done holds until an open activity starts, and at least to its own end."""

    until: str
    """The key of that activity."""
    end_min: int
    """When what was done ended."""
    amount: int


class HeldStep(NamedTuple):
    """How much is held together from one minute up to another."""

    start_min: int
    end_min: int
    amount: int


class PastHolds(NamedTuple):
    """What done activities hold of a store from now on."""

    until_a_start: list[OpenHold]
    steps: list[HeldStep]
    """All else that is held, one step after the other."""


def past_holds(facts: Facts, store: str) -> PastHolds:
    """Return what done activities hold of a store from now on.

    Args:
        facts: what is done.
        store: its name.

    """
    now_min = facts.problem.now_min
    until_a_start: list[OpenHold] = []
    ends: list[_HoldEnd] = []
    for key, activity in facts.past.items():
        end_min = facts.done[key].end_min
        for use in activity.uses:
            if use.store != store or not use.amount:
                continue
            if use.until is not None and use.until in facts.open:
                until_a_start.append(OpenHold(use.until, end_min, use.amount))
                continue
            over_min = _over_min(facts, use, end_min)
            if over_min > now_min:
                ends.append(_HoldEnd(over_min, use.amount))
    return PastHolds(until_a_start, _steps(ends, now_min))


class _HoldEnd(NamedTuple):
    """When something that is held is given back, and how much of it."""

    at_min: int
    amount: int


def _over_min(facts: Facts, use: Use, end_min: int) -> int:
    """Return when a use is over, of something done that ended then.

    Args:
        facts: what is done.
        use: what it takes of a store.
        end_min: when it ended.

    """
    until: Done | None = None
    if use.until is not None:
        until = facts.done.get(use.until)
    if until is None:
        return end_min + use.hold_min
    return max(end_min, until.start_min)


def _steps(ends: list[_HoldEnd], now_min: int) -> list[HeldStep]:
    """Return how much is held from one end to the next, of all that is held from now on.

    Args:
        ends: when each hold is over.
        now_min: from when on.

    """
    steps: list[HeldStep] = []
    at = now_min
    times = {end.at_min for end in ends}
    for over_min in sorted(times):
        still_held = [end.amount for end in ends if end.at_min >= over_min]
        steps.append(HeldStep(at, over_min, sum(still_held)))
        at = over_min
    return steps
