"""The problem as plain lists of whole numbers, worked out once for many tries.

Activities that are not done are numbered, and those that a window ties together make one block: a
block is placed as a whole, or not at all.
"""

from __future__ import annotations

from dataclasses import dataclass, field

NOT = -(1 << 60)
"""The start and the end of what is not placed; so early that no wait from it counts."""
NEVER = 1 << 60
"""Later than any calendar."""
LOOSE = -1
"""The remedy of a window that has none: it must not be missed."""


@dataclass(slots=True)
class Held:
    """What an activity takes of one store."""

    store: int
    amount: int
    shared: int
    """The amount to look for: with what it takes of the same store at the same time otherwise."""
    from_start: bool
    hold_min: int
    until: int
    """The activity that ends it, or -1."""
    until_min: int
    """When it ends at the earliest, where what ends it is done; else NOT."""


@dataclass(slots=True)
class Inner:
    """Lists by the number of the activity, of the block, of the hands, of the store."""

    keys: list[str]
    index: dict[str, int]
    minutes: list[int]
    release: list[int]
    tail: list[int]
    goal: list[int]
    by: list[tuple[int, ...]]
    kind: list[int]
    """For set-ups; 0 where there is none."""
    avoids: list[tuple[tuple[int, int], ...]]
    """Tracks that must be free while it runs and some minutes longer."""
    marks: list[tuple[tuple[int, int], ...]]
    """Tracks that it makes busy while it runs and some minutes longer."""
    uses: list[list[Held]]
    ends_uses: list[list[tuple[int, int]]]
    """The uses (activity, which) that last until it starts."""
    before: list[list[tuple[int, int]]]
    """(activity, least wait after its end)."""
    after: list[list[tuple[int, int]]]
    windows: list[list[tuple[int, int, int]]]
    """(activity, most wait after its end, remedy or LOOSE)."""
    ties: list[list[int]]
    """What is to start within a window of its end that must not be missed."""
    tied: list[int]
    """How many such windows it has itself."""
    deadlines: list[list[tuple[int, int]]]
    """(latest start, remedy or LOOSE), from what is done."""
    needs_out: list[bool]
    """True where it hangs on something that cannot be placed by itself."""
    gap_starts: list[list[int]]
    gap_ends: list[list[int]]
    gap_left: list[list[int]]
    gap_right: list[list[int]]
    set_up_before: list[int]
    set_up_after: list[int]
    tracks: list[list[tuple[int, int]]]
    capacity: list[int]
    store_base: list[list[tuple[int, int, int]]]
    """What is held by what is done: (from, to, amount)."""
    open_base: list[tuple[int, tuple[int, int, int, int]]]
    """Held by what is done until an activity starts: it, (store, from, at least to, amount)."""
    due: list[int]
    """By goal; NEVER where nobody has asked."""
    goal_floor: list[int]
    """By goal, when what is done of it is reached; NOT where nothing is."""
    floor_min: int
    """When all that is done is reached."""
    now_min: int
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
