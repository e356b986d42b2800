"""What became of a plan since the one before it, piece by piece, the gravest first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from enum import StrEnum

from finishsched.planning.going_on.steady import Noticing
from finishsched.planning.hours import instant_of
from finishsched.planning.problem import Placed, Plan
from finishsched.planning.replan import Change, ChangeKind
from finishsched.planning.score import goal_finishes
from finishsched.workshop.plan.answers import PlanAnswer, PlannedPiece, PlannedStep


class Grave(StrEnum):
    """What a change means, the gravest first."""

    NOW_LATE = "due date now missed"
    MISSED = "window missed"
    LEFT_OUT = "left out"
    SPLIT = "sitting broken off"
    IN_TIME = "due date met again"
    NEW = "new"
    MOVED = "moved"


@dataclass(frozen=True, slots=True)
class PieceChange:
    """One thing that became of one piece."""

    what: Grave
    ref: str
    steps: tuple[int, ...] = ()
    """The numbers of the steps that it is about, in order."""
    minutes: int = 0
    """By how much a window is missed, or a due date was or is."""
    later_min: int = 0
    """By how much any of its steps comes later, at the most."""
    sooner_min: int = 0
    hands: tuple[str, ...] = ()
    """Who has got steps that were somebody else's, wherever they lie now."""
    due: date | None = None
    finish_was: datetime | None = None
    finish_is: datetime | None = None


def piece_changes(plan: PlanAnswer) -> tuple[PieceChange, ...]:
    """Return what became of each piece since the plan that was shown last, the gravest first.

    A rest takes no hands, so that it is not counted among what moved.
    """
    order = list(Grave)
    found = _Seen(plan).all()
    return tuple(
        sorted(
            found,
            key=lambda c: (order.index(c.what), -max(c.minutes, c.later_min, c.sooner_min), c.ref),
        )
    )


def moved_work(plan: PlanAnswer) -> tuple[Change, ...]:
    """Return the changes in somebody's work that are noticed: minutes within an evening are not.

    What moved by so little and is somebody else's now is told as that alone. What is gone is done,
    or not asked for.
    """
    idle = {step.key for step in plan.steps if step.end <= step.start}
    noticing = Noticing(plan.problem)
    work = [
        change
        for change in plan.changes
        if change.kind is not ChangeKind.GONE and change.key not in idle
    ]
    return tuple(_as_noticed(work, noticing))


def _as_noticed(work: Iterable[Change], noticing: Noticing) -> Iterator[Change]:
    """Give the changes that are noticed, each as what of it is."""
    for change in work:
        if _is_noticed(change, noticing):
            yield change
        elif change.other_hands:
            yield replace(change, kind=ChangeKind.HANDS, minutes=0)


def _is_noticed(change: Change, noticing: Noticing) -> bool:
    """Tell whether somebody notices when a change is, or what; of all only small moves are not."""
    if change.was_min is None or change.is_min is None or not change.minutes:
        return True
    return noticing.is_noticed(change.was_min, change.is_min)


class _Seen:
    """A plan beside the one before it."""

    def __init__(self, plan: PlanAnswer) -> None:
        self._plan = plan
        self._steps = {step.key: step for step in plan.steps}
        self._goals = {activity.key: activity.goal for activity in plan.problem.activities}
        self._was = self._finishes_before()

    def _finishes_before(self) -> dict[str, datetime]:
        """Return when each piece was to be finished, by the waits as they are now."""
        changes = {c.key: c for c in self._plan.changes if c.kind is not ChangeKind.MISSED}
        before = []
        for placed in self._plan.plan.placed:
            change = changes.get(placed.key)
            if change is None:
                before.append(placed)
            elif change.was_min is not None:
                by = change.was_min - placed.start_min
                end = placed.end_min + by
                before.append(replace(placed, start_min=change.was_min, end_min=end))
        for activity in self._plan.problem.activities:
            change = changes.get(activity.key)
            if change is not None and change.kind is ChangeKind.LEFT_OUT and change.was_min:
                end = change.was_min + activity.minutes
                before.append(Placed(activity.key, change.was_min, end))
        found = goal_finishes(self._plan.problem, Plan(tuple(before)))
        return {ref: instant_of(minute) for ref, minute in found.items()}

    def all(self) -> Iterator[PieceChange]:
        """Give everything that changed, in no order."""
        if not self._plan.changes:
            return
        moved = moved_work(self._plan)
        for change in moved:
            if change.kind is ChangeKind.MISSED:
                step = self._steps.get(change.key)
                numbers = (step.step.number,) if step is not None else ()
                ref = self._goals.get(change.key, change.key)
                split = step is not None and step.broken_off
                what = Grave.SPLIT if split else Grave.MISSED
                yield PieceChange(what, ref, numbers, change.minutes)
        yield from self._left_out()
        for piece in self._plan.pieces:
            yield from self._promise(piece)
            yield from self._of_piece(piece, moved)

    def _left_out(self) -> Iterator[PieceChange]:
        refs = [
            self._goals.get(change.key, change.key)
            for change in self._plan.changes
            if change.kind is ChangeKind.LEFT_OUT
        ]
        for ref in dict.fromkeys(refs):
            yield PieceChange(Grave.LEFT_OUT, ref, minutes=refs.count(ref))

    def _promise(self, piece: PlannedPiece) -> Iterator[PieceChange]:
        was = self._was.get(piece.ref)
        if was is None or piece.due_at is None or piece.finish is None:
            return
        late_was = max(0, int((was - piece.due_at).total_seconds()) // 60)
        what = Grave.NOW_LATE if piece.late_min else Grave.IN_TIME
        if bool(late_was) != bool(piece.late_min):
            minutes = piece.late_min or late_was
            yield PieceChange(
                what, piece.ref, (), minutes, due=piece.due, finish_was=was, finish_is=piece.finish
            )

    def _of_piece(self, piece: PlannedPiece, moved: Sequence[Change]) -> Iterator[PieceChange]:
        mine = [
            (change, self._steps[change.key])
            for change in moved
            if change.key in self._steps and self._steps[change.key].ref == piece.ref
        ]
        new = [step for change, step in mine if change.kind is ChangeKind.NEW]
        if new:
            yield PieceChange(Grave.NEW, piece.ref, _numbers(new))
        later = [(c, step) for c, step in mine if c.kind is ChangeKind.LATER]
        sooner = [(c, step) for c, step in mine if c.kind is ChangeKind.SOONER]
        hands = [(c, step) for c, step in mine if c.kind is ChangeKind.HANDS]
        passed_on = [(c, step) for c, step in (*later, *sooner, *hands) if c.other_hands]
        if later or sooner or hands:
            yield PieceChange(
                Grave.MOVED,
                piece.ref,
                _numbers([step for _, step in (*later, *sooner, *hands)]),
                later_min=max((c.minutes for c, _ in later), default=0),
                sooner_min=max((c.minutes for c, _ in sooner), default=0),
                hands=tuple(dict.fromkeys(c.by or "" for c, _ in passed_on)),
                finish_was=self._was.get(piece.ref),
                finish_is=piece.finish,
            )


def _numbers(steps: Sequence[PlannedStep]) -> tuple[int, ...]:
    return tuple(sorted(step.step.number for step in steps))
