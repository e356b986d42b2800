"""Plans of shops that are written as documents, beside what the plain rules make of them: tables.

    .venv/bin/python tests/speed/measure_documents.py [--pieces 8 20] [--seeds 6]

Lateness and finish in hours and sittings split over a break, means over the shops; seconds are of
the processor. Our plans split none; a plain rule does where other work comes between. With --exact
the plan that the solver comes to from there in ten seconds stands beside it. Nothing here is ever
asserted.

The bound knows nothing of sittings. --split lets them be split everywhere, so that how near the
search comes to the bound can be seen apart from what holding sittings together costs. --undated
leaves out the due dates: then only the finish counts. --gaps tells of each shop alone how late the
plan after a second is, beside what twenty seconds find and a minute of the solver from there, and
beside the plan of a second where a room apart keeps the dust away.
"""

from __future__ import annotations

import argparse
import statistics
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import product
from typing import TypeAlias

from document_shops import document_problem
from plain_rules import PLAIN_RULES, plain_plan

from finishsched.planning.bounds import bound
from finishsched.planning.exact import exact_plan
from finishsched.planning.judging.checker import check
from finishsched.planning.problem import Lag, Plan, Problem, Score
from finishsched.planning.quick import first_plan, quick_plan
from finishsched.planning.score import score

NO_END = 10**9
Row: TypeAlias = tuple[float, float, int]
EXACT_S = 10.0
LONG_S, LONG_EXACT_S = 20.0, 60.0


def quick_for(problem: Problem, seconds: float) -> Plan:
    """Return the quick planner's plan after so much time of the processor."""
    until = time.process_time() + seconds
    return quick_plan(problem, rounds=NO_END, stop=lambda: time.process_time() > until)


def hours(problem: Problem, found: Score) -> tuple[float, float]:
    """Return lateness and finish in hours."""
    return found.late_min / 60, (found.finish_min - problem.now_min) / 60


def scored(problem: Problem, plan: Plan) -> Row:
    """Return a plan's lateness, finish and split sittings, once the checker has found nothing."""
    if faults := check(problem, plan):
        raise AssertionError(faults[0].sentence)
    return *hours(problem, score(problem, plan)), sum(miss.hard for miss in plan.misses)


def columns(problem: Problem, seconds: float, *, exact: bool) -> Iterator[tuple[str, *Row]]:
    """Yield the name of each column with its lateness, finish and split sittings."""
    least = bound(problem)
    yield "bound", least.late_min / 60, (least.finish_min - problem.now_min) / 60, 0
    for rule in PLAIN_RULES:
        yield rule, *scored(problem, plain_plan(problem, rule))
    yield "first plan", *scored(problem, first_plan(problem))
    plan = quick_for(problem, seconds)
    yield f"{seconds:g} s", *scored(problem, plan)
    if exact:
        answer = exact_plan(problem, plan, limit_s=EXACT_S)
        yield "solver", *scored(problem, answer.plan)


def splittable(problem: Problem) -> Problem:
    """Return a shop in which any sitting may be split over a break."""
    lags = [
        Lag(lag.before, lag.after, lag.least_min) if lag.most_min is not None and lag.hard else lag
        for lag in problem.lags
    ]
    return replace(problem, lags=tuple(lags))


def undated(problem: Problem) -> Problem:
    """Return a shop in which nothing is due."""
    return replace(problem, goals=tuple(replace(goal, due_min=None) for goal in problem.goals))


def table(
    sizes: list[int],
    seeds: int,
    seconds: float,
    changed: Callable[[Problem], Problem],
    *,
    exact: bool,
) -> None:
    """Print means over the shops of each size, and how often a plain rule was less late."""
    for pieces in sizes:
        found: dict[str, list[Row]] = {}
        for seed in range(seeds):
            problem = changed(document_problem(pieces, seed))
            for name, *row in columns(problem, seconds, exact=exact):
                found.setdefault(name, []).append((row[0], row[1], int(row[2])))
        plain = [min(found[rule][n][0] for rule in PLAIN_RULES) for n in range(seeds)]
        beaten = sum(found["first plan"][n][0] > late for n, late in enumerate(plain))
        told = "  ".join(f"{name} {_mean(values)}" for name, values in found.items())
        print(f"{pieces:>4}  {told}  later than a plain rule: {beaten} of {seeds}", flush=True)


def _mean(values: list[Row]) -> str:
    late, finish, split = (statistics.mean(column) for column in zip(*values, strict=True))
    return f"{late:.0f}/{finish:.0f}/{split:.0f}"


def gaps(pieces: int, seed: int, seconds: float) -> str:
    """Return how late the plans of one shop are, in hours, and what the bound says of it."""
    problem = document_problem(pieces, seed)
    plan, long = quick_for(problem, seconds), quick_for(problem, LONG_S)
    better = min(plan, long, key=lambda each: score(problem, each))
    solved = exact_plan(problem, better, limit_s=LONG_EXACT_S).plan
    apart = replace(problem, rules=())
    late = [
        bound(problem).late_min / 60,
        scored(apart, quick_for(apart, seconds))[0],
        *[scored(problem, each)[0] for each in (plan, long, solved)],
    ]
    return "".join(f"{hours:>9.0f}" for hours in (pieces, seed, *late))


def main() -> None:
    """Measure and print."""
    asked = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    asked.add_argument("--pieces", type=int, nargs="*", default=[8, 20, 40, 60, 100])
    asked.add_argument("--seeds", type=int, default=6)
    asked.add_argument("--seconds", type=float, default=1.0)
    asked.add_argument("--exact", action="store_true")
    asked.add_argument("--split", action="store_true")
    asked.add_argument("--undated", action="store_true")
    asked.add_argument("--gaps", action="store_true")
    args = asked.parse_args()
    if args.gaps:
        print("   pieces     seed    bound  no dust      1 s     20 s   solver")
        for pieces, seed in product(args.pieces, range(args.seeds)):
            print(gaps(pieces, seed, args.seconds), flush=True)
        return

    def changed(problem: Problem) -> Problem:
        problem = splittable(problem) if args.split else problem
        return undated(problem) if args.undated else problem

    table(args.pieces, args.seeds, args.seconds, changed, exact=args.exact)


if __name__ == "__main__":
    main()
