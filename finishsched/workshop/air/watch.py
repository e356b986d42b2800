"""Take readings from a file as a logger appends them, each of them once."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from finishsched.workshop.air.following import FollowedFile
from finishsched.workshop.air.hygrometer.reading import HygrometerReader
from finishsched.workshop.air.hygrometer.times import Order
from finishsched.workshop.air.imported import AirImport, keep_air
from finishsched.workshop.base.workshop import Workshop


class AirWatch:
    """One file of readings, followed into the journal of one shop.

    Nothing is remembered but what the journal holds: begun again, a watch reads the file from its
    first line and takes what is not there yet.
    """

    def __init__(
        self, workshop: Workshop, path: Path, name: str, dates: Order | None = None
    ) -> None:
        self.path = path
        self._workshop = workshop
        self._name = name
        self._dates = dates
        self.start_over()

    def start_over(self) -> None:
        """Read the file from its first line when next looked at."""
        self._file = FollowedFile(self.path)
        self._reader = self._new_reader()

    def look(self, now: datetime) -> AirImport | None:
        """Take what is new in the file; None when it has not changed.

        Raises:
            OSError: when it cannot be read.
            HygrometerFaultError: when it cannot be made out; start over to try again.
            JournalFaultError: when the journal cannot be written; start over to try again.

        """
        growth = self._file.look()
        if growth is None:
            return None
        if growth.from_the_top:
            self._reader = self._new_reader()
        return keep_air(self._workshop, (self._reader.feed(growth.text, now),), now)[0]

    def _new_reader(self) -> HygrometerReader:
        return HygrometerReader(self._name, self._workshop.zone, self._dates)
