"""Which activities of a plan are done from one mix: asked by every planner, and for every score.

A pot is mixed when the first of them starts, and has to be used up within its life. As few are
mixed as can be: whoever starts next is served from the pot that is open, if it ends in time.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from finishsched.planning.hands_work import There
from finishsched.planning.problem import Activity, Mixed, Problem


class _Draw(NamedTuple):
    """One activity that is done from a pot."""

    start_min: int
    key: str
    end_min: int


class _Begun(NamedTuple):
    """One mix, and when it is begun."""

    at_min: int
    mixed: Mixed


def mixed_of(problem: Problem, placed: Iterable[There]) -> tuple[Mixed, ...]:
    """Return the pots that more than one activity is done from, in the order of their starts.

    Args:
        problem: has the pots, and what is done.
        placed: where the other activities lie.

    """
    if not problem.pots:
        return ()
    shared = [pot for pot in all_mixed(problem, placed) if len(pot.keys) > 1]
    return tuple(shared)


def all_mixed(problem: Problem, placed: Iterable[There]) -> list[Mixed]:
    """Return every pot that is mixed for what is placed, also for one activity alone.

    Those that served only what is done are left out.

    Args:
        problem: has the pots, and what is done.
        placed: where the other activities lie.

    """
    activities = {activity.key: activity for activity in problem.activities}
    lying = list(placed)
    draws = _draws(problem, lying, activities)
    open_keys = {each.key for each in lying}
    found: list[_Begun] = []
    for pot in problem.pots:
        of_pot = draws.get(pot.name, [])
        for keys, begun_min in _one_life(of_pot, pot.life_min):
            if open_keys.intersection(keys):
                mixed = Mixed(pot.name, tuple(keys))
                found.append(_Begun(begun_min, mixed))
    found.sort(key=lambda begun: (begun.at_min, begun.mixed.keys))
    return [begun.mixed for begun in found]


def _draws(
    problem: Problem,
    placed: Iterable[There],
    activities: dict[str, Activity],
) -> dict[str, list[_Draw]]:
    """Return by pot what is done from it, in the order of starts.

    Args:
        problem: has what is done.
        placed: where the other activities lie.
        activities: all of them, by key.

    """
    draws: dict[str, list[_Draw]] = {}
    for there in (*problem.done, *placed):
        pot = activities[there.key].pot
        if pot:
            draw = _Draw(there.start_min, there.key, there.end_min)
            draws.setdefault(pot, []).append(draw)
    for of_pot in draws.values():
        of_pot.sort()
    return draws


def _one_life(draws: list[_Draw], life_min: int) -> Iterator[tuple[list[str], int]]:
    """Give what is done from each mix, and when it is begun.

    Args:
        draws: all that is done from one kind of pot, in the order of starts.
        life_min: for how many minutes a mix of it is good.

    """
    left = draws
    while left:
        begun_min = left[0].start_min
        good_until = begun_min + life_min
        outlasts_it = left[0].end_min > good_until
        keys = [left[0].key]
        later: list[_Draw] = []
        for draw in left[1:]:
            # Of a mix that one piece of work takes all of its life, and more, nothing is left.
            if draw.end_min <= good_until and not outlasts_it:
                keys.append(draw.key)
            else:
                later.append(draw)
        yield keys, begun_min
        left = later


def pots_to_mix(problem: Problem, placed: Iterable[There]) -> int:
    """Return how many pots are still to be mixed for what is placed.

    One that something done was served from is there already.

    Args:
        problem: has the pots, and what is done.
        placed: where the other activities lie.

    """
    if not problem.pots:
        return 0
    done = {there.key for there in problem.done}
    mixes = all_mixed(problem, placed)
    to_mix = [mixed for mixed in mixes if done.isdisjoint(mixed.keys)]
    return len(to_mix)
