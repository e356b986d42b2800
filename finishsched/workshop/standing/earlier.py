"""The entries about a piece that count, in words: to be taken back, or told otherwise."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from finishsched.journal import events
from finishsched.journal.events import Event
from finishsched.workshop.base.shown import Shown, shown_of
from finishsched.workshop.base.words import entry_words
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.undoing import CAN_MOVE, hanging_on, numbers_given_with
from finishsched.workshop.standing.where import find


@dataclass(frozen=True, slots=True)
class Told:
    """One entry as it was told last."""

    number: int
    """The journal's; an undo or an amendment names the entry by it."""
    at: datetime
    words: str
    by: str
    """Whose hands; empty where nobody said."""
    amended: bool
    took: bool
    """True for a coat or other work done, which has an amount and a jar."""
    can_move: bool
    """True for what may have been meant for another piece."""
    goes_on: bool
    """True for what only says that the next coat went on; it comes and goes with that coat."""

    @property
    def line(self) -> str:
        """Return the entry with its hands."""
        hands = f", {self.by}" if self.by else ""
        return f"{self.words}{hands}{' (amended)' if self.amended else ''}"


def entries_of(workshop: Workshop, standing: Standing) -> tuple[Told, ...]:
    """Return the entries about a piece that count, the oldest first."""
    book = workshop.book()
    amended = book.amendments(standing.ref)
    live, shown = book.live(standing.ref), shown_of(workshop.papers.shop)
    return tuple(_told(event, standing, shown, amended=event.id in amended) for event in live)


def hanging_words(workshop: Workshop, names: Sequence[str], number: int) -> tuple[str, ...]:
    """Return in words what later work hangs on an entry, and goes with it; the oldest first.

    Of several pieces that it was given to in one go, what is the same for them stands once.

    Raises:
        RefusedError: when there is no such piece, or more than one of a name.

    """
    book, shown = workshop.book(), shown_of(workshop.papers.shop)
    found = [find(workshop, name) for name in names]
    numbers = numbers_given_with(number, found, book)
    said: dict[str, None] = {}
    for standing in found:
        live = book.live(standing.ref)
        steps = {step.key: step for step in standing.steps}
        for target in (event for event in live if event.seq == numbers.get(standing.ref)):
            hanging = hanging_on(target, live, standing)
            work = (event.what for event in hanging if not isinstance(event.what, events.Amended))
            told = (entry_words(what, steps, shown) for what in work if not _goes_on(what))
            said |= dict.fromkeys(told)
    return tuple(said)


def given_to(workshop: Workshop, names: Sequence[str], number: int) -> tuple[str, ...]:
    """Return those of some pieces that have a share of what entry ``number`` was given with.

    Raises:
        RefusedError: when there is no such piece, or more than one of a name.

    """
    found = [find(workshop, name) for name in names]
    shares = numbers_given_with(number, found, workshop.book())
    return tuple(standing.ref for standing in found if standing.ref in shares)


def _goes_on(what: events.Payload) -> bool:
    return isinstance(what, events.DryReady) and what.going_on


def _told(event: Event, standing: Standing, shown: Shown, *, amended: bool) -> Told:
    steps = {step.key: step for step in standing.steps}
    return Told(
        number=event.seq,
        at=event.at,
        words=entry_words(event.what, steps, shown),
        by=getattr(event.what, "by", ""),
        amended=amended,
        took=isinstance(event.what, events.StepDone),
        can_move=isinstance(event.what, CAN_MOVE),
        goes_on=_goes_on(event.what),
    )
