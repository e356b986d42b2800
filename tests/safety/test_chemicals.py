"""Bleaches, alkalis and hardeners: each brings its own caution to the step that uses it."""

from __future__ import annotations

import pytest

from finishsched.model.kinds import Mechanism, ProductKind
from finishsched.model.product import Product
from finishsched.model.schedule import StageName, Verb
from finishsched.model.step import Step
from finishsched.safety.cautions import cautions_for
from finishsched.safety.dust import dust_of


def told(verb, product, how="evenly"):
    """Return all that a step with one product cautions of."""
    step = Step(1, "prepare/x:1.1", StageName.PREPARE, verb, how, 1, 1, 1, 1, product.id)
    return " ".join(caution.text for caution in cautions_for(step, [product]))


@pytest.mark.parametrize(
    ("verb", "name", "kind", "words"),
    [
        (Verb.BLEACH, "oxalic-acid", ProductKind.BLEACH, ("poisonous", "rinse", "mask")),
        (Verb.BLEACH, "ammonia-25", ProductKind.ALKALI, ("blinds", "goggles", "eyes")),
        (Verb.BLEACH, "lye", ProductKind.ALKALI, ("burns", "goggles", "vinegar is for the wood")),
        (Verb.BLEACH, "peroxide-bleach", ProductKind.BLEACH, ("on fire", "rinse its rags")),
    ],
)
def test_each_chemical_has_its_caution(verb, name, kind, words):
    """Common practice, no source; the data sheet of each says more."""
    said = told(verb, Product(name, name.title(), kind, Mechanism.WATER))
    assert all(word in said for word in words)
    assert "ten steps" in said  # where to wash the eyes


def test_a_harmless_product_brings_none_of_them():
    """Water on a sponge warns of no acid."""
    said = told(Verb.RAISE_GRAIN, Product("water", "Water", ProductKind.THINNER, Mechanism.WATER))
    assert not any(word in said for word in ("Oxalic", "Ammonia", "Lye burns", "isocyanates"))


def test_a_hardener_is_told_of_however_it_is_laid():
    """Isocyanates sensitise by skin as well as by mist; sprayed they want supplied air."""
    clear = Product("two-clear", "Two-part clear", ProductKind.VARNISH, Mechanism.TWO_PART)
    assert "isocyanates" in told(Verb.BRUSH, clear)
    assert "supplied air" in told(Verb.SPRAY, clear)
    assert "isocyanates" not in told(
        Verb.FILL, Product("epoxy", "Epoxy", ProductKind.FILLER, Mechanism.TWO_PART)
    )


def test_dust_says_whether_a_list_in_print_was_found():
    """Black walnut stands in a list in print; what is from memory says so."""
    assert "walnut can" in " ".join(dust_of("walnut"))
    assert "sapele (from memory) can" in " ".join(dust_of("sapele"))
