"""A sitting: coats minutes apart on one or more parts, round and round, in one go.

Nothing of it is kept but which parts are in it and how far each is to go: the rest is read from
where the pieces stand, so that an entry made or taken back elsewhere puts the sitting right too.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from finishsched.workshop.base.answers import PieceView, State, StepSheet
from finishsched.workshop.base.entries import Entry, What


@dataclass(frozen=True, slots=True)
class Part:
    """One piece, or several alike as one, in a sitting."""

    ref: str
    run: str
    """What the keys of all its coats begin with."""
    goal: int
    """The coat with which it has had its share."""


@dataclass(frozen=True, slots=True)
class Sitting:
    """The parts in the order in which their turn comes, and whose turn it is."""

    parts: tuple[Part, ...]
    turn: int = 0

    @property
    def in_hand(self) -> Part:
        """The part whose turn it is."""
        return self.parts[self.turn]


def likeness(piece: PieceView) -> tuple[object, ...] | None:
    """Return what pieces must have in common to be worked in one sitting; None where none can be.

    The verb, the product with its cut, or the grade; nothing else matters to the pad in the hand.
    """
    if piece.state in (State.NOT_BEGUN, State.FINISHED) or piece.step is None:
        return None
    if coats_left(piece) == 0:
        return None
    step = piece.step
    return step.verb, step.product, step.cut_g_per_l, step.grade


def coats_left(piece: PieceView) -> int:
    """Return how many coats the piece can have one soon after the other, from now on.

    One for work that is done once; none while a wait runs that has a dry check of its own.
    """
    if piece.coats_ahead or piece.step is None:
        return piece.coats_ahead
    return 0 if _is_waiting(piece) else 1


def those_alike(first: PieceView, pieces: Iterable[PieceView]) -> tuple[PieceView, ...]:
    """Return ``first`` and those of ``pieces`` that can be worked with it, in their order."""
    like = likeness(first)
    return tuple(p for p in pieces if like is not None and likeness(p) == like)


def begin(pieces: Sequence[PieceView], coats: int) -> Sitting:
    """Return a sitting of ``coats`` more coats on each of ``pieces``, or as many as it may have."""
    return Sitting(tuple(_part(piece, coats) for piece in pieces if coats_left(piece)))


def _part(piece: PieceView, coats: int) -> Part:
    step = piece.step
    assert step is not None  # noqa: S101  # it has coats left
    done = step.coat if _is_waiting(piece) else step.coat - 1
    return Part(piece.ref, _run_of(piece), done + min(coats, coats_left(piece)))


def _run_of(piece: PieceView) -> str:
    return _key(piece).rpartition(".")[0]


def _key(piece: PieceView) -> str:
    return piece.step.key if piece.step is not None else ""


def _is_waiting(piece: PieceView) -> bool:
    return piece.clock is not None and piece.state is not State.TO_DO


def to_go(part: Part, piece: PieceView | None) -> int:
    """Return how many coats of the sitting the part has still to get."""
    if piece is None or piece.step is None or _run_of(piece) != part.run:
        return 0
    done = piece.step.coat if _is_waiting(piece) else piece.step.coat - 1
    return max(0, part.goal - done)


def at_turn(sitting: Sitting, pieces: Mapping[str, PieceView]) -> Sitting | None:
    """Return the sitting with a part in hand that has a coat to get; None when all had theirs."""
    there = tuple(part for part in sitting.parts if part.ref in pieces)
    if len(there) < len(sitting.parts):
        sitting = Sitting(there)
    for step in range(len(sitting.parts)):
        turn = (sitting.turn + step) % len(sitting.parts)
        part = sitting.parts[turn]
        if to_go(part, pieces.get(part.ref)):
            return replace(sitting, turn=turn)
    return None


def turned(sitting: Sitting, ref: str) -> Sitting:
    """Return the sitting after ``ref`` had its turn: that of the next part."""
    turns = [number for number, part in enumerate(sitting.parts) if part.ref == ref]
    after = (turns[0] if turns else sitting.turn) + 1
    return replace(sitting, turn=after % len(sitting.parts))


def at_the_readiest(sitting: Sitting, pieces: Mapping[str, PieceView], now: datetime) -> Sitting:
    """Return the sitting with that part in hand which need not be left alone, from its turn on.

    Where all must be, it is the one that may be coated first.
    """
    count = len(sitting.parts)
    left = {
        turn: too_early_s(pieces[part.ref], now)
        for turn in ((sitting.turn + step) % count for step in range(count))
        for part in (sitting.parts[turn],)
        if part.ref in pieces and to_go(part, pieces[part.ref])
    }
    return replace(sitting, turn=min(left, key=left.__getitem__)) if left else sitting


def back_to(sitting: Sitting, ref: str) -> Sitting:
    """Return the sitting with ``ref`` in hand, if it is in it."""
    turns = [number for number, part in enumerate(sitting.parts) if part.ref == ref]
    return replace(sitting, turn=turns[0]) if turns else sitting


def too_early_s(piece: PieceView, now: datetime) -> float:
    """Return how long the part in hand must still be left alone; 0 when it need not."""
    if not _is_waiting(piece) or piece.clock is None:
        return 0.0
    return max(0.0, (piece.clock.earliest_at - now).total_seconds())


def coat_in_hand(piece: PieceView) -> str:
    """Return the title of the coat that one key logs: the next, while the one below is wet."""
    sheet = sheet_in_hand(piece)
    return sheet.step.title if sheet is not None else ""


def sheet_in_hand(piece: PieceView) -> StepSheet | None:
    """Return the sheet of the coat that one key logs: the next, while the one below is wet."""
    return piece.next_sheet if _is_waiting(piece) else piece.sheet


def coat_entry(piece: PieceView, jar: str) -> Entry:
    """Return what one key says: the coat before glided, where one is wet, and the next is on."""
    what = What.GO_ON if _is_waiting(piece) else What.DONE
    return Entry(what, piece.ref, batch=jar)


def early_entry(piece: PieceView, why: str) -> Entry | None:
    """Return what says that it is gone on before it glides; None where no coat is wet."""
    if not _is_waiting(piece):
        return None
    return Entry(What.EARLY, piece.ref, step=_key(piece), text=why)


def not_yet_entry(piece: PieceView) -> Entry | None:
    """Return what says that it does not glide yet; None where no coat is wet."""
    return Entry(What.NOT_READY, piece.ref, step=_key(piece)) if _is_waiting(piece) else None
