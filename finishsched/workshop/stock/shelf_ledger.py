"""From an entry about stock to the event that the journal keeps, or a refusal in plain words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, tzinfo

from finishsched.documents.wording import did_you_mean
from finishsched.journal import events
from finishsched.journal.events import Event, NewEvent
from finishsched.journal.progress import Book
from finishsched.journal.shelf import ABOUT_STOCK, Shelf, entries_about, shelf
from finishsched.model.product import Product, ProductKind
from finishsched.model.recipe import Weighed
from finishsched.model.shop import Shop
from finishsched.model.stock import Batch, Lot, Thing
from finishsched.model.supplies import supply_named
from finishsched.near import nearest
from finishsched.workshop.base.entries import AHEAD, RefusedError
from finishsched.workshop.base.shown import shown_of
from finishsched.workshop.base.words import one_line
from finishsched.workshop.stock.mixing_draws import (
    Wanted,
    chosen_lots,
    density_g_per_ml,
    draws_for,
    parts_for,
    wanted_for,
    wanted_parts,
)
from finishsched.workshop.stock.shelf_entries import (
    Bought,
    Counted,
    DropTested,
    Mixed,
    StockEntry,
    Supplied,
    TakenBack,
)
from finishsched.workshop.stock.shelf_names import lot_name, new_name


@dataclass(frozen=True, slots=True)
class Counter:
    """What an entry about stock is judged by: the shelf in the write lock, and the shop."""

    book: Book
    shelf: Shelf
    products: Mapping[str, Product]
    shop: Shop
    zone: tzinfo
    now: datetime


def stock_event(
    entry: StockEntry,
    book: Book,
    products: Mapping[str, Product],
    shop: Shop,
    zone: tzinfo,
    now: datetime,
) -> NewEvent:
    """Return the event for ``entry`` by the journal as it stands in ``book``.

    Raises:
        RefusedError: when the entry cannot be true.

    """
    counter = Counter(book, shelf(book), products, shop, zone, now)
    match entry:
        case Bought():
            return _bought(entry, counter)
        case Mixed():
            return _mixed(entry, counter)
        case Counted():
            return _counted(entry, counter)
        case DropTested():
            return _tested(entry, counter)
        case Supplied(supply=one):
            told = events.SuppliesTold(
                one.name, one.unit, one.count, entry.bought, entry.by, entry.note
            )
            return NewEvent(_instant(entry.at, counter), None, told)
        case TakenBack():
            return NewEvent(now, None, _taken_back(entry, counter))


def _bought(entry: Bought, counter: Counter) -> NewEvent:
    product = known_product(entry.product, counter.products)
    if product.kind is ProductKind.FLAKES and entry.amount_g is None:
        raise RefusedError(f"{product.id} is flakes, which are weighed", "write for example 500 g")
    at = _instant(entry.at, counter)
    name = (
        new_name(entry.name, counter.shelf)
        if entry.name
        else lot_name(product, at.astimezone(counter.zone).date(), counter.shelf)
    )
    bought = events.LotBought(
        lot=name,
        product=product.id,
        amount_g=entry.amount_g,
        amount_ml=entry.amount_ml,
        by=entry.by,
        note=entry.note,
    )
    return NewEvent(at, None, bought)


def _mixed(entry: Mixed, counter: Counter) -> NewEvent:
    at = _instant(entry.at, counter)
    name = new_name(entry.name, counter.shelf)
    pattern = _pattern(entry, counter)
    entry = _like(entry, pattern)
    lots = [_known_lot(lot, counter) for lot in dict.fromkeys(entry.lots)]
    product = _product_of(entry, lots, counter)
    has_strength = entry.cut_g_per_l is not None or entry.thinned_percent is not None
    if not has_strength and product.recipe is None:
        return NewEvent(at, None, _two_part(entry, name, product))
    parts = _parts_like(entry, pattern) or parts_for(entry, product, counter.products)
    wanted = (
        wanted_parts(parts, counter.products)
        if parts
        else wanted_for(entry, product, counter.products, counter.shop)
    )
    _refuse_foreign(lots, wanted, counter.products)
    at = _not_before(at, lots, counter)
    chosen = chosen_lots(wanted, lots, counter.shelf, counter.products, at, counter.zone)
    draws = draws_for(name, wanted, chosen, counter.products, shown_of(counter.shop))
    mixed = events.BatchMixed(
        batch=name,
        product=product.id,
        makes_ml=entry.makes_ml,
        cut_g_per_l=entry.cut_g_per_l,
        thinned_percent=entry.thinned_percent,
        draws=draws,
        by=entry.by,
        note=entry.note,
        parts=tuple(events.WentIn(one.product, one.grams, one.ml) for one in parts),
    )
    names = {draw.lot for draw in draws}
    drawn = [thing for lot in chosen.values() for thing in lot if thing.name in names]
    return NewEvent(_not_before(at, drawn, counter), None, mixed)


def _pattern(entry: Mixed, counter: Counter) -> Batch | None:
    """Return the batch that is to be repeated; None where none is named."""
    if not entry.like:
        return None
    thing = _known_thing(entry.like, counter.shelf)
    if isinstance(thing, Batch):
        return thing
    raise RefusedError(f"{thing.name!r} was bought, not mixed", "name a batch to repeat")


def _like(entry: Mixed, pattern: Batch | None) -> Mixed:
    """Return the entry with what it leaves open taken from the batch that it repeats."""
    if pattern is None:
        return entry
    return replace(
        entry,
        makes_ml=entry.makes_ml or pattern.made_ml,
        product=entry.product or pattern.product,
        cut_g_per_l=pattern.cut_g_per_l if entry.cut_g_per_l is None else entry.cut_g_per_l,
        thinned_percent=pattern.thinned_percent
        if entry.thinned_percent is None
        else entry.thinned_percent,
        lots=entry.lots or pattern.lots,
    )


def _parts_like(entry: Mixed, pattern: Batch | None) -> tuple[Weighed, ...]:
    """Return the parts as they went into the batch repeated, whatever the recipe says by now."""
    if pattern is None:
        return ()
    share = entry.makes_ml / pattern.made_ml
    return tuple(
        Weighed(
            one.product,
            None if one.grams is None else one.grams * share,
            None if one.ml is None else one.ml * share,
        )
        for one in pattern.parts
    )


def _two_part(entry: Mixed, name: str, product: Product) -> events.BatchMixed:
    """Return a mix that has no strength, but a pot life; what its parts took is counted apart."""
    if product.pot_life_s is None:
        raise RefusedError(
            f"{product.id} is mixed to a strength", "write one of --cut '2 lb', --thinned '50 %'"
        )
    if entry.lots:
        raise RefusedError(
            "a two-part mix is not drawn from lots", "leave out --from, and count what is left"
        )
    return events.BatchMixed(
        batch=name, product=product.id, makes_ml=entry.makes_ml, by=entry.by, note=entry.note
    )


def _counted(entry: Counted, counter: Counter) -> NewEvent:
    thing = _known_thing(entry.name, counter.shelf)
    at = _not_before(_instant(entry.at, counter), [thing], counter)
    by_weight = isinstance(thing, Lot) and thing.left_g is not None
    left = _left_by_weight(thing, entry, counter) if by_weight else _left(thing, entry, counter)
    found = events.StockCounted(
        name=thing.name,
        left_g=left if by_weight else None,
        left_ml=None if by_weight else left,
        by=entry.by,
        note=entry.note,
    )
    return NewEvent(at, None, found)


def _left_by_weight(thing: Thing, entry: Counted, counter: Counter) -> float:
    if entry.left_g is not None or not entry.left_ml:
        return entry.left_g or 0.0
    return entry.left_ml * _density(thing, counter, "weight", "120 g")


def _left(thing: Thing, entry: Counted, counter: Counter) -> float:
    if entry.left_ml is not None or not entry.left_g:
        return entry.left_ml or 0.0
    return entry.left_g / _density(thing, counter, "volume", "120 ml")


def _density(thing: Thing, counter: Counter, kept_by: str, example: str) -> float:
    density = density_g_per_ml(thing, counter.products, counter.shop)
    if density is None:
        raise RefusedError(
            f"{thing.name!r} is kept by {kept_by}, and its density is not known",
            f"write for example '{thing.name}: {example}'",
        )
    return density


def _tested(entry: DropTested, counter: Counter) -> NewEvent:
    thing = _known_thing(entry.name, counter.shelf)
    if not isinstance(thing, Batch):
        raise RefusedError(
            f"{thing.name!r} was bought, not mixed", "put a drop of what was mixed on glass"
        )
    at = _not_before(_instant(entry.at, counter), [thing], counter)
    tested = events.JarTested(thing.name, entry.hard_after_s, by=entry.by, note=entry.note)
    return NewEvent(at, None, tested)


def _taken_back(entry: TakenBack, counter: Counter) -> events.Undone:
    event = _event_named(entry.name, counter)
    if isinstance(event.what, events.LotBought):
        into = [b.name for b in counter.shelf.batches if event.what.lot in b.lots]
        if into:
            raise RefusedError(
                f"{event.what.lot!r} went into {' and '.join(map(repr, into))}",
                f"undo that first: finishsched stock --undo '{into[-1]}'",
            )
    return events.Undone(event_id=event.id, by=entry.by)


def _event_named(name: str, counter: Counter) -> Event:
    for event in counter.book.live(None):
        if event.id == name and isinstance(event.what, ABOUT_STOCK):
            return event
    supply = supply_named(name)
    about = entries_about(counter.book, supply[0]) if supply else ()
    return (about or entries_about(counter.book, _known_thing(name, counter.shelf).name))[-1]


def known_product(name: str, products: Mapping[str, Product]) -> Product:
    """Return the product of that id, or of that title: a title is what every sheet shows.

    Raises:
        RefusedError: when there is none, with the one that was probably meant.

    """
    if name in products:
        return products[name]
    for product in products.values():
        if product.title.lower() == name.strip().lower():
            return product
    titles = (product.title for product in products.values())
    by_title = did_you_mean(name, titles, "write a product's id or title")
    raise RefusedError(f"no product {name!r}", did_you_mean(name, products, by_title))


def _known_thing(name: str, on_the_shelf: Shelf) -> Thing:
    """Return the lot or batch of that name.

    Raises:
        RefusedError: when there is none, with the one that was probably meant.

    """
    thing = on_the_shelf.find(name)
    if thing is None:
        remedy = _nearest(name, on_the_shelf.names, "log what was bought or mixed first")
        raise RefusedError(f"no lot or batch {name!r}", remedy)
    return thing


def _nearest(name: str, known: Iterable[str], otherwise: str) -> str:
    names = sorted(known)
    near = nearest(name, names, cutoff=0.5)
    if near:
        return f"did you mean {near!r}?"
    return f"there are {', '.join(map(one_line, names))}" if 0 < len(names) <= 12 else otherwise


def _known_lot(name: str, counter: Counter) -> Lot:
    thing = counter.shelf.find(name)
    if isinstance(thing, Batch):
        raise RefusedError(f"{name!r} is a batch, not a lot", "draw from what was bought")
    if thing is None:
        lots = [lot.name for lot in counter.shelf.lots]
        raise RefusedError(
            f"no lot {name!r}", _nearest(name, lots, "log it first with stock --bought")
        )
    return thing


def _product_of(entry: Mixed, lots: Iterable[Lot], counter: Counter) -> Product:
    """Return what is mixed: the one that is named, or that the lots leave no doubt of."""
    if entry.product:
        return known_product(entry.product, counter.products)
    known = counter.products
    stood = list(lots) or [lot for lot in counter.shelf.lots if lot.left > 0]
    found = {known[lot.product].id for lot in stood if lot.product in known}
    fitting = sorted(name for name in found if _can_be(known[name], entry))
    if len(fitting) == 1:
        return known[fitting[0]]
    several = f"it could be {' or '.join(fitting)}" if fitting else "no lot tells of what"
    raise RefusedError(
        f"{entry.name!r} of which product? {several}",
        "name it with --product, or a lot with --from",
    )


def _can_be(product: Product, entry: Mixed) -> bool:
    """Tell whether a batch like ``entry`` could be of ``product``."""
    if entry.cut_g_per_l is not None:
        return product.kind is ProductKind.FLAKES
    pure = product.kind is ProductKind.FLAKES or product.kind.row.is_solvent
    return product.thinner is not None and not pure


def _refuse_foreign(
    lots: Iterable[Lot], wanted: Iterable[Wanted], products: Mapping[str, Product]
) -> None:
    wanted = list(wanted)
    for lot in lots:
        if not any(one.takes(lot, products) for one in wanted):
            into = " and ".join(one.product for one in wanted)
            raise RefusedError(
                f"{lot.name!r} is {lot.product}, which does not go into this batch",
                f"name lots of {into}",
            )


def _instant(at: datetime | None, counter: Counter) -> datetime:
    if at is None:
        return counter.now
    if at > counter.now + AHEAD:
        raise RefusedError("an entry from the time to come", "leave the time out, or correct it")
    return at


def _not_before(at: datetime, things: Iterable[Thing], counter: Counter) -> datetime:
    """Return ``at``, or later on the same day when what it is about came only then."""
    for thing in things:
        came = thing.bought_at if isinstance(thing, Lot) else thing.mixed_at
        day = came.astimezone(counter.zone).date()
        if day > at.astimezone(counter.zone).date():
            what = "bought" if isinstance(thing, Lot) else "mixed"
            raise RefusedError(
                f"{thing.name!r} was {what} on {day}, after that", "correct the date"
            )
        at = max(at, came)
    return at
