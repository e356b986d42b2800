"""The odds against a simulation that draws shops, coats, papers and places one by one.

It shares no code with the film room: it draws with ``random``, walks through every place of the
face, and counts how often one of them is cut through. Likely values and ranges are the room's own;
what is tested is how it carries them from step to step and over the places.
"""

import random

import pytest
from face_cases import exactly, face

from finishsched.film.abrading import Backing, Stroke
from finishsched.film.face import enter_face, run_face
from finishsched.film.ledger import Laid
from finishsched.film.odds import Stake, Stakes
from finishsched.model.film import Reach
from finishsched.model.grades import FEPA_UM, grade_of
from finishsched.model.job import Inlay
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


def _stringing_simulated(papers, thick_um, places, seed):
    """Return how often paper has gone through a holly stringing that stands proud of 0.6 mm veneer.

    A rigid block takes it down to the field with the first paper, and with the field from then on.
    Every place has a thickness of its own, and loses more or less than the mean at each paper.
    """
    rng = random.Random(seed)  # noqa: S311  # draws shops, no secrets
    side_um = min((thick_um - 600) / 2, 40.0)
    through = [0] * len(papers)
    for _ in range(SHOPS):
        hand = _drawn(rng, Range(0.3, 0.5, 0.8))
        given = max(-2.6, min(2.6, rng.gauss(0, 1))) / 1.645
        left_um = thick_um + given * 40.0
        stands_um = max(0.0, thick_um - 600 + given * side_um)
        here = [rng.gauss(0, 15.0) for _ in range(places)]
        for at, paper in enumerate(papers):
            cut_um = stands_um + hand * FEPA_UM[int(paper[1:])]
            stands_um = 0.0
            left_um -= cut_um
            here = [um + rng.gauss(0, 0.25 * cut_um) for um in here]
            if left_um + min(here) < 0:
                for later in range(at, len(papers)):
                    through[later] += 1
                break
    return [count / SHOPS for count in through]


@pytest.mark.parametrize(
    ("thick_mm", "places", "papers"),
    [
        (0.7, 2, ("P40", "P50", "P60")),
        (0.7, 8, ("P40", "P50", "P60")),
        (0.9, 6, ("P40", "P60", "P80")),
        (0.8, 4, ("P60", "P80", "P120", "P150")),
    ],
)
def test_odds_of_a_stringing_that_stands_proud(thick_mm, places, papers):
    """Through by each paper: within 1.5 points or a tenth of 5,000 drawn panels, paper by paper."""
    holly = Inlay("holly", thick_mm, in_mm=0.6, area_m2=places * 225e-6, width_mm=1.0)
    state, odds = face(holly), 0.0
    drawn = _stringing_simulated(papers, 1000 * thick_mm, places, 11)
    for paper, counted in zip(papers, drawn, strict=True):
        line = enter_face(Stroke(grade_of(paper), None, backing=Backing.HARD), state)
        odds += sum(loss.odds for loss in line.losses if loss.stake is Stake.INLAY)
        state = line.after
        assert odds == pytest.approx(counted, rel=0.1, abs=0.015)
