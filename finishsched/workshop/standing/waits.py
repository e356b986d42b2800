"""One wait of a piece: what was done, what of it dries, what kind of wait it is, how thick."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import NamedTuple

from finishsched.drying.clock import book_need
from finishsched.drying.dry_checks import WaitKind
from finishsched.drying.waiting import wets
from finishsched.journal import events
from finishsched.journal.events import Event
from finishsched.journal.marks import marks_of
from finishsched.model.job import Piece
from finishsched.model.product import Product
from finishsched.model.schedule import Verb, Wait
from finishsched.model.step import Step


class Laid(NamedTuple):
    """One wait of one piece: what was done, when, and on what."""

    piece: Piece
    step: Step
    steps: tuple[Step, ...]
    done: events.StepDone
    at: datetime
    not_yet_at: tuple[datetime, ...] = ()
    ready_at: datetime | None = None
    """None too where it was only told afterwards that it was ready."""
    seq: int | None = None
    """The number of the entry; None for one not yet written."""


def rest_and_coat(laid: Laid) -> Wait | None:
    """Return the wait of a step; a rest that runs from a coat is as long as the coat's at least."""
    step = laid.step
    before = laid.steps[step.number - 2] if step.number > 1 else None
    if not step.verb.does.rests or before is None or not before.leaves_film_wet:
        return step.wait
    if step.wait is None or before.wait is None:
        return step.wait
    rest, coat = step.wait, before.wait
    return Wait(
        earliest_s=max(rest.earliest_s, coat.earliest_s),
        likely_s=max(rest.likely_s, coat.likely_s),
        latest_s=max(book_need(rest).latest_s, book_need(coat).latest_s),
        next_by_s=rest.next_by_s,
    )


def waits_of(piece: Piece, steps: tuple[Step, ...], live: Iterable[Event]) -> dict[str, Laid]:
    """Return by step key every wait that a piece's live entries began, as they left it."""
    marks = marks_of(live, steps)
    found: dict[str, Laid] = {}
    for step in steps:
        mark = marks.get(step.key)
        if step.wait is None or mark is None or mark.done is None:
            continue
        done = mark.done.what
        assert isinstance(done, events.StepDone)  # noqa: S101
        not_yet_at = tuple(event.at for event in mark.not_yet)
        ready_at = _looked_at(mark.ready)
        found[step.key] = Laid(
            piece, step, steps, done, mark.done.at, not_yet_at, ready_at, mark.done.seq
        )
    return found


def _looked_at(ready: Event | None) -> datetime | None:
    """Return when somebody found it ready; what was told afterwards teaches nothing."""
    if ready is None or (isinstance(ready.what, events.DryReady) and ready.what.told):
        return None
    return ready.at


def wait_kind(step: Step, products: Mapping[str, Product]) -> WaitKind:
    """Return the kind of wait that a step's is learnt with."""
    if step.verb.does.rests:
        return WaitKind.CURE
    if wets(step, products) or step.verb is Verb.LEVEL:
        return WaitKind.LEVEL
    if step.coat < step.coats:
        return WaitKind.FIRST if step.coat == 1 else WaitKind.BETWEEN
    return WaitKind.AFTER
