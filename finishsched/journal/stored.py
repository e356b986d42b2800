"""The entries of a journal by piece, read from the disk when they are asked for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from finishsched.journal.events import Event, Payload
from finishsched.journal.jar_draws import COLUMNS as DRAWN
from finishsched.journal.jar_draws import Draws, draws_of, read_row
from finishsched.journal.payloads import PAYLOADS
from finishsched.journal.progress import Filed
from finishsched.journal.source import Source, text_of

COLUMNS = "seq, id, at, logged_at, piece, kind, body"
NOT_FILED = ("air", "undo")
"""Readings have a table of their own; an undo only says what does not count."""

_ABOUT = f"SELECT {COLUMNS} FROM events WHERE piece IS ? AND seq <= ? AND kind <> 'air'"  # noqa: S608  # constant
_KINDS = tuple(kind for kind in PAYLOADS if kind not in NOT_FILED)


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

    def draws(self, later: Iterable[str | None]) -> Draws:
        """Return what coats took; the pieces of ``later`` entries are to be read."""
        query = f"SELECT {DRAWN} FROM jar_draws WHERE seq <= ?"  # noqa: S608  # constant
        return draws_of(self._source.asked(read_row, query, (self._last_seq,)), later)

    def marks(self) -> dict[str, str]:
        """Return by piece the number of its last entry, an undo too, and the sum over that."""
        found = self._source.ask(
            "SELECT piece, last_seq, crc FROM pieces JOIN sums ON sums.seq = pieces.last_seq"
        )
        return {piece: f"{last_seq}:{crc}" for piece, last_seq, crc in found}

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

    def draws(self) -> Draws:
        """Return what coats took from the shelf, from the table where no entry came since."""
        return self._written.draws(self._entries)

    def marks(self) -> Mapping[str, str]:
        """Return the same; none of a piece about which an entry came that is not on the disk."""
        marks = self._written.marks()
        for piece, came in self._entries.items():
            if piece in marks and came[-1].seq > int(marks[piece].partition(":")[0]):
                del marks[piece]
        return marks

    def having(self, new: Mapping[str | None, list[Event]]) -> Filed:
        """Return these entries and ``new`` ones after them; what was read serves both."""
        more = {piece: (*self._entries.get(piece, ()), *events) for piece, events in new.items()}
        return StoredFiled(self._written, {**self._entries, **more})
