"""The catalogue of defects, the ranking of causes, and the ways to put them right."""

import dataclasses
import math
from typing import get_type_hints

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.checking.defects.catalogue import CATALOGUE, RULES_ASKED
from finishsched.checking.defects.evidence import Evidence
from finishsched.checking.defects.options import MOST_OFFERED, OPTIONS, offered, rework_of
from finishsched.checking.defects.ranking import diagnose
from finishsched.checking.defects.reading_signs import read_signs
from finishsched.checking.defects.rework import entered, rework_steps
from finishsched.checking.defects.seen import OF_THE_LOG, Seen, seen_in
from finishsched.checking.defects.signs import Sign
from finishsched.checking.defects.worked_with import WorkedWith, worked_with
from finishsched.documents.library import shipped_products, shipped_schedules
from finishsched.model.plain import from_plain, to_plain
from finishsched.model.product import ProductKind
from finishsched.model.schedule import Verb
from finishsched.model.step import steps_of

FIGURES = {
    float: st.floats(0, 500, allow_nan=False),
    int: st.integers(0, 60),
    bool: st.booleans(),
    str: st.sampled_from(["", "thick", "over the pores", "no wax on it"]),
    Verb: st.sampled_from(Verb),
    ProductKind: st.sampled_from(ProductKind),
}
HINTS = get_type_hints(Evidence)


CODES = sorted(RULES_ASKED)


def _figures(name):
    if HINTS[name] is str:
        return FIGURES[str]
    if name == "wrongs":
        return st.none() | st.dictionaries(st.sampled_from(CODES), st.just("so it is"), max_size=3)
    kinds = HINTS[name].__args__
    return st.none() | next(figures for kind, figures in FIGURES.items() if kind in kinds)


KNOWN = [field.name for field in dataclasses.fields(Evidence) if field.name != "tell"]
FIELDS = {name: _figures(name) for name in KNOWN}
evidence = st.builds(Evidence, **FIELDS)
seens = st.sampled_from(Seen)
SCHEDULES = {schedule.id: schedule for schedule in shipped_schedules().values()}
PRODUCTS = shipped_products()


def test_every_defect_is_in_the_catalogue_with_all_that_a_person_wants():
    """Each has its look, several causes, and for each cause what to look at and a way out."""
    assert set(CATALOGUE) == set(Seen)
    for defect in CATALOGUE.values():
        assert len(defect.causes) >= 3
        assert len({cause.id for cause in defect.causes}) == len(defect.causes)
        for cause in defect.causes:
            assert cause.words
            assert cause.look
            assert set(cause.reworks) <= set(OPTIONS)
            assert cause.often > 0


def test_every_sign_speaks_for_some_cause_and_every_way_mends_one():
    """Nothing is collected that nothing weighs, and no way is written that is never offered."""
    causes = [cause for defect in CATALOGUE.values() for cause in defect.causes]
    needed = {sign for cause in causes for several in cause.needs for sign in several}
    of_defects = {sign for log in OF_THE_LOG.values() for sign in log}
    assert {sign for cause in causes for sign in cause.speaks} | needed | of_defects == set(Sign)
    assert {name for cause in causes for name in cause.reworks} == set(OPTIONS)


@given(seens, evidence)
def test_the_chances_come_to_one_and_are_in_order(seen, known):
    """Every cause has a chance, the likeliest stands first, and they make a whole."""
    causes = diagnose(seen, known).causes
    chances = [ranked.chance for ranked in causes]
    assert math.isclose(math.fsum(chances), 1.0, abs_tol=1e-9)
    assert chances == sorted(chances, reverse=True)
    assert all(chance > 0 for chance in chances)


@given(seens, evidence)
def test_the_ranking_is_the_same_each_time(seen, known):
    """The same evidence gives the same answer, to the letter."""
    assert diagnose(seen, known) == diagnose(seen, dataclasses.replace(known))


@given(seens, evidence)
def test_what_is_neutral_changes_nothing(seen, known):
    """A fact with grade 0 moves no cause: 60 % humidity is neither damp nor dry."""
    blank = dataclasses.replace(known, humidity_percent=None, dew_margin_k=None)
    told = dataclasses.replace(blank, humidity_percent=60.0)
    assert read_signs(told)[Sign.DAMP_AIR].grade == 0
    assert diagnose(seen, told) == diagnose(seen, blank)


