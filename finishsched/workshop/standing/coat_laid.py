"""How heavy a coat was laid, by what was logged of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from finishsched.mixing.account import account_of, is_as_told
from finishsched.mixing.amount import pad_charge_ml, used_amount
from finishsched.mixing.bare_wood import soaks_of

if TYPE_CHECKING:
    from finishsched.model.product import Product
    from finishsched.workshop.standing.pads import Pads
    from finishsched.workshop.standing.waits import Laid

THINNEST, THICKEST = 0.3, 4.0
"""A coat's amount over the schedule's is taken to be a slip of the pen outside this range."""


def share_laid(laid: Laid, products: Mapping[str, Product], pads: Pads) -> float | None:
    """Return the coat as laid over the coat as scheduled, where its amount tells that.

    None where nobody said how much was used, which who logs the mix has not.
    """
    spread, used_ml = laid.step.spread, laid.done.amount_ml
    if (
        laid.done.reckoned
        or spread is None
        or not spread.ml_per_m2
        or used_ml is None
        or laid.piece.area_m2 <= 0
    ):
        return None
    area_m2 = laid.piece.area_m2
    soaks_ml = area_m2 * soaks_of(laid.step, laid.steps, laid.piece.made_of, products).likely
    charged = pads.is_charged(laid.step, laid.at, laid.seq)
    scheduled_ml = spread.ml_per_m2 * area_m2
    takes_ml = used_amount(scheduled_ml, 1.0, 1, laid.step.verb)
    told_ml = takes_ml if charged else takes_ml + pad_charge_ml(laid.step.verb)
    is_told = is_as_told(used_ml, takes_ml) or is_as_told(used_ml, told_ml)
    if is_told or takes_ml < used_ml < told_ml:
        return 1.0
    account = account_of(used_ml, scheduled_ml, laid.step.verb, soaks=soaks_ml, charged=charged)
    return round(min(THICKEST, max(THINNEST, account.laid / scheduled_ml)), 1)
