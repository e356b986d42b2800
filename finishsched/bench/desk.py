"""The bench's side of the door: every call goes through here, every refusal comes back as words."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from finishsched.bench import beat
from finishsched.bench.door import Door, Reach
from finishsched.journal.faults import JournalFaultError
from finishsched.model.shop import Air
from finishsched.refusals import RefusalError
from finishsched.workshop.base.answers import BenchView, PieceView
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.stock.shelf_entries import Mixed
from finishsched.workshop.stock.stock import StockAnswer

if TYPE_CHECKING:
    from finishsched.workshop.base.workshop import Workshop

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
        self.view: BenchView = door.bench_view(now)
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

    def log(self, entry: Entry, now: datetime) -> Refusal | None:
        """Hand in an entry; the view then shows it."""
        return self._take(lambda: self._door.log(entry, now), now)

    def log_all(self, entries: Sequence[Entry], now: datetime) -> Refusal | None:
        """Hand in several entries, all or none; the view then shows them."""
        return self._take(lambda: self._door.log_all(entries, now), now)

    def take_back(self, ref: str, entries: int, now: datetime) -> Refusal | None:
        """Take back the last ``entries`` of a piece."""
        undo = Entry(What.UNDO, ref)
        return self._take(lambda: [self._door.log(undo, now) for _ in range(abs(entries))], now)

    def add_air(self, air: Air, now: datetime) -> Refusal | None:
        """Hand in a reading of the air; the view then shows it."""
        return self._take(lambda: self._door.add_air(air, now), now)

    def log_batch(self, entry: Mixed, now: datetime) -> Refusal | None:
        """Hand in a batch that was mixed; the view then shows it."""
        return self._take(lambda: self._door.log_stock(entry, now), now)

    def stock(self, now: datetime) -> StockAnswer | Refusal:
        """Return what stands on the shelf, or why it cannot be told."""
        found: list[StockAnswer] = []
        refusal = self._try(lambda: found.append(self._door.stock(now)))
        return refusal or found[0]

    def reach(self, refs: Sequence[str], jar: str, now: datetime) -> Reach | Refusal:
        """Return how far pad and jar go on these pieces, or why it cannot be told."""
        found: list[Reach] = []
        refusal = self._try(lambda: found.append(self._door.reach(refs, jar, now)))
        return refusal or found[0]

    def piece(self, ref: str) -> PieceView | None:
        """Return the piece ``ref`` as it stands, or None when the shop has none such."""
        return next((piece for piece in self.view.pieces if piece.ref == ref), None)

    def _refresh(self, now: datetime) -> None:
        changed = self._door.changed()
        self.heard += changed
        if changed or beat.is_stale(self.view, self._asked_at, now):
            self._ask(now)
        else:
            self.view = beat.at(self.view, now)

    def _ask(self, now: datetime) -> None:
        self.view = self._door.bench_view(now)
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

    def is_one(self, ref: str, monotonic_s: float) -> bool:
        """Return True for a press too soon after the last one on ``ref``."""
        is_one = ref == self._ref and monotonic_s - self._pressed_s < DOUBLE_PRESS_S
        self._ref, self._pressed_s = ref, monotonic_s
        return is_one
