"""Follow a file that another program appends to, through its truncation and its replacement."""

from __future__ import annotations

import hashlib
import stat
from dataclasses import dataclass
from pathlib import Path

from finishsched.workshop.air.hygrometer.cells import HygrometerFaultError
from finishsched.workshop.air.hygrometer.reading import decode, refuse_large


@dataclass(frozen=True, slots=True)
class Growth:
    """Whole lines that are new in a file."""

    text: str
    from_the_top: bool
    """True when it is not the text that was there before, gone on."""


class FollowedFile:
    """One file, looked at again and again. It is read whole each time: a log is small."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._stamp: tuple[int, ...] = ()
        self._taken = 0
        self._digest = _digest("")

    def look(self) -> Growth | None:
        """Return what is new since last time; None when nothing is.

        A line without its end is left for later, as is the file while it cannot be found.

        Raises:
            OSError: when it cannot be read; FileNotFoundError when it is not there.
            HygrometerFaultError: when it is too large, or no text.

        """
        stamp = _stamp(self.path)
        if stamp == self._stamp:
            return None
        text = read_file(self.path)
        # A file whose lines end in CR alone has no LF; a CR before an LF to come must wait for it.
        whole = text[: text.rfind("\n") + 1 or text.rfind("\r") + 1]
        is_other = _digest(whole[: self._taken]) != self._digest
        new = whole if is_other else whole[self._taken :]
        self._stamp, self._taken, self._digest = stamp, len(whole), _digest(whole)
        return Growth(new, is_other) if new or is_other else None


def read_file(path: Path) -> str:
    """Return the text of a file of readings.

    Raises:
        OSError: when it cannot be read.
        HygrometerFaultError: when it is no file, too large, or no text.

    """
    status = path.stat()
    if not (stat.S_ISREG(status.st_mode) or stat.S_ISDIR(status.st_mode)):
        # A pipe or a device may never end.
        raise HygrometerFaultError(f"{path}: this is no file", "save the readings, and name that")
    refuse_large(status.st_size, path.name)
    return decode(path.read_bytes(), path.name)


def _stamp(path: Path) -> tuple[int, ...]:
    status = path.stat()
    return status.st_size, status.st_mtime_ns, status.st_ino


def _digest(text: str) -> bytes:
    return hashlib.blake2b(text.encode("utf-8", "surrogatepass"), digest_size=16).digest()
