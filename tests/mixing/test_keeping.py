"""How long products keep."""

from __future__ import annotations

import pytest

from finishsched.documents.library import shipped_products
from finishsched.mixing.keeping import DROP_TEST, FLAKES_TEST, MONTH_S, NO_LIMIT, life_of
from finishsched.model.product import Product, ProductKind


def test_a_mixed_jar_keeps_as_printed_sources_say():
    """3, 6 and 12 months are what trade texts print for mixed shellac; a drop on glass decides."""
    life = life_of(shipped_products()["shellac-dewaxed-blonde"], mixed=True)

    assert life.test_from_s == pytest.approx(3 * MONTH_S)
    assert life.typical_s == pytest.approx(6 * MONTH_S)
    assert life.over_s == pytest.approx(12 * MONTH_S)
    assert life.test == DROP_TEST
    assert life.source


def test_a_shops_own_figure_goes_before_the_printed_one():
    """A product that keeps 9 months is tested from half of it, and not used past twice."""
    own = Product("own", "Own", ProductKind.SHELLAC, keeps_s=9 * MONTH_S)
    life = life_of(own, mixed=False)

    assert (life.test_from_s, life.over_s) == (4.5 * MONTH_S, 18 * MONTH_S)


def test_dry_flakes_are_tested_when_old_and_never_thrown_out_by_age():
    """Dewaxed ones after two years, those with their wax never (common practice, no source)."""
    products = shipped_products()
    dewaxed = life_of(products["shellac-garnet"], mixed=False)

    assert dewaxed.test_from_s == pytest.approx(24 * MONTH_S)
    assert (dewaxed.over_s, dewaxed.test) == (None, FLAKES_TEST)
    assert life_of(products["shellac-waxy-orange"], mixed=False).test_from_s is None


def test_other_products_keep_as_their_documents_say():
    """With a figure there is a limit and no test; without one there is neither."""
    oil = Product("oil", "Oil", ProductKind.OIL, keeps_s=100.0, sources={"keeps": "the tin"})

    assert life_of(oil, mixed=True).over_s == 100.0
    assert life_of(oil, mixed=True).source == "the tin"
    assert life_of(Product("wax", "Wax", ProductKind.WAX), mixed=False) == NO_LIMIT
    assert life_of(None, mixed=True) == NO_LIMIT
