"""What the bench asks of the workshop, and nothing more."""

from __future__ import annotations

from datetime import datetime
from typing import Protocol

from finishsched.model.shop import Air
from finishsched.workshop.base.answers import BenchView
from finishsched.workshop.base.entries import Entry
from finishsched.workshop.stock.shelf_entries import Mixed
from finishsched.workshop.stock.stock import StockAnswer


class Door(Protocol):
    """Answers and takes entries for one shop folder; the workshop is one."""

    def bench_view(self, now: datetime) -> BenchView:
        """Return the shop as it stands at ``now``."""

    def changed(self) -> bool:
        """Return True when another process wrote, or a document was edited, since last asked."""

    def log(self, entry: Entry, now: datetime) -> object:
        """Take an entry.

        Raises:
            RefusedError: when it cannot be true.
            JournalFaultError: when it cannot be written.

        """

    def add_air(self, air: Air, now: datetime) -> object:
        """Take a reading of the air."""

    def stock(self, now: datetime) -> StockAnswer:
        """Return what stands on the shelf."""

    def log_stock(self, entry: Mixed, now: datetime) -> object:
        """Take an entry about stock, or refuse it as ``log`` does."""

    def mark_looked(self, now: datetime) -> None:
        """Note that somebody had the bench open at ``now``."""
