"""Film against worked values, published limits, and what the trade expects of its own schedules."""

from itertools import pairwise

import pytest

from finishsched.documents.library import shipped_products, shipped_schedules
from finishsched.film.abrading import Over, Stroke, bite_of, taken_um
from finishsched.film.ledger import Ground, Laid, begin, run
from finishsched.film.limits import Bears, bears, limit_of
from finishsched.film.materials import FILM
from finishsched.film.solids import cut_solids
from finishsched.film.strokes import depth_um, passes
from finishsched.film.works import Terms, ledger_of
from finishsched.mixing.amount import NOTHING, Range
from finishsched.model.film import Reach
from finishsched.model.grades import grade_of
from finishsched.model.job import Face, Piece
from finishsched.model.product import Mechanism, Product, ProductKind
from finishsched.model.schedule import Verb
from finishsched.model.step import steps_of

LB = 453.59237 / 3.785411784


def _exactly(value):
    return Range(value, value, value)


@pytest.mark.parametrize(
    ("pounds", "percent"), [(1, 9.1), (2, 16.7), (3, 23.1), (4, 28.6), (5, 33.3)]
)
def test_volume_solids_of_a_cut(pounds, percent):
    """1-lb 9.1 %, 2-lb 16.7 %, 3-lb 23.1 %, 4-lb 28.6 %, 5-lb 33.3 % (c v / (1 + c v), worked)."""
    assert 100 * cut_solids(pounds * LB) == pytest.approx(percent, abs=0.06)


@pytest.mark.parametrize(
    ("solids_percent", "m2_per_l", "film_um"), [(50, 20.0, 25), (50, 10.0, 50), (65, 5.2, 125)]
)
def test_the_film_of_a_coat_as_worked_in_print(solids_percent, m2_per_l, film_um):
    """VS 50 %: 20.0, 10.0 m2/L at 25, 50 um; 65 %: 5.2 m2/L at 125 um: by hand, as ISO 3233."""
    coat = Laid(_exactly(1000 / m2_per_l), _exactly(solids_percent / 100), NOTHING)
    laid_um = run([coat], begin(Ground(NOTHING)))[-1].after.film_um
    assert laid_um.low == laid_um.high == pytest.approx(film_um, rel=0.005)


def test_a_light_scuff_takes_about_as_much_as_found():
    """A light scuff of a 23 um lacquer coat took about 7.6 um: a maker's page, no title at hand.

    That it was P220 is our guess.
    """
    over = Over(23.0, 0.0, 0.0)
    stroke = Stroke(grade_of("P220"), Reach.SCUFF)
    bite = bite_of(stroke)
    assert taken_um(stroke, over, bite.low) <= 7.6 <= taken_um(stroke, over, bite.high)


@pytest.mark.parametrize(
    ("grade", "passes_made", "rubs"),
    [("P280", 8, False), ("0000 wool", 30, True)],
)
def test_a_scuff_and_a_rub_take_what_strokes_say(grade, passes_made, rubs):
    """Between the low and high end: four passes are a scuff (WOOD, "Just a scuff is enough").

    Eight are taken, and thirty to rub out, by hands of 10 N; the law of strokes is Preston's, 1927
    (from memory).
    """
    face_mm2 = 10_000.0
    strokes = passes_made / passes(1.0, face_mm2)
    worn_um = depth_um(FILM, grade_of(grade), strokes, face_mm2)
    bite = bite_of(Stroke(grade_of(grade), Reach.SCUFF, rubs=rubs))
    assert bite.low * 0.8 <= worn_um <= bite.high


@pytest.mark.parametrize(
    ("product", "film_um"),
    [
        (Product("x", "Nitrocellulose lacquer", ProductKind.LACQUER), 76),  # 3 mil
        (Product("x", "Catalysed lacquer", ProductKind.LACQUER), 150),
        (Product("x", "Two-can", ProductKind.VARNISH, Mechanism.TWO_PART), 150),
        (Product("x", "Varnish", ProductKind.VARNISH), 150),  # a clear wood finish in all, 6 mil
    ],
)
def test_published_limits_are_rules(product, film_um):
    """A film at its published limit is within it, and a hair more is beyond."""
    limit = limit_of((product,))
    assert limit.film_um == film_um
    assert bears(_exactly(film_um), limit) is Bears.WITHIN
    assert bears(Range(1, film_um, film_um + 1), limit) is Bears.NEAR
    assert bears(_exactly(film_um + 0.1), limit) is Bears.BEYOND


def _pattern():
    piece = Piece(
        "lid", "Lid", "padded-shellac-pattern", (Face("top", stated_area_m2=0.1),),
        species="walnut, maple and dyed pear", veneer_mm=0.6,
    )  # fmt: skip
    steps = steps_of(shipped_schedules()["padded-shellac-pattern"])
    return ledger_of(piece, steps, Terms(shipped_products()))


def test_most_of_the_film_goes_at_the_first_levelling():
    """Over half of it, and no later levelling so much (common practice: plausible, no proof)."""
    ledger = _pattern()
    shares = []
    for (_, before), (reckoned, line) in pairwise(ledger):
        if reckoned.step.verb is Verb.LEVEL and reckoned.step.stage.value == "body":
            shares.append(line.taken_um.likely / before.after.film_um.likely)
    assert len(shares) == 4
    assert shares[0] > 0.5
    assert shares == sorted(shares, reverse=True)


def test_the_relief_is_filled_by_about_the_third_round():
    """Likely not in the first, and in the third (common practice, no source: no proof)."""
    left = {
        reckoned.step.round: line.after.relief_um.likely
        for reckoned, line in _pattern()
        if reckoned.step.stage.value == "body"
    }
    assert left[1] > 0
    assert left[3] == 0


def test_the_film_ends_between_10_and_60_um():
    """A French polish is as thin as that (common practice, no source: plausible, no proof)."""
    assert 10 <= _pattern()[-1][1].after.film_um.likely <= 60


def test_its_sanding_takes_a_quarter_of_the_face():
    """The schedule's own note says about a quarter of a 0.6 mm face."""
    used = _pattern()[-1][1].after.veneer_used_percent
    assert used.likely == pytest.approx(25, abs=2)


@pytest.mark.parametrize("schedule", sorted(shipped_schedules()))
def test_every_shipped_schedule_is_likely_within_what_its_finish_bears(schedule):
    """On walnut, no shipped schedule builds a film that is likely beyond its published limit."""
    piece = Piece("p", "P", schedule, (Face("f", stated_area_m2=0.1),), species="walnut")
    steps = steps_of(shipped_schedules()[schedule])
    products = shipped_products()
    ledger = ledger_of(piece, steps, Terms(products))
    limit = limit_of(tuple(products[s.product] for s in steps if s.product and s.verb.lays_coats))
    assert bears(ledger[-1][1].after.film_um, limit) is not Bears.BEYOND
