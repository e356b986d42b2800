"""Pieces that are put by: finished a month ago and more, and read again only where they are named.

A shop finishes hundreds of pieces a year, and every one of them has a hundred entries; whoever asks
what is due need not wait until all of them are read. Which pieces are put by follows from the
entries and the documents alone; ``away.py`` keeps beside the journal which ones were found to be.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime, timedelta
from functools import cached_property
from typing import NamedTuple

from finishsched.journal.progress import Book
from finishsched.model.product import Product, RagHabit
from finishsched.workshop.base.resting import wanted_text
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.rags_out import RagsOut
from finishsched.workshop.standing.sheets import brought_in
from finishsched.workshop.standing.standing import Standing

PUT_BY_AFTER = timedelta(days=30)
"""So long before the shop's last entry a piece must have been finished (our assumption)."""
TOOLS_KEEP = timedelta(days=8)
"""No pad in its closed box serves longer than this from one piece to another."""


class PutBy(NamedTuple):
    """One piece that is put by."""

    mark: str
    """Of the last entry about it, or about what was worked beside it."""
    wanted: str
    """What its document wants of it; empty where there is none."""
    schedule: str
    """By which it was finished."""
    title: str
    alike: str
    first_s: float
    last_s: float
    """When the work on it began and ended, seconds since 1970 in UTC."""
    heating: tuple[tuple[str, float], ...]
    """When rags that heat by themselves were last used on it, and on what was worked beside it."""


class Marks:
    """By what it is known that nothing happened to a piece since, and that nothing else is wanted.

    Empty where nothing may be kept: then every piece is read.
    """

    def __init__(self, workshop: Workshop, book: Book) -> None:
        self.products = workshop.papers.products
        self._workshop = workshop
        self._book = book

    @cached_property
    def _rags_out(self) -> RagsOut:
        return RagsOut(self._book)

    @cached_property
    def _wanted(self) -> dict[str, str]:
        papers = self._workshop.papers
        own = papers.own_schedules
        every = papers.pieces_in_hand()
        return {ref: wanted_text(piece.schedules, own) for ref, _, piece in every}

    def of(self, ref: str) -> str:
        """Return the mark of the last entry about a piece, or beside it; empty for none."""
        return "" if self._workshop.lost else self._book.filed.mark_of(ref)

    def wanted(self, ref: str) -> str:
        """Return what the document of a piece wants of it; empty where there is none."""
        if ref not in self._wanted:
            papers = self._workshop.papers
            at_rest = papers.pieces_at_rest((ref,))
            found = (wanted_text(piece.schedules, papers.own_schedules) for *_, piece in at_rest)
            self._wanted[ref] = next(found, "")
        return self._wanted[ref]

    def are_rags_out(self, heating: Iterable[tuple[str, float]]) -> bool:
        """Tell whether somebody said where the rags went that heat by themselves."""
        return all(at_s <= self._rags_out.until(used).timestamp() for used, at_s in heating)


def found_away(
    found: Mapping[str, tuple[Standing, ...]], book: Book, marks: Marks
) -> dict[str, PutBy]:
    """Return those of the pieces ``found``, each with what is worked beside it, to be put by."""
    if book.last_logged_at is None:
        return {}
    until = book.last_logged_at - PUT_BY_AFTER
    return {
        ref: made
        for ref, each in found.items()
        if _is_over(each) and marks.of(ref) and (made := _put_by(each, book, marks, until))
    }


def _is_over(each: tuple[Standing, ...]) -> bool:
    """Tell whether a piece is finished, all that is worked beside it too, and nothing follows."""
    over = (one.progress is not None and one.progress.finished for one in each)
    return all(over) and not each[0].changed_schedule


def _put_by(each: tuple[Standing, ...], book: Book, marks: Marks, until: datetime) -> PutBy | None:
    """Return a piece that is over as it is put by; None where that is not to be yet."""
    instants = [event.at for one in each for event in book.work(one.ref)]
    first, last = min(instants), max(instants)
    if last > until:
        return None
    piece, schedule = each[0].piece, each[0].schedule
    made = PutBy(
        marks.of(each[0].ref),
        marks.wanted(each[0].ref),
        schedule.id if schedule is not None else "",
        piece.title,
        piece.alike,
        first.timestamp(),
        last.timestamp(),
        tuple(_heating(each, marks.products)),
    )
    return made if marks.are_rags_out(made.heating) else None


def _heating(
    each: Iterable[Standing], products: Mapping[str, Product]
) -> Iterator[tuple[str, float]]:
    """Give when the last coat was laid whose rags heat by themselves."""
    for one in each:
        used = [
            event.at.timestamp()
            for step, event in (one.progress.done if one.progress is not None else ())
            if any(each.rags is RagHabit.SELF_HEATING for each in brought_in(step, products))
        ]
        if used:
            yield one.ref, max(used)


def busy_times(here: Iterable[Standing], book: Book) -> list[tuple[float, float]]:
    """Return the times in which another piece may have charged a pad that served one of these.

    In seconds since 1970, in order, each with its begin and end, and none meets another.
    """
    found: list[tuple[float, float]] = []
    for begin_s, end_s in sorted(_stretches(here, book)):
        if found and begin_s <= found[-1][1]:
            found[-1] = found[-1][0], max(found[-1][1], end_s)
        else:
            found.append((begin_s, end_s))
    return found


def _stretches(here: Iterable[Standing], book: Book) -> Iterator[tuple[float, float]]:
    """Give the time before each entry about a piece in which another may have charged its pad."""
    keeps_s = TOOLS_KEEP.total_seconds()
    for one in here:
        for event in book.work(one.ref):
            at_s = event.at.timestamp()
            yield at_s - keeps_s, at_s
