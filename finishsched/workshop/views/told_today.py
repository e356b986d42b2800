"""What was told within the last day, kept beside the journal: nobody is told the same thing twice.

Kept for each login, since what one was told another was not. Without the file nothing is lost but
that: some things are then said once more.
"""

from __future__ import annotations

import getpass
import json
from collections.abc import Callable, Iterable
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from finishsched.workshop.base.notice import Notice
from finishsched.workshop.base.place import TOLD_FILE
from finishsched.workshop.base.write_whole import write_chunks

FOR_A_DAY = timedelta(hours=24)
MOST_BYTES = 1_000_000

Marks = dict[str, tuple[datetime, int]]


class ToldToday:
    """Marks of what was told to one person, each with its instant and how grave it was."""

    def __init__(self, folder: Path | None, now: Callable[[], datetime], person: str = "") -> None:
        """``folder`` is the shop's; None keeps it for as long as the bench is open.

        ``person`` is who looks: the login of this machine where nobody is named.
        """
        self._file = folder / TOLD_FILE if folder is not None else None
        self._now = now
        self._person = person or _login()
        self._told = _marks(self._read().get(self._person))

    def was_told(self, mark: str, gravity: int = 0) -> bool:
        """Tell whether it was, within the last day, and as grave as it is."""
        at, told = self._told.get(mark, (None, 0))
        return at is not None and self._now() - at < FOR_A_DAY and gravity <= told

    def tell(self, mark: str, gravity: int = 0) -> None:
        """Keep that it is told now."""
        self._keep({mark: (self._now(), gravity)})

    def fresh(self, notices: Iterable[Notice]) -> tuple[Notice, ...]:
        """Return those that are to be told now, and keep that they are."""
        fresh = tuple(
            one
            for one in dict.fromkeys(notices)
            if one.spoils_answers or not self.was_told(one.mark, one.gravity)
        )
        kept = {one.mark: (self._now(), one.gravity) for one in fresh if not one.spoils_answers}
        if kept:
            self._keep(kept)
        return fresh

    def forget(self, mark: str) -> None:
        """Let it be told again: it went, and came back."""
        if self._told.pop(mark, None) is not None:
            self._keep({}, without=mark)

    def _keep(self, told: Marks, without: str = "") -> None:
        """Keep marks beside those that another door of the same shop kept meanwhile."""
        every = self._read()
        now = self._now()
        marks = _marks(every.get(self._person)) | self._told | told
        marks.pop(without, None)
        self._told = {mark: kept for mark, kept in marks.items() if now - kept[0] < FOR_A_DAY}
        every[self._person] = {
            mark: [at.isoformat(), gravity] for mark, (at, gravity) in self._told.items()
        }
        self._write(every)

    def _read(self) -> dict[str, Any]:
        """Return what is kept of everybody, as it is written."""
        if self._file is None:
            return {}
        try:
            if self._file.stat().st_size > MOST_BYTES:
                return {}
            found = json.loads(self._file.read_text("utf-8"))
        except (OSError, ValueError, RecursionError):
            return {}
        return found if isinstance(found, dict) else {}

    def _write(self, every: dict[str, Any]) -> None:
        if self._file is None:
            return
        try:
            write_chunks(self._file, (json.dumps(every).encode(),))
        except OSError:
            return  # a shop that can only be looked at: told again by whoever opens it next


def _marks(kept: object) -> Marks:
    """Return the marks of one person; none where somebody else wrote what is no marks."""
    if not isinstance(kept, dict):
        return {}
    try:
        return {
            str(mark): (datetime.fromisoformat(at), int(gravity))
            for mark, (at, gravity) in kept.items()
        }
    except (ValueError, TypeError):
        return {}


def _login() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):
        return ""  # a login without a name: everybody of that kind is taken for one
