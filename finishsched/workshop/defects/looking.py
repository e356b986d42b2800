"""What is looked at when a defect is asked about: its entry, its place, what was said and known."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from finishsched.checking.defects.evidence import Evidence
from finishsched.checking.defects.notes import of_any_coat
from finishsched.checking.defects.ranking import by_the_log
from finishsched.checking.defects.seen import Seen
from finishsched.checking.defects.told import perhaps_meant, perhaps_seen, understood
from finishsched.journal import events
from finishsched.journal.events import BatchMixed, Event
from finishsched.journal.progress import Book, this_life
from finishsched.model.product import ProductKind
from finishsched.model.step import Step
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.places import Place, place_named
from finishsched.workshop.base.words import one_line
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.defects.evidence import evidence_of
from finishsched.workshop.defects.layered import wrongs_of
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.where import find


@dataclass(frozen=True, slots=True)
class Looked:
    """What somebody asks about: the piece, the entry that is meant, and what is known of it."""

    standing: Standing
    event: Event | None
    step: Step | None
    place: Place | None
    evidence: Evidence
    known: Mapping[Seen, float]
    """How well the log fits each defect, in log-odds."""
    at: datetime


def look(
    workshop: Workshop,
    piece: str,
    seen: str,
    now: datetime,
    step: str | None,
    where: str,
    area_m2: float | None,
) -> Looked:
    """Return what is asked about; ``seen`` is in the words of whoever saw it, or empty.

    Raises:
        RefusedError: for an unknown piece or step, or a piece that is not begun.

    """
    standing = find(workshop, piece)
    if standing.of:
        standing = find(workshop, standing.of)
    if standing.progress is None:
        raise RefusedError(f"{standing.ref} is not begun", f"finishsched log {standing.ref} start")
    event = _logged(workshop.book(), standing, seen)
    at = event.at if event else now
    seen_at, place = _step(standing, step, event), _place(standing, event, where, area_m2, seen)
    found = evidence_of(workshop, standing, seen_at, at)
    said, here = _said(workshop, standing, event, (seen, where)), None
    others = _of_other_coats(workshop, standing, found.kind)
    if others:
        here = _said(workshop, standing, event, (seen, where), others)
    evidence = replace(
        found,
        at_edge=place.at_edge if place else None,
        said=said,
        said_here=here if here != said else None,
        wrongs=wrongs_of(workshop.papers, standing, seen_at, at),
    )
    return Looked(standing, event, seen_at, place, evidence, by_the_log(evidence), at)


def _of_other_coats(
    workshop: Workshop, standing: Standing, kind: ProductKind | None
) -> frozenset[str]:
    """Return the keys of the steps that lay something of another kind than the coat in question."""
    products = workshop.papers.products
    laid = ((step.key, products.get(step.product or "")) for step in standing.steps)
    return frozenset(key for key, product in laid if product and kind and product.kind is not kind)


def _said(
    workshop: Workshop,
    standing: Standing,
    event: Event | None,
    words: Iterable[str],
    others: frozenset[str] = frozenset(),
) -> str:
    """Return all that was said of a defect, and noted of the work before it.

    Of notes at the steps named by ``others`` it is only what is not of their own coat.
    """
    book, what = workshop.book(), event.what if event else None
    logged = (what.text, what.where) if isinstance(what, events.DefectSeen) else ()
    life = this_life(book.live(standing.ref))
    until = [one for one in life if not event or one.at <= event.at]
    noted = (*_notes(until, others), *_noted_of_jars(book, until))
    return "; ".join(filter(None, (*words, *logged, *noted)))


def _noted_of_jars(book: Book, done: Iterable[Event]) -> Iterator[str]:
    """Give what was noted of the jars that the work was laid from, as they were mixed."""
    used = {one.what.batch for one in done if isinstance(one.what, events.StepDone)}
    for mixed in book.told(None, BatchMixed):
        if isinstance(mixed.what, BatchMixed) and mixed.what.batch in used:
            yield mixed.what.note


def _notes(life: Iterable[Event], others: frozenset[str]) -> Iterator[str]:
    """Give what was noted, in order; a note that names no step is of the one that was done last."""
    step = ""
    for event in life:
        what, text = event.what, ""
        if isinstance(what, events.StepDone):
            step, text = what.step, what.note
        elif isinstance(what, events.Noted):
            text = what.text
        if text:
            yield of_any_coat(text) if step in others else text


def _place(
    standing: Standing, event: Event | None, where: str, area_m2: float | None, text: str
) -> Place | None:
    """Return where it is: as said now, as logged, or as the words say; None for all of it."""
    what = event.what if event else None
    if isinstance(what, events.DefectSeen):
        where, area_m2 = where or what.where, area_m2 or what.area_m2
    return place_named(one_line(where), standing.piece, area_m2, text)


def _logged(book: Book, standing: Standing, seen: str) -> Event | None:
    """Return the newest logged defect that is meant and that no rework was taken for."""
    live = this_life(book.live(standing.ref))
    done = mended(live)
    wanted = understood(seen)
    for event in reversed(live):
        what = event.what
        if not isinstance(what, events.DefectSeen) or event.id in done:
            continue
        if not seen or (wanted is not None and _kind_of(what) is wanted):
            return event
    return None


def mended(live: Iterable[Event]) -> frozenset[str]:
    """Return the ids of the defects that a rework was taken for."""
    return frozenset(e.what.defect_id for e in live if isinstance(e.what, events.ReworkTaken))


def _kind_of(what: events.DefectSeen, known: Mapping[Seen, float] | None = None) -> Seen | None:
    return Seen(what.seen) if what.seen in list(Seen) else understood(what.text, known)


def seen_of(
    standing: Standing, seen: str, event: Event | None, known: Mapping[Seen, float]
) -> Seen:
    """Return the defect that is meant: by what somebody says now, else by what was logged.

    Where words may mean several it is the likeliest; ``perhaps_seen`` has the others.

    Raises:
        RefusedError: where the words name none, or several alike; it says what may be meant.

    """
    if seen:
        found = perhaps_seen(one_line(seen), known)
        if not found:
            raise RefusedError(f"no defect is called {seen!r:.80}", perhaps_meant(seen))
        return found[0]
    if event is None:
        raise RefusedError(
            f"no defect of {standing.ref} is open", f"say what is seen, one of {', '.join(Seen)}"
        )
    assert isinstance(event.what, events.DefectSeen)  # noqa: S101
    kind = _kind_of(event.what, known)
    if kind is None:
        raise RefusedError(
            f"what was logged, {event.what.text!r:.60}, is in no words of the trade",
            perhaps_meant(event.what.text),
        )
    return kind


def _step(standing: Standing, name: str | None, event: Event | None) -> Step | None:
    by_name = {key: step for step in standing.steps for key in (step.key, str(step.number))}
    if name is not None:
        if name not in by_name:
            raise RefusedError(
                f"no step {name!r} in {standing.ref}", f"steps go from 1 to {len(standing.steps)}"
            )
        return by_name[name]
    if event is not None:
        assert isinstance(event.what, events.DefectSeen)  # noqa: S101
        return by_name.get(event.what.step or "")
    return standing.step
