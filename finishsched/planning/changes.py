"""What became of each activity from one plan to the next."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from finishsched.planning.problem import Placed, Plan, Problem


class ChangeKind(StrEnum):
    """What became of an activity from one plan to the next."""

    NEW = "new"
    GONE = "gone"
    """Done, or not asked for any more."""
    LATER = "later"
    SOONER = "sooner"
    HANDS = "other hands"
    LEFT_OUT = "left out"
    MISSED = "window missed"


@dataclass(frozen=True, slots=True)
class Change:
    """One difference between two plans."""

    kind: ChangeKind
    key: str
    minutes: int = 0
    """By how much, later or sooner or missed."""
    was_min: int | None = None
    """When it started in the plan that there was; None for what was not in it."""
    is_min: int | None = None
    """When it starts now; None for what is gone, or only misses a window."""
    by: str | None = None
    """Whose it is now."""
    other_hands: bool = False
    """Whether it was somebody else's, wherever it lies now."""


def changes(old: Plan, new: Plan, problem: Problem) -> tuple[Change, ...]:
    """Return every difference, in the order of the new plan and then of keys.

    Args:
        old: the plan that there was.
        new: the plan that there is now.
        problem: what the new plan is of; what it does not know any more is gone.

    """
    return (
        *_moved(old, new),
        *_missed(old, new),
        *_not_placed(old, new, problem),
    )


def _moved(old: Plan, new: Plan) -> Iterator[Change]:
    """Give what is new, and what lies elsewhere or is somebody else's."""
    before = {placed.key: placed for placed in old.placed}
    for placed in new.placed:
        was = before.get(placed.key)
        if was is None:
            yield Change(
                ChangeKind.NEW,
                placed.key,
                is_min=placed.start_min,
                by=placed.by,
            )
        elif placed.start_min != was.start_min:
            yield _shifted(was, placed)
        elif placed.by != was.by:
            yield Change(
                ChangeKind.HANDS,
                placed.key,
                was_min=placed.start_min,
                is_min=placed.start_min,
                by=placed.by,
                other_hands=True,
            )


def _shifted(was: Placed, placed: Placed) -> Change:
    """Return by how much something is later, or sooner, and whether it is somebody else's too."""
    moved = placed.start_min - was.start_min
    return Change(
        ChangeKind.LATER if moved > 0 else ChangeKind.SOONER,
        placed.key,
        abs(moved),
        was_min=was.start_min,
        is_min=placed.start_min,
        by=placed.by,
        other_hands=placed.by != was.by,
    )


def _missed(old: Plan, new: Plan) -> Iterator[Change]:
    """Give the windows that are missed and were not before."""
    missed_before = {(miss.before, miss.after) for miss in old.misses}
    for miss in new.misses:
        window = (miss.before, miss.after)
        if window not in missed_before:
            yield Change(ChangeKind.MISSED, miss.after, miss.late_min)


def _not_placed(old: Plan, new: Plan, problem: Problem) -> Iterator[Change]:
    """Give what was placed and is not any more: gone, or left out.

    Args:
        old: the plan that there was.
        new: the plan that there is now.
        problem: what the new plan is of.

    """
    was_min = {placed.key: placed.start_min for placed in old.placed}
    known = {activity.key for activity in problem.activities}
    left_out = known.intersection(new.left_out)
    placed_now = {placed.key for placed in new.placed}
    for key in sorted(was_min.keys() - placed_now):
        kind = ChangeKind.LEFT_OUT if key in left_out else ChangeKind.GONE
        yield Change(kind, key, was_min=was_min[key])
