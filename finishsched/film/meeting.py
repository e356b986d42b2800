"""One abrading where it meets one zone of a face: what it takes there, in every world."""

from __future__ import annotations

from dataclasses import dataclass
from operator import mul

from finishsched.film.abrading import USUAL, Abrading, Stroke
from finishsched.film.dishing import FLAT_UM, Beside, hand_takes_um, step_after
from finishsched.film.ledger import Course, Line, State, bites_of, cut_by
from finishsched.film.materials import FILM
from finishsched.film.strokes import grade_share
from finishsched.film.worlds import Cause, Column, column, drawn, each, spread
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
        pairs = zip(self.first, self.state.worlds.wood_um, strict=True)
        return spread(tuple(max(0.0, um - gone_um) for um, gone_um in pairs))


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
    pressed = tuple(map(mul, bites, presses))
    if zone.stands_by_itself:
        down = _down_to_the_field(stroke, part, field, pressed)
        return Met(part, _off_inlay(stroke, part, field, down), down, presses)
    cut = cut_by(stroke, state, pressed)
    return Met(part, cut, cut, presses)


def _down_to_the_field(stroke: Stroke, part: Part, field: Line, bites: Column) -> Column:
    """Return how deep a face-wide plane cuts into an inlay.

    A scuff follows the face as it is, and does not reach what lies low; anything else goes down to
    the field as it then is, and takes nothing of what lies lower still.
    """

    def down(up: float, own_um: float, beside_um: float, field_um: float, bite_um: float) -> float:
        above_um = up + own_um - beside_um
        if stroke.scuffs:
            return bite_um if above_um > -FLAT_UM else 0.0
        return max(0.0, above_um + field_um)

    own, beside = part.state.worlds.film_um, field.before.worlds.film_um
    return each(down, part.stands, own, beside, field.cut, bites)


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
    own, before, after = part.state.courses, field.before.courses, field.after.courses
    return each(off, part.stands, own, before, after, down)
