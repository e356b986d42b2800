"""Join in the middle: what was done before anybody logged, told afterwards.

``sanded to P220, sealed, 3 coats since yesterday`` becomes the entries that would have been logged,
each marked as told. Their times are reckoned back from the last one by the schedule's likely waits,
so they are no evidence of how anything dried; the film counts as laid.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from finishsched.journal import events
from finishsched.journal.events import Event, NewEvent
from finishsched.journal.progress import Book, fold
from finishsched.model.film import BareGrades
from finishsched.model.grades import Grade, UnknownGradeError, grade_of
from finishsched.model.schedule import StageName, Verb
from finishsched.model.step import Step
from finishsched.workshop.base.entries import TOLD_AFTERWARDS, Entry, RefusedError, What
from finishsched.workshop.base.wall_clock import WallTimeError, read_wall_day, read_wall_time
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.ledger import new_event
from finishsched.workshop.standing.one_go import in_one_go
from finishsched.workshop.standing.several import find_several, of_each
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.where import find

NOTHING = ("", "nothing", "none", "no")
_REMEDY = (
    "write for example: sanded to P220; or: sanded, sealed, 3 coats since yesterday; or a step's "
    "number"
)
_DRY = ("dry", "ready", "cured")
_SINCE = re.compile(
    r"^(?P<what>.*?)[\s,]*\b(?:since|at|on|ended|last)\b\s+(?P<when>.+)$", re.IGNORECASE
)
_SANDED = re.compile(r"(?:sanded|sand)(?:\s+(?:up\s+)?to)?(?:\s+(?P<grade>.+))?", re.IGNORECASE)
_COATS = re.compile(r"(?P<count>\d+|one|two|three|four|five|six)\s+coats?", re.IGNORECASE)
_STEP = re.compile(r"(?:(?:up\s+)?to\s+)?step\s+(?P<number>\d+)|(?P<bare>\d+)", re.IGNORECASE)
_COUNTS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6}


@dataclass(frozen=True, slots=True)
class Joined:
    """What a telling means for one piece."""

    last: Step | None
    """The last step that is done; None for nothing."""
    at: datetime
    """When it was done."""
    dry: bool
    """True where its wait is over too."""


def read_telling(text: str, steps: Sequence[Step], now: datetime, workshop: Workshop) -> Joined:
    """Return what a person says is done of ``steps``, the steps of the piece's schedule.

    Raises:
        RefusedError: for what cannot be made out, or what the schedule has no step for.

    """
    words = " ".join(text.split())
    if words.lower() in NOTHING:
        return Joined(None, now, dry=False)
    found = _SINCE.match(words)
    at = _instant(found["when"], now, workshop) if found else now
    parts = re.split(r"\s*(?:,|;|\band\b)\s*", found["what"] if found else words)
    said = [part for part in parts if part]
    dry = any(part.lower() in ("dry", "ready", "cured") for part in said)
    bare_grades = workshop.papers.shop.film.bare_grades
    done = [part for part in said if part.lower() not in ("dry", "ready", "cured")]
    lasts = [_last_of(part, steps, bare_grades) for part in done]
    if not lasts:
        raise RefusedError(f"{words!r:.60} says nothing that is done", _REMEDY)
    last = max(lasts, key=lambda step: step.number)
    return Joined(last, at, dry)


def _instant(text: str, now: datetime, workshop: Workshop) -> datetime:
    try:
        if text.strip().lower() == "now":
            return now
        return read_wall_time(text, now, workshop.zone)
    except WallTimeError:
        pass
    try:
        day = read_wall_day(text, now, workshop.zone)
    except WallTimeError as fault:
        raise RefusedError(
            fault.message, "write yesterday, yesterday 18:30, or 2026-11-25"
        ) from None
    # A day without a time: the end of its afternoon, when most coats are laid (our assumption).
    return min(now, day + timedelta(hours=18)) if day < now - timedelta(hours=1) else day


def _last_of(part: str, steps: Sequence[Step], bare_grades: BareGrades) -> Step:
    if (sanded := _SANDED.fullmatch(part)) is not None:
        return _with_dusting(_sanded_to(sanded["grade"], steps, bare_grades), steps)
    if part.lower() in ("filled", "fill", "pores filled"):
        return _end_of(StageName.FILL, "filled", steps)
    if part.lower() in ("sealed", "seal"):
        return _end_of(StageName.SEAL, "sealed", steps)
    if (coats := _COATS.fullmatch(part)) is not None:
        return _coat(coats["count"], steps)
    if (numbered := _STEP.fullmatch(part)) is not None:
        number = int(numbered["number"] or numbered["bare"])
        if not 1 <= number <= len(steps):
            raise RefusedError(f"there is no step {number}", f"steps go from 1 to {len(steps)}")
        return steps[number - 1]
    by_key = [step for step in steps if step.key == part]
    if by_key:
        return by_key[0]
    raise RefusedError(f"{part!r:.60} is nothing that can be told", _REMEDY)


def _sanded_to(grade: str | None, steps: Sequence[Step], bare_grades: BareGrades) -> Step:
    bare = [step for step in steps if step.stage is StageName.PREPARE and step.verb is Verb.SAND]
    if not bare:
        raise RefusedError("this schedule has no sanding of bare wood", _REMEDY)
    if not grade:
        return bare[-1]
    wanted = _grade(grade, bare_grades)
    graded = [(step, _grade(step.grade, bare_grades)) for step in bare if step.grade]
    exact = [step for step, known in graded if known.name == wanted.name]
    if exact:
        return exact[-1]
    coarser = [step for step, known in graded if known.grain_um >= wanted.grain_um]
    if not coarser:
        raise RefusedError(
            f"{grade} is coarser than this schedule begins with, {bare[0].grade}",
            "log its sanding as you do it",
        )
    return coarser[-1]


def _grade(text: str, bare_grades: BareGrades) -> Grade:
    try:
        return grade_of(text, bare_grades)
    except UnknownGradeError as fault:
        raise RefusedError(fault.message, fault.remedy) from None


def _with_dusting(step: Step, steps: Sequence[Step]) -> Step:
    """Return the tacking off that follows a sanding, if one does: it was done too."""
    following = steps[step.number] if step.number < len(steps) else None
    return following if following is not None and following.verb is Verb.TACK_OFF else step


def _end_of(stage: StageName, word: str, steps: Sequence[Step]) -> Step:
    within = [step for step in steps if step.stage is stage]
    if not within:
        names = dict.fromkeys(step.stage.value for step in steps)
        raise RefusedError(
            f"this schedule has no step by which it is {word}", f"its stages are {', '.join(names)}"
        )
    return within[-1]


def _coat(count: str, steps: Sequence[Step]) -> Step:
    number = _COUNTS.get(count.lower()) or int(count)
    coats = [s for s in steps if s.verb.lays_coats and s.stage is not StageName.SEAL]
    if not 1 <= number <= len(coats):
        raise RefusedError(f"this schedule has no coat {number}", f"it has {len(coats)} of them")
    return coats[number - 1]


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

    def tell(self, book: Book, snapshots: dict[str, str]) -> tuple[list[NewEvent], Book]:
        """Return the entries from the beginning to the last step done, and the book with them.

        The snapshots that they bring are added to ``snapshots``.
        """
        made: list[NewEvent] = []
        people = self._workshop.papers.shop.people
        for entry in self._entries():
            by = people[0] if people else ""
            standing = find(self._workshop, self._ref, book)
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
        times = _times(done, self._joined.at)
        yield Entry(What.START, self._ref, text=TOLD_AFTERWARDS, at=times[0])
        for step, at, following in zip(done, times, [*times[1:], None], strict=True):
            # A rest begins by itself, and after a coat its dry check is the only one of the two.
            if step.verb is not Verb.REST:
                yield Entry(What.DONE, self._ref, text=TOLD_AFTERWARDS, at=at)
            if step.wait is None or self._rest_goes_on_from(step):
                continue
            if following is not None or self._joined.dry:
                yield Entry(What.READY, self._ref, text=TOLD_AFTERWARDS, at=following or self._now)

    def _rest_goes_on_from(self, step: Step) -> bool:
        after = self._steps[step.number] if step.number < len(self._steps) else None
        return step.leaves_film_wet and after is not None and after.verb is Verb.REST


def _times(done: Sequence[Step], last_at: datetime) -> list[datetime]:
    """Return when each step was done, reckoned back from the last by the likely waits."""
    times = [last_at]
    for step in reversed(done[:-1]):
        wait_s = step.wait.likely_s if step.wait else 0.0
        times.append(times[-1] - timedelta(seconds=wait_s))
    return times[::-1]