@given(seens)
def test_without_evidence_the_commonest_cause_stands_first(seen):
    """A log that knows nothing leaves the order to how often each cause is met."""
    causes = diagnose(seen, Evidence()).causes
    assert causes[0].cause.often == max(cause.often for cause in CATALOGUE[seen].causes)
    assert all(not ranked.speaks_for and not ranked.speaks_against for ranked in causes)


@given(evidence, st.floats(1, 99), st.floats(0, 40))
def test_damper_air_never_makes_damp_air_less_likely(known, humidity, more):
    """The chance that air made a blush grows with the humidity, all else alike."""
    known = dataclasses.replace(known, kind=ProductKind.FLAKES, laid=True)
    dry = dataclasses.replace(known, humidity_percent=humidity)
    damp = dataclasses.replace(known, humidity_percent=humidity + more)
    chances = [
        next(r.chance for r in diagnose(Seen.BLUSH, one).causes if r.cause.id == "damp-air")
        for one in (dry, damp)
    ]
    assert chances[1] >= chances[0] - 1e-12


@given(evidence)
def test_grades_stay_within_one(known):
    """No single fact outweighs its own full grade, whatever the log holds."""
    assert all(-1 <= reading.grade <= 1 for reading in read_signs(known).values())
    assert all(reading.words for reading in read_signs(known).values())


@pytest.mark.parametrize(
    ("text", "seen"),
    [
        ("blush", Seen.BLUSH),
        ("Blush, along the hinge", Seen.BLUSH),
        ("dust nibs on top", Seen.DUST_NIB),
        ("sand-through at the edge", Seen.FILM_THROUGH),
        ("sand-through of veneer by the lock", Seen.VENEER_THROUGH),
        ("runs at the lower edge", Seen.SAG),
        ("orange peel", Seen.ORANGE_PEEL),
        ("a bit of blush", None),
        ("ringing sound", None),
        ("chip on arrival", Seen.CHIP),
        ("", None),
    ],
)
def test_a_name_at_the_beginning_is_known(text, seen):
    """The kind is read off the beginning of the text, and a longer word is another word."""
    assert seen_in(text) is seen


@given(seens)
def test_every_defect_is_known_by_its_own_name(seen):
    """What the tool writes, it reads."""
    assert seen_in(seen.value) is seen
    assert seen_in(f"{seen.value}: near the lock") is seen


