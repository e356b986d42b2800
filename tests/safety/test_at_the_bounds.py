"""Safety to the letter: what each caution hangs on, classes at their bounds, rooms without air."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.model.inlays import INLAYS
from finishsched.model.product import Product, ProductKind, RagHabit
from finishsched.model.schedule import StageName, Verb
from finishsched.model.solvent import FlameClass, Liquid, SolventShare
from finishsched.model.step import Step
from finishsched.safety.budget import HOUR_S, Release
from finishsched.safety.cautions import Danger, cautions_for, parts_cautions
from finishsched.safety.contents import parts_of_liquid, parts_of_product
from finishsched.safety.dust import dust_of
from finishsched.safety.labels import Pictogram, hazard_lines, pictograms
from finishsched.safety.solvents import SOLVENTS, flame_class
from finishsched.safety.ventilation import RoomAir, purge_h, steady_ppm, vapour_m3, vent_answer

ETHANOL = SOLVENTS[Liquid.ETHANOL]
OIL = Product("o", "Linseed oil", ProductKind.OIL, rags=RagHabit.SELF_HEATING)
SPIRIT = Product("a", "Alcohol", ProductKind.ALCOHOL, rags=RagHabit.FLAMMABLE)


def step(verb, **given_):
    """Return a step of the body."""
    return Step(1, "k", StageName.BODY, verb, "so", 1, 1, 1, 1, **given_)


@pytest.mark.parametrize(
    ("flash_c", "boils_c", "found"),
    [
        (22.7, 37.7, FlameClass.IA), (22.7, 37.8, FlameClass.IB), (22.8, 30.0, FlameClass.IC),
        (37.7, 200.0, FlameClass.IC), (37.8, 200.0, FlameClass.II), (59.9, 200.0, FlameClass.II),
        (60.0, 200.0, FlameClass.IIIA), (93.2, 200.0, FlameClass.IIIA),
        (93.3, 200.0, FlameClass.IIIB),
    ],
)  # fmt: skip
def test_a_liquid_at_the_bound_of_a_class_is_in_the_next(flash_c, boils_c, found):
    """NFPA 30 and 29 CFR 1910.106(a): "below" 73, 100, 140, 200 degF; at it is not below."""
    assert flame_class(flash_c, boils_c) is found


@pytest.mark.parametrize(
    ("code", "meaning", "shown"),
    [
        # UN GHS, annex 3, codes and statements: the sense of each, in our words.
        ("H225", "highly flammable liquid and vapour", Pictogram.FLAME),
        ("H317", "may make the skin allergic", Pictogram.EXCLAMATION),
        ("H360", "may harm fertility or an unborn child", Pictogram.HEALTH),
        ("H360D", "may harm an unborn child", Pictogram.HEALTH),
        ("H360F", "may harm fertility", Pictogram.HEALTH),
        ("H360Z", "may harm fertility or an unborn child", Pictogram.HEALTH),
        ("H412", "harmful to water life for long", None),
    ],
)
def test_a_code_says_what_it_means_with_or_without_a_letter(code, meaning, shown):
    """A known letter narrows the sense, any keeps the pictogram; harm to water alone has none."""
    (line,) = hazard_lines([code])
    assert line.meaning == meaning
    assert pictograms([code]) == ((shown,) if shown else ())


def test_parts_that_react_are_minded_for_skin_heat_and_rags():
    """Parts of unknown make-up always say to read their sheets, and more when they set."""
    assert [one.danger for one in parts_cautions(sets=False)] == [Danger.SKIN]
    found = parts_cautions(sets=True)
    assert {one.danger for one in found} == {Danger.RAGS, Danger.SKIN, Danger.HEAT}
    assert list(found) == sorted(found)


@pytest.mark.parametrize(
    ("beneath", "lubricant", "warned"),
    [([OIL], None, True), ([SPIRIT], None, False), ([OIL], "water", False), ([], None, False)],
)
def test_dust_of_what_heats_is_emptied_outdoors(beneath, lubricant, warned):
    """Only dry dust of oil or varnish heats in its bag (NFPA tip sheet on oily waste)."""
    found = cautions_for(step(Verb.SAND, grade="P180", lubricant=lubricant), [], beneath)
    assert any("heat by itself in a heap" in one.text for one in found) is warned


@pytest.mark.parametrize(("title", "scalds"), [("Hot hide glue", True), ("White glue", False)])
def test_only_hot_glue_scalds(title, scalds):
    """What is used cold needs no word of it."""
    glue = Product("g", title, ProductKind.GLUE)
    found = cautions_for(step(Verb.GLUE_UP), [glue])
    assert any("scalds" in one.text for one in found) is scalds


@pytest.mark.parametrize("wet", [False, True])
@pytest.mark.parametrize("row", INLAYS, ids=lambda row: row.name)
def test_the_dust_of_each_inlay_is_minded(row, wet):
    """What an inlay's row says of its dust is said, unless water lays all that harms."""
    of_it = {"metal": "brass wire", "board": "plywood"}.get(row.name, row.name)
    said = row.dust in tuple(dust_of(f"walnut, {of_it}", wet=wet))
    assert said is bool(row.dust and not (wet and row.dry_only))


def test_a_product_of_unknown_density_is_taken_for_water_by_mass():
    """A share by mass of 100 ml at 1 g/ml: 40 % are 40 g."""
    half = Product(
        "x", "X", ProductKind.LACQUER,
        solvents=(SolventShare(Liquid.TOLUENE, by_mass_percent=40),),
    )  # fmt: skip
    (part,) = parts_of_product(half, ml=100.0)
    assert part.grams == pytest.approx(40.0)


