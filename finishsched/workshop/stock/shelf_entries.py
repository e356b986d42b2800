"""Entries about stock as people make them: bought, mixed, counted, taken back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TypeAlias

from finishsched.model.supplies import Supply


@dataclass(frozen=True, slots=True)
class Bought:
    """A lot came into the shop: exactly one of the amounts is given."""

    product: str
    amount_g: float | None = None
    amount_ml: float | None = None
    name: str = ""
    """Empty for one made of the product and the day."""
    at: datetime | None = None
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Mixed:
    """A batch was mixed: flakes to a cut, or a product thinned by a share of what is made."""

    name: str
    makes_ml: float = 0.0
    """0 for as much as the batch that is repeated."""
    cut_g_per_l: float | None = None
    thinned_percent: float | None = None
    product: str = ""
    """Empty for the one that the lots, or all the shelf, leave no doubt of."""
    like: str = ""
    """A batch to be repeated: its product, its strength or parts, and its lots, exactly."""
    lots: tuple[str, ...] = ()
    """Which to draw from, in this order; none for the oldest usable."""
    at: datetime | None = None
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Counted:
    """Somebody looked what is left of a lot or batch; with no amount it is empty."""

    name: str
    left_g: float | None = None
    left_ml: float | None = None
    at: datetime | None = None
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class DropTested:
    """A drop of a batch was put on glass; None for one that was still soft the next day."""

    name: str
    hard_after_s: float | None = None
    at: datetime | None = None
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class TakenBack:
    """The newest entry about a lot or batch, or the entry of that id, does not count."""

    name: str
    by: str = ""


@dataclass(frozen=True, slots=True)
class Supplied:
    """Papers, pads, covers, cloths or tape were bought, or counted."""

    supply: Supply
    bought: bool
    at: datetime | None = None
    by: str = ""
    note: str = ""


StockEntry: TypeAlias = Bought | Mixed | Counted | DropTested | Supplied | TakenBack
