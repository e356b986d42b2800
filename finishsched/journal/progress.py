"""Progress as a fold over what happened: nothing here is ever stored.

``fold`` only files entries; where a piece stands is derived from its live entries when asked. So
an undo is never worked backwards: the entry that it names is left out, and the rest is read anew.
"""

from __future__ import annotations

from bisect import insort
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from functools import reduce
from typing import NamedTuple, TypeVar, cast

from finishsched.journal.amending import amended
from finishsched.journal.events import (
    PAYLOADS,
    AirRead,
    Amended,
    DefectSeen,
    Event,
    Noted,
    Payload,
    PictureAttached,
    PieceStarted,
    ReworkTaken,
    ScheduleAdopted,
    StepDone,
    Undone,
)
from finishsched.journal.filed import Filed
from finishsched.journal.marks import Mark, marks_of
from finishsched.journal.told_air import NO_AIR, AirReading, ToldAir
from finishsched.model.step import Step

Made = TypeVar("Made")


class StepStatus(StrEnum):
    """Where one step of a piece stands."""

    TO_DO = "to do"
    WAITING = "waiting"
    """Done; no dry check has ended its wait yet."""
    OVER = "over"
    """Done, and its wait ended, or it has none."""
    SKIPPED = "skipped"

    @property
    def is_passed(self) -> bool:
        """True for what asks nothing more of anybody."""
        return self in (StepStatus.OVER, StepStatus.SKIPPED)


WORK = tuple(
    payload
    for payload in PAYLOADS.values()
    if payload not in (Noted, PictureAttached, AirRead, Undone)
)
"""What can move a piece on; of remarks there may be many, and they never do."""


@dataclass(frozen=True, slots=True)
class Book:
    """Every entry up to ``last_seq``, filed; it never changes, ``fold`` returns another."""

    last_seq: int = 0
    filed: Filed = field(default_factory=Filed)
    """Entries by piece in the order of writing, undone ones among them, undos not."""
    undone: frozenset[str] = frozenset()
    """Ids of the entries that do not count."""
    readings: tuple[AirReading, ...] = ()
    """By the time of reading, undone ones among them."""
    last_logged_at: datetime | None = None
    """The latest instant at which an entry was written; None in an empty book."""
    told_air: ToldAir = field(default=NO_AIR, compare=False)
    """A journal's readings, which are then neither in ``filed`` nor in ``readings``."""
    _made: dict[object, object] = field(init=False, default_factory=dict, compare=False, repr=False)

    def once(self, make: Callable[[Book], Made]) -> Made:
        """Return what ``make`` makes of this book, made when it is first asked for."""
        if make not in self._made:
            self._made[make] = make(self)
        return cast("Made", self._made[make])

    def live(self, piece: str | None) -> tuple[Event, ...]:
        """Return the entries about ``piece`` (None: the shop) that count, in order of writing.

        Each as it was amended last; ``filed`` has it as it was first told.
        """
        return self._counting(piece, self.filed.get(piece, ()))

    def told(self, piece: str | None, *kinds: type[Payload]) -> tuple[Event, ...]:
        """Return the live entries about ``piece`` that are of some kinds: of a journal, quickly."""
        return self._counting(piece, self.filed.of_kinds(piece, kinds))

    def told_after(
        self, piece: str | None, kinds: tuple[type[Payload], ...], after: int
    ) -> tuple[Event, ...]:
        """Return those of them with a higher number than ``after``."""
        return self._counting(piece, self.filed.of_kinds_after(piece, kinds, after))

    def told_since(
        self, piece: str | None, since: datetime, *kinds: type[Payload]
    ) -> tuple[Event, ...]:
        """Return those that happened at ``since`` or later: of a journal, reading no others."""
        if self.filed.of_kinds(piece, (Amended,)):  # which may tell an entry to another time
            found = self.told(piece, *kinds)
        else:
            found = self._counting(piece, self.filed.of_kinds_at(piece, kinds, since))
        return tuple(event for event in found if event.at >= since)

    def work(self, piece: str | None) -> tuple[Event, ...]:
        """Return the live entries about ``piece`` that can move it on: all but remarks."""
        return self.told(piece, *WORK)

    def reworks_of(self, piece: str) -> int:
        """Return how many reworks a piece ever had; undone ones count: no key means two steps."""
        return len(self.filed.of_kinds(piece, (ReworkTaken,)))

    def newest(self, piece: str | None, count: int) -> tuple[Event, ...]:
        """Return the last ``count`` live entries about ``piece``."""
        asked, undone = count, True
        while undone:
            found = self.filed.newest(piece, asked)
            live = tuple(event for event in found if event.id not in self.undone)
            undone = len(live) < count and len(found) == asked
            asked *= 2
        return self._counting(piece, live[-count:])

    def amendments(self, piece: str | None) -> Mapping[str, tuple[Event, ...]]:
        """Return what tells entries about ``piece`` otherwise and counts, by the entry's id."""
        found: dict[str, tuple[Event, ...]] = {}
        for event in self.filed.of_kinds(piece, (Amended,)):
            if isinstance(event.what, Amended) and event.id not in self.undone:
                named = event.what.event_id
                found[named] = (*found.get(named, ()), event)
        return found

    def _counting(self, piece: str | None, entries: tuple[Event, ...]) -> tuple[Event, ...]:
        """Return those of ``entries`` that count, as they were amended last."""
        live = tuple(event for event in entries if event.id not in self.undone)
        amendments = self.amendments(piece)
        if not amendments:
            return live
        return tuple(reduce(amended, amendments.get(event.id, ()), event) for event in live)

    @property
    def pieces(self) -> tuple[str, ...]:
        """Every piece that an entry was ever made about, the first entered first."""
        return tuple(piece for piece in self.filed if piece is not None)

    @property
    def air(self) -> tuple[AirReading, ...]:
        """The readings of the air that count, in the order of the time of reading."""
        live = [reading for reading in self.readings if reading.event_id not in self.undone]
        return tuple(sorted((*self.told_air.every(), *live), key=_by_time))


