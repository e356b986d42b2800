"""What is typed of a reading: its value in the words of its scale, and where it was read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, tzinfo

from finishsched.bench.typed.reading import FormFaultError, read_wall_time
from finishsched.model.readings import ANGLES_DEG, Measure, Reading, read_reading
from finishsched.refusals import RefusalError


@dataclass(frozen=True, slots=True)
class SurfaceSeen:
    """What was read of one piece, all of it at one time and place."""

    piece: str
    readings: tuple[Reading, ...]
    at: datetime | None = None
    by: str = ""

    @property
    def words(self) -> str:
        """Return all of it in words."""
        return "; ".join(reading.words for reading in self.readings)


def read_seen(
    piece: str, measure: Measure, values: Mapping[str, str], now: datetime, zone: tzinfo
) -> SurfaceSeen:
    """Return what a form's fields tell of a piece.

    Raises:
        FormFaultError: with the faults of all fields together, or where none says anything.

    """
    told = [text for text in _told(measure, values) if text]
    faults = [] if told else ["write what was read"]
    where = " ".join(values.get("where", "").split())
    readings: list[Reading] = []
    at: datetime | None = None
    for text in told:
        try:
            found = read_reading(text)
            readings.append(replace(found, where=where or found.where))
        except RefusalError as refusal:
            faults.append(str(refusal))
    try:
        at = read_wall_time(values.get("when", ""), now, zone)
    except FormFaultError as fault:
        faults.append(str(fault))
    if faults:
        raise FormFaultError(". ".join(faults))
    return SurfaceSeen(piece, tuple(readings), at, values.get("by", "").strip())


def _told(measure: Measure, values: Mapping[str, str]) -> Iterator[str]:
    """Give each reading in the words of ``log --reading``."""
    if measure is Measure.GLOSS:
        for angle in ANGLES_DEG:
            units = values.get(f"at-{angle}", "").strip()
            yield f"gloss {angle}: {units}" if units else ""
        return
    value = values.get("value", "").strip()
    yield f"{measure.value} {value}" if value else ""
