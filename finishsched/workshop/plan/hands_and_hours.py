"""Where and with whose hands a plan is made: the shop, its hours, and what is asked for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime, tzinfo
from types import MappingProxyType
from typing import NamedTuple

from finishsched.journal import events
from finishsched.journal.progress import Book
from finishsched.model.hours import Away, Extra, Hours, Span
from finishsched.model.product import Product
from finishsched.model.schedule import Verb
from finishsched.model.shop import Air, Shop
from finishsched.planning.hours import hours_of, minute_of
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.waits_ahead import WaitsAhead
from finishsched.workshop.standing.where import cure_room

NOBODY = "you"
"""The hands of a shop that names no people."""


@dataclass(frozen=True, slots=True)
class WhatIf:
    """What is asked without touching anything."""

    pieces: tuple[tuple[str, str, float], ...] = ()
    """More pieces: what to call them, the id of the schedule, and the area in square metres."""
    due: Mapping[str, date] = field(default_factory=lambda: MappingProxyType({}))
    schedules: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    drop: frozenset[str] = frozenset()
    extras: tuple[Extra, ...] = ()
    away: tuple[Away, ...] = ()
    air: Air | None = None
    by: date | None = None
    """All that is not due sooner is due then."""


NOTHING_ELSE = WhatIf()


def able(shop: Shop, names: Iterable[str], verb: Verb) -> tuple[str, ...]:
    """Return which of some people can do a kind of work; who names no skills can do all of them.

    Args:
        shop: says who has which skills.
        names: the people.
        verb: the kind of work.

    """
    skills = {person.name: person.skills for person in shop.persons}
    found: list[str] = []
    for name in names:
        own = skills.get(name)
        if not own or verb in own:
            found.append(name)
    return tuple(found)


class Place(NamedTuple):
    """All that a problem is made in, besides the pieces."""

    shop: Shop
    zone: tzinfo
    products: Mapping[str, Product]
    waits: WaitsAhead
    now: datetime
    extras: tuple[Extra, ...] = ()
    away: tuple[Away, ...] = ()

    @property
    def now_min(self) -> int:
        """The first whole minute that is not past."""
        return minute_of(self.now, up=True)

    @property
    def people(self) -> tuple[str, ...]:
        """Whose hands there are."""
        return tuple(dict.fromkeys(self.shop.people)) or (NOBODY,)

    def hours(self, name: str) -> Hours:
        """Return the hours of one of them, with what is asked for or logged."""
        found = hours_of(self.shop, name)
        return replace(
            found,
            extras=(*found.extras, *(e for e in self.extras if e.who in ("", name))),
            away=(*found.away, *(a for a in self.away if a.who in ("", name))),
        )


def place_of(workshop: Workshop, now: datetime, what_if: WhatIf = NOTHING_ELSE) -> Place:
    """Return what the shop's problem is made in."""
    return Place(
        shop=workshop.papers.shop,
        zone=workshop.zone,
        products=workshop.papers.products,
        waits=WaitsAhead(cure_room(workshop), now, what_if.air),
        now=now,
        extras=what_if.extras,
        away=(*what_if.away, *logged_away(workshop.book())),
    )


def logged_away(book: Book) -> Iterator[Away]:
    """Give the days away that were logged."""
    for event in book.told(None, events.HandsAway):
        what = event.what
        if isinstance(what, events.HandsAway):
            span = None
            if what.opens_min is not None and what.closes_min is not None:
                span = Span(what.opens_min, what.closes_min)
            yield Away(what.first, what.last, what.who, span)
