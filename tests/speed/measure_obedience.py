"""The obedient maker over every shipped schedule: a table of contradictions, none wanted.

    .venv/bin/python tests/speed/measure_obedience.py [SCHEDULE ...] [--pieces 1,5] [--turns 600]

It takes minutes for each schedule; nothing here is ever asserted.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "obedient"))

from obedient import MOST_TURNS, UNITS, Maker, StuckError

from finishsched.documents.library import schedule_names


def main() -> None:
    """Work through the table and print it."""
    asked = argparse.ArgumentParser()
    asked.add_argument("schedules", nargs="*")
    asked.add_argument("--pieces", default="1,5")
    asked.add_argument("--units", default=",".join(UNITS))
    asked.add_argument("--turns", type=int, default=MOST_TURNS)
    given = asked.parse_args()
    print(f"{'schedule':32}{'units':7}{'pieces':8}{'turns':7}{'s':6}contradictions")
    for schedule in given.schedules or schedule_names():
        for units in given.units.split(","):
            for pieces in map(int, given.pieces.split(",")):
                _row(schedule, units, pieces, given.turns)


def _row(schedule: str, units: str, pieces: int, turns: int) -> None:
    begun = time.process_time()
    with tempfile.TemporaryDirectory() as folder:
        maker = Maker(Path(folder) / "shop", units, schedule, pieces)
        try:
            maker.work(turns)
        except StuckError as error:
            maker.found.append(f"stuck: {error}")
    spent = time.process_time() - begun
    told = len(maker.found)
    print(f"{schedule:32}{units:7}{pieces:<8}{maker.turns:<7}{spent:<6.0f}{told}", flush=True)
    for line in maker.found[:5]:
        print(f"    {line}")


if __name__ == "__main__":
    main()
