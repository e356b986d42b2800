"""Where every piece of the open shop stands, and finding one by its name."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
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
from finishsched.workshop.standing.put_by import (
    Marks,
    PutBy,
    could_mean,
    found_away,
    keep,
    kept_away,
    who_teach,
)
from finishsched.workshop.standing.reckoning import Worked, standings_of
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.waits import Laid, waits_of

OF_THE_SHOP = ""
"""What entries are about that are about no piece."""


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
    """Those that were read: all but what is put by, and of that what teaches or was named."""
    away: Mapping[str, PutBy] = field(default_factory=dict)
    standings: tuple[Standing, ...] = ()
    teachers: tuple[Standing, ...] = ()
    worked: Worked = field(default_factory=Worked)

    def put_by_since(self, since: datetime) -> set[str]:
        """Return the pieces that are put by and were worked on after all ``since`` then."""
        return {ref for ref, one in self.away.items() if one.last_s >= since.timestamp()}

    def still_true(self, book: Book) -> dict[str, _OfPiece]:
        """Return what holds by ``book`` too: all of the pieces that no entry since is about."""
        changed = self._changed(book)
        if changed is None:
            return {}
        return {ref: one for ref, one in self.pieces.items() if ref not in changed}

    def still_away(self, book: Book) -> dict[str, PutBy] | None:
        """Return the pieces that are put by as before; None where that has to be asked anew."""
        changed = self._changed(book)
        if changed is None or OF_THE_SHOP in changed:
            return None
        return {ref: one for ref, one in self.away.items() if ref not in changed}

    def _changed(self, book: Book) -> set[str] | None:
        """Return the pieces about which entries came since; None where all may be otherwise."""
        if not 0 <= self.seq < book.last_seq or book.undone != self.undone:
            return None
        # What is worked beside a piece is named after it: lid+2.
        return {(ref or OF_THE_SHOP).partition("+")[0] for ref in book.filed.about_since(self.seq)}


def standings(workshop: Workshop, book: Book | None = None) -> tuple[Standing, ...]:
    """Return where every piece stands that is not put by.

    By the journal as it is, or as ``book`` has it.
    """
    return _reckoned(workshop, book).standings


def teachers(workshop: Workshop, book: Book | None = None) -> tuple[Standing, ...]:
    """Return the same and, of what is put by, the pieces from which the shop still learns."""
    return _reckoned(workshop, book).teachers


def every_standing(workshop: Workshop, book: Book | None = None) -> tuple[Standing, ...]:
    """Return where every piece stands, long finished ones too: all of the journal is read."""
    kept = _reckoned(workshop, book)
    return (*kept.standings, *_read_again(workshop, book, kept.away))


def worked_since(
    workshop: Workshop, since: datetime, book: Book | None = None
) -> tuple[Standing, ...]:
    """Return all pieces that are not put by, and of the others those worked on ``since`` then."""
    kept = _reckoned(workshop, book)
    return (*kept.standings, *_read_again(workshop, book, kept.put_by_since(since)))


def refs_since(workshop: Workshop, since: datetime, book: Book) -> tuple[str, ...]:
    """Return the names of the same, and of what was worked beside them, reading none of them."""
    kept = _reckoned(workshop, book)
    long_ago = kept.away.keys() - kept.put_by_since(since)
    return tuple(piece for piece in book.pieces if piece.partition("+")[0] not in long_ago)


def as_beside(
    workshop: Workshop, standing: Standing, book: Book | None = None
) -> tuple[Standing, ...]:
    """Return every piece that may have been worked with the same tools as ``standing``, and it."""
    kept = _reckoned(workshop, book)
    ref = standing.of or standing.ref
    return every_standing(workshop, book) if ref in kept.away else kept.teachers


def named_among(workshop: Workshop, text: str, book: Book | None = None) -> tuple[Standing, ...]:
    """Return all pieces that are not put by, and of the others those that ``text`` may mean."""
    kept = _reckoned(workshop, book)
    return (*kept.standings, *_read_again(workshop, book, could_mean(text, kept.away)))


def by_ref(workshop: Workshop, refs: Collection[str]) -> dict[str, Standing]:
    """Return by its name every piece that is not put by, and of the others those of ``refs``."""
    kept = _reckoned(workshop, None)
    of_pieces = {ref.partition("+")[0] for ref in refs} & kept.away.keys()
    found = (*kept.standings, *_read_again(workshop, None, of_pieces))
    return {standing.ref: standing for standing in found}


def cure_room(workshop: Workshop) -> CureRoom:
    """Return the cure clocks, over the air as last read."""
    return _reckoned(workshop, None).room


def find(workshop: Workshop, name: str, book: Book | None = None) -> Standing:
    """Return one piece by ``job/piece``, or by its own name or title where only one has it.

    Of those with the same name one that is not put by is meant.

    Raises:
        RefusedError: when there is none, or more than one.

    """
    known = standings(workshop, book)
    found = _called(known, name)
    if not found:
        known = named_among(workshop, name, book)
        found = _called(known, name)
    if len(found) == 1:
        return found[0]
    raise unknown_piece(name, [s.ref for s in found], [s.ref for s in known])


def _called(known: Iterable[Standing], name: str) -> list[Standing]:
    """Return the pieces that are called ``name``; those that are so to the letter go first."""
    known = tuple(known)
    found = [s for s in known if s.ref == name] or [
        s for s in known if s.ref.partition("/")[2] == name
    ]
    if found:
        return found
    meant = loosely(name, {s.ref: s.piece.title for s in known})
    return [s for s in known if s.ref in meant]


def _reckoned(workshop: Workshop, book: Book | None) -> _Reckoned:
    book = book or workshop.book()
    kept = workshop.held(_Reckoned, lambda: _Reckoned(_new_room(workshop)))
    if kept.seq != book.last_seq:
        _reckon(workshop, kept, book)
    return kept


def _reckon(workshop: Workshop, kept: _Reckoned, book: Book) -> None:
    """Work out where the pieces stand by ``book``, and what is learnt from them."""
    known = {ref: one.standings for ref, one in kept.still_true(book).items()}
    marks = Marks(workshop, book)
    away = kept.still_away(book)
    if away is None:
        away = kept_away(workshop, marks)
    found, book = _standings(workshop, book, known, kept.worked, lambda ref: ref not in away)
    new = found_away(found, book, marks)
    if new:
        away |= new
        keep(workshop, away)
    here = {ref: each for ref, each in found.items() if ref not in away}
    standing_here = tuple(chain.from_iterable(here.values()))
    teaching = who_teach(away, standing_here, book)
    taught, _ = _standings(workshop, book, known | found, kept.worked, teaching.__contains__)
    read = here | taught
    kept.pieces = {ref: _still(kept.pieces, ref, each, book) for ref, each in read.items()}
    kept.away = away
    kept.standings = standing_here
    kept.teachers = tuple(chain.from_iterable(read.values()))
    begun = (one.begun_at for one in kept.pieces.values() if one.begun_at is not None)
    waits = chain.from_iterable(one.waits for one in kept.pieces.values())
    pads = pads_of(kept.teachers, workshop.papers.products)
    kept.room.take(book, waits, min(begun, default=None), pads)
    kept.seq, kept.undone = book.last_seq, book.undone


def _read_again(
    workshop: Workshop, book: Book | None, refs: Collection[str]
) -> tuple[Standing, ...]:
    """Return where some of the pieces stand that are put by; the room knows their air from then."""
    if not refs:
        return ()
    kept = _reckoned(workshop, book)
    known = {ref: one.standings for ref, one in kept.pieces.items()}
    book = book or workshop.book()
    found, book = _standings(workshop, book, known, kept.worked, refs.__contains__)
    begun_s = (kept.away[ref].first_s for ref in found if ref in kept.away)
    kept.room.reach_back(book, min(begun_s, default=math.inf))
    return tuple(chain.from_iterable(found.values()))


def _standings(
    workshop: Workshop,
    book: Book,
    known: Mapping[str, tuple[Standing, ...]],
    worked: Worked,
    wanted: Callable[[str], bool],
) -> tuple[dict[str, tuple[Standing, ...]], Book]:
    """Return where the pieces ``wanted`` stand, and by which book: another once damage shows."""
    was_sound = not workshop.lost
    papers, text_of = workshop.papers, workshop.text_of
    try:
        return standings_of(book, papers, text_of, known, worked, wanted), book
    except JournalFaultError:
        if not (was_sound and workshop.lost):
            raise
    sound = workshop.book()
    return standings_of(sound, papers, text_of, {}, worked, wanted), sound


def _still(
    known: Mapping[str, _OfPiece], ref: str, found: tuple[Standing, ...], book: Book
) -> _OfPiece:
    """Return what is known of a piece, where it stands as it did."""
    if ref in known and known[ref].standings is found:
        return known[ref]
    return _of_piece(found, book)


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
