"""The coating limits of a product beside the air as it is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from finishsched.cli.faults import CommandError
from finishsched.drying.air import (
    BLUSH_MARGIN_K,
    LEAST_ROOM_C,
    MOST_HUMIDITY_FOR_ALCOHOL_PERCENT,
    MOST_HUMIDITY_PERCENT,
    dew_point_c,
)
from finishsched.drying.figures import Phase, mechanism_of
from finishsched.drying.laws import SCHEDULE_AIR, law_for
from finishsched.drying.limits import (
    BLUSHING_KINDS,
    CoatAhead,
    CoatWarning,
    warnings_before,
)
from finishsched.model.product import Product
from finishsched.model.said import Teller
from finishsched.model.schedule import Verb
from finishsched.model.shop import Air


@dataclass(frozen=True, slots=True)
class Limits:
    """What the air may be for one product, and what speaks against a coat of it now."""

    product: str
    title: str
    least_c: float
    most_humidity_percent: float
    least_margin_k: float
    margin_k: float
    """How far the surface is above the dew point now."""
    warnings: tuple[CoatWarning, ...]

    @property
    def fits(self) -> bool:
        """True when nothing speaks against a coat."""
        return not self.warnings


def limits_of(
    products: Mapping[str, Product],
    named: Iterable[str],
    air: tuple[float, float],
    surface_c: float | None,
    how: str,
    tell: Teller,
) -> tuple[Limits, ...]:
    """Return the limits of each product that dries.

    Raises:
        CommandError: for a product that there is not.

    """
    found = []
    for name in named:
        product = products.get(name)
        if product is None:
            raise CommandError(f"--product: no product {name!r}; see finishsched need or stock")
        mechanism = mechanism_of(product)
        if mechanism is None:
            continue
        law = law_for(mechanism, Phase.RECOAT, SCHEDULE_AIR)
        coat = CoatAhead(law, Verb(how), product.kind, surface_c, tell=tell)
        blushes = product.kind in BLUSHING_KINDS
        surface = air[0] if surface_c is None else surface_c
        found.append(
            Limits(
                product=product.id,
                title=product.title,
                least_c=LEAST_ROOM_C,
                most_humidity_percent=MOST_HUMIDITY_FOR_ALCOHOL_PERCENT
                if blushes
                else MOST_HUMIDITY_PERCENT,
                least_margin_k=BLUSH_MARGIN_K,
                margin_k=surface - dew_point_c(*air),
                warnings=warnings_before(coat, Air(*air)),
            )
        )
    return tuple(found)


def limit_lines(limits: Sequence[Limits], tell: Teller) -> Iterable[str]:
    """Say for each product what the air may be, and what speaks against a coat now."""
    for limit in limits:
        least = tell(limit.least_c, "degC")
        margin, here = (tell(kelvin, "K", 1) for kelvin in (limit.least_margin_k, limit.margin_k))
        yield (
            f"  {limit.title}: from {least}, at most {limit.most_humidity_percent:g} % humidity, "
            f"surface {margin} or more above the dew point; here "
            f"{here}: {'fit to coat' if limit.fits else 'not fit'}"
        )
        for warning in limit.warnings:
            yield f"    {warning.text} {warning.what_to_do}"
    if limits:
        yield "  the product's own data sheet goes before these limits (coatings guides)"


def limit_data(limit: Limits) -> dict[str, Any]:
    """Return the limits of one product as JSON values."""
    return {
        "product": limit.product,
        "least_c": limit.least_c,
        "most_humidity_percent": limit.most_humidity_percent,
        "least_margin_k": limit.least_margin_k,
        "margin_k": round(limit.margin_k, 2),
        "fits": limit.fits,
        "warnings": [f"{warning.text} {warning.what_to_do}" for warning in limit.warnings],
    }
