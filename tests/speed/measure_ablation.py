"""What each heuristic, rule and move of the quick planner brings: it is left out, and plans again.

    .venv/bin/python tests/speed/measure_ablation.py [--seeds 4] [--seconds 0.5] [--parts WORD]

Shops written as documents, of 8, 20 and 40 pieces; of 8 and 20 pieces in a house with a room apart
for the dust; and projects of 30 steps on four stores, with neither hands nor hours. Each row is one
part left out; each column says by how much plans are worse for it than with all parts: lateness in
hours, and finish in hours, means over the shops, more is worse.
What was found stands in ablation.txt beside this file. Nothing here is ever asserted.
"""

from __future__ import annotations

import argparse
import random
import statistics
from collections.abc import Iterator
from contextlib import AbstractContextManager
from dataclasses import dataclass, replace
from unittest import mock

from document_shops import document_problem
from measure_documents import quick_for, scored

from finishsched.planning.problem import Activity, Lag, Problem, Store, Use
from finishsched.planning.quick import search, ways
from finishsched.planning.quick.blocks import Blocks
from finishsched.planning.quick.keys import Pressure
from finishsched.planning.quick.ordering import Halt, place_in_order
from finishsched.planning.quick.placing import Placing
from finishsched.planning.quick.walks import by_keys, by_order
from finishsched.planning.quick.walks.by_keys import ForwardClimb
from finishsched.planning.quick.walks.by_order import Climb
from finishsched.planning.quick.walks.turns import Walks

SIZES, SIZES_WITHOUT_DUST = (8, 20, 40), (8, 20)
PROJECT_STEPS, STORES, USED, REACH, PROJECTS_EACH = 30, 4, 0.5, 12, 4

Part = AbstractContextManager[object]


@dataclass(frozen=True)
class Family:
    """The shops of one column."""

    name: str
    problems: tuple[Problem, ...]


def _nothing(*_: object) -> None:
    """Do nothing."""


def _no_climbs(*_: object) -> Iterator[None]:
    """Climb nothing."""
    yield from ()


def _as_blocks(
    placing: Placing, order: list[int], begin: Halt | None = None, every: int = 0
) -> list[Halt]:
    """Place all as blocks of one, without going back for a window."""
    return place_in_order(placing, order, begin, every)


def _tied_as_ever(self: Walks) -> Blocks:
    """Tie what is tied otherwise too."""
    return self.so_far.ways.blocks(0)


def _plain_but(number: int) -> Part:
    every = Pressure.plain_keys

    def some(self: Pressure) -> list[list[int]]:
        return [keys for at, keys in enumerate(every(self)) if at != number]

    return mock.patch.object(Pressure, "plain_keys", some)


def _forward_but(number: int) -> Part:
    rules = search.FORWARD_RULES
    return mock.patch.object(search, "FORWARD_RULES", rules[:number] + rules[number + 1 :])


def _no_move(of: type, name: str) -> Part:
    return mock.patch.object(of, name, _nothing)


def _one_mode() -> Part:
    every = ways.blocks_of

    def tied(inner: object, *, keep_soft: bool, **more: int) -> Blocks:
        del keep_soft
        return every(inner, keep_soft=False, **more)  # type: ignore[arg-type]

    return mock.patch.object(ways, "blocks_of", tied)


