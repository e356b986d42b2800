"""Laws of a face: nothing grows by sanding, edges go first, hard stands out, low is not touched."""

from dataclasses import replace

import pytest
from face_cases import PATCH, SEAM, SHELL, STRINGING, coats, exactly, face, grades, piece, strokes
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from finishsched.film.abrading import Backing, Stroke, bite_of
from finishsched.film.dishing import Beside, step_after
from finishsched.film.face import Measured, enter_face, run_face
from finishsched.film.ledger import SEAL_UM, Gauged
from finishsched.film.odds import Stake, Stakes, somewhere
from finishsched.film.outlook import nearest
from finishsched.film.spots import LetIn
from finishsched.film.strokes import strokes_for
from finishsched.film.zones import backing_of, is_light, patch_of, zones_of
from finishsched.model.film import Reach
from finishsched.model.grades import grade_of
from finishsched.model.job import Inlay
from finishsched.model.ranges import Range

FEW = settings(max_examples=25)


def _run(works, start):
    return run_face(works, start, [Stakes()] * len(works))


@FEW
@given(st.lists(coats | strokes | st.none(), max_size=8))
def test_nothing_grows_by_sanding_and_every_range_is_in_order(works):
    """In every zone neither film nor ground grows under paper, and no film is below 0."""
    for line in _run(works, face(SHELL, STRINGING, PATCH, SEAM)):
        for before, after in zip(line.before.parts, line.after.parts, strict=True):
            film, left = after.state.film_um, after.left_um
            assert 0 <= film.low <= film.likely <= film.high
            assert 0 <= left.low <= left.likely <= left.high
            if isinstance(line.work, Stroke):
                pairs = zip(before.state.courses, after.state.courses, strict=True)
                for early, late in pairs:
                    assert late.film_um <= early.film_um
                    assert late.wood_um >= early.wood_um
        steps = line.after.steps_um()
        assert line.after.likely_steps_um() == {name: um.likely for name, um in steps.items()}
        for loss in line.losses:
            assert -1e-9 <= loss.zone_odds <= loss.odds + 1e-9 <= 1 + 2e-9


@FEW
@given(st.lists(strokes, min_size=1, max_size=6))
def test_bare_wood_has_no_film(works):
    """Sanding alone lays none, and there is none to cut through."""
    for line in _run(works, face(SHELL)):
        assert line.odds is None
        assert all(part.state.film_um.high == 0 for part in line.after.parts)


@FEW
@given(st.lists(coats | strokes, max_size=5), coats, strokes)
def test_more_coats_never_raise_the_odds(works, coat, stroke):
    """One coat more before a levelling makes no loss likelier there, in any zone, of any kind."""
    lines = _run(works, face())
    before = lines[-1].after if lines else face()
    # Where a zone has no film yet there is none to cut through, and the first coat is one.
    assume(all(part.state.likely.film_um >= SEAL_UM for part in before.parts) or not lines)
    without = {loss.stake: loss.odds for loss in enter_face(stroke, before).losses}
    more = enter_face(coat, before).after
    for loss in enter_face(stroke, more).losses:
        if loss.stake in without:
            assert loss.odds <= without[loss.stake] + 1e-3


def test_odds_of_a_face_count_its_places():
    """Worked from the formula: 20 um at P600, r = 2 +- 1 um, 100 places 34 %; at P1500 1.6 %."""
    for grain_um, percent in ((25.8, 34), (12.6, 1.6)):
        margin_um = 20 - (2 + 0.2 * grain_um)
        spread_um = ((0.2 * 20) ** 2 + 1 + (0.1 * grain_um) ** 2) ** 0.5
        assert 100 * somewhere(margin_um, spread_um, 100) == pytest.approx(percent, rel=0.06)
    assert somewhere(50.0, 5.0, 100) < somewhere(12.84, 4.86, 1) * 100


@pytest.mark.parametrize(
    ("words", "backing"),
    [
        ("hard block, with the grain", Backing.HARD),
        ("cork block", Backing.CORK),
        ("block", Backing.WORKED),
        ("by hand, two strokes", Backing.FINGERS),
        ("cork block, off the edges", Backing.KEPT_OFF),
    ],
)
def test_words_say_what_is_behind_the_paper(words, backing):
    """Where they do not, a plain block is taken."""
    assert backing_of(words) is backing


