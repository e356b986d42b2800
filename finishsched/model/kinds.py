"""What a product is, and all that every room has to know of its kind: one row each in ``KINDS``."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

from finishsched.factors import HOUR_S
from finishsched.model.ranges import Range
from finishsched.model.solvent import Liquid


class ProductKind(StrEnum):
    """What a product is, in the trade's words."""

    FLAKES = "flakes"
    ALCOHOL = "alcohol"
    SHELLAC = "shellac"
    """Shellac bought already dissolved."""
    OIL = "oil"
    VARNISH = "varnish"
    LACQUER = "lacquer"
    WATERBORNE = "waterborne"
    FILLER = "filler"
    GLUE = "glue"
    STAIN = "stain"
    DYE = "dye"
    """Colour that dissolves, as powder or drops, to be mixed."""
    PIGMENT = "pigment"
    """Colour that does not dissolve: earth and oxide powders."""
    BLEACH = "bleach"
    ALKALI = "alkali"
    """Lye, ammonia, soda: what browns, strips or neutralises acid."""
    WAX = "wax"
    THINNER = "thinner"
    LUBRICANT = "lubricant"
    POWDER = "powder"
    """Pumice, rottenstone, whiting: powders that rub."""

    @property
    def row(self) -> KindRow:
        """Its row in the table of kinds."""
        return KINDS[self]

    @property
    def is_shellac(self) -> bool:
        """True for shellac in any form; it has a cut."""
        return KINDS[self].is_shellac


class Mechanism(StrEnum):
    """How a product becomes dry, which decides what the air does to it."""

    SOLVENT = "solvent"
    OXIDISING = "oxidising"
    COALESCING = "coalescing"
    WATER = "water"
    TWO_PART = "two-part"

    @property
    def is_by_water(self) -> bool:
        """True where water has to leave: damp air holds it up, and bare wood is wetted."""
        return self in (Mechanism.WATER, Mechanism.COALESCING)


@dataclass(frozen=True, slots=True)
class KindRow:
    """What holds for a kind of product where its own document does not say."""

    is_shellac: bool = False
    is_film: bool = False
    """True for what builds a film on the wood, coat by coat."""
    film_solids: Range | None = None
    """Volume solids of what leaves a film; none for what leaves no film that is counted."""
    density_g_per_ml: float | None = None
    """Of what leaves a film (from memory; the data sheet decides)."""
    mechanism: Mechanism | None = None
    """How it usually dries (common practice); none for what does not dry."""
    vapour: Liquid | None = None
    """What it gives off when it burns and its document does not say; none: a thinner of which
    nothing is known."""
    most_thinned_percent: float | None = None
    """Waterborne 5 to 10 % (makers' data sheets); varnish and oil about one to one (data sheets for
    wiping varnish); lacquer by our assumption."""
    usual_recoat_s: float | None = None
    """How long a full coat wants before the next of the same where its document does not say: the
    trade's waits for thin films at 20 to 23 degC (common practice, no source)."""
    most_ml_per_m2: float | None = None
    """Of one coat, however it is laid: more than that stays on the wood and dries to a skin (common
    practice); none where the way of laying it alone decides."""
    blushes: bool = False
    """True for what draws water from damp air as it dries."""
    oils: bool = False
    """True for what leaves oil on a film where it served as a lubricant."""
    old_film_um: Range | None = None
    """How thick it likely lies on an old piece: a whole French polish 10 to 50 um, brushed and
    sprayed films thicker (from memory, no measured series known); none for what no schedule of
    renewal begins on."""
    is_solvent: bool = False
    """True for what takes oil and wax off, unless it is water: alcohol, spirits, thinners."""
    is_chemical: bool = False
    """True for what works on the wood itself, and is rinsed out again."""
    is_solid: bool = False
    """True for what is weighed, and not poured, as it is bought."""
    brings_water: bool = False
    """True for what brings water into the wood, where it dries by water."""


_SPIRITS = Liquid.MINERAL_SPIRITS
_ALCOHOL = Liquid.DENATURED_ALCOHOL

