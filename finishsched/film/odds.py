"""How likely an abrading goes through somewhere on a face, and what is lost where it does.

A face is many places, each of which is cut through or not; leaving their number out would make the
odds up to a hundred times too low. At one place the margin is M = T - E (r + b): T what lies there,
b what the paper takes, r how far the highest spots of the ground stand out, E how much harder it
presses there. Only the ground's high spots eat the film: where a ridge is film, there is film under
it. M differs from place to place with s, so that one place goes with Phi(-M / s), and a face of N
places with 1 - (1 - p)^N. That is reckoned in every world, where the hand, the amounts and the
pressure are one and the same all over the face, and the mean over the worlds is the odds.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from operator import add, sub

from finishsched.film.abrading import USUAL, Abrading, Stroke, bite_of
from finishsched.film.ledger import LOCAL_SHARE, WORN_SHARE, Course, Worlds
from finishsched.film.meeting import Met
from finishsched.film.worlds import Column, chance, column, each
from finishsched.film.zones import PROUD_SPOTS_SD_UM, PROUD_SPOTS_UM
from finishsched.model.film import Reach

SCATTER = 0.5
"""How much the depth of a cut differs from place to place, one standard deviation over what it
likely is: a tenth of the mean grain in levelling (our assumption)."""

FILLER_SKIN_UM = 25.0
"""How deep the high wood around filled pores may be cut before others stand open: a quarter of a
vessel of 0.1 mm (our assumption)."""

VENEER_PLACES_SD_UM = 15.0
"""How much a veneer's thickness differs from place to place, one standard deviation (our
assumption; sliced veneer is out by 30 to 50 um, from memory)."""


SAFE_SHARE_OF_GROUND = 0.5
"""Where no world has lost more of a veneer than this, there is no need to reckon."""
NONE_THROUGH = column(0.0)


class Stake(StrEnum):
    """What an abrading may go through."""

    FILM = "film"
    COLOUR = "colour"
    SEAL = "seal"
    FILLER = "filler"
    VENEER = "veneer"
    INLAY = "inlay"

    @property
    def is_of_ground(self) -> bool:
        """True for the wood itself, or what is laid in it."""
        return self in GROUND


GROUND = frozenset({Stake.VENEER, Stake.INLAY})


@dataclass(frozen=True, slots=True)
class Stakes:
    """What lies under the paper at one step, and what of that, gone through, counts as a loss."""

    under: frozenset[Stake] = frozenset()
    """Which of colour, seal and filler lie on the wood."""
    lost: frozenset[Stake] = frozenset(Stake)


@dataclass(frozen=True, slots=True)
class Mend:
    """What it costs to make good what was lost at one spot."""

    how: str
    hands_on_min: float
    wait_h: float
    """Of waiting, likely, before the work goes on at the spot."""


MENDS = {
    Stake.FILM: Mend("pad the spot in again coat by coat, feather it, level it", 30.0, 24.0),
    Stake.COLOUR: Mend("touch the pale spot in with stain or toner, seal it, pad on", 45.0, 24.0),
    Stake.SEAL: Mend("seal the spot again before anything else goes on", 10.0, 4.0),
    Stake.FILLER: Mend("fill the open pores of the spot again, level, seal", 30.0, 48.0),
    Stake.VENEER: Mend("let in a patch of the same veneer, level and finish it", 120.0, 72.0),
    Stake.INLAY: Mend("let in a new inlay, level and finish it", 150.0, 72.0),
}
"""Minutes and hours are common practice, no source; a product's own waits come on top."""


