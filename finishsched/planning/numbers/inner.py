"""The problem as plain lists of whole numbers, worked out once for many tries.

Activities that are not done are numbered, and those that a window ties together make one block: a
block is placed as a whole, or not at all.

In the words of a shop: an activity is a step of a piece, sanding a lid or padding a coat; a wait is
the drying after it, a tail the curing after the last one. A window is how long a coat may wait for
the next. A goal is a piece that somebody waits for. Hands are a person, and gaps what is left of
the evenings; a store is the rack; a track is a room, while dust hangs in it or something is wet.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TypeAlias

NOT = -(1 << 60)
"""The start and the end of what is not placed; so early that no wait from it counts."""
NEVER = 1 << 60
"""Later than any calendar."""
MOST_IN_VAIN = 60_000
"""How many times an activity is placed in vain for blocks whose waits run in a circle, all plans of
a problem together: the rules may find no plan for such a block, and nobody waits longer than a
second to hear that."""
LOOSE = -1
"""The remedy of a window that has none: it must not be missed."""


@dataclass(slots=True)
class Held:
    """What an activity takes of one store."""

    store: int
    """Its number."""
    amount: int
    """How much of it, in pieces of what the store holds."""
    shared: int
    """The amount to look for: with what it takes of the same store at the same time otherwise."""
    from_start: bool
    """Whether it is held from the start of the activity on, or only from its end on."""
    hold_min: int
    """Minutes after the end of the activity until it is given back."""
    until: int
    """The activity that ends it, or -1."""
    until_min: int
    """When it ends at the earliest, where what ends it is done; else NOT."""


Wait: TypeAlias = tuple[int, int]
"""Another activity, and the least minutes between the end of the first and the start of the second.

Plain tuples, here and below: they are unpacked millions of times, and nothing is quicker.
"""
MissableWindow: TypeAlias = tuple[int, int, int]
"""The activity before, the most minutes after its end, and the minutes of its remedy or LOOSE."""
Deadline: TypeAlias = tuple[int, int]
"""The latest start, by a window that began with something done, and its remedy or LOOSE."""
Mark: TypeAlias = tuple[int, int]
"""A track of a room, and for how many minutes after an activity's end it is busy, or must be free.

Each rule of a room has two tracks: the even one for when the room is stirred up, the odd one for
when something lies bare in it.
"""
Stretch: TypeAlias = tuple[int, int]
"""From one minute up to another."""
HeldStretch: TypeAlias = tuple[int, int, int]
"""From one minute up to another, and how much is held meanwhile."""
OpenHold: TypeAlias = tuple[int, int, int, int]
"""A store, from when it is held, up to when at least, and how much of it."""


@dataclass(slots=True)
class Inner:
    """Lists by the number of the activity, of the block, of the hands, of the store."""

    keys: list[str]
    """By activity, what the problem calls it."""
    index: dict[str, int]
    """The number of each activity by its key."""
    minutes: list[int]
    """By activity, how long it takes with nothing to mend."""
    release: list[int]
    """The minute from which on it may begin: now, or later."""
    tail: list[int]
    """Minutes after its end until its goal is reached."""
    goal: list[int]
    """The number of its goal; -1 where it has none."""
    by: list[tuple[int, ...]]
    """The numbers of the hands that can do it; none where it takes no hands."""
    kind: list[int]
    """For set-ups; 0 where there is none."""
    avoids: list[tuple[Mark, ...]]
    """Tracks that must be free while it runs and some minutes longer."""
    marks: list[tuple[Mark, ...]]
    """Tracks that it makes busy while it runs and some minutes longer."""
    uses: list[list[Held]]
    """What it takes of stores."""
    ends_uses: list[list[tuple[int, int]]]
    """The uses (activity, which) that last until it starts."""
    before: list[list[Wait]]
    """What it waits for."""
    after: list[list[Wait]]
    """What waits for it."""
    windows: list[list[MissableWindow]]
    """By activity, those that it can miss, begun by activities that are not done."""
    ties: list[list[int]]
    """What is to start within a window of its end that must not be missed."""
    tied: list[int]
    """How many such windows it has itself."""
    deadlines: list[list[Deadline]]
    """By activity, those that it can miss, begun by what is done."""
    in_one_sitting: list[bool]
    """True where a window of its own that must not be missed is that of a sitting."""
    needs_out: list[bool]
    """True where it hangs on something that cannot be placed by itself."""
    gap_starts: list[list[int]]
    """By hands, where what is free of their hours begins; the next three lists go with it."""
    gap_ends: list[list[int]]
    """Where it ends."""
    gap_left: list[list[int]]
    """The kind of the work that a gap follows in its window; 0 for none."""
    gap_right: list[list[int]]
    """The kind of the work that follows a gap in its window; 0 for none."""
    set_up_before: list[int]
    """By kind, the minutes of getting ready."""
    set_up_after: list[int]
    """By kind, the minutes of clearing up."""
    at_end: list[int]
    """By activity, so many minutes before its hours end it is over."""
    tracks: list[list[Stretch]]
    """By track, when it is busy by what is done."""
    capacity: list[int]
    """By store, how much there is."""
    store_base: list[list[HeldStretch]]
    """By store, what is held by what is done."""
    open_base: list[tuple[int, OpenHold]]
    """Held by what is done until an activity starts: that activity, and what is held."""
    due: list[int]
    """By goal; NEVER where nobody has asked."""
    goal_floor: list[int]
    """By goal, when what is done of it is reached; NOT where nothing is."""
    floor_min: int
    """When all that is done is reached."""
    now_min: int
    """Nothing begins before."""
    vain_left: int = MOST_IN_VAIN
    """How many times more an activity may be placed in vain; all else here stays as it is."""
    frees: list[bool] = field(default_factory=list)
    """Whether something is held until it starts."""
    windowed: list[bool] = field(default_factory=list)
    """Whether it has a window that it can miss."""
    touches: list[tuple[int, ...]] = field(default_factory=list)
    """The stores whose level changes when it is placed."""
    windows_of: list[tuple[list[int], list[int]]] = field(default_factory=list)
    """By hands, starts and ends of what is left of their windows."""
    line: list[int] | None = None
    """All activities in an order that goes with waits and windows; None where there is a circle."""
