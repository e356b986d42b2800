"""The plan that was last shown, kept beside the journal so that the next one can hold on to it.

A small file that is worked out from everything else: without it nothing is lost but that the next
plan begins afresh.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from zlib import crc32

from finishsched.documents.plain_files import read_plain
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
    try:
        text, _, sum_ = read_plain(folder / name, MOST_BYTES).partition(b"\n")
        if sum_ not in (b"", _sum(text)):  # earlier releases kept none
            return None
        return from_plain(Remembered, json.loads(text))
    except (OSError, ValueError, PlainFormError, RecursionError):
        return None


def remember(folder: Path, kept: Remembered, name: str = PLAN_FILE) -> bool:
    """Keep a plan that is shown now; tell whether it could be kept."""
    text = json.dumps(to_plain(kept), separators=(",", ":")).encode()
    try:
        write_chunks(folder / name, (text, b"\n", _sum(text)))
    except OSError:
        return False
    return True


def _sum(text: bytes) -> bytes:
    """Return by what a plan that changed on the disk is known."""
    return b"%08x" % crc32(text)
