"""The ledger: after every coat and every levelling, film, relief still to fill, veneer left.

Every quantity is carried in three cases: ``thin`` takes the worst end of every range at once (least
laid, most taken, deepest hollows), ``thick`` the best, ``likely`` the middle. So low, likely and
high stay in order, and hold whatever the ranges hold. In each case the arithmetic is exact, and a
ledger run in two halves is the ledger run at once.

A coat lays the same film over high spots and hollows, or a little more in the hollows. A levelling
takes from the high spots; only what goes deeper than the hollows takes from those too. Relief still
to fill is how far the film in the hollows lies under the top of the ground: levelling flush leaves
film only in the hollows, and leaves that figure as it was.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TypeAlias

from finishsched.film.abrading import USUAL, Abrading, Case, Over, Stroke, taken_um
from finishsched.mixing.amount import NOTHING, Range
from finishsched.model.film import Reach

SEAL_UM = 5.0
"""A film that is likely thinner than this is a seal in the wood, no film to cut through (our
assumption): a first wash coat is scuffed by everybody."""

STANDARD_DEVIATIONS = 2.85
"""How many lie between the likely and the end case of a margin: three independent things (how much
was laid, how hard the paper cut, how uneven the coats were) at their 5 % ends at once."""


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


@dataclass(frozen=True, slots=True)
class Course:
    """Where the work stands in one case, in um."""

    film_um: float
    hollow_um: float
    """Depth of the ground's hollows."""
    in_hollows_um: float
    """Film in the hollows."""
    ridges_um: float
    """Of the film, what stands up since it was last levelled."""
    thirst_um: float
    wood_um: float
    """Taken off the wood since the work began."""

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
    """Where the work stands, in every case."""

    thin: Course
    likely: Course
    thick: Course
    veneer_at_first_um: float | None = None

    def course(self, case: Case) -> Course:
        """Return one case."""
        if case is Case.LIKELY:
            return self.likely
        return self.thin if case is Case.THIN else self.thick

    @property
    def film_um(self) -> Range:
        """Film over the high spots; never negative."""
        return Range(self.thin.film_um, self.likely.film_um, self.thick.film_um)

    @property
    def relief_um(self) -> Range:
        """What the hollows still want; never negative."""
        return Range(self.thick.relief_um, self.likely.relief_um, self.thin.relief_um)

    @property
    def wood_um(self) -> Range:
        """What was taken off the wood since the work began."""
        return Range(self.thick.wood_um, self.likely.wood_um, self.thin.wood_um)

    @property
    def veneer_um(self) -> Range | None:
        """Veneer left over the high spots, never negative; None for solid wood."""
        at_first_um = self.veneer_at_first_um
        if at_first_um is None:
            return None
        used = self.wood_um
        low, likely, high = (
            max(0.0, at_first_um - gone) for gone in (used.high, used.likely, used.low)
        )
        return Range(low, likely, high)

    @property
    def veneer_used_percent(self) -> Range | None:
        """Share of the veneer that is gone, up to 100; None for solid wood."""
        if not self.veneer_at_first_um:
            return None
        whole_um, used = self.veneer_at_first_um, self.wood_um
        low, likely, high = (
            min(100.0, 100 * gone / whole_um) for gone in (used.low, used.likely, used.high)
        )
        return Range(low, likely, high)


@dataclass(frozen=True, slots=True)
class Line:
    """One step in the ledger."""

    work: Work
    after: State
    laid_um: Range
    """Film that it added over the high spots."""
    taken_um: Range
    """What it took off the high spots, film and wood together."""
    wood_um: Range
    """Of that, what came off the wood."""
    odds: float | None
    """How likely it cuts through the film somewhere, 0 to 1; None where there is no film to cut."""


def begin(ground: Ground) -> State:
    """Return the state before any work; ``veneer_um`` above 0 where there is a veneer."""

    def course(case: Case) -> Course:
        hollow_um, thirst_um = case.taking(ground.hollow_um), case.taking(ground.thirst_um)
        return Course(0.0, hollow_um, 0.0, 0.0, thirst_um, 0.0)

    return State(course(Case.THIN), course(Case.LIKELY), course(Case.THICK), ground.veneer_um)


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
    thin, likely, thick = (_course_after(work, state.course(case), case, by) for case in Case)
    if isinstance(work, Gauged):
        thin, likely, thick = _in_order_again(thin, likely, thick)
    after = replace(state, thin=thin, likely=likely, thick=thick)
    taken = cut_of(work, state, by) if isinstance(work, Stroke) else NOTHING
    return Line(
        work=work,
        after=after,
        laid_um=_less(after.film_um, state.film_um) if isinstance(work, Laid) else NOTHING,
        taken_um=taken,
        wood_um=_less(after.wood_um, state.wood_um),
        odds=odds_of(work, state, by) if isinstance(work, Stroke) else None,
    )


