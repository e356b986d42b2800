"""Which cautions are new today: each is said once a day to everybody whom it concerns.

It counts as read by who said so, and by who logged a step done that an entry of their own had
brought in hand the same day: with that entry it was shown to them. What one has read, another has
not.

A caution that was read still holds, and every sheet goes on showing all of its own. Where one is
shown, so is the sentence that the data sheet and local codes come first.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from itertools import pairwise
from typing import NamedTuple

from finishsched.journal import events
from finishsched.journal.events import Event, NewEvent
from finishsched.journal.progress import Book, this_life
from finishsched.model.plain import text_hash
from finishsched.safety.cautions import DEFERRAL, Caution
from finishsched.workshop.base.answers import StepSheet
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.words import one_line
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.several import find_several
from finishsched.workshop.standing.sheets import made_of, step_sheet
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.where import find, standings

HASH_SIGNS = 16
"""As many signs of the hash of a caution's text as tell it from every other."""


class CautionsToday(NamedTuple):
    """The cautions of the step in hand of one piece."""

    ref: str
    new: tuple[Caution, ...]
    """Not read today, the gravest first."""
    read: tuple[Caution, ...]
    """Read today; they still hold."""
    deferral: str = DEFERRAL


def cautions_today(workshop: Workshop, name: str, now: datetime, by: str = "") -> CautionsToday:
    """Return the cautions of the step in hand of a piece, those not read today apart.

    While a wait runs they are those of the step after it.

    Raises:
        RefusedError: for a piece that there is not.

    """
    standing = find(workshop, name)
    return _split(standing, read_today(workshop, now, by))


def all_cautions_today(
    workshop: Workshop, now: datetime, by: str = ""
) -> tuple[CautionsToday, ...]:
    """Return the same for every piece that has a step in hand."""
    read = read_today(workshop, now, by)
    return tuple(_split(one, read) for one in standings(workshop) if _sheet_ahead(one))


def read_today(workshop: Workshop, now: datetime, by: str = "") -> frozenset[str]:
    """Return the hashes of the cautions that were read on the local day of ``now``.

    By ``by``; where nobody is named, by everybody of the shop, so that nothing is held back from
    one because another has read it.
    """
    people = (by,) if by else workshop.papers.shop.people or ("",)
    return frozenset.intersection(*(_read_by(workshop, now, name) for name in people))


A_LOCAL_DAY = timedelta(hours=26)
"""No two instants of one local day lie further apart: a day has 25 hours where clocks go back."""


def _read_by(workshop: Workshop, now: datetime, name: str) -> frozenset[str]:
    book = workshop.book()
    today = now.astimezone(workshop.zone).date()

    def is_theirs(event: Event) -> bool:
        if abs(event.at - now) > A_LOCAL_DAY:
            return False  # most entries of a journal, told without asking the time zone
        if getattr(event.what, "told", False):
            return False  # told afterwards: nothing was shown before it was done
        is_today = event.at.astimezone(workshop.zone).date() == today
        return is_today and getattr(event.what, "by", "") == name

    found: set[str] = set()
    for event in book.told_since(None, now - A_LOCAL_DAY, events.CautionsRead):
        if isinstance(event.what, events.CautionsRead) and is_theirs(event):
            found.update(event.what.texts)
    for standing in standings(workshop, book):
        entries = tuple(this_life(book.told(standing.ref, *_SHOWS_NEXT)))
        done = [
            event.what.step
            for before, event in pairwise(entries)
            if isinstance(event.what, events.StepDone) and is_theirs(before) and is_theirs(event)
        ]
        found.update(_of_steps(workshop, standing, done))
    return frozenset(found)


_SHOWS_NEXT = (
    events.PieceStarted, events.StepDone, events.DryNotYet, events.DryReady, events.WentEarly,
)  # fmt: skip
"""Entries after which every face shows what the next step needs."""


def cautions_of(
    workshop: Workshop, pieces: str, now: datetime, by: str = ""
) -> tuple[CautionsToday, ...]:
    """Return the same for the pieces that a name of several stands for.

    Raises:
        RefusedError: for a name that stands for nothing.

    """
    read = read_today(workshop, now, by)
    return tuple(_split(one, read) for one in find_several(workshop, pieces))


def cautions_read(
    workshop: Workshop, cautions: Sequence[Caution], now: datetime, *, by: str = ""
) -> Event:
    """Log that ``cautions`` were read, so that they are not said again today.

    Raises:
        RefusedError: when there are none.

    """
    texts = tuple(dict.fromkeys(caution_hash(caution) for caution in cautions))
    if not texts:
        raise RefusedError("no caution is new today", "nothing was changed")
    entry = events.CautionsRead(texts, workshop.papers.shop.hands_named(one_line(by)))
    return workshop.append(lambda _: NewEvent(now, None, entry), now)


def cautions_unread(workshop: Workshop, now: datetime, *, by: str = "") -> Event:
    """Take back the newest entry that cautions were read.

    Raises:
        RefusedError: when there is none.

    """

    def build(book: Book) -> NewEvent:
        entries = book.told(None, events.CautionsRead)
        if not entries:
            raise RefusedError("no entry about cautions to undo", "nothing was changed")
        return NewEvent(now, None, events.Undone(entries[-1].id, one_line(by)))

    return workshop.append(build, now)


def caution_hash(caution: Caution) -> str:
    """Return by what a caution is known in the journal."""
    return text_hash(caution.text)[:HASH_SIGNS]


def _sheet_ahead(standing: Standing) -> StepSheet | None:
    waiting = standing.progress is not None and standing.progress.waiting
    return standing.next_sheet if waiting else standing.sheet


def _split(standing: Standing, read: frozenset[str]) -> CautionsToday:
    sheet = _sheet_ahead(standing)
    cautions = sheet.cautions if sheet else ()
    return CautionsToday(
        ref=standing.ref,
        new=tuple(one for one in cautions if caution_hash(one) not in read),
        read=tuple(one for one in cautions if caution_hash(one) in read),
    )


def _of_steps(workshop: Workshop, standing: Standing, keys: Sequence[str]) -> Iterator[str]:
    """Give the hashes of the cautions of some steps, each kind of step worked out once."""
    papers, piece = workshop.papers, standing.piece
    wanted = set(keys)
    seen: set[tuple[object, ...]] = set()
    for step in standing.steps:
        kind = (step.verb, step.product, step.lubricant, step.thinned_percent, step.cautions)
        if step.key not in wanted or (kind in seen and step.verb.lays_coats):
            continue
        seen.add(kind)
        sheet = step_sheet(
            standing.steps, step, piece.area_m2, papers.products, papers.shop, made_of(piece)
        )
        yield from (caution_hash(caution) for caution in sheet.cautions)
