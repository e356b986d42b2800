"""Rags that can heat by themselves: which are about, and where they went.

They heat within hours (NFPA safety tip sheet). The reminder stands until somebody logs where they
went; the product's safety data sheet and local codes come first.
"""

from __future__ import annotations

from bisect import bisect
from collections.abc import Iterable, Iterator
from datetime import datetime
from typing import NamedTuple

from finishsched.journal import events
from finishsched.journal.events import Event, NewEvent
from finishsched.journal.progress import Book
from finishsched.model.product import RagHabit
from finishsched.safety.cautions import DEFERRAL, rag_words
from finishsched.workshop.base.entries import AHEAD, RefusedError
from finishsched.workshop.base.notice import Notice
from finishsched.workshop.base.spans import span
from finishsched.workshop.base.words import one_line
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.rags_out import RagsOut
from finishsched.workshop.standing.several import find_several
from finishsched.workshop.standing.sheets import brought_in
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.where import by_ref, standings

WORSE_H = (1.0, 3.0, 8.0)
"""They heat within hours: after so many each, the reminder comes again (our assumption)."""


class OpenRags(NamedTuple):
    """The rags of one product, of which nobody has logged where they went."""

    product: str
    title: str
    refs: tuple[str, ...]
    """The pieces that they were used on."""
    since: datetime
    """When the first of them was used."""
    words: str
    """What is to be done with them."""


class RagsAnswer(NamedTuple):
    """Which rags are open, the oldest first."""

    now: datetime
    rags: tuple[OpenRags, ...]
    line: str
    """One line for a notice; empty when none are."""
    last: Event | None
    """The newest entry about where rags went."""
    deferral: str = DEFERRAL

    @property
    def notices(self) -> tuple[Notice, ...]:
        """The line as a notice, told again when there are more of them, and as they lie longer."""
        if not self.rags:
            return ()
        about = (f"{one.product} since {one.since.isoformat()}" for one in self.rags)
        open_h = (self.now - min(one.since for one in self.rags)).total_seconds() / 3600
        return (
            Notice(self.line, about=f"rags: {', '.join(about)}", gravity=bisect(WORSE_H, open_h)),
        )


def open_rags(workshop: Workshop, now: datetime, pieces: str = "") -> RagsAnswer:
    """Return the rags that can heat by themselves and of which nobody logged where they went.

    Those of ``pieces`` only, where some are named.

    Raises:
        RefusedError: for a name that stands for nothing.

    """
    book = workshop.book()
    last = _last_entry(book)
    about = standings(workshop, book)
    if pieces:
        about = find_several(workshop, pieces, book, finished=True)
    found: dict[str, OpenRags] = {}
    for used in sorted(_used(workshop, about, book, now), key=_by_time):
        before = found.get(used.product)
        if before is not None:
            refs = tuple(dict.fromkeys((*before.refs, *used.refs)))
            used = OpenRags(used.product, used.title, refs, before.since, used.words)  # noqa: PLW2901  # the same rags, more of them
        found[used.product] = used
    rags = tuple(found.values())
    return RagsAnswer(now, rags, _line(rags, now), last)


def rags_made(workshop: Workshop, found: RagsAnswer, events_: Iterable[Event]) -> set[str]:
    """Return the products whose open rags some entries made, or added to."""
    made = [event for event in events_ if isinstance(event.what, events.StepDone)]
    if not made or not found.rags:
        return set()
    known = by_ref(workshop, {event.piece for event in made if event.piece})
    products = workshop.papers.products
    steps = (
        known[event.piece].step_of(event, event.what.step)
        for event in made
        if event.piece in known and isinstance(event.what, events.StepDone)
    )
    used = {product.id for step in steps if step for product in brought_in(step, products)}
    return used & {one.product for one in found.rags}


def rags_dealt_with(
    workshop: Workshop,
    where: str,
    now: datetime,
    *,
    by: str = "",
    at: datetime | None = None,
    pieces: str = "",
) -> Event:
    """Log where the rags went, which closes the reminder of all that were used until then.

    Of those used on ``pieces`` only, where some are named.

    Raises:
        RefusedError: when it does not say where, is of the time to come, or for a name that stands
            for nothing.

    """
    words = one_line(where)
    if not words:
        raise RefusedError("rags that went nowhere", "write where, such as 'flat outdoors'")
    if _is_piece(workshop, words):
        raise RefusedError(
            f"{words!r} is work of the shop, and no place for rags",
            f"write where they went: finishsched rags 'flat outdoors' --of {words}",
        )
    if at is not None and at > now + AHEAD:
        raise RefusedError("an entry from the time to come", "leave the time out, or correct it")
    about = find_several(workshop, pieces, finished=True) if pieces else ()
    entry = events.RagsDealtWith(
        where=words,
        by=workshop.papers.shop.hands_named(one_line(by)),
        pieces=tuple(one.ref for one in about),
    )
    return workshop.append(lambda _: NewEvent(at or now, None, entry), now)


def _is_piece(workshop: Workshop, words: str) -> bool:
    """Tell whether a place is a piece or a job, and somebody only asked after its rags."""
    try:
        return bool(find_several(workshop, words, finished=True))
    except RefusedError:
        return False


def rags_undone(workshop: Workshop, now: datetime, *, by: str = "", only: str = "") -> Event:
    """Take back the newest entry about where rags went; with ``only``, while it is that one.

    Raises:
        RefusedError: when there is none, or another came after it.

    """

    def build(book: Book) -> NewEvent:
        last = _last_entry(book)
        if last is None:
            raise RefusedError("no entry about rags to undo", "nothing was changed")
        if only and last.id != only:
            raise RefusedError(
                "a later entry says where rags went", "see finishsched rags; --undo takes it back"
            )
        return NewEvent(now, None, events.Undone(last.id, one_line(by)))

    return workshop.append(build, now)


def _last_entry(book: Book) -> Event | None:
    entries = book.told(None, events.RagsDealtWith)
    return max(entries, key=lambda event: (event.at, event.seq), default=None)


def _used(
    workshop: Workshop, about: Iterable[Standing], book: Book, now: datetime
) -> Iterator[OpenRags]:
    """Give the use of each self-heating product by each step whose rags are about still."""
    products, out = workshop.papers.products, RagsOut(book)
    for standing in about:
        since = out.until(standing.ref)
        for event in book.told(standing.ref, events.StepDone):
            what = event.what
            if not isinstance(what, events.StepDone) or not since < event.at <= now + AHEAD:
                continue
            step = standing.step_of(event, what.step)
            for product in brought_in(step, products) if step else ():
                if product.rags is RagHabit.SELF_HEATING:
                    title = one_line(product.title)
                    yield OpenRags(product.id, title, (standing.ref,), event.at, rag_words(product))


def _by_time(rags: OpenRags) -> datetime:
    return rags.since


def _line(rags: Iterable[OpenRags], now: datetime) -> str:
    rags = tuple(rags)
    if not rags:
        return ""
    titles = ", ".join(one.title for one in rags)
    ago = span((now - min(one.since for one in rags)).total_seconds())
    return (
        f"rags can catch fire by themselves: {titles}, used {ago} ago. Flat outdoors in one layer, "
        "or under water in a closed metal can; then log it: finishsched rags 'flat outdoors'"
    )
