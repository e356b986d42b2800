"""What changed since the plan before, in words and as JSON values."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Any

from finishsched.journal.events import utc_text
from finishsched.numerals import counted
from finishsched.planning.replan import Change, ChangeKind
from finishsched.workshop.base.spans import span
from finishsched.workshop.plan.answers import PlanAnswer
from finishsched.workshop.plan.changes import Grave, PieceChange, moved_work, piece_changes
from finishsched.workshop.plan.sentences import date_words, due_words, when_words

_MOST_CHANGES = 6
_GRAVEST = (
    ChangeKind.MISSED.value, ChangeKind.LEFT_OUT.value, Grave.SPLIT.value, ChangeKind.NEW.value,
)  # fmt: skip
_MANY = {ChangeKind.MISSED.value: "windows missed", Grave.SPLIT.value: "sittings broken off"}


def changed_data(plan: PlanAnswer) -> list[dict[str, Any]]:
    """Return what became of each piece as JSON values, the gravest first."""
    return [
        {
            "what": change.what.value,
            "piece": change.ref,
            "steps": list(change.steps),
            "minutes": change.minutes,
            "later_minutes": change.later_min,
            "sooner_minutes": change.sooner_min,
            "other_hands": list(change.hands),
            "finish_was": utc_text(change.finish_was) if change.finish_was else None,
            "finish": utc_text(change.finish_is) if change.finish_is else None,
        }
        for change in piece_changes(plan)
    ]


def change_lines(plan: PlanAnswer) -> Iterator[str]:
    """Say what changed since the plan that was shown last, the gravest first."""
    found = piece_changes(plan)
    if not found:
        return
    late = sum(change.what is Grave.NOW_LATE for change in found)
    counts = [*_late_words(late), *_counts(plan)]
    yield f"changed since the last plan: {', '.join(counts) or 'when it is finished'}"
    for change in found[:_MOST_CHANGES]:
        yield f"  {_words(change, plan)}"
    if len(found) > _MOST_CHANGES:
        yield f"  and {len(found) - _MOST_CHANGES} more"


def _late_words(late: int) -> Iterator[str]:
    if late:
        yield f"{counted(late, 'due date')} now missed"


def _counts(plan: PlanAnswer) -> Iterator[str]:
    """Say how many of each kind, the gravest first; what moved to other hands is of two."""
    split = {step.key for step in plan.steps if step.broken_off}
    moved = moved_work(plan)
    kinds = [_kind(change, split) for change in moved if change.kind is not ChangeKind.HANDS]
    kinds += [ChangeKind.HANDS.value for change in moved if change.other_hands]
    others = (kind.value for kind in ChangeKind)
    for kind in dict.fromkeys((*_GRAVEST, *others)):
        count = kinds.count(kind)
        if count:
            yield f"{count} {_MANY.get(kind, kind) if count > 1 else kind}"


def _kind(change: Change, split: Collection[str]) -> str:
    """Return what a change is called; a window between coats of a sitting is told as that."""
    is_split = change.kind is ChangeKind.MISSED and change.key in split
    return Grave.SPLIT.value if is_split else change.kind.value


def _words(change: PieceChange, plan: PlanAnswer) -> str:
    name = f"{change.ref} {_steps(change.steps)}".rstrip()
    if change.what is Grave.MISSED:
        return f"! window missed by {span(change.minutes * 60)}: {name}"
    if change.what is Grave.SPLIT:
        return f"sitting broken off for {span(change.minutes * 60)}: {name}"
    if change.what is Grave.LEFT_OUT:
        return f"! not planned any more: {counted(change.minutes, 'step')} of {change.ref}"
    if change.what in (Grave.NOW_LATE, Grave.IN_TIME):
        return _promise(change, plan)
    if change.what is Grave.NEW:
        return f"new: {name}"
    return f"{name}: {', '.join(_moves(change))}{_finish(change, plan)}"


def _promise(change: PieceChange, plan: PlanAnswer) -> str:
    due = f"due {due_words(change.due, plan)}" if change.due else "its due date"
    finish = f"finished {when_words(change.finish_is, plan)}" if change.finish_is else ""
    length = span(change.minutes * 60)
    if change.what is Grave.NOW_LATE:
        return f"! {change.ref}: now late by {length}; {finish}, {due}"
    return f"{change.ref}: in time again, was {length} late; {finish}, {due}"


def _moves(change: PieceChange) -> Iterator[str]:
    several = "up to " if len(change.steps) > 1 else ""
    if change.later_min:
        yield f"{several}{span(change.later_min * 60)} later"
    if change.sooner_min:
        yield f"{several}{span(change.sooner_min * 60)} sooner"
    if change.hands:
        yield f"now for {' and '.join(change.hands)}"


def _finish(change: PieceChange, plan: PlanAnswer) -> str:
    """Say from which day to which its finish moved; within a day the minutes say it."""
    if change.finish_was is None or change.finish_is is None:
        return ""
    was, is_ = date_words(change.finish_was, plan), date_words(change.finish_is, plan)
    if was == is_:
        return ""
    month = f" {is_.rpartition(' ')[2]}"
    return f"; finish {was.removesuffix(month)} → {is_}"


def _steps(numbers: tuple[int, ...]) -> str:
    """Return the first and the last: ``12 to 25``; what takes no hands between is not told."""
    if len(numbers) < 2:
        return "".join(str(number) for number in numbers)
    first, last = numbers[0], numbers[-1]
    return f"{first} to {last}"
