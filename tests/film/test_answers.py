"""What the ledger answers: how far, how many coats, when filled, how much veneer; the drawing."""

import pytest
from face_cases import piece
from hypothesis import given
from hypothesis import strategies as st

from finishsched.film.abrading import Stroke, usual_reach
from finishsched.film.drawing import FILM, VENEER, WOOD, Section, cross_section
from finishsched.film.face import FaceState, begin_face, enter_face
from finishsched.film.ledger import Gauged, Ground, Laid, begin, run
from finishsched.film.limits import CATALYSED, IN_ALL, NITROCELLULOSE, limit_of
from finishsched.film.odds import Stakes
from finishsched.film.outlook import (
    coats_until_filled,
    coats_until_safe,
    filling,
    reach_allowed,
    veneer_use,
)
from finishsched.film.species import is_pattern, pores_hollow_um, wants_filling
from finishsched.film.zones import zones_of
from finishsched.mixing.amount import NOTHING, Range
from finishsched.model.film import Reach
from finishsched.model.grades import grade_of
from finishsched.model.lubricants import is_wet
from finishsched.model.product import Mechanism, Product, ProductKind
from finishsched.model.schedule import StageName, Verb

COAT = Laid(Range(10.0, 15.0, 20.0), Range(0.167, 0.167, 0.167), Range(0.2, 0.4, 0.65))


ALL = Stakes()


def _film(um, side=3.0, **ground):
    """Return a small field with so much film on it, and no edges."""
    ground = Ground(**{"hollow_um": NOTHING, **ground})
    field = begin_face(zones_of(piece(sides=(150.0, 150.0))), ground).parts[:1]
    return enter_face(Gauged(Range(max(0.0, um - side), um, um + side)), FaceState(field)).after


def _odds(stroke, film):
    return enter_face(stroke, film).odds


def test_how_far_a_grade_may_go():
    """A thick film bears a level, a thin one a scuff, a thinner none; a seal only a scuff."""
    stroke = Stroke(grade_of("P400"), Reach.LEVEL)
    hollow = Range(200.0, 200.0, 200.0)
    assert reach_allowed(stroke, _film(60.0, hollow_um=hollow), 0.05, ALL) is Reach.LEVEL
    assert reach_allowed(stroke, _film(90.0), 0.05, ALL) is Reach.FLUSH
    assert reach_allowed(stroke, _film(21.0), 0.05, ALL) is Reach.SCUFF
    assert reach_allowed(Stroke(grade_of("P80"), Reach.LEVEL), _film(21.0), 0.05, ALL) is None
    assert reach_allowed(stroke, _film(2.0), 0.05, ALL) is Reach.SCUFF


def test_a_seal_has_no_odds():
    """A scuff meets no film under 5 um, a level does, and bare sanding has no odds at all."""
    assert _odds(Stroke(grade_of("P320"), Reach.SCUFF), _film(4.9, 0.0)) is None
    assert _odds(Stroke(grade_of("P320"), Reach.LEVEL), _film(4.9, 0.0)) > 0.9
    assert _odds(Stroke(grade_of("P320"), None), _film(50.0)) is None
    assert _odds(Stroke(grade_of("P320"), Reach.SCUFF), _film(50.0, 0.0)) < 0.001


def test_coats_until_it_is_safe():
    """So many coats make the levelling safe, and one fewer does not; none when it is safe."""
    stroke, thin = Stroke(grade_of("P400"), Reach.LEVEL), _film(8.0)
    coats = coats_until_safe(stroke, COAT, thin, 0.05, ALL)
    assert coats is not None
    assert coats > 0
    state = thin
    for _ in range(coats - 1):
        state = enter_face(COAT, state).after
    assert _odds(stroke, state) > 0.05
    assert _odds(stroke, enter_face(COAT, state).after) <= 0.05
    assert coats_until_safe(stroke, COAT, _film(90.0), 0.05, ALL) == 0
    nothing = Laid(NOTHING, NOTHING, NOTHING)
    assert coats_until_safe(stroke, nothing, thin, 0.05, ALL) is None


