"""Every row of the table of kinds of product, walked through each room that has to know it.

A row that some room passes over turns its case red here, by the kind's own name.
"""

import ast
from collections import defaultdict
from dataclasses import replace
from pathlib import Path

import pytest

import finishsched
from finishsched.checking.defects import catalogue
from finishsched.checking.layers.matter import matter_of
from finishsched.documents.decode import dump, read
from finishsched.drying.figures import mechanism_of
from finishsched.film.ledger import Ground, begin, run
from finishsched.film.works import OIL_STAYS, Terms, work_of
from finishsched.mixing.supply import bought_for
from finishsched.model.job import Face, Piece
from finishsched.model.kinds import CHEMICALS, FILMS, KINDS, MELTING, SHELLACS, Mechanism
from finishsched.model.product import Product, ProductKind
from finishsched.model.ranges import NOTHING
from finishsched.model.recipe import Weighed
from finishsched.model.schedule import Schedule, Spread, Stage, StageName, StepPlan
from finishsched.model.step import steps_of
from finishsched.model.verbs import Verb, washes
from finishsched.safety.cautions import Danger, cautions_for
from finishsched.safety.contents import parts_of_product
from finishsched.workshop.begin.finishes import FINISHES

SOURCES = {"hazards": "common practice", "rags": "common practice"}
EVERY = pytest.mark.parametrize("kind", list(ProductKind), ids=str)
PIECE = Piece("lid", "Lid", "any", (Face("top", stated_area_m2=0.1),))


def of(kind, **given):
    """Return a product of this kind, of which only what is given is known."""
    return Product("one", "One", kind, **given)


def step_of(verb, **given):
    """Return the only step of a schedule."""
    stage = Stage(StageName.BODY, (StepPlan("one", verb, "so", **given),))
    return steps_of(Schedule("mine", "Mine", (stage,), source="made up"))[0]


def test_every_kind_has_a_row():
    """No word without its row, and no row without its word."""
    assert set(KINDS) == set(ProductKind)


@EVERY
def test_a_row_does_not_contradict_itself(kind):
    """A film has solids, shellac is a film, chemicals bring water, what blushes is no water."""
    row = kind.row
    assert not row.is_film or row.film_solids is not None
    assert not row.is_shellac or (row.is_film and row.mechanism is Mechanism.SOLVENT)
    assert not row.is_chemical or row.brings_water
    assert not row.brings_water or row.mechanism is not None
    assert not (row.is_solvent and row.film_solids)
    assert not (row.blushes and row.mechanism is not Mechanism.SOLVENT)
    if row.film_solids is not None:
        assert 0 < row.film_solids.low <= row.film_solids.likely <= row.film_solids.high <= 1


def test_groups_are_columns():
    """What rooms ask for by one name is what the rows say, in the trade's own terms."""
    assert set(SHELLACS) < set(MELTING) < set(FILMS)
    assert set(FILMS) - set(MELTING) == {ProductKind.VARNISH, ProductKind.WATERBORNE}
    assert set(CHEMICALS) == {ProductKind.BLEACH, ProductKind.ALKALI}


def test_no_two_rooms_write_the_same_kinds_or_verbs_side_by_side():
    """Kinds or verbs that stand together twice are a column of their table that nobody wrote."""
    places = defaultdict(list)
    root = Path(finishsched.__file__).parent
    for path in sorted(root.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Tuple | ast.Set | ast.List) and len(node.elts) >= 2:
                words = {ast.unparse(one) for one in node.elts}
                if all(word.startswith(("ProductKind.", "Verb.")) for word in words):
                    places[frozenset(words)].append(f"{path.relative_to(root)}:{node.lineno}")
    assert [where for where in places.values() if len(where) > 1] == []


@EVERY
def test_whoever_chooses_a_finish_is_told_what_it_bears(kind):
    """Whatever leaves a film or feeds the wood has its wear, its colour and how it comes off."""
    assert (kind in FINISHES) == (kind.row.film_solids is not None or kind is ProductKind.WAX)


@EVERY
def test_documents_read_and_write_it(kind):
    """A product of this kind comes back from its document as it went."""
    given = of(kind, sources=SOURCES)
    assert read(dump(given).encode(), "one.yaml").model == given


@EVERY
def test_layers_and_defects_know_it(kind):
    """The table of layers has a matter for it, and the table of causes its word."""
    assert matter_of(of(kind))
    assert kind in catalogue.KINDS[kind.value]
    assert (kind in catalogue.KINDS["film"]) == kind.row.is_film


@EVERY
def test_the_ledger_of_film_counts_its_solids_and_nothing_else(kind):
    """A coat leaves film where the row has solids, as much as it says; else it leaves none."""
    step = step_of(Verb.BRUSH, product="one", spread=Spread(ml_per_m2=80.0))
    work = work_of(step, PIECE, Terms({"one": of(kind)})).work
    solids = kind.row.film_solids
    assert (work is not None) == (solids is not None)
    if work is not None and solids is not None:
        (line,) = run([work], begin(Ground(NOTHING, NOTHING, None)))
        film_um = line.after.film_um
        stays = OIL_STAYS.likely if kind is ProductKind.OIL else 1.0
        assert 0 < film_um.low <= film_um.likely <= film_um.high
        assert film_um.likely == pytest.approx(80.0 * solids.likely * stays)


@EVERY
def test_its_document_goes_before_its_row(kind):
    """How a product dries is what its own document says; the row is for where it says nothing."""
    assert mechanism_of(of(kind)) is kind.row.mechanism
    told = of(kind, mechanism=Mechanism.TWO_PART)
    assert mechanism_of(told) is Mechanism.TWO_PART
    assert told.is_two_part_film == kind.row.is_film


@EVERY
def test_solids_are_bought_by_weight_and_the_rest_by_volume(kind):
    """A part of a recipe is counted as its kind is sold."""
    part = Weighed("one", grams=30.0, ml=40.0)
    ((_, by_mass, amount),) = bought_for([part], {"one": of(kind)})
    assert by_mass == kind.row.is_solid
    assert amount == (30.0 if by_mass else 40.0)


@EVERY
def test_what_burns_gives_off_vapour(kind):
    """Of a product that burns and says no more, something is counted, and fire is cautioned of."""
    burns = of(kind, hazards=("H225",))
    assert sum(part.grams for part in parts_of_product(burns, ml=100.0)) > 0
    warned = cautions_for(step_of(Verb.BRUSH, product="one"), [burns])
    assert Danger.FIRE in {caution.danger for caution in warned}


@EVERY
def test_solvents_take_oil_and_wax_off_and_water_does_not(kind):
    """On a cloth; a thinner that dries as water does is water."""
    assert washes(Verb.TACK_OFF, of(kind)) == kind.row.is_solvent
    assert not washes(Verb.TACK_OFF, of(kind, mechanism=Mechanism.WATER))
    assert not washes(Verb.BRUSH, of(kind))
    assert washes(Verb.SPIRIT_OFF, None)


@EVERY
def test_chemicals_are_cautioned_by_what_they_are_called(kind):
    """Lye in a bottle of ours is lye; a varnish that is called after it is none."""
    lye = replace(of(kind), title="Lye")
    warned = cautions_for(step_of(Verb.BRUSH, product="one"), [lye])
    assert any("Lye" in caution.text for caution in warned) == kind.row.is_chemical