@pytest.mark.parametrize("name", sorted(SCHEDULES))
@pytest.mark.parametrize("seen", Seen)
def test_every_defect_can_be_put_right_on_every_shipped_schedule(name, seen):
    """Some way is offered for each, its steps have their own keys, waits have their dry checks."""
    steps = steps_of(SCHEDULES[name])
    middle = steps[len(steps) * 2 // 3]
    used = worked_with(steps, middle, PRODUCTS)
    found = offered(diagnose(seen, Evidence()), used)
    assert 1 <= len(found) <= MOST_OFFERED
    for rework in found:
        added = rework_steps(rework, 1)
        keys = [step.key for step in (*steps, *added)]
        assert len(set(keys)) == len(keys)
        assert all(step.is_rework and step.how for step in added)
        assert all(step.dry_check for step in added if step.wait is not None)
        assert all(step.product in PRODUCTS for step in added if step.product)
        assert from_plain(type(rework), to_plain(rework)) == rework


def test_alcohol_is_not_offered_where_it_softens_nothing():
    """Flashing off with alcohol mends shellac only; on varnish it is left out."""
    steps = steps_of(SCHEDULES["wiping-varnish"])
    used = worked_with(steps, steps[-3], PRODUCTS)
    assert not used.shellac
    assert rework_of("spirit-off", used) is None
    assert rework_of("draw-oil", used) is None
    shellac = steps_of(SCHEDULES["padded-shellac-pattern"])
    assert rework_of("spirit-off", worked_with(shellac, shellac[-3], PRODUCTS)) is not None


def test_a_piece_without_coats_gets_no_way_that_needs_them():
    """Before any finish is known, nothing is laid that nobody chose."""
    assert rework_of("level-coat", WorkedWith()) is None
    assert rework_of("strip", WorkedWith()) is None
    assert offered(diagnose(Seen.SAG, Evidence()), WorkedWith())


@given(st.integers(0, 12), st.integers(1, 3), st.data())
def test_rework_goes_between_what_was_done_and_what_is_left(done, times, data):
    """However often: the schedule's steps keep their order, and the numbers have no gap."""
    steps = steps_of(SCHEDULES["padded-shellac-closed-pored"])
    used = worked_with(steps, steps[10], PRODUCTS)
    begun = [step.key for step in steps[:done]]
    whole = steps
    for number in range(1, times + 1):
        name = data.draw(st.sampled_from(["spirit-off", "level-coat", "touch-in"]))
        rework = rework_of(name, used)
        added = rework_steps(rework, number)
        whole = entered(whole, added, begun)
        begun += [step.key for step in added]
    assert [step.key for step in whole if not step.is_rework] == [step.key for step in steps]
    assert [step.key for step in whole[:done]] == begun[:done]
    assert [step.number for step in whole] == list(range(1, len(whole) + 1))


PEOPLE_SAY = """
raised grain; blotchy; rust; brush marks; swirl marks; blister; open seam; gummy; yellowed; haze;
dent; dry spray; burnt; streaks; white in the pores; faded; uneven sheen; milky; chill; bloom;
sweating; white ring; black ring; heat mark; greying; clouding; cissing; crawling; pinholing;
bubbling; solvent pop; pebble; ropiness; pad marks; whips; overlap; runs; curtains; fat edge;
holiday; overspray; cobwebbing; wrinkle; lifting; dragged; frosting; tacky; soft below; imprint;
peeling; flaking; checking; crazing; alligatoring; seeds; hairs; corns; scratches; marks coming
back; rub-through; contour lines; core shows; sinking; silver holes; filler haze; mottle; dark end
grain; weeping; iron stain; brown specks; pitch; tannin; glue spots; measles; veneer bubble; gap;
starved; flatting; too shiny; ambering; darkened; residue; smeary; greasy; skin; slow to dry; fuzzy
"""
"""Names of glossaries (BS 2015, Glossary of paint terms) and of finishers' columns."""


@pytest.mark.parametrize("said", [one.strip() for one in PEOPLE_SAY.replace("\n", " ").split(";")])
def test_what_people_call_a_defect_is_known(said):
    """Each word leads to what it is called here."""
    assert seen_in(f"{said} at the edge") is not None


def test_no_water_in_the_alcohol_is_blamed_for_varnish():
    """A cause is told only of what it can befall."""
    of_varnish = diagnose(Seen.BLUSH, Evidence(kind=ProductKind.VARNISH)).causes
    of_shellac = diagnose(Seen.BLUSH, Evidence(kind=ProductKind.FLAKES)).causes
    assert "wet-alcohol" not in {ranked.cause.id for ranked in of_varnish}
    assert "wet-alcohol" in {ranked.cause.id for ranked in of_shellac}


def _chances(seen, said="", **known):
    causes = diagnose(seen, Evidence(laid=True, said=said, **known)).causes
    return {one.cause.id: one.chance for one in causes}


def test_what_a_maker_says_lets_a_cause_in_that_the_log_rules_out():
    """A log without an abrasive names no skipped grade, until somebody speaks of the paper.

    What the log has against it still counts: it is less likely than where paper was logged.
    """
    unsaid = _chances(Seen.SCRATCHES, papered=False, abraded=False)
    said = _chances(Seen.SCRATCHES, "lines from the paper", papered=False, abraded=False)
    logged = _chances(Seen.SCRATCHES, "lines from the paper", papered=True, abraded=True)
    assert "not-through-grades" not in unsaid
    assert 0 < said["not-through-grades"] < logged["not-through-grades"]


def test_paper_before_the_last_coat_still_leaves_scratches():
    """Scratches of the wood lie under all coats, so that no later paper need be logged for them."""
    before = _chances(Seen.SCRATCHES, papered=False, abraded=True)
    assert before["not-through-grades"] > 0
    after = _chances(Seen.SCRATCHES, papered=True, abraded=True)
    assert before["not-through-grades"] <= after["not-through-grades"]


def test_green_oil_under_a_film_comes_first():
    """A layer below at a third of its drying is named before all else where the film cracks."""
    found = diagnose(Seen.CRACKLE, Evidence(green_below_share=0.3, kind=ProductKind.VARNISH))
    assert found.causes[0].cause.id == "green-below"


def test_water_that_was_said_is_not_denied_by_the_log_in_other_words():
    """Who says that it was sponged is not told that there was no water since."""
    known = Evidence(said="white since the sponge", water_used=False, laid=True)
    assert read_signs(known)[Sign.WET_WORK].is_said
    against = [one.speaks_against for one in diagnose(Seen.BLUSH, known).causes]
    assert not any("no water since" in words for each in against for words in each)
