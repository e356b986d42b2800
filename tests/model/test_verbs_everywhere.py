"""Every row of the table of verbs, walked through each room that has to know it.

A row that some room passes over turns its case red here, by the verb's own name.
"""

import ast
from pathlib import Path

import pytest

import finishsched
from finishsched.checking.cases import ScheduleCase
from finishsched.checking.findings import schedule_findings
from finishsched.documents.decode import dump, read
from finishsched.film.ledger import Ground, Laid, begin, run
from finishsched.film.works import Terms, work_of
from finishsched.mixing.amount import Range, pad_charge_ml, used_amount, used_range
from finishsched.model.doing import Care, Lays
from finishsched.model.job import Face, Piece
from finishsched.model.product import Mechanism, Product, ProductKind
from finishsched.model.schedule import Schedule, Spread, Stage, StageName, StepPlan, Wait, Waits
from finishsched.model.step import steps_of
from finishsched.model.verbs import VERBS, Verb
from finishsched.safety.cautions import Danger, cautions_for

PIECE = Piece("lid", "Lid", "any", (Face("top", stated_area_m2=0.1),))
VARNISH = Product("varnish", "Varnish", ProductKind.VARNISH, Mechanism.OXIDISING)
HOT = Product("hot", "Hot glue", ProductKind.GLUE, Mechanism.WATER)
TWO = Product("two", "Two-part lacquer", ProductKind.LACQUER, Mechanism.TWO_PART)
SHELF = {product.id: product for product in (VARNISH, HOT, TWO)}

EVERY = pytest.mark.parametrize("verb", list(Verb), ids=str)


def schedule_of(*plans):
    """Return a schedule of one stage."""
    return Schedule("mine", "Mine", (Stage(StageName.BODY, plans),), source="made up")


def codes(*plans):
    """Return the codes of the rules that find something in these steps."""
    return {one.code for one in schedule_findings(ScheduleCase(schedule_of(*plans), SHELF))}


def step_of(verb, **given):
    """Return one step with this verb."""
    return steps_of(schedule_of(StepPlan("one", verb, "so", **given)))[0]


def test_every_verb_has_a_row():
    """No word without its row, and no row without its word."""
    assert set(VERBS) == set(Verb)


@EVERY
def test_a_row_does_not_contradict_itself(verb):
    """What lays coats has a coat's figures and a loss; a rest holds nothing and leaves nothing."""
    does = verb.does
    assert verb.lays_coats == (does.lays is Lays.COAT) == (does.coat is not None)
    assert not verb.lays_coats or does.lost is not None
    assert bool(does.tool) != does.rests
    assert not does.rests or (does.lays is Lays.NOTHING and not verb.abrades)
    if does.lost is not None:
        assert 0 <= does.lost.low <= does.lost.likely <= does.lost.high < 1


@EVERY
def test_documents_read_and_write_it(verb):
    """A step with this verb comes back from its document as it went."""
    waits, check = Waits(Wait(60.0, 120.0)), "dry to the touch"
    given = schedule_of(
        StepPlan(verb.value.replace(" ", "-"), verb, "so", waits=waits, dry_check=check)
    )
    assert read(dump(given).encode(), "mine.yaml").model == given


@EVERY
def test_amounts_count_its_loss(verb):
    """What is used is what is laid over what is not lost, likely and at the low end."""
    does = verb.does
    assert used_amount(10.0, 2.0, 3, verb) == pytest.approx(60 / (1 - does.lost_share))
    low = used_range(Range(10.0, 10.0, 10.0), 1.0, verb).low
    assert low == pytest.approx(10 / (1 - does.least_lost_share))
    assert pad_charge_ml(verb) == does.holds_ml


