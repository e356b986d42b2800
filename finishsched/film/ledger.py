"""The ledger: after every coat and every levelling, film, relief still to fill, veneer left.

Every quantity is carried in many worlds at once (see ``worlds``): in each of them the arithmetic is
exact, and a ledger run in two halves is the ledger run at once. Ranges are read off the worlds, so
that low, likely and high stay in order; what an abrading leaves is a distribution, and the next one
begins from that. One hand cuts hard or lightly throughout.

A coat lays the same film over high spots and hollows, or a little more in the hollows. A levelling
takes from the high spots; only what goes deeper than the hollows takes from those too. Relief still
to fill is how far the film in the hollows lies under the top of the ground: levelling flush leaves
film only in the hollows, and leaves that figure as it was.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from operator import add, mul, sub
from typing import NamedTuple, TypeAlias

from finishsched.film.abrading import USUAL, Abrading, Over, Stroke, bite_of, taken_um
from finishsched.film.worlds import Cause, Column, column, drawn, each, spread
from finishsched.model.ranges import NOTHING, Range

SEAL_UM = 5.0
"""A film that is likely thinner than this is a seal in the wood, no film to cut through (our
assumption): a first wash coat is scuffed by everybody."""

LOCAL_SHARE = 0.2
"""How much film laid since it was last levelled differs from place to place, one standard deviation
over the film (our assumption)."""
WORN_SHARE = 0.25
"""How much of what one sanding takes off wood differs from place to place, one standard deviation
over what it takes (our assumption)."""


@dataclass(frozen=True, slots=True)
class Laid:
    """One coat: what reaches the surface, wet, and what of that stays as film."""

    wet_um: Range
    """In um, which is ml for each square metre."""
    solids: Range
    """Share of it that stays as film, 0 to 1."""
    uneven: Range
    """Share of the film that stands up as ridges and orange peel."""
    hollows: Range = Range(1.0, 1.0, 1.0)
    """Film in the hollows over film on the high spots, 1 or more."""


@dataclass(frozen=True, slots=True)
class Filled:
    """Pores filled once: which share of the hollows is left, 0 to 1."""

    left: Range
    seams_um: Range = NOTHING
    """Hollows that no filler takes out."""


@dataclass(frozen=True, slots=True)
class Gauged:
    """A film gauge was read: this is the film now, whatever was reckoned."""

    film_um: Range


Work: TypeAlias = Laid | Filled | Gauged | Stroke | None
"""One step as the ledger sees it; None for a step that changes nothing."""


@dataclass(frozen=True, slots=True)
class Ground:
    """What the work begins on."""

    hollow_um: Range
    """How deep its hollows are."""
    thirst_um: Range = NOTHING
    """What the bare wood drinks of the first coat, wet, in um (ml for each square metre)."""
    veneer_um: float | None = None
    """None for solid wood."""
    film_um: Range = NOTHING
    """Film that is there already, no thinner in its hollows."""
    film_share: Range = Range(1.0, 1.0, 1.0)
    """Film that a coat lays here over what it lays in the field: less at an arris."""


class Course(NamedTuple):
    """Where the work stands in one world, in um."""

    film_um: float
    hollow_um: float
    """Depth of the ground's hollows."""
    in_hollows_um: float
    """Film in the hollows."""
    ridges_um: float
    """Of the film, what stands up since it was last levelled."""
    loose_um: float
    """Of the film, what was laid since it was last levelled."""
    thirst_um: float
    wood_um: float
    """Taken off the wood since the work began."""
    worn_um2: float
    """How much that differs from place to place: a variance."""

    @property
    def relief_um(self) -> float:
        """What the hollows still want before they are as high as the ground."""
        return max(0.0, self.hollow_um - self.in_hollows_um)

    @property
    def surface_um(self) -> float:
        """How far the face in the hollows lies below the high spots."""
        return max(0.0, self.film_um + self.hollow_um - self.in_hollows_um)


class Worlds(NamedTuple):
    """Where the work stands in every world: each figure of a ``Course`` as a column.

    What a step leaves as it was is the same column before and after it.
    """

    film_um: Column
    hollow_um: Column
    in_hollows_um: Column
    ridges_um: Column
    loose_um: Column
    thirst_um: Column
    wood_um: Column
    worn_um2: Column

    def __hash__(self) -> int:
        """Tell apart by film and wood what hardly ever is alike in both, and that much sooner."""
        return hash((self.film_um, self.wood_um))

    @property
    def relief_um(self) -> Column:
        """What the hollows still want, world by world."""
        rows = zip(self.hollow_um, self.in_hollows_um, strict=True)
        return tuple([hollow - inside if hollow > inside else 0.0 for hollow, inside in rows])

    @property
    def surface_um(self) -> Column:
        """How far the face in the hollows lies below the high spots, world by world."""
        rows = zip(map(add, self.film_um, self.hollow_um), self.in_hollows_um, strict=True)
        return tuple([up - inside if up > inside else 0.0 for up, inside in rows])