def test_edges_go_before_the_field_and_corners_before_edges():
    """Sanding by a block is likelier to go through at the edge, most at the corner."""
    line = enter_face(Stroke(grade_of("P60"), None), face(veneer_mm=0.4))
    taken = [part.state.likely.wood_um for part in line.after.parts]
    assert taken == sorted(taken)
    assert taken[1] / taken[0] == pytest.approx(2.2)
    assert line.losses[0].stake is Stake.VENEER
    assert line.losses[0].zone == "corners"


def test_a_proud_stringing_comes_down_and_a_low_shell_is_not_touched():
    """Holly 0.1 mm proud is level after P120; shell 0.3 mm low keeps all its own."""
    start = face(SHELL, STRINGING)
    steps = start.steps_um()
    assert steps["holly inlay"].likely == pytest.approx(100)
    assert steps["shell inlay"].likely == pytest.approx(-300)
    line = enter_face(Stroke(grade_of("P120"), None, backing=Backing.HARD), start)
    assert abs(line.after.steps_um()["holly inlay"].likely) < 1
    holly = next(part for part in line.after.parts if part.zone.name == "holly inlay")
    shell = next(part for part in line.after.parts if part.zone.name == "shell inlay")
    assert holly.state.likely.wood_um == pytest.approx(162.5, abs=1)
    assert shell.state.likely.wood_um == 0
    assert not line.after.is_level
    assert line.after.steps_um()["shell inlay"].likely == pytest.approx(-237.5)


def test_no_hand_takes_a_proud_shell_down_with_paper():
    """0.3 mm of shell stands after P120 almost as before: it wants a file or a scraper first."""
    proud = Inlay("shell", 0.9, in_mm=0.6, area_m2=2000e-6, width_mm=20.0)
    line = enter_face(Stroke(grade_of("P120"), None, backing=Backing.HARD), face(proud))
    assert line.after.steps_um()["shell inlay"].likely > 250


def test_film_over_what_stands_proud_goes_first():
    """Of 40 um levelled over a shell 20 um proud, the film on the shell goes first."""
    proud = Inlay("shell", 0.62, in_mm=0.6, area_m2=400e-6, width_mm=10.0)
    film = enter_face(Gauged(Range(38, 40, 42)), face(proud)).after
    line = enter_face(Stroke(grade_of("P600"), Reach.LEVEL, backing=Backing.KEPT_OFF), film)
    loss = next(loss for loss in line.losses if loss.stake is Stake.FILM)
    assert loss.zone == "shell inlay"
    beside = enter_face(
        Stroke(grade_of("P600"), Reach.LEVEL, backing=Backing.KEPT_OFF),
        enter_face(Gauged(Range(38, 40, 42)), face()).after,
    )
    assert loss.odds > (beside.odds or 0.0)


@given(
    st.floats(0.02, 6), st.floats(0.02, 6), st.floats(1, 30), st.sampled_from(Backing),
    st.floats(0, 200), st.floats(0.1, 100), st.floats(0.1, 100),
)  # fmt: skip
def test_soft_beside_hard_never_ends_higher_for_more_sanding(
    one, other, width_mm, backing, stands_um, cut_um, more_um
):
    """A step from level never shrinks under one tool, and is no more than its cap."""
    beside = Beside(min(one, other), max(one, other), width_mm, 500.0)
    short, long = (step_after(beside, backing, 0.0, um) for um in (cut_um, cut_um + more_um))
    assert -1e-9 <= short <= long + 1e-9
    assert long <= (1 - beside.inlay_wear / beside.field_wear) * (cut_um + more_um) + 1e-9
    # The inlay itself never grows: it stands out by no more than before and what the field lost.
    assert step_after(beside, backing, stands_um, cut_um) <= stands_um + cut_um + 1e-9


