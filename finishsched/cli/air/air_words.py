"""What the air does to wood and film, in words and as JSON values."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from finishsched.model.said import told

if TYPE_CHECKING:
    from finishsched.drying.air import AirAnswer
    from finishsched.model.said import Teller


def air_data(reading: AirAnswer, tell: Teller) -> dict[str, Any]:
    """Return what a reading means as JSON values."""
    return {
        "temperature_c": reading.temperature_c,
        "humidity_percent": reading.humidity_percent,
        "dew_point_c": round(reading.dew_point_c, 3),
        "wet_bulb_c": round(reading.wet_bulb_c, 3),
        "emc_percent": round(reading.emc_percent, 3),
        "surface_c": round(reading.surface_c, 3),
        "blush_risk": reading.blush_risk.value,
        "blush_margin_c": round(reading.blush_margin_k, 3),
        "how": reading.how,
        "reason": told(reading.reason, tell),
    }


def air_lines(reading: AirAnswer, origin: str, tell: Teller, *, why: bool) -> Iterable[str]:
    """Say what a reading means, its figures told by ``tell``."""

    def degrees(value: float) -> str:
        return tell(value, "degC")

    yield f"{degrees(reading.temperature_c)}, {reading.humidity_percent:g} % humidity ({origin})"
    yield f"  dew point {degrees(reading.dew_point_c)}, wet bulb {degrees(reading.wet_bulb_c)}"
    yield f"  wood comes to {reading.emc_percent:.1f} % moisture"
    yield f"  blush {reading.blush_risk.value}: {told(reading.reason, tell)}"
    if why:
        from finishsched.drying.laws import HUMIDITY_CAVEAT

        yield f"  why  {HUMIDITY_CAVEAT}"
        yield "  why  dew point and wet bulb by Hyland-Wexler: ASHRAE Fundamentals 2017, chapter 1"
        yield "  why  wood moisture: USDA Wood Handbook, chapter 4"
        yield f"  why  film at {degrees(reading.surface_c)}: cooled towards alcohol's own wet bulb"
