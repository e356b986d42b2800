"""What speaks against laying a coat now: the air, the night ahead, the film and the wood.

Limits of coatings guides (dew point as in ISO 8502-4, humidity), of data sheets, and where nothing
was found, of common practice. The product's own data sheet goes before all of them.
"""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum
from itertools import takewhile
from typing import NamedTuple

from finishsched.drying.air import (
    BLUSH_MARGIN_K,
    FILM_COOLING,
    LEAST_ROOM_C,
    MOST_HUMIDITY_PERCENT,
    Blush,
    air_answer,
    dew_point_c,
    emc_percent,
)
from finishsched.drying.course import Course
from finishsched.drying.forecast import Reading
from finishsched.drying.laws import AirState, Law, Stop, interval_factor, stop_reason
from finishsched.factors import HOUR_S
from finishsched.model.kinds import BLUSHING_KINDS as BLUSHING_KINDS  # noqa: PLC0414  # also asked for here
from finishsched.model.product import Mechanism, ProductKind
from finishsched.model.said import Teller, in_kept_units, told
from finishsched.model.schedule import Verb

COLD_SURFACE_K = 3.0
"""A piece this far below the air has not come to the room yet (our assumption)."""
HEAVY_FILM = 1.5
"""Normal films in one coat, above which a coat counts as heavy (our assumption)."""
WETTER_THAN_ROOM_PERCENT = 1.0
"""As for wood that dries again (our assumption)."""
NIGHT_S = 12 * HOUR_S
"""How far ahead a fresh film is worth looking after (our assumption)."""

_WARM = "Warm the room and the piece first, by means that bring no flame near solvents."


class Limit(StrEnum):
    """What a warning is about, the gravest first."""

    DOES_NOT_DRY = "does-not-dry"
    DEW_POINT = "dew-point"
    BLUSH = "blush"
    HUMID_AIR = "humid-air"
    BAD_NIGHT = "bad-night"
    COLD_ROOM = "cold-room"
    COLD_PIECE = "cold-piece"
    WET_PIECE = "wet-piece"
    HEAVY_FILM = "heavy-film"


class CoatWarning(NamedTuple):
    """What speaks against a coat, and what to do about it."""

    code: Limit
    text: str
    what_to_do: str


class CoatAhead(NamedTuple):
    """A coat about to be laid: how it dries, what it is, and what it goes on."""

    law: Law
    verb: Verb
    kind: ProductKind | None = None
    surface_c: float | None = None
    """Temperature of the piece, or of the floor that it lay on; None for the air's own."""
    moisture_percent: float | None = None
    """Moisture of the wood, in percent of its dry mass."""
    tell: Teller = in_kept_units
    """By which temperatures are told."""

    def warmth(self, celsius: float) -> str:
        """Return a temperature in words, to the whole degree."""
        return self.tell(celsius, "degC", 1)

    def apart(self, kelvin: float) -> str:
        """Return a difference of temperatures in words, to the whole degree."""
        return self.tell(kelvin, "K", 1)


def warnings_before(
    coat: CoatAhead, air: AirState, course: Course | None = None, now_s: float = 0.0
) -> tuple[CoatWarning, ...]:
    """Return what speaks against laying ``coat`` in this air, the gravest first.

    Source: limits of coatings guides (dew point as in ISO 8502-4, humidity) and of data sheets;
    where nothing was found, common practice.

    Args:
        coat: its law, its verb, what it is laid on.
        air: of the room, -40 to 60 degC.
        course: of the air, which tells the hours after ``now_s``; without it the night is left out.
        now_s: s since the epoch, any.

    """
    ahead = _ahead(course, now_s) if course is not None else ()
    found = (
        _does_not_dry(coat, air),
        _dew_point(coat, air),
        _blush(coat, air),
        _humid(air),
        _bad_night(coat, ahead),
        _cold_room(coat, air),
        _cold_piece(coat, air),
        _wet_piece(coat, air),
        heavy_film(coat.law),
    )
    return tuple(warning for warning in found if warning is not None)


def _does_not_dry(coat: CoatAhead, air: AirState) -> CoatWarning | None:
    stop = stop_reason(coat.law, air)
    if stop is None:
        return None
    remedy = "Wait for drier air, or warm the room." if stop is Stop.TOO_HUMID else _WARM
    return CoatWarning(
        Limit.DOES_NOT_DRY, f"A coat would not dry in this air, {stop.told(coat.tell)}.", remedy
    )


