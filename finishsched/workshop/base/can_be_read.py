"""What an instrument can have read; anything else is refused where it is entered."""

from __future__ import annotations

from finishsched.drying.air import refuse_humidity, refuse_temperature
from finishsched.model.shop import Air
from finishsched.workshop.base.entries import RefusedError

MOST_MOISTURE_PERCENT = 60.0
"""Wood wetter than this is green, and nobody finishes it (our assumption)."""


def refuse_impossible_air(air: Air) -> None:
    """Refuse a reading that no room has: every later answer about the air would stumble over it.

    Raises:
        NoSuchAirError: naming the range.

    """
    refuse_temperature(air.temperature_c)
    refuse_humidity(air.humidity_percent)


def refuse_impossible_moisture(percent: float) -> None:
    """Refuse a moisture that no wood to finish has.

    Raises:
        RefusedError: outside 0 to ``MOST_MOISTURE_PERCENT``.

    """
    if not 0 <= percent <= MOST_MOISTURE_PERCENT:
        raise RefusedError(
            f"{percent:g} % is no moisture of wood to finish",
            f"a reading is from 0 to {MOST_MOISTURE_PERCENT:g} %",
        )
