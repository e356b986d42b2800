"""What stands on the shelf of the open shop, and entries about it."""

from __future__ import annotations

from datetime import datetime

from finishsched.journal.events import Event
from finishsched.journal.shelf import shelf
from finishsched.workshop.amounts.coats import Habit
from finishsched.workshop.amounts.uses import habits_of
from finishsched.workshop.base.shown import shown_of
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.where import standings
from finishsched.workshop.stock.shelf_entries import StockEntry
from finishsched.workshop.stock.shelf_ledger import stock_event
from finishsched.workshop.stock.stock import Judge, StockAnswer, coat_needs, stock_answer


def shop_stock(workshop: Workshop, now: datetime) -> StockAnswer:
    """Return every lot and batch with its age, what is left, and whether to trust it."""
    papers = workshop.papers
    habits = habits_of(workshop)
    habit = Habit(habits.own, habits.pads.since_s(now))
    coats = coat_needs(standings(workshop), habit, papers.products)
    judge = Judge(papers.products, now, coats, shown_of(papers.shop))
    return stock_answer(shelf(workshop.book()), judge, workshop.zone, papers.shop)


def log_stock(workshop: Workshop, entry: StockEntry, now: datetime) -> Event:
    """Take an entry about stock, and return it once it is safe on the disk.

    Raises:
        RefusedError: when it cannot be true; the journal is as it was.
        JournalFaultError: when it cannot be kept; the journal is as it was.

    """
    papers = workshop.papers
    return workshop.append(
        lambda book: stock_event(entry, book, papers.products, papers.shop, workshop.zone, now),
        now,
    )
