"""Whether what a plan says is done from one mix can be: the same pot, once, within its life."""

from __future__ import annotations

from collections.abc import Iterator

from finishsched.planning.judging.violations import Broken, Scene, There, Violation
from finishsched.planning.problem import Mixed


def pots_broken(scene: Scene) -> Iterator[Violation]:
    """Find what is served from a pot that it cannot be served from."""
    lives = {pot.name: pot.life_min for pot in scene.problem.pots}
    served: set[str] = set()
    for mixed in scene.plan.mixed:
        # Nobody draws on two mixes, nor twice on one.
        for key in mixed.keys:
            if key in served:
                yield _wrong(mixed, key, "is served from two mixes")
            served.add(key)
        life_min = lives.get(mixed.pot)
        yield from _of_one(mixed, life_min, scene)


def _of_one(mixed: Mixed, life_min: int | None, scene: Scene) -> Iterator[Violation]:
    """Find what of one mix is not there, is done from something else, or comes too late.

    Args:
        mixed: what is said to be done from one mix.
        life_min: for how long it is good; None where there is no such pot.
        scene: the plan and its problem.

    """
    if life_min is None:
        yield Violation(Broken.POT, mixed.keys, 0, f"there is no pot {mixed.pot}")
        return
    there = [scene.there[key] for key in mixed.keys if key in scene.there]
    absent = [key for key in mixed.keys if key not in scene.there]
    if absent:
        yield _wrong(mixed, absent[0], "lies nowhere")
    for each in there:
        if scene.activities[each.key].pot != mixed.pot:
            yield _wrong(mixed, each.key, "is not done from it")
    yield from _past_its_life(mixed, life_min, there)


def _past_its_life(mixed: Mixed, life_min: int, there: list[There]) -> Iterator[Violation]:
    """Find that a mix is used for longer than it is good.

    It is begun with the first that is done from it, and has to be good up to the end of the last.

    Args:
        mixed: what is said to be done from one mix.
        life_min: for how many minutes it is good.
        there: where all that lies.

    """
    starts = [each.start_min for each in there]
    ends = [each.end_min for each in there]
    used_for_min = max(ends, default=0) - min(starts, default=0)
    over_min = used_for_min - life_min
    if over_min > 0:
        sentence = f"a mix of {mixed.pot} is used for {over_min} minutes past its life"
        yield Violation(Broken.POT, mixed.keys, over_min, sentence)


def _wrong(mixed: Mixed, key: str, what: str) -> Violation:
    """Return what is wrong with one activity of a mix.

    Args:
        mixed: the mix.
        key: the activity.
        what: the rest of the sentence about it.

    """
    sentence = f"{key}, said to share a mix of {mixed.pot}, {what}"
    return Violation(Broken.POT, (key,), 0, sentence)
