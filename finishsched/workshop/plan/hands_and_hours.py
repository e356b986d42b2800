"""Where and with whose hands a plan is made: the shop, its hours, and what is asked for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta, tzinfo
from types import MappingProxyType

from finishsched.journal import events
from finishsched.journal.progress import Book
from finishsched.model.hours import Away, Extra, Hours, Span
from finishsched.model.product import Product
from finishsched.model.shop import Air, Shop
from finishsched.planning.hours import hours_of, minute_of, windows_of
from finishsched.planning.problem import Hands, Window
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.waits_ahead import WaitsAhead
from finishsched.workshop.standing.where import cure_room

MOST_DAYS = timedelta(days=20 * 366)
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


@dataclass(frozen=True, slots=True)
class Place:
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


def hands_ahead(place: Place, days: int) -> Iterator[Hands]:
    """Give each pair of hands with its windows, from yesterday until so many days ahead."""
    begin, end = place.now_min - 1440, place.now_min + days * 1440
    for name in place.people:
        yield Hands(name, windows_of(place.hours(name), place.zone, begin, end))


def due_minute(due: date, place: Place) -> int:
    """Return the end of the last hours that begin on the day something is due, else of that day.

    Days away and holidays move no due date. A date that is no date anybody meant, centuries away,
    is taken to be twenty years away.
    """
    today = place.now.astimezone(place.zone).date()
    due = min(max(due, today - MOST_DAYS), today + MOST_DAYS)
    begin, end = (
        minute_of(datetime.combine(day, datetime.min.time(), place.zone))
        for day in (due, due + timedelta(days=1))
    )
    ends = [
        window.end_min
        for name in place.people
        for window in _usual_windows(place.hours(name), place.zone, begin, end)
        if begin <= window.start_min < end
    ]
    return min(max(ends, default=end), end)


def _usual_windows(hours: Hours, zone: tzinfo, begin: int, end: int) -> tuple[Window, ...]:
    """Return what there would be with nobody away, whole at both edges of the day."""
    usual = replace(hours, away=(), holidays=())
    return windows_of(usual, zone, begin - 1440, end + 1440)


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
