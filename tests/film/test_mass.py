"""Worlds and mass: what is laid is in the film, in the wood or gone."""

from __future__ import annotations

import math

import pytest
from face_cases import coats, exactly, face, strokes
from hypothesis import given, settings
from hypothesis import strategies as st

from finishsched.film.face import enter_face
from finishsched.film.ledger import Gauged, Ground, Laid, begin, run
from finishsched.film.odds import somewhere
from finishsched.film.worlds import WORLDS, Cause, drawn, spread
from finishsched.model.ranges import NOTHING, Range

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
