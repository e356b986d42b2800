"""How a journal's length tells in time and memory: ratios in one run, for people to compare.

    python tests/speed/measure_journal.py 1000 10000 100000

For each number of entries a demo shop is filled up with notes on a piece in hand, and with a tenth
as many readings of the air, up to a hundred thousand. Each command is a cold process; its figures
are its own processor time, best of ``RUNS``, and the most memory that it held.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from datetime import UTC, datetime, timedelta
from pathlib import Path

from finishsched.journal.derived import fill
from finishsched.journal.events import Row, random_id, utc_text
from finishsched.journal.salvage import put_rows
from finishsched.journal.store import Journal
from finishsched.workshop.demo.demo import make_demo

RUNS = 3
MOST_READINGS = 100_000
COMMANDS = (
    ("due",),
    ("log", "tea-chest/lid", "note", "a"),
    ("film", "tea-chest/lid"),
    ("record", "tea-chest/lid", "--text"),
)
ONE_RUN = """
import resource, sys, os
from finishsched.cli.run import run
out, sys.stdout = sys.stdout, open(os.devnull, "w")
run(sys.argv[1:])
used = resource.getrusage(resource.RUSAGE_SELF)
print(used.ru_utime + used.ru_stime, used.ru_maxrss // 1024, file=out)
"""


def long_shop(folder: Path, entries: int) -> None:
    """Make a demo shop and fill its journal up with so many entries."""
    now = datetime.now(UTC)
    make_demo(folder, now)
    with Journal.open(folder / "journal.db") as journal, journal._writing() as db:
        first = len(journal.events()) + 1
        put_rows(db, (_row(seq, now) for seq in range(first, first + entries)))
        fill(db)


def _row(seq: int, now: datetime) -> Row:
    at = utc_text(now - timedelta(minutes=seq % 500_000), "microseconds")
    if seq % 10 == 0 and seq <= 10 * MOST_READINGS:
        body = f'{{"air":{{"humidity_percent":{45 + seq % 20}.0,"temperature_c":19.5}}}}'
        return seq, random_id(), at, at, None, "air", body
    return seq, random_id(), at, at, "tea-chest/lid", "note", f'{{"text":"note {seq}"}}'


def measured(shop: Path, words: tuple[str, ...]) -> tuple[float, int]:
    """Return the best processor time in seconds, and the memory in MB, of a command."""
    command = [sys.executable, "-c", ONE_RUN, "--shop", str(shop), *words]
    found = []
    for _ in range(RUNS):
        said = subprocess.run(command, capture_output=True, text=True, check=True)
        seconds, megabytes = said.stdout.split()
        found.append((float(seconds), int(megabytes)))
    return min(found)


def main(lengths: list[int]) -> None:
    """Measure, and print each as a ratio to the shortest journal's."""
    least: dict[tuple[str, ...], float] = {}
    for length in lengths:
        with tempfile.TemporaryDirectory() as place:
            shop = Path(place) / "shop"
            long_shop(shop, length)
            for words in COMMANDS:
                seconds, megabytes = measured(shop, words)
                base = least.setdefault(words, seconds)
                print(
                    f"{length:>9,}  {words[0]:<8} {seconds:6.2f} s  "
                    f"{seconds / base:5.2f} times  {megabytes:>5} MB",
                    flush=True,
                )


if __name__ == "__main__":
    main([int(word) for word in sys.argv[1:]])
