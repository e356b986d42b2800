"""What can happen in a shop beside its pieces: the air, the shelf, safety, hands and paces."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from finishsched.model.shop import Air


@dataclass(frozen=True, slots=True)
class AirRead:
    """Somebody or something read the air; ``source`` says who, or from which file."""

    kind: ClassVar[str] = "air"
    air: Air
    source: str = ""
    surface_c: float | None = None
    """Of the floor or the work, where it was read too."""


@dataclass(frozen=True, slots=True)
class LotBought:
    """A lot of a product came into the shop, by weight or by volume."""

    kind: ClassVar[str] = "lot-bought"
    lot: str
    product: str
    amount_g: float | None = None
    amount_ml: float | None = None
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Draw:
    """What was taken from one lot, by weight or by volume as the lot was bought."""

    lot: str
    amount_g: float | None = None
    amount_ml: float | None = None


@dataclass(frozen=True, slots=True)
class WentIn:
    """One part of a mix by a recipe, as it was weighed or measured for that batch."""

    product: str
    amount_g: float | None = None
    amount_ml: float | None = None


@dataclass(frozen=True, slots=True)
class BatchMixed:
    """A batch was mixed, from lots where any are named."""

    kind: ClassVar[str] = "batch-mixed"
    batch: str
    product: str
    makes_ml: float
    cut_g_per_l: float | None = None
    thinned_percent: float | None = None
    draws: tuple[Draw, ...] = ()
    by: str = ""
    note: str = ""
    parts: tuple[WentIn, ...] = ()
    """Of a mix by a recipe; empty for a cut and what is thinned."""


@dataclass(frozen=True, slots=True)
class StockCounted:
    """Somebody looked how much of a lot or batch is left; nothing of it means empty."""

    kind: ClassVar[str] = "stock-counted"
    name: str
    left_g: float | None = None
    left_ml: float | None = None
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class SuppliesTold:
    """Papers, pads, covers, cloths or tape came into the shop, or were counted there."""

    kind: ClassVar[str] = "supplies"
    name: str
    unit: str
    count: float
    bought: bool = False
    """True for so many more; False for so many in all, as somebody counted them."""
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class CautionsRead:
    """Somebody read cautions, each known by a hash of its text; no more that day."""

    kind: ClassVar[str] = "cautions-read"
    texts: tuple[str, ...]
    by: str = ""


@dataclass(frozen=True, slots=True)
class RagsDealtWith:
    """The rags that heat by themselves, of every step done until then, are out of harm's way."""

    kind: ClassVar[str] = "rags-dealt-with"
    where: str
    by: str = ""
    note: str = ""
    pieces: tuple[str, ...] = ()
    """Those whose rags they are, each as ``job/piece``; none for all of the shop's."""


@dataclass(frozen=True, slots=True)
class PaceSet:
    """Somebody overruled, or reset, what dry checks teach about one product's waits of a kind.

    ``forget`` counts only the checks from the entry's ``at`` on. Without it ``factor`` sets the
    pace, in times the book; None goes back to what is learnt.
    """

    kind: ClassVar[str] = "pace"
    product: str
    waits: str
    """The kind of wait, such as ``first coat``."""
    factor: float | None = None
    forget: bool = False
    by: str = ""


@dataclass(frozen=True, slots=True)
class HandsAway:
    """Somebody, or everybody, is away: on days, or for a span of minutes of each."""

    kind: ClassVar[str] = "hands-away"
    first: date
    last: date
    who: str = ""
    opens_min: int | None = None
    closes_min: int | None = None
    by: str = ""
    note: str = ""
