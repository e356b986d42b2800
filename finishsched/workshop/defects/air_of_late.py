"""The air of the shop as it was read of late, which the waits of a schedule run in."""

from __future__ import annotations

from datetime import timedelta

from finishsched.journal.progress import Book
from finishsched.model.shop import Air

OF_LATE = timedelta(days=14)
"""Before the newest entry; as far back as the pattern of a day is looked for (our assumption)."""


def air_of_late(book: Book) -> Air | None:
    """Return the mean of the readings of two weeks before the newest entry; None for none."""
    if book.last_logged_at is None:
        return None
    since_s = (book.last_logged_at - OF_LATE).timestamp()
    told = [figures[1:3] for figures in book.told_air.figures(since_s=since_s)]
    told += [
        (one.air.temperature_c, one.air.humidity_percent)
        for one in book.readings
        if one.event_id not in book.undone and one.at.timestamp() >= since_s
    ]
    if not told:
        return None
    warm, damp = zip(*told, strict=True)
    return Air(sum(warm) / len(told), sum(damp) / len(told))
