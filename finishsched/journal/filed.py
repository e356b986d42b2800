"""Entries by piece, as a book has them at hand."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from datetime import datetime

from finishsched.journal.events import Event, Payload
from finishsched.journal.jar_draws import Draws
from finishsched.journal.shelf_memo import ShelfMemo


class Filed(Mapping[str | None, tuple[Event, ...]]):
    """Entries by piece in the order of writing, undone ones among them, undos not.

    It never changes. A journal's reads from the disk what is asked for, and nothing else.
    """

    def __init__(self, entries: Mapping[str | None, tuple[Event, ...]] | None = None) -> None:
        self._entries = dict(entries or {})

    def __getitem__(self, piece: str | None) -> tuple[Event, ...]:
        return self._entries[piece]

    def __iter__(self) -> Iterator[str | None]:
        return iter(self._entries)

    def __len__(self) -> int:
        return len(self._entries)

    def of_kinds(self, piece: str | None, kinds: tuple[type[Payload], ...]) -> tuple[Event, ...]:
        """Return the entries about ``piece`` that are of some kinds."""
        return tuple(event for event in self.get(piece, ()) if isinstance(event.what, kinds))

    def of_kinds_after(
        self, piece: str | None, kinds: tuple[type[Payload], ...], after: int
    ) -> tuple[Event, ...]:
        """Return those of them with a higher number than ``after``."""
        return tuple(event for event in self.of_kinds(piece, kinds) if event.seq > after)

    def of_kinds_at(
        self, piece: str | None, kinds: tuple[type[Payload], ...], since: datetime
    ) -> tuple[Event, ...]:
        """Return those of them that happened at ``since`` or later."""
        return tuple(event for event in self.of_kinds(piece, kinds) if event.at >= since)

    def newest(self, piece: str | None, count: int) -> tuple[Event, ...]:
        """Return the last ``count`` entries about ``piece``."""
        return self.get(piece, ())[-count:]

    def about_since(self, seq: int) -> frozenset[str | None]:
        """Return what entries with a higher number than ``seq`` are about."""
        newest = ((piece, self.newest(piece, 1)) for piece in self)
        return frozenset(piece for piece, last in newest if last and last[-1].seq > seq)

    def draws(self, after: int = 0) -> Draws:  # noqa: ARG002
        """Return what coats took from the shelf, as far as no entry need be read for it.

        By entries with a higher number than ``after``.
        """
        return Draws((), tuple(piece for piece in self if piece is not None))

    @property
    def is_settled(self) -> bool:
        """True where these entries stay whatever becomes of those that are written just now."""
        return False

    @property
    def shelf_memo(self) -> ShelfMemo | None:
        """How far the shelf was folded before; None for entries that stand in no file."""
        return None

    def mark_of(self, ref: str) -> str:  # noqa: ARG002
        """Return what changes with every entry about a piece, or about what is worked beside it.

        Only what is kept has any; empty where there is none.
        """
        return ""

    def mark_at(self, seq: int) -> str:  # noqa: ARG002
        """Return by what the entry of a number is known; empty where there is none that is kept."""
        return ""

    def touched_since(self, seq: int) -> frozenset[str | None]:
        """Return what entries with a higher number are about, undos and those not counted too."""
        return self.about_since(seq)

    def took_back_since(self, seq: int) -> bool:  # noqa: ARG002
        """Tell whether an entry of the shop with a higher number takes one back, or amends it."""
        return True

    def among(self, refs: Collection[str]) -> tuple[str, ...]:
        """Return those pieces that are ``refs``, or beside these, the first entered first."""
        pieces = (piece for piece in self if piece is not None)
        return tuple(piece for piece in pieces if piece.partition("+")[0] in refs)

    def afresh(self) -> Filed:
        """Return the same entries, of which nothing is held that was read."""
        return self

    def having(self, new: Mapping[str | None, list[Event]]) -> Filed:
        """Return these entries and ``new`` ones after them."""
        added = {piece: (*self.get(piece, ()), *events) for piece, events in new.items()}
        return Filed({**self._entries, **added})
