"""Taking entries back: the newest as it was given, or any earlier one with what hangs on it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from finishsched.journal import events
from finishsched.journal.events import Event, NewEvent
from finishsched.journal.progress import Book
from finishsched.workshop.base.entries import Entry, RefusedError
from finishsched.workshop.base.shown import PLAIN
from finishsched.workshop.base.words import entry_words
from finishsched.workshop.standing.beside import worked_beside
from finishsched.workshop.standing.standing import Standing

_ABOUT_A_STEP = (events.StepDone, events.DryReady, events.DryNotYet, events.StepSkipped)
CAN_MOVE = (
    events.StepDone,
    events.DryReady,
    events.DryNotYet,
    events.Noted,
    events.DefectSeen,
)
"""Entries that may have been meant for another piece; all others belong to their own."""
MOST_TOLD = 6
"""So many entries that hang on another are told by name; the rest are counted."""


def undo_events(entry: Entry, standing: Standing, book: Book, now: datetime) -> Iterator[NewEvent]:
    """Give the undo of the newest entry of a piece, or of the one that ``entry`` means.

    The newest goes as it was given: all that was given with it about this piece goes too. An
    earlier one goes alone where nothing hangs on it, else with all that does.

    Raises:
        RefusedError: when there is no such entry, or when more hangs on it than ``entry`` says.

    """
    live = book.live(standing.ref)
    if not live:
        raise RefusedError(f"{standing.ref} has no entry to undo", "nothing was changed")
    if entry.step is None and entry.number is None:
        taken = _given_with(live[-1], live)
    else:
        target = entry_meant(entry, standing, live)
        hanging = hanging_on(target, live, standing)
        work = [event for event in hanging if not isinstance(event.what, events.Amended)]
        if work and not entry.and_later:
            raise RefusedError(
                f"{len(work)} later entries of {standing.ref} hang on that one: "
                f"{_told(work, standing)}",
                "say --and-later to take them back as well, or amend it",
            )
        taken = (*hanging, *with_what_it_ended(target, live))
    _refuse_worked_beside(taken, book)
    for event in sorted(taken, key=lambda one: one.seq, reverse=True):
        undone = events.Undone(event_id=event.id, by=entry.by, note=entry.text)
        yield NewEvent(at=now, piece=standing.ref, what=undone)


def _refuse_worked_beside(taken: Iterable[Event], book: Book) -> None:
    """Refuse to take back the beginning of a line of work that something was logged on since."""
    for event in taken:
        if found := worked_beside(book, event):
            raise RefusedError(
                f"what was logged on {found[0].piece} hangs on that one",
                f"take those back first: finishsched log {found[0].piece} undo",
            )


def entry_meant(entry: Entry, standing: Standing, live: Sequence[Event]) -> Event:
    """Return the live entry of a piece that a number, a step, or neither of them, means.

    Raises:
        RefusedError: when there is none.

    """
    if entry.number is not None:
        found = [event for event in live if event.seq == entry.number]
        if not found:
            raise RefusedError(
                f"entry {entry.number} is none of {standing.ref} that counts",
                f"finishsched log {standing.ref} entries lists them with their numbers",
            )
        return found[-1]
    if entry.step is None:
        plain = [e for e in live if not isinstance(e.what, events.Amended)]
        if not plain:
            raise RefusedError(f"{standing.ref} has no entry", "nothing was changed")
        return plain[-1]
    keys = {step.key for step in standing.steps if entry.step in (str(step.number), step.key)}
    about = [e for e in live if isinstance(e.what, _ABOUT_A_STEP) and e.what.step in keys]
    done = [e for e in about if isinstance(e.what, events.StepDone | events.StepSkipped)]
    if not about:
        raise RefusedError(
            f"no entry of {standing.ref} is about step {entry.step!r}",
            f"finishsched log {standing.ref} entries lists them",
        )
    return (done or about)[-1]


def numbers_given_with(
    number: int | None, standings: Sequence[Standing], book: Book
) -> Mapping[str, int]:
    """Return by piece the number of its entry that was given in one go with entry ``number``.

    Of the piece that the entry is about it is that entry; a piece that has none is left out.
    """
    if number is None:
        return {}  # no entry is meant: a lifetime of entries need not be read
    live = {standing.ref: book.live(standing.ref) for standing in standings}
    meant = [event for own in live.values() for event in own if event.seq == number]
    if not meant:
        return {}
    found: dict[str, int] = {}
    for ref, own in live.items():
        shares = [event.seq for event in own if _is_share_of(event, meant[0])]
        if shares:
            found[ref] = shares[-1]
    return found


def _is_share_of(event: Event, meant: Event) -> bool:
    if event.id == meant.id:
        return True
    mark, steps = given_mark(meant), {getattr(e.what, "step", "") for e in (event, meant)}
    same_kind = type(event.what) is type(meant.what) and len(steps) == 1
    return bool(mark) and event.piece != meant.piece and given_mark(event) == mark and same_kind


def hanging_on(target: Event, live: Sequence[Event], standing: Standing) -> tuple[Event, ...]:
    """Return the later live entries of a piece that could not stand without ``target``.

    A coat has its dry checks and all the work after it on top of it; a rework has its own steps; a
    defect has the rework that was taken for it. A note, a picture or a reading stands by itself.
    """
    places = {step.key: at for at, step in enumerate(standing.steps)}
    gone = {target.id}
    found: list[Event] = []
    for event in live:
        if event.seq <= target.seq:
            continue
        if any(_rests_on(event, one, places) for one in (target, *found)) or (
            isinstance(event.what, events.Amended) and event.what.event_id in gone
        ):
            gone.add(event.id)
            found.append(event)
    return tuple(found)


def _rests_on(event: Event, base: Event, places: Mapping[str, int]) -> bool:
    what = event.what
    work = isinstance(what, (*_ABOUT_A_STEP, events.ReworkTaken))
    match base.what:
        case events.PieceStarted():
            rests = work or isinstance(what, events.ScheduleAdopted)
        case events.ScheduleAdopted():
            rests = work
        case events.DefectSeen():
            rests = isinstance(what, events.ReworkTaken) and what.defect_id == base.id
        case events.ReworkTaken(number=number):
            rests = isinstance(what, _ABOUT_A_STEP) and what.step.startswith(f"rework-{number}/")
        case events.StepDone(step=key):
            rests = _lies_on(what, key, places, itself=True)
        case events.DryReady(step=key):
            rests = _lies_on(what, key, places, itself=False)
        case _:
            rests = False
    return rests


def _lies_on(what: events.Payload, key: str, places: Mapping[str, int], *, itself: bool) -> bool:
    """Tell whether an entry is about work on top of a step, or about the step ``itself``."""
    if not isinstance(what, _ABOUT_A_STEP):
        return isinstance(what, events.ReworkTaken) and itself
    if what.step == key:
        return itself
    return places.get(what.step, -1) > places.get(key, len(places))


def with_what_it_ended(target: Event, live: Sequence[Event]) -> tuple[Event, ...]:
    """Return a coat's entry with the going on that was told with it; any other entry alone.

    That the coat went on was all that said of the one below that it had dried.
    """
    mark = given_mark(target)
    if not mark or not isinstance(target.what, events.StepDone):
        return (target,)
    glided = [
        event
        for event in live
        if isinstance(event.what, events.DryReady)
        and event.what.going_on
        and given_mark(event) == mark
        and event.seq == target.seq - 1
    ]
    return (*glided, target)


def _given_with(newest: Event, live: Sequence[Event]) -> tuple[Event, ...]:
    mark = given_mark(newest)
    return tuple(e for e in live if given_mark(e) == mark) if mark else (newest,)


def given_mark(event: Event) -> str:
    """Return the mark of what an entry was given with; empty for one given by itself."""
    return str(getattr(event.what, "given", ""))


def _in_short(what: events.Payload) -> events.Payload:
    """Return an entry without its amount, which tells nobody which one it is."""
    if isinstance(what, events.StepDone):
        return replace(what, amount_ml=None, amount_g=None)
    return what


def _told(hanging: Sequence[Event], standing: Standing) -> str:
    steps = {step.key: step for step in standing.steps}
    words = [entry_words(_in_short(event.what), steps, PLAIN) for event in hanging[:MOST_TOLD]]
    more = len(hanging) - MOST_TOLD
    return "; ".join([*words, *([f"and {more} more"] if more > 0 else [])])
