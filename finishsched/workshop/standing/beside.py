"""What is worked beside a piece: a spot that is mended, a wait that somebody set; each has a clock.

A line beside is shown, planned and logged as a small piece of its own, by a name such as ``lid+2``.
It is nothing but the piece's own entry that says so: an undo of that takes it away again.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import NamedTuple

from finishsched.journal import events
from finishsched.journal.events import Event
from finishsched.journal.progress import Book, PieceProgress, StepStatus, this_life
from finishsched.model.job import Face, Piece
from finishsched.model.step import Step
from finishsched.workshop.base.entries import RefusedError

SIGN = "+"
"""Between a piece's name and the number of what is worked beside it."""


class Beside(NamedTuple):
    """One line of work beside a piece, as that piece sees it."""

    ref: str
    title: str
    holds: str
    """The key of the step that waits for it; empty for none."""
    over: bool


def name_beside(ref: str, number: int) -> str:
    """Return the name of rework ``number`` of a piece, worked beside it."""
    return f"{ref}{SIGN}{number}"


def taken_beside(live: tuple[Event, ...]) -> tuple[Event, ...]:
    """Return the entries of a piece's present life that began a line beside it."""
    return tuple(
        event
        for event in this_life(live)
        if isinstance(event.what, events.ReworkTaken) and event.what.beside
    )


def piece_beside(piece: Piece, taken: events.ReworkTaken, area_m2: float | None) -> Piece:
    """Return the small piece that a line beside ``piece`` is: its spot, of the same wood."""
    face = Face("spot", stated_area_m2=area_m2) if area_m2 else None
    return replace(
        piece,
        id=name_beside(piece.id, taken.number),
        title=f"{piece.title}: {taken.title}",
        schedule=taken.option,
        then=(),
        faces=(face,) if face else piece.faces,
        inlays=(),
        alike="",
    )


def worked_beside(book: Book, event: Event) -> tuple[Event, ...]:
    """Return what was logged on the line that an entry began; none for any other entry."""
    what = event.what
    if not isinstance(what, events.ReworkTaken) or not what.beside:
        return ()
    return book.live(what.beside)


def refuse_held(ref: str, step: Step, steps: Sequence[Step], lines: Iterable[Beside]) -> None:
    """Refuse a step of a piece that waits for what is worked beside it.

    Raises:
        RefusedError: naming the line, and how to go on.

    """
    for line in holding(step, steps, lines):
        raise RefusedError(
            f"step {step.number}, {step.title}, of {ref} waits for {line.ref}, {line.title}",
            f"log that over first, or skip its steps with a reason: log {line.ref} skipped REASON",
        )


def holding(step: Step, steps: Sequence[Step], lines: Iterable[Beside]) -> list[Beside]:
    """Return the lines that are not over and that a step of the piece waits for."""
    places = {one.key: one.number for one in steps}
    return [
        line
        for line in lines
        if not line.over and line.holds and places.get(line.holds, step.number + 1) <= step.number
    ]


def to_do(steps: Sequence[Step], progress: PieceProgress | None) -> list[Step]:
    """Return the steps of a piece that are still to do."""
    if progress is None:
        return list(steps)
    pairs = zip(steps, progress.statuses, strict=True)
    return [step for step, status in pairs if status is StepStatus.TO_DO]
