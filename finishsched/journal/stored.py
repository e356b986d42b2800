"""The entries of a journal by piece, read from the disk when they are asked for."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from datetime import datetime

from finishsched.journal.events import Event, Payload, utc_text
from finishsched.journal.filed import Filed
from finishsched.journal.jar_draws import COLUMNS as DRAWN
from finishsched.journal.jar_draws import Draws, draws_of, read_row
from finishsched.journal.payloads import PAYLOADS
from finishsched.journal.shelf_memo import ShelfMemo
from finishsched.journal.source import Source, text_of

COLUMNS = "seq, id, at, logged_at, piece, kind, body"
NOT_FILED = ("air", "undo")
"""Readings have a table of their own; an undo only says what does not count."""

_ABOUT = f"SELECT {COLUMNS} FROM events WHERE piece IS ? AND seq <= ? AND kind <> 'air'"  # noqa: S608  # constant
_NAMED = "(piece = ? OR (piece > ? AND piece < ?))"
"""A piece, and what is worked beside it, named after it."""
_LAST_MARK = f"""
    SELECT last_seq, crc FROM pieces JOIN sums ON sums.seq = pieces.last_seq
    WHERE {_NAMED} ORDER BY last_seq DESC LIMIT 1
"""  # noqa: S608  # constant
_FIRST = f"SELECT first_seq, piece FROM pieces WHERE first_seq IS NOT NULL AND {_NAMED}"  # noqa: S608  # constant
_KINDS = tuple(kind for kind in PAYLOADS if kind not in NOT_FILED)


def _named(ref: str) -> tuple[str, str, str]:
    return ref, f"{ref}+", f"{ref},"  # among all signs a comma follows a plus


class Written:
    """The entries up to one of them, each piece's read once, when it is asked for."""

    def __init__(self, source: Source, last_seq: int) -> None:
        self._source = source
        self._last_seq = last_seq
        self._pieces: tuple[str | None, ...] | None = None
        self._read: dict[tuple[str | None, tuple[str, ...]], tuple[Event, ...]] = {}
        self._known: dict[int, Event] = {}

    def pieces(self) -> tuple[str | None, ...]:
        """Return every piece in the order of first entries; None first if the shop has some."""
        if self._pieces is None:
            pieces = self._source.asked(
                text_of,
                "SELECT piece FROM pieces WHERE first_seq <= ? ORDER BY first_seq",
                (self._last_seq,),
            )
            shop = (None,) if self.newest(None, 1) else ()
            self._pieces = (*shop, *pieces)
        return self._pieces

    def about(self, piece: str | None, kinds: tuple[str, ...] = _KINDS) -> tuple[Event, ...]:
        """Return the entries about ``piece`` of these kinds."""
        if (piece, kinds) not in self._read:
            marks = ", ".join("?" * len(kinds))
            query = f"{_ABOUT} AND kind IN ({marks}) ORDER BY seq"
            given = (piece, self._last_seq, *kinds)
            found = self._source.events(query, given, self._known)
            self._read[piece, kinds] = tuple(found)
        return self._read[piece, kinds]

    def about_since(self, seq: int) -> frozenset[str | None]:
        """Return what entries with a higher number than ``seq`` are about."""
        query = "SELECT DISTINCT piece FROM events WHERE seq > ? AND seq <= ?"
        return frozenset(piece for (piece,) in self._source.ask(query, (seq, self._last_seq)))

    def about_after(
        self, piece: str | None, kinds: tuple[str, ...], after: int, since: datetime | None = None
    ) -> tuple[Event, ...]:
        """Return the entries about ``piece`` of these kinds that came ``after`` one.

        Of these, those that happened at ``since`` or later.
        """
        marks = ", ".join("?" * len(kinds))
        query = f"{_ABOUT} AND seq > ? AND at >= ? AND kind IN ({marks}) ORDER BY seq"
        at = "" if since is None else utc_text(since, "microseconds")
        given = (piece, self._last_seq, after, at, *kinds)
        return tuple(self._source.events(query, given, self._known))

    def draws(self, later: Iterable[str | None], after: int) -> Draws:
        """Return what coats took; the pieces of ``later`` entries are to be read."""
        query = f"SELECT {DRAWN} FROM jar_draws WHERE seq <= ? AND seq > ?"  # noqa: S608  # constant
        rows = self._source.asked(read_row, query, (self._last_seq, after))
        return draws_of(rows, later)

    @property
    def shelf_memo(self) -> ShelfMemo | None:
        """How far the shelf was folded before; None once damage has shown."""
        return None if self._source.damaged else self._source.shelf_memo

    @property
    def is_settled(self) -> bool:
        """False while entries are written that may be let go of again."""
        return not self._source.db.in_transaction

    def mark_of(self, ref: str) -> tuple[int, str]:
        """Return the number of the last entry about a piece or what is beside it, and its mark."""
        found = self._source.ask(_LAST_MARK, _named(ref))
        return (found[0][0], f"{found[0][0]}:{found[0][1]}") if found else (0, "")

    def mark_at(self, seq: int) -> str:
        """Return by what an entry is known: its id, that nobody else has, and the sum over it."""
        query = "SELECT id, crc FROM events JOIN sums USING (seq) WHERE seq = ?"
        return "".join(f"{id_}:{crc}" for id_, crc in self._source.ask(query, (seq,)))

    def touched_since(self, seq: int) -> frozenset[str | None]:
        """Return what entries with a higher number than ``seq`` are about, however new they are."""
        query = "SELECT DISTINCT piece FROM events WHERE seq > ?"
        return frozenset(piece for (piece,) in self._source.ask(query, (seq,)))

    def took_back_since(self, seq: int) -> bool:
        """Tell whether an entry of the shop with a higher number takes one back, or amends it."""
        query = (
            "SELECT 1 FROM events WHERE seq > ? AND piece IS NULL AND kind IN ('undo', 'amend')"
            " LIMIT 1"
        )
        return bool(self._source.ask(query, (seq,)))

    def among(self, refs: Collection[str]) -> tuple[str, ...]:
        """Return those pieces that are ``refs``, or beside these, the first entered first."""
        rows = (row for ref in refs for row in self._source.ask(_FIRST, _named(ref)))
        return tuple(piece for first, piece in sorted(rows) if first <= self._last_seq)

    def afresh(self) -> Written:
        """Return the same entries, of which none is held yet."""
        return Written(self._source, self._last_seq)

    def newest(self, piece: str | None, count: int) -> tuple[Event, ...]:
        """Return the last entries about ``piece``, reading few more than those."""
        # Of each kind by itself, since the index is by piece and kind: none but these is touched.
        of_kind = f"SELECT * FROM ({_ABOUT} AND kind = ? ORDER BY seq DESC LIMIT {count:d})"  # noqa: S608  # constants
        query = " UNION ALL ".join([of_kind] * len(_KINDS))
        given = [value for kind in _KINDS for value in (piece, self._last_seq, kind)]
        found = self._source.events(f"{query} ORDER BY seq", given, self._known)
        return tuple(found)[-count:]


