"""From an entry to the event that the journal keeps, or a refusal in plain words."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from finishsched.checking.defects.seen import seen_in
from finishsched.journal import events
from finishsched.journal.events import NewEvent
from finishsched.journal.progress import Book
from finishsched.journal.shelf import shelf
from finishsched.model.plain import canonical_json, text_hash
from finishsched.model.schedule import Schedule
from finishsched.model.step import Step
from finishsched.model.stock import Lot
from finishsched.workshop.base.can_be_read import (
    refuse_impossible_air,
    refuse_impossible_moisture,
)
from finishsched.workshop.base.entries import AHEAD, Entry, NotToBeReadError, RefusedError, What
from finishsched.workshop.base.places import place_named
from finishsched.workshop.base.wall_clock import in_typed_minute
from finishsched.workshop.base.words import one_line
from finishsched.workshop.standing.amend_entries import IN_ORDER, amend_event
from finishsched.workshop.standing.beside import refuse_held
from finishsched.workshop.standing.own_steps import own_step
from finishsched.workshop.standing.sitting import (
    ITS_OWN_CHECK,
    go_on_events,
    next_coats,
    wet_below,
)
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.undoing import undo_events


def new_events(
    entry: Entry, standing: Standing, written: Schedule | None, book: Book, now: datetime
) -> tuple[NewEvent, ...]:
    """Return the events for ``entry`` on the piece as it stands: more than one for some entries.

    ``written`` is the schedule's document as it now reads, where there is one.

    Raises:
        RefusedError: when the entry cannot be true.

    """
    entry = _in_one_line(entry)
    if entry.what is What.UNDO:
        _refuse_idle_words(entry)
        return tuple(undo_events(entry, standing, book, now))
    if entry.what is What.AMEND:
        return (amend_event(entry, standing, book, now),)
    if entry.what is What.GO_ON:
        _refuse_idle_words(entry)
        (step,) = next_coats(standing)
        refuse_held(standing.ref, step, standing.steps, standing.beside)
        at = _instant(entry, book, standing.ref, now)
        return go_on_events(standing, _coat(entry, step), at, wet=wet_below(standing))
    return (new_event(entry, standing, written, book, now),)


def new_event(
    entry: Entry, standing: Standing, written: Schedule | None, book: Book, now: datetime
) -> NewEvent:
    """Return the event for an ``entry`` that makes one, on the piece as it stands.

    ``written`` is the schedule's document as it now reads, where there is one.

    Raises:
        RefusedError: when the entry cannot be true.

    """
    entry = _in_one_line(entry)
    _refuse_idle_words(entry)
    _refuse_on_a_line(entry, standing)
    at = _instant(entry, book, standing.ref, now)
    snapshots: tuple[tuple[str, str], ...] = ()
    if entry.what is What.START:
        what, snapshots = _start(standing, entry)
    elif entry.what is What.ANEW:
        what, snapshots = _anew(standing, written, entry)
    elif entry.what is What.ADOPT:
        what, snapshots = _adopt(standing, written, entry)
    elif entry.what.is_own_step:
        _refuse_not_begun(standing)
        text = _wanted_text(entry, entry.what.value)
        what, kept = own_step(entry, standing, text, book, at)
        snapshots = ((what.rework_hash, kept),)
    else:
        what = _about_a_step(entry, standing)
    return NewEvent(at=at, piece=standing.ref, what=what, snapshots=snapshots)


def _in_one_line(entry: Entry) -> Entry:
    text, by, batch = (one_line(words) for words in (entry.text, entry.by, entry.batch))
    return replace(entry, text=text, by=by, batch=batch)


_CHECKS = (What.READY, What.NOT_READY, What.EARLY)
_IN_THE_ORDER_OF_WORK = (What.DONE, What.GO_ON, *_CHECKS, What.ANEW)


def _instant(entry: Entry, book: Book, ref: str, now: datetime) -> datetime:
    """Return when it happened: a note at any time, the steps of a piece one after the other."""
    if entry.at is None:
        return now
    if entry.at > now + AHEAD:
        raise RefusedError("an entry from the time to come", "leave the time out, or correct it")
    if entry.what not in _IN_THE_ORDER_OF_WORK:
        return entry.at
    last = max((event.at for event in book.told(ref, *IN_ORDER)), default=None)
    at = in_typed_minute(entry.at, last)
    if last is not None and at < last:
        raise RefusedError(
            "that is before the step before it was logged",
            "correct the time, or undo the entry before it",
        )
    return in_typed_minute(at, _jar_came_at(entry, book))


def _jar_came_at(entry: Entry, book: Book) -> datetime | None:
    """Return when the jar of a coat came to the shelf; None where no such jar is named."""
    thing = shelf(book).find(entry.batch) if entry.batch else None
    if thing is None:
        return None
    return thing.bought_at if isinstance(thing, Lot) else thing.mixed_at


def _start(standing: Standing, entry: Entry) -> tuple[events.Payload, tuple[tuple[str, str], ...]]:
    if standing.progress is not None:
        raise RefusedError(
            f"{standing.ref} is begun already",
            "log its step in hand done, or 'anew' with the reason where it was stripped",
        )
    return _begun(standing, standing.schedule, entry)


def _anew(
    standing: Standing, written: Schedule | None, entry: Entry
) -> tuple[events.Payload, tuple[tuple[str, str], ...]]:
    """Begin a piece again, by its document as it now reads; what was done stays in the journal."""
    _refuse_not_begun(standing)
    _wanted_text(entry, "new beginning")
    return _begun(standing, written or standing.schedule, entry)


def _begun(
    standing: Standing, schedule: Schedule | None, entry: Entry
) -> tuple[events.Payload, tuple[tuple[str, str], ...]]:
    if schedule is None:
        raise NotToBeReadError(
            f"{standing.ref} has no schedule that can be read: {standing.piece.schedule!r}",
            "see finishsched check, and correct the job or the schedule",
        )
    steps, piece = canonical_json(schedule), canonical_json(standing.piece)
    started = events.PieceStarted(
        schedule_id=schedule.id,
        schedule_hash=text_hash(steps),
        piece_hash=text_hash(piece),
        by=entry.by,
        note=entry.text,
        anew=entry.what is What.ANEW,
    )
    return started, ((text_hash(steps), steps), (text_hash(piece), piece))


def _adopt(
    standing: Standing, written: Schedule | None, entry: Entry
) -> tuple[events.Payload, tuple[tuple[str, str], ...]]:
    _refuse_not_begun(standing)
    if written is None or not standing.changed_schedule:
        raise RefusedError(
            f"{standing.ref} runs on its schedule as written", "there is nothing to adopt"
        )
    running = standing.schedule
    other = running is not None and running.id != written.id and not written.goes_on_from(running)
    if other and entry.text.strip() != written.id:
        raise RefusedError(
            f"the job now names another schedule, {written.id!r}, on which {standing.ref} would "
            "begin anew but for steps of the same name",
            f"write 'adopt {written.id}' if that is meant",
        )
    if entry.text.strip() not in ("", written.id):
        raise RefusedError(
            f"'adopt' takes no words, but the schedule's name, {written.id!r}",
            f"leave out {entry.text!r:.60}, or log it as a note",
        )
    text = canonical_json(written)
    adopted = events.ScheduleAdopted(
        schedule_id=written.id, schedule_hash=text_hash(text), by=entry.by
    )
    return adopted, ((text_hash(text), text),)


def _about_a_step(entry: Entry, standing: Standing) -> events.Payload:
    if entry.what is What.NOTE:
        return events.Noted(text=_wanted_text(entry, "note"), by=entry.by)
    _refuse_not_begun(standing)
    if entry.what is What.DEFECT:
        step = standing.step if entry.step is None else _step(entry.step, standing)
        text = _wanted_text(entry, "defect")
        key = step.key if step else None
        return _defect(entry, standing, text, key)
    if entry.what is What.DONE:
        return _done(entry, standing)
    if entry.what is What.SKIPPED:
        return _skipped(entry, standing)
    return _dry_check(entry, standing)


def _defect(entry: Entry, standing: Standing, text: str, step: str | None) -> events.DefectSeen:
    """Return what the journal keeps of something seen, with its place where somebody said so."""
    place = place_named(entry.where, standing.piece, entry.area_m2, text)
    return events.DefectSeen(
        text=text,
        step=step,
        by=entry.by,
        seen=_seen(entry.seen, text),
        where=place.where if place else "",
        zone=place.zone if place else "",
        area_m2=entry.area_m2,
    )


def _done(entry: Entry, standing: Standing) -> events.StepDone:
    step = _in_hand(entry, standing)
    progress = standing.progress
    assert progress is not None  # noqa: S101
    if progress.rests_by_itself:
        raise RefusedError(
            f"{standing.ref}: step {step.number}, {step.title}, began by itself and goes on",
            "make the dry check, and log ready or not ready; or skip it with a reason",
        )
    if progress.waiting:
        raise RefusedError(
            f"{standing.ref}: step {step.number}, {step.title}, is done and its wait has not ended",
            ITS_OWN_CHECK,
        )
    refuse_held(standing.ref, step, standing.steps, standing.beside)
    return _coat(entry, step)


def _coat(entry: Entry, step: Step) -> events.StepDone:
    """Return what the journal keeps of a step that was done, with what was told of it."""
    if entry.air is not None:
        refuse_impossible_air(entry.air)
    if entry.moisture_percent is not None:
        refuse_impossible_moisture(entry.moisture_percent)
    return events.StepDone(
        step=step.key,
        by=entry.by,
        batch=entry.batch,
        amount_ml=entry.amount_ml,
        amount_g=entry.amount_g,
        air=entry.air,
        note=entry.text,
        moisture_percent=entry.moisture_percent,
        took_min=entry.took_min,
    )


def _dry_check(entry: Entry, standing: Standing) -> events.Payload:
    step = _in_hand(entry, standing)
    assert standing.progress is not None  # noqa: S101
    if not standing.progress.waiting:
        raise RefusedError(
            f"step {step.number}, {step.title}, is not logged done, so there is nothing to check",
            "log it done first",
        )
    if entry.what is What.EARLY:
        return events.WentEarly(step=step.key, by=entry.by, note=_wanted_text(entry, "reason"))
    if entry.what is What.READY:
        return events.DryReady(step=step.key, by=entry.by, note=entry.text)
    return events.DryNotYet(step=step.key, by=entry.by, note=entry.text)


def _skipped(entry: Entry, standing: Standing) -> events.StepSkipped:
    reason = _wanted_text(entry, "reason")
    step = standing.step if entry.step is None else _step(entry.step, standing)
    progress = standing.progress
    assert progress is not None  # noqa: S101
    if step is None:
        raise RefusedError(f"{standing.ref} is finished", "there is nothing left to skip")
    if progress.status_of(step).is_passed:
        raise RefusedError(f"step {step.number}, {step.title}, is over", "undo it, if it was not")
    if progress.waiting and step == progress.current and not progress.rests_by_itself:
        raise RefusedError(
            f"step {step.number}, {step.title}, is done; only its wait is left", ITS_OWN_CHECK
        )
    return events.StepSkipped(step=step.key, reason=reason, by=entry.by)


def _seen(named: str, text: str) -> str:
    """Return what was seen in the trade's word: as named, else as the text begins, else nothing."""
    if not named:
        found = seen_in(text)
        return found.value if found else ""
    # Dear: it reads the table of causes.
    from finishsched.checking.defects.told import perhaps_meant, understood  # noqa: PLC0415

    meant = understood(named)
    if meant is None:
        raise RefusedError(f"no defect is called {named!r:.80}", perhaps_meant(named))
    return meant.value


