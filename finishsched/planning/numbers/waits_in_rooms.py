"""Waits that follow from the rules of rooms: dust hangs for a while, and what is wet waits for it.

Of two activities that come one after the other whatever is done, the second begins no sooner than
the room is as it needs it. No wait of a schedule says so, since other work may fill the time.
"""

from __future__ import annotations

from dataclasses import replace

from finishsched.planning.numbers.inner import Inner, Wait


def with_waits_of_rooms(inner: Inner) -> Inner:
    """Return a problem with these waits written out; every plan of it is a plan as before.

    Args:
        inner: the problem in numbers.

    Returns:
        The same, for whoever asks how soon anything can begin.

    """
    longest = max([longer for marks in inner.marks for _, longer in marks], default=0)
    if not any(inner.marks):
        return inner
    before: list[list[Wait]] = []
    for number, waits in enumerate(inner.before):
        before.append([*waits, *_for_rooms(inner, number, longest)])
    return replace(inner, before=before)


def _for_rooms(inner: Inner, number: int, longest: int) -> list[Wait]:
    """Return what an activity waits for because of its room.

    Whatever comes before it, by waits that none goes back in time, is over when it begins.

    Args:
        inner: the problem in numbers.
        number: the activity.
        longest: for so many minutes anything at all is left in a room.

    """
    needs = {track for track, longer in inner.avoids[number] if inner.minutes[number] + longer > 0}
    if not needs:
        return []
    found: list[Wait] = []
    # How long before it each is over at least; what is over for longest leaves nothing in a room.
    open_ones = [(number, -inner.minutes[number])]
    seen: set[int] = set()
    while open_ones:
        later, over_min = open_ones.pop()
        for other, least in inner.before[later]:
            over_for = over_min + inner.minutes[later] + least
            if least < 0 or other in seen or over_for >= longest:
                continue
            seen.add(other)
            for track, longer in inner.marks[other]:
                if track in needs and longer > over_for:
                    found.append((other, longer))
            open_ones.append((other, over_for))
    return found
