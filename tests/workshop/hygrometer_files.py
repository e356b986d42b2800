"""Text of a hygrometer's file, read as the program does."""

from __future__ import annotations

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from finishsched.workshop.air.hygrometer.reading import read_hygrometer

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
ZONE = ZoneInfo("UTC")


def log_of(text, *, zone=ZONE, dates=None, name="log.csv"):
    """Read a file's text."""
    return read_hygrometer(text, name, zone, NOW, dates)


def air_of(text, **how):
    """Return instants, temperatures and humidities of a file that has no bad row."""
    log = log_of(text, **how)
    assert log.skipped == ()
    return [(r.at, r.temperature_c, r.humidity_percent) for r in log.readings]
