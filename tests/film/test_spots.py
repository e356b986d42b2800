"""Spots of a face that are mended by themselves: what lies there, and what reaches them."""

from dataclasses import replace

import pytest
from face_cases import SHELL, coats, exactly, face, piece, strokes
from hypothesis import given, settings
from hypothesis import strategies as st

from finishsched.film.abrading import Backing, Stroke
from finishsched.film.face import Stands, enter_face, run_face, taken_in
from finishsched.film.ledger import Gauged, Ground, Laid
from finishsched.film.odds import Stake, Stakes
from finishsched.film.outlook import level_from
from finishsched.film.spots import FilledUp, LetIn, OnSpot, Spotted
from finishsched.film.zones import patch_of, spot_of, zones_of
from finishsched.model.film import Reach
from finishsched.model.grades import grade_of
from finishsched.model.ranges import NOTHING, Range

FEW = settings(max_examples=25)
SPOT = spot_of(piece(), 1, 1e-4)
AT_EDGE = spot_of(piece(), 1, 1e-4, "the top edge")
DAB = Laid(exactly(60.0), exactly(0.2), NOTHING)
LEVEL = Stroke(grade_of("P600"), Reach.LEVEL, backing=Backing.HARD)


def _coated(film_um=40.0):
    return enter_face(Gauged(exactly(film_um)), face()).after


def _run(works, start):
    return run_face(works, start, [Stakes()] * len(works))[-1].after


def _film_um(state):
    return state.parts[-1].state.likely.film_um


def test_a_spot_that_was_cut_through_is_bare_and_filled_dab_by_dab():
    """Nothing lies there, then 12 um a dab; the face round it has the film that it had."""
    state = enter_face(Spotted(SPOT, through=True), _coated()).after
    assert _film_um(state) == 0
    assert state.steps_um()["spot 1"].likely == pytest.approx(-40)
    state = _run([OnSpot("spot 1", DAB)] * 3, state)
    assert _film_um(state) == pytest.approx(36)
    assert state.film_um.likely == pytest.approx(40)


def test_paper_on_all_of_it_does_not_reach_what_lies_low():
    """A levelling takes a few um off the face, and nothing off a spot that lies 28 um lower."""
    state = _run([Spotted(SPOT, through=True), OnSpot("spot 1", DAB)], _coated())
    after = enter_face(LEVEL, state).after
    assert after.film_um.likely < 40
    assert _film_um(after) == pytest.approx(12)


def test_dabs_that_stand_proud_come_down_with_the_next_levelling():
    """Of 60 um over a face of 40 um, what stands proud goes first, and then its share."""
    state = _run([Spotted(SPOT, through=True), *[OnSpot("spot 1", DAB)] * 5], _coated())
    after = enter_face(LEVEL, state).after
    assert _film_um(after) == pytest.approx(after.film_um.likely, abs=0.5)


def test_a_block_on_the_spot_brings_it_flush_and_no_lower():
    """It rides on the face round it: what is proud comes down, what is low stays."""
    high = _run([Spotted(SPOT, through=True), *[OnSpot("spot 1", DAB)] * 5], _coated())
    low = _run([Spotted(SPOT, through=True), OnSpot("spot 1", DAB)], _coated())
    assert _film_um(_run([OnSpot("spot 1", LEVEL)], high)) == pytest.approx(40)
    assert _film_um(_run([OnSpot("spot 1", LEVEL)], low)) == pytest.approx(12)


def test_a_stick_fills_a_hole_to_the_face():
    """What is burnt in and pressed flush leaves nothing to fill."""
    state = _run([Spotted(SPOT, through=True), OnSpot("spot 1", FilledUp())], _coated())
    assert state.steps_um()["spot 1"].likely == pytest.approx(0)


def test_a_patch_let_into_a_coated_face_is_bare():
    """New wood has no film, and pores that nobody filled; what coats lay from then on it has."""
    ground = Ground(Range(50, 60, 70), exactly(20.0))
    state = enter_face(LetIn(patch_of(piece(), 2, 1e-4), ground), _coated()).after
    assert (_film_um(state), state.parts[-1].state.relief_um.likely) == (0, 60)
    after = enter_face(DAB, state).after
    assert _film_um(after) == pytest.approx((60 - 20) * 0.2)
    assert after.film_um.likely == pytest.approx(40 + 12)


