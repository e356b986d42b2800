"""Products made of products: scaled by weight, dangers added up, nothing diluted away."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.documents.decode import read
from finishsched.documents.faults import DocumentFaultsError
from finishsched.documents.library import shipped_products
from finishsched.documents.references import unknown_names
from finishsched.mixing.into_jar import is_mixed
from finishsched.mixing.need import Mixture
from finishsched.mixing.supply import bought_for
from finishsched.model.kinds import ProductKind
from finishsched.model.product import Product, RagHabit
from finishsched.model.recipe import (
    Ingredient,
    Recipe,
    WithRecipes,
    in_a_circle,
    made_of_products,
    weighed,
)
from finishsched.model.solvent import Liquid, SolventShare
from finishsched.safety.contents import parts_of_product

SPIRITS = Product(
    "spirits", "Spirits", ProductKind.THINNER, density_g_per_ml=0.78, hazards=("H226",),
    rags=RagHabit.FLAMMABLE, solvents=(SolventShare(Liquid.MINERAL_SPIRITS, 100.0),),
)  # fmt: skip
OIL = Product(
    "oil", "Oil", ProductKind.OIL, density_g_per_ml=0.93, volume_solids_percent=100.0,
    rags=RagHabit.SELF_HEATING, solvents=(), cautions=("spread the cloths",),
)  # fmt: skip
EARTH = Product("earth", "Earth", ProductKind.PIGMENT, hazards=("H351",), solvents=())
BLEND = Product(
    "blend", "Blend", ProductKind.OIL,
    recipe=Recipe(1000.0, (Ingredient("spirits", ml=400.0), Ingredient("oil", grams=558.0))),
)  # fmt: skip
TINTED = Product(
    "tinted", "Tinted blend", ProductKind.STAIN,
    recipe=Recipe(1000.0, (Ingredient("blend", ml=1000.0), Ingredient("earth", g_per_l=20.0))),
)  # fmt: skip
SHELF = {one.id: one for one in (SPIRITS, OIL, EARTH, BLEND, TINTED)}


@given(st.floats(1.0, 1e5))
def test_every_part_grows_with_what_is_made(makes_ml):
    """Twice as much takes twice of each, dyes counted by the litre among them."""
    once = weighed(TINTED.recipe, makes_ml, SHELF)
    twice = weighed(TINTED.recipe, 2 * makes_ml, SHELF)
    assert [one.product for one in once] == ["blend", "earth"]
    for small, large in zip(once, twice, strict=True):
        assert small.grams is None or large.grams == pytest.approx(2 * small.grams)
        assert small.ml is None or large.ml == pytest.approx(2 * small.ml)
    assert once[1].grams == pytest.approx(20.0 * makes_ml / 1000)


def test_strength_in_ounces_a_gallon_is_the_same_in_grams_a_litre():
    """NIST SP 811 (2008), B.8: 1 oz is 28.349523 g, 1 US gal is 3.785412 l."""
    text = (
        "product: a\ntitle: A\nkind: stain\nrecipe:\n  makes: 1 l\n  of:\n"
        "    - {product: water, measure: 1 l}\n    - {product: water-dye, strength: 2 oz/gal}\n"
    )
    dye = read(text.encode(), "a.yaml").model.recipe.parts[1]
    assert dye.g_per_l == pytest.approx(2 * 28.349523 / 3.785412, rel=1e-6)


def test_dangers_of_all_parts_are_those_of_the_mix():
    """Hazards and cautions are put together, and the gravest habit of rags counts."""
    made = made_of_products(TINTED, SHELF)
    assert made.hazards == ("H226", "H351")
    assert made.rags is RagHabit.SELF_HEATING
    assert made.cautions == ("spread the cloths",)
    assert made.volume_solids_percent == pytest.approx(60.0)


def test_what_leaves_the_mix_is_what_leaves_its_parts():
    """A litre of the blend gives off the 400 ml of spirits that went into it, no more, no less."""
    made = made_of_products(TINTED, SHELF)
    given_off = parts_of_product(made, ml=1000.0)
    alone = parts_of_product(SPIRITS, ml=400.0)
    assert [one.solvent.liquid for one in given_off] == [Liquid.MINERAL_SPIRITS]
    assert given_off[0].grams == pytest.approx(alone[0].grams)


def test_an_unknown_part_hides_no_vapour():
    """Where one part does not say what leaves it, the mix does not say so either."""
    silent = replace(SPIRITS, solvents=None)
    made = made_of_products(BLEND, SHELF | {"spirits": silent})
    assert made.solvents is None


def test_what_is_bought_for_a_mix_of_mixes_is_what_is_bought():
    """Parts of parts down to what has no recipe, solids by weight and liquids by volume."""
    parts = weighed(TINTED.recipe, 500.0, SHELF)
    bought = {name: (by_mass, amount) for name, by_mass, amount in bought_for(parts, SHELF)}
    assert bought["earth"] == (True, pytest.approx(10.0))
    assert bought["spirits"] == (False, pytest.approx(200.0))
    assert bought["oil"] == (False, pytest.approx(300.0))
    assert is_mixed(Mixture("tinted", None, None, by_mass=False), SHELF)


def test_a_circle_is_told_and_ends():
    """A recipe that needs itself is a fault of its document, and reckoning with it ends."""
    mine = replace(
        BLEND, recipe=Recipe(1.0, (Ingredient("tinted", ml=1.0), Ingredient("oil", 1.0)))
    )
    shelf = SHELF | {"blend": mine}
    assert in_a_circle(mine, shelf)
    assert made_of_products(mine, shelf).rags is RagHabit.SELF_HEATING
    text = (
        "product: a\ntitle: A\nkind: stain\nrecipe:\n  makes: 1 l\n  of:\n"
        "    - {product: a, measure: 1 l}\n    - {product: watr, weigh: 1 g}\n"
    )
    found = unknown_names([read(text.encode(), "a.yaml")], shipped_products(), {})
    assert {fault.rule for fault in found} == {"unknown-name", "bad-value"}


def test_a_part_has_one_amount():
    """Two amounts of one part, or none, are told at the part."""
    text = (
        "product: a\ntitle: A\nkind: stain\nrecipe:\n  makes: 1 l\n  of:\n"
        "    - {product: water, measure: 1 l, weigh: 1 kg}\n    - {product: oil}\n"
    )
    with pytest.raises(DocumentFaultsError) as told:
        read(text.encode(), "a.yaml")
    assert [fault.line for fault in told.value.faults] == [7, 8]


def test_what_is_bought_still_has_to_say_its_dangers():
    """Only a recipe may leave hazards, rags and sources to its parts."""
    with pytest.raises(DocumentFaultsError) as told:
        read(b"product: a\ntitle: A\nkind: stain\n", "a.yaml")
    assert {fault.rule for fault in told.value.faults} == {"missing-key"}
    assert len(told.value.faults) == 3


def test_the_shipped_toner_is_told_by_its_parts():
    """Its solids are those of a one-pound cut: 9.1 % by volume, as test_solids_of_a_cut has it."""
    toner = WithRecipes(shipped_products())["amber-toner"]
    assert toner.volume_solids_percent == pytest.approx(9.1, abs=0.1)
    assert "H225" in toner.hazards