def through_film(
    stroke: Stroke, met: Met, by: Abrading = USUAL, *, below_um: float = 0.0
) -> Column:
    """Return in every world how likely the film and ``below_um`` of ground is cut through, 0 to 1.

    Source: our assumption, as the head of this module says; places by a normal distribution.

    Args:
        stroke: the abrading.
        met: what it takes in one zone, and of what is there.
        by: the shares that removal is reckoned by.
        below_um: um of ground that goes with the film, 0 or more.

    """
    scatter_um = SCATTER * bite_of(stroke, by).likely
    spots_um = 0.0 if stroke.scuffs else PROUD_SPOTS_UM.likely
    spots_sd_um = 0.0 if stroke.scuffs else PROUD_SPOTS_SD_UM
    places = met.zone.places

    def odds(film_um: float, loose_um: float, into_um: float, presses: float) -> float:
        local_um = LOCAL_SHARE * loose_um
        margin_um = film_um + below_um - into_um
        spread_um = math.sqrt(
            local_um**2 + (presses * spots_sd_um) ** 2 + (presses * scatter_um) ** 2
        )
        return somewhere(margin_um - presses * spots_um, spread_um, places)

    there = met.state.worlds
    into = _into_ground(stroke, there, met.down)
    return each(odds, there.film_um, there.loose_um, into, met.presses)


def through_ground(stroke: Stroke, met: Met, first: Column, by: Abrading = USUAL) -> Column:
    """Return in every world how likely this cut is the one that goes through veneer or inlay.

    ``first`` is how thick it was at first, in um. What was through before is not counted again.
    """
    there = met.state.worlds
    gone_um = max(map(add, there.wood_um, met.cut))
    if gone_um < SAFE_SHARE_OF_GROUND * min(first):
        return NONE_THROUGH
    bite_um = SCATTER * bite_of(stroke, by).likely
    places = met.zone.places

    def odds(
        course: Course, cut_um: float, into_um: float, presses: float, at_first_um: float
    ) -> float:
        film_um = course.film_um - into_um
        uneven_um2 = VENEER_PLACES_SD_UM**2 + course.worn_um2
        local_um = LOCAL_SHARE * course.loose_um
        # Off wood, what the ledger then keeps as worn: so the next cut begins where this one ended.
        worn_um = WORN_SHARE * max(0.0, cut_um - course.film_um)
        scatter_um = worn_um if stroke.reach is None else presses * bite_um
        spread_um = math.sqrt(uneven_um2 + local_um**2 + scatter_um**2)
        left_um = at_first_um - course.wood_um
        before = somewhere(left_um, math.sqrt(uneven_um2), places)
        return max(0.0, somewhere(left_um + film_um, spread_um, places) - before)

    into = _into_ground(stroke, there, met.cut)
    return each(odds, met.state.courses, met.cut, into, met.presses, first)


def somewhere(margin_um: float, spread_um: float, places: float) -> float:
    """Return how likely at least one of ``places`` places has a margin below 0, from 0 to 1.

    Source: independent normal margins, textbook; that they are independent is our assumption.

    Args:
        margin_um: um, the mean margin, any.
        spread_um: um, the standard deviation from place to place, 0 or more.
        places: how many, 0 or more; a part of one counts.

    """
    if spread_um <= 0:
        return 1.0 if margin_um < 0 else 0.0
    one = 0.5 * math.erfc(margin_um / spread_um / math.sqrt(2))
    # By logarithms: 1 - (1 - p)^N loses a small p.
    return 1.0 if one >= 1.0 else -math.expm1(places * math.log1p(-one))


def together(odds: Sequence[Column]) -> float:
    """Return how likely it happens in any of several zones, worlds being shared by all."""
    safe = [1.0] * len(odds[0])
    for zone in odds:
        safe = [left * (1 - p) for left, p in zip(safe, zone, strict=True)]
    return 1 - chance(safe)


def _into_ground(stroke: Stroke, there: Worlds, cut: Column) -> Column:
    """Return how deep under the film's mean a cut goes where the film is thinnest.

    Ridges are taken off as well and have film beneath, unless the cut goes down to the hollows.
    """
    if stroke.only_bites or stroke.reach is Reach.CUT_BACK:
        return cut
    if stroke.reach is not Reach.FLUSH:
        return tuple(map(sub, cut, there.ridges_um))

    def into(cut_um: float, surface_um: float, ridges_um: float) -> float:
        return cut_um if surface_um > ridges_um else cut_um - ridges_um

    return each(into, cut, there.surface_um, there.ridges_um)
