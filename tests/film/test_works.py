"""What a step is to the ledger of a face: the grade it rubs with, the solids that it leaves."""

from __future__ import annotations

from dataclasses import replace

import pytest
from face_cases import exactly, piece
from hypothesis import given
from hypothesis import strategies as st

from finishsched.film.learning import NO_METHODS, method_of, methods
from finishsched.film.solids import solids_of
from finishsched.film.works import OIL_STAYS, Terms, Used, ground_of, work_of, works_of
from finishsched.mixing.learnt_use import By, Seen
from finishsched.model.film import Reach
from finishsched.model.product import Product, ProductKind
from finishsched.model.ranges import NOTHING, Range
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


def coat_of(product, **more):
    """Return what brushing a product is to the ledger, by what was used where that is given."""
    used = {"k": more.pop("used")} if "used" in more else {}
    known = more.pop("methods", NO_METHODS)
    step = Step(1, "k", StageName.BODY, Verb.BRUSH, "so", 1, 1, 1, 1, product=product.id, **more)
    return work_of(step, piece(), Terms({product.id: product}, used=used, methods=known)).work


def test_a_coat_leaves_its_solids_and_of_an_oil_a_part_of_them():
    """As thinned by the schedule, or as somebody wrote that it was; an oil stays in the wood."""
    assert coat_of(VARNISH).solids.likely == pytest.approx(0.4)
    assert coat_of(VARNISH, thinned_percent=50).solids.likely == pytest.approx(0.2)
    as_written = Used(thinned_percent=25)
    found = coat_of(VARNISH, thinned_percent=50, used=as_written)
    assert found.solids.likely == pytest.approx(0.3)
    oil = Product("oil", "Oil", ProductKind.OIL, volume_solids_percent=40.0)
    assert coat_of(oil).solids.likely == pytest.approx(0.4 * OIL_STAYS.likely)
    assert OIL_STAYS.likely < 1


def test_a_gauge_moves_what_is_laid_and_never_widens_it():
    """Twenty readings a quarter over what was reckoned leave less doubt than a usual coat has."""
    brushed = ("varnish", Verb.BRUSH)
    known = methods([Seen(brushed, 1.25, By.GAUGED, 0.1)] * 20)
    learnt = method_of(known, brushed).film.range
    plain, gauged = coat_of(VARNISH).wet_um, coat_of(VARNISH, methods=known).wet_um
    assert gauged.likely == pytest.approx(plain.likely * learnt.likely)
    assert plain.low / plain.likely < gauged.low / gauged.likely
    assert gauged.low / gauged.likely == pytest.approx(learnt.low / learnt.likely)
    assert gauged.high / gauged.likely == pytest.approx(learnt.high / learnt.likely)
    assert plain.high / plain.likely > gauged.high / gauged.likely


def test_a_gauge_that_tells_little_leaves_the_doubt_of_what_was_weighed():
    """One careless reading is less sure than a bottle on a scale: its width is not taken over."""
    careless = methods([Seen(("varnish", Verb.BRUSH), 1.25, By.GAUGED, 2.0)])
    weighed = Used(exactly(10.0))
    plain = coat_of(VARNISH, used=weighed).wet_um
    gauged = coat_of(VARNISH, used=weighed, methods=careless).wet_um
    assert gauged.low / gauged.likely == pytest.approx(plain.low / plain.likely)
    assert gauged.high / gauged.likely == pytest.approx(plain.high / plain.likely)


def test_work_over_an_old_finish_begins_on_the_film_of_its_kind():
    """It drinks nothing, its hollows are filled, and its film is there to be cut back."""
    old = ground_of(piece(), [], {}, ProductKind.VARNISH)
    assert old.film_um == ProductKind.VARNISH.row.old_film_um
    assert old.film_um.likely > 0
    assert (old.hollow_um, old.thirst_um) == (NOTHING, NOTHING)
    unknown = next(kind for kind in ProductKind if kind.row.old_film_um is None)
    assert ground_of(piece(), [], {}, unknown).film_um == NOTHING


def test_hollows_that_were_measured_go_before_those_of_the_wood():
    """A quarter of what was measured to either side (our assumption), over an old finish too."""
    measured = replace(piece(), relief_um=40.0)
    for over in (None, ProductKind.VARNISH):
        assert ground_of(measured, [], {}, over).hollow_um == Range(30.0, 40.0, 50.0)


def test_what_is_sanded_over_filler_stops_at_the_wood_until_a_coat_is_laid():
    """The filler is cut back; once a coat lies on it, the same paper is a levelling again."""
    plans = [(Verb.FILL, None), (Verb.SAND, "P320"), (Verb.BRUSH, None), (Verb.SAND, "P320")]
    steps = [
        Step(number, f"k{number}", StageName.PREPARE, verb, "so", 1, 1, 1, 1, grade=grade)
        for number, (verb, grade) in enumerate(plans, 1)
    ]
    _, over_filler, _, over_coat = (one.work for one in works_of(piece(), steps, Terms({})))
    assert over_filler.reach is Reach.CUT_BACK
    assert over_coat.reach is not Reach.CUT_BACK


def test_a_coat_of_nothing_lays_nothing_whatever_gauges_say():
    """Who used none of it has no film of it, and no range out of none."""
    known = methods([Seen(("varnish", Verb.BRUSH), 1.25, By.GAUGED, 0.1)] * 20)
    none = coat_of(VARNISH, used=Used(exactly(0.0)), methods=known).wet_um
    assert (none.low, none.likely, none.high) == (0.0, 0.0, 0.0)


def test_what_was_used_lies_as_thick_as_the_face_is_small():
    """By definition a millilitre on a square metre is a micrometre: 6 ml on 0.06 m2 are 100."""
    laid = coat_of(VARNISH, used=Used(exactly(6.0))).wet_um
    assert laid.likely == pytest.approx(100.0 * (1 - Verb.BRUSH.does.lost_share))
