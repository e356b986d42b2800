"""What became of an entry about one piece or several, in words and as JSON values."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta, tzinfo
from shlex import quote
from typing import Any

from finishsched.cli.safety.rags import rags_data
from finishsched.cli.work.piece_words import (
    News,
    after_entry,
    log_mix_lines,
    mind_lines,
    need_lines,
    piece_data,
)
from finishsched.journal.events import (
    Amended,
    DefectSeen,
    DryReady,
    Event,
    ReworkTaken,
    StepDone,
    Undone,
)
from finishsched.journal.events import as_json as event_json
from finishsched.journal.progress import Book
from finishsched.model.names import in_words
from finishsched.safety.cautions import DEFERRAL
from finishsched.workshop.base.answers import PieceView, State, StepSheet
from finishsched.workshop.base.shown import Shown, shown_of
from finishsched.workshop.base.spans import wall
from finishsched.workshop.base.wall_clock import full
from finishsched.workshop.base.words import entry_words, one_line
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import Taken, ready_early, remarks_on
from finishsched.workshop.safety.cautions_today import caution_hash, read_today
from finishsched.workshop.safety.rags import open_rags, rags_made
from finishsched.workshop.standing.earlier import entries_of
from finishsched.workshop.standing.several import find_several
from finishsched.workshop.standing.where import find
from finishsched.workshop.views.row_views import row_views
from finishsched.workshop.views.views import piece_view


def taken_data(workshop: Workshop, taken: Taken, now: datetime) -> dict[str, Any]:
    """Return what became of an entry as JSON values; ``event`` is the last of ``events``."""
    return {
        "event": event_json(taken.events[-1]) if taken.events else None,
        "events": [event_json(event) for event in taken.events],
        "pieces": list(taken.refs),
        "apart": list(taken.apart),
        "kept": list(taken.kept),
        "dry_run": taken.trial,
        "warnings": list(_remarks(workshop, taken, now)),
        "rags": _rags(workshop, taken, now),
        "next": _next_of(workshop, taken, now),
        "rows": _rows_of(workshop, taken, now),
    }


def taken_lines(
    workshop: Workshop, taken: Taken, before: Book, now: datetime, news: News
) -> Iterable[str]:
    """Say what was logged, what is next, and what to mind.

    ``news`` returns the sentences that were not told today, and counts them as told.
    """
    said = _said(workshop, taken, before)
    if taken.trial:
        for words, refs in _alike(said):
            yield f"{in_words(refs)}: would log {words}"
        yield from (f"  {one_line(line)}" for line in taken.apart)
        yield from _kept(taken)
        yield "nothing was logged"
        return
    views = _views(workshop, taken, now)
    check = not _goes_on(taken, views)
    if len(views) == 1:
        told = ", then ".join(said[views[0].ref])
        yield from after_entry(views[0], told, workshop.zone, dry_check=check)
    else:
        for words, refs in _alike(said):
            yield f"{in_words(refs)}: {words}"
        yield from _in_all(taken, shown_of(workshop.papers.shop))
        yield from next_lines(views, workshop, dry_check=check)
    yield from (f"  {one_line(line)}" for line in taken.apart)
    yield from _when_it_was(taken, before, now, workshop.zone)
    yield from _deferring_once(_what_follows(workshop, taken, views, now, news))


def _what_follows(
    workshop: Workshop,
    taken: Taken,
    views: list[PieceView],
    now: datetime,
    news: News,
) -> Iterator[str]:
    rows = [row.view for row in row_views(workshop, views, now)]
    yield from _needs(workshop, taken, rows, now, news)
    yield from _beside(workshop, taken, now)
    yield from _kept(taken)
    yield from (f"  mind: {one_line(one)}" for one in _remarks(workshop, taken, now))
    yield from _after_defect(taken)
    yield from _after_oil(workshop, taken, now)


def _deferring_once(lines: Iterable[str]) -> Iterator[str]:
    """Give some lines, with what comes before all cautions told once, at the end of them."""
    deferral = ""
    for line in lines:
        if line.strip() == DEFERRAL:
            deferral = line
        else:
            yield line
    if deferral:
        yield deferral


def _when_it_was(taken: Taken, before: Book, now: datetime, zone: tzinfo) -> Iterator[str]:
    """Say of when it was what an undo took back: logged again it would be of now."""
    back = {event.what.event_id for event in taken.events if isinstance(event.what, Undone)}
    refs = taken.refs if back else ()
    told = (event for ref in refs for event in before.told(ref, StepDone, DryReady))
    times = {event.at for event in told if event.id in back}
    if len(times) == 1 and now - (at := times.pop()) >= A_MINUTE:
        said = wall(at, now, zone)
        typed = said if said == f"{at.astimezone(zone):%H:%M}" else full(at, zone)
        yield f"  it was of {said}: logged again it is of now, unless with --at {quote(typed)}"


def _in_all(taken: Taken, shown: Shown) -> Iterator[str]:
    """Say what the coats of several pieces took together of each jar: as it was told for them."""
    drawn: dict[str, list[StepDone]] = defaultdict(list)
    for event in taken.events:
        if isinstance(event.what, StepDone) and event.what.batch:
            drawn[event.what.batch].append(event.what)
    for name, coats in drawn.items():
        by_mass = coats[0].amount_ml is None
        amounts = [coat.amount_g if by_mass else coat.amount_ml for coat in coats]
        known = [amount for amount in amounts if amount is not None]
        if len(known) == len(coats) > 1:
            told = shown.weight(sum(known)) if by_mass else shown.volume(sum(known))
            yield f"  in all {told} of {name}"


def _beside(workshop: Workshop, taken: Taken, now: datetime) -> Iterator[str]:
    """Say how long a wait of a piece's own is, which runs beside its work."""
    for event in taken.events:
        if isinstance(event.what, ReworkTaken) and event.what.beside:
            view = piece_view(workshop, event.what.beside, now)
            yield from (f"  {line}" for line in after_entry(view, view.title, workshop.zone))


