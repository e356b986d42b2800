"""What sanding takes off wood, and levelling off film, by grade and by how far it goes.

No printed figure was found for how deep an abrasive scratches. Everything here is a share of the
mean grain: typical scratches 0.15 to 0.25 of it, the deepest 0.5 (our assumption). Wood is sanded
until the scratches of the grade before are gone, about half a grain for each grade; 120, 180, 220
then take 0.14 mm. The shares stand in ``Abrading`` and can be changed.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from finishsched.model.doing import Abrades
from finishsched.model.film import Reach
from finishsched.model.grades import Grade
from finishsched.model.ranges import Range
from finishsched.model.schedule import StageName, Verb

DEEPEST_SCRATCH_SHARE = 0.5
"""Of the mean grain (our assumption)."""

WARN_USED_PERCENT = 30.0
STOP_USED_PERCENT = 50.0
"""Of a veneer: a warning at 30 % used, a stop to confirm at 50 % (common practice)."""

SAFE_SHARE = 1 / 3
"""Of a 50 to 60 um clear film, no more than this comes off without fear (found in print)."""


@dataclass(frozen=True, slots=True)
class Abrading:
    """The shares that removal is reckoned by; all are our assumption, and may be changed."""

    sanding: Range = Range(0.3, 0.5, 0.8)
    """Of the grain, off wood, for each grade of a series."""
    scuff: Range = Range(0.01, 0.03, 0.12)
    """Of the grain, off film: four light passes and no more (WOOD magazine, "Just a scuff is
    enough", undated). The low end is what ``strokes`` reckons for eight passes of 10 N; by the high
    one a light scuff of a 23 um lacquer coat took about 7.6 um (found, its grade not named)."""
    level: Range = Range(0.10, 0.20, 0.50)
    """Of the grain, off film, besides the unevenness of the coats."""
    rub: Range = Range(0.02, 0.06, 0.15)
    """Of the grain, in rubbing out: wool and powders give way. Thirty passes of 0000 wool take 1.3
    um as ``strokes`` reckons; a medium machine polish took 2.5 to 3 um (found, weak)."""
    light: float = 0.4
    """Of what a scuff or a rub takes, by a hand that is said to go lightly: 4 N where it usually
    presses with 10, and removal goes with force (Preston, 1927, from memory)."""
    wet: float = 0.8
    """Of what the same grade takes dry: the liquid lifts swarf and scratches stay shallower."""


USUAL = Abrading()


class Backing(StrEnum):
    """What is behind the paper."""

    HARD = "hard block"
    """One that is kept three quarters on at the edges."""
    WORKED = "block"
    """A plain one, worked at the edge as elsewhere."""
    CORK = "cork or felt"
    FINGERS = "fingers or foam"
    KEPT_OFF = "kept off the edges"
    """Any of them, with one or two strokes at the edges when the face is done."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """One abrading, as it is done."""

    grade: Grade
    reach: Reach | None
    """None for bare sanding, which takes the scratches of the grade before out."""
    wet: bool = False
    rubs: bool = False
    """True for rubbing out: only the scratches, whatever unevenness there is."""
    backing: Backing = Backing.WORKED
    """What is behind the paper."""
    light: bool = False
    """True for a few light strokes, to give the next coat tooth or to soften a shine."""

    @property
    def scuffs(self) -> bool:
        """True when it follows the face as it is, and chases no hollow."""
        return self.rubs or self.reach is Reach.SCUFF

    @property
    def only_bites(self) -> bool:
        """True when it takes off what its scratches go deep, whatever the face is like."""
        return self.reach is None or self.scuffs


class Over(NamedTuple):
    """What an abrasive meets in one world, in um."""

    film_um: float
    """Over the high spots."""
    surface_um: float
    """How far the face in the hollows lies below the high spots."""
    ridges_um: float
    """Of the film, what stands up as ridges and orange peel since it was last levelled."""


def bite_of(stroke: Stroke, by: Abrading = USUAL) -> Range:
    """Return how deep an abrading cuts by its scratches alone, in um.

    What a cut back takes is reckoned from the high wood: once film is gone there, a scuff of it.
    """
    share = by.level
    if stroke.reach is None:
        share = by.sanding
    elif stroke.rubs:
        share = by.rub
    elif stroke.reach in (Reach.SCUFF, Reach.CUT_BACK):
        share = by.scuff
    light = by.light if stroke.light and stroke.scuffs else 1.0
    return share.times(stroke.grade.grain_um * light * (by.wet if stroke.wet else 1.0))


def taken_um(stroke: Stroke, over: Over, bite_um: float) -> float:
    """Return what one abrading takes off the high spots, in um, film and what is under it together.

    A coarser grade never takes less; flush never less than level, level never less than a scuff of
    the same bite. Cutting back takes all the film.

    Source: our assumption; no figure in print was found.

    Args:
        stroke: the grade, how far it goes, wet or dry.
        over: what the abrasive meets: film, surface and ridges, in um, 0 or more.
        bite_um: um that its scratches take, 0 or more.

    """
    if stroke.only_bites:
        return bite_um
    if stroke.reach is Reach.LEVEL:
        return over.ridges_um + bite_um
    down_um = min(over.film_um, max(over.surface_um, over.ridges_um))
    if stroke.reach is Reach.CUT_BACK:
        down_um = over.film_um
    return max(over.ridges_um, down_um) + bite_um


def sanding_takes(grade: Grade, by: Abrading = USUAL) -> Range:
    """Return what sanding bare wood with one grade of a series takes, in um."""
    return by.sanding.times(grade.grain_um)


def usual_reach(verb: Verb, stage: StageName) -> Reach | None:
    """Return how far an abrading step goes when its schedule does not say (our assumption).

    Body coats are levelled; a seal, a fill and a cured face are scuffed; bare sanding has no reach.
    """
    if verb.does.reach is not None:
        return verb.does.reach
    abrades = verb.does.abrades
    if abrades is Abrades.WOOD:
        return None
    if abrades is Abrades.FILM and stage in (StageName.BODY, StageName.LEVEL):
        return Reach.LEVEL
    return Reach.SCUFF
