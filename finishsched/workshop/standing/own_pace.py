"""What a person has set about what dry checks teach: overruled, or forgotten."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime
from typing import NamedTuple

from finishsched.drying.dry_checks import Check, Group, WaitKind
from finishsched.journal.events import Event, PaceSet
from finishsched.journal.progress import Book


class Own(NamedTuple):
    """What a person has set about the learning of one kind of wait."""

    factor: float | None = None
    since: datetime | None = None
    """Checks before it do not count."""


def own_paces(book: Book) -> dict[Group, Own]:
    """Return what was set, by kind of wait; a kind of wait that nobody knows is passed over."""
    found: dict[Group, Own] = {}
    for event, what in pace_entries(book):
        try:
            group = Group(what.product, WaitKind(what.waits))
        except ValueError:
            continue
        found[group] = _changed(found.get(group, Own()), what, event.at)
    return {group: own for group, own in found.items() if own != Own()}


def pace_entries(book: Book) -> Iterator[tuple[Event, PaceSet]]:
    """Give the live entries about paces, in the order of writing."""
    for event in book.told(None, PaceSet):
        if isinstance(event.what, PaceSet):
            yield event, event.what


def counted(checks: Iterable[Check], own: Mapping[Group, Own]) -> tuple[Check, ...]:
    """Return the checks that count: of a kind of wait that was reset, those made since."""
    return tuple(check for check in checks if _counts(check, own.get(check.group)))


def _counts(check: Check, own: Own | None) -> bool:
    if own is None or own.since is None:
        return True
    return check.at is not None and check.at >= own.since


def _changed(own: Own, what: PaceSet, at: datetime) -> Own:
    if what.forget:
        return Own(since=at)
    return own._replace(factor=what.factor)
