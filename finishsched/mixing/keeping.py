"""How long products keep, as bought and once mixed.

Printed sources give a mixed jar of shellac 3, 6 or 12 months; none of them can know the jar, so
age only says when to test, and a drop on glass decides.
"""

from __future__ import annotations

from typing import NamedTuple

from finishsched.model.product import Product, ProductKind

MONTH_S = 30.4375 * 86400.0
SHELLAC_KEEPS_S = 6 * MONTH_S
"""A mixed jar, as most sources say."""

SHORTEST_SHARE, LONGEST_SHARE = 0.5, 2.0
"""The shortest and the longest of the printed lives (3 and 12 months) over the typical one."""

DEWAXED_FLAKES_TEST_S = 24 * MONTH_S

DROP_TEST = (
    "put a drop on glass: hard within hours, overnight at most, is good; "
    "soft the next day means mix fresh"
)
FLAKES_TEST = (
    "dissolve a pinch in alcohol overnight: clear is good; a jelly that stays means buy fresh"
)


class Life(NamedTuple):
    """How long something keeps, from when it was bought or mixed."""

    test_from_s: float | None
    """From this age on it is tested before use; None when no test is known."""
    typical_s: float | None
    over_s: float | None
    """Past this age it is not used; None when only the test decides."""
    test: str
    """The test that decides; empty when none is known."""
    source: str


NO_LIMIT = Life(None, None, None, "", "no limit is given for it")


def life_of(product: Product | None, *, mixed: bool) -> Life:
    """Return how long ``product`` keeps, as bought or once ``mixed``.

    A product's own ``keeps_s`` is how long it stays good once mixed or opened; for shellac it is
    the typical life, with the printed spread of half to twice that round it.
    """
    if product is None:
        return NO_LIMIT
    if product.kind is ProductKind.FLAKES and not mixed:
        return _flakes(product)
    if product.kind.is_shellac:
        return _shellac(product)
    if product.keeps_s is None:
        return NO_LIMIT
    return Life(None, product.keeps_s, product.keeps_s, "", _source(product, "its document"))


def _flakes(product: Product) -> Life:
    if product.waxy is not False:
        return Life(None, None, None, "", "common practice: dark flakes with their wax keep long")
    source = "common practice: dewaxed flakes keep some years; two taken"
    return Life(DEWAXED_FLAKES_TEST_S, DEWAXED_FLAKES_TEST_S, None, FLAKES_TEST, source)


def _shellac(product: Product) -> Life:
    typical_s = product.keeps_s or SHELLAC_KEEPS_S
    source = _source(product, "printed sources: 3, 6 or 12 months")
    return Life(typical_s * SHORTEST_SHARE, typical_s, typical_s * LONGEST_SHARE, DROP_TEST, source)


def _source(product: Product, otherwise: str) -> str:
    return product.sources.get("keeps", otherwise)
