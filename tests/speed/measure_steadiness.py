"""What becomes of a plan when life happens: how late, and how much of next week stays. A table.

    .venv/bin/python tests/speed/measure_steadiness.py [--pieces 8 20] [--seeds 3] [--hands 2]

A shop written as documents is planned, and worked as planned for some days. Then an evening is
missed, a helper stays away for a week, a wait takes 1.4 times as long, or a coat twice the time; or
the first work of all takes 25 minutes longer. Going on by the plan stands beside planning from
nothing: lateness in hours, by how many hours sittings and mixes are broken, the share of the next
week's starts that are kept, and the seconds of the processor. What is less late and breaks more may
be no better plan: a split sitting is weighed as it is where plans to go on by are. What came of it
is in `nearness.txt`, of 90 and 500 pieces in `large.txt`. Nothing here is ever asserted.
"""

from __future__ import annotations

import argparse
import gc
import time
from collections.abc import Iterator
from dataclasses import dataclass, replace

from document_shops import document_problem

from finishsched.__main__ import OBJECTS_BEFORE_A_LOOK
from finishsched.factors import DAY_MIN
from finishsched.planning.going_on.remaking import LATER_MIN
from finishsched.planning.going_on.steady import NEAR_DAYS, Promise, kept_share, promise_of
from finishsched.planning.judging.checker import check
from finishsched.planning.numbers.numbering import inner_of
from finishsched.planning.problem import Done, Hands, Lag, Placed, Plan, Problem
from finishsched.planning.quick.blocks import blocks_of
from finishsched.planning.quick.keeping import Keeping
from finishsched.planning.replan import replan
from finishsched.planning.score import score

WORKED_DAYS = 9
AWAY_DAYS = 7
LONGER, TWICE = 1.4, 2
OVERRUN_MIN = 25


@dataclass(frozen=True)
class Case:
    """What happened, and the problem that is left."""

    what: str
    problem: Problem


def done_by(plan: Plan, now_min: int) -> tuple[Done, ...]:
    """Return what was begun by then, as it was planned."""
    return tuple(
        Done(each.key, each.start_min, each.end_min, each.by)
        for each in plan.placed
        if each.start_min < now_min
    )


def _evening_after(problem: Problem, at_min: int) -> tuple[int, int]:
    """Return the first hours that begin after a minute."""
    windows = sorted(w for hands in problem.hands for w in hands.windows)
    found = next(w for w in windows if w.start_min >= at_min)
    return found.start_min, found.end_min


def cases(problem: Problem, plan: Plan) -> Iterator[Case]:
    """Give what may happen after some days of work."""
    yield Case("longer step", _first_longer(problem, plan))
    begins, ends = _evening_after(problem, problem.now_min + WORKED_DAYS * DAY_MIN)
    done = done_by(plan, begins)
    yield Case("missed evening", replace(problem, now_min=ends, done=done))
    away = replace(problem, now_min=begins, done=done)
    yield Case("helper away", replace(away, hands=_away(problem, begins)))
    yield Case("longer wait", _longer_wait(problem, done, begins))
    yield Case("coat twice", _twice(problem, plan, begins, ends))


def _first_longer(problem: Problem, plan: Plan) -> Problem:
    """Return the problem after the first work of all took longer; all else went as planned."""
    first = next(each for each in plan.placed if each.by)
    now_min = first.end_min + OVERRUN_MIN
    ran = Done(first.key, first.start_min, now_min, first.by)
    others = [each for each in done_by(plan, now_min) if each.key != first.key]
    # What the same hands were to begin meanwhile did not begin.
    others = [e for e in others if e.by != first.by or e.start_min < first.end_min]
    return replace(problem, now_min=now_min, done=(*others, ran))


def _away(problem: Problem, since: int) -> tuple[Hands, ...]:
    """Return the hands with the last of them away for a week."""
    *others, helper = problem.hands
    until = since + AWAY_DAYS * DAY_MIN
    windows = tuple(w for w in helper.windows if not since <= w.start_min < until)
    return (*others, Hands(helper.name, windows))


