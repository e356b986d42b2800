"""What an entry did to the plan, in sentences with titles: for who works by it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from finishsched.numerals import counted
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
        """Say all of it; that the plan was made anew is its line where that moves what is near."""
        changed = self._all()
        if self._plan.made_anew is None:
            return changed
        # Whoever works asks of the coming days: what moved behind them stands in the plan.
        is_near = self._plan.made_anew.near_moved > 0
        return replace(changed, line=made_anew_words(self._plan.made_anew) if is_near else "")

    def _all(self) -> Changed:
        """Say what became of each piece, the gravest first, and that in a line."""
        told = [change for change in piece_changes(self._plan) if self._is_told(change)]
        not_new = [change for change in told if change.what is not Grave.NEW]
        line = self._line(not_new[0]) if not_new else ""
        return Changed(line, tuple(self._sentence(change) for change in told))

    def _is_told(self, change: PieceChange) -> bool:
        """Tell whether a change is worth a sentence: of what moved only what somebody notices."""
        return change.what is not Grave.MOVED or change.ref in self._moves

    def _line(self, first: PieceChange) -> str:
        """Say the gravest change, and how many steps moved beside it."""
        words = self._words(first)
        moved = sum(len(moves) for moves in self._moves.values())
        if first.what is Grave.MOVED:
            return f"{words}; {moved - 1} more moved" if moved > 1 else words
        if not moved:
            return words
        steps = counted(moved, "step")
        return f"{words}; {steps} moved"

    def _sentence(self, change: PieceChange) -> str:
        """Say one change, and how many steps of the piece moved beside it."""
        words = self._words(change)
        if change.what is not Grave.MOVED:
            return words
        more = len(self._moves[change.ref]) - 1
        return f"{words}; {more} more moved" if more else words

    def _words(self, change: PieceChange) -> str:
        """Say what became of a piece."""
        title = self._titles.get(change.ref, change.ref)
        length = span(change.minutes * 60)
        if change.what in (Grave.MISSED, Grave.SPLIT):
            missed = f"its window is missed by {length}"
            split = f"its sitting is broken off for {length}"
            grave, what = ("! ", missed) if change.what is Grave.MISSED else ("", split)
            return f"{grave}{self._with_step(title, change)}: {what}"
        if change.what is Grave.LEFT_OUT:
            steps = counted(change.minutes, "step is", "steps are")
            return f"! {title}: {steps} not planned any more"
        if change.what is Grave.NOW_LATE:
            return f"! {title}: now {length} late"
        if change.what is Grave.IN_TIME:
            return f"{title}: in time again"
        if change.what is Grave.NEW:
            count = len(change.steps)
            steps = counted(count, "new step")
            return f"{title}: {steps}"
        return self._moved(title, change.ref)

    def _with_step(self, title: str, change: PieceChange) -> str:
        """Return the title of a piece with that of the first of its steps that changed."""
        for step in self._plan.steps:
            if step.ref == change.ref and step.step.number in change.steps:
                return f"{title}, {step.step.title}"
        return title

    def _moved(self, title: str, ref: str) -> str:
        """Say where the first step of a piece is now that moved, and whose, if that is new."""
        step, move = self._moves[ref][0]
        name = f"{title}, {step.step.title}"
        if move.kind is ChangeKind.HANDS:
            return f"{name}: now for {step.person}"
        way = "later" if move.kind is ChangeKind.LATER else "sooner"
        at = wall(step.start, self._plan.now, self._plan.zone)
        whose = f", for {step.person}" if move.other_hands else ""
        return f"{name} {way}, now {at}{whose}"


def _is_move(change: Change) -> bool:
    """Tell whether a step lies elsewhere, or is somebody else's."""
    return change.kind in (ChangeKind.LATER, ChangeKind.SOONER, ChangeKind.HANDS)
