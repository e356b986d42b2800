"""What leaves a product: by its document, and the worst of its kind where nobody has read it."""

from __future__ import annotations

import pytest

from finishsched.model.product import Product, ProductKind
from finishsched.model.solvent import Liquid, LocalLimit, SolventShare
from finishsched.safety.contents import (
    assumptions_of,
    is_presumed,
    parts_of_liquid,
    parts_of_product,
)
from finishsched.safety.solvents import SOLVENTS, limit_ppm, limit_reason, liquid_named


def grams(parts):
    """Return masses by liquid."""
    return {part.solvent.liquid: part.grams for part in parts}


def test_denatured_alcohol_is_planned_with_a_stated_high_share():
    """Data sheets run from 3.6 to 50 % methanol: without an entry the highest, and it says so."""
    found = grams(parts_of_liquid(Liquid.DENATURED_ALCOHOL, grams=10.0))
    assert found == {Liquid.ETHANOL: 5.0, Liquid.METHANOL: 5.0}
    (said,) = assumptions_of([Liquid.DENATURED_ALCOHOL])
    assert "50 % of methanol" in said


@pytest.mark.parametrize("percent", [0.0, 3.6, 50.0])
def test_an_entered_share_is_used_and_nothing_is_assumed(percent):
    """The share is by weight; none at all leaves ethanol alone."""
    found = grams(parts_of_liquid(Liquid.DENATURED_ALCOHOL, grams=100.0, methanol_percent=percent))
    assert found.get(Liquid.METHANOL, 0.0) == pytest.approx(percent)
    assert found[Liquid.ETHANOL] == pytest.approx(100 - percent)
    assert assumptions_of([Liquid.DENATURED_ALCOHOL], percent) == ()


def test_an_unknown_thinner_is_the_worst():
    """Highly flammable, with methanol, and toxic to reproduction (toluene, H361d)."""
    parts = parts_of_liquid(Liquid.UNKNOWN_THINNER, ml=100.0)
    assert Liquid.METHANOL in grams(parts)
    assert any("H361d" in part.solvent.hazards for part in parts)
    assert all(part.solvent.category == 2 for part in parts)
    assert sum(part.ml for part in parts) == pytest.approx(100.0)
    assert "the worst" in assumptions_of([Liquid.UNKNOWN_THINNER])[0]
    halves = grams(parts_of_liquid(Liquid.UNKNOWN_THINNER, grams=10.0))
    assert halves == {Liquid.METHANOL: 5.0, Liquid.TOLUENE: 5.0}


@pytest.mark.parametrize(
    ("kind", "hazards", "expected"),
    [
        (ProductKind.ALCOHOL, (), Liquid.METHANOL),
        (ProductKind.THINNER, ("H225",), Liquid.TOLUENE),
        (ProductKind.VARNISH, ("H226",), Liquid.MINERAL_SPIRITS),
        (ProductKind.LACQUER, ("H225",), Liquid.METHANOL),
    ],
)
def test_what_burns_and_says_nothing_is_presumed(kind, hazards, expected):
    """A product of the shop's own without solvents is never counted as harmless."""
    product = Product("x", "X", kind, hazards=hazards)
    assert is_presumed(product)
    assert expected in grams(parts_of_product(product, ml=10.0))


def test_what_does_not_burn_and_says_nothing_holds_none():
    """Glue and powder need no entry."""
    product = Product("x", "X", ProductKind.GLUE)
    assert not is_presumed(product)
    assert parts_of_product(product, ml=10.0) == ()


@pytest.mark.parametrize(
    ("share", "given", "expected"),
    [
        (SolventShare(Liquid.TOLUENE, by_volume_percent=50), {"ml": 100.0}, 43.35),
        (SolventShare(Liquid.TOLUENE, by_volume_percent=50), {"grams": 90.0}, 43.35),
        (SolventShare(Liquid.TOLUENE, by_mass_percent=50), {"grams": 90.0}, 45.0),
        (SolventShare(Liquid.TOLUENE, by_mass_percent=50), {"ml": 100.0}, 45.0),
    ],
)
def test_shares_by_volume_and_by_mass(share, given, expected):
    """At 0.9 g/ml, 100 ml is 90 g; toluene has 0.867 g/ml (by hand)."""
    product = Product("x", "X", ProductKind.LACQUER, density_g_per_ml=0.9, solvents=(share,))
    (part,) = parts_of_product(product, **given)
    assert part.grams == pytest.approx(expected)


def test_without_a_density_a_mass_is_taken_for_the_most_vapour():
    """Worked by hand: 78.9 g, as light as its ethanol, are 100 ml, of which half is toluene."""
    shares = (
        SolventShare(Liquid.TOLUENE, by_volume_percent=50),
        SolventShare(Liquid.ETHANOL, by_volume_percent=10),
    )
    product = Product("x", "X", ProductKind.LACQUER, solvents=shares)
    found = grams(parts_of_product(product, grams=78.9))
    assert found == pytest.approx({Liquid.TOLUENE: 43.35, Liquid.ETHANOL: 7.89})


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("Ethanol", Liquid.ETHANOL),
        ("white spirit", Liquid.MINERAL_SPIRITS),
        ("denatured alcohol", Liquid.DENATURED_ALCOHOL),
        ("2-Butoxyethanol", Liquid.BUTOXYETHANOL),
        ("tea", None),
    ],
)
def test_liquids_by_the_names_people_use(name, expected):
    """In any case, with spaces or hyphens."""
    assert liquid_named(name) is expected


def test_the_lowest_limit_counts_and_says_whose_it_is():
    """The shop's own where it is lower, else the lowest of the published lists."""
    acetone = SOLVENTS[Liquid.ACETONE]
    own = (LocalLimit(Liquid.ACETONE, 100.0),)
    assert limit_ppm(acetone) == 250
    assert limit_ppm(acetone, own) == 100
    assert "shop's own" in limit_reason(acetone, own).source
    assert "NIOSH" in limit_reason(acetone).source


def test_every_liquid_has_figures_or_a_make_up():
    """No name that a document may use is without figures."""
    for liquid in Liquid:
        for part in parts_of_liquid(liquid, ml=1.0):
            assert part.grams > 0
            assert part.solvent.published_limit_ppm > 0
            assert part.solvent.lel_percent > 0
