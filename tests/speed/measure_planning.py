"""How quick the planners are and how good their plans: tables, for people to compare.

    .venv/bin/python tests/speed/measure_planning.py [--pieces 5 12] [--seeds 3] [--no-exact]

Times are of the processor, on the machine it runs on, but for the exact planner's, which are of the
clock; nothing here is ever asserted. Each plan is held against the proven bound and against the
best plan known of the same shop, which `best_known.json` beside this file keeps between runs.
"""

from __future__ import annotations

import argparse
import json
import statistics
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import product
from pathlib import Path

from shops import shop

from finishsched.planning.bounds import lower_bound
from finishsched.planning.exact import exact_plan, solver_is_there
from finishsched.planning.judging.checker import check
from finishsched.planning.problem import Done, Plan, Problem
from finishsched.planning.quick import first_plan, quick_plan, re_decode
from finishsched.planning.score import score

BEST_KNOWN = Path(__file__).with_name("best_known.json")
QUICK_S = (0.2, 1.0, 4.0)
EXACT_S = (1.0, 2.0, 10.0)
RUNS = 5
DAY = 1440
NO_END = 10**9


@dataclass(frozen=True)
class Case:
    """One family of shops."""

    pieces: int
    dust: bool
    people: int
    due: bool

    def problem(self, seed: int) -> Problem:
        """Return the shop of a seed."""
        return shop(self.pieces, seed, dust=self.dust, people=self.people, due=self.due)

    def name(self, seed: int) -> str:
        """Return the key under which the best plan known is kept."""
        words = [f"{self.pieces} pieces", "dust" if self.dust else "no dust"]
        words += [f"{self.people} people", "due" if self.due else "no due", f"seed {seed}"]
        return ", ".join(words)

    def row(self) -> str:
        """Return how a row of a table begins."""
        dust = "dust" if self.dust else "-"
        return f"{self.pieces:>4}  {dust:<4}  {self.people}  {'due' if self.due else '-':<3}"


def cpu_ms(make: Callable[[], Plan]) -> tuple[float, Plan]:
    """Return the least time of several runs, and the plan."""
    times = []
    for _ in range(RUNS):
        start = time.process_time()
        plan = make()
        times.append((time.process_time() - start) * 1000)
    return min(times), plan


def edited(problem: Problem, plan: Plan) -> Problem:
    """Return the shop after the first step of the plan took a quarter of an hour longer."""
    first = plan.placed[0]
    done = Done(first.key, first.start_min, first.end_min + 15, first.by)
    return replace(problem, done=(done,), now_min=done.end_min)


def quick_for(problem: Problem, seconds: float) -> Plan:
    """Return the quick planner's plan after so much time of the processor."""
    until = time.process_time() + seconds
    return quick_plan(problem, rounds=NO_END, stop=lambda: time.process_time() > until)


def measure_of(problem: Problem, plan: Plan) -> int:
    """Return what counts: lateness where there are due dates, else the length of the plan."""
    if faults := check(problem, plan):
        raise AssertionError(faults[0].sentence)
    found = score(problem, plan)
    if any(goal.due_min is not None for goal in problem.goals):
        return found.late_min
    return found.finish_min - problem.now_min


class Best:
    """The best plans known, by the name of the shop; only what counts is kept of them."""

    def __init__(self) -> None:
        """Read what earlier runs have found."""
        there = BEST_KNOWN.exists()
        self.known: dict[str, int] = json.loads(BEST_KNOWN.read_text("utf-8")) if there else {}

    def offer(self, name: str, value: int) -> None:
        """Remember a plan if it is the best."""
        self.known[name] = min(value, self.known.get(name, value))

    def write(self) -> None:
        """Keep it for later runs."""
        text = json.dumps(self.known, indent=1, sort_keys=True)
        BEST_KNOWN.write_text(text + "\n", "utf-8")


def speed_row(case: Case) -> str:
    """Return the times of following an edit, also with reasons, of a first plan, of the bound."""
    problem = case.problem(0)
    first_ms, plan = cpu_ms(lambda: first_plan(problem))
    after = edited(problem, plan)
    order = [placed.key for placed in plan.placed]
    again_ms, _ = cpu_ms(lambda: re_decode(after, order, reasons=False))
    told_ms, again = cpu_ms(lambda: re_decode(after, order))
    measure_of(after, again)
    start = time.process_time()
    lower_bound(problem)
    bound_ms = (time.process_time() - start) * 1000
    return f"{case.row()}  {again_ms:8.1f}  {told_ms:8.1f}  {first_ms:8.1f}  {bound_ms:8.1f}"


def plans_of(case: Case, seed: int, *, exact: bool) -> Iterator[tuple[str, int]]:
    """Yield the name and the measure of each planner's plan."""
    problem = case.problem(seed)
    first = first_plan(problem)
    yield "first", measure_of(problem, first)
    start = first
    for seconds in QUICK_S:
        plan = quick_for(problem, seconds)
        start = plan if seconds == QUICK_S[0] else start
        yield f"quick {seconds:g} s", measure_of(problem, plan)
    for seconds in EXACT_S if exact else ():
        answer = exact_plan(problem, start, limit_s=seconds)
        yield f"exact {seconds:g} s", measure_of(problem, answer.plan)


def quality_rows(case: Case, seeds: int, best: Best, *, exact: bool) -> list[str]:
    """Return how far each planner's plans are from the bound and from the best known."""
    found: dict[str, list[tuple[int, str, int]]] = {}
    for seed in range(seeds):
        name = case.name(seed)
        problem = case.problem(seed)
        proven = 0 if case.due else lower_bound(problem) - problem.now_min
        for planner, value in plans_of(case, seed, exact=exact):
            best.offer(name, value)
            found.setdefault(planner, []).append((value, name, proven))
    rows = []
    for planner, values in found.items():
        middle = statistics.median(value for value, _, _ in values)
        over_best = [over(value, best.known[name]) for value, name, _ in values]
        over_bound = [over(value, proven) for value, _, proven in values]
        rows.append(
            f"{case.row()}  {planner:<11}  {middle / DAY:8.2f}  {told(over_best)}  "
            f"{'       -       ' if case.due else told(over_bound)}",
        )
    return rows


def over(value: int, least: int) -> float:
    """Return by how many percent a value is more than another."""
    return 0.0 if value == least else (value / max(1, least) - 1) * 100


def told(percent: list[float]) -> str:
    """Return the median and the worst."""
    return f"{statistics.median(percent):6.2f} ({max(percent):6.2f})"


def main() -> None:
    """Measure and print."""
    asked = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    asked.add_argument("--pieces", type=int, nargs="*", default=[1, 5, 12, 30, 100])
    asked.add_argument("--people", type=int, nargs="*", default=[1, 2])
    asked.add_argument("--seeds", type=int, default=1)
    asked.add_argument("--no-exact", action="store_true")
    asked.add_argument("--speed-only", action="store_true")
    args = asked.parse_args()
    cases = [
        Case(pieces, dust, people, due)
        for pieces, dust, people, due in product(
            args.pieces, (True, False), args.people, (False, True)
        )
    ]
    print("milliseconds        replan  and told     first     bound")
    for case in cases:
        if not case.due:
            print(speed_row(case), flush=True)
    if args.speed_only:
        return
    best = Best()
    print("\nlength, or lateness where there are due dates: days, and percent over (worst)")
    print("                   planner          days   the best known       the bound")
    for case in cases:
        exact = not args.no_exact and solver_is_there()
        for row in quality_rows(case, args.seeds, best, exact=exact):
            print(row, flush=True)
        best.write()


if __name__ == "__main__":
    main()