def cut_of(stroke: Stroke, state: State, by: Abrading = USUAL) -> Range:
    """Return what an abrading would take off the high spots at ``state``, low, likely and high."""
    least, likely, most = (_cut(stroke, state, case, by) for case in reversed(Case))
    return Range(min(least, likely), likely, max(most, likely))


def odds_of(stroke: Stroke, state: State, by: Abrading = USUAL) -> float | None:
    """Return how likely an abrading cuts through the film, 0 to 1; None where there is no film.

    The margin is the film less what is taken. Its likely value is its middle; either side is half
    of a normal distribution, with ``STANDARD_DEVIATIONS`` of it between the middle and the end
    case (our assumption). A film likely under ``SEAL_UM`` is a seal in the wood.
    """
    if state.likely.film_um < SEAL_UM or stroke.reach is None:
        return None
    thin, likely, thick = (
        state.course(case).film_um - _cut(stroke, state, case, by) for case in Case
    )
    side = likely - thin if likely > 0 else thick - likely
    if side <= 0:
        return 0.0 if likely > 0 else 1.0
    deviations = likely / (side / STANDARD_DEVIATIONS)
    return 0.5 * math.erfc(deviations / math.sqrt(2))


def _cut(stroke: Stroke, state: State, case: Case, by: Abrading) -> float:
    return taken_um(stroke, _over(state.course(case)), case, by)


def _over(course: Course) -> Over:
    return Over(course.film_um, course.surface_um, course.ridges_um)


def _course_after(work: Work, course: Course, case: Case, by: Abrading) -> Course:
    match work:
        case Laid():
            return _coated(work, course, case)
        case Filled():
            return _filled(work, course, case)
        case Gauged():
            return _gauged(work, course, case)
        case Stroke():
            cut_um = taken_um(work, _over(course), case, by)
            return _cut_down(course, cut_um, scuffs=_only_scuffs(work))
        case _:
            return course


def _coated(coat: Laid, course: Course, case: Case) -> Course:
    wet_um = case.adding(coat.wet_um)
    drunk_um = min(wet_um, course.thirst_um)
    dry_um = (wet_um - drunk_um) * case.adding(coat.solids)
    # A hollow takes more only while there is one.
    extra_um = min(dry_um * (case.adding(coat.hollows) - 1), course.surface_um)
    return replace(
        course,
        film_um=course.film_um + dry_um,
        in_hollows_um=course.in_hollows_um + dry_um + extra_um,
        ridges_um=course.ridges_um + dry_um * case.taking(coat.uneven),
        thirst_um=course.thirst_um - drunk_um,
    )


def _filled(fill: Filled, course: Course, case: Case) -> Course:
    seams_um = min(course.relief_um, case.taking(fill.seams_um))
    left_um = seams_um + (course.relief_um - seams_um) * case.taking(fill.left)
    return replace(course, hollow_um=min(course.hollow_um, course.in_hollows_um) + left_um)


def _gauged(reading: Gauged, course: Course, case: Case) -> Course:
    """Return the course with the film as read; the hollows keep their depth under the face."""
    film_um = max(0.0, case.adding(reading.film_um))
    return replace(
        course,
        film_um=film_um,
        in_hollows_um=max(0.0, course.in_hollows_um + film_um - course.film_um),
        thirst_um=0.0 if film_um > 0 else course.thirst_um,
    )


def _in_order_again(*courses: Course) -> list[Course]:
    """Return the three cases with hollows and ridges in order: thin the worst, thick the best.

    A reading makes the films alike, so that what went with a thick or a thin one no longer does.
    """
    left = sorted((one.hollow_um - one.in_hollows_um for one in courses), reverse=True)
    ridges = sorted((one.ridges_um for one in courses), reverse=True)
    return [
        replace(
            one,
            hollow_um=max(one.hollow_um, left_um),
            in_hollows_um=max(one.hollow_um, left_um) - left_um,
            ridges_um=min(ridges_um, one.film_um),
        )
        for one, left_um, ridges_um in zip(courses, left, ridges, strict=True)
    ]


def _cut_down(course: Course, cut_um: float, *, scuffs: bool) -> Course:
    film_um = max(0.0, course.film_um - cut_um)
    return replace(
        course,
        film_um=film_um,
        # Never above the face that is left; wood sanded away makes no hollow shallower here.
        in_hollows_um=min(course.in_hollows_um, course.hollow_um + film_um),
        # A scuff breaks the shine; the ridges are still there for the next levelling.
        ridges_um=min(course.ridges_um, film_um) if scuffs else 0.0,
        wood_um=course.wood_um + max(0.0, cut_um - course.film_um),
    )


def _only_scuffs(stroke: Stroke) -> bool:
    return stroke.rubs or stroke.reach is Reach.SCUFF


def _less(after: Range, before: Range) -> Range:
    """Return by how much each end grew, in order again."""
    low, likely, high = (
        after.low - before.low,
        after.likely - before.likely,
        after.high - before.high,
    )
    return Range(min(low, likely), likely, max(high, likely))
