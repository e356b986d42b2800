"""Whether one early look that found it ready may move other waits: a table, never an assertion.

    .venv/bin/python tests/speed/measure_learning_first.py [SHOPS]

In shops of many truths the first wait is looked at once, by so many times the book's time, and was
ready. Of a hundred next waits of the same kind: how many were ready by the likely time as it is
told then, and how many by the book's; an honest likely time has fifty. Then how far each was out,
as a log, and how many next waits fell into the range that is told.

At the bell (1.0) the likely time goes to 0.84 of the book. In ten of fourteen truths 46 to 63 of a
hundred were ready by it, where by the book's 61 to 85 were: that film had been dry long before the
bell. It is further out than the book's in two, where a thumb never says 'not yet' (33 of a hundred
ready) and where nobody looks before half again the time (38); in a slow shop hardly any look
passes. So an early pass may move the waits of its own kind. Those of other kinds are told nothing
by looks that were all ready, and the late end stays where it was.
"""

from __future__ import annotations

import math
import random
import sys
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from statistics import fmean

sys.path.insert(0, str(Path(__file__).parents[1] / "drying"))

from learning_shops import BEGIN, BOOK_S, SHOPS, WAIT, Shop

from finishsched.drying.dry_checks import Check
from finishsched.drying.learning import Learnt, learn

LOOKS = (0.7, 0.85, 1.0, 1.15)
"""Times the book's time."""
FEW = 30
"""Of fewer passes nothing is told."""


def next_needs(kind: Callable[[random.Random], Shop], look: float, shops: int) -> list[float]:
    """Return the logs that next waits need in those of ``shops`` where the first look passed."""
    found = []
    for seed in range(shops):
        shop = kind(random.Random(seed))  # noqa: S311  # of no secret
        need = shop.need(0) + shop.thumb
        if shop.always_ready or math.log(look * shop.looks_at) >= need:
            found.append(shop.need(1))
    return found


def told_after(look: float) -> Learnt:
    """Return what is told of the next wait, a day after one that was ready when looked at."""
    check = Check(*WAIT, BOOK_S, 0.0, look * BOOK_S, at=BEGIN)
    return learn([check], WAIT, at=BEGIN + timedelta(days=1))


def row(needs: list[float], told: Learnt) -> str:
    """Return the figures of one truth and one look."""
    if len(needs) < FEW:
        return f"{len(needs)} passed"
    likely, low, high = (math.log(t) for t in (told.likely, told.earliest, told.latest))
    ready = 100 * fmean(need <= likely for need in needs)
    by_book = 100 * fmean(need <= 0 for need in needs)
    out = fmean(abs(need - likely) for need in needs)
    book_out = fmean(map(abs, needs))
    held = 100 * fmean(low <= need <= high for need in needs)
    return f"{ready:3.0f} /{by_book:3.0f}  {out:.2f} /{book_out:.2f}  {held:3.0f}"


def main() -> None:
    """Measure and print."""
    shops = int(sys.argv[1]) if len(sys.argv) > 1 else 2000
    for look in LOOKS:
        told = told_after(look)
        print(f"looked at {look} of the book's time: likely {told.likely:.2f} of it then")
        for name, kind in SHOPS.items():
            print(f"  {name:28}{row(next_needs(kind, look, shops), told)}", flush=True)


if __name__ == "__main__":
    main()