def _kept(taken: Taken) -> Iterator[str]:
    if taken.kept:
        yield f"  kept as it is: {in_words(taken.kept)}"


def _next_of(workshop: Workshop, taken: Taken, now: datetime) -> list[dict[str, Any]]:
    if taken.trial:
        return []
    read = _read(workshop, taken, now)
    return [_next_data(view, read) for view in _views(workshop, taken, now)]


def _rows_of(workshop: Workshop, taken: Taken, now: datetime) -> list[dict[str, Any]]:
    """Return what comes next of the pieces that are worked as one, with the amounts for all."""
    views = [] if taken.trial else _views(workshop, taken, now)
    rows = row_views(workshop, views, now) if len(views) > 1 else ()
    read = _read(workshop, taken, now)
    return [_next_data(row.view, read) | {"pieces": list(row.row.refs)} for row in rows]


def listed_data(workshop: Workshop, name: str) -> dict[str, Any]:
    """Return the entries of pieces that count, as JSON values, each as it was told last."""
    book = workshop.book()
    return {
        "entries": [
            event_json(event)
            for standing in find_several(workshop, name, finished=True)
            for event in book.live(standing.ref)
        ]
    }


def listed_lines(workshop: Workshop, name: str, now: datetime) -> Iterable[str]:
    """Say the entries of pieces that count, the oldest first, each with its number."""
    for standing in find_several(workshop, name, finished=True):
        yield f"{standing.ref}, {standing.piece.title}"
        for told in entries_of(workshop, standing):
            yield f"  {told.number:>5}  {wall(told.at, now, workshop.zone)}  {told.line}"


def _said(workshop: Workshop, taken: Taken, before: Book) -> dict[str, list[str]]:
    """Return in words, by piece, what was logged of it; of an undo, what it took back."""
    said: dict[str, list[str]] = {}
    shown = shown_of(workshop.papers.shop)
    for ref in taken.refs:
        steps = {step.key: step for step in find(workshop, ref).steps}
        own = [event for event in taken.events if event.piece in (ref, None)]
        names_others = any(isinstance(event.what, Undone | Amended) for event in own)
        told = {e.id: e for of in (ref, None) for e in before.live(of)} if names_others else {}
        said[ref] = _in_short(
            [_words(event, told, steps, shown, trial=taken.trial) for event in own]
        )
    return said


def _words(
    event: Event, told: dict[str, Event], steps: dict[str, Any], shown: Shown, *, trial: bool
) -> str:
    if not isinstance(event.what, Undone):
        return f"{'' if trial else 'logged '}{entry_words(event.what, steps, shown)}"
    note = f" ({event.what.note})" if event.what.note else ""
    back = told.get(event.what.event_id)
    words = entry_words(back.what, steps, shown) if back else "an entry"
    return f"{'undo of' if trial else 'undone'} {words}{note}"


_MOST_TOLD = 3
A_MINUTE = timedelta(minutes=1)
"""Less than this moves no clock that anybody reads."""


def _in_short(words: list[str]) -> list[str]:
    """Leave out the middle of a long story, such as a sitting of eight coats."""
    if len(words) <= _MOST_TOLD:
        return words
    return [words[0], f"{len(words) - 2} more entries", words[-1]]


