"""Where every piece of the open shop stands, and finding one by its name."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from finishsched.journal.faults import JournalFaultError
from finishsched.journal.progress import Book
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.cure import CureRoom
from finishsched.workshop.standing.finding import loosely, unknown_piece
from finishsched.workshop.standing.pads import pads_of
from finishsched.workshop.standing.reckoning import standings_of
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.waits import Laid, waits_of


@dataclass(slots=True)
class _Reckoned:
    """Where every piece stands by one state of the journal, kept until an entry is written."""

    room: CureRoom
    seq: int = -1
    standings: tuple[Standing, ...] = ()


def standings(workshop: Workshop, book: Book | None = None) -> tuple[Standing, ...]:
    """Return where every piece stands, by the journal as it is or as ``book`` has it."""
    return _reckoned(workshop, book).standings


def cure_room(workshop: Workshop) -> CureRoom:
    """Return the cure clocks, over the air as last read."""
    return _reckoned(workshop, None).room


def find(workshop: Workshop, name: str, book: Book | None = None) -> Standing:
    """Return one piece by ``job/piece``, or by its own name or title where only one has it.

    Raises:
        RefusedError: when there is none, or more than one.

    """
    known = standings(workshop, book)
    found = [s for s in known if s.ref == name] or [
        s for s in known if s.ref.partition("/")[2] == name
    ]
    if not found:
        meant = loosely(name, {s.ref: s.piece.title for s in known})
        found = [s for s in known if s.ref in meant]
    if len(found) == 1:
        return found[0]
    raise unknown_piece(name, [s.ref for s in found], [s.ref for s in known])


def _reckoned(workshop: Workshop, book: Book | None) -> _Reckoned:
    book = book or workshop.book()
    kept = workshop.held(_Reckoned, lambda: _Reckoned(_new_room(workshop)))
    if kept.seq != book.last_seq:
        kept.standings, book = _standings(workshop, book)
        begun_at = _first_begun(kept.standings, book)
        waits, pads = _waits(kept.standings, book), pads_of(kept.standings)
        kept.room.take(book, waits, begun_at, pads)
        kept.seq = book.last_seq
    return kept


def _first_begun(found: tuple[Standing, ...], book: Book) -> datetime | None:
    """Return when the first of all pieces was begun, or worked at; None where none is."""
    begun = (standing.ref for standing in found if standing.progress is not None)
    return min((event.at for ref in begun for event in book.work(ref)), default=None)


def _standings(workshop: Workshop, book: Book) -> tuple[tuple[Standing, ...], Book]:
    """Return where every piece stands, and by which book: another once damage has shown in it."""
    was_sound = not workshop.lost
    try:
        return standings_of(book, workshop.papers, workshop.text_of), book
    except JournalFaultError:
        if not (was_sound and workshop.lost):
            raise
    sound = workshop.book()
    return standings_of(sound, workshop.papers, workshop.text_of), sound


def _new_room(workshop: Workshop) -> CureRoom:
    papers = workshop.papers
    shop = papers.shop
    return CureRoom(papers.products, shop.usual_air, workshop.zone, shop.units.temperature)


def _waits(found: tuple[Standing, ...], book: Book) -> Iterator[Laid]:
    """Give every wait that the journal knows of, for what its dry checks teach."""
    for standing in found:
        if standing.progress is None:
            continue
        yield from waits_of(standing.piece, standing.steps, book.work(standing.ref)).values()
        for life in standing.earlier:
            yield from waits_of(standing.piece, life.steps, life.entries).values()
