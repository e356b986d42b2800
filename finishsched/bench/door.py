"""What the bench asks of the workshop, and nothing more."""

from __future__ import annotations

from datetime import datetime
from typing import Protocol

from finishsched.model.shop import Air
from finishsched.workshop.air.reading_entries import add_air
from finishsched.workshop.base.answers import BenchView
from finishsched.workshop.base.entries import Entry
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.standing.views import bench_view
from finishsched.workshop.stock.shelf_entries import Mixed
from finishsched.workshop.stock.shop_stock import log_stock, shop_stock
from finishsched.workshop.stock.stock import StockAnswer


class Door(Protocol):
    """Answers and takes entries for one shop folder."""

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


class ShopDoor:
    """The door of an open shop."""

    def __init__(self, workshop: Workshop) -> None:
        self._workshop = workshop

    def bench_view(self, now: datetime) -> BenchView:
        """Return the shop as it stands at ``now``."""
        return bench_view(self._workshop, now)

    def changed(self) -> bool:
        """Return True when another process wrote, or a document was edited, since last asked."""
        return self._workshop.changed()

    def log(self, entry: Entry, now: datetime) -> object:
        """Take an entry, or refuse it."""
        return log_entry(self._workshop, entry, now)

    def add_air(self, air: Air, now: datetime) -> object:
        """Take a reading of the air, or refuse it."""
        return add_air(self._workshop, air, now)

    def stock(self, now: datetime) -> StockAnswer:
        """Return what stands on the shelf."""
        return shop_stock(self._workshop, now)

    def log_stock(self, entry: Mixed, now: datetime) -> object:
        """Take an entry about stock, or refuse it."""
        return log_stock(self._workshop, entry, now)

    def mark_looked(self, now: datetime) -> None:
        """Note that somebody had the bench open at ``now``."""
        self._workshop.mark_looked(now)
