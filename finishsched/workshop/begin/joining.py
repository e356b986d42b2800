"""Join in the middle: what was done before anybody logged, told afterwards.

``sanded to P220, sealed, 3 coats since yesterday`` becomes the entries that would have been logged,
each marked as told. Their times are reckoned back from the last one by the schedule's likely waits,
so they are no evidence of how anything dried; the film counts as laid.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from finishsched.journal import events
from finishsched.journal.events import Event, NewEvent
from finishsched.journal.progress import Book, fold
from finishsched.model.step import Step
from finishsched.workshop.base.entries import TOLD_AFTERWARDS, Entry, RefusedError, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.begin.telling import Joined, read_telling
from finishsched.workshop.standing.ledger import new_event
from finishsched.workshop.standing.one_go import in_one_go
from finishsched.workshop.standing.reckoning import OneByOne
from finishsched.workshop.standing.several import find_several, of_each
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.where import find


def tell_done(workshop: Workshop, names: str, text: str, now: datetime) -> tuple[Event, ...]:
    """Log what a person tells of pieces that were not begun: all of it, or nothing.

    ``names`` is one piece or several, each read by its own schedule. Returns no entry for
    'nothing'.

    Raises:
        RefusedError: for what cannot be, with each piece; the journal is as it was.
        JournalFaultError: when it cannot be kept; the journal is as it was.

    """
    found = find_several(workshop, names)
    told = of_each(found, lambda one: _not_begun(one, text, now, workshop))
    tellers = [
        _Teller(workshop, one.ref, one.steps, joined, now)
        for one, joined in zip(found, told, strict=True)
        if joined.last is not None
    ]
    if not tellers:
        return ()
    snapshots: dict[str, str] = {}

    def tell(book: Book) -> tuple[NewEvent, ...]:
        made: list[NewEvent] = []
        for teller in tellers:
            more, book = teller.tell(book, snapshots)
            made += more
        return in_one_go(made)

    with workshop.trying(snapshots):
        return workshop.append_all(tell, now)


def _not_begun(standing: Standing, text: str, now: datetime, workshop: Workshop) -> Joined:
    if standing.progress is not None:
        raise RefusedError(
            f"{standing.ref} is begun already", "log what was done since, each with its time: --at"
        )
    return read_telling(text, standing.steps, now, workshop)


class _Teller:
    """Makes the entries of one piece, each judged by the book as the ones before left it."""

    def __init__(
        self, workshop: Workshop, ref: str, steps: Sequence[Step], joined: Joined, now: datetime
    ) -> None:
        self._workshop = workshop
        self._ref = ref
        self._steps = steps
        self._joined = joined
        self._now = now
        self._one = OneByOne(workshop.papers, workshop.text_of)

    def tell(self, book: Book, snapshots: dict[str, str]) -> tuple[list[NewEvent], Book]:
        """Return the entries from the beginning to the last step done, and the book with them.

        The snapshots that they bring are added to ``snapshots``.
        """
        made: list[NewEvent] = []
        by = self._workshop.papers.shop.hands_named("")
        for entry in self._entries():
            standing = self._one.standing(self._ref, book) or find(self._workshop, self._ref, book)
            written = self._workshop.papers.schedule_of(standing.piece)
            new = new_event(replace(entry, by=by), standing, written, book, self._now)
            if isinstance(new.what, events.StepDone | events.DryReady):
                new = replace(new, what=replace(new.what, told=True))
            made.append(new)
            snapshots.update(new.snapshots)
            seq = book.last_seq + 1
            book = fold(book, [Event(seq, f"new-{seq}", new.at, self._now, new.piece, new.what)])
        return made, book

    def _entries(self) -> Iterator[Entry]:
        assert self._joined.last is not None  # noqa: S101  # nothing told makes no entries
        done = self._steps[: self._joined.last.number]
        times = _times(done, self._joined)
        yield Entry(What.START, self._ref, text=TOLD_AFTERWARDS, at=times[0])
        for step, at, following in zip(done, times, [*times[1:], None], strict=True):
            # A rest begins by itself, and after a coat its dry check is the only one of the two.
            if not step.verb.does.rests:
                yield Entry(What.DONE, self._ref, text=TOLD_AFTERWARDS, at=at)
            if step.wait is None or self._rest_goes_on_from(step):
                continue
            if following is not None or self._joined.dry:
                yield Entry(What.READY, self._ref, text=TOLD_AFTERWARDS, at=following or self._now)

    def _rest_goes_on_from(self, step: Step) -> bool:
        after = self._steps[step.number] if step.number < len(self._steps) else None
        return step.leaves_film_wet and after is not None and after.verb.does.rests


def _times(done: Sequence[Step], joined: Joined) -> list[datetime]:
    """Return when each step was done: as said, else reckoned back by the likely waits.

    What is reckoned is never before a step of which it was said when it was done.
    """
    times = [joined.at]
    for step in reversed(done[:-1]):
        wait_s = step.wait.likely_s if step.wait else 0.0
        reckoned = times[-1] - timedelta(seconds=wait_s)
        said_before = [at for number, at in joined.known.items() if number <= step.number]
        times.append(joined.known.get(step.number) or max([reckoned, *said_before]))
    return times[::-1]
