"""The odds against a simulation that draws shops, coats, papers and places one by one.

It shares no code with the film room: it draws with ``random``, walks through every place of the
face, and counts how often one of them is cut through. Likely values and ranges are the room's own;
what is tested is how it carries them from step to step and over the places.
"""

import random

import pytest
from face_cases import STRINGING, exactly, face

from finishsched.film.abrading import Backing, Stroke
from finishsched.film.face import enter_face, run_face
from finishsched.film.ledger import Laid
from finishsched.film.odds import Stake, Stakes
from finishsched.model.film import Reach
from finishsched.model.grades import FEPA_UM, grade_of
from finishsched.model.ranges import Range

SHOPS = 5000
AMOUNT = Range(0.7, 1.0, 1.4)
UNEVEN = Range(0.2, 0.4, 0.65)
BITE = Range(0.10, 0.20, 0.50)
SIDES = (90.0, 75.0)
PLACES = 30
ROUNDS = (("P400", 30.0), ("P600", 18.0), ("P1000", 12.0), ("P1500", 12.0))
"""Paper, and film laid before it, likely, in um."""


def _drawn(rng, range_):
    z = max(-2.6, min(2.6, rng.gauss(0, 1)))
    side = range_.high - range_.likely if z > 0 else range_.likely - range_.low
    return max(0.0, range_.likely + z * side / 1.645)


def _simulated(seed):
    """Return how often each levelling cuts through somewhere in the field of a small panel."""
    rng = random.Random(seed)  # noqa: S311  # draws shops, no secrets
    cut = [0] * len(ROUNDS)
    for _ in range(SHOPS):
        amount, uneven, hand = (_drawn(rng, one) for one in (AMOUNT, UNEVEN, BITE))
        film_um = 0.0
        for at, (paper, laid_um) in enumerate(ROUNDS):
            grain_um = FEPA_UM[int(paper[1:])]
            new_um = laid_um * amount
            film_um += new_um
            for _place in range(PLACES):
                here_um = film_um + rng.gauss(0, 0.2 * new_um)
                paper_um = hand * grain_um + rng.gauss(0, 0.1 * grain_um)
                if here_um < paper_um + rng.gauss(2.0, 1.0):
                    cut[at] += 1
                    break
            film_um = max(0.0, film_um - uneven * new_um - hand * grain_um)
    return [count / SHOPS for count in cut]


def test_odds_of_four_levellings_by_one_hand():
    """Each within 1.5 points or a tenth of 5,000 drawn shops, the hand the same in all."""
    works = []
    for paper, laid_um in ROUNDS:
        works.append(Laid(AMOUNT.times(laid_um), exactly(1.0), UNEVEN))
        works.append(Stroke(grade_of(paper), Reach.LEVEL, backing=Backing.HARD))
    start = face(sides=SIDES)
    only_field = type(start)(start.parts[:1])
    lines = run_face(works, only_field, [Stakes()] * len(works))
    reckoned = [line.odds for line in lines if isinstance(line.work, Stroke)]
    for ours, drawn in zip(reckoned, _simulated(7), strict=True):
        assert ours == pytest.approx(drawn, rel=0.1, abs=0.015)


def _stringing_simulated(seed):
    """Return how often paper goes through a holly stringing, 0.1 mm proud of a 0.6 mm veneer.

    A rigid block takes it down to the field with the first paper, and with the field from then on.
    """
    rng = random.Random(seed)  # noqa: S311  # draws shops, no secrets
    through = 0
    places = max(1.0, 500.0 / 15.0**2)
    for _ in range(SHOPS):
        hand = _drawn(rng, Range(0.3, 0.5, 0.8))
        given = max(-2.6, min(2.6, rng.gauss(0, 1)))
        thick_um = 700.0 + given * 40.0 / 1.645
        proud_um = max(0.0, 100.0 + given * 40.0 / 1.645)
        worn2 = lost_um = 0.0
        for grain_um in (425.0, 336.0, 269.0):
            cut_um = proud_um + hand * grain_um
            proud_um = 0.0
            lost_um += cut_um
            worn2 += (0.25 * cut_um) ** 2
        here = rng.gauss(0, (15.0**2 + worn2) ** 0.5)
        for _place in range(round(places) - 1):
            here = min(here, rng.gauss(0, (15.0**2 + worn2) ** 0.5))
        through += thick_um - lost_um + here < 0
    return through / SHOPS


def test_odds_of_a_stringing_that_stands_proud():
    """Through 0.7 mm of holly by P40, P50 and P60: within 3 points of 5,000 drawn panels."""
    state = face(STRINGING)
    odds = 0.0
    for paper in ("P40", "P50", "P60"):
        line = enter_face(Stroke(grade_of(paper), None, backing=Backing.HARD), state)
        odds += sum(loss.odds for loss in line.losses if loss.stake is Stake.INLAY)
        state = line.after
    assert odds == pytest.approx(_stringing_simulated(11), rel=0.1, abs=0.03)