@dataclass(frozen=True, slots=True)
class State:
    """Where the work stands, in every world, the likely one first."""

    worlds: Worlds
    film_share: Column
    veneer_at_first_um: float | None = None

    @property
    def courses(self) -> tuple[Course, ...]:
        """World by world, the likely one first."""
        return tuple(map(Course, *self.worlds))

    @property
    def likely(self) -> Course:
        """The likely world."""
        return Course(*(figures[0] for figures in self.worlds))

    @property
    def film_um(self) -> Range:
        """Film over the high spots; never negative."""
        return spread(self.worlds.film_um)

    @property
    def relief_um(self) -> Range:
        """What the hollows still want; never negative."""
        return spread(self.worlds.relief_um)

    @property
    def wood_um(self) -> Range:
        """What was taken off the wood since the work began."""
        return spread(self.worlds.wood_um)

    @property
    def veneer_um(self) -> Range | None:
        """Veneer left over the high spots, never negative; None for solid wood."""
        at_first_um = self.veneer_at_first_um
        if at_first_um is None:
            return None
        used = self.wood_um
        ends = (max(0.0, at_first_um - gone) for gone in (used.high, used.likely, used.low))
        return Range(*ends)

    @property
    def veneer_used_percent(self) -> Range | None:
        """Share of the veneer that is gone, up to 100; None for solid wood."""
        if not self.veneer_at_first_um:
            return None
        whole_um, used = self.veneer_at_first_um, self.wood_um
        ends = (min(100.0, 100 * gone / whole_um) for gone in (used.low, used.likely, used.high))
        return Range(*ends)


@dataclass(frozen=True, slots=True)
class Line:
    """One step in the ledger."""

    work: Work
    before: State
    after: State
    cut: Column
    """What it took off the high spots, film and wood together, in every world."""

    @property
    def laid_um(self) -> Range:
        """Film that it added over the high spots."""
        if not isinstance(self.work, Laid):
            return NOTHING
        return spread(grown(self.before.worlds.film_um, self.after.worlds.film_um))

    @property
    def taken_um(self) -> Range:
        """What it took off the high spots, film and wood together."""
        return spread(self.cut)

    @property
    def wood_um(self) -> Range:
        """Of that, what came off the wood."""
        return spread(grown(self.before.worlds.wood_um, self.after.worlds.wood_um))


def grown(before: Column, after: Column) -> Column:
    """Return how much more there is after a step, world by world."""
    return tuple(map(sub, after, before))


NONE = column(0.0)
NO_CUT = NONE


def begin(ground: Ground) -> State:
    """Return the state before any work; ``veneer_um`` above 0 where there is a veneer."""
    hollows = drawn(ground.hollow_um, Cause.GROUND)
    thirsts = drawn(ground.thirst_um, Cause.GROUND)
    films = drawn(ground.film_um, Cause.GROUND)
    worlds = Worlds(films, hollows, films, NONE, NONE, thirsts, NONE, NONE)
    return State(worlds, drawn(ground.film_share, Cause.ARRIS), ground.veneer_um)


def run(works: Iterable[Work], state: State, by: Abrading = USUAL) -> tuple[Line, ...]:
    """Return the ledger of ``works``, one line each, from ``state`` on."""
    lines = []
    for work in works:
        line = enter(work, state, by)
        state = line.after
        lines.append(line)
    return tuple(lines)


def enter(work: Work, state: State, by: Abrading = USUAL) -> Line:
    """Return one line of the ledger: ``work`` done at ``state``."""
    match work:
        case Laid():
            return Line(work, state, _coated(work, state), NO_CUT)
        case Filled():
            return Line(work, state, _filled(work, state), NO_CUT)
        case Gauged():
            return Line(work, state, _gauged(work, state), NO_CUT)
        case Stroke():
            cut = cuts_of(work, state, by)
            return Line(work, state, cut_down(state, cut, scuffs=work.scuffs), cut)
        case _:
            return Line(work, state, state, NO_CUT)


def bites_of(stroke: Stroke, by: Abrading = USUAL) -> Column:
    """Return how deep the scratches of an abrading go, in every world."""
    return drawn(bite_of(stroke, by), Cause.HAND)


def cuts_of(stroke: Stroke, state: State, by: Abrading = USUAL) -> Column:
    """Return what an abrading would take off the high spots at ``state``, in every world."""
    return cut_by(stroke, state, bites_of(stroke, by))


def cut_by(stroke: Stroke, state: State, bites: Column) -> Column:
    """Return what an abrading takes off the high spots, with scratches of such depths."""
    if stroke.only_bites:
        return bites
    met = state.worlds
    rows = zip(met.film_um, met.surface_um, met.ridges_um, bites, strict=True)
    return tuple(taken_um(stroke, Over(*over), bite_um) for *over, bite_um in rows)


