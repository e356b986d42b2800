"""The bench's side of the door: every call goes through here, every refusal comes back as words."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING

from finishsched.bench.asking.door import Door, Reach
from finishsched.bench.at_hand.together import gathered
from finishsched.bench.telling import beat
from finishsched.journal.faults import JournalFaultError
from finishsched.model.names import in_words
from finishsched.model.shop import Air
from finishsched.refusals import RefusalError
from finishsched.workshop.base.answers import BenchView, PieceView
from finishsched.workshop.base.entries import Entry
from finishsched.workshop.standing.together import Row

if TYPE_CHECKING:
    from finishsched.bench.typed.seeing import SurfaceSeen
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.stock.shelf_entries import Mixed
    from finishsched.workshop.stock.stock import StockAnswer

DOUBLE_PRESS_S = 1.5
"""A second press on the same piece within this time is a slip of a wet finger."""


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why the workshop did not take something, and what would be right."""

    text: str
    is_fault: bool
    """True when the journal failed, not the entry."""


class Desk:
    """Keeps the last view and asks for a new one when it may have changed."""

    def __init__(self, door: Door, now: datetime) -> None:
        self._door = door
        self.apart: set[str] = set()
        """Pieces that somebody took out of those that they are alike with, and that are at the
        same step still: one that is not stands apart by itself, and comes back by itself."""
        self.each: tuple[PieceView, ...] = ()
        """Every piece by itself."""
        self._rows: Mapping[str, Row] = {}
        self.view: BenchView = self._gathered(now)
        """What the bench shows: those that are worked as one stand as one."""
        self._asked_at = now
        self.asks = 1
        """How many views were asked for: whoever saw a smaller number has seen an older view."""
        self.taken = 0
        """How many entries were made here."""
        self.heard = 0
        """How often something was written elsewhere."""
        self.last_entry: object = None
        """What the door made of the entry last handed in."""
        self._looked_at: datetime | None = None

    @property
    def workshop(self) -> Workshop | None:
        """The open shop, for what only a shop can answer."""
        return self._door.workshop

    def look(self, now: datetime) -> Refusal | None:
        """Bring the view to ``now``: ask the workshop if it may differ, else move the clocks."""
        refusal = self._try(lambda: self._refresh(now))
        if refusal is not None:
            self.view = beat.at(self.view, now)
        return refusal or self._mark_looked(now)

    def log(self, entry: Entry, now: datetime, *, widens: bool = True) -> Refusal | None:
        """Hand in an entry; the view then shows it.

        It is about all that stand as one with its piece, unless ``widens`` is False.
        """
        refs = self.refs_of(entry.piece) if widens else (entry.piece,)
        about = replace(entry, piece=",".join(refs))
        return self._take(lambda: self._door.log(about, now), now)

    def add_air(self, air: Air, now: datetime) -> Refusal | None:
        """Hand in a reading of the air; the view then shows it."""
        return self._take(lambda: self._door.add_air(air, now), now)

    def log_batch(self, entry: Mixed, now: datetime) -> Refusal | None:
        """Hand in a batch that was mixed; the view then shows it."""
        return self._take(lambda: self._door.log_stock(entry, now), now)

    def log_readings(self, seen: SurfaceSeen, now: datetime) -> Refusal | None:
        """Hand in what was read of a surface; the view then shows it."""
        return self._take(lambda: self._door.log_readings(seen, now), now)

    def stock(self, now: datetime) -> StockAnswer | Refusal:
        """Return what stands on the shelf, or why it cannot be told."""
        found: list[StockAnswer] = []
        refusal = self._try(lambda: found.append(self._door.stock(now)))
        return refusal or found[0]

    def reach(self, refs: Sequence[str], jar: str, now: datetime) -> Reach | Refusal:
        """Return how far pad and jar go on these, several as one, or why it cannot be told."""
        found: list[Reach] = []
        every = [each for ref in refs for each in self.refs_of(ref)]
        refusal = self._try(lambda: found.append(self._door.reach(every, jar, now)))
        if refusal is not None:
            return refusal
        takes = found[0].coat_ml
        as_shown = {ref: sum(takes.get(each, 0.0) for each in self.refs_of(ref)) for ref in refs}
        return replace(found[0], coat_ml=as_shown, pieces=len(every))

    def refs_of(self, ref: str) -> tuple[str, ...]:
        """Return the pieces that stand as one under ``ref``."""
        return self._rows[ref].refs if ref in self._rows else (ref,)

    def first_of(self, ref: str) -> str:
        """Return the piece under which ``ref``, a piece or a row by its name, stands here."""
        rows = self._rows.items()
        return next((first for first, row in rows if ref in (row.name, *row.refs)), ref)

    def title_of(self, refs: Sequence[str]) -> str:
        """Return what pieces are called together: as their row is, or each by its own title."""
        row = next((row for row in self._rows.values() if set(row.refs) == set(refs)), None)
        if row is not None:
            return row.title
        titles = {piece.ref: piece.title for piece in self.each}
        return in_words(titles.get(ref, ref) for ref in refs)

    def is_joined(self, ref: str) -> bool:
        """Tell whether different pieces stand as one under ``ref``, for the evening."""
        return ref in self._rows and self._rows[ref].joined

    def take_apart(self, ref: str, now: datetime) -> None:
        """Let a piece stand by itself, or with those that it is alike with again."""
        self.apart ^= {ref}
        self._ask(now)

    def piece(self, ref: str) -> PieceView | None:
        """Return the piece ``ref`` as it stands, or None when the shop has none such."""
        return next((piece for piece in self.view.pieces if piece.ref == ref), None)

    def _refresh(self, now: datetime) -> None:
        changed = self._door.changed()
        self.heard += changed
        if changed or beat.is_stale(self.view, self._asked_at, now):
            self._ask(now)
        elif beat.is_seen(self.view.now, now):
            self.view = beat.at(self.view, now)

    def _gathered(self, now: datetime) -> BenchView:
        view = self._door.bench_view(now)
        self.each = view.pieces
        if self.apart:
            alone = (row.row.refs for row in self._door.rows(view.pieces, set(), now))
            self.apart -= {refs[0] for refs in alone if len(refs) == 1}
        rows = self._door.rows(view.pieces, self.apart, now)
        self._rows = {row.row.refs[0]: row.row for row in rows}
        return gathered(view, rows)

    def _ask(self, now: datetime) -> None:
        self.view = self._gathered(now)
        self._asked_at = now
        self.asks += 1

    def refresh(self, now: datetime) -> Refusal | None:
        """Ask for the view anew, after an entry."""
        self.taken += 1
        return self._try(lambda: self._ask(now))

    def _take(self, write: Callable[[], object], now: datetime) -> Refusal | None:
        """Have something written, keep what became of it, and ask for the view anew."""
        self.last_entry = None
        found: list[object] = []
        refusal = self._try(lambda: found.append(write()))
        if refusal is None:
            self.last_entry = found[0]
        return refusal or self.refresh(now)

    def _mark_looked(self, now: datetime) -> Refusal | None:
        last = self._looked_at
        if last is not None and last <= now < last + beat.LOOKED_EVERY:
            return None
        self._looked_at = now
        return self._try(lambda: self._door.mark_looked(now))

    def _try(self, call: Callable[[], object]) -> Refusal | None:
        try:
            call()
        except RefusalError as error:
            return refusal_of(error)
        return None


def refusal_of(error: RefusalError) -> Refusal:
    """Return what was not taken in words, and whether it was the journal that failed."""
    is_fault = isinstance(error, JournalFaultError)
    return Refusal(str(error), is_fault=is_fault)


class DoublePress:
    """Tells a second press on the same piece, or a key held down, from a press that is meant."""

    def __init__(self) -> None:
        self._ref = ""
        self._pressed_s = float("-inf")

    def is_one(self, ref: str, pressed_s: float) -> bool:
        """Return True for a press too soon after the last one on ``ref``.

        ``pressed_s`` is when it was pressed: a busy bench may answer several presses at one moment.
        """
        is_one = ref == self._ref and pressed_s - self._pressed_s < DOUBLE_PRESS_S
        self._ref, self._pressed_s = ref, pressed_s
        return is_one