@FEW
@given(grades, st.sampled_from(Backing), st.integers(1, 5), st.sampled_from(["shell", "brass"]))
def test_the_wood_beside_a_hard_inlay_never_ends_higher_for_more_sanding(
    grade, backing, papers, material
):
    """On a whole face: laid in level, the inlay stands out no less after every paper more."""
    state = face(Inlay(material, 0.6, in_mm=0.6, area_m2=400e-6, width_mm=10.0))
    stood_um = 0.0
    for _ in range(papers):
        state = enter_face(Stroke(grade, None, backing=backing), state).after
        (step_um,) = state.likely_steps_um().values()
        assert step_um >= stood_um - 1e-9
        stood_um = step_um


@pytest.mark.parametrize(
    ("backing", "end_um"),
    [(Backing.HARD, 0.035), (Backing.CORK, 2.7), (Backing.FINGERS, 90.0)],
)
def test_the_step_between_maple_and_shell(backing, end_um):
    """5 mm parts at 2 kPa, a fifth of them hard: worked from the formula, sanded without end."""
    beside = Beside(0.048, 1.6, 5.0, 500.0)
    assert step_after(beside, backing, 0.0, 1e6) == pytest.approx(end_um, rel=0.1)


def test_a_measured_thickness_goes_before_the_stated_one():
    """0.42 mm found at the edges is what is left there, and changes nothing in the field."""
    sanded = enter_face(Stroke(grade_of("P120"), None), face()).after
    after = enter_face(Measured("edges", exactly(420.0)), sanded).after
    assert after.parts[1].left_um == exactly(pytest.approx(420.0))
    assert after.parts[0].left_um == sanded.parts[0].left_um
    field = enter_face(Measured("field", exactly(500.0)), sanded).after
    gone = sanded.parts[1].state.likely.wood_um - sanded.parts[0].state.likely.wood_um
    assert field.parts[1].left_um.likely == pytest.approx(500.0 - gone)


def test_an_inlay_stands_as_thick_as_it_is():
    """Thicker than the veneer beside it: proud; thinner: low; or as stated."""
    assert SHELL.low_um == pytest.approx(300)
    assert STRINGING.proud_um == pytest.approx(100)
    stated = Inlay("shell", 0.3, in_mm=0.6, stated_proud_mm=0.02)
    assert (stated.proud_um, stated.low_um) == (pytest.approx(20), 0)
    assert [zone.name for zone in zones_of(piece(SHELL))][-1] == "shell inlay"


@pytest.mark.parametrize(
    ("words", "spared", "light"),
    [
        ("block, off the edges", True, False),
        ("edges first, lightly, then the face", True, True),
        ("edges last", True, False),
        ("light, with the grain, edges once", True, True),
        ("keep away from the arrises", True, False),
        ("not on the corners", True, False),
        ("a few light strokes", False, True),
        ("two or three passes by hand", False, True),
        ("dull the edges well", False, False),
        ("hard block, till it is flat", False, False),
        ("", False, False),
    ],
)
def test_a_step_says_that_edges_are_spared_and_that_a_hand_is_light(words, spared, light):
    """In the words that people write; the remedy is not told to who does so already."""
    assert (backing_of(words) is Backing.KEPT_OFF, is_light(words)) == (spared, light)


def test_a_light_hand_takes_less_in_a_scuff_and_the_same_in_a_levelling():
    """By its force, 4 N for 10 (Preston, 1927, from memory)."""
    paper = grade_of("P320")
    for reach, share in ((Reach.SCUFF, 0.4), (Reach.LEVEL, 1.0)):
        light, usual = (bite_of(Stroke(paper, reach, light=one)) for one in (True, False))
        assert light.likely == pytest.approx(share * usual.likely)


@given(grades)
def test_an_edge_kept_off_takes_less_than_one_rubbed_by_fingers(grade):
    """In the likely world, whatever the grade."""
    taken = []
    for backing in (Backing.KEPT_OFF, Backing.HARD, Backing.WORKED, Backing.FINGERS):
        line = enter_face(Stroke(grade, None, backing=backing), face())
        taken.append(line.after.parts[1].state.likely.wood_um)
    assert taken == sorted(taken)


def test_what_stands_proud_at_a_patch_or_a_seam_goes_first_and_ends_level():
    """Both lose more than the field beside them, what stands up and its own share; then no more."""
    line = enter_face(Stroke(grade_of("P180"), None, backing=Backing.HARD), face(PATCH, SEAM))
    field, *_, patch, seam = line.after.parts
    taken = [part.state.likely.wood_um for part in (field, patch, seam)]
    assert taken[1] == pytest.approx(taken[0] + 150, abs=1)
    assert taken[2] == pytest.approx(taken[0] + 30, abs=1)
    assert line.after.is_level
    assert not face(PATCH).is_level


