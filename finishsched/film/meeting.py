"""One abrading where it meets one zone of a face: what it takes there, in every world."""

from __future__ import annotations

from dataclasses import dataclass

from finishsched.film.abrading import USUAL, Abrading, Stroke, taken_um
from finishsched.film.dishing import FLAT_UM, Beside, hand_takes_um, step_after
from finishsched.film.ledger import Course, Line, State, bites_of, over_of
from finishsched.film.materials import FILM
from finishsched.film.strokes import grade_share
from finishsched.film.worlds import Cause, Column, column, drawn, spread
from finishsched.film.zones import Zone, ZoneKind
from finishsched.model.ranges import Range


@dataclass(frozen=True, slots=True)
class Part:
    """One zone where the work stands."""

    zone: Zone
    state: State
    stands: Column
    """How far its ground stands above the field's, below 0 where it lies lower, in um."""
    first: Column | None
    """How thick its veneer or inlay was at first, in um; None for solid wood."""
    field_wear: float
    """K of the field's wood, mm3/(N m)."""

    @property
    def left_um(self) -> Range | None:
        """Veneer or inlay left, never negative; None for solid wood."""
        if self.first is None:
            return None
        pairs = zip(self.first, self.state.courses, strict=True)
        return spread(tuple(max(0.0, um - one.wood_um) for um, one in pairs))


@dataclass(frozen=True, slots=True)
class Met:
    """One zone as one abrading meets it."""

    part: Part
    cut: Column
    """What it takes off, film and ground together."""
    down: Column
    """How deep it would go if nothing resisted: what film there is, is gone to this depth."""
    presses: Column
    """Times as much as in the field."""

    @property
    def zone(self) -> Zone:
        """Which zone."""
        return self.part.zone

    @property
    def state(self) -> State:
        """Where the work stood there before it."""
        return self.part.state


def meet(stroke: Stroke, part: Part, field: Line, by: Abrading = USUAL) -> Met:
    """Return what ``stroke`` takes in one zone; ``field`` is its line in the zone round that."""
    zone, state = part.zone, part.state
    if zone.kind is ZoneKind.FIELD:
        return Met(part, field.cut, field.cut, column(1.0))
    bites = bites_of(stroke, by)
    presses = drawn(zone.presses(stroke.backing), Cause.EDGE)
    if zone.stands_by_itself:
        pressed = tuple(um * harder for um, harder in zip(bites, presses, strict=True))
        down = _down_to_the_field(stroke, part, field, pressed)
        return Met(part, _off_inlay(stroke, part, field, down), down, presses)
    rows = zip(state.courses, bites, presses, strict=True)
    cut = tuple(taken_um(stroke, over_of(one), um * harder) for one, um, harder in rows)
    return Met(part, cut, cut, presses)


def _down_to_the_field(stroke: Stroke, part: Part, field: Line, bites: Column) -> Column:
    """Return how deep a face-wide plane cuts into an inlay.

    A scuff follows the face as it is, and does not reach what lies low; anything else goes down to
    the field as it then is, and takes nothing of what lies lower still.
    """
    rows = zip(part.stands, part.state.courses, field.before.courses, field.cut, bites, strict=True)

    def down(up: float, own: Course, beside: Course, field_cut_um: float, bite_um: float) -> float:
        above_um = up + own.film_um - beside.film_um
        if stroke.scuffs:
            return bite_um if above_um > -FLAT_UM else 0.0
        return max(0.0, above_um + field_cut_um)

    return tuple(down(*row) for row in rows)


def _off_inlay(stroke: Stroke, part: Part, field: Line, down: Column) -> Column:
    """Return what comes off: the film at once, of the inlay itself what its hardness lets go."""
    zone = part.zone
    own_wear = zone.material.wear_mm3_per_nm
    share = grade_share(stroke.grade)

    def off(up: float, own: Course, before: Course, after: Course, down_um: float) -> float:
        film_um = min(own.film_um, down_um)
        ground_um = down_um - film_um
        if ground_um <= 0:
            return film_um
        # The field beside it is film as long as any is left there.
        wear = FILM.wear_mm3_per_nm if after.film_um > 0 else field_wear
        beside = Beside(own_wear, wear, zone.width_mm, zone.area_mm2)
        if stroke.scuffs:
            return film_um + ground_um * min(1.0, own_wear / wear)
        field_cut_um = before.film_um - after.film_um + after.wood_um - before.wood_um
        stands_um = up + own.film_um - before.film_um
        keeps_um = step_after(beside, stroke.backing, stands_um, field_cut_um)
        most_um = hand_takes_um(beside, share)
        return film_um + max(0.0, min(ground_um - keeps_um, most_um))

    field_wear = part.field_wear
    rows = zip(
        part.stands,
        part.state.courses,
        field.before.courses,
        field.after.courses,
        down,
        strict=True,
    )
    return tuple(off(*row) for row in rows)
