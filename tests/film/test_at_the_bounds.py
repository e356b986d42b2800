"""Film to the letter: zones, bounds of answers, what lies on the wood."""

from __future__ import annotations

from dataclasses import replace

import pytest
from face_cases import SHELL, STRINGING, exactly, piece

from finishsched.film.abrading import Backing, Stroke, usual_reach
from finishsched.film.dishing import Beside, hand_takes_um, step_after
from finishsched.film.face import FaceState, begin_face, enter_face
from finishsched.film.grade_steps import Change, step_between
from finishsched.film.ledger import Gauged, Ground, Laid, begin, run
from finishsched.film.odds import Stake, Stakes
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
from finishsched.film.works import Terms, Used, ledger_of
from finishsched.film.worlds import column
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
    return replace(start, worlds=start.worlds._replace(wood_um=column(um)))


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
    # Half a micrometre off the field is no nothing: what is harder stands out by some of it.
    assert step_after(harder, Backing.HARD, 0.0, 0.5) > 0


@pytest.mark.parametrize(("cutting", "um"), [(1.0, 30.0), (0.5, 15.0)])
def test_what_a_hand_takes_off_an_inlay_is_preston_s_law(cutting, um):
    """By hand: 0.1 mm3/Nm under 10 N, 100 strokes of 150 mm, off 500 mm2; half as fine, half."""
    assert hand_takes_um(Beside(0.1, 0.5, 5.0, 500.0), cutting, 100.0) == pytest.approx(um)


# -- what lies on the wood


@pytest.mark.parametrize(
    ("product", "density"),
    [
        (Product("x", "X", ProductKind.OIL), 0.93),
        (Product("x", "X", ProductKind.OIL, density_g_per_ml=0.97), 0.97),
        (Product("x", "X", ProductKind.ALCOHOL), 0.811),
        (Product("x", "X", ProductKind.FLAKES), (0.811 + 0.24) / (1 + 0.24 / 1.2)),
    ],
)
def test_a_coat_is_as_dense_as_its_document_says_or_its_kind(product, density):
    """Its own figure, then its kind's, then alcohol's: 95 %vol at 20 degC 0.811 (OIML R 22).

    Flakes of 240 g to a litre of it take up 200 ml (by hand).
    """
    found = density_g_per_ml(product, 240.0, ALCOHOL)
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


@pytest.mark.parametrize(("anew", "lost"), [(True, False), (False, True)])
def test_colour_that_lies_open_and_is_laid_again_is_no_loss(anew, lost):
    """Dye is sanded back to be dyed once more (common practice); without the dye it is lost."""
    again = [step(Verb.STAIN, 3, product="c")] if anew else []
    film = step(Verb.BRUSH, 4, product="v")
    steps = [step(Verb.STAIN, 1, product="c"), step(Verb.SAND, 2, grade="P240"), *again, film]
    kinds = {"c": ProductKind.STAIN, "v": ProductKind.VARNISH}
    products = {name: Product(name, name, kind) for name, kind in kinds.items()}
    found = stakes_of([None] * len(steps), steps, products, piece())
    assert (Stake.COLOUR in found[1].lost) is lost


def test_colour_under_a_film_is_lost_though_a_glaze_follows():
    """What lies over the film gives the wood its colour not back."""
    steps = [
        step(Verb.STAIN, 1, product="c"),
        step(Verb.BRUSH, 2, product="v"),
        step(Verb.LEVEL, 3, grade="P320"),
        step(Verb.STAIN, 4, product="c"),
    ]
    kinds = {"c": ProductKind.STAIN, "v": ProductKind.VARNISH}
    products = {name: Product(name, name, kind) for name, kind in kinds.items()}
    assert Stake.COLOUR in stakes_of([None] * 4, steps, products, piece())[2].lost


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