def test_veneer_is_what_goes_through_at_a_patch_or_a_seam():
    """They are of the face's own wood, not inlays: their loss is named veneer, and bears stain."""
    thin = replace(PATCH, thickness_mm=0.05, in_mm=0.05)
    work = Stroke(grade_of("P40"), None, backing=Backing.HARD)
    losses = enter_face(work, face(thin), Stakes(frozenset((Stake.COLOUR,)))).losses
    assert {loss.stake for loss in losses} == {Stake.VENEER, Stake.COLOUR}
    assert any(loss.zone == "patch" for loss in losses)


def test_a_patch_let_in_is_new_wood_as_thick_as_the_veneer_beside_it():
    """What was sanded off the field before is not counted on it; from then on it wears with it."""
    sanded = enter_face(Stroke(grade_of("P120"), None, backing=Backing.HARD), face()).after
    zone = patch_of(piece(), 1, 1e-4)
    let_in = enter_face(LetIn(zone), sanded).after
    patch = let_in.parts[-1]
    assert patch.zone.name == "patch 1"
    assert patch.state.likely.wood_um == 0
    assert patch.left_um == let_in.parts[0].left_um
    after = enter_face(Stroke(grade_of("P240"), None, backing=Backing.HARD), let_in).after
    assert after.parts[-1].left_um.likely == pytest.approx(after.parts[0].left_um.likely)


def test_what_bare_sanding_takes_is_wood():
    """Of what it took off the field all is wood where no film lay, and none where film is left."""
    work = Stroke(grade_of("P240"), None, backing=Backing.WORKED)
    line = enter_face(work, face())
    assert line.wood_um.likely > 0
    assert line.wood_um.likely == pytest.approx(line.taken_um.likely)
    film = enter_face(Gauged(exactly(60.0)), face()).after
    levelled = enter_face(replace(work, reach=Reach.LEVEL), film)
    assert levelled.taken_um.likely > levelled.wood_um.likely == 0.0


def test_a_hardness_that_the_maker_knows_goes_before_the_table():
    """Twice as hard wears half as fast: K is 10,000 over the side hardness in N."""
    soft = zones_of(replace(piece(species="quince"), hardness_n=2500.0))[0].material
    hard = zones_of(replace(piece(species="quince"), hardness_n=5000.0))[0].material
    assert (soft.wear_mm3_per_nm, hard.wear_mm3_per_nm) == (4.0, 2.0)
    (*_, inlay) = zones_of(piece(replace(STRINGING, hardness_n=2500.0)))
    assert inlay.material.wear_mm3_per_nm == 4.0


def test_bare_veneer_names_the_zone_that_is_nearest_though_nothing_likely_goes():
    """One paper on a sound veneer: at the corners the fewest such cuts are left, else the field."""
    line = enter_face(Stroke(grade_of("P180"), None, backing=Backing.WORKED), face(SHELL))
    assert line.losses == ()
    bearing = nearest(line)
    assert (bearing.loss.stake, bearing.loss.zone) == (Stake.VENEER, "corners")
    assert (bearing.loss.odds, bearing.loss.zone_odds) == (0.0, 0.0)
    kept_off = enter_face(Stroke(grade_of("P180"), None, backing=Backing.KEPT_OFF), face())
    assert nearest(kept_off).loss.zone == "field"


@pytest.mark.parametrize("species", ["walnut", "maple"])
@pytest.mark.parametrize("kind", ["shell", "holly"])
def test_a_scuff_takes_off_a_bare_inlay_as_much_less_as_it_is_harder(kind, species):
    """Where it stands proud of bare wood; what is softer than the wood gives no more than it."""
    proud = Inlay(kind, 0.62, in_mm=0.6, area_m2=400e-6, width_mm=10.0)
    work = Stroke(grade_of("P600"), Reach.SCUFF, backing=Backing.HARD)
    field, *_, inlay = enter_face(work, face(proud, species=species)).after.parts
    softer = inlay.zone.material.wear_mm3_per_nm / inlay.field_wear
    wood_um = field.state.likely.wood_um
    assert inlay.state.likely.wood_um == pytest.approx(wood_um * min(1.0, softer))