def _dew_point(coat: CoatAhead, air: AirState) -> CoatWarning | None:
    surface_c = air.temperature_c if coat.surface_c is None else coat.surface_c
    margin_k = surface_c - dew_point_c(air.temperature_c, air.humidity_percent)
    if margin_k >= BLUSH_MARGIN_K:
        return None
    side = "above" if margin_k >= 0 else "below"
    return CoatWarning(
        Limit.DEW_POINT,
        f"The surface is {coat.apart(abs(margin_k))} {side} the dew point; "
        f"{coat.apart(BLUSH_MARGIN_K)} above is the least.",
        "Bring the piece to the warmth of the room, or wait for drier air.",
    )


def _blush(coat: CoatAhead, air: AirState) -> CoatWarning | None:
    blushes = coat.law.mechanism is Mechanism.SOLVENT and coat.kind in BLUSHING_KINDS
    if not blushes or coat.verb.value not in FILM_COOLING:
        return None
    room_c = min(60.0, max(-10.0, air.temperature_c))
    answer = air_answer(room_c, max(1.0, air.humidity_percent), coat.verb.value)
    if answer.blush_risk is Blush.NONE:
        return None
    return CoatWarning(
        Limit.BLUSH,
        f"The film may turn white: {told(answer.reason, coat.tell)}.",
        "Wait for drier air, or try a slower alcohol from 2 % up on a sample board first.",
    )


def _humid(air: AirState) -> CoatWarning | None:
    if air.humidity_percent <= MOST_HUMIDITY_PERCENT:
        return None
    return CoatWarning(
        Limit.HUMID_AIR,
        f"The air has {air.humidity_percent:.0f} % humidity; {MOST_HUMIDITY_PERCENT:g} % is the "
        "most for coatings in general.",
        "Wait for drier air, or warm the room.",
    )


def _bad_night(coat: CoatAhead, ahead: tuple[Reading, ...]) -> CoatWarning | None:
    stops = [stop for air in ahead if (stop := stop_reason(coat.law, air)) is not None]
    humid_percent = max((air.humidity_percent for air in ahead), default=0.0)
    if stops:
        text = f"Within 12 hours the air may stop the drying, {stops[0].told(coat.tell)}."
    elif humid_percent > MOST_HUMIDITY_PERCENT:
        text = f"Within 12 hours the air may come to {humid_percent:.0f} % humidity."
    else:
        return None
    return CoatWarning(
        Limit.BAD_NIGHT, text, "Coat in the morning, or keep the piece warm and dry overnight."
    )


def _cold_room(coat: CoatAhead, air: AirState) -> CoatWarning | None:
    if air.temperature_c >= LEAST_ROOM_C:
        return None
    return CoatWarning(
        Limit.COLD_ROOM,
        f"The room has {coat.warmth(air.temperature_c)}; below {coat.warmth(LEAST_ROOM_C)} films "
        "flow badly and stay soft for long.",
        _WARM,
    )


def _cold_piece(coat: CoatAhead, air: AirState) -> CoatWarning | None:
    if coat.surface_c is None or air.temperature_c - coat.surface_c <= COLD_SURFACE_K:
        return None
    return CoatWarning(
        Limit.COLD_PIECE,
        f"The piece is {coat.apart(air.temperature_c - coat.surface_c)} colder than the room.",
        "Raise it off the cold floor and leave it in the room until it no longer feels cold.",
    )


def _wet_piece(coat: CoatAhead, air: AirState) -> CoatWarning | None:
    room_percent = emc_percent(air.temperature_c, air.humidity_percent)
    if coat.moisture_percent is None:
        return None
    if coat.moisture_percent - room_percent <= WETTER_THAN_ROOM_PERCENT:
        return None
    return CoatWarning(
        Limit.WET_PIECE,
        f"The wood has {coat.moisture_percent:.1f} % moisture, and this room brings it to "
        f"{room_percent:.1f} %: it still shrinks under the film.",
        "Let it dry with air on all faces first.",
    )


def heavy_film(law: Law) -> CoatWarning | None:
    """Return what a film much above the normal one does to its drying; None for others."""
    if law.film_ratio <= HEAVY_FILM:
        return None
    normal = interval_factor(replace(law, film_ratio=1.0), law.reference)
    longer = interval_factor(law, law.reference) / normal
    return CoatWarning(
        Limit.HEAVY_FILM,
        f"A film {law.film_ratio:.1f} times the normal one takes about {longer:.1f} times as long.",
        "Lay two thin coats instead.",
    )


def _ahead(course: Course, now_s: float) -> tuple[Reading, ...]:
    """Return the air of the hours after ``now_s``."""
    soon = takewhile(lambda piece: piece.start_s < now_s + NIGHT_S, course.pieces(now_s))
    return tuple(piece.air for piece in soon)
