"""The time zone of a shop's wall clock."""

from __future__ import annotations

from datetime import tzinfo
from zoneinfo import ZoneInfo

from finishsched.model.shop import Shop


def zone_of(shop: Shop) -> tzinfo:
    """Return the time zone that the shop names, or the machine's own."""
    return ZoneInfo(shop.time_zone) if shop.time_zone else _machine_zone()


def _machine_zone() -> tzinfo:
    """Return the machine's own zone, which knows of summer time."""
    from dateutil.tz import tzlocal  # noqa: PLC0415  # only for shops that name no zone

    return tzlocal()
