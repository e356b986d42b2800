"""Papers, pads, cloths and tape on the shelf: what was bought and counted, less what work took.

What a step takes is reckoned (``mixing/consumables.py``), wide on purpose. A second count tells how
this shop's own sheets last, and from then on its own figure holds, with half of that width.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime

from finishsched.journal.events import StepDone, SuppliesTold
from finishsched.journal.progress import Book
from finishsched.journal.shelf import entries_about
from finishsched.mixing.consumables import AtOnce, Consumable, at_once, consumables_of
from finishsched.mixing.need import PieceWork
from finishsched.model.ranges import Range
from finishsched.model.stock import Lot
from finishsched.model.supplies import supply_named
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.where import worked_since

NOTHING = Range(0.0, 0.0, 0.0)
ENOUGH_TAKEN = 1.0
"""So much has to be reckoned as taken between two counts before they tell anything."""
OWN_SPREAD = Range(0.7, 1.0, 1.4)
"""Of what the next step takes, where a shop's own counts say the likely (our assumption)."""
LOW, LOW_ML = 1.0, 50.0
"""With less than one left, or 50 ml of what wets paper, it is low (our assumption)."""


@dataclass(frozen=True, slots=True)
class Shelved:
    """One supply as it likely stands."""

    name: str
    unit: str
    left: Range
    counted_at: datetime
    """When it was last bought or counted."""
    factor: float | None
    """What work takes here over what is reckoned; None where no two counts tell."""

    @property
    def is_low(self) -> bool:
        """True where it may soon be out."""
        return self.left.likely < (LOW_ML if self.unit == "ml" else LOW)


@dataclass(frozen=True, slots=True)
class _Taken:
    at: datetime
    amount: Range


def supplies_of(workshop: Workshop) -> tuple[Shelved, ...]:
    """Return every supply that was ever bought or counted, as it likely stands now."""
    book = workshop.book()
    told: dict[str, list[tuple[datetime, SuppliesTold]]] = defaultdict(list)
    for event in sorted(book.told(None, SuppliesTold), key=lambda one: (one.at, one.seq)):
        if isinstance(event.what, SuppliesTold):
            told[event.what.name].append((event.at, event.what))
    if not told:
        return ()
    since = min(entries[0][0] for entries in told.values())
    taken = _taken(workshop, book, since)
    return tuple(_stands(name, entries, taken[name]) for name, entries in told.items())


def wetted_from(workshop: Workshop, lots: Iterable[Lot]) -> tuple[Shelved, ...]:
    """Return what is bought by volume and wets paper and cloth, less what work likely took of it.

    From the newest entry about each lot on, which saw what was left then. A lot that work took
    nothing of is not told: its own figure holds.
    """
    book = workshop.book()
    of_product: dict[str, list[tuple[Lot, datetime]]] = defaultdict(list)
    for lot in lots:
        about = entries_about(book, lot.name)
        if lot.left_ml and about:
            of_product[lot.product].append((lot, about[-1].at))
    stood_since = [at for stood in of_product.values() for _, at in stood]
    taken = _taken(workshop, book, min(stood_since)) if stood_since else {}
    found = (_wetted(name, stood, taken.get(name, ())) for name, stood in of_product.items())
    return tuple(one for one in found if one is not None)


def _wetted(
    name: str, stood: list[tuple[Lot, datetime]], taken: Iterable[_Taken]
) -> Shelved | None:
    since = min(at for _, at in stood)
    uses = [use.amount for use in taken if use.at > since]
    had = sum(lot.left_ml or 0.0 for lot, _ in stood)
    left = Range(had, had, had)
    for amount in uses:
        left = _less(left, amount)
    return Shelved(name, "ml", left, since, None) if uses else None


def own_life(consumables: Iterable[Consumable], shelf: Iterable[Shelved]) -> Iterator[Consumable]:
    """Give what work takes, by the shop's own counts where they tell."""
    factors = {one.name: one.factor for one in shelf}
    for one in consumables:
        factor = factors.get(called(one.name))
        own = one.amount if factor is None else OWN_SPREAD.times(factor * one.amount.likely)
        yield replace(one, amount=own)


def missing(wanted: Range, left: Range) -> Range:
    """Return how much is to be bought: the most where work takes most and least is left."""
    return Range(
        max(0.0, wanted.low - left.high),
        max(0.0, wanted.likely - left.likely),
        max(0.0, wanted.high - left.low),
    )


def _stands(name: str, told: list[tuple[datetime, SuppliesTold]], taken: list[_Taken]) -> Shelved:
    """Fold purchases, counts and work in the order of their times."""
    left, reckoned, had = NOTHING, 0.0, 0.0
    found: list[tuple[float, float]] = []
    known = False
    uses = iter(sorted(taken, key=lambda one: one.at))
    use = next(uses, None)
    for at, what in told:
        while use is not None and use.at <= at:
            if known:
                left, reckoned = _less(left, use.amount), reckoned + use.amount.likely
            use = next(uses, None)
        if what.bought:
            left, had = left + Range(what.count, what.count, what.count), had + what.count
        else:
            if known and reckoned >= ENOUGH_TAKEN and had > what.count:
                found.append((had - what.count, reckoned))
            left, had, reckoned = Range(what.count, what.count, what.count), what.count, 0.0
        known = True
    factor = sum(own for own, _ in found) / sum(by for _, by in found) if found else None
    while use is not None:
        left = _less(left, OWN_SPREAD.times(factor * use.amount.likely) if factor else use.amount)
        use = next(uses, None)
    return Shelved(name, told[-1][1].unit, left, told[-1][0], factor)


def _less(left: Range, taken: Range) -> Range:
    return Range(
        max(0.0, left.low - taken.high),
        max(0.0, left.likely - taken.likely),
        max(0.0, left.high - taken.low),
    )


def _taken(workshop: Workshop, book: Book, since: datetime) -> Mapping[str, list[_Taken]]:
    """Return what the steps done took, by name; pieces done on one day share their sheets.

    As ``need`` reckons it of work ahead. Pieces that were finished long before ``since`` are left.
    """
    together: dict[tuple[date, AtOnce], list[tuple[datetime, PieceWork]]] = defaultdict(list)
    for standing in worked_since(workshop, since, book):
        for step, event in standing.progress.done if standing.progress else ():
            if isinstance(event.what, StepDone):
                day = event.at.astimezone(workshop.zone).date()
                area_m2 = standing.piece.area_m2
                work = PieceWork(standing.ref, area_m2, "", (step,), frozenset((step.key,)))
                together[day, at_once(step)].append((event.at, work))
    found: dict[str, list[_Taken]] = defaultdict(list)
    for done in together.values():
        begun = min(at for at, _ in done)
        for one in consumables_of([work for _, work in done], workshop.papers.products):
            found[called(one.name)].append(_Taken(begun, one.amount))
    return found


def called(name: str) -> str:
    """Return a supply by the one name that it has here, however a schedule writes its grade."""
    named = supply_named(name)
    return named[0] if named else name
