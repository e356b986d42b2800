"""How near the quick planner comes to proven optima of projects, in some milliseconds. A table.

    .venv/bin/python tests/speed/measure_projects.py [--each 2] [--ms 25 250]

Projects without hands or hours: thirty steps on four stores, drawn in the cells of PSPLIB's j30 (R.
Kolisch, A. Sprecher, A. Drexl, Management Science 41, 1995): 1.5, 1.8 and 2.1 waits for each step;
of the stores a quarter, half, three quarters or all are used by each; capacities 0.2, 0.5, 0.7 and
1.0 of the way from the largest demand to the peak of all as early as can be. Beside them whatever
instances lie in the folder that FINISHSCHED_BENCHMARKS names; of those with windows it is told how
soon the rules give up. Times are of the processor. The optimum is proven by the solver; a project
that it does not prove in a minute is left out. Nothing here is ever asserted.
"""

from __future__ import annotations

import argparse
import csv
import os
import random
import statistics
import sys
import time
from collections.abc import Iterator
from itertools import product
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "outside"))

from measure_documents import quick_for
from planning_loaders import project, project_with_windows

from finishsched.planning.exact import exact_plan
from finishsched.planning.judging.checker import check
from finishsched.planning.problem import Activity, Lag, Problem, Store, Use
from finishsched.planning.score import score

STEPS, STORES, MOST_MIN, MOST_DEMAND, MOST_AFTER = 30, 4, 10, 10, 3
WAITS_A_STEP = (1.5, 1.8, 2.1)
SHARES_USED = (0.25, 0.5, 0.75, 1.0)
STRENGTHS = (0.2, 0.5, 0.7, 1.0)
PROVE_S = 60.0
Waits = list[tuple[int, int]]


def waits_between(chance: random.Random, wanted: int) -> Waits:
    """Return which steps wait for which: each but the first three for one at least."""
    after = dict.fromkeys(range(STEPS), 0)
    waits: set[tuple[int, int]] = set()
    for second in range(MOST_AFTER, STEPS):
        free = [first for first in range(second) if after[first] < MOST_AFTER]
        first = chance.choice(free)
        waits.add((first, second))
        after[first] += 1
    while len(waits) < wanted:
        first, second = sorted(chance.sample(range(STEPS), 2))
        if (first, second) not in waits and after[first] < MOST_AFTER:
            waits.add((first, second))
            after[first] += 1
    return sorted(waits)


def capacity(strength: float, demand: list[int], minutes: list[int], waits: Waits) -> int:
    """Return the capacity of a store, so much of the way from the least to what is never short."""
    start = [0] * STEPS
    for first, second in waits:
        start[second] = max(start[second], start[first] + minutes[first])
    peak = max(
        sum(
            demand[step] for step in range(STEPS) if start[step] <= at < start[step] + minutes[step]
        )
        for at in start
    )
    least = max(demand)
    return least + round(strength * (peak - least))


def drawn(cell: tuple[float, float, float], seed: int) -> Problem:
    """Return one project of a cell."""
    waits_a_step, share_used, strength = cell
    chance = random.Random(f"{cell} {seed}")  # noqa: S311 - made up
    minutes = [chance.randint(1, MOST_MIN) for _ in range(STEPS)]
    waits = waits_between(chance, round(waits_a_step * STEPS))
    used = round(share_used * STORES)
    demands = [[0] * STEPS for _ in range(STORES)]
    for step in range(STEPS):
        for store in chance.sample(range(STORES), used):
            demands[store][step] = chance.randint(1, MOST_DEMAND)
    stores = tuple(
        Store(f"s{number}", capacity(strength, demand, minutes, waits))
        for number, demand in enumerate(demands)
    )
    activities = []
    for step in range(STEPS):
        uses = [Use(f"s{at}", demand[step]) for at, demand in enumerate(demands) if demand[step]]
        activities.append(Activity(f"a{step:02}", minutes[step], uses=tuple(uses)))
    lags = [Lag(f"a{first:02}", f"a{second:02}") for first, second in waits]
    return Problem(tuple(activities), tuple(lags), stores=stores)


def proven(problem: Problem) -> int | None:
    """Return the optimum; None where it is not proven in time."""
    answer = exact_plan(problem, quick_for(problem, 0.1), limit_s=PROVE_S)
    return score(problem, answer.plan).finish_min if answer.proven else None


def over_percent(problem: Problem, optimum: int, seconds: float) -> tuple[float, float]:
    """Return by how many percent the quick planner's plan is longer, and the seconds it took."""
    began = time.process_time()
    plan = quick_for(problem, seconds)
    took = time.process_time() - began
    if faults := check(problem, plan):
        raise AssertionError(faults[0].sentence)
    return (score(problem, plan).finish_min / optimum - 1) * 100, took


def instances() -> Iterator[tuple[str, Problem, str]]:
    """Give what lies in the folder of published instances, with the optimum or 'infeasible'."""
    named = os.environ.get("FINISHSCHED_BENCHMARKS")
    table = Path(named) / "OPTIMA.csv" if named else None
    if table is None or not table.is_file():
        print("FINISHSCHED_BENCHMARKS names no folder of instances")
        return
    loaders = {".sm": project, ".sch": project_with_windows}
    with table.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            path = table.parent / row["file"]
            if path.suffix in loaders:
                yield path.name, loaders[path.suffix](path.read_text("utf-8")), row["optimum"]


def main() -> None:
    """Measure and print."""
    asked = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    asked.add_argument("--each", type=int, default=2, help="projects of each of the 48 cells")
    asked.add_argument("--ms", type=int, nargs="*", default=[25, 250])
    args = asked.parse_args()
    for name, problem, optimum in instances():
        for ms in args.ms:
            began = time.process_time()
            found = score(problem, quick_for(problem, ms / 1000))
            took_ms = (time.process_time() - began) * 1000
            whole = not found.left_out and not found.hard_late_min
            told = found.finish_min if whole else "no plan"
            print(f"{name:<16} optimum {optimum}, in {took_ms:.0f} ms of {ms}: {told}", flush=True)
    cells = list(product(WAITS_A_STEP, SHARES_USED, STRENGTHS))
    found: dict[int, list[tuple[float, float]]] = {ms: [] for ms in args.ms}
    for cell, seed in product(cells, range(args.each)):
        problem = drawn(cell, seed)
        optimum = proven(problem)
        for ms in args.ms if optimum else ():
            found[ms].append(over_percent(problem, optimum or 0, ms / 1000))
    for ms, values in found.items():
        over, took = zip(*values, strict=True)
        print(
            f"{len(values)} projects, {ms} ms: {statistics.mean(over):.2f} % over the optimum, "
            f"worst {max(over):.1f} %, {statistics.mean(map(bool, over)):.0%} not at it; "
            f"took {1000 * statistics.mean(took):.0f} ms"
        )


if __name__ == "__main__":
    main()
