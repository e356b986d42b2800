"""A whole face, step by step, against a simulation that draws shops and places one by one.

The shipped schedule that cuts back, on walnut veneer with a holly stringing 0.3 mm proud and a
shell that lies 0.3 mm low. What each coat lays and each paper bites, likely and to either end, are
the program's own; how they add up in every zone, and how often something goes through, is worked
here with ``random`` alone.
"""

from __future__ import annotations

import random
from functools import cache
from statistics import NormalDist

import pytest

from finishsched.documents.library import shipped_products, shipped_schedules
from finishsched.film.abrading import Backing, Stroke, bite_of
from finishsched.film.face import begin_face, run_face
from finishsched.film.ledger import Laid
from finishsched.film.odds import Stake, Stakes
from finishsched.film.works import Terms, ground_of, works_of
from finishsched.film.zones import zones_of
from finishsched.model.film import Reach
from finishsched.model.job import Face, Inlay, Piece
from finishsched.model.ranges import Range
from finishsched.model.step import steps_of

STATED_UM, THIN_UM = 600.0, 280.0
"""A veneer that all of it is safe on, and one that it is not."""
SHOPS = {STATED_UM: 500, THIN_UM: 1500}
SIDES = (120.0, 90.0)
EDGE = {
    Backing.HARD: Range(1.0, 1.2, 1.5),
    Backing.KEPT_OFF: Range(0.4, 0.8, 1.3),
}
ARRIS = Range(0.5, 0.7, 0.9)
CAUSES = ("hand", "edge", "laid", "arris", "uneven", "given", "ground", "solids")
PLACES = {"field": 48, "edges": 28, "corners": 4, "holly inlay": 2, "shell inlay": 4}


def _piece(veneer_mm):
    thick = Face("top", length_mm=SIDES[0], width_mm=SIDES[1])
    holly = Inlay("holly", veneer_mm + 0.3, in_mm=veneer_mm, area_m2=450e-6, width_mm=1.0)
    shell = Inlay("shell", 0.3, stated_low_mm=0.3, area_m2=900e-6, width_mm=10.0)
    return Piece("p", "P", "any", (thick,), "walnut", veneer_mm, inlays=(holly, shell))


@cache
def _works():
    """Return the works of the schedule, the same on every veneer, and the thirst of its wood."""
    steps, products = steps_of(shipped_schedules()["shellac-cut-back"]), shipped_products()
    reckoned = works_of(_piece(0.6), steps, Terms(products))
    ground = ground_of(_piece(0.6), steps, products)
    return [one.work for one in reckoned if one.work is not None], ground


def _at(z, range_):
    side = range_.high - range_.likely if z > 0 else range_.likely - range_.low
    return max(0.0, range_.likely + z * side / 1.645)


def _drawn(rng, shops):
    """Give for each shop how far out each of its causes is, every cause evenly over all shops."""
    even = [NormalDist().inv_cdf((number + 0.5) / shops) for number in range(shops)]
    columns = [rng.sample([max(-2.6, min(2.6, z)) for z in even], shops) for _ in CAUSES]
    return [dict(zip(CAUSES, row, strict=True)) for row in zip(*columns, strict=True)]


class Zone:
    """One zone in one drawn shop, and its places."""

    def __init__(self, rng, name, thick, thirst=0.0, share=1.0):
        self.thick, self.thirst, self.share = thick, thirst, share
        self.film = self.ridges = self.loose = self.wood = 0.0
        self.here = [rng.gauss(0, 15.0) for _ in range(PLACES[name])]
        self.through = False

    def coat(self, wet, solids, uneven):
        """Lay one coat."""
        drunk = min(wet, self.thirst)
        self.thirst -= drunk
        um = (wet - drunk) * solids * self.share
        self.film, self.loose = self.film + um, self.loose + um
        self.ridges += um * uneven

    def cut(self, rng, um):
        """Take so much off; where that is wood, each place loses more or less than the mean."""
        wood = max(0.0, um - self.film)
        self.film = max(0.0, self.film - um)
        self.ridges = self.loose = 0.0
        self.wood += wood
        if wood:
            self.here = [one + rng.gauss(0, 0.25 * wood) for one in self.here]
            self.through = self.through or self.thick - self.wood + min(self.here) < 0

    def shows(self, rng, presses, bite, likely):
        """Tell whether a levelling shows the ground somewhere."""
        return any(
            self.film + rng.gauss(0, 0.2 * self.loose)
            < presses * (bite + rng.gauss(0, 0.5 * likely) + rng.gauss(2.0, 1.0))
            for _ in self.here
        )