@EVERY
def test_the_ledger_of_film_knows_whether_it_lays_or_takes(verb):
    """Coats make film, abrading and filling are worked, and all else leaves the film alone."""
    given = {"product": "varnish"} if verb.lays_coats else {}
    if verb.abrades and not verb.does.grade:
        given = {"grade": ("P1000",)}
    step = step_of(verb, spread=Spread(ml_per_m2=20.0), **given)
    reckoned = work_of(step, PIECE, Terms(SHELF))
    touches = verb.lays_coats or verb.abrades or verb.does.lays is Lays.FILLER
    assert (reckoned.work is not None) == touches
    if verb.lays_coats:
        assert isinstance(reckoned.work, Laid)
        nothing = Range(0.0, 0.0, 0.0)
        (line,) = run([reckoned.work], begin(Ground(nothing, nothing, None)))
        kept = 1 - verb.does.lost_share
        assert reckoned.work.uneven == verb.does.coat.uneven
        assert line.after.film_um.likely > 0
        assert reckoned.work.wet_um.likely in (20.0, pytest.approx(20.0 * kept))


@EVERY
def test_a_coat_without_an_amount_is_taken_as_usual(verb):
    """The usual coat of the row is what the ledger lays where a schedule states none."""
    if not verb.lays_coats:
        pytest.skip("lays no coat")
    work = work_of(step_of(verb, product="varnish"), PIECE, Terms(SHELF)).work
    assert work.wet_um == verb.does.coat.usual_wet_um


@EVERY
def test_its_cautions_are_told(verb):
    """Each care of the row has its caution, where what it guards against is there."""
    cares = set(verb.does.care)
    dry = cautions_for(step_of(verb), [])
    assert any(one.danger is Danger.DUST for one in dry) == (Care.DUST in cares)
    wet = cautions_for(step_of(verb, lubricant="water"), [])
    assert not any(one.danger is Danger.DUST for one in wet)
    assert any("supplied air" in one.text for one in cautions_for(step_of(verb), [TWO])) == (
        Care.MIST in cares
    )
    assert any("scalds" in one.text for one in cautions_for(step_of(verb), [HOT])) == (
        Care.HOT_GLUE in cares
    )
    assert any("under veneer" in one.text for one in dry) == (Care.WATER_UNDER_VENEER in cares)


def test_whatever_abrades_makes_dust():
    """Dust belongs to every verb that takes something away."""
    assert [verb for verb in Verb if verb.abrades and Care.DUST not in verb.does.care] == []


@EVERY
def test_the_checker_asks_for_a_dry_check_where_it_leaves_something_wet(verb):
    """A verb that leaves something wet, and a rest, need a wait and a dry check."""
    assert ("no-dry-check" in codes(StepPlan("one", verb, "so"))) == verb.does.must_dry


@EVERY
def test_the_checker_knows_how_much_a_coat_takes(verb):
    """Too much is told, for every verb that lays coats or whose row says the most."""
    heavy = StepPlan("one", verb, "so", product="varnish", spread=Spread(ml_per_m2=900.0))
    limited = verb.does.most_ml_per_m2 is not None
    assert ("coat-amount" in codes(heavy)) == (verb.lays_coats or limited)
    assert limited == bool(verb.does.too_much)


@EVERY
def test_the_checker_knows_what_makes_dust_and_wants_a_grade(verb):
    """Abrading dry under a coat wants wiping off, and cutting wants a grade."""
    coat = StepPlan("two", Verb.BRUSH, "so", product="varnish")
    found = codes(StepPlan("one", verb, "so", lubricant="dry"), coat)
    assert ("no-tack-off" in found) == verb.abrades
    assert ("no-grade" in found) == verb.cuts


def test_no_room_keeps_a_list_of_verbs_of_its_own():
    """Three verbs side by side in a literal are a copy of a column of the table."""
    copies = []
    root = Path(finishsched.__file__).parent
    for path in sorted(root.rglob("*.py")):
        room = path.relative_to(root).as_posix()
        if room == "model/verbs.py":
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Tuple | ast.Set | ast.List):
                named = node.elts
            elif isinstance(node, ast.Dict):
                named = node.keys
            else:
                continue
            if sum(_is_verb(one) for one in named) >= 3:
                copies.append(f"{room}:{node.lineno}")
    assert copies == []


def _is_verb(node):
    return (
        isinstance(node, ast.Attribute)
        and isinstance(node.value, ast.Name)
        and node.value.id == "Verb"
    )
