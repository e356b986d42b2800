"""The plan that was last shown, kept beside the journal so that the next one can hold on to it.

A small file that is worked out from everything else: without it nothing is lost but that the next
plan begins afresh.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

from finishsched.journal.progress import Book
from finishsched.model.plain import PlainFormError, from_plain, to_plain
from finishsched.planning.problem import Plan
from finishsched.workshop.base.place import PLAN_FILE
from finishsched.workshop.base.write_whole import write_chunks

MOST_BYTES = 8_000_000


@dataclass(frozen=True, slots=True)
class Remembered:
    """A plan as it was shown."""

    plan: Plan
    shown_min: int
    """When, in minutes since 1970."""
    last_seq: int = -1
    """The number of the journal's last entry by then; below 0 where that is not known."""

    def logged_since(self, book: Book) -> bool:
        """Tell whether anything was logged since: by its number, whatever the clock says."""
        return book.last_seq != self.last_seq


def recall(folder: Path, name: str = PLAN_FILE) -> Remembered | None:
    """Return the plan that was last shown in the shop in ``folder``; None when there is none.

    ``name`` is the file that it is kept in.
    """
    file = folder / name
    try:
        if file.stat().st_size > MOST_BYTES:
            return None
        return from_plain(Remembered, json.loads(file.read_text("utf-8")))
    except (OSError, ValueError, PlainFormError, RecursionError):
        return None


def remember(folder: Path, kept: Remembered, name: str = PLAN_FILE) -> bool:
    """Keep a plan that is shown now; tell whether it could be kept."""
    text = json.dumps(to_plain(kept), separators=(",", ":"))
    try:
        write_chunks(folder / name, (text.encode(),))
    except OSError:
        return False
    return True
