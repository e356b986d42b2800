"""Where every piece of the open shop stands, and finding one by its name."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from itertools import chain
from typing import NamedTuple

from finishsched.journal.faults import JournalFaultError
from finishsched.journal.progress import Book
from finishsched.workshop.base.shown import tell_in
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.away import Away, away_of
from finishsched.workshop.standing.cure import CureRoom
from finishsched.workshop.standing.finding import loosely, unknown_piece
from finishsched.workshop.standing.pads import pads_of
from finishsched.workshop.standing.put_by import Marks, PutBy, found_away
from finishsched.workshop.standing.reckoning import Worked, standings_of
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.waits import Laid, waits_of

AT_ONCE = 500
"""Of more pieces than these no more is held than whether they are put by."""
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
    away: Away | None = None
    standings: tuple[Standing, ...] = ()
    teachers: tuple[Standing, ...] = ()
    worked: Worked = field(default_factory=Worked)

    def still_true(self, book: Book) -> dict[str, _OfPiece]:
        """Return what holds by ``book`` too: all of the pieces that no entry since is about."""
        changed = self._changed(book)
        if changed is None:
            return {}
        return {ref: one for ref, one in self.pieces.items() if ref not in changed}

    def still_away(self, book: Book) -> Away | None:
        """Return the pieces that are put by as before; None where that has to be asked anew."""
        changed = self._changed(book)
        if self.away is None or changed is None or OF_THE_SHOP in changed:
            return None
        self.away.touch(changed)
        return self.away

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
    return (*standings(workshop, book), *_read_again(workshop, book, Away.refs))


def worked_since(
    workshop: Workshop, since: datetime, book: Book | None = None
) -> tuple[Standing, ...]:
    """Return all pieces that are not put by, and of the others those worked on ``since`` then."""
    here = standings(workshop, book)
    return (*here, *_read_again(workshop, book, lambda away: away.since(since)))


def refs_since(workshop: Workshop, since: datetime, book: Book) -> tuple[str, ...]:
    """Return the names of the same, and of what was worked beside them, reading none of them."""
    away = _away(workshop, book)
    return book.filed.among(away.in_hand.union(away.since(since)))


def as_beside(
    workshop: Workshop, standing: Standing, book: Book | None = None
) -> tuple[Standing, ...]:
    """Return every piece that may have been worked with the same tools as ``standing``, and it."""
    ref = standing.of or standing.ref
    if ref in _away(workshop, book):
        return every_standing(workshop, book)
    return teachers(workshop, book)


def named_among(workshop: Workshop, text: str, book: Book | None = None) -> tuple[Standing, ...]:
    """Return all pieces that are not put by, and of the others those that ``text`` may mean."""
    here = standings(workshop, book)
    return (*here, *_read_again(workshop, book, lambda away: away.could_mean(text)))


def by_ref(workshop: Workshop, refs: Collection[str]) -> dict[str, Standing]:
    """Return by its name every piece that is not put by, and of the others those of ``refs``."""
    of_pieces = {ref.partition("+")[0] for ref in refs}
    here = standings(workshop)
    again = _read_again(workshop, None, lambda away: [ref for ref in of_pieces if ref in away])
    return {standing.ref: standing for standing in (*here, *again)}


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


def _away(workshop: Workshop, book: Book | None) -> Away:
    away = _reckoned(workshop, book).away
    assert away is not None  # noqa: S101
    return away


def _reckon(workshop: Workshop, kept: _Reckoned, book: Book) -> None:
    """Work out where the pieces stand by ``book``, and what is learnt from them."""
    known = {ref: one.standings for ref, one in kept.still_true(book).items()}
    marks = Marks(workshop, book)
    away = kept.still_away(book) or away_of(workshop, book, marks)
    refs = _to_read(workshop, book, away)
    new = _found_by_and_by(workshop, book, refs, marks) if len(refs) > AT_ONCE else {}
    still = [ref for ref in refs if ref not in new]
    found, book = _standings(workshop, book, known, kept.worked, still)
    new |= found_away(found, book, marks)
    away.keep(new, book, workshop, is_settled=workshop.is_settled and book is workshop.book())
    here = {ref: each for ref, each in found.items() if ref not in new}
    standing_here = tuple(chain.from_iterable(here.values()))
    teaching = _in_order(book, away.who_teach(standing_here, book))
    taught, _ = _standings(workshop, book, known | found, kept.worked, teaching)
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


def _to_read(workshop: Workshop, book: Book, away: Away) -> list[str]:
    """Return every piece that is not put by: of the documents in their order, then of the book."""
    if not away.is_known:
        documented = [ref for ref, _, _ in workshop.papers.pieces()]
        begun = book.pieces
    else:
        documented = [ref for ref, _, _ in workshop.papers.pieces_in_hand() if ref not in away]
        begun = book.filed.among(away.in_hand)
    entered = [ref for ref in begun if "+" not in ref]
    away.in_hand = set(entered)
    return list(dict.fromkeys((*documented, *entered)))


def _in_order(book: Book, refs: Collection[str]) -> list[str]:
    """Return some pieces, the first entered first."""
    return [ref for ref in book.filed.among(refs) if ref in refs]


def _found_by_and_by(
    workshop: Workshop, book: Book, refs: list[str], marks: Marks
) -> dict[str, PutBy]:
    """Return those of very many pieces that are to be put by, never holding more than a few."""
    found: dict[str, PutBy] = {}
    for begin in range(0, len(refs), AT_ONCE):
        workshop.reads_anew(begin, len(refs))
        some = replace(book, filed=book.filed.afresh())
        each, judged = _standings(workshop, some, {}, Worked(), refs[begin : begin + AT_ONCE])
        if judged is not some:
            return {}  # damage has shown: all is read from what is sound
        found |= found_away(each, some, marks)
    workshop.reads_anew(len(refs), len(refs))
    return found


def _read_again(
    workshop: Workshop, book: Book | None, which: Callable[[Away], Collection[str]]
) -> tuple[Standing, ...]:
    """Return where some of the pieces stand that are put by; the room knows their air from then."""
    kept, away = _reckoned(workshop, book), _away(workshop, book)
    refs = which(away)
    if not refs:
        return ()
    known = {ref: one.standings for ref, one in kept.pieces.items()}
    book = book or workshop.book()
    found, book = _standings(workshop, book, known, kept.worked, _in_order(book, refs))
    kept.room.reach_back(book, min(away.began_s(found), default=math.inf))
    return tuple(chain.from_iterable(found.values()))


def _standings(
    workshop: Workshop,
    book: Book,
    known: Mapping[str, tuple[Standing, ...]],
    worked: Worked,
    refs: Collection[str],
) -> tuple[dict[str, tuple[Standing, ...]], Book]:
    """Return where the pieces ``refs`` stand, and by which book: another once damage shows."""
    was_sound = not workshop.lost
    papers, text_of = workshop.papers, workshop.text_of
    try:
        return standings_of(book, papers, text_of, known, worked, refs), book
    except JournalFaultError:
        if not (was_sound and workshop.lost):
            raise
    sound = workshop.book()
    return standings_of(sound, papers, text_of, {}, worked, refs), sound


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