class StoredFiled(Filed):
    """A journal's entries up to one of them, and those that were folded on top of these."""

    def __init__(
        self, written: Written, later: Mapping[str | None, tuple[Event, ...]] | None = None
    ) -> None:
        super().__init__(later)
        self._written = written

    def __getitem__(self, piece: str | None) -> tuple[Event, ...]:
        return (*self._written.about(piece), *self._entries.get(piece, ()))

    def __iter__(self) -> Iterator[str | None]:
        return iter(dict.fromkeys((*self._written.pieces(), *self._entries)))

    def __len__(self) -> int:
        return sum(1 for _ in self)

    def of_kinds(self, piece: str | None, kinds: tuple[type[Payload], ...]) -> tuple[Event, ...]:
        """Return the entries about ``piece`` that are of some kinds, reading only those."""
        names = tuple(sorted(kind.kind for kind in kinds))
        later = (event for event in self._entries.get(piece, ()) if isinstance(event.what, kinds))
        return (*self._written.about(piece, names), *later)

    def newest(self, piece: str | None, count: int) -> tuple[Event, ...]:
        """Return the last ``count`` entries about ``piece``, reading few more than those."""
        later = self._entries.get(piece, ())[-count:]
        return (*self._written.newest(piece, count), *later)[-count:]

    def about_since(self, seq: int) -> frozenset[str | None]:
        """Return what entries with a higher number than ``seq`` are about, reading none of them."""
        later = (piece for piece, came in self._entries.items() if came and came[-1].seq > seq)
        return self._written.about_since(seq).union(later)

    def of_kinds_after(
        self, piece: str | None, kinds: tuple[type[Payload], ...], after: int
    ) -> tuple[Event, ...]:
        """Return those of them with a higher number than ``after``, reading only those."""
        names = tuple(sorted(kind.kind for kind in kinds))
        came = self._entries.get(piece, ())
        later = (event for event in came if event.seq > after and isinstance(event.what, kinds))
        return (*self._written.about_after(piece, names, after), *later)

    def of_kinds_at(
        self, piece: str | None, kinds: tuple[type[Payload], ...], since: datetime
    ) -> tuple[Event, ...]:
        """Return those of them that happened at ``since`` or later, reading only those."""
        names = tuple(sorted(kind.kind for kind in kinds))
        came = self._entries.get(piece, ())
        later = (event for event in came if event.at >= since and isinstance(event.what, kinds))
        return (*self._written.about_after(piece, names, 0, since), *later)

    def draws(self, after: int = 0) -> Draws:
        """Return what coats took from the shelf, from the table where no entry came since."""
        return self._written.draws(self._entries, after)

    @property
    def shelf_memo(self) -> ShelfMemo | None:
        """How far the shelf was folded before."""
        return self._written.shelf_memo

    @property
    def is_settled(self) -> bool:
        """False while entries are written that may be let go of again."""
        return self._written.is_settled

    def mark_of(self, ref: str) -> str:
        """Return the same; none where an entry came that is not on the disk."""
        last_seq, mark = self._written.mark_of(ref)
        came = (
            events[-1].seq
            for piece, events in self._entries.items()
            if piece is not None and piece.partition("+")[0] == ref
        )
        return "" if max(came, default=0) > last_seq else mark

    def mark_at(self, seq: int) -> str:
        """Return by what an entry on the disk is known; none of one that is only tried."""
        mark = self._written.mark_at(seq)
        came = (events[-1] for events in self._entries.values() if events)
        tried = any(last.seq == seq and not mark.startswith(last.id) for last in came)
        return "" if tried else mark

    def touched_since(self, seq: int) -> frozenset[str | None]:
        """Return what entries with a higher number are about, reading none of them."""
        later = (piece for piece, came in self._entries.items() if came and came[-1].seq > seq)
        return self._written.touched_since(seq).union(later)

    def took_back_since(self, seq: int) -> bool:
        """Tell whether an entry of the shop on the disk takes one back, or amends it."""
        return self._written.took_back_since(seq)

    def among(self, refs: Collection[str]) -> tuple[str, ...]:
        """Return the same, reading no entry; those that came since last."""
        later = (piece for piece in self._entries if piece and piece.partition("+")[0] in refs)
        return tuple(dict.fromkeys((*self._written.among(refs), *later)))

    def afresh(self) -> Filed:
        """Return the same entries, of which nothing is held that was read from the disk."""
        return StoredFiled(self._written.afresh(), self._entries)

    def having(self, new: Mapping[str | None, list[Event]]) -> Filed:
        """Return these entries and ``new`` ones after them; what was read serves both."""
        more = {piece: (*self._entries.get(piece, ()), *events) for piece, events in new.items()}
        return StoredFiled(self._written, {**self._entries, **more})
