"""How honest the ranges are that dry checks teach, under many truths, and how quick: a table.

    .venv/bin/python tests/speed/measure_learning.py [SHOPS] [SEEDS]

The figures are means over so many seeds, since one of a hundred shops is out by three points.

Held: of a hundred next waits, how many fell into their 80 % range, before any check and after
about 3, 10 and 30. Width: times that of an oracle, who knows everything but how one wait strays
from the next. Nothing here is ever asserted; the tests hold a smaller table to its bounds.

How narrow it could be: whoever knows the law of a truth and all its figures, and how far one wait
strays in that shop, but neither the shop's factor nor the weather or the tin, holds 80 by widths
after 3, 10 and 30 checks of 1.19 / 1.06 / 1.02 (our own law), 1.27 / 1.19 / 1.15 (another law of
the air), 1.51 / 1.39 / 1.34 (one wait in eight) and 1.21 / 1.32 / 1.24 (a new tin every five
coats), by ``measure_learning_bound.py``. So 1.35 after 10 and 1.2 after 30 cannot be had in the
last two by anybody who does not know which tin it is. Before any check a shop at 0.45 is one in
250 by the spread assumed between shops, and an 80 % range leaves it out; ``due`` never tells less
than the schedule's own earliest to latest, which over all shipped waits holds half of its waits.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path
from statistics import fmean

sys.path.insert(0, str(Path(__file__).parents[1] / "drying"))

from learning_shops import BEGIN, BOOK_S, SHOPS, WAIT, scores

from finishsched.drying.dry_checks import Check
from finishsched.drying.learning import learn

MARKS = {0: range(1), 3: range(2, 5), 10: range(8, 13), 30: range(28, 33)}


def main() -> None:
    """Measure and print."""
    shops = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    seeds = range(1, 1 + (int(sys.argv[2]) if len(sys.argv) > 2 else 3))
    print(f"{'shops':28}{'held after 0 / 3 / 10 / 30':30}width")
    for name, kind in SHOPS.items():
        each = [scores(kind, MARKS, shops, seed) for seed in seeds]
        held = " / ".join(f"{fmean(one[mark].coverage for one in each):.0f}" for mark in MARKS)
        width = " / ".join(f"{fmean(one[mark].times_oracle for one in each):.2f}" for mark in MARKS)
        print(f"{name:28}{held:30}{width}", flush=True)
    checks = [Check(*WAIT, BOOK_S, 0.9 * BOOK_S, 1.1 * BOOK_S, at=BEGIN)] * 200
    start = time.perf_counter()
    learn(checks, WAIT)
    print(f"200 checks from nothing: {1000 * (time.perf_counter() - start):.1f} ms")


if __name__ == "__main__":
    main()
