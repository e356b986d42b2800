"""How a journal's length tells in time and memory: ratios in one run, for people to compare.

    python tests/speed/measure_journal.py 1000 10000 100000
    python tests/speed/measure_journal.py --finished 1000 10000

For each number of entries a demo shop is filled up: with notes on a piece in hand, and with a tenth
as many readings of the air, up to a hundred thousand; with ``--finished`` with pieces that were
finished one after another over eight years, and whose documents are gone. Each command is a cold
process; its figures are its own processor time, best of ``RUNS``, and the most memory that it held.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

from finishsched.journal.derived import fill
from finishsched.journal.events import Row, random_id, utc_text
from finishsched.journal.salvage import put_rows
from finishsched.journal.store import Journal
from finishsched.model.step import steps_of
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.demo.demo import make_demo
from finishsched.workshop.keeping.notebook import import_notebook
from finishsched.workshop.safety.rags import rags_dealt_with

RUNS = 3
MOST_READINGS = 100_000
OLDEST = timedelta(days=3000)
PIECE = "tea-chest/lid"
COMMANDS = (
    ("due",),
    ("log", PIECE, "note", "a"),
    ("film", PIECE),
    ("record", PIECE, "--text"),
    ("plan",),
    ("export", "--journal", "out.jsonl", "--force"),
)
OLD = """\
job: old
title: An old job
pieces:
  - {piece: box, title: An old box, schedule: dyed-and-varnished, species: maple,
     faces: [{face: top, length: 300 mm, width: 200 mm}]}
"""
ONE_RUN = """
import resource, sys, os
from finishsched.cli.run import run
out, sys.stdout = sys.stdout, open(os.devnull, "w")
run(sys.argv[1:])
used = resource.getrusage(resource.RUSAGE_SELF)
print(used.ru_utime + used.ru_stime, used.ru_maxrss // 1024, file=out)
"""


def long_shop(folder: Path, entries: int, *, finished: bool) -> None:
    """Make a demo shop and fill its journal up with so many entries."""
    now = datetime.now(UTC)
    make_demo(folder, now)
    old = list(_old_piece(folder, now)) if finished else []
    with Journal.open(folder / "journal.db") as journal, journal._writing() as db:
        first = len(journal.events()) + 1
        numbers = range(first, first + entries)
        rows = _old_pieces(old, numbers, now) if finished else (_row(seq, now) for seq in numbers)
        put_rows(db, rows)
        fill(db)


def _row(seq: int, now: datetime) -> Row:
    at = utc_text(now - timedelta(minutes=seq % 500_000), "microseconds")
    if seq % 10 == 0 and seq <= 10 * MOST_READINGS:
        body = f'{{"air":{{"humidity_percent":{45 + seq % 20}.0,"temperature_c":19.5}}}}'
        return seq, random_id(), at, at, None, "air", body
    return seq, random_id(), at, at, PIECE, "note", f'{{"text":"note {seq}"}}'


def _old_piece(folder: Path, now: datetime) -> Iterator[Row]:
    """Finish a piece years ago, and give its entries as the journal keeps them."""
    (folder / "jobs" / "old.yaml").write_text(OLD)
    with Workshop.open(folder, now) as workshop:
        schedule = workshop.papers.schedules["dyed-and-varnished"]
        steps = steps_of(schedule)
        days = [now - OLDEST + timedelta(days=3 * turn) for turn in range(len(steps) + 1)]
        rows = "".join(
            f"{day:%Y-%m-%d},{day:%H:%M},old/box,done,{number}\n"
            for number, day in enumerate(days[:-1], start=1)
        )
        rows += f"{days[-1]:%Y-%m-%d},{days[-1]:%H:%M},old/box,ready,{len(steps)}\n"
        rags_dealt_with(workshop, "flat outdoors", now)
        import_notebook(workshop, f"date,time,piece,entry,step\n{rows}", now)
    (folder / "jobs" / "old.yaml").unlink()
    with Journal.open(folder / "journal.db") as journal, journal._writing() as db:
        yield from db.execute(
            "SELECT seq, id, at, logged_at, piece, kind, body FROM events WHERE piece = 'old/box'"
        ).fetchall()


def _old_pieces(old: list[Row], numbers: range, now: datetime) -> Iterator[Row]:
    """Give the entries of one piece after another, the last of them finished two months ago."""
    lasted = datetime.fromisoformat(old[-1][2]) - datetime.fromisoformat(old[0][2])
    pieces = max(1, len(numbers) // len(old))
    apart = (OLDEST - lasted - timedelta(days=60)) / pieces
    for turn, seq in enumerate(numbers):
        piece, line = divmod(turn, len(old))
        if piece == pieces:
            yield _row(seq, now)
            continue
        _, _, at, logged_at, _, kind, body = old[line]
        later = utc_text(datetime.fromisoformat(at) + piece * apart, "microseconds")
        yield seq, random_id(), later, logged_at, f"old/box-{piece}", kind, body


def measured(shop: Path, words: tuple[str, ...]) -> tuple[float, int]:
    """Return the best processor time in seconds, and the memory in MB, of a command."""
    words = tuple(str(shop / word) if word.endswith(".jsonl") else word for word in words)
    command = [sys.executable, "-c", ONE_RUN, "--shop", str(shop), *words]
    found = []
    for _ in range(RUNS):
        said = subprocess.run(command, capture_output=True, text=True, check=True)
        seconds, megabytes = said.stdout.split()
        found.append((float(seconds), int(megabytes)))
    return min(found)


def main(lengths: list[int], *, finished: bool) -> None:
    """Measure, and print each as a ratio to the shortest journal's."""
    least: dict[tuple[str, ...], float] = {}
    for length in lengths:
        with tempfile.TemporaryDirectory() as place:
            shop = Path(place) / "shop"
            long_shop(shop, length, finished=finished)
            for words in COMMANDS:
                seconds, megabytes = measured(shop, words)
                base = least.setdefault(words, seconds)
                print(
                    f"{length:>9,}  {words[0]:<8} {seconds:6.2f} s  "
                    f"{seconds / base:5.2f} times  {megabytes:>5} MB",
                    flush=True,
                )


if __name__ == "__main__":
    main(
        [int(word) for word in sys.argv[1:] if word.isdigit()],
        finished="--finished" in sys.argv[1:],
    )