def _alike(said: dict[str, list[str]]) -> Iterator[tuple[str, list[str]]]:
    """Give the same words once, with every piece that they are true of."""
    by_words: dict[str, list[str]] = defaultdict(list)
    for ref, words in said.items():
        by_words[", then ".join(words)].append(ref)
    yield from by_words.items()


def _goes_on(taken: Taken, views: list[PieceView]) -> bool:
    """Tell whether a sitting goes on: what its dry check is was told at its first coat."""
    went_on = any(
        isinstance(event.what, DryReady) and event.what.going_on for event in taken.events
    )
    return went_on and all(view.coats_ahead for view in views)


def next_lines(
    views: list[PieceView], workshop: Workshop, *, dry_check: bool = True
) -> Iterator[str]:
    """Say what comes of it: once for the pieces that are at the same."""
    by_words: dict[tuple[str, ...], list[str]] = defaultdict(list)
    for view in views:
        told = after_entry(view, "", workshop.zone, dry_check=dry_check)
        by_words[tuple(told)[1:]].append(view.ref)
    only, rests = len(by_words) == 1, {lines[1:] for lines in by_words}
    for lines, refs in by_words.items():
        head = lines[:1] if len(rests) == 1 else lines
        for at, line in enumerate(head):
            yield line if only or at else f"  {in_words(refs)}: {line.strip()}"
    if len(rests) == 1:
        yield from rests.pop()


def _needs(
    workshop: Workshop,
    taken: Taken,
    views: list[PieceView],
    now: datetime,
    news: News,
) -> Iterator[str]:
    """Say shortly what the next step of each piece needs, alike ones once, and what is to mind."""
    read = _read(workshop, taken, now)
    sheets = {view.ref: sheet for view in views if (sheet := _sheet_ahead(view)) is not None}
    needs: dict[str, list[str]] = defaultdict(list)
    for ref, sheet in sheets.items():
        for line in need_lines(sheet):
            needs[line].append(ref)
    for line, refs in needs.items():
        yield f"  {line}" if len(needs) == 1 else f"  {in_words(refs)} {line}"
    yield from (f"  {line}" for line in log_mix_lines(sheets.values()))
    yield from (f"  {line}" for line in mind_lines(sheets.values(), read, news))


def _read(workshop: Workshop, taken: Taken, now: datetime) -> frozenset[str]:
    """Return what was read today by whose entry it is."""
    by = getattr(taken.events[-1].what, "by", "") if taken.events else ""
    return read_today(workshop, now, by)


def _sheet_ahead(view: PieceView) -> StepSheet | None:
    return view.sheet if view.clock is None or view.state is State.TO_DO else view.next_sheet


def _next_data(view: PieceView, read: frozenset[str]) -> dict[str, Any]:
    sheet = _sheet_ahead(view)
    new = [] if sheet is None else [c.text for c in sheet.cautions if caution_hash(c) not in read]
    return {**piece_data(view), "cautions_new": new}


def _views(workshop: Workshop, taken: Taken, now: datetime) -> list[PieceView]:
    return [piece_view(workshop, ref, now) for ref in taken.refs]


def _remarks(workshop: Workshop, taken: Taken, now: datetime) -> Iterator[str]:
    """Give what a person should hear, each once, with its pieces where there are several."""
    if taken.trial:
        return
    by_words: dict[str, list[str]] = defaultdict(list)
    for event in taken.events:
        early = ready_early(workshop, event)
        for remark in (*remarks_on(workshop, event, now), *([early] if early else ())):
            if event.piece not in by_words[remark]:
                by_words[remark].append(event.piece or "")
    for remark, refs in by_words.items():
        yield remark if len(taken.refs) < 2 else f"{in_words(refs)}: {remark}"


def _rags(workshop: Workshop, taken: Taken, now: datetime) -> list[dict[str, Any]]:
    if taken.trial or not any(isinstance(event.what, StepDone) for event in taken.events):
        return []
    found: list[dict[str, Any]] = rags_data(open_rags(workshop, now))["rags"]
    return found


def _after_defect(taken: Taken) -> Iterator[str]:
    """Say where to ask on, after a defect that has a name."""
    for event in taken.events:
        if not taken.trial and isinstance(event.what, DefectSeen) and event.what.seen:
            yield f"  what made it, and how to put it right: finishsched defect {event.piece}"
            return


def _after_oil(workshop: Workshop, taken: Taken, now: datetime) -> tuple[str, ...]:
    """Say what to do with the rags of a step just logged, where they heat by themselves."""
    found = open_rags(workshop, now)
    made = rags_made(workshop, found, taken.events)
    if not made:
        return ()
    words = dict.fromkeys(one.words for one in found.rags if one.product in made)
    return (*(f"  rags: {text}" for text in words), f"        {DEFERRAL}")
