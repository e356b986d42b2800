"""Every abrasive there is, walked through each room that has to know it."""

import pytest

from finishsched.checking.cases import ScheduleCase
from finishsched.checking.findings import schedule_findings
from finishsched.documents.decode import dump, read
from finishsched.documents.lines.read import Context, read_lines
from finishsched.film.ledger import Ground, Laid, begin, run
from finishsched.film.works import Terms, work_of
from finishsched.mixing.consumables import consumables_of
from finishsched.mixing.need import PieceWork
from finishsched.model.grades import (
    CAMI_UM,
    FEPA_UM,
    ROUGH_UM,
    Form,
    System,
    grade_of,
    held_in_the_hand,
    powder_in,
)
from finishsched.model.job import Face, Piece
from finishsched.model.product import Product, ProductKind
from finishsched.model.ranges import NOTHING, Range
from finishsched.model.schedule import Schedule, Stage, StageName, StepPlan
from finishsched.model.step import steps_of
from finishsched.model.supplies import supply_named
from finishsched.model.verbs import Verb

NAMES = [
    *(f"P{number}" for number in FEPA_UM),
    *(f"CAMI {number}" for number in CAMI_UM),
    *ROUGH_UM,
    "cushioned cloth 15 um",
]
EVERY = pytest.mark.parametrize("name", NAMES)
POWDERS = [name for name in ROUGH_UM if grade_of(name).form is Form.POWDER]
PIECE = Piece("lid", "Lid", "any", (Face("top", stated_area_m2=0.1),))
THICK, ALL = Range(300.0, 300.0, 300.0), Range(1.0, 1.0, 1.0)


def schedule_of(name, verb=Verb.LEVEL):
    """Return a schedule of one step with this abrasive."""
    stage = Stage(StageName.LEVEL, (StepPlan("one", verb, "so", grade=(name,)),))
    return Schedule("mine", "Mine", (stage,), source="made up")


def taken_um(name):
    """Return what one rubbing with it takes of a thick film, likely."""
    (step,) = steps_of(schedule_of(name, Verb.RUB_OUT))
    work = work_of(step, PIECE, Terms({})).work
    coat = Laid(wet_um=THICK, solids=ALL, uneven=NOTHING)
    _, line = run([coat, work], begin(Ground(NOTHING, NOTHING, None)))
    return line.before.film_um.likely - line.after.film_um.likely


@EVERY
def test_documents_read_and_write_it(name):
    """A step with this abrasive comes back from its document as it went."""
    given = schedule_of(name)
    assert read(dump(given).encode(), "mine.yaml").model == given


@EVERY
def test_the_checker_knows_it(name):
    """Every abrasive of the tables is taken for what it is, and none for a step without any."""
    case = ScheduleCase(schedule_of(name), {})
    assert [case.grade(move) for move in case.moves] == [grade_of(name)]
    assert "no-grade" not in {one.code for one in schedule_findings(case)}


@EVERY
def test_the_ledger_of_film_takes_something_with_it(name):
    """It takes film, and never more than its own grain in one rubbing."""
    assert 0 < taken_um(name) <= grade_of(name).grain_um


@pytest.mark.parametrize("system", [System.FEPA, System.CAMI])
def test_a_coarser_paper_takes_no_less(system):
    """Along one standard, what is taken goes with the grain."""
    names = [name for name in NAMES if grade_of(name).system is system]
    found = [taken_um(name) for name in sorted(names, key=lambda one: grade_of(one).grain_um)]
    assert found == sorted(found)


@EVERY
def test_what_is_used_up_is_what_can_be_bought(name):
    """A job's list and the shelf call it alike and count it alike; tools and powders are none."""
    steps = steps_of(schedule_of(name))
    work = PieceWork("a/b", 0.1, "walnut", steps, frozenset(step.key for step in steps))
    listed = [(one.name, one.unit) for one in consumables_of([work], {})]
    bought = supply_named(name)
    assert listed == ([bought] if bought else [])
    assert (bought is None) == (grade_of(name).form in (Form.POWDER, Form.TOOL))


@EVERY
def test_a_notebook_says_it_in_one_line(name):
    """What is held in the hand is named after its verb, and is its grade."""
    form = grade_of(name).form
    if form not in (Form.SHEET, Form.PAD):
        pytest.skip("said as a product, or by the verb alone")
    found = read_lines(f"rub out {name}", "notebook", Context({}), "own")
    assert found.schedule is not None
    (step,) = found.schedule.step_plans()
    assert step.grade == (name,)


def test_what_is_held_in_the_hand_is_no_powder_and_no_tool():
    """Of what has no standard, wools, pads and films: a powder is a product, a scraper a verb."""
    left = set(ROUGH_UM) - set(held_in_the_hand())
    assert left == {"card scraper", *POWDERS}


@pytest.mark.parametrize("name", POWDERS)
def test_a_powder_is_known_by_its_product(name):
    """Film, sheen and the order of grades take one grain for it; the longest name says most."""
    product = Product(f"{name.replace(' ', '-')}-4", "Powder", ProductKind.POWDER)
    assert powder_in(product.id) == grade_of(name)
    stage = Stage(StageName.POLISH, (StepPlan("one", Verb.RUB_OUT, "so", product=product.id),))
    (step,) = steps_of(Schedule("mine", "Mine", (stage,), source="made up"))
    stroke = work_of(step, PIECE, Terms({product.id: product})).work
    assert stroke.grade == grade_of(name)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("FFF", "fff pumice"), ("pumice FFFF", "ffff pumice"), ("2F pumice", "ff pumice"),
        ("4F", "ffff pumice"), ("3/0 pumice", "fff pumice"), ("F pumice", "f pumice"),
    ],
)  # fmt: skip
def test_pumice_is_read_by_its_grades(text, name):
    """F is the coarsest, FFFF the finest before rottenstone (tool dealer's sheet 80K04.01)."""
    assert grade_of(text).name == name
    ranks = [grade_of(one).grain_um for one in ("F", "FF", "FFF", "FFFF", "rottenstone")]
    assert ranks == sorted(ranks, reverse=True)


def test_a_pumice_that_is_bought_by_its_grade_is_known_by_it():
    """A product's id says which pumice it is."""
    assert powder_in("pumice-fff").name == "fff pumice"
    assert powder_in("pumice-4f").name == "ffff pumice"
    assert powder_in("pumice").name == "pumice"
