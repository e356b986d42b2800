"""What was told within the last day, kept beside the journal: nobody is told the same thing twice.

Without the file nothing is lost but that: some things are then said once more.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path

from finishsched.workshop.base.write_whole import write_chunks

TOLD_FILE = ".told.json"
FOR_A_DAY = timedelta(hours=24)
MOST_BYTES = 1_000_000


class ToldToday:
    """Marks of what was told, each with its instant."""

    def __init__(self, folder: Path | None, now: Callable[[], datetime]) -> None:
        """``folder`` is the shop's; None keeps it for as long as the bench is open."""
        self._file = folder / TOLD_FILE if folder is not None else None
        self._now = now
        self._told = self._read()

    def was_told(self, mark: str) -> bool:
        """Tell whether it was, within the last day."""
        at = self._told.get(mark)
        return at is not None and self._now() - at < FOR_A_DAY

    def tell(self, mark: str) -> None:
        """Keep that it is told now."""
        now = self._now()
        recent = {old: at for old, at in self._told.items() if now - at < FOR_A_DAY}
        self._told = recent | {mark: now}
        self._write()

    def forget(self, mark: str) -> None:
        """Let it be told again: it went, and came back."""
        if self._told.pop(mark, None) is not None:
            self._write()

    def _read(self) -> dict[str, datetime]:
        if self._file is None:
            return {}
        try:
            if self._file.stat().st_size > MOST_BYTES:
                return {}
            found = json.loads(self._file.read_text("utf-8"))
            return {str(mark): datetime.fromisoformat(at) for mark, at in found.items()}
        except (OSError, ValueError, TypeError, AttributeError, RecursionError):
            return {}

    def _write(self) -> None:
        if self._file is None:
            return
        text = json.dumps({mark: at.isoformat() for mark, at in self._told.items()})
        try:
            write_chunks(self._file, (text.encode(),))
        except OSError:
            return  # a shop that can only be looked at: told again by whoever opens it next
