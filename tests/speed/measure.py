"""How quick it is: one table, for people to compare; nothing here is ever asserted.

    .venv/bin/python tests/speed/measure.py

Each figure is the best of several cold processes, in milliseconds, on the machine it runs on.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

RUNS = 7
CLICK_AND_PINT = (
    "import click; from finishsched import units;"
    "click.command()(lambda: None); units.read('2 lb', units.CUT)"
)


def best_ms(command: list[str]) -> float:
    """Return the best wall time of a command that ends by itself."""
    found = []
    for _ in range(RUNS):
        start = time.perf_counter()
        subprocess.run(command, check=True, capture_output=True)
        found.append(time.perf_counter() - start)
    return min(found) * 1000


def shop_with_entries(folder: Path, entries: int) -> None:
    """Make a demo shop and put so many more entries into its journal."""
    from finishsched.journal import events
    from finishsched.journal.events import NewEvent
    from finishsched.journal.store import Journal
    from finishsched.workshop.demo.demo import make_demo

    now = datetime.now(UTC)
    make_demo(folder, now)
    notes = [
        NewEvent(now - timedelta(minutes=n), "tea-chest/lid", events.Noted(text=f"note {n}"))
        for n in range(entries)
    ]
    with Journal.open(folder / "journal.db") as journal:
        journal.append_all(lambda _: notes, now)


def main() -> None:
    """Measure and print."""
    python = sys.executable
    program = [python, "-m", "finishsched"]
    with tempfile.TemporaryDirectory() as place:
        small, large = Path(place) / "small", Path(place) / "large"
        shop_with_entries(small, 0)
        shop_with_entries(large, 10_000)
        os.chdir(place)
        rows = [
            ("bare interpreter", best_ms([python, "-c", ""])),
            ("--help, cold", best_ms([*program, "--help"])),
            ("click and pint on our units", best_ms([python, "-c", CLICK_AND_PINT])),
            ("mix, cold", best_ms([*program, "mix", "--cut", "2 lb", "--makes", "1 l"])),
            ("due, demo shop", best_ms([*program, "--shop", str(small), "due"])),
            ("due, 10,000 entries more", best_ms([*program, "--shop", str(large), "due"])),
        ]
    for name, milliseconds in rows:
        print(f"{name:<36} {milliseconds:7.0f} ms")


if __name__ == "__main__":
    main()
