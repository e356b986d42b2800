"""What a board begins with: free hours, and what is done holds of rooms and stores."""

from __future__ import annotations

from finishsched.planning.numbers.inner import NEVER, NOT, Inner
from finishsched.planning.quick.columns import Gaps, Lists, add_stretch, raise_level


def free_hours(inner: Inner) -> list[Gaps]:
    """Return by hands what is free of their hours while nothing is laid."""
    columns = zip(
        inner.gap_starts,
        inner.gap_ends,
        inner.gap_left,
        inner.gap_right,
        strict=True,
    )
    # A board changes its gaps, and the problem keeps its own.
    return [(starts[:], ends[:], left[:], right[:]) for starts, ends, left, right in columns]


def past_tracks(inner: Inner) -> list[Lists]:
    """Return by track when it is busy by what is done."""
    tracks: list[Lists] = []
    for stretches in inner.tracks:
        starts: list[int] = []
        ends: list[int] = []
        for start, end in stretches:
            add_stretch(starts, ends, start, end)
        tracks.append((starts, ends))
    return tracks


def past_levels(inner: Inner) -> list[Lists]:
    """Return by store what is held by what is done.

    What is held until an activity starts, which has no place yet, is held for good.
    """
    levels: list[Lists] = []
    for holds in inner.store_base:
        times = [NOT]
        held = [0]
        for start, end, amount in holds:
            raise_level(times, held, start, end, amount)
        levels.append((times, held))
    for _, (store, start, _, amount) in inner.open_base:
        times, held = levels[store]
        raise_level(times, held, start, NEVER, amount)
    return levels
