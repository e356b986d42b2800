"""How far a charged pad and a jar go on the pieces of a sitting."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from itertools import chain
from typing import TYPE_CHECKING

from finishsched.bench.asking.door import Reach
from finishsched.mixing.amount import pad_charge_ml
from finishsched.model.shop import ShownUnits
from finishsched.numerals import counted
from finishsched.workshop.amounts.coats import Habit, Work, coat_ahead
from finishsched.workshop.amounts.uses import habits_of
from finishsched.workshop.base.shown import Shown
from finishsched.workshop.standing.where import find
from finishsched.workshop.stock.shop_stock import shop_stock
from finishsched.workshop.stock.stock import CoatNeed

if TYPE_CHECKING:
    from finishsched.workshop.base.answers import StepSheet
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.stock.stock import StockAnswer


def reach_of(workshop: Workshop, refs: Sequence[str], jar: str, now: datetime) -> Reach:
    """Return what a coat on each piece takes, what the pad holds, and what is left in ``jar``."""
    takes: dict[str, float] = {}
    holds_ml = let_down = charge_ml = 0.0
    holder = "pad"
    habits, products = habits_of(workshop), workshop.papers.products
    habit = Habit(habits.own, habits.pads.since_s(now))
    for ref in refs:
        standing = find(workshop, ref)
        step, piece = standing.step, standing.piece
        if step is None:
            continue
        work = Work(standing.steps, step, piece.area_m2, piece.made_of)
        coat = coat_ahead(work, products, habit)
        if coat is None or coat.mixture.by_mass:
            continue
        takes[ref] = coat.amount.likely - coat.pad_ml
        let_down, charge_ml = coat.let_down_ml / coat.amount.likely, coat.pad_ml
        holds_ml = pad_charge_ml(step.verb)
        holder = "cloth" if step.verb.does.with_cloths else "pad"
    left_ml = _left_ml(shop_stock(workshop, now), jar) if jar else None
    return Reach(holds_ml, holder, takes, len(refs), left_ml, let_down, charge_ml)


def _left_ml(stock: StockAnswer, jar: str) -> float | None:
    batches = (row.batch.left_ml for row in stock.batches if row.batch.name == jar)
    lots = (row.lot.left_ml for row in stock.lots if row.lot.name == jar)
    return next(chain(batches, lots), None)


def jars_for(stock: StockAnswer, sheet: StepSheet) -> tuple[str, ...]:
    """Return the usable jars that hold what a coat is laid with, the one that is told first."""
    step = sheet.step
    if step.product is None:
        return ()
    cut = sheet.jar_cut_g_per_l or step.cut_g_per_l
    need = CoatNeed(step.product, cut, step.thinned_percent)
    found = [row.batch.name for row in stock.batches if row.usable and need.is_of(row.batch)]
    if sheet.as_bought:
        lots = (row for row in stock.lots if row.usable and row.lot.product == step.product)
        found += [row.lot.name for row in lots]
    return tuple(sorted(found, key=lambda name: name != sheet.jar_name))


def reach_words(
    reach: Reach, jar: str, unit: str, laid: Sequence[str], since_charged: Sequence[str]
) -> str:
    """Say how far pad and jar go, volumes in ``unit``.

    ``laid`` names the piece of each coat, ``since_charged`` of those since the pad was charged.
    """
    said = []
    round_ml = sum(reach.coat_ml.values())
    if reach.pad_holds_ml and round_ml:
        used_ml = sum(reach.coat_ml.get(ref, 0.0) for ref in since_charged)
        pieces = (reach.pad_holds_ml - used_ml) * reach.pieces / round_ml
        said.append(_pad_words(pieces, reach.holder))
    if reach.jar_left_ml is not None:
        left_ml = reach.jar_left_ml - reach.taken_ml(laid)
        piece_ml = round_ml * (1 - reach.let_down_share) / max(1, reach.pieces)
        said.append(_jar_words(jar, left_ml, piece_ml, Shown(ShownUnits(volume=unit))))
    return " · ".join(said)


def _jar_words(jar: str, left_ml: float, piece_ml: float, shown: Shown) -> str:
    """Say what is left in a jar, and for how many pieces; before it is empty where that is less."""
    if left_ml <= 0:
        return f"! {jar} is likely empty"
    left = f"{jar}: about {shown.held(left_ml)}"
    if piece_ml <= 0:
        return left
    pieces = int(left_ml / piece_ml)
    return f"{left}, {counted(pieces, 'more piece')}" if pieces else f"! {left}, no whole coat"


def _pad_words(pieces: float, holder: str) -> str:
    if pieces < 1:
        return f"{holder}: charge it anew"
    return f"{holder}: about {counted(int(pieces), 'more piece')}"
