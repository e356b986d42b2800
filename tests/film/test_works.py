"""What a step is to the ledger of a face: the grade it rubs with, the solids that it leaves."""

from __future__ import annotations

import pytest
from face_cases import piece
from hypothesis import given
from hypothesis import strategies as st

from finishsched.film.solids import solids_of
from finishsched.film.works import Terms, work_of
from finishsched.model.product import Product, ProductKind
from finishsched.model.schedule import StageName, Verb
from finishsched.model.step import Step

FLAKES = Product("flakes", "Flakes", ProductKind.FLAKES, thinner="spirit")
VARNISH = Product("varnish", "Varnish", ProductKind.VARNISH, volume_solids_percent=40.0)
SOFT = Product("soft", "Soft", ProductKind.VARNISH)


def rubbed_with(product, **more):
    """Return what rubbing out with a powder is to the ledger."""
    powder = Product(product, "Powder", ProductKind.POWDER)
    step = Step(1, "k", StageName.POLISH, Verb.RUB_OUT, "so", 1, 1, 1, 1, product=product, **more)
    return work_of(step, piece(), Terms({product: powder}))


@pytest.mark.parametrize(
    ("product", "name"),
    [
        ("pumice", "pumice"), ("fine-pumice", "fine pumice"), ("coarse-pumice", "coarse pumice"),
        ("rottenstone", "rottenstone"),
    ],
)  # fmt: skip
def test_a_powder_is_a_grade_by_its_name(product, name):
    """Where the step states none; a grade that it states goes before."""
    assert rubbed_with(product).work.grade.name == name
    assert rubbed_with(product, grade="P1500").work.grade.name == "P1500"


def test_a_powder_that_no_table_knows_is_not_reckoned():
    """Nobody knows its grain, so nothing is taken off for it."""
    assert rubbed_with("burnishing-powder").work is None


@given(st.floats(60, 600), st.floats(0, 90))
def test_thinning_leaves_its_share_less_of_film(cut_g_per_l, thinned_percent):
    """Half thinner leaves half the solids: of flakes, of a stated product and of a usual one."""
    share = 1 - thinned_percent / 100
    for product in (FLAKES, VARNISH, SOFT):
        whole, thinned = (solids_of(product, cut_g_per_l, p)[0] for p in (None, thinned_percent))
        assert whole.likely > 0
        assert thinned.likely == pytest.approx(whole.likely * share)