EMPTY_BOOK = Book()


def fold(book: Book, events: Iterable[Event]) -> Book:
    """Return ``book`` with ``events`` filed, which come in the order of writing.

    Entries that the book already has are passed over; no entry, however odd, is refused. Folding
    in parts gives the same book as folding at once.
    """
    last_seq, last_logged_at = book.last_seq, book.last_logged_at
    filed: dict[str | None, list[Event]] = defaultdict(list)
    undone: set[str] = set()
    readings: list[AirReading] = []
    for event in events:
        if event.seq <= last_seq:
            continue
        last_seq = event.seq
        last_logged_at = max(event.logged_at, last_logged_at or event.logged_at)
        if isinstance(event.what, Undone):
            undone.add(event.what.event_id)
            continue
        filed[event.piece].append(event)
        readings.extend(_readings(event))
    if last_seq == book.last_seq:
        return book
    return Book(
        last_seq,
        book.filed.having(filed),
        book.undone | undone if undone else book.undone,
        _merged(book.readings, readings),
        last_logged_at,
        book.told_air,
    )


class Running(NamedTuple):
    """By which texts a piece is being worked; both hashes name snapshots."""

    schedule_id: str
    schedule_hash: str
    piece_hash: str
    started_at: datetime


def running(book: Book, piece: str) -> Running | None:
    """Return what ``piece`` is being worked by, or None when it was not started."""
    found: Running | None = None
    for event in book.told(piece, PieceStarted, ScheduleAdopted):
        what = event.what
        if isinstance(what, PieceStarted):
            found = Running(what.schedule_id, what.schedule_hash, what.piece_hash, event.at)
        elif isinstance(what, ScheduleAdopted) and found is not None:
            found = Running(
                what.schedule_id, what.schedule_hash, found.piece_hash, found.started_at
            )
    return found


def this_life(live: tuple[Event, ...]) -> tuple[Event, ...]:
    """Return a piece's entries since it was begun last; all of them before it is begun."""
    starts = [at for at, event in enumerate(live) if isinstance(event.what, PieceStarted)]
    return live[starts[-1] :] if starts else live


