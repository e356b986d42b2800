"""The odds at edges and corners, by a simulation that draws shops, arrises, papers and places.

It shares no code with the film room: it draws with ``random`` and counts. Likely values and ranges
are the room's own, our assumption; what is tested is how it carries them through the steps.
"""

import math
import random

import pytest
from face_cases import exactly, face

from finishsched.film.abrading import Backing, Stroke
from finishsched.film.face import run_face
from finishsched.film.ledger import Laid
from finishsched.film.odds import Stake, Stakes
from finishsched.film.worlds import GENERATOR, WORLDS, Cause
from finishsched.model.film import Reach
from finishsched.model.grades import FEPA_UM, grade_of
from finishsched.model.ranges import Range

SHOPS = 4000
AMOUNT, UNEVEN = Range(0.7, 1.0, 1.4), Range(0.2, 0.4, 0.65)
BITES = {
    Reach.LEVEL: Range(0.10, 0.20, 0.50),
    Reach.SCUFF: Range(0.01, 0.03, 0.12),
    None: Range(0.3, 0.5, 0.8),
}
ARRIS = Range(0.5, 0.7, 0.9)
BLOCK, KEPT_OFF = Range(1.5, 2.2, 2.7), Range(0.4, 0.8, 1.3)
SIDES = (90.0, 75.0)
FIELD_PLACES, EDGE_PLACES, CORNERS = 30, 22, 4

LEVELLED = (("P400", 40.0, Reach.LEVEL), ("P600", 30.0, Reach.LEVEL))
SCUFFED = (("P320", 12.0, Reach.SCUFF), ("P400", 8.0, Reach.SCUFF), ("P600", 5.0, Reach.SCUFF))


def _drawn(rng, range_):
    z = max(-2.6, min(2.6, rng.gauss(0, 1)))
    side = range_.high - range_.likely if z > 0 else range_.likely - range_.low
    return max(0.0, range_.likely + z * side / 1.645)


class Zone:
    """One zone in one drawn shop: its film, what of it is ridges and new, and its places."""

    def __init__(self, places, share, presses):
        self.places, self.share, self.presses = places, share, presses
        self.film = self.ridges = self.loose = 0.0

    def coat(self, um, uneven):
        """Lay one coat."""
        self.film += um * self.share
        self.loose += um * self.share
        self.ridges += um * self.share * uneven

    def is_cut(self, rng, hand, grain_um, reach):
        """Tell whether paper goes through somewhere, and take off what it takes."""
        level = reach is Reach.LEVEL
        likely = BITES[reach].likely * grain_um
        through = False
        for _ in range(self.places):
            here = self.film + rng.gauss(0, 0.2 * self.loose)
            paper = hand * grain_um + rng.gauss(0, 0.5 * likely)
            spots = rng.gauss(2.0, 1.0) if level else 0.0
            if here < self.presses * (paper + spots):
                through = True
                break
        taken = self.presses * hand * grain_um + (self.ridges if level else 0.0)
        self.film = max(0.0, self.film - taken)
        self.ridges = 0.0 if level else min(self.ridges, self.film)
        self.loose = 0.0 if level else min(self.loose, self.film)
        return through


def _simulated(seed, rounds, pressed):
    rng = random.Random(seed)  # noqa: S311  # draws shops, no secrets
    cut = [0] * len(rounds)
    for _ in range(SHOPS):
        amount, uneven, share = (_drawn(rng, one) for one in (AMOUNT, UNEVEN, ARRIS))
        z = max(-2.6, min(2.6, rng.gauss(0, 1)))
        edge = _drawn(rng, pressed)
        zones = [Zone(FIELD_PLACES, 1.0, 1.0), Zone(EDGE_PLACES, share, edge)]
        for at, (paper, um, reach) in enumerate(rounds):
            bite = BITES[reach]
            side = bite.high - bite.likely if z > 0 else bite.likely - bite.low
            hand = max(0.0, bite.likely + z * side / 1.645)
            for zone in zones:
                zone.coat(um * amount, uneven)
            through = [zone.is_cut(rng, hand, FEPA_UM[int(paper[1:])], reach) for zone in zones]
            cut[at] += any(through)
    return [count / SHOPS for count in cut]


