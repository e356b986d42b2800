"""Stock and labels in words, for people and as JSON values."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import timedelta
from typing import Any

from finishsched.factors import DAY_S, G_PER_L_IN_A_POUND_CUT
from finishsched.journal import events
from finishsched.journal.events import utc_text
from finishsched.mixing.consumables import SOURCE
from finishsched.numerals import counted
from finishsched.workshop.base.shown import Shown
from finishsched.workshop.base.words import entry_words, one_line
from finishsched.workshop.papers.labels import JarLabel, strength_words
from finishsched.workshop.stock.shelf_entries import StockEntry, TakenBack
from finishsched.workshop.stock.stock import BatchRow, LotRow, Row, StockAnswer
from finishsched.workshop.stock.supplies import Shelved


def _age_words(age_s: float, stock: StockAnswer) -> str:
    """Return an age by the calendar: ``today``, ``12 days``, ``5 months``, ``2.5 years``.

    What was mixed last evening is a day old this evening, however many hours that is.
    """
    now, came = (at.astimezone(stock.zone) for at in (stock.now, stock.now - timedelta(0, age_s)))
    days = (now.date() - came.date()).days
    if days < 1:
        return "today"
    if days < 60:
        return counted(days, "day")
    months = days / 30.4375
    return f"{months:.0f} months" if months < 24 else f"{months / 12:.1f} years"


def stock_lines(stock: StockAnswer, supplies: Sequence[Shelved], *, why: bool) -> Iterable[str]:
    """Say what is on the shelf, batches first, papers and cloths last."""
    if not stock.batches and not stock.lots and not supplies:
        yield "nothing is on the shelf; log it with stock --bought and stock --mixed"
        return
    if stock.batches:
        yield "batches"
        cells = [_batch_cells(row, stock) for row in stock.batches]
        yield from _table(cells, stock.batches, why=why)
    if stock.lots:
        yield "lots"
        yield from _table([_lot_cells(row, stock) for row in stock.lots], stock.lots, why=why)
    if supplies:
        yield "papers and cloths, as reckoned from the work logged"
        width = max(len(one.name) for one in supplies)
        for one in supplies:
            yield f"  {one.name:<{width}}  {_supply_left(one, stock.shown)}"
            if why:
                yield f"      why  {_supply_why(one)}"


def _supply_left(one: Shelved, shown: Shown) -> str:
    left, low = one.left, ", low" if one.is_low else ""
    if one.unit == "ml":
        ends = [shown.volume(ml) for ml in (left.likely, left.low, left.high)]
    else:
        ends = [shown.supply(_few(count), one.unit) for count in (left.likely, left.low, left.high)]
    between = "" if left.low == left.high else f" ({ends[1].partition(' ')[0]} to {ends[2]})"
    return f"{ends[0]}{between}{low}"


def _supply_why(one: Shelved) -> str:
    if one.factor is None:
        return f"what one goes over: {SOURCE}; a count after some work tells how yours last"
    return f"by your own counts work takes {one.factor:.2g} times what is reckoned"


def _few(number: float) -> float:
    """Return how many, in quarters while they are few."""
    return round(number * 4) / 4 if number < 4 else float(round(number))


def _table(cells: Sequence[tuple[str, ...]], rows: Sequence[Row], *, why: bool) -> Iterable[str]:
    widths = [max(len(row[column]) for row in cells) for column in range(len(cells[0]))]
    for line, row in zip(cells, rows, strict=True):
        padded = (cell.ljust(width) for cell, width in zip(line, widths, strict=True))
        yield f"  {'  '.join(padded).rstrip()}"
        if row.state.value == "test it":
            yield f"      {row.life.test}"
        if why:
            for reason in row.why:
                yield f"      why  {one_line(reason)}"


def _batch_cells(row: BatchRow, stock: StockAnswer) -> tuple[str, ...]:
    batch, shown = row.batch, stock.shown
    what = ", ".join(filter(None, (one_line(row.title), strength_words(batch, stock.shop))))
    left = f"{shown.held(batch.left_ml)} of {shown.held(batch.made_ml)}"
    return one_line(batch.name), _states(row), left, _age_words(row.age_s, stock), what


def _lot_cells(row: LotRow, stock: StockAnswer) -> tuple[str, ...]:
    lot, shown = row.lot, stock.shown
    if lot.left_g is not None:
        left = f"{shown.mass(lot.left_g, 3)} of {shown.mass(lot.had_g or 0.0, 3)}"
    else:
        left = f"{shown.held(lot.left_ml or 0.0)} of {shown.held(lot.had_ml or 0.0)}"
    age = _age_words(row.age_s, stock)
    return one_line(lot.name), _states(row), left, age, one_line(row.title)


def _states(row: Row) -> str:
    return ", ".join(state.value for state in row.states)


def stock_data(stock: StockAnswer, supplies: Sequence[Shelved] = ()) -> dict[str, Any]:
    """Return the shelf as JSON values."""
    return {
        "batches": [_batch_data(row) for row in stock.batches],
        "lots": [_lot_data(row) for row in stock.lots],
        "supplies": [
            {
                "name": one.name,
                "unit": one.unit,
                "left": one.left.likely,
                "low": one.left.low,
                "high": one.left.high,
                "told_at": utc_text(one.counted_at),
                "own_factor": one.factor,
            }
            for one in supplies
        ],
    }


def _batch_data(row: BatchRow) -> dict[str, Any]:
    batch = row.batch
    cut = batch.cut_g_per_l
    return {
        "batch": batch.name,
        "product": batch.product,
        "cut_lb_per_gal": cut / G_PER_L_IN_A_POUND_CUT if cut is not None else None,
        "cut_g_per_l": cut,
        "thinned_percent": batch.thinned_percent,
        "mixed_at": utc_text(batch.mixed_at),
        "made_ml": batch.made_ml,
        "left_ml": batch.left_ml,
        "lots": list(batch.lots),
        **_row_data(row, short=batch.short),
    }


def _lot_data(row: LotRow) -> dict[str, Any]:
    lot = row.lot
    return {
        "lot": lot.name,
        "product": lot.product,
        "bought_at": utc_text(lot.bought_at),
        "had_g": lot.had_g,
        "left_g": lot.left_g,
        "had_ml": lot.had_ml,
        "left_ml": lot.left_ml,
        **_row_data(row, short=lot.short),
    }


def _row_data(row: Row, *, short: bool) -> dict[str, Any]:
    return {
        "title": row.title,
        "age_days": round(row.age_s / DAY_S, 2),
        "state": row.state.value,
        "states": [state.value for state in row.states],
        "short": short,
        "test_from_days": _days(row.life.test_from_s),
        "keeps_days": _days(row.life.typical_s),
        "over_days": _days(row.life.over_s),
        "test": row.life.test,
        "why": list(row.why),
    }


def _days(seconds: float | None) -> float | None:
    return None if seconds is None else round(seconds / DAY_S, 1)


def after_stock_entry(
    what: events.Payload, entry: StockEntry, stock: StockAnswer, remarks: Iterable[str]
) -> Iterable[str]:
    """Say what was logged, and what a person should hear about it."""
    shown = stock.shown
    match what:
        case events.LotBought(lot=name):
            row = stock.find(name)
            yield (
                f"{one_line(name)}: logged {_amount(what.amount_g, what.amount_ml, shown)} of "
                + (one_line(row.title) if row else what.product)
            )
        case events.BatchMixed():
            yield from _mixed_lines(what, stock)
        case events.StockCounted(name=name):
            left = _amount(what.left_g, what.left_ml, shown)
            yield f"{one_line(name)}: {left} left"
        case events.SuppliesTold(name=name):
            yield f"{one_line(name)}: {entry_words(what, {}, shown)}"
        case events.JarTested(batch=name):
            row = stock.find(name)
            yield f"{one_line(name)}: logged {entry_words(what, {}, shown)}"
            if row is not None:
                yield f"  it is {row.state.value} by that"
        case _ if isinstance(entry, TakenBack):
            yield f"{one_line(entry.name)}: its newest entry is taken back"
        case _:
            pass
    for remark in remarks:
        yield f"  mind: {one_line(remark)}"


def _mixed_lines(mixed: events.BatchMixed, stock: StockAnswer) -> Iterable[str]:
    row = stock.find(mixed.batch)
    title = row.title if row else mixed.product
    strength = strength_words(row.batch, stock.shop) if isinstance(row, BatchRow) else ""
    what = ", ".join(filter(None, (one_line(title), strength)))
    yield f"{one_line(mixed.batch)}: logged {stock.shown.held(mixed.makes_ml)} of {what}"
    for part in mixed.parts:
        amount = _amount(part.amount_g, part.amount_ml, stock.shown)
        yield f"  of {amount} {one_line(part.product)}"
    for draw in mixed.draws:
        taken = _amount(draw.amount_g, draw.amount_ml, stock.shown)
        lot = stock.find(draw.lot)
        left = _left(lot, stock.shown) if isinstance(lot, LotRow) else ""
        yield f"  takes {taken} from {one_line(draw.lot)}{left}"
    yield "  label it: finishsched stock --labels"


def _left(row: LotRow, shown: Shown) -> str:
    return f" ({_amount(row.lot.left_g, row.lot.left_ml, shown)} left)"


def _amount(grams: float | None, millilitres: float | None, shown: Shown) -> str:
    return shown.mass(grams, 3) if grams is not None else shown.held(millilitres or 0.0)


def label_lines(labels: Sequence[JarLabel]) -> Iterable[str]:
    """Give the labels as text, one below the other."""
    if not labels:
        yield "there is no batch to label; log one with stock --mixed"
        return
    for label in labels:
        yield f"{label.name}: {', '.join(filter(None, (label.content, label.strength)))}"
        yield f"  mixed {label.mixed_on}{_test_words(label)}"
        if label.lots:
            yield f"  from {'; '.join(label.lots)}"
        if label.pictograms:
            yield f"  {', '.join(f'{shape.value} {shape.shows}' for shape in label.pictograms)}"
        for hazard in label.hazards:
            yield f"  {hazard.code}  {hazard.meaning}"
        if label.unknown:
            yield f"  hazards not known of: {', '.join(label.unknown)}"
        yield f"  {label.deferral}"


def _test_words(label: JarLabel) -> str:
    test = f", test from {label.test_from} by a drop on glass" if label.test_from else ""
    return test + (f", not after {label.not_after}" if label.not_after else "")


def label_data(label: JarLabel) -> dict[str, Any]:
    """Return a label as JSON values."""
    return {
        "batch": label.name,
        "content": label.content,
        "strength": label.strength,
        "mixed_on": label.mixed_on.isoformat(),
        "test_from": label.test_from.isoformat() if label.test_from else None,
        "not_after": label.not_after.isoformat() if label.not_after else None,
        "lots": list(label.lots),
        "hazards": [{"code": line.code, "meaning": line.meaning} for line in label.hazards],
        "pictograms": [{"code": p.value, "shows": p.shows} for p in label.pictograms],
        "hazards_not_known_of": list(label.unknown),
        "deferral": label.deferral,
    }
