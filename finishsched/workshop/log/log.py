"""Take an entry about one piece or several, all of it or nothing.

``log_entries`` is the one way in: for one piece, for those that are alike, for a list. The bench
and the command line call it alike. What was given in one go has a mark in common, by which it is
taken back as it was given.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from shlex import quote

from finishsched.drying.limits import HEAVY_FILM
from finishsched.journal import events
from finishsched.journal.events import Event, NewEvent, random_id
from finishsched.journal.progress import Book
from finishsched.journal.shelf import shelf
from finishsched.model.names import in_words
from finishsched.near import nearest
from finishsched.workshop.amounts.as_told import why_no_jar
from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.base.shown import shown_of
from finishsched.workshop.base.spans import span
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.joined import joined
from finishsched.workshop.log.making import Made, each_or_none, of_the_jar, without_the_mix
from finishsched.workshop.log.meant_for import moved
from finishsched.workshop.standing.ledger import new_events
from finishsched.workshop.standing.one_go import in_one_go
from finishsched.workshop.standing.several import choose_in, find_several
from finishsched.workshop.standing.sitting import shares, too_early
from finishsched.workshop.standing.standing import BEGUN_ANEW, Standing
from finishsched.workshop.standing.undoing import given_mark, numbers_given_with
from finishsched.workshop.standing.waits import rest_and_coat, waits_of
from finishsched.workshop.standing.where import cure_room, find
from finishsched.workshop.stock.drawing import Listener
from finishsched.workshop.stock.reckoned import reckoner_of
from finishsched.workshop.stock.stock import Judge


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of an entry."""

    events: tuple[Event, ...]
    """As written, in the order of writing; of a trial, as they would be."""
    refs: tuple[str, ...]
    """The pieces that they are about, in the order in which they were named."""
    apart: tuple[str, ...] = ()
    """Pieces alike with these that were left out, each in words: at another step."""
    kept: tuple[str, ...] = ()
    """Of an undo: pieces that were named, and whose newest entry stays."""
    trial: bool = False
    """True where nothing was written."""


def log_entry(workshop: Workshop, entry: Entry, now: datetime) -> Event:
    """Take an entry about one piece, and return it once it is safe on the disk.

    Where the entry makes several events, it is the last of them.

    Raises:
        RefusedError: when it cannot be true; the journal is as it was.
        JournalFaultError: when it cannot be kept; the journal is as it was.

    """
    return log_entries(workshop, entry, now).events[-1]


def log_entries(workshop: Workshop, entry: Entry, now: datetime, *, trial: bool = False) -> Taken:
    """Take the same entry about every piece that ``entry.piece`` names, or about none.

    An amount is for all of them together, and goes on each by its area. Pieces that are alike are
    named as one as far as they are at the same step. An undo of several takes back what was given
    last among them, as it was given. With ``trial`` nothing is written.

    Raises:
        RefusedError: when it cannot be true of a piece; the journal is as it was. Of several
            pieces it is a SeveralRefusedError, with every refusal and its piece.
        JournalFaultError: when it cannot be kept; the journal is as it was.

    """
    entry = with_hands(workshop, entry)
    if entry.what is What.AMEND and entry.to:
        return take(workshop, lambda book: moved(workshop, entry, book, now), now, trial=trial)
    if entry.what in (What.JOIN, What.PART):
        return take(workshop, lambda book: joined(workshop, entry, book, now), now, trial=trial)
    return take(workshop, lambda book: _made(workshop, entry, book, now), now, trial=trial)


def remarks_on(workshop: Workshop, event: Event, now: datetime) -> tuple[str, ...]:
    """Return what a person should hear about an entry just taken; none of it refuses it."""
    papers = workshop.papers
    listener = Listener(shelf(workshop.book()), Judge(papers.products, now), papers.shop)
    what = event.what
    if isinstance(what, events.PieceStarted) and what.anew:
        anew = find(workshop, event.piece or "")
        return (BEGUN_ANEW,) if anew.piece.veneer_mm else ()
    if isinstance(what, events.BatchMixed):
        return tuple(listener.of_mixing(what))
    if not isinstance(what, events.StepDone) or event.piece is None:
        return ()
    standing = find(workshop, event.piece)
    steps = {step.key: step for step in standing.steps}
    early = too_early(event, workshop.book().work(event.piece), steps)
    of_the_coat = (
        *listener.of_coat(what, event.at, standing.steps),
        *_nothing_taken(workshop, standing, what, event.at),
    )
    # What is odd about the jar is the nearer question about an amount.
    heavy = "" if of_the_coat else _heavy(workshop, standing, event.piece)
    slip = _whose_hands(papers.shop.people, what.by, event.piece)
    return (*filter(None, [early, heavy, slip, _only_mixed(workshop, what)]), *of_the_coat)


