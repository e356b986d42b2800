"""A way to put a defect right, as steps that enter the piece's own work."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from finishsched.model.schedule import Schedule, Stage, StageName, StepPlan
from finishsched.model.step import REWORK, Step, steps_of


@dataclass(frozen=True, slots=True)
class Rework:
    """What is to be done, as it was when it was chosen; kept in the journal word for word."""

    option: str
    """Its short name, such as ``spirit-off``."""
    title: str
    stage: StageName
    """The stage of the work that it enters."""
    plans: tuple[StepPlan, ...]


def rework_steps(rework: Rework, number: int) -> tuple[Step, ...]:
    """Return the steps of a rework, every coat laid out, with keys like ``rework-2/pad:1.1``.

    They are numbered among themselves, from 1; ``entered`` gives them their place in the work.
    """
    whole = Schedule(rework.option, rework.title, (Stage(rework.stage, rework.plans),))
    return tuple(
        replace(step, key=f"{REWORK}{number}/{step.key.partition('/')[2]}")
        for step in steps_of(whole)
    )


def entered(
    steps: tuple[Step, ...], added: tuple[Step, ...], begun: Iterable[str]
) -> tuple[Step, ...]:
    """Return ``steps`` with ``added`` before the first that is not in ``begun``, numbered anew.

    ``begun`` holds the keys of the steps done or skipped when the rework was chosen. So all that
    was done stays before it, and all that was left stays after it, whatever the schedule's text
    becomes later.
    """
    known = frozenset(begun)
    place = next((i for i, step in enumerate(steps) if step.key not in known), len(steps))
    whole = (*steps[:place], *added, *steps[place:])
    return tuple(replace(step, number=number) for number, step in enumerate(whole, start=1))
