"""Film to the letter: zones, worlds, mass, bounds of answers, strokes of a hand, the drawing."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from face_cases import SHELL, STRINGING, coats, exactly, face, piece, strokes
from hypothesis import given, settings
from hypothesis import strategies as st

from finishsched.film.abrading import Backing, Stroke, usual_reach
from finishsched.film.dishing import BLOCK_MM2, STROKE_MM, Beside, step_after
from finishsched.film.drawing import AIR, FILM, WOOD, Section, cross_section
from finishsched.film.face import FaceState, begin_face, enter_face
from finishsched.film.grade_steps import Change, step_between
from finishsched.film.ledger import Gauged, Ground, Laid, State, begin, run
from finishsched.film.materials import FILM as SHELLAC
from finishsched.film.materials import wood_of
from finishsched.film.odds import Stake, Stakes, somewhere
from finishsched.film.outlook import (
    coarsest_safe,
    coats_until_filled,
    filling,
    finest_that_levels,
    veneer_use,
)
from finishsched.film.solids import density_g_per_ml
from finishsched.film.species import is_pattern
from finishsched.film.stakes import stakes_of
from finishsched.film.strokes import depth_um, passes, rate_of, strokes_for
from finishsched.film.works import Terms, Used, ledger_of
from finishsched.film.worlds import WORLDS, Cause, drawn, spread
from finishsched.film.zones import EDGE_MM, PLACE_MM, zone_named, zones_of
from finishsched.model.film import Reach
from finishsched.model.grades import FEPA_UM, Grade, System, UnknownGradeError, grade_of
from finishsched.model.job import Face, Inlay, Piece
from finishsched.model.product import Product, ProductKind
from finishsched.model.ranges import NOTHING, Range
from finishsched.model.schedule import Spread, StageName, Verb
from finishsched.model.shop import Alcohol
from finishsched.model.step import Step

ALL = Stakes()
ALCOHOL = Alcohol(95.0)


def step(verb, number=1, **given_):
    """Return a step of the body."""
    return Step(number, f"k{number}", StageName.BODY, verb, "so", 1, 1, 1, 1, **given_)


def film_of(um, **ground):
    """Return a field alone with exactly so much film on it."""
    ground = Ground(**{"hollow_um": NOTHING, **ground})
    field = begin_face(zones_of(piece(sides=(150.0, 150.0))), ground).parts[:1]
    return enter_face(Gauged(exactly(um)), FaceState(field)).after


# -- zones


@pytest.mark.parametrize("count", [1, 2])
def test_zones_are_as_large_as_the_faces_make_them(count):
    """A face of 300 by 200 mm: 60,000 mm2, 1,000 mm of arris, four corners; of two, twice."""
    panel = replace(piece(), faces=(Face("sides", 300.0, 200.0, count=count),))
    field, edges, corners = zones_of(panel)
    assert field.area_mm2 == pytest.approx(60_000 * count)
    assert field.places == pytest.approx(60_000 * count / PLACE_MM**2)
    assert edges.area_mm2 == pytest.approx(1000 * count * EDGE_MM)
    assert edges.places == pytest.approx(1000 * count / PLACE_MM)
    assert corners.area_mm2 == pytest.approx(4 * count * EDGE_MM**2)
    assert corners.places == 4 * count


def test_a_face_whose_sides_are_not_known_is_taken_for_a_square():
    """Two of 0.08 m2 together are squares of 200 mm: 1,600 mm of arris."""
    panel = replace(piece(), faces=(Face("sides", stated_area_m2=0.04, count=2),))
    assert panel.area_m2 == pytest.approx(0.08)
    assert zones_of(panel)[1].places == pytest.approx(1600 / PLACE_MM)


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("at the corner", "corners"), ("the edges", "edges"), ("an arris", "edges"),
        ("in the middle", "field"), ("the shell", "shell inlay"), ("the inlay", "shell inlay"),
        ("HOLLY, by the corner", "holly inlay"),
    ],
)  # fmt: skip
def test_words_name_a_zone(words, name):
    """An inlay by its material goes before edge and corner; the first of them by the word alone."""
    assert zone_named(words, zones_of(piece(SHELL, STRINGING))).name == name
    if "inlay" in words:
        assert zone_named(words, zones_of(piece())).name == "field"


@pytest.mark.parametrize(("inlay_mm", "out_um"), [(0.3, 30.0), (0.7, 40.0)])
def test_an_inlay_is_out_by_a_tenth_and_by_no_more_than_a_veneer(inlay_mm, out_um):
    """Of 0.3 mm 0.03, of 0.7 mm the 0.04 of a veneer (our assumption)."""
    zone = zones_of(piece(Inlay("shell", inlay_mm, in_mm=0.6)))[-1]
    assert zone.thick_um == Range(
        1000 * inlay_mm - out_um, 1000 * inlay_mm, 1000 * inlay_mm + out_um
    )


@pytest.mark.parametrize(("in_mm", "proud", "low"), [(0.58, 20, 0), (0.62, 0, 20)])
def test_what_stands_a_little_proud_or_low_is_out_by_half_of_that(in_mm, proud, low):
    """Of 0.02 mm by 0.01, so that it is never taken for lying the other way (our assumption)."""
    zone = zones_of(piece(Inlay("shell", 0.6, in_mm=in_mm)))[-1]
    for found, um in ((zone.proud_um, proud), (zone.low_um, low)):
        assert [found.low, found.likely, found.high] == pytest.approx([0.5 * um, um, 1.5 * um])


@pytest.mark.parametrize(
    ("species", "several"),
    [("walnut", False), ("walnut,", False), ("and walnut", False), ("walnut / maple", True),
     ("walnut + maple", True), ("sandalwood", False)],
)  # fmt: skip
def test_a_pattern_is_more_than_one_wood(species, several):
    """A stray comma makes none, nor does a name in which the word stands."""
    assert is_pattern(species) is several


def test_seams_deepen_what_a_pattern_has_to_fill():
    """Walnut and maple together want more than walnut alone, whatever fills the pores."""
    one, two = (
        ledger_of(piece(species=species), [step(Verb.SAND, grade="P180")], Terms({}))
        for species in ("walnut", "walnut and maple")
    )
    assert two[0][1].before.relief_um.likely > one[0][1].before.relief_um.likely + 20


# -- worlds


@given(st.floats(1, 100), st.floats(0, 50), st.floats(0, 50), st.sampled_from(Cause))
def test_a_range_comes_back_from_its_worlds(likely, down, up, cause):
    """Its ends are the 5 % and 95 % points of a normal distribution on each side."""
    range_ = Range(max(0.0, likely - down), likely, likely + up)
    found = spread(drawn(range_, cause))
    assert found.likely == likely
    assert found.low == pytest.approx(range_.low, abs=0.03 * (likely - range_.low) + 1e-9)
    assert found.high == pytest.approx(range_.high, abs=0.03 * up + 1e-9)


@pytest.mark.parametrize("cause", Cause)
def test_each_cause_alone_is_normal(cause):
    """Over the worlds: mean 0, standard deviation 1, two thirds within one (textbook, cut off)."""
    values = [(one - 1000.0) / 100 * 1.645 for one in drawn(Range(900, 1000, 1100), cause)[1:]]
    assert sum(values) / WORLDS == pytest.approx(0.0, abs=1e-6)
    assert math.sqrt(sum(v * v for v in values) / WORLDS) == pytest.approx(1.0, abs=0.03)
    assert sum(abs(v) <= 1 for v in values) / WORLDS == pytest.approx(0.683, abs=0.02)


# -- mass


@given(
    st.lists(st.floats(5, 80), min_size=1, max_size=6), st.floats(0.05, 0.6), st.floats(0, 60),
    st.lists(strokes, max_size=5),
)  # fmt: skip
def test_all_that_is_laid_is_in_the_film_in_the_wood_or_gone(wets_um, solids, thirst_um, papers):
    """Coats first: what the wood did not drink is film by its solids; then each paper takes some.

    In the likely world: solids x (laid - drunk) = film left + taken - taken off the wood.
    """
    laid = [Laid(exactly(um), exactly(solids), NOTHING) for um in wets_um]
    lines = run([*laid, *papers], begin(Ground(NOTHING, exactly(thirst_um))))
    drunk_um = min(sum(wets_um), thirst_um)
    end = lines[-1].after.likely
    taken_um = sum(line.cut[0] for line in lines)
    film_um = solids * (sum(wets_um) - drunk_um)
    assert end.film_um + taken_um - end.wood_um == pytest.approx(film_um, abs=1e-6)
    assert end.thirst_um == pytest.approx(thirst_um - drunk_um, abs=1e-6)


@settings(max_examples=15)
@given(st.lists(coats, min_size=1, max_size=4), coats, strokes)
def test_each_coat_more_of_a_run_makes_a_loss_no_likelier(first, coat, stroke):
    """Coat by coat the same paper is no more likely to go through, in any zone."""
    state = face()
    for one in first:
        state = enter_face(one, state).after
    last = None
    for _ in range(3):
        state = enter_face(coat, state).after
        losses = {loss.stake: loss.odds for loss in enter_face(stroke, state).losses}
        for stake, odds in losses.items():
            assert last is None or odds <= last.get(stake, 1.0) + 1e-3
        last = losses


def test_before_any_work_nothing_is_there_and_nothing_is_gone():
    """No film, no ridges, nothing loose, nothing off the wood; the hollows as deep as stated."""
    for course in begin(Ground(exactly(30.0), exactly(20.0))).courses:
        assert course == (0.0, 30.0, 0.0, 0.0, 0.0, 20.0, 0.0, 0.0)


@pytest.mark.parametrize(
    ("margin_um", "spread_um", "places", "odds"),
    [(0.0, 0.0, 9, 0.0), (-0.1, 0.0, 9, 1.0), (0.0, 1.0, 1, 0.5), (0.0, 1.0, 2, 0.75)],
)
def test_a_place_is_gone_through_below_nothing_and_not_at_it(margin_um, spread_um, places, odds):
    """Without spread a margin of 0 holds; with it half the places lie under their middle."""
    assert somewhere(margin_um, spread_um, places) == pytest.approx(odds)


@pytest.mark.parametrize(("film_um", "drinks"), [(0.0, True), (0.1, False)])
def test_wood_on_which_a_gauge_finds_film_has_drunk(film_um, drinks):
    """No film found leaves the wood as thirsty as it was; the least film says that it is sealed."""
    start = begin(Ground(NOTHING, exactly(20.0)))
    (line,) = run([Gauged(exactly(film_um))], start)
    assert (line.after.likely.thirst_um > 0) is drinks


# -- answers


@pytest.mark.parametrize(("left_um", "filled"), [(0.0, 1), (0.4, None)])
def test_relief_is_filled_when_nothing_is_left(left_um, filled):
    """The last tenth of a micrometre still wants its coat."""
    coat = Laid(exactly(10.0), exactly(0.5), NOTHING)
    lines = run([coat, coat], begin(Ground(exactly(10.0 + left_um))))
    assert filling(lines).likely == filled


@pytest.mark.parametrize(
    ("verb", "stage", "reach"),
    [
        (Verb.CUT_BACK, StageName.BODY, Reach.CUT_BACK),
        (Verb.CUT_BACK, StageName.SEAL, Reach.CUT_BACK),
        (Verb.LEVEL, StageName.BODY, Reach.LEVEL),
        (Verb.LEVEL, StageName.SEAL, Reach.SCUFF),
    ],
)
def test_a_verb_of_its_own_reach_goes_that_far_at_every_stage(verb, stage, reach):
    """Cutting back is cutting back on a seal too; a levelling there is a scuff."""
    assert usual_reach(verb, stage) is reach


@pytest.mark.parametrize(
    ("text", "near"),
    [("P410", "P360 and P400"), ("P9000", "P3000 and P5000"), ("P1", "P40 and P50")],
)
def test_a_number_that_is_no_grade_is_told_with_its_neighbours(text, near):
    """The two nearest of the system that was meant, the coarser first."""
    with pytest.raises(UnknownGradeError) as caught:
        grade_of(text)
    assert str(caught.value) == f"there is no grade {text}; the nearest are {near}"
    with pytest.raises(UnknownGradeError, match=r"the nearest are CAMI \d+ and CAMI \d+$"):
        grade_of("CAMI 333")


def worn(um):
    """Return veneer of 600 um of which exactly so much is gone."""
    start = begin(Ground(NOTHING, veneer_um=600.0))
    return State(
        tuple(course._replace(wood_um=um) for course in start.courses), start.film_share, 600.0
    )


@pytest.mark.parametrize(
    ("gone_um", "warn", "stop"),
    [(179.9, False, False), (180.0, True, False), (299.9, True, False), (300.0, True, True)],
)
def test_veneer_warns_at_30_percent_itself_and_stops_at_50(gone_um, warn, stop):
    """Of 600 um: 180 and 300 (common practice)."""
    use = veneer_use(worn(gone_um))
    assert (use.warn, use.stop) == (warn, stop)


def test_relief_takes_a_coat_at_a_time():
    """Coats of 3 um fill 9 um in three, 9.1 um in four; what is filled already wants none."""
    coat = Laid(exactly(30.0), exactly(0.1), NOTHING)
    assert coats_until_filled(coat, begin(Ground(exactly(9.0)))) == 3
    assert coats_until_filled(coat, begin(Ground(exactly(9.1)))) == 4
    assert coats_until_filled(coat, begin(Ground(NOTHING))) == 0
    # Sixty of them are as far as anybody looks.
    assert coats_until_filled(coat, begin(Ground(exactly(180.0)))) == 60
    assert coats_until_filled(coat, begin(Ground(exactly(180.1)))) is None


def test_a_grade_exactly_as_safe_as_is_asked_is_safe():
    """The odds that a grade has are enough to allow it, and anything under them is not."""
    stroke, film = Stroke(grade_of("P400"), Reach.LEVEL), film_of(40.0)
    found = coarsest_safe(stroke, film, 0.05, ALL)
    coarser = Stroke(
        grade_of(f"P{max(n for n in FEPA_UM if n < int(found.name[1:]))}"), Reach.LEVEL
    )
    odds = enter_face(coarser, film).worst.odds
    assert odds > 0.05
    assert coarsest_safe(stroke, film, odds, ALL).name == coarser.grade.name
    assert coarsest_safe(stroke, film, odds * (1 - 1e-9), ALL) == found


@pytest.mark.parametrize(("ridged_um", "name"), [(0.9, None), (5.0, "P1500"), (2000.0, "P40")])
def test_the_finest_that_levels_has_grain_for_the_ridges(ridged_um, name):
    """Grain of 2.5 times the ridges (our assumption): 5 um want 12.5, and P1500 has 12.6.

    Flat ones want no paper, and over the coarsest grade there is none.
    """
    ridged = Laid(exactly(10 * ridged_um), exactly(0.2), exactly(0.5))
    film = enter_face(ridged, film_of(0.0)).after
    found = finest_that_levels(film)
    if name is None:
        assert found is None
        return
    ridges_um = film.likely.ridges_um
    assert ridges_um == pytest.approx(ridged_um)
    assert found.name == name


@pytest.mark.parametrize(
    ("before", "after", "change"),
    [
        ("P80", "P120", Change.GOOD), ("P80", "P150", Change.WIDE), ("P80", "P180", Change.SKIPPED),
        ("P120", "P180", Change.GOOD), ("P120", "P240", Change.SKIPPED),
        ("P400", "0 wool", Change.REVERSED),
    ],
)  # fmt: skip
def test_a_step_at_its_bounds(before, after, change):
    """1.6 is good and 2.0 the widest (printed step rule), with a hair for rounded tables."""
    assert step_between(grade_of(before), grade_of(after)).change is change


@pytest.mark.parametrize(
    ("after_um", "change"),
    [
        (100 / 1.6, Change.GOOD), (100 / 1.7, Change.WIDE), (50.0, Change.WIDE),
        (49.6, Change.WIDE), (49.0, Change.SKIPPED), (100.0, Change.SAME), (105.0, Change.REVERSED),
    ],
)  # fmt: skip
def test_a_ratio_at_its_bounds(after_um, change):
    """From 100 um on: 1.6, 2.0 and a hundredth more, and back again."""
    before, after = (Grade(f"{um} um", System.NONE, um) for um in (100.0, after_um))
    assert step_between(before, after).change is change


@pytest.mark.parametrize(
    ("name", "words"), [("P400", "ISO 6344"), ("CAMI 400", "ANSI B74.18"), ("0000 wool", "rough")]
)
def test_each_system_names_its_own_source(name, words):
    """A grain size says whose it is."""
    assert words in grade_of(name).source


@pytest.mark.parametrize(
    ("stands_um", "cut_um", "after_um"), [(30.0, 10.0, 0.0), (-30.0, 10.0, -30.0), (30.0, 0.0, 0.0)]
)
def test_an_inlay_as_hard_as_the_field_comes_level_and_stays_low(stands_um, cut_um, after_um):
    """Paper takes what stands proud, and leaves what lies low until the field has come down."""
    alike = Beside(0.5, 0.5, 5.0, 500.0)
    assert step_after(alike, Backing.HARD, stands_um, cut_um) == after_um
    harder = Beside(0.1, 0.5, 5.0, 500.0)
    assert step_after(harder, Backing.HARD, stands_um, 0.0) == stands_um


# -- what lies on the wood


@pytest.mark.parametrize(
    ("product", "density"),
    [
        (Product("x", "X", ProductKind.OIL), 0.93),
        (Product("x", "X", ProductKind.OIL, density_g_per_ml=0.97), 0.97),
        (Product("x", "X", ProductKind.ALCOHOL), 0.811),
    ],
)
def test_a_coat_is_as_dense_as_its_document_says_or_its_kind(product, density):
    """Its own figure, then its kind's, then alcohol's: 95 %vol at 20 degC 0.811 (OIML R 22)."""
    found = density_g_per_ml(product, None, ALCOHOL)
    assert found == pytest.approx(density, abs=0.001)


@pytest.mark.parametrize(
    ("kind", "at_stake"),
    [(ProductKind.FILLER, True), (None, True), (ProductKind.GLUE, False)],
)
def test_pores_once_filled_can_be_gone_through_again(kind, at_stake):
    """From the step after the filling on the filler is at stake, and not before it."""
    products = {"f": Product("f", "F", kind)} if kind else {}
    steps = [
        step(Verb.SAND, 1, grade="P180"),
        step(Verb.FILL, 2, product="f" if kind else None),
        step(Verb.LEVEL, 3, grade="P320"),
    ]
    found = stakes_of([None] * 3, steps, products, piece())
    assert [Stake.FILLER in one.under for one in found] == [False, False, at_stake]


@pytest.mark.parametrize(
    ("verb", "kind", "at_stake"),
    [
        (Verb.STAIN, ProductKind.STAIN, True), (Verb.BRUSH, ProductKind.DYE, True),
        (Verb.TONE, ProductKind.LACQUER, True), (Verb.BRUSH, ProductKind.VARNISH, False),
    ],
)  # fmt: skip
def test_colour_once_laid_can_be_gone_through(verb, kind, at_stake):
    """Stain, dye and toner leave colour under what follows; a clear coat leaves none."""
    steps = [step(verb, 1, product="c"), step(Verb.LEVEL, 2, grade="P320")]
    found = stakes_of([None] * 2, steps, {"c": Product("c", "C", kind)}, piece())
    assert [Stake.COLOUR in one.under for one in found] == [False, at_stake]


def test_what_reaches_the_surface_is_what_was_used_less_what_a_pad_loses():
    """Its range is the range of the losses turned round: the least lost leaves the most."""
    pad = step(Verb.PAD, product="v", spread=Spread(ml_per_m2=20.0))
    varnish = Product("v", "V", ProductKind.VARNISH, volume_solids_percent=50.0)
    panel = Piece("p", "P", "any", (Face("top", 1000.0, 1000.0),), "maple")
    does = Verb.PAD.does
    ((_, line),) = ledger_of(
        panel, [pad], Terms({"v": varnish}, used={pad.key: Used(exactly(100.0))})
    )
    likely, wet = line.after.likely, 100.0
    assert likely.film_um + 0.5 * min(wet, line.before.likely.thirst_um) == pytest.approx(
        0.5 * wet * (1 - does.lost_share)
    )
    assert line.work.wet_um.low == pytest.approx(wet * (1 - does.most_lost_share))
    assert line.work.wet_um.high == pytest.approx(wet * (1 - does.least_lost_share))


# -- strokes


@given(st.floats(0.5, 3000), st.sampled_from([SHELLAC, wood_of("maple")]), st.booleans())
def test_strokes_for_a_depth_take_that_depth(count, material, wet):
    """Reckoned there and back it is the same count."""
    deep = depth_um(material, grade_of("P400"), count, 60_000.0, wet=wet)
    again = strokes_for(material, grade_of("P400"), deep, 60_000.0, wet=wet)
    assert again == pytest.approx(count, rel=1e-6)


def test_paper_dulls_and_wet_paper_lasts():
    """The first ten strokes take the most; on film 200 take more wet than dry, ten take less."""
    grade, area = grade_of("P400"), 60_000.0
    ten, hundred = (depth_um(SHELLAC, grade, n, area) for n in (10, 100))
    assert ten < hundred < 10 * ten
    assert depth_um(SHELLAC, grade, 10, area, wet=True) < ten
    assert depth_um(SHELLAC, grade, 200, area, wet=True) > depth_um(SHELLAC, grade, 200, area)
    # Worked from the formula: fresh paper, ten strokes of 150 mm under 10 N over 60,000 mm2.
    g = min(1.0, grade.grain_um / 100) ** 0.6
    run_m, x0_m = 1.5, 10.0
    path_m = 0.3 * run_m + 0.7 * x0_m * (1 - math.exp(-run_m / x0_m))
    assert ten == pytest.approx(1000 * 0.59 * g * 10 * path_m / area)
    x0_m = 40.0
    path_m = 0.3 * run_m + 0.7 * x0_m * (1 - math.exp(-run_m / x0_m))
    wet = depth_um(SHELLAC, grade, 10, area, wet=True)
    assert wet == pytest.approx(0.8 * 1000 * 0.59 * g * 10 * path_m / area)


def test_strokes_go_over_a_face_so_often():
    """A block of 50 cm2 over 150 mm covers 70.7 by 150 mm; a smaller face counts as that."""
    one = math.sqrt(BLOCK_MM2) * STROKE_MM
    assert passes(12, 4 * one) == pytest.approx(3.0)
    assert passes(12, one / 2) == pytest.approx(12.0)


@given(st.lists(st.floats(0.2, 5), max_size=20))
def test_a_hand_s_tests_bring_its_rate_between_the_model_and_them(ratios):
    """No test leaves 1 within the spread; each test narrows, and the middle stays among them."""
    found = rate_of(ratios, 4.0)
    assert found.tests == len(ratios)
    around = [1.0, *ratios]
    assert min(around) * (1 - 1e-9) <= found.factor.likely <= max(around) * (1 + 1e-9)
    wider = rate_of(ratios[:-1], 4.0).factor
    assert found.factor.high / found.factor.low <= wider.high / wider.low * (1 + 1e-9)
    if not ratios:
        assert found.factor == Range(0.25, 1.0, pytest.approx(4.0))


# -- drawing


def test_the_hollow_is_drawn_in_the_middle_a_quarter_wide():
    """Of 40 signs ten in the middle are hollow; ground stands as wide on either side of them."""
    lines = cross_section(Section(0.0, 100.0, 100.0, 100.0, None), 60, 12, "{:.0f} um".format)
    top = next(line for line in lines if WOOD in line)
    columns = 60 - len("  to fill 100 um") - 1
    row = top[:columns]
    hollow = columns // 4
    left = (columns - hollow) // 2
    assert row == WOOD * left + AIR * hollow + WOOD * (columns - hollow - left)


def test_film_and_hollow_share_the_height_by_their_depth():
    """Film half as thick as the hollow is deep takes a third of the rows, the hollow two."""
    lines = cross_section(Section(50.0, 100.0, 100.0, 100.0, None), 60, 12, "{:.0f} um".format)
    side = [line[0] for line in lines]
    above = 12 - 12 // 3
    assert side.count(AIR) == 1
    film, wood = side.count(FILM), side[:above].count(WOOD)
    assert film + wood == above - 1
    assert film == pytest.approx((above - 1) / 3, abs=1)