def _whose_hands(people: Sequence[str], by: str, ref: str) -> str:
    """Ask about a name that is nearly one of the shop's; anybody else may help out."""
    meant = nearest(by, people, cutoff=0.7) if by and by not in people else None
    if meant is None:
        return ""
    return f"{by} is nobody of the shop; if it was {meant}: log {ref} amend --by {quote(meant)}"


def ready_early(workshop: Workshop, event: Event) -> str:
    """Say that something was found ready before its schedule's earliest; empty where it was not.

    Where a card asks what a dry check found, it says so before.
    """
    what = event.what
    if not isinstance(what, events.DryReady) or event.piece is None:
        return ""
    if isinstance(what, events.WentEarly) or what.going_on or what.told:
        return ""
    standing = find(workshop, event.piece)
    waits = waits_of(standing.piece, standing.steps, workshop.book().work(event.piece))
    laid = waits.get(what.step)
    wait = rest_and_coat(laid) if laid is not None else None
    if laid is None or wait is None or (event.at - laid.at).total_seconds() >= wait.earliest_s:
        return ""
    return (
        f"that is sooner than {span(wait.earliest_s)}, the earliest that its schedule has; where "
        "nobody looked, undo it, and log early with the reason"
    )


def _only_mixed(workshop: Workshop, done: events.StepDone) -> str:
    """Say that what was said to be used is the mix; empty where it is not."""
    if done.mixed_ml is None:
        return ""
    mixed = shown_of(workshop.papers.shop).volume(done.mixed_ml)
    return (
        f"{mixed} is what was to be mixed, so as much is taken to be used of it as was told; were "
        "all of it used, amend it with --used"
    )


def _nothing_taken(
    workshop: Workshop, standing: Standing, done: events.StepDone, at: datetime
) -> Iterator[str]:
    """Say that a coat logged without its jar took nothing, where jars of its kind stand there."""
    step = next((one for one in standing.steps if one.key == done.step), None)
    if done.batch or step is None or step.product is None:
        return
    if why := why_no_jar(workshop, standing, step, at):
        yield f"nothing was taken from the shelf: {why}; was it another jar, amend it with --batch"


def _heavy(workshop: Workshop, standing: Standing, piece: str) -> str:
    """Say that a coat just logged is far heavier than its schedule's; empty where it is not."""
    laid = standing.laid
    if laid is None or laid.done.amount_ml is None:
        return ""
    ratio = cure_room(workshop).share_laid(laid)
    if ratio is None or ratio <= HEAVY_FILM:
        return ""
    used = shown_of(workshop.papers.shop).volume(laid.done.amount_ml)
    return (
        f"{used} for {piece} is a coat {ratio:g} times the schedule's, and dries the longer; where "
        f"only part of it was used, say how much: finishsched log {piece} amend --used '...'"
    )


def with_hands(workshop: Workshop, entry: Entry) -> Entry:
    """Return the entry with whose hands it was: as the shop writes the name, or tells it.

    An amendment names hands only to change them.
    """
    if entry.by or entry.what is not What.AMEND or entry.to:
        return replace(entry, by=workshop.papers.shop.hands_named(entry.by))
    return entry


def take(
    workshop: Workshop, make: Callable[[Book], Made], now: datetime, *, trial: bool = False
) -> Taken:
    """Write what ``make`` makes of the journal as it stands; with ``trial`` only say what.

    Raises:
        RefusedError: as ``make`` does; the journal is as it was.
        JournalFaultError: when it cannot be kept; the journal is as it was.

    """
    made: list[Made] = []

    def build(book: Book) -> tuple[NewEvent, ...]:
        # Read inside the write lock: another process may have logged since we last looked.
        made.append(make(book))
        return made[-1].new

    if trial:
        book = workshop.book()
        written = tuple(
            Event(seq, one.id or random_id(), one.at, now, one.piece, one.what)
            for seq, one in enumerate(build(book), start=book.last_seq + 1)
        )
    else:
        written = workshop.append_all(build, now)
    told = made[-1]
    return Taken(written, told.refs, told.apart, told.kept, trial)