def test_when_the_relief_is_filled():
    """20 um of hollow under coats of 2.5 um is filled at the eighth, at worst at the twelfth."""
    lines = run([COAT] * 14, begin(Ground(Range(20.0, 20.0, 20.0))))
    found = filling(lines)
    assert (found.likely, found.at_worst) == (7, 11)
    assert coats_until_filled(COAT, lines[0].after) == 7
    assert filling(run([None], begin(Ground(Range(20.0, 20.0, 20.0))))).likely is None


@pytest.mark.parametrize(
    ("sanded", "warn", "stop"),
    [
        (["P240"], False, False),
        (["P120", "P150", "P180", "P240"], True, False),
        (["P60"] * 3, True, True),
    ],
)
def test_veneer_warns_at_30_and_stops_at_50_percent(sanded, warn, stop):
    """Of a 0.6 mm face (common practice)."""
    strokes = [Stroke(grade_of(name), None) for name in sanded]
    use = veneer_use(run(strokes, begin(Ground(NOTHING, veneer_um=600.0)))[-1].after)
    assert (use.warn, use.stop) == (warn, stop)
    assert veneer_use(begin(Ground(NOTHING))) is None


def test_how_far_a_step_goes_when_nobody_says():
    """Body coats are levelled, seals and cured faces scuffed, bare wood sanded."""
    assert usual_reach(Verb.LEVEL, StageName.BODY) is Reach.LEVEL
    assert usual_reach(Verb.LEVEL, StageName.SEAL) is Reach.SCUFF
    assert usual_reach(Verb.LEVEL, StageName.CURE) is Reach.SCUFF
    assert usual_reach(Verb.SAND, StageName.PREPARE) is None
    assert is_wet("soapy water")
    assert not is_wet("dry")
    assert not is_wet(None)


def test_the_most_open_wood_of_a_pattern_decides():
    """Walnut beside maple is as deep as walnut, and has seams; an unknown wood has any depth."""
    assert pores_hollow_um("walnut and maple") == pores_hollow_um("walnut")
    assert is_pattern("walnut, maple")
    assert not is_pattern("black walnut")
    unknown = pores_hollow_um("quince")
    assert unknown.low < pores_hollow_um("maple").high
    assert unknown.high > pores_hollow_um("walnut").high
    assert wants_filling("quince") is None


@pytest.mark.parametrize(
    ("product", "limit"),
    [
        (Product("a", "A two-part", ProductKind.VARNISH, mechanism=Mechanism.TWO_PART), CATALYSED),
        (Product("b", "Catalysed lacquer", ProductKind.LACQUER), CATALYSED),
        (Product("c", "Nitrocellulose lacquer", ProductKind.LACQUER), NITROCELLULOSE),
        (Product("d", "Varnish", ProductKind.VARNISH), IN_ALL),
    ],
)
def test_a_finish_is_held_to_the_limit_of_its_kind(product, limit):
    """By how it sets or by its name; under others too, the one that bears least decides."""
    assert limit_of((product,)) is limit
    thin = Product("c", "Nitrocellulose lacquer", ProductKind.LACQUER)
    assert limit_of((product, thin)) is NITROCELLULOSE


def test_no_film_has_the_limit_of_all():
    """With no product known the limit is that of a clear finish in all."""
    assert limit_of(()) is IN_ALL


in_um = "{:.0f} um".format

sections = st.builds(
    Section, st.floats(0, 200), st.floats(0, 300), st.floats(0, 300), st.floats(0, 300),
    st.none() | st.floats(0, 3000),
)  # fmt: skip


@given(sections, st.integers(0, 120), st.integers(0, 30))
def test_a_drawing_fits_its_frame(section, width, height):
    """Whatever the figures, the lines are as many and no longer than asked, with their numbers."""
    lines = cross_section(section, width, height, in_um)
    assert len(lines) == max(height, 6)
    assert all(len(line) <= max(width, 24) for line in lines)
    assert any("film" in line for line in lines)
    assert WOOD in lines[-1]
    assert (VENEER in "".join(lines[3:])) == (section.veneer_um is not None)


def test_a_thin_film_is_still_drawn():
    """One um over hollows of 200 um shows, on the high spots; no film shows none."""
    thin = cross_section(Section(1.0, 199.0, 200.0, 200.0, 600.0), 60, 9, in_um)
    none = cross_section(Section(0.0, 200.0, 200.0, 200.0, 600.0), 60, 9, in_um)
    assert any(line.startswith(FILM) for line in thin)
    assert not any(line.startswith(FILM) for line in none)