class Shop:
    """One drawn shop: how it lays and cuts, and the zones of the face that it works."""

    def __init__(self, rng, veneer_um, z):
        self.rng, self.z = rng, z
        given = self.z["given"] / 1.645
        veneer = veneer_um + given * 40.0
        holly_side = min(40.0, 0.1 * (veneer_um + 300))
        thirst = _at(self.z["ground"], _works()[1].thirst_um)
        share = _at(self.z["arris"], ARRIS)
        self.proud = 300 + given * holly_side
        holly = veneer_um + 300 + given * holly_side
        self.zones = {
            "field": Zone(rng, "field", veneer, thirst),
            "edges": Zone(rng, "edges", veneer, thirst, share),
            "corners": Zone(rng, "corners", veneer, thirst, share),
            "holly inlay": Zone(rng, "holly inlay", holly, thirst),
            "shell inlay": Zone(rng, "shell inlay", 300.0),
        }

    def coat(self, work):
        """Lay one coat everywhere."""
        wet, solids = _at(self.z["laid"], work.wet_um), _at(self.z["solids"], work.solids)
        uneven = min(0.95, _at(self.z["uneven"], work.uneven))
        for zone in self.zones.values():
            zone.coat(wet, solids, uneven)

    def paper(self, work):
        """Work one paper over the face; tell whether it shows the ground through the film."""
        bite, likely = _at(self.z["hand"], bite_of(work)), bite_of(work).likely
        edge = EDGE[work.backing]
        corner = Range(*(end**1.5 for end in (edge.low, edge.likely, edge.high)))
        pressed = {
            "field": 1.0,
            "edges": _at(self.z["edge"], edge),
            "corners": _at(self.z["edge"], corner),
        }
        field, holly = self.zones["field"], self.zones["holly inlay"]
        above = self.proud + field.wood - holly.wood + holly.film - field.film
        levels, cut = work.reach is Reach.LEVEL, {}
        for name, presses in pressed.items():
            zone = self.zones[name]
            down = {None: 0.0, Reach.LEVEL: zone.ridges, Reach.CUT_BACK: zone.film}[work.reach]
            cut[name] = down + presses * bite
        cut["holly inlay"] = above + cut["field"]
        shown = levels and any(
            self.zones[name].shows(self.rng, pressed.get(name, 1.0), bite, likely) for name in cut
        )
        for name, um in cut.items():
            self.zones[name].cut(self.rng, um)
        return shown


@cache
def _simulated(veneer_um):
    """Return by step and zone the mean film and the mean ground left, and how often what went.

    Film that was cut through by every step; ground that is through by the last.
    """
    rng, shops = random.Random(3), SHOPS[veneer_um]  # noqa: S311  # draws shops, no secrets
    works = _works()[0]
    film = [dict.fromkeys(PLACES, 0.0) for _ in works]
    left = [dict.fromkeys(PLACES, 0.0) for _ in works]
    shown, through = [0.0] * len(works), dict.fromkeys(PLACES, 0.0)
    for z in _drawn(rng, shops):
        shop = Shop(rng, veneer_um, z)
        for at, work in enumerate(works):
            if isinstance(work, Laid):
                shop.coat(work)
            elif isinstance(work, Stroke):
                shown[at] += shop.paper(work) / shops
            for name, zone in shop.zones.items():
                film[at][name] += zone.film / shops
                left[at][name] += max(0.0, zone.thick - zone.wood) / shops
        for name, zone in shop.zones.items():
            through[name] += zone.through / shops
    return film, left, shown, through


@cache
def _reckoned(veneer_um):
    works, ground = _works()
    start = begin_face(zones_of(_piece(veneer_um / 1000)), ground)
    return run_face(works, start, [Stakes()] * len(works))


def _mean(values):
    return sum(values[1:]) / (len(values) - 1)


def test_film_and_ground_of_every_zone_after_every_step():
    """The means over all shops, within 4 % or 0.4 um of film and 1.5 % or 1.5 um of ground."""
    film, left, *_ = _simulated(STATED_UM)
    for line, drawn_film, drawn_left in zip(_reckoned(STATED_UM), film, left, strict=True):
        for part in line.after.parts:
            name, courses = part.zone.name, part.state.courses
            film_um = _mean([one.film_um for one in courses])
            pairs = zip(part.first, courses, strict=True)
            left_um = _mean([max(0.0, um - one.wood_um) for um, one in pairs])
            assert film_um == pytest.approx(drawn_film[name], rel=0.04, abs=0.4), name
            assert left_um == pytest.approx(drawn_left[name], rel=0.015, abs=1.5), name


def _through(lines, zone):
    """Return the odds that the ground of one zone is through by the end."""
    losses = [loss for line in lines for loss in line.losses]
    ground = [loss for loss in losses if loss.stake in (Stake.VENEER, Stake.INLAY)]
    return sum(dict(loss.by_zone).get(zone, 0.0) for loss in ground)


def test_odds_of_every_zone_and_of_every_levelling():
    """Ground that is through by the end, film at each levelling: within 1.5 points or a tenth."""
    *_, shown, through = _simulated(THIN_UM)
    lines = _reckoned(THIN_UM)
    for name, counted in through.items():
        assert _through(lines, name) == pytest.approx(counted, rel=0.1, abs=0.015), name
    for line, counted in zip(lines, shown, strict=True):
        if isinstance(line.work, Stroke) and line.work.reach is Reach.LEVEL:
            assert line.odds == pytest.approx(counted, rel=0.1, abs=0.015)
    assert through["edges"] > 0.1


def test_nothing_goes_through_on_the_veneer_that_the_schedule_is_for():
    """On 0.6 mm with both inlays no zone's ground is through by the end in a shop of a thousand."""
    lines = _reckoned(STATED_UM)
    assert all(_through(lines, name) < 1e-3 for name in PLACES)
