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

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
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


@dataclass(frozen=True, slots=True)
class State:
    """Where the work stands, in every world, the likely one first."""

    courses: tuple[Course, ...]
    film_share: Column
    veneer_at_first_um: float | None = None

    @property
    def likely(self) -> Course:
        """The likely world."""
        return self.courses[0]

    @property
    def film_um(self) -> Range:
        """Film over the high spots; never negative."""
        return spread(tuple(one.film_um for one in self.courses))

    @property
    def relief_um(self) -> Range:
        """What the hollows still want; never negative."""
        return spread(tuple(one.relief_um for one in self.courses))

    @property
    def wood_um(self) -> Range:
        """What was taken off the wood since the work began."""
        return spread(tuple(one.wood_um for one in self.courses))

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
        return self._grown(lambda course: course.film_um)

    @property
    def taken_um(self) -> Range:
        """What it took off the high spots, film and wood together."""
        return spread(self.cut)

    @property
    def wood_um(self) -> Range:
        """Of that, what came off the wood."""
        return self._grown(lambda course: course.wood_um)

    def _grown(self, of: Callable[[Course], float]) -> Range:
        pairs = zip(self.before.courses, self.after.courses, strict=True)
        return spread(tuple(of(after) - of(before) for before, after in pairs))


NO_CUT = column(0.0)


def begin(ground: Ground) -> State:
    """Return the state before any work; ``veneer_um`` above 0 where there is a veneer."""
    hollows = drawn(ground.hollow_um, Cause.GROUND)
    thirsts = drawn(ground.thirst_um, Cause.GROUND)
    films = drawn(ground.film_um, Cause.GROUND)
    courses = tuple(
        Course(film_um, hollow_um, film_um, 0.0, 0.0, thirst_um, 0.0, 0.0)
        for hollow_um, thirst_um, film_um in zip(hollows, thirsts, films, strict=True)
    )
    return State(courses, drawn(ground.film_share, Cause.ARRIS), ground.veneer_um)


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
    pairs = zip(state.courses, bites_of(stroke, by), strict=True)
    return tuple(taken_um(stroke, over_of(course), bite_um) for course, bite_um in pairs)


def over_of(course: Course) -> Over:
    """Return what an abrasive meets in one world."""
    return Over(course.film_um, course.surface_um, course.ridges_um)


def cut_down(state: State, cut: Column, *, scuffs: bool) -> State:
    """Return the state after so much was taken off, 0 or more; ``scuffs`` leaves the ridges."""
    pairs = zip(state.courses, cut, strict=True)
    return replace(state, courses=tuple(_lower(one, um, scuffs=scuffs) for one, um in pairs))


def _coated(coat: Laid, state: State) -> State:
    wet = drawn(coat.wet_um, Cause.LAID)
    solids = drawn(coat.solids, Cause.SOLIDS, most=1.0)
    uneven = drawn(coat.uneven, Cause.UNEVEN, most=0.95)
    hollows = drawn(coat.hollows, Cause.UNEVEN)

    def laid(  # one for each column
        course: Course, wet_um: float, solid: float, ridged: float, more: float, share: float
    ) -> Course:
        drunk_um = min(wet_um, course.thirst_um)
        dry_um = (wet_um - drunk_um) * solid * share
        # A hollow takes more only while there is one.
        extra_um = min(dry_um * (more - 1), course.surface_um) if more > 1 else 0.0
        return Course(
            course.film_um + dry_um,
            course.hollow_um,
            course.in_hollows_um + dry_um + extra_um,
            course.ridges_um + dry_um * ridged,
            course.loose_um + dry_um,
            course.thirst_um - drunk_um,
            course.wood_um,
            course.worn_um2,
        )

    columns = (state.courses, wet, solids, uneven, hollows, state.film_share)
    return replace(state, courses=tuple(map(laid, *columns)))


def _filled(fill: Filled, state: State) -> State:
    lefts = drawn(fill.left, Cause.FILLER, most=1.0)
    seams = drawn(fill.seams_um, Cause.GROUND)

    def filled(course: Course, left: float, seam_um: float) -> Course:
        seams_um = min(course.relief_um, seam_um)
        left_um = seams_um + (course.relief_um - seams_um) * left
        return course._replace(hollow_um=min(course.hollow_um, course.in_hollows_um) + left_um)

    return replace(state, courses=tuple(map(filled, state.courses, lefts, seams)))


def _gauged(reading: Gauged, state: State) -> State:
    """Return the state with the film as read; the hollows keep their depth under the face."""
    films = each(
        lambda film_um, share: film_um * share,
        drawn(reading.film_um, Cause.GAUGE),
        state.film_share,
    )

    def read(course: Course, film_um: float) -> Course:
        in_hollows_um = max(0.0, course.in_hollows_um + film_um - course.film_um)
        return Course(
            film_um,
            course.hollow_um,
            in_hollows_um,
            min(course.ridges_um, film_um),
            min(course.loose_um, film_um),
            0.0 if film_um > 0 else course.thirst_um,
            course.wood_um,
            course.worn_um2,
        )

    return replace(state, courses=tuple(map(read, state.courses, films)))


def _lower(course: Course, cut_um: float, *, scuffs: bool) -> Course:
    film_um = max(0.0, course.film_um - cut_um)
    wood_um = max(0.0, cut_um - course.film_um)
    return Course(
        film_um,
        course.hollow_um,
        # Never above the face that is left; wood sanded away makes no hollow shallower here.
        min(course.in_hollows_um, course.hollow_um + film_um),
        # A scuff breaks the shine; the ridges are still there for the next levelling.
        min(course.ridges_um, film_um) if scuffs else 0.0,
        min(course.loose_um, film_um) if scuffs else 0.0,
        course.thirst_um,
        course.wood_um + wood_um,
        course.worn_um2 + (WORN_SHARE * wood_um) ** 2,
    )