def _in_hand(entry: Entry, standing: Standing) -> Step:
    """Return the step in hand, and refuse an entry about another one."""
    current = standing.step
    if current is None:
        raise RefusedError(f"{standing.ref} is finished", "log a note or a defect, or undo")
    if entry.step is None:
        return current
    step = _step(entry.step, standing)
    if step != current:
        assert standing.progress is not None  # noqa: S101
        where = "is over" if standing.progress.status_of(step).is_passed else "is still ahead"
        raise RefusedError(
            f"step {step.number}, {step.title}, {where}",
            f"step {current.number}, {current.title}, is in hand",
        )
    return step


def _step(name: str, standing: Standing) -> Step:
    for step in standing.steps:
        if name in (str(step.number), step.key):
            return step
    last = len(standing.steps)
    raise RefusedError(
        f"no step {name!r} in {standing.ref}", f"steps go from 1 to {last}, or 'now'"
    )


def _refuse_idle_words(entry: Entry) -> None:
    """Refuse what the entry would silently drop."""
    of_a_step = (What.DONE, *_CHECKS, What.SKIPPED, What.DEFECT)
    if entry.step is not None and entry.what not in (*of_a_step, What.UNDO):
        raise RefusedError(
            f"{entry.what.value!r} is not about one step", f"leave out the step {entry.step!r}"
        )
    used = entry.batch or entry.amount_ml or entry.amount_g or entry.air or entry.took_min
    if (used or entry.moisture_percent is not None) and not entry.what.lays:
        raise RefusedError(
            f"{entry.what.value!r} takes no amount, batch, air, moisture or time",
            "they belong to 'done'",
        )
    if entry.seen and entry.what is not What.DEFECT:
        raise RefusedError(f"{entry.what.value!r} is of no kind", "a kind belongs to 'defect'")
    number = entry.text.strip()
    if number.isdigit() and entry.what in (*of_a_step, What.UNDO, What.ANEW):
        remedy = f"write the step before it: {number} {entry.what.value}"
        if entry.what is What.UNDO:
            remedy = f"write the step before it, {number} undo, or the entry: --entry {number}"
        elif entry.what is What.ANEW:
            remedy = "a piece begins anew at its first step; write the reason in words"
        raise RefusedError(f"{number!r} after {entry.what.value!r} could be a step", remedy)


def _refuse_on_a_line(entry: Entry, standing: Standing) -> None:
    """Refuse what belongs to the piece, of a line that is worked beside it."""
    own = (What.START, What.ANEW, What.ADOPT, What.DEFECT, What.WAIT, What.EXTRA)
    if standing.of and entry.what in own:
        raise RefusedError(
            f"{standing.ref} is worked beside {standing.of}", f"log that on {standing.of}"
        )


def _refuse_not_begun(standing: Standing) -> None:
    if standing.progress is None:
        raise RefusedError(f"{standing.ref} is not begun", f"finishsched log {standing.ref} start")


def _wanted_text(entry: Entry, name: str) -> str:
    text = " ".join(entry.text.split())
    if not text:
        raise RefusedError(
            f"a {name} without words", f"write what it is after {entry.what.value!r}"
        )
    return text