def _longer_wait(problem: Problem, done: tuple[Done, ...], now_min: int) -> Problem:
    """Return the problem in which all waits that run take longer than they were planned."""
    there = {each.key for each in done}

    def longer(lag: Lag) -> Lag:
        if lag.before not in there or lag.after in there or lag.least_min <= 0:
            return lag
        least = int(lag.least_min * LONGER)
        most = None if lag.most_min is None else max(lag.most_min, least)
        return replace(lag, least_min=least, most_min=most)

    return replace(problem, now_min=now_min, done=done, lags=tuple(map(longer, problem.lags)))


def _twice(problem: Problem, plan: Plan, begins: int, ends: int) -> Problem:
    """Return the problem after the longest work of an evening took twice its time."""
    tonight = [p for p in plan.placed if p.by and begins <= p.start_min < ends]
    if not tonight:
        return replace(problem, now_min=begins, done=done_by(plan, begins))
    long = max(tonight, key=lambda each: (each.end_min - each.start_min, -each.start_min))
    now_min = min(ends, long.start_min + TWICE * (long.end_min - long.start_min))
    ran = Placed(long.key, long.start_min, now_min, long.by)
    before = [each for each in plan.placed if each.start_min < long.start_min]
    done = tuple(Done(e.key, e.start_min, e.end_min, e.by) for e in (*before, ran))
    return replace(problem, now_min=now_min, done=done)


def share_that_could(problem: Problem, old: Plan) -> float:
    """Return the share of next week's starts of work that could be kept whatever it costs.

    Only what waits for nothing that moves is held for that: a good plan may keep more.
    """
    until = problem.now_min + NEAR_DAYS * DAY_MIN
    inner = inner_of(problem)
    blocks = blocks_of(inner, keep_soft=False)
    hands = {each.name: number for number, each in enumerate(problem.hands)}
    kept = Keeping(inner, blocks, old, hands).kept(lambda _, begun: begun < until)
    stay = {inner.keys[number] for block in kept.blocks for number in blocks.members[block]}
    done = {each.key for each in problem.done}
    ahead = [each for each in old.placed if each.by and each.key not in done]
    near = [each.key for each in ahead if problem.now_min <= each.start_min < until]
    return len(stay.intersection(near)) / max(1, len(near))


def main() -> None:
    """Measure and print."""
    asked = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    asked.add_argument("--pieces", type=int, nargs="*", default=[8, 20])
    asked.add_argument("--seeds", type=int, default=3)
    asked.add_argument("--rounds", type=int, default=None)
    args = asked.parse_args()
    # As the program does.
    gc.set_threshold(OBJECTS_BEFORE_A_LOOK)
    print(
        "pieces seed  what             going on  from nothing   worse  broken   kept  could      s"
    )
    count = later = 0
    for pieces in args.pieces:
        for seed in range(args.seeds):
            problem = document_problem(pieces, seed, people=2)
            old = replan(problem, None, rounds=args.rounds).plan
            for case in cases(problem, old):
                now = case.problem
                began_s = time.process_time()
                on = replan(now, old).plan
                took_s = time.process_time() - began_s
                anew = replan(now, None, rounds=args.rounds).plan
                assert not check(now, on)
                ours, theirs = score(now, on), score(now, anew)
                late, other = ours.late_min / 60, theirs.late_min / 60
                broken = f"{ours.hard_late_min / 60:.0f}/{theirs.hard_late_min / 60:.0f}"
                count += 1
                later += promise_of(ours) > _half_an_hour_later(promise_of(theirs))
                share, could = kept_share(now, old, on), share_that_could(now, old)
                print(
                    f"{pieces:>6} {seed:>4}  {case.what:<15} {late:>9.1f} {other:>13.1f} "
                    f"{late - other:>7.1f} {broken:>7} {share:>6.0%} {could:>6.0%} "
                    f"{took_s:>6.2f}",
                    flush=True,
                )
    print(f"later than from nothing by more than half an hour: {later} of {count}")


def _half_an_hour_later(promise: Promise) -> Promise:
    """Return a promise with as much more lateness as nobody is put out by."""
    return promise._replace(late_min=promise.late_min + LATER_MIN)


if __name__ == "__main__":
    main()