@pytest.mark.parametrize(
    ("rounds", "backing", "pressed"),
    [
        (LEVELLED, Backing.WORKED, BLOCK),
        (LEVELLED, Backing.KEPT_OFF, KEPT_OFF),
        (SCUFFED, Backing.WORKED, BLOCK),
        (SCUFFED, Backing.KEPT_OFF, KEPT_OFF),
    ],
    ids=["levelled", "levelled, edges spared", "scuffed", "scuffed, edges spared"],
)
def test_odds_with_edges(rounds, backing, pressed):
    """Field and edges together, within 1.5 points or a tenth of 4,000 drawn shops."""
    works = []
    for paper, um, reach in rounds:
        works.append(Laid(AMOUNT.times(um), exactly(1.0), UNEVEN))
        works.append(Stroke(grade_of(paper), reach, backing=backing))
    start = face(sides=SIDES)
    lines = run_face(works, type(start)(start.parts[:2]), [Stakes()] * len(works))
    ours = [line.odds for line in lines if isinstance(line.work, Stroke)]
    for reckoned, drawn in zip(ours, _simulated(3, rounds, pressed), strict=True):
        assert reckoned == pytest.approx(drawn, rel=0.1, abs=0.015)


def _corners_simulated(seed, papers, veneer_um):
    rng = random.Random(seed)  # noqa: S311  # draws shops, no secrets
    through = 0
    for _ in range(SHOPS):
        hand = _drawn(rng, BITES[None])
        presses = _drawn(rng, Range(*(end**1.5 for end in (BLOCK.low, BLOCK.likely, BLOCK.high))))
        thick = _drawn(rng, Range(veneer_um - 40, veneer_um, veneer_um + 40))
        lost = worn2 = 0.0
        for paper in papers:
            cut = presses * hand * FEPA_UM[int(paper[1:])]
            lost += cut
            worn2 += (0.25 * cut) ** 2
        sd = (15.0**2 + worn2) ** 0.5
        through += any(thick - lost + rng.gauss(0, sd) < 0 for _ in range(CORNERS))
    return through / SHOPS


@pytest.mark.parametrize("veneer_mm", [0.5, 0.7, 0.9])
def test_odds_of_veneer_at_the_corners(veneer_mm):
    """P120, P150 and P180 on a plain block, on three veneers: within 1.5 points or a tenth."""
    papers = ("P120", "P150", "P180")
    start = face(sides=SIDES, veneer_mm=veneer_mm)
    corners = type(start)((start.parts[0], start.parts[2]))
    works = [Stroke(grade_of(paper), None, backing=Backing.WORKED) for paper in papers]
    lines = run_face(works, corners, [Stakes()] * len(works))
    ours = sum(
        loss.zone_odds
        for line in lines
        for loss in line.losses
        if loss.stake is Stake.VENEER and loss.zone == "corners"
    )
    assert ours == pytest.approx(
        _corners_simulated(5, papers, 1000 * veneer_mm), rel=0.1, abs=0.015
    )


def test_the_lattice_of_worlds_is_the_most_even_of_its_kind():
    """No generator has a worst error a hundredth less, each cause weighing 0.8 of the last."""
    errors = {a: _worst(a) for a in range(3, WORLDS, 2) if _differ(a)}
    assert errors[GENERATOR] <= 1.01 * min(errors.values())


def _differ(generator):
    return len({pow(generator, at, WORLDS) for at in range(len(Cause))}) == len(Cause)


def _worst(generator):
    """Return the worst error squared in a Korobov space of smoothness 2, weights falling by 0.8."""
    steps = [pow(generator, at, WORLDS) for at in range(len(Cause))]
    total = 0.0
    for number in range(WORLDS):
        product = 1.0
        for at, step in enumerate(steps):
            x = (number * step % WORLDS) / WORLDS
            product *= 1 + 0.5 * 0.8**at * 2 * math.pi**2 * (x * x - x + 1 / 6)
        total += product
    return total / WORLDS - 1