@pytest.mark.parametrize("backing", list(Backing))
def test_what_lies_at_an_edge_is_pressed_like_the_edge(backing):
    """A patch let in there loses what the edge loses, more than one in the field by a block."""
    works = [LetIn(patch_of(piece(), 1, 1e-4, "the top edge")), LetIn(patch_of(piece(), 2, 1e-4))]
    after = _run([*works, Stroke(grade_of("P180"), None, backing=backing)], face())
    field, edges, _, at_edge, in_field = (part.state.likely.wood_um for part in after.parts)
    assert at_edge == pytest.approx(edges, rel=1e-6)
    assert in_field == pytest.approx(field, rel=1e-6)


def test_a_spot_at_an_edge_goes_through_as_likely_as_the_edge():
    """Its film, as thick as the edge's, is lost with odds that grow with its places alone."""
    wide = replace(AT_EDGE, places=face().parts[1].zone.places)
    state = enter_face(Spotted(wide), _coated(25.0)).after
    line = enter_face(LEVEL, state)
    film = next(loss for loss in line.losses if loss.stake is Stake.FILM)
    odds = dict(film.by_zone)
    assert odds["spot 1"] == pytest.approx(odds["edges"], rel=0.02)


@FEW
@given(st.lists(coats | strokes | st.builds(lambda w: OnSpot("spot 1", w), coats | strokes)))
def test_nothing_grows_on_a_spot_by_sanding_and_the_face_knows_nothing_of_it(works):
    """Neither film nor wood grows under paper; what is done on the spot leaves the rest alone."""
    state = enter_face(Spotted(AT_EDGE, through=True), _coated()).after
    for line in run_face(works, state, [Stakes()] * len(works)):
        alone = isinstance(line.work, OnSpot)
        if alone:
            assert line.after.parts[:-1] == line.before.parts[:-1]
        if isinstance(line.work.work if alone else line.work, Stroke):
            before, after = line.before.parts[-1].state, line.after.parts[-1].state
            for early, late in zip(before.courses, after.courses, strict=True):
                assert 0 <= late.film_um <= early.film_um
                assert late.wood_um >= early.wood_um


def test_a_spot_in_an_inlay_is_of_it_and_a_patch_is_of_the_wood_round_it():
    """A spot lies on what is there; wood let in over a shell is the face's own."""
    inlaid = piece(SHELL)
    field, *_, shell = zones_of(inlaid)
    spot, patch = (make(inlaid, 1, 1e-4, "in the shell inlay") for make in (spot_of, patch_of))
    assert (spot.material, patch.material) == (shell.material, field.material)
    assert (spot.beside, patch.beside) == (field.name, field.name)


@pytest.mark.parametrize("stands_um", [30.0, -30.0])
def test_what_was_felt_to_stand_is_where_it_stands(stands_um):
    """Proud or low, face over face, whatever film lies on it and beside it."""
    found = enter_face(Stands("shell inlay", stands_um), face(SHELL)).after
    assert found.steps_um()["shell inlay"].likely == pytest.approx(stands_um)


def test_only_spots_and_patches_are_mended_by_themselves():
    """Not the face round them, nor its edges, nor an inlay that belongs there."""
    assert SPOT.is_mended
    assert patch_of(piece(), 1, 1e-4).is_mended
    assert not any(zone.is_mended for zone in zones_of(piece(SHELL)))


def test_a_spot_is_level_from_the_dab_that_fills_it():
    """40 um deep, 12 um a dab: the third leaves 4 um, which is level; a seventh stands proud."""
    filled = [Spotted(SPOT, through=True), *[OnSpot("spot 1", DAB)] * 3]
    assert level_from(_lines(filled[:3]))["spot 1"] is None
    assert level_from(_lines(filled))["spot 1"] == 3
    untouched = [*filled, Gauged(exactly(40.0))]
    assert level_from(_lines(untouched))["spot 1"] == 3
    assert level_from(_lines([*filled, *[OnSpot("spot 1", DAB)] * 4]))["spot 1"] is None


def _lines(works):
    return run_face(works, _coated(), [Stakes()] * len(works))


@FEW
@given(strokes, st.floats(2, 60))
def test_what_an_abrading_took_off_the_field_is_told_by_its_name(stroke, film_um):
    """Film and wood together, as in the field's own line; off a zone that is not there nothing."""
    line = enter_face(stroke, _coated(film_um))
    taken = taken_in("field", line)
    assert taken.likely == pytest.approx(line.taken_um.likely)
    assert taken.high == pytest.approx(line.taken_um.high)
    assert taken_in("nowhere", line) == NOTHING