def _made(workshop: Workshop, entry: Entry, book: Book, now: datetime) -> Made:
    if entry.what is What.UNDO and entry.step is None and entry.number is None:
        return _undone(workshop, entry, book, now)
    agreeing = entry.what in _ABOUT_THE_STEP_IN_HAND
    chosen = choose_in(workshop, entry.piece, book, agreeing=agreeing)
    _refuse_other_work(entry, chosen.standings)
    reckoner = reckoner_of(workshop, book, entry.at or now)
    pieces = chosen.standings
    entry, mixed_ml = without_the_mix(entry, reckoner, pieces, entry.at or now)
    charge_ml = reckoner.charge_ml(entry.amount_ml, pieces, entry.at or now)
    ml, g = shares(pieces, entry.amount_ml, charge_ml), shares(pieces, entry.amount_g)
    took = shares(pieces, entry.took_min)
    numbers = numbers_given_with(entry.number, pieces, book)

    def of_one(place: int, standing: Standing) -> Sequence[NewEvent]:
        number = numbers.get(standing.ref, entry.number)
        own = replace(
            entry, piece=standing.ref, number=number, amount_ml=ml[place], amount_g=g[place],
            took_min=took[place],
        )  # fmt: skip
        written = workshop.papers.schedule_of(standing.piece)
        new = new_events(own, standing, written, book, now)
        # The first of several pieces charges the pad, which then serves the others.
        return [
            of_the_jar(one, reckoner, standing, charged=place > 0, mixed_ml=mixed_ml) for one in new
        ]

    new = each_or_none(pieces, of_one)
    refs = tuple(standing.ref for standing in pieces)
    return Made(in_one_go(new), refs, tuple(map(_why_apart, chosen.apart)))


_ABOUT_THE_STEP_IN_HAND = (
    What.DONE, What.GO_ON, What.READY, What.NOT_READY, What.EARLY, What.SKIPPED,
)  # fmt: skip


def _undone(workshop: Workshop, entry: Entry, book: Book, now: datetime) -> Made:
    """Make the undo of what was given last among the pieces named, as it was given."""
    named = find_several(workshop, entry.piece, book, finished=True)
    newest = {s.ref: live[-1] for s in named if (live := book.newest(s.ref, 1))}
    if len(named) > 1 and newest:
        last = max(newest.values(), key=lambda event: event.seq)
        mark = given_mark(last)
        given = [
            s
            for s in named
            if s.ref in newest
            and (newest[s.ref] is last or (mark and given_mark(newest[s.ref]) == mark))
        ]
    else:
        given = list(named)

    def of_one(_: int, standing: Standing) -> Sequence[NewEvent]:
        own = replace(entry, piece=standing.ref)
        return new_events(own, standing, None, book, now)

    new = each_or_none(given, of_one)
    refs = tuple(standing.ref for standing in given)
    kept = tuple(s.ref for s in named if s.ref not in refs)
    return Made(in_one_go(new), refs, kept=kept)


def _refuse_other_work(entry: Entry, chosen: Sequence[Standing]) -> None:
    """Refuse to log different work by one word: whoever means it names the step."""
    if entry.what not in (What.DONE, What.SKIPPED) or entry.step is not None or len(chosen) < 2:
        return
    verbs: dict[str, list[str]] = {}
    for standing in chosen:
        if standing.step is not None:
            verbs.setdefault(standing.step.verb.value, []).append(standing.ref)
    if len(verbs) > 1:
        told = "; ".join(f"{in_words(refs)} at {verb}" for verb, refs in verbs.items())
        raise RefusedError(
            f"these are not at the same work: {told}",
            "name those that are, or one of them and 'together'",
        )


def _why_apart(standing: Standing) -> str:
    step = standing.step
    where = f"at {step.number}, {step.title}" if step else "finished"
    return f"{standing.ref} is apart, {where}"