class PieceProgress(NamedTuple):
    """Where a piece stands on its way through ``steps``."""

    steps: tuple[Step, ...]
    statuses: tuple[StepStatus, ...]
    """One for each step, in the same order."""
    current: Step | None
    """The first step that is neither over nor skipped; None when there is none."""
    laid_at: datetime | None
    """While the current step waits: when it was done."""
    not_yet_at: tuple[datetime, ...]
    """While the current step waits: the dry checks that failed since it was done."""
    done: tuple[tuple[Step, Event], ...]
    """Every step that was done, with the entry that counts, in the order of the work."""
    defects: tuple[Event, ...]
    rests_by_itself: bool = False
    """True while a rest is in hand that nobody had to begin."""

    @property
    def waiting(self) -> bool:
        """True while only a dry check can move the piece on."""
        return self.laid_at is not None

    @property
    def finished(self) -> bool:
        """True when every step is over or skipped."""
        return bool(self.steps) and self.current is None

    @property
    def steps_passed(self) -> int:
        """How many steps are over or skipped."""
        return sum(status.is_passed for status in self.statuses)

    def status_of(self, step: Step) -> StepStatus:
        """Return where ``step`` stands.

        Raises:
            KeyError: when it is none of this piece's steps.

        """
        by_key = {own.key: status for own, status in zip(self.steps, self.statuses, strict=True)}
        return by_key[step.key]


def piece_progress(book: Book, piece: str, steps: tuple[Step, ...]) -> PieceProgress:
    """Return where ``piece`` stands on its way through ``steps``, known by their keys.

    Entries about other steps, such as those of an earlier schedule, do not count here; starting a
    piece again begins every step anew.
    """
    return progress_of(book.work(piece), steps)


def progress_of(work: tuple[Event, ...], steps: tuple[Step, ...]) -> PieceProgress:
    """Return the same from a piece's live entries, in the order of writing."""
    marks = marks_of(work, steps)
    statuses = tuple(_status(step, marks.get(step.key)) for step in steps)
    pairs = zip(steps, statuses, strict=True)
    current = next((step for step, status in pairs if not status.is_passed), None)
    mark = marks.get(current.key) if current is not None else None
    return PieceProgress(
        steps=steps,
        statuses=statuses,
        current=current,
        laid_at=mark.begun_at if mark else None,
        not_yet_at=tuple(event.at for event in mark.not_yet) if mark else (),
        done=_done(steps, marks),
        defects=tuple(event for event in work if isinstance(event.what, DefectSeen)),
        rests_by_itself=mark is not None and mark.by_itself,
    )


def _readings(event: Event) -> Iterable[AirReading]:
    what = event.what
    if isinstance(what, AirRead | StepDone) and what.air is not None:
        yield AirReading(what.air.at or event.at, event.seq, event.id, what.air)


def _merged(old: tuple[AirReading, ...], new: list[AirReading]) -> tuple[AirReading, ...]:
    """Return both in the order of time; cheap when the new ones are newest, as they mostly are."""
    new.sort(key=_by_time)
    if not old or not new or _by_time(old[-1]) <= _by_time(new[0]):
        return (*old, *new)
    merged = list(old)
    for reading in new:
        insort(merged, reading, key=_by_time)
    return tuple(merged)


def _by_time(reading: AirReading) -> tuple[datetime, int]:
    return reading.at, reading.seq


def _status(step: Step, mark: Mark | None) -> StepStatus:
    if mark is None:
        return StepStatus.TO_DO
    if mark.done is None:
        return StepStatus.SKIPPED
    return StepStatus.WAITING if mark.ended(step) is None else StepStatus.OVER


def _done(steps: tuple[Step, ...], marks: Mapping[str, Mark]) -> tuple[tuple[Step, Event], ...]:
    found = ((step, marks[step.key].done) for step in steps if step.key in marks)
    return tuple((step, event) for step, event in found if event is not None)
