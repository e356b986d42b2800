"""Readings of the air from files, judged against the journal: what is new, what is not."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from typing import TypeAlias

from finishsched.journal.events import AirRead, NewEvent
from finishsched.journal.progress import Book
from finishsched.model.shop import Air
from finishsched.workshop.air.hygrometer.reading import (
    HygrometerLog,
    Reading,
    SkippedRow,
)
from finishsched.workshop.air.hygrometer.times import ClockStep
from finishsched.workshop.base.workshop import Workshop

GAP_READINGS = 3.0
"""How many usual intervals without a reading make a gap (our assumption)."""
GAP_S = 30 * 60.0
"""Less than this is no gap, however often a logger reads (our assumption)."""

_Values: TypeAlias = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Gap:
    """A time in which a file has no readings, though its usual interval is shorter."""

    begins: datetime
    ends: datetime

    @property
    def length_s(self) -> float:
        """How long it is."""
        return (self.ends - self.begins).total_seconds()


@dataclass(frozen=True, slots=True)
class AirImport:
    """What came of one file of readings."""

    name: str
    readings: tuple[Reading, ...]
    """Those now in the journal that were not, the earliest first."""
    already_there: int
    skipped: tuple[SkippedRow, ...]
    gaps: tuple[Gap, ...]
    clock_steps: tuple[ClockStep, ...]

    @property
    def first_at(self) -> datetime | None:
        """The instant of the earliest new reading."""
        return self.readings[0].at if self.readings else None

    @property
    def last_at(self) -> datetime | None:
        """The instant of the latest new reading."""
        return self.readings[-1].at if self.readings else None


class _KnownAir:
    """What a journal has of the time of ``logs``, undone ones too, and what is taken on top."""

    def __init__(self, book: Book, logs: Sequence[HygrometerLog]) -> None:
        self._values: dict[float, set[_Values]] = {}
        self._sources: set[tuple[str, float]] = set()
        instants = [reading.at for log in logs for reading in log.readings]
        if not instants:
            return
        told = book.told_air.told_between(min(instants), max(instants))
        for at_s, temperature_c, humidity_percent, source in told:
            self._values.setdefault(at_s, set()).add((temperature_c, humidity_percent))
            self._sources.add((source, at_s))

    def take(self, log: HygrometerLog) -> AirImport:
        """Return what is new in ``log``, which is known from then on.

        Not new is a reading of the same instant with the same values, whatever its source, and
        one of the same instant from the same source. Where two rows of one file tell one instant
        differently, the upper one counts and the other is skipped.
        """
        before = frozenset(self._sources)
        new: dict[datetime, Reading] = {}
        clashes: list[SkippedRow] = []
        already_there = 0
        for reading in log.readings:
            values = reading.temperature_c, reading.humidity_percent
            at_s = reading.at.timestamp()
            known = self._values.setdefault(at_s, set())
            if values in known or (log.name, at_s) in before:
                already_there += 1
            elif reading.at in new:
                clashes.append(_clash(reading, new[reading.at]))
            else:
                new[reading.at] = reading
                known.add(values)
        self._sources.update((log.name, at.timestamp()) for at in new)
        return AirImport(
            name=log.name,
            readings=tuple(new[at] for at in sorted(new)),
            already_there=already_there,
            skipped=tuple(sorted((*log.skipped, *clashes), key=lambda row: row.line)),
            gaps=gaps_between([reading.at for reading in log.readings]),
            clock_steps=log.clock_steps,
        )


def gaps_between(instants: Sequence[datetime]) -> tuple[Gap, ...]:
    """Return where far more than the usual interval lies between two of ``instants``."""
    pairs = list(pairwise(sorted(set(instants))))
    if not pairs:
        return ()
    usual_s = sorted((after - before).total_seconds() for before, after in pairs)[len(pairs) // 2]
    limit_s = max(GAP_S, GAP_READINGS * usual_s)
    gaps = (Gap(before, after) for before, after in pairs)
    return tuple(gap for gap in gaps if gap.length_s > limit_s)


def keep_air(
    workshop: Workshop, logs: Sequence[HygrometerLog], now: datetime
) -> tuple[AirImport, ...]:
    """Log what is new in files of readings: all of it, or nothing when that fails.

    Hygrometers do not tell the air's movement, so that of the usual air goes with every reading.

    Raises:
        JournalFaultError: when it cannot be kept; the journal is as it was.

    """
    found: list[AirImport] = []
    movement_m_per_s = workshop.papers.shop.usual_air.movement_m_per_s

    def build(book: Book) -> list[NewEvent]:
        known = _KnownAir(book, logs)
        found.extend(known.take(log) for log in logs)
        return [entry for one in found for entry in _entries(one, movement_m_per_s)]

    workshop.append_all(build, now)
    return tuple(found)


def _entries(found: AirImport, movement_m_per_s: float) -> Iterator[NewEvent]:
    for reading in found.readings:
        air = Air(reading.temperature_c, reading.humidity_percent, movement_m_per_s, at=reading.at)
        yield NewEvent(reading.at, None, AirRead(air, found.name))


def _clash(reading: Reading, upper: Reading) -> SkippedRow:
    return SkippedRow(
        reading.line, f"line {upper.line} tells the air of the same instant differently"
    )
