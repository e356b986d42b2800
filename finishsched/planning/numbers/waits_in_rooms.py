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
    minutes = inner.minutes[number]
    avoids = inner.avoids[number]
    needs = {track for track, longer in avoids if _is_for_certain(track ^ 1, minutes, longer)}
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
                certain = _is_for_certain(track, inner.minutes[other], longer)
                if track in needs and certain and longer > over_for:
                    found.append((other, longer))
            open_ones.append((other, over_for))
    return found


def _is_for_certain(track: int, minutes: int, longer: int) -> bool:
    """Tell whether an activity makes a track busy in every plan.

    What takes no time stirs up nothing, unless a window that it misses makes it grow.

    Args:
        track: of one rule; even where the room is stirred up, odd where something lies bare in it.
        minutes: how long it takes at the least.
        longer: for so many minutes more the track is busy.

    """
    return minutes > 0 or (bool(track & 1) and longer > 0)