KINDS: Mapping[ProductKind, KindRow] = MappingProxyType(
    {
        ProductKind.FLAKES: KindRow(
            is_shellac=True,
            is_film=True,
            is_solid=True,
            film_solids=Range(0.09, 0.13, 0.17),
            mechanism=Mechanism.SOLVENT,
            usual_recoat_s=2 * HOUR_S,
            blushes=True,
        ),
        ProductKind.ALCOHOL: KindRow(
            mechanism=Mechanism.SOLVENT, vapour=_ALCOHOL, blushes=True, is_solvent=True
        ),
        ProductKind.SHELLAC: KindRow(
            is_shellac=True,
            is_film=True,
            film_solids=Range(0.15, 0.23, 0.29),
            old_film_um=Range(10.0, 25.0, 50.0),
            mechanism=Mechanism.SOLVENT,
            usual_recoat_s=2 * HOUR_S,
            vapour=_ALCOHOL,
            blushes=True,
        ),
        ProductKind.OIL: KindRow(
            film_solids=Range(0.9, 1.0, 1.0),
            density_g_per_ml=0.93,
            most_thinned_percent=50.0,
            mechanism=Mechanism.OXIDISING,
            vapour=_SPIRITS,
            oils=True,
            most_ml_per_m2=60.0,
        ),
        ProductKind.VARNISH: KindRow(
            is_film=True,
            film_solids=Range(0.25, 0.35, 0.45),
            old_film_um=Range(30.0, 60.0, 120.0),
            density_g_per_ml=0.90,
            most_thinned_percent=50.0,
            mechanism=Mechanism.OXIDISING,
            vapour=_SPIRITS,
            usual_recoat_s=10 * HOUR_S,
        ),
        ProductKind.LACQUER: KindRow(
            is_film=True,
            film_solids=Range(0.15, 0.20, 0.25),
            old_film_um=Range(30.0, 60.0, 100.0),
            density_g_per_ml=0.93,
            most_thinned_percent=60.0,
            mechanism=Mechanism.SOLVENT,
            usual_recoat_s=HOUR_S,
            blushes=True,
        ),
        ProductKind.WATERBORNE: KindRow(
            is_film=True,
            film_solids=Range(0.25, 0.30, 0.35),
            density_g_per_ml=1.03,
            most_thinned_percent=10.0,
            mechanism=Mechanism.COALESCING,
            usual_recoat_s=2 * HOUR_S,
        ),
        ProductKind.FILLER: KindRow(mechanism=Mechanism.WATER, vapour=_SPIRITS, brings_water=True),
        ProductKind.GLUE: KindRow(mechanism=Mechanism.WATER, brings_water=True),
        ProductKind.STAIN: KindRow(mechanism=Mechanism.SOLVENT),
        ProductKind.DYE: KindRow(mechanism=Mechanism.SOLVENT, is_solid=True),
        ProductKind.PIGMENT: KindRow(is_solid=True),
        ProductKind.BLEACH: KindRow(mechanism=Mechanism.WATER, brings_water=True, is_chemical=True),
        ProductKind.ALKALI: KindRow(mechanism=Mechanism.WATER, brings_water=True, is_chemical=True),
        ProductKind.WAX: KindRow(mechanism=Mechanism.SOLVENT, vapour=_SPIRITS),
        ProductKind.THINNER: KindRow(mechanism=Mechanism.SOLVENT, is_solvent=True),
        ProductKind.LUBRICANT: KindRow(oils=True),
        ProductKind.POWDER: KindRow(is_solid=True),
    }
)
"""Every kind's row. Volume solids: flakes as a cut of 1 to 2 lb, the rest as data sheets of their
kind (our assumption)."""

SHELLACS = tuple(kind for kind in ProductKind if kind.is_shellac)
FILMS = tuple(kind for kind in ProductKind if kind.row.is_film)
MELTING = tuple(kind for kind in FILMS if kind.row.mechanism is Mechanism.SOLVENT)
"""Films whose coats set within minutes and melt into each other; their thinner dissolves them at
any age."""
CHEMICALS = tuple(kind for kind in ProductKind if kind.row.is_chemical)
BLUSHING_KINDS = frozenset(kind for kind in ProductKind if kind.row.blushes)
COLOURS = (ProductKind.STAIN, ProductKind.DYE, ProductKind.PIGMENT)
"""What colours wood, or what it is mixed into."""
