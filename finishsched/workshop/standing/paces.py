"""How long the waits take here: what each kind of wait has taught, and entries that overrule it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from finishsched.drying.dry_checks import Group, WaitKind
from finishsched.drying.learning import Learnt
from finishsched.journal.events import Event, NewEvent, PaceSet, Undone
from finishsched.journal.progress import Book
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.words import one_line
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.own_pace import Own, own_paces, pace_entries
from finishsched.workshop.standing.where import cure_room

LEAST_FACTOR, MOST_FACTOR = 0.1, 10.0
"""A pace outside this range is taken to be a slip of the pen."""


@dataclass(frozen=True, slots=True)
class PaceRow:
    """One kind of wait and what is known of its pace here."""

    group: Group
    title: str
    """Of the product."""
    learnt: Learnt
    own: Own | None
    """What a person has set about it."""


def paces(workshop: Workshop) -> tuple[PaceRow, ...]:
    """Return every kind of wait that a dry check speaks of, or that a person has set."""
    return tuple(_row(workshop, group) for group in cure_room(workshop).groups())


def pace_of(workshop: Workshop, product: str, waits: str) -> PaceRow:
    """Return one kind of wait; ``waits`` is its short name.

    Raises:
        RefusedError: for a product or a kind of wait that there is not.

    """
    return _row(workshop, _group(workshop, product, waits))


def set_pace(workshop: Workshop, entry: PaceSet, now: datetime) -> Event:
    """Log that a pace is overruled, forgotten, or left to what is learnt.

    ``entry.waits`` may be the short name of a kind of wait.

    Raises:
        RefusedError: when it cannot be true, or would change nothing.
        JournalFaultError: when it cannot be kept; the journal is as it was.

    """
    group = _group(workshop, entry.product, entry.waits)
    factor = entry.factor
    if factor is not None and not LEAST_FACTOR <= factor <= MOST_FACTOR:
        raise RefusedError(
            f"{factor:g} times the book",
            f"give a factor from {LEAST_FACTOR:g} to {MOST_FACTOR:g}, such as 1.3",
        )
    what = PaceSet(group.product, group.kind.value, factor, entry.forget, one_line(entry.by))

    def build(book: Book) -> NewEvent:
        own = own_paces(book).get(group)
        if factor is None and not entry.forget and (own is None or own.factor is None):
            raise RefusedError(
                f"{group.product} {group.kind.short} goes by what is learnt",
                "there is nothing to drop",
            )
        return NewEvent(now, None, what)

    return workshop.append(build, now)


def undo_pace(workshop: Workshop, now: datetime) -> PaceSet:
    """Take back the last entry about a pace, and return what it was.

    Raises:
        RefusedError: when there is none.
        JournalFaultError: when it cannot be kept; the journal is as it was.

    """
    found: list[PaceSet] = []

    def build(book: Book) -> NewEvent:
        entries = list(pace_entries(book))
        if not entries:
            raise RefusedError("no pace was set", "there is nothing to take back")
        event, what = entries[-1]
        found.append(what)
        return NewEvent(now, None, Undone(event.id))

    workshop.append(build, now)
    return found[-1]


def _row(workshop: Workshop, group: Group) -> PaceRow:
    product = workshop.papers.products.get(group.product)
    learnt = cure_room(workshop).learnt(group)
    assert learnt is not None  # noqa: S101  # every group has its learning, be it the prior
    return PaceRow(
        group,
        product.title if product else group.product,
        learnt,
        own_paces(workshop.book()).get(group),
    )


def _group(workshop: Workshop, product: str, waits: str) -> Group:
    kinds = {kind.short: kind for kind in WaitKind} | {kind.value: kind for kind in WaitKind}
    kind = kinds.get(waits.strip().lower())
    if kind is None:
        names = ", ".join(kind.short for kind in WaitKind)
        raise RefusedError(f"no kind of wait {waits!r}", f"write one of {names}")
    known = {group.product for group in cure_room(workshop).groups()}
    if product not in known and product not in workshop.papers.products:
        raise RefusedError(f"no product {product!r}", "see the first column of finishsched pace")
    return Group(product, kind)
