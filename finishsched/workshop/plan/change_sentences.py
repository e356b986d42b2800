"""What an entry did to the plan, in sentences with titles: for who works by it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from finishsched.planning.replan import Change, ChangeKind
from finishsched.workshop.base.spans import span, wall
from finishsched.workshop.plan.answers import PlanAnswer, PlannedStep
from finishsched.workshop.plan.changes import Grave, PieceChange, moved_work, piece_changes
from finishsched.workshop.plan.sentences import made_anew_words


@dataclass(frozen=True, slots=True)
class Changed:
    """What changed since the plan that was shown last; empty for nothing worth telling."""

    line: str = ""
    """The gravest of what moved, and how much more did. What is new alone was just entered, or put
    back, by who is told, and so is not said here."""
    sentences: tuple[str, ...] = ()
    """What became of each piece, the gravest first."""


NO_CHANGE = Changed()


def changed_since(plan: PlanAnswer) -> Changed:
    """Say what changed since the plan that was shown last."""
    return _Telling(plan).all() if plan.changes else NO_CHANGE


class _Telling:
    """A plan and the moves in it that are worth telling."""

    def __init__(self, plan: PlanAnswer) -> None:
        self._plan = plan
        moves = {move.key: move for move in moved_work(plan) if _is_move(move)}
        self._moves: dict[str, list[tuple[PlannedStep, Change]]] = {}
        """By piece, the first to be done first."""
        for step in plan.steps:
            if step.key in moves:
                self._moves.setdefault(step.ref, []).append((step, moves[step.key]))
        self._titles = {piece.ref: piece.title for piece in plan.pieces}

    def all(self) -> Changed:
        changed = self._all()
        if self._plan.made_anew is None:
            return changed
        return replace(changed, line=made_anew_words(self._plan.made_anew))

    def _all(self) -> Changed:
        told = [
            change
            for change in piece_changes(self._plan)
            if change.what is not Grave.MOVED or change.ref in self._moves
        ]
        moved = [change for change in told if change.what is not Grave.NEW]
        line = self._line(moved[0]) if moved else ""
        return Changed(line, tuple(self._sentence(change) for change in told))

    def _line(self, first: PieceChange) -> str:
        is_move = first.what is Grave.MOVED
        more = sum(map(len, self._moves.values())) - is_move
        if not more:
            return self._words(first)
        what = "more" if is_move else "step" if more == 1 else "steps"
        return f"{self._words(first)}; {more} {what} moved"

    def _sentence(self, change: PieceChange) -> str:
        more = len(self._moves[change.ref]) - 1 if change.what is Grave.MOVED else 0
        return f"{self._words(change)}; {more} more moved" if more else self._words(change)

    def _words(self, change: PieceChange) -> str:
        title = self._titles.get(change.ref, change.ref)
        length = span(change.minutes * 60)
        if change.what is Grave.MISSED:
            return f"! {self._with_step(title, change)}: its window is missed by {length}"
        if change.what is Grave.LEFT_OUT:
            steps = "1 step is" if change.minutes == 1 else f"{change.minutes} steps are"
            return f"! {title}: {steps} not planned any more"
        if change.what is Grave.NOW_LATE:
            return f"! {title}: now {length} late"
        if change.what is Grave.IN_TIME:
            return f"{title}: in time again"
        if change.what is Grave.NEW:
            count = len(change.steps)
            return f"{title}: {count} new {'step' if count == 1 else 'steps'}"
        return self._moved(title, change.ref)

    def _with_step(self, title: str, change: PieceChange) -> str:
        steps = self._plan.steps
        found = (s for s in steps if s.ref == change.ref and s.step.number in change.steps)
        step = next(found, None)
        return title if step is None else f"{title}, {step.step.title}"

    def _moved(self, title: str, ref: str) -> str:
        step, move = self._moves[ref][0]
        name = f"{title}, {step.step.title}"
        if move.kind is ChangeKind.HANDS:
            return f"{name}: now for {step.person}"
        way = "later" if move.kind is ChangeKind.LATER else "sooner"
        return f"{name} {way}, now {wall(step.start, self._plan.now, self._plan.zone)}"


def _is_move(change: Change) -> bool:
    return change.kind in (ChangeKind.LATER, ChangeKind.SOONER, ChangeKind.HANDS)
