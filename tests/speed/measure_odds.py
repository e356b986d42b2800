"""Whether the odds of a late piece hold when life happens: said beside true, in fifths. A table.

    .venv/bin/python tests/speed/measure_odds.py [--shops 200] [--pieces 4] [--missed 0.1]

Shops written as documents are planned, and the odds of each piece with a due date are read. Then
one course of life is drawn for each shop: a share of the evenings is missed, and waits have more of
their cause in common than the odds take them to have. Who works does so in the order of the plan.
What is said knows the missed evenings as a record of eight weeks would tell them. Nothing here is
ever asserted.
"""

from __future__ import annotations

import argparse
import random
import statistics
import tempfile
from collections.abc import Iterator
from pathlib import Path
from unittest import mock

from document_shops import NOW, write_shop

from finishsched.planning.replan import replan
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan import odds
from finishsched.workshop.plan.plans import shop_sound

RECORD_SITTINGS = 40
"""Five sittings a week for eight weeks."""
TRUE_OF_SHOP, TRUE_OF_PRODUCT = 0.5, 0.3
FIFTHS = 5


def said_and_true(pieces: int, seed: int, missed: float) -> Iterator[tuple[float, bool]]:
    """Give for each piece with a due date the odds of being late, and whether it was."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        write_shop(folder, pieces, seed)
        with Workshop.open(folder, NOW) as workshop:
            shop, whole = shop_sound(workshop, NOW)
    problem = whole.problem
    plan = replan(problem, None).plan
    chance = random.Random(f"life {seed}")  # noqa: S311 - made-up shops
    record = sum(chance.random() < missed for _ in range(RECORD_SITTINGS))
    prior = odds.USUALLY_MISSED * odds.RECORD_WORTH
    known = (record + prior) / (RECORD_SITTINGS + odds.RECORD_WORTH)
    seen = odds.outlook(shop, problem, plan, known)
    with mock.patch.multiple(odds, OF_SHOP=TRUE_OF_SHOP, OF_PRODUCT=TRUE_OF_PRODUCT):
        reached = odds.one_course(shop, problem, plan, chance, missed)
    for goal in problem.goals:
        if goal.due_min is not None and goal.key in seen.late_odds:
            late = reached.get(goal.key, goal.due_min + 1) > goal.due_min
            yield seen.late_odds[goal.key], late


def main() -> None:
    """Measure and print."""
    asked = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    asked.add_argument("--shops", type=int, default=200)
    asked.add_argument("--pieces", type=int, default=4)
    asked.add_argument("--missed", type=float, default=0.1)
    args = asked.parse_args()
    found: list[list[tuple[float, bool]]] = [[] for _ in range(FIFTHS)]
    for seed in range(args.shops):
        for said, late in said_and_true(args.pieces, seed, args.missed):
            found[min(FIFTHS - 1, int(said * FIFTHS))].append((said, late))
    print("fifth      cases   said   true")
    for number, cases in enumerate(found):
        if not cases:
            continue
        said = statistics.mean(said for said, _ in cases)
        true = statistics.mean(late for _, late in cases)
        low, high = number / FIFTHS, (number + 1) / FIFTHS
        print(f"{low:.1f}-{high:.1f} {len(cases):>8} {said:>6.0%} {true:>6.0%}", flush=True)


if __name__ == "__main__":
    main()