def parts() -> dict[str, Part]:
    """Return by name what leaves a part out."""
    found: dict[str, Part] = {"all": mock.patch.object(search, "AHEAD_STEPS", search.AHEAD_STEPS)}
    for number, name in enumerate(("due date", "slack", "longest remaining")):
        found[f"plain rule: {name}"] = _plain_but(number)
    for number in range(len(search.FORWARD_RULES)):
        found[f"forward rule {number + 1}"] = _forward_but(number)
    found["forward rules but the first"] = mock.patch.object(
        search, "FORWARD_RULES", search.FORWARD_RULES[:1]
    )
    found["climbing forward"] = mock.patch.object(Walks, "_forward", _no_climbs)
    for move in ("_shift_goal", "_exchange", "_blur", "_shift_wet", "_pull"):
        found[f"forward move {move}"] = _no_move(ForwardClimb, move)
    found["pauses to go on from"] = mock.patch.object(by_keys, "PAUSES", 1)
    found["all that is placed ahead"] = mock.patch.multiple(search, AHEAD_STEPS=0, FEW_STEPS=0)
    found["all that is placed goal by goal"] = mock.patch.object(search, "GOALS_STEPS", 0)
    found["climbing goal by goal"] = mock.patch.object(Walks, "_by_goals", _no_climbs)
    found["ahead rules but the first"] = mock.patch.object(search, "RULES", search.RULES[:1])
    found["climbing ahead"] = mock.patch.object(Walks, "_ahead", _no_climbs)
    for move in ("_stir_first", "_hurry", "_pull", "_blur"):
        found[f"ahead move {move}"] = _no_move(Climb, move)
    found["ahead: untied"] = mock.patch.object(Walks, "_untied", _tied_as_ever)
    found["ahead: going back one by one"] = mock.patch.object(by_order, "one_by_one", _as_blocks)
    found["windows tied in two ways"] = _one_mode()
    return found


def families(seeds: int) -> list[Family]:
    """Return the shops of each column."""
    found = []
    for pieces in SIZES:
        problems = tuple(document_problem(pieces, seed) for seed in range(seeds))
        found.append(Family(f"{pieces}", problems))
    for pieces in SIZES_WITHOUT_DUST:
        problems = tuple(replace(document_problem(pieces, seed), rules=()) for seed in range(seeds))
        found.append(Family(f"{pieces} no dust", problems))
    found.append(Family("projects", tuple(map(project, range(PROJECTS_EACH * seeds)))))
    return found


def project(seed: int) -> Problem:
    """Return thirty steps of one to ten hours, each after up to three others, on four stores."""
    chance = random.Random(f"project {seed}")  # noqa: S311 - made up
    stores = tuple(Store(f"s{number}", chance.randint(10, 16)) for number in range(STORES))
    activities, lags = [], []
    for number in range(PROJECT_STEPS):
        uses = tuple(
            Use(store.name, chance.randint(1, 10)) for store in stores if chance.random() < USED
        )
        activities.append(Activity(f"a{number}", 60 * chance.randint(1, 10), uses=uses))
        before = range(max(0, number - REACH), number)
        some = chance.sample(before, min(len(before), chance.randint(1, 3)))
        lags += [Lag(f"a{other}", f"a{number}") for other in some]
    return Problem(tuple(activities), tuple(lags), stores=stores)


def measured(family: Family, seconds: float) -> tuple[float, float]:
    """Return the mean lateness and finish in hours of a family's plans."""
    found = [scored(problem, quick_for(problem, seconds)) for problem in family.problems]
    late, finish, _ = zip(*found, strict=True)
    return statistics.mean(late), statistics.mean(finish)


def main() -> None:
    """Measure and print."""
    asked = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    asked.add_argument("--seeds", type=int, default=4)
    asked.add_argument("--seconds", type=float, default=0.5)
    asked.add_argument("--parts", default="", help="only parts with this in their names")
    asked.add_argument("--shops", default="", help="only families with this in their names")
    args = asked.parse_args()
    shops = [family for family in families(args.seeds) if args.shops in family.name]
    print(" " * 30, *(f"{family.name:>14}" for family in shops))
    whole: list[tuple[float, float]] = []
    for name, left_out in parts().items():
        if whole and args.parts not in name:
            continue
        with left_out:
            found = [measured(family, args.seconds) for family in shops]
        if not whole:
            whole = found
            cells = [f"{late:.0f}/{finish:.1f}" for late, finish in found]
        else:
            cells = [
                f"{late - was_late:+.0f}/{finish - was_finish:+.1f}"
                for (late, finish), (was_late, was_finish) in zip(found, whole, strict=True)
            ]
        print(f"{name:<30}", *(f"{cell:>14}" for cell in cells), flush=True)


if __name__ == "__main__":
    main()
