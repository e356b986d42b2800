"""Rooms and what stands in them: where the work is done, and what there is only so much of."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from finishsched.model.schedule import Verb

SETTLE_S = 900.0
"""A quarter of an hour for dust to settle (our assumption, after common practice)."""


@dataclass(frozen=True, slots=True)
class Room:
    """One room that is worked and dried in."""

    name: str
    settle_s: float = SETTLE_S
    """How long dust hangs in it after the last stroke."""
    apart: bool = True
    """True where no dust may be made while something wet lies in it."""
    verbs: tuple[Verb, ...] = ()
    """The work that is done there; none for all that no other room names."""
    volume_m3: float | None = None
    air_flow_m3_per_h: float | None = None
    """Fresh air that comes in, and foul air that goes out."""
    mixing_factor: float | None = None
    """How badly fresh air mixes with the room's: 1 for perfectly, up to 10."""


class HeldFor(StrEnum):
    """When a fixture is taken up by a piece."""

    WORK = "work"
    WAIT = "wait"
    BOTH = "both"


@dataclass(frozen=True, slots=True)
class Fixture:
    """Something of which only so much can be in use at once: rack slots, clamps, a spray corner."""

    name: str
    capacity: int = 1
    verbs: tuple[Verb, ...] = ()
    """The steps that need one."""
    held: HeldFor = HeldFor.BOTH


@dataclass(frozen=True, slots=True)
class Preparing:
    """What it takes to get ready for a kind of work, and to clear up after it."""

    verb: Verb
    before_s: float = 0.0
    after_s: float = 0.0
    at_end_s: float = 0.0
    """Of what is put by between works, and cleared up once at the end of the hours."""

    @property
    def clearing_s(self) -> float:
        """The seconds of clearing up after the last work of the hours."""
        return max(self.after_s, self.at_end_s)


def preparing_for(verb: Verb, own: Iterable[Preparing]) -> Preparing:
    """Return what a kind of work takes beside itself: as a shop says, else as is common.

    Args:
        verb: the work.
        own: what the shop says.

    """
    for each in own:
        if each.verb is verb:
            return each
    return Preparing(verb, at_end_s=60.0 * verb.does.clear_up_min)


def room_for(verb: Verb, rooms: Sequence[Room]) -> Room | None:
    """Return the room that ``verb`` is done in: one that names it, else one that names no work."""
    named = (room for room in rooms if verb in room.verbs)
    free = (room for room in rooms if not room.verbs)
    return next(named, None) or next(free, None) or next(iter(rooms), None)
