"""What an entry costs beside a bare row with the same safety: a ratio in one run, for people.

    python tests/speed/measure_append.py 1000

Each entry is written by itself and is on the disk before the next one, as in a shop; the bare rows
are written by the same library into one table with the journal's settings, and nothing else.
"""

from __future__ import annotations

import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from finishsched.journal.events import NewEvent, Noted, random_id, utc_text
from finishsched.journal.schema import SCHEMA_1
from finishsched.journal.store import Journal

NOW = datetime.now(UTC)
INSERT = "INSERT INTO events VALUES (?, ?, ?, ?, ?, ?, ?)"


def cost_s(write: Callable[[int], object], count: int) -> float:
    """Return the processor time of one entry, in seconds."""
    begun = time.process_time()
    for number in range(1, count + 1):
        write(number)
    return (time.process_time() - begun) / count


def entries_s(path: Path, count: int) -> float:
    """Return what an entry of the journal costs."""
    with Journal.open(path) as journal:
        return cost_s(
            lambda n: journal.append(lambda _: NewEvent(NOW, "box/lid", Noted(f"note {n}")), NOW),
            count,
        )


def rows_s(path: Path, count: int) -> float:
    """Return what a bare row costs."""
    at = utc_text(NOW, "microseconds")

    def write(number: int) -> None:
        row = (number, random_id(), at, at, "box/lid", "note", f'{{"text":"note {number}"}}')
        db.execute("BEGIN IMMEDIATE")
        db.execute(INSERT, row)
        db.execute("COMMIT")

    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        db.execute("PRAGMA journal_mode = WAL")
        db.execute("PRAGMA synchronous = FULL")
        db.execute("PRAGMA fullfsync = ON")
        db.execute(SCHEMA_1[1])
        return cost_s(write, count)


def main(count: int) -> None:
    """Measure, and print the ratio."""
    with tempfile.TemporaryDirectory() as place:
        entry_s = entries_s(Path(place) / "journal.db", count)
        row_s = rows_s(Path(place) / "rows.db", count)
    print(
        f"an entry {1e6 * entry_s:.0f} us, a row {1e6 * row_s:.0f} us: {entry_s / row_s:.2f} times"
    )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
