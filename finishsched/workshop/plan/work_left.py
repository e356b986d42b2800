"""What is left of each piece, or of those worked as one, for a plan, and what its keys mean."""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import date, datetime
from typing import TYPE_CHECKING, NamedTuple

from finishsched.journal.progress import StepStatus
from finishsched.model.job import Piece
from finishsched.model.step import Step
from finishsched.workshop.plan.step_in_shop import activity_key, last_dust
from finishsched.workshop.plan.waits_ahead import WaitRange
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.waits import Laid

if TYPE_CHECKING:
    from finishsched.planning.problem import Problem


class Work(NamedTuple):
    """One piece as far as the plan is concerned, or several that are worked as one block."""

    ref: str
    """The piece; of a block the name that every command takes for it."""
    title: str
    piece: Piece
    """The one piece; of a block the first of them, which stands for the others' wood and faces."""
    steps: tuple[Step, ...]
    left: tuple[Step, ...]
    """Those still to do."""
    before: Laid | None = None
    """The coat whose wait, or window, leads to the first of them."""
    waiting: bool = False
    """True while the wait of ``before`` runs."""
    due: date | None = None
    stirred: tuple[Step, datetime] | None = None
    """What was done last, and when, where that made dust, which may hang there still."""
    of: str = ""
    """The piece that it is worked beside."""
    holds: str = ""
    """The key of that piece's step that waits for it."""
    others: tuple[tuple[str, Piece], ...] = ()
    """The other pieces of a block, with their names."""
    first: str = ""
    """The name of the first piece of a block; empty for a piece by itself."""

    @property
    def refs(self) -> tuple[str, ...]:
        """The pieces that it is about."""
        return (self.first or self.ref, *(ref for ref, _ in self.others))

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """The same as their documents have them."""
        return (self.piece, *(piece for _, piece in self.others))

    def hands_on_min(self, step: Step) -> int:
        """Return the whole minutes of hands-on work of a step on all of them, one after another."""
        minutes = sum(step.hands_on.minutes(piece.area_m2) for piece in self.pieces)
        return math.ceil(minutes - 1e-9)

    def round_min(self, step: Step) -> int:
        """Return for how many minutes each is left alone while hands go round the others."""
        alone = math.ceil(step.hands_on.minutes(self.piece.area_m2) - 1e-9)
        return max(0, self.hands_on_min(step) - alone)


class PlanStep(NamedTuple):
    """What an activity of the problem is in the shop."""

    ref: str
    step: Step
    wait: WaitRange | None


class ShopProblem(NamedTuple):
    """A problem, and what its keys mean."""

    problem: Problem
    works: Mapping[str, Work]
    steps: Mapping[str, PlanStep]
    """By the key of the activity."""
    notes: tuple[str, ...]
    """What was assumed, and what cannot be planned."""

    @property
    def under_way(self) -> frozenset[str]:
        """What is taken to be going on: not logged done, and yet among what is done or running."""
        left = {activity_key(w.ref, step) for w in self.works.values() for step in w.left}
        return frozenset(each.key for each in self.problem.done if each.key in left)

    def say(self, key: str) -> str:
        """Return what people call an activity."""
        found = self.steps.get(key)
        return f"{found.ref} {found.step.number} {found.step.title}" if found else key


def work_of(standing: Standing) -> Work | None:
    """Return what is left of a piece; None for one that is finished or has no schedule."""
    progress = standing.progress
    if standing.schedule is None or (progress is not None and progress.finished):
        return None
    left = standing.steps
    if progress is not None:
        pairs = zip(standing.steps, progress.statuses, strict=True)
        left = tuple(step for step, status in pairs if status is StepStatus.TO_DO)
    return Work(
        ref=standing.ref,
        title=standing.piece.title,
        piece=standing.piece,
        steps=standing.steps,
        left=left,
        before=standing.laid or standing.before,
        waiting=standing.laid is not None,
        due=standing.piece.due or (standing.job.due if standing.job else None),
        stirred=last_dust(standing),
        of=standing.of,
        holds=standing.holds,
    )
