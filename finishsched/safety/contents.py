"""What leaves a product as vapour: as its document says, or the worst where nobody has read it.

Denatured alcohol holds 3.6 to 50 % methanol by its makers' data sheets: until a share is entered
the highest is planned with. A thinner of which nothing is known counts as methanol and toluene. The
product's safety data sheet comes first.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from finishsched.model.product import Product, ProductKind
from finishsched.model.solvent import Liquid, SolventShare
from finishsched.safety.solvents import SOLVENTS, Part

HIGH_METHANOL_PERCENT = 50.0
"""Planned share of methanol in denatured alcohol until it is entered: data sheets run to it."""

THINNER_METHANOL_PERCENT = 50.0
"""Planned share of methanol in a thinner of which no data sheet was read; the rest is toluene."""


def parts_of_liquid(
    liquid: Liquid,
    *,
    ml: float | None = None,
    grams: float | None = None,
    methanol_percent: float | None = None,
) -> tuple[Part, ...]:
    """Return what an amount of ``liquid`` is made of, given as volume or mass.

    A thinner of which nothing is known is planned as methanol and toluene, half and half:
    poisonous, and a harm to the unborn.

    Source: makers' data sheets; without one the highest share stated is planned with (our
    assumption).

    Args:
        liquid: by name.
        ml: ml, 0 or more; or None.
        grams: g, 0 or more; or None, where ``ml`` is given.
        methanol_percent: percent by mass of methanol in denatured alcohol, 0 to 100, when its data
            sheet was read.

    """
    shares = _make_up(liquid, methanol_percent)
    if grams is None:
        per_gram = sum(share / SOLVENTS[one].density_g_per_ml for one, share in shares)
        grams = (ml or 0.0) / per_gram
    return tuple(Part(SOLVENTS[one], grams * share) for one, share in shares if share > 0)


def _make_up(liquid: Liquid, methanol_percent: float | None) -> tuple[tuple[Liquid, float], ...]:
    """Return the liquids of known figures in ``liquid`` with their shares by mass."""
    if liquid is Liquid.DENATURED_ALCOHOL:
        known = methanol_percent is not None
        methanol = (methanol_percent or 0.0 if known else HIGH_METHANOL_PERCENT) / 100
        return (Liquid.ETHANOL, 1 - methanol), (Liquid.METHANOL, methanol)
    if liquid is Liquid.UNKNOWN_THINNER:
        methanol = THINNER_METHANOL_PERCENT / 100
        return (Liquid.METHANOL, methanol), (Liquid.TOLUENE, 1 - methanol)
    return ((liquid, 1.0),)


def parts_of_product(
    product: Product,
    *,
    ml: float | None = None,
    grams: float | None = None,
    methanol_percent: float | None = None,
) -> tuple[Part, ...]:
    """Return the liquids that leave an amount of ``product``, given as volume or mass.

    Of a product whose document does not say, the worst of its kind is presumed; see ``presumed``.
    Where the product's density is not known it is planned with on the side of more vapour: 1 g/ml
    from volume to mass, and its lightest solvent's from mass to volume.

    Source: the product's document; where it says nothing the worst of its kind (our assumption).

    Args:
        product: with the solvents that its document states.
        ml: ml, 0 or more; or None.
        grams: g, 0 or more; or None, where ``ml`` is given.
        methanol_percent: percent by mass of methanol in denatured alcohol, 0 to 100; or None.

    """
    found: list[Part] = []
    product = presumed(product)
    for share in product.solvents or ():
        of_ml = _volume_ml(share, product, ml, grams)
        of_grams = None if of_ml is not None else _mass_g(share, product, ml, grams)
        found += parts_of_liquid(
            share.liquid, ml=of_ml, grams=of_grams, methanol_percent=methanol_percent
        )
    return added(found)


def is_presumed(product: Product) -> bool:
    """Tell whether a product burns and its document does not say what leaves it."""
    burns = product.is_flammable_liquid or product.kind is ProductKind.ALCOHOL
    return product.solvents is None and burns


def presumed(product: Product) -> Product:
    """Return ``product`` with its solvents, the worst of its kind where nobody has entered them."""
    if not is_presumed(product):
        return product
    liquid = product.kind.row.vapour or Liquid.UNKNOWN_THINNER
    share = SolventShare(liquid, by_volume_percent=100 - (product.volume_solids_percent or 0.0))
    return replace(product, solvents=(share,))


def _volume_ml(
    share: SolventShare, product: Product, ml: float | None, grams: float | None
) -> float | None:
    if share.by_volume_percent is None:
        return None
    if ml is None:
        density = product.density_g_per_ml or min(
            part.solvent.density_g_per_ml
            for one in product.solvents or ()
            for part in parts_of_liquid(one.liquid, grams=1.0)
        )
        ml = (grams or 0.0) / density
    return ml * share.by_volume_percent / 100


def _mass_g(share: SolventShare, product: Product, ml: float | None, grams: float | None) -> float:
    if grams is None:
        grams = (ml or 0.0) * (product.density_g_per_ml or 1.0)
    return grams * (share.by_mass_percent or 0.0) / 100


def added(parts: Iterable[Part]) -> tuple[Part, ...]:
    """Return ``parts`` with those of one liquid put together, the first met first."""
    grams: dict[Liquid, float] = {}
    for part in parts:
        grams[part.solvent.liquid] = grams.get(part.solvent.liquid, 0.0) + part.grams
    return tuple(Part(SOLVENTS[liquid], mass) for liquid, mass in grams.items())


def assumptions_of(
    liquids: Iterable[Liquid], methanol_percent: float | None = None
) -> tuple[str, ...]:
    """Return what is taken for granted of blends whose make-up nobody has entered."""
    known = set(liquids)
    found = []
    if Liquid.DENATURED_ALCOHOL in known and methanol_percent is None:
        found.append(
            f"no methanol share is entered, so denatured alcohol is planned with "
            f"{HIGH_METHANOL_PERCENT:g} % of methanol (data sheets run from 3.6 to 50 %); "
            "enter yours: alcohol: {methanol: ...} in shop.yaml, or --methanol"
        )
    if Liquid.UNKNOWN_THINNER in known:
        found.append(
            "a thinner of which no data sheet is entered is planned as the worst: highly "
            "flammable, half methanol and half toluene, a harm to the unborn (our assumption)"
        )
    return tuple(found)