def cut_down(state: State, cut: Column, *, scuffs: bool) -> State:
    """Return the state after so much was taken off, 0 or more; ``scuffs`` leaves the ridges."""
    was = state.worlds
    pairs = tuple(zip(was.film_um, cut, strict=True))
    films = tuple([film - um if film > um else 0.0 for film, um in pairs])
    off_wood = tuple([um - film if um > film else 0.0 for film, um in pairs])
    worlds = was._replace(
        film_um=films,
        # Never above the face that is left; wood sanded away makes no hollow shallower here.
        in_hollows_um=tuple(map(min, was.in_hollows_um, map(add, was.hollow_um, films))),
        # A scuff breaks the shine; the ridges are still there for the next levelling.
        ridges_um=tuple(map(min, was.ridges_um, films)) if scuffs else NONE,
        loose_um=tuple(map(min, was.loose_um, films)) if scuffs else NONE,
    )
    if any(off_wood):
        worn = (
            worn_um2 + (WORN_SHARE * um) ** 2
            for worn_um2, um in zip(was.worn_um2, off_wood, strict=True)
        )
        worlds = worlds._replace(
            wood_um=tuple(map(add, was.wood_um, off_wood)), worn_um2=tuple(worn)
        )
    return replace(state, worlds=worlds)


def _coated(coat: Laid, state: State) -> State:
    was = state.worlds
    drunk, thirst = _drunk(coat, was.thirst_um)
    dry = _dry(coat, drunk, state.film_share)
    in_hollows = map(add, was.in_hollows_um, dry)
    if coat.hollows.high > 1:
        # A hollow takes more only while there is one.
        extra = map(min, map(mul, dry, _more_in(coat.hollows)), was.surface_um)
        in_hollows = map(add, in_hollows, extra)
    worlds = was._replace(
        film_um=tuple(map(add, was.film_um, dry)),
        in_hollows_um=tuple(in_hollows),
        ridges_um=tuple(map(add, was.ridges_um, _ridged(coat, dry))),
        loose_um=tuple(map(add, was.loose_um, dry)),
        thirst_um=thirst,
    )
    return replace(state, worlds=worlds)


def _drunk(coat: Laid, thirst_um: Column) -> tuple[Column, Column]:
    """Return what the wood drinks of a coat, and what it would drink of the next one."""
    if thirst_um is NONE:
        return NONE, NONE
    drunk = tuple(map(min, drawn(coat.wet_um, Cause.LAID), thirst_um))
    left = tuple(map(sub, thirst_um, drunk))
    return drunk, left if any(left) else NONE


@lru_cache(maxsize=64)  # coat after coat is laid alike, once the wood has drunk
def _dry(coat: Laid, drunk: Column, film_share: Column) -> Column:
    """Return the film that a coat leaves over the high spots, less what the wood drank of it."""
    left = map(sub, drawn(coat.wet_um, Cause.LAID), drunk)
    solid = map(mul, left, drawn(coat.solids, Cause.SOLIDS, most=1.0))
    return tuple(map(mul, solid, film_share))


@lru_cache(maxsize=64)
def _more_in(hollows: Range) -> Column:
    """Return how much more than elsewhere stays in the hollows, over what stays elsewhere."""
    return each(lambda times: max(0.0, times - 1), drawn(hollows, Cause.UNEVEN))


def _ridged(coat: Laid, dry: Column) -> Iterable[float]:
    """Return what of a coat's film stands up."""
    return map(mul, dry, drawn(coat.uneven, Cause.UNEVEN, most=0.95))


def _filled(fill: Filled, state: State) -> State:
    lefts = drawn(fill.left, Cause.FILLER, most=1.0)
    seams = drawn(fill.seams_um, Cause.GROUND)
    was = state.worlds

    def filled(
        hollow_um: float, inside_um: float, relief_um: float, left: float, seam_um: float
    ) -> float:
        seams_um = min(relief_um, seam_um)
        return min(hollow_um, inside_um) + (seams_um + (relief_um - seams_um) * left)

    hollows = each(filled, was.hollow_um, was.in_hollows_um, was.relief_um, lefts, seams)
    return replace(state, worlds=was._replace(hollow_um=hollows))


def _gauged(reading: Gauged, state: State) -> State:
    """Return the state with the film as read; the hollows keep their depth under the face."""
    was = state.worlds
    films = tuple(map(mul, drawn(reading.film_um, Cause.GAUGE), state.film_share))

    def inside(in_hollows_um: float, film_um: float, film_was_um: float) -> float:
        return max(0.0, in_hollows_um + film_um - film_was_um)

    def thirst(film_um: float, thirst_um: float) -> float:
        return 0.0 if film_um > 0 else thirst_um

    worlds = was._replace(
        film_um=films,
        in_hollows_um=each(inside, was.in_hollows_um, films, was.film_um),
        ridges_um=tuple(map(min, was.ridges_um, films)),
        loose_um=tuple(map(min, was.loose_um, films)),
        thirst_um=each(thirst, films, was.thirst_um),
    )
    return replace(state, worlds=worlds)
