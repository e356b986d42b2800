"""The obedient maker over every shipped schedule and job: contradictions found, none wanted.

    .venv/bin/python tests/speed/measure_obedience.py [SCHEDULE ...] [--pieces 1,5,5a] [--turns 600]

Pieces: ``5`` for five entries of the job's document, ``5a`` for one entry of five that are alike.
In grams every amount is logged as it was told; in ounces a jar is mixed as told and the coats are
logged out of it. ``--jobs`` works the jobs of the shipped shops in place of panels. It takes
minutes for each schedule; nothing here is ever asserted.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "obedient"))

from obedient import MOST_TURNS, Maker, StuckError
from obedient_shops import SHIPPED, UNITS, Job

from finishsched.documents.library import schedule_names


def main() -> None:
    """Work through the table and print it."""
    asked = argparse.ArgumentParser()
    asked.add_argument("schedules", nargs="*")
    asked.add_argument("--pieces", default="1,5,5a")
    asked.add_argument("--units", default=",".join(UNITS))
    asked.add_argument("--turns", type=int, default=MOST_TURNS)
    asked.add_argument("--jobs", action="store_true")
    given = asked.parse_args()
    print(f"{'schedule':32}{'units':7}{'pieces':8}{'turns':7}{'coats':7}{'s':6}contradictions")
    units = given.units.split(",")
    if given.jobs:
        for name in SHIPPED:
            for unit in units:
                job = Job(shipped=name, units=unit)
                _row(name, unit, "", given.turns, lambda at, job=job: Maker(at, job))
        return
    for schedule in given.schedules or schedule_names():
        for unit in units:
            for pieces in given.pieces.split(","):
                many, alike = int(pieces.removesuffix("a")), pieces.endswith("a")
                _row(
                    schedule, unit, pieces, given.turns,
                    lambda at, s=schedule, u=unit, n=many, a=alike: Maker.of_panels(
                        at, u, s, n, alike=a
                    ),
                )  # fmt: skip


def _row(name, units, pieces, turns, make) -> None:
    begun = time.process_time()
    with tempfile.TemporaryDirectory() as folder:
        maker = make(Path(folder) / "shop")
        maker.jars = units == "oz"
        try:
            maker.work(turns)
        except StuckError as error:
            maker.found.append(f"stuck: {error}")
    spent = time.process_time() - begun
    told = len(maker.found)
    print(
        f"{name:32}{units:7}{pieces:<8}{maker.turns:<7}{maker.coats:<7}{spent:<6.0f}{told}",
        flush=True,
    )
    for line in maker.found[:5]:
        print(f"    {line}", flush=True)


if __name__ == "__main__":
    main()