def test_a_room_without_air_never_clears():
    """With no flow a source has no end, nothing comes from none, and nothing goes."""
    assert steady_ppm(0.001, 0.0) == math.inf
    assert steady_ppm(0.0, 0.0) == 0.0
    assert steady_ppm(0.001, 10.0) == pytest.approx(100)
    assert purge_h(100.0, 50.0, 0.0, 10.0) == math.inf
    assert purge_h(100.0, 50.0, 0.5, 10.0) == pytest.approx(20 * math.log(2))
    assert purge_h(1.0, 0.5, 0.5, 10.0) == pytest.approx(20 * math.log(2))
    assert purge_h(1.0, 0.0, 0.5, 10.0) == math.inf
    assert purge_h(50.0, 50.0, 0.0, 10.0) == 0.0


@pytest.mark.parametrize(("volume_m3", "over"), [(1.0, True), (1000.0, False)])
def test_fire_is_minded_from_a_tenth_of_the_explosive_limit(volume_m3, over):
    """100 ml of ethanol: 42 l of vapour are 4.2 % of a cubic metre (NIOSH: 10 % LEL 3,300 ppm)."""
    parts = parts_of_liquid(Liquid.ETHANOL, ml=100.0)
    answer = vent_answer(parts, 1.0, RoomAir(volume_m3, 0.0, 4.0))
    assert answer.over_fire is over
    gas_m3 = sum(map(vapour_m3, parts))
    wanted_m3_per_h = gas_m3 / (0.1 * ETHANOL.lel_ppm) * 1e6 * 4.0
    assert answer.air_for_fire_m3_per_h == pytest.approx(wanted_m3_per_h)


def test_percent_of_what_can_burn_is_by_definition():
    """Air of 1.55 % ethanol is at half of the lowest limit printed, 3.1 % (by hand)."""
    (row,) = vent_answer(parts_of_liquid(Liquid.ETHANOL, ml=10.0), 1.0, RoomAir(30.0)).rows
    assert row._replace(peak_ppm=15_500.0).percent_lel == pytest.approx(50.0)


def test_what_two_liquids_do_to_a_room_adds_up():
    """Vapour and peaks are sums, each limit counts for its share, and the greater need of air."""
    parts = tuple(
        part
        for liquid in (Liquid.ETHANOL, Liquid.TOLUENE)
        for part in parts_of_liquid(liquid, ml=10.0)
    )
    answer = vent_answer(parts, 2.0, RoomAir(30.0, 30.0, 3.0))
    assert answer.vapour_m3 == pytest.approx(sum(map(vapour_m3, parts)))
    assert answer.peak_ppm == pytest.approx(sum(row.peak_ppm for row in answer.rows))
    shares = [row.peak_ppm / row.limit_ppm for row in answer.rows]
    assert answer.index == pytest.approx(sum(shares))
    # As much of this mixture as comes to its limit has an index of 1.
    assert answer.limit_ppm * answer.index == pytest.approx(answer.peak_ppm)
    assert answer.air_for_health_m3_per_h > answer.air_for_fire_m3_per_h
    assert answer.air_needed_m3_per_h == answer.air_for_health_m3_per_h
    for row in answer.rows:
        # In two hours half as much comes off in each as in one; a third of the flow mixes.
        assert row.steady_ppm == pytest.approx(1e6 * row.vapour_m3 / 2.0 / 10.0)
        assert row.peak_ppm < row.steady_ppm
    # NIOSH Pocket Guide, conversion: 1 ppm of ethanol is 1.89 mg/m3.
    ethanol = answer.rows[0]
    assert ethanol.peak_mg_per_m3 == pytest.approx(1.89 * ethanol.peak_ppm, rel=0.005)


@given(
    st.floats(0.5, 8 * HOUR_S), st.floats(1e-5, 1e-2), st.just(0.0) | st.floats(1, 4 * HOUR_S),
    st.floats(0.01, 0.5),
)  # fmt: skip
def test_after_its_crest_the_vapour_of_a_coat_only_falls(dries_s, air, over_s, later):
    """Whatever the rates, no later instant has more of it; laid at once, no earlier one either."""
    coat = Release(ETHANOL, 10.0, 100.0, over_s, dries_s)
    crest_s = coat.crest_s(air)
    assert crest_s >= coat.laid_at_s
    there = coat.in_air_g(crest_s, air)
    span = later / air
    assert coat.in_air_g(crest_s + span, air) <= there * (1 + 1e-9)
    at_once = Release(ETHANOL, 10.0, 100.0, 0.0, dries_s)
    crest_s = at_once.crest_s(air)
    most = at_once.in_air_g(crest_s, air)
    for at_s in (100.0 + (crest_s - 100.0) * (1 - later), crest_s + span):
        assert at_once.in_air_g(at_s, air) <= most * (1 + 1e-9)


def test_a_coat_that_dries_in_a_second_is_wet_when_it_is_laid():
    """All of it is there the moment it is laid; one that is vapour at once never is."""
    assert Release(ETHANOL, 10.0, 0.0, dries_s=0.5).wet_g(0.0) == pytest.approx(10.0)
    assert Release(ETHANOL, 10.0, 0.0).wet_g(0.0) == 0.0
