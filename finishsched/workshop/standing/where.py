"""Where every piece of the open shop stands, and finding one by its name."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from itertools import chain
from typing import NamedTuple

from finishsched.journal.faults import JournalFaultError
from finishsched.journal.progress import Book
from finishsched.workshop.base.shown import tell_in
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.cure import CureRoom
from finishsched.workshop.standing.finding import loosely, unknown_piece
from finishsched.workshop.standing.pads import pads_of
from finishsched.workshop.standing.reckoning import Worked, standings_of
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.waits import Laid, waits_of


class _OfPiece(NamedTuple):
    """What is worked out of the entries of one piece."""

    standings: tuple[Standing, ...]
    """Where it stands, and then what is worked beside it."""
    waits: tuple[Laid, ...]
    begun_at: datetime | None


@dataclass(slots=True)
class _Reckoned:
    """Where every piece stands by one state of the journal, kept until an entry is written."""

    room: CureRoom
    seq: int = -1
    undone: frozenset[str] = frozenset()
    pieces: dict[str, _OfPiece] = field(default_factory=dict)
    standings: tuple[Standing, ...] = ()
    worked: Worked = field(default_factory=Worked)

    def still_true(self, book: Book) -> dict[str, _OfPiece]:
        """Return what holds by ``book`` too: all of the pieces that no entry since is about."""
        if not 0 <= self.seq < book.last_seq or book.undone != self.undone:
            return {}
        # What is worked beside a piece is named after it: lid+2.
        changed = {(piece or "").partition("+")[0] for piece in book.filed.about_since(self.seq)}
        return {ref: one for ref, one in self.pieces.items() if ref not in changed}


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
        known = kept.still_true(book)
        found, book = _standings(workshop, book, known, kept.worked)
        kept.pieces = {
            ref: known[ref] if _holds(known, ref, one) else _of_piece(one, book)
            for ref, one in found.items()
        }
        kept.standings = tuple(chain.from_iterable(found.values()))
        begun = (one.begun_at for one in kept.pieces.values() if one.begun_at is not None)
        waits = chain.from_iterable(one.waits for one in kept.pieces.values())
        kept.room.take(
            book, waits, min(begun, default=None), pads_of(kept.standings, workshop.papers.products)
        )
        kept.seq, kept.undone = book.last_seq, book.undone
    return kept


def _standings(
    workshop: Workshop, book: Book, known: Mapping[str, _OfPiece], worked: Worked
) -> tuple[dict[str, tuple[Standing, ...]], Book]:
    """Return where every piece stands, and by which book: another once damage has shown in it."""
    was_sound = not workshop.lost
    told = {ref: one.standings for ref, one in known.items()}
    try:
        return standings_of(book, workshop.papers, workshop.text_of, told, worked), book
    except JournalFaultError:
        if not (was_sound and workshop.lost):
            raise
    sound = workshop.book()
    return standings_of(sound, workshop.papers, workshop.text_of, {}, worked), sound


def _holds(known: Mapping[str, _OfPiece], ref: str, found: tuple[Standing, ...]) -> bool:
    return ref in known and known[ref].standings is found


def _of_piece(found: tuple[Standing, ...], book: Book) -> _OfPiece:
    """Return what the cure room needs of a piece and of what is worked beside it."""
    begun = (standing.ref for standing in found if standing.progress is not None)
    first = min((event.at for ref in begun for event in book.work(ref)), default=None)
    return _OfPiece(found, tuple(_waits(found, book)), first)


def _new_room(workshop: Workshop) -> CureRoom:
    papers = workshop.papers
    shop = papers.shop
    return CureRoom(papers.products, shop.usual_air, workshop.zone, tell_in(shop.units))


def _waits(found: tuple[Standing, ...], book: Book) -> Iterator[Laid]:
    """Give every wait that the journal knows of, for what its dry checks teach."""
    for standing in found:
        if standing.progress is None:
            continue
        yield from waits_of(standing.piece, standing.steps, book.work(standing.ref)).values()
        for life in standing.earlier:
            yield from waits_of(standing.piece, life.steps, life.entries).values()