@pytest.mark.parametrize(
    ("reach", "stake"), [(Reach.LEVEL, Stake.FILM), (Reach.CUT_BACK, Stake.VENEER)]
)
def test_of_film_that_is_cut_back_nothing_is_lost(reach, stake):
    """It is meant to go, so the veneer under it counts; levelling would lose the film itself."""
    film = enter_face(Gauged(Range(4, 5, 6)), face()).after
    work = Stroke(grade_of("P240"), reach, backing=Backing.HARD)
    line = enter_face(work, film, Stakes(lost=frozenset((Stake.VENEER,))))
    assert nearest(line).loss.stake is stake


def test_what_the_nearest_zone_bears_is_what_lies_there():
    """At the corners veneer and film; the strokes for it are in order, low to high."""
    film = enter_face(Gauged(Range(38, 40, 42)), face()).after
    line = enter_face(Stroke(grade_of("P180"), None, backing=Backing.WORKED), film)
    bearing = nearest(line)
    there = next(part for part in film.parts if part.zone.name == bearing.loss.zone)
    of_ground = bearing.loss.stake is Stake.VENEER
    below = there.left_um if of_ground else Range(0, 0, 0)
    assert bearing.bears_um == there.state.film_um + below
    assert 0 < bearing.strokes.low <= bearing.strokes.likely <= bearing.strokes.high


def test_the_strokes_that_a_zone_bears_run_from_the_fast_hand_to_the_slow_one():
    """The least lies under a hand that takes the most, the most under one that takes the least."""
    line = enter_face(Stroke(grade_of("P180"), None, backing=Backing.WORKED), face())
    strokes = nearest(line).strokes
    assert strokes.low < strokes.likely < strokes.high


def test_what_is_measured_in_a_zone_that_is_not_there_changes_nothing():
    """A figure for a shell that the face has not leaves every zone as it was."""
    before = face(STRINGING)
    assert enter_face(Measured("shell inlay", exactly(300.0)), before).after == before


def test_a_zone_that_is_pressed_harder_bears_so_many_strokes_less():
    """The corners of bare veneer, as if so much less veneer lay in the field: by the same count."""
    line = enter_face(Stroke(grade_of("P180"), None, backing=Backing.WORKED), face())
    bearing, field = nearest(line), line.before.parts[0].zone
    corners = next(part.zone for part in line.before.parts if part.zone.name == bearing.loss.zone)
    harder = corners.presses(Backing.WORKED).likely
    assert harder > 1.5
    as_deep_um = bearing.bears_um.likely / harder
    count = strokes_for(corners.material, grade_of("P180"), as_deep_um, field.area_mm2, wet=False)
    assert bearing.strokes.likely == pytest.approx(count)


def test_bare_solid_wood_bears_everything_but_its_inlay():
    """Nothing goes through where there is no veneer; a thin inlay does."""
    work = Stroke(grade_of("P180"), None, backing=Backing.HARD)
    assert nearest(enter_face(work, face(veneer_mm=None))) is None
    loss = nearest(enter_face(work, face(STRINGING, veneer_mm=None))).loss
    assert (loss.stake, loss.zone) == (Stake.INLAY, "holly inlay")


def test_an_inlay_of_wood_takes_stain_and_shell_does_not():
    """What colour may be lost lies on wood; the pores of no inlay were filled."""
    film = enter_face(Gauged(exactly(20.0)), face(SHELL, STRINGING)).after
    work = Stroke(grade_of("P240"), Reach.LEVEL, backing=Backing.FINGERS)
    line = enter_face(work, film, Stakes(under=frozenset((Stake.COLOUR, Stake.FILLER))))
    zones = {loss.stake: {name for name, _ in loss.by_zone} for loss in line.losses}
    assert "holly inlay" in zones[Stake.COLOUR]
    assert "shell inlay" not in zones[Stake.COLOUR]
    assert not {"holly inlay", "shell inlay"} & zones[Stake.FILLER]
