"""Laws of the ledger."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.film.abrading import Over, Stroke, bite_of, taken_um
from finishsched.film.ledger import (
    Filled,
    Gauged,
    Ground,
    Laid,
    begin,
    cuts_of,
    enter,
    run,
)
from finishsched.film.worlds import spread
from finishsched.model.film import Reach
from finishsched.model.grades import CAMI_UM, FEPA_UM, grade_of
from finishsched.model.ranges import NOTHING, Range

NEARLY = 1e-9


def ranges(low, high):
    """Return ranges in order between two ends."""
    ends = st.lists(st.floats(low, high), min_size=3, max_size=3).map(sorted)
    return ends.map(lambda three: Range(*three))


grades = st.sampled_from([f"P{n}" for n in FEPA_UM] + [f"CAMI {n}" for n in CAMI_UM]).map(grade_of)
coats = st.builds(
    Laid, wet_um=ranges(0, 200), solids=ranges(0, 1), uneven=ranges(0, 0.9), hollows=ranges(1, 2)
)
strokes = st.builds(
    Stroke,
    grade=grades,
    reach=st.none() | st.sampled_from(Reach),
    wet=st.booleans(),
    rubs=st.booleans(),
)
fills = st.builds(Filled, left=ranges(0, 1), seams_um=ranges(0, 100))
gauges = st.builds(Gauged, film_um=ranges(0, 200))
works = st.lists(coats | strokes | fills | gauges | st.none(), max_size=12)
grounds = st.builds(
    Ground,
    hollow_um=ranges(0, 300),
    thirst_um=ranges(0, 60),
    veneer_um=st.none() | st.floats(100, 3000),
)


def in_order(*amounts):
    """Check that ranges are in order and never negative."""
    for amount in amounts:
        if amount is not None:
            assert -NEARLY <= amount.low <= amount.likely + NEARLY <= amount.high + 2 * NEARLY


@given(grounds, works)
def test_ranges_are_ordered_and_nothing_is_negative(ground, some):
    """Whatever is done in whatever order: low <= likely <= high, film and veneer 0 or more."""
    for line in run(some, begin(ground)):
        after = line.after
        in_order(after.film_um, after.relief_um, after.wood_um, after.veneer_um)
        in_order(line.laid_um, line.taken_um, after.veneer_used_percent)


@given(grounds, works, works)
def test_the_ledger_of_the_whole_is_that_of_its_parts(ground, first, second):
    """Run in two halves it ends as run at once, and its additions and takings add up to the end."""
    start = begin(ground)
    whole = run([*first, *second], start)
    part = run(first, start)
    middle = part[-1].after if part else start
    assert whole == part + run(second, middle)


@given(grounds, works)
def test_film_is_what_was_laid_less_what_was_taken(ground, some):
    """In every world, not the likely one alone; and what came off the wood is the rest of it."""
    some = [work for work in some if not isinstance(work, Gauged)]
    start = begin(ground)
    lines = run(some, start)
    end = lines[-1].after if lines else start
    for world, course in enumerate(end.courses):
        laid = taken = 0.0
        for line in lines:
            if isinstance(line.work, Laid):
                before, after = line.before.courses[world], line.after.courses[world]
                laid += after.film_um - before.film_um
            taken += line.cut[world]
        assert course.film_um == pytest.approx(laid - (taken - course.wood_um), abs=1e-6)


@given(grounds, works, works, coats)
def test_more_coats_are_never_thinner(ground, first, second, coat):
    """One coat more anywhere leaves no less film at the end, in every case, and no less veneer."""
    second = [work for work in second if not isinstance(work, Gauged)]
    without = run([*first, *second], begin(ground))
    with_it = run([*first, coat, *second], begin(ground))
    before = without[-1].after if without else begin(ground)
    after = with_it[-1].after
    for thicker, thinner in zip(after.courses, before.courses, strict=True):
        assert thicker.film_um >= thinner.film_um - 1e-6
        assert thicker.wood_um <= thinner.wood_um + 1e-6


@given(grounds, works, strokes)
def test_abrading_never_makes_hollows_deeper(ground, some, stroke):
    """What is taken off leaves no more relief to fill than there was, and no more film."""
    lines = run(some, begin(ground))
    before = lines[-1].after if lines else begin(ground)
    after = enter(stroke, before).after
    for late, early in zip(after.courses, before.courses, strict=True):
        assert late.relief_um <= early.relief_um + NEARLY
        assert late.film_um <= early.film_um
        assert late.wood_um >= early.wood_um


@given(grounds, works, st.floats(0, 200))
def test_a_gauge_moves_the_face_and_leaves_the_hollows_as_deep_under_it(ground, some, um):
    """In every case; a film read thinner never fills a hollow that it stood over."""
    lines = run(some, begin(ground))
    before = lines[-1].after if lines else begin(ground)
    after = enter(Gauged(_exactly(um)), before).after
    for late, early in zip(after.courses, before.courses, strict=True):
        assert late.wood_um == early.wood_um
        assert late.ridges_um <= min(early.ridges_um, late.film_um) + NEARLY
        assert late.thirst_um == (0 if late.film_um > 0 else early.thirst_um)
        under_um = early.film_um - early.in_hollows_um
        assert late.in_hollows_um == pytest.approx(max(0.0, late.film_um - under_um), abs=NEARLY)


overs = st.builds(
    Over, film_um=st.floats(0, 200), surface_um=st.floats(0, 300), ridges_um=st.floats(0, 150)
)


@given(strokes, grades, overs)
def test_coarser_never_takes_less(stroke, other, over):
    """Of two grades used alike, the coarser takes at least as much."""
    fine, coarse = sorted((stroke.grade, other), key=lambda grade: grade.grain_um)
    assert _taken(replace(stroke, grade=coarse), over) >= _taken(replace(stroke, grade=fine), over)


@given(grades, st.booleans(), overs)
def test_further_never_takes_less_and_wet_never_more(grade, wet, over):
    """Scuff, level, flush take more in that order; wet takes no more than dry."""
    ways = (Reach.SCUFF, Reach.LEVEL, Reach.FLUSH)
    taken = [_taken(Stroke(grade, reach, wet), over) for reach in ways]
    assert taken == sorted(taken)
    for reach in Reach:
        assert _taken(Stroke(grade, reach, wet=True), over) <= _taken(Stroke(grade, reach), over)


@given(grades, overs)
def test_cutting_back_leaves_no_film_on_the_high_wood(grade, over):
    """It takes all the film, and of the wood no more than a scuff of the same grade does."""
    taken = _taken(Stroke(grade, Reach.CUT_BACK), over)
    assert taken >= over.film_um
    most = max(over.ridges_um, over.film_um) + _taken(Stroke(grade, Reach.SCUFF), over)
    assert taken <= most + NEARLY


def test_wet_takes_four_fifths_of_dry():
    """A scuff is grain times share alone: P400 wet takes 0.8 of what it takes dry."""
    over = Over(film_um=40.0, surface_um=0.0, ridges_um=0.0)
    dry, wet = (_taken(Stroke(grade_of("P400"), Reach.SCUFF, wet), over) for wet in (False, True))
    assert dry == pytest.approx(35.0 * 0.03)
    assert wet == pytest.approx(0.8 * dry)


@given(st.floats(1, 25), st.floats(60, 300), grades.filter(lambda grade: grade.grain_um < 60))
def test_flush_leaves_film_only_in_the_hollows(film_um, hollow_um, grade):
    """Relief still to fill is the relief before less the film laid, before and after it."""
    coat = Laid(_exactly(film_um), _exactly(1.0), NOTHING)
    laid, flush = run([coat, Stroke(grade, Reach.FLUSH)], begin(Ground(_exactly(hollow_um))))
    assert flush.after.film_um == NOTHING
    assert laid.after.relief_um.likely == pytest.approx(max(0.0, hollow_um - film_um))
    assert flush.after.relief_um == laid.after.relief_um


def test_what_goes_through_the_film_comes_off_the_veneer():
    """A film of 10 um under 40 um of sanding costs 30 um of veneer (arithmetic)."""
    start = begin(Ground(NOTHING, veneer_um=600.0))
    stroke = Stroke(grade_of("P240"), None)
    laid = enter(Laid(_exactly(10.0), _exactly(1.0), NOTHING), start).after
    line = enter(stroke, laid)
    assert line.taken_um.likely == pytest.approx(29.25)
    assert line.after.veneer_um.likely == pytest.approx(600 - 19.25)
    assert line.after.film_um == NOTHING


def test_bare_wood_drinks_first():
    """Of 25 um laid on wood that drinks 20 um, 5 um wet stay, and the next coat stays whole."""
    coat = Laid(_exactly(25.0), _exactly(0.1), NOTHING)
    first, second = run([coat, coat], begin(Ground(NOTHING, _exactly(20.0))))
    assert first.after.film_um.likely == pytest.approx(0.5)
    assert second.after.film_um.likely == pytest.approx(3.0)


def test_the_cut_of_a_scuff():
    """Three hundredths of the grain of P320, 46.2 um, whatever film lies there."""
    film = enter(Gauged(_exactly(50.0)), begin(Ground(NOTHING))).after
    cut_um = spread(cuts_of(Stroke(grade_of("P320"), Reach.SCUFF), film))
    assert cut_um.likely == pytest.approx(1.386)


def _taken(stroke, over):
    return taken_um(stroke, over, bite_of(stroke).likely)


def _exactly(value):
    return Range(value, value, value)
