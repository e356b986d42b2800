"""What is left on the shelf: a fold over purchases, mixings, counts and coats; never stored.

Entries count in the order of the times when they happened, so that a coat or a purchase written
down late lands where it belongs: a coat laid before a count is in that count already, and a batch
written again after a mistake still gave what was taken from it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import datetime
from typing import NamedTuple

from finishsched.journal.events import (
    Amended,
    BatchMixed,
    Event,
    JarTested,
    LotBought,
    StepDone,
    StockCounted,
    SuppliesTold,
)
from finishsched.journal.jar_draws import CoatDraw, draw_of
from finishsched.journal.progress import Book
from finishsched.journal.shelf_memo import Folded, sum_of_names
from finishsched.model.recipe import Weighed
from finishsched.model.stock import Batch, DropTest, Lot, Thing

ROUNDING = 1e-6
"""In grams or millilitres: what sums of floats may miss without being short."""

ABOUT_STOCK = (LotBought, BatchMixed, StockCounted, JarTested, SuppliesTold)
"""Entries about lots, batches and supplies."""


class Shelf(NamedTuple):
    """Every lot and batch that an entry tells of, the oldest first, empty ones too."""

    lots: tuple[Lot, ...] = ()
    batches: tuple[Batch, ...] = ()

    @property
    def things(self) -> tuple[Thing, ...]:
        """All of it, lots first."""
        return self.lots + self.batches

    @property
    def names(self) -> tuple[str, ...]:
        """The names of all, lots first."""
        return tuple(thing.name for thing in self.things)

    def find(self, name: str) -> Thing | None:
        """Return the lot or batch of that name."""
        return next((thing for thing in self.things if thing.name == name), None)


def shelf(book: Book) -> Shelf:
    """Return what stands on the shelf by the live entries of ``book``.

    What is left of a thing is what was bought or mixed, less what batches and coats took since,
    or since it was last counted. It is never below zero: a thing of which more was taken is
    marked ``short``. An entry about something that is not there takes nothing.
    """
    return book.once(_folded)


def _folded(book: Book) -> Shelf:
    memo = book.filed.shelf_memo
    before = memo.folded() if memo is not None else Folded()
    told = _told_since(book, before) if _goes_on(book, before) else None
    if told is None:
        before, told = Folded(), _told(book, 0)
    things, sums = dict(before.things), dict(before.sums)
    drawn = _Drawn(things, sums)
    for one in told:
        if isinstance(one, CoatDraw):
            drawn.add(one)
        else:
            _apply(one, things, drawn)
    mark = book.filed.mark_at(book.last_seq) if told and book.filed.is_settled else ""
    if memo is not None and mark:
        until, undone = _by_time(told[-1]), sum_of_names(book.undone)
        folded = Folded(dict(things), dict(sums), until, book.last_seq, mark, undone)
        memo.keep(folded, len(told))
    drawn.settle()
    found = things.values()
    return Shelf(
        tuple(thing for thing in found if isinstance(thing, Lot)),
        tuple(thing for thing in found if isinstance(thing, Batch)),
    )


def _goes_on(book: Book, before: Folded) -> bool:
    """Tell whether nothing but more entries came since the shelf was folded before."""
    is_of_it = before.mark and before.seq <= book.last_seq
    if not is_of_it or before.mark != book.filed.mark_at(before.seq):
        return False
    return before.undone == sum_of_names(book.undone)


def _told_since(book: Book, before: Folded) -> list[Event | CoatDraw] | None:
    """Return what came since, in the order of time; None where any of it belongs further back."""
    told = _told(book, before.seq)
    amended = book.filed.of_kinds_after(None, (Amended,), before.seq)
    is_later = not told or before.until is None or _by_time(told[0]) > before.until
    return told if is_later and not amended and not _is_told_otherwise(book, before.seq) else None


def _told(book: Book, after: int) -> list[Event | CoatDraw]:
    """Return what stands in entries with a higher number than ``after``, in the order of time."""
    of_stock = book.told_after(None, ABOUT_STOCK, after)
    return sorted((*of_stock, *_draws(book, after)), key=_by_time)


def entries_about(book: Book, name: str) -> tuple[Event, ...]:
    """Return the live entries of the shop about the thing ``name``, in the order of writing."""
    told = book.told(None, *ABOUT_STOCK)
    return tuple(event for event in told if _named(event) == name)


def _named(event: Event) -> str | None:
    match event.what:
        case (
            LotBought(lot=name)
            | BatchMixed(batch=name)
            | StockCounted(name=name)
            | SuppliesTold(name=name)
            | JarTested(batch=name)
        ):
            return name
        case _:
            return None


def _draws(book: Book, after: int) -> Iterator[CoatDraw]:
    """Give what each coat took that counts, as it was told last."""
    known, to_read = book.filed.draws(after)
    for kept in known:
        if kept.draw is not None and kept.event_id not in book.undone:
            yield kept.draw
    for piece in to_read:
        for event in book.told(piece, StepDone):
            draw = draw_of(event) if event.seq > after else None
            if draw is not None:
                yield draw


def _is_told_otherwise(book: Book, after: int) -> bool:
    """Tell whether a coat of which anything came is amended by an entry ``after`` one."""
    _, to_read = book.filed.draws(after)
    return any(book.filed.of_kinds_after(piece, (Amended,), after) for piece in to_read)


def _by_time(one: Event | CoatDraw) -> tuple[datetime, int]:
    return one.at, one.seq


class _Drawn:
    """What was drawn from each thing since anything else was last told of it.

    A lifetime of draws is summed up, and taken off at once when something else is told.
    """

    def __init__(self, things: dict[str, Thing], sums: dict[str, tuple[float, float]]) -> None:
        self._things = things
        self._sums = sums

    def add(self, draw: CoatDraw) -> None:
        """Add what one coat took; from what is not there nothing is taken."""
        if draw.name in self._things:
            grams, millilitres = self._sums.get(draw.name, (0.0, 0.0))
            self._sums[draw.name] = (
                grams + (draw.amount_g or 0.0), millilitres + (draw.amount_ml or 0.0)
            )  # fmt: skip

    def settle(self, name: str | None = None) -> None:
        """Take off what was drawn from one thing, or from all."""
        for one in [name] if name is not None else list(self._sums):
            if one in self._sums:
                _take(self._things, one, *self._sums.pop(one))


def _apply(event: Event, things: dict[str, Thing], drawn: _Drawn) -> None:
    drawn.settle(_named(event))
    match event.what:
        case LotBought() as bought:
            things[bought.lot] = _lot(bought, event.at)
        case BatchMixed() as mixed:
            for draw in mixed.draws:
                drawn.settle(draw.lot)
                _take(things, draw.lot, draw.amount_g, draw.amount_ml)
            things[mixed.batch] = _batch(mixed, event.at)
        case StockCounted() as counted if counted.name in things:
            things[counted.name] = _counted(things[counted.name], counted)
        case JarTested() as tested:
            thing = things.get(tested.batch)
            if isinstance(thing, Batch):
                drop = DropTest(event.at, tested.hard_after_s)
                things[tested.batch] = replace(thing, tested=drop)
        case _:
            pass


def _lot(bought: LotBought, at: datetime) -> Lot:
    grams, millilitres = bought.amount_g, bought.amount_ml
    return Lot(bought.lot, bought.product, at, grams, grams, millilitres, millilitres)


def _batch(mixed: BatchMixed, at: datetime) -> Batch:
    return Batch(
        name=mixed.batch,
        product=mixed.product,
        mixed_at=at,
        made_ml=mixed.makes_ml,
        left_ml=mixed.makes_ml,
        cut_g_per_l=mixed.cut_g_per_l,
        thinned_percent=mixed.thinned_percent,
        lots=_once(draw.lot for draw in mixed.draws),
        parts=tuple(Weighed(one.product, one.amount_g, one.amount_ml) for one in mixed.parts),
    )


def _once(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))


def _counted(thing: Thing, counted: StockCounted) -> Thing:
    """Return ``thing`` with what was found, where that is in the unit that it is kept in."""
    if isinstance(thing, Lot) and thing.left_g is not None:
        found = counted.left_g
        return thing if found is None else replace(thing, left_g=found, short=False)
    found = counted.left_ml
    return thing if found is None else replace(thing, left_ml=found, short=False)


def _take(
    things: dict[str, Thing], name: str, amount_g: float | None, amount_ml: float | None
) -> None:
    thing = things.get(name)
    if thing is None:
        return
    if isinstance(thing, Lot) and thing.left_g is not None:
        left_g, short = _less(thing.left_g, amount_g)
        things[name] = replace(thing, left_g=left_g, short=thing.short or short)
    elif thing.left_ml is not None:
        left_ml, short = _less(thing.left_ml, amount_ml)
        things[name] = replace(thing, left_ml=left_ml, short=thing.short or short)


def _less(left: float, amount: float | None) -> tuple[float, bool]:
    after = left - (amount or 0.0)
    return max(0.0, after), after < -ROUNDING
