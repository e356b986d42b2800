"""A way to put a defect right, as steps that enter the piece's own work."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TypeAlias

from finishsched.model.schedule import Schedule, Stage, StageName, StepPlan
from finishsched.model.step import REWORK, Step, steps_of

Plans: TypeAlias = tuple[StepPlan, ...]


class Holds(StrEnum):
    """What of a piece's own work waits until a rework is over."""

    ALL = "all"
    """It enters the piece's work itself, before all that is left."""
    TOUCH = "touch"
    """It runs beside: waits and rests go on, and nothing else touches the piece."""
    PAPER = "paper"
    """It runs beside: coats go on over it, and neither paper nor wax comes before it is over."""

    def is_held(self, step: Step) -> bool:
        """Tell whether a step of the piece waits for it."""
        if self is Holds.PAPER and step.verb.lays_coats:
            return False
        return not step.verb.does.rests


@dataclass(frozen=True, slots=True)
class Rework:
    """What is to be done, as it was when it was chosen; kept in the journal word for word."""

    option: str
    """Its short name, such as ``spirit-off``."""
    title: str
    stage: StageName
    """The stage of the work that it enters."""
    plans: Plans
    holds: Holds = Holds.ALL
    area_m2: float | None = None
    """Of the spot that it is done on; None for the whole piece."""
    bare: bool = False
    """True where the spot is new wood, with nothing of what lies round it."""

    @property
    def beside(self) -> bool:
        """True where it has steps and a clock of its own, beside those of the piece."""
        return self.holds is not Holds.ALL


def named_apart(plans: Iterable[StepPlan]) -> Plans:
    """Return steps with names of their own: the journal knows each by its name.

    The second of a name is ``level-2``, so that the first one done leaves it to do.
    """
    met: Counter[str] = Counter()
    found = []
    for plan in plans:
        met[plan.id] += 1
        number = met[plan.id]
        found.append(plan if number == 1 else replace(plan, id=f"{plan.id}-{number}"))
    return tuple(found)


def rework_steps(rework: Rework, number: int) -> tuple[Step, ...]:
    """Return the steps of a rework, every coat laid out, with keys like ``rework-2/pad:1.1``.

    They are numbered among themselves, from 1; ``entered`` gives them their place in the work.
    """
    return tuple(
        replace(step, key=f"{REWORK}{number}/{step.key.partition('/')[2]}")
        for step in steps_of(schedule_of_rework(rework))
    )


def schedule_of_rework(rework: Rework) -> Schedule:
    """Return a rework as a schedule of its own, of one stage."""
    return Schedule(rework.option, rework.title, (Stage(rework.stage, rework.plans),))


def joined_at(left: Iterable[Step], holds: Holds) -> Step | None:
    """Return the first of the steps that are ``left`` that waits for a rework; None for none."""
    return next((step for step in left if holds is Holds.ALL or holds.is_held(step)), None)


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
