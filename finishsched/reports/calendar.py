"""The plan as a calendar file (RFC 5545), for the phone: what to do, and an alarm when it is ready.

``calendar_text`` is the door; ``blocks_of`` and ``waits_of`` make what it takes. Each block of
hands-on work is an event; where a wait follows, its likely end is another, or the next hours in
which somebody can look. Of work on one piece that follows on within half an hour only the first has
an alarm: whoever is at it needs no phone to go on. They stay events of their own, since one for all
would change its name with every coat that is logged, and leave doubles on the phone. An event's
identifier depends on the shop, the piece and the step alone, so that a later file moves
the events of an earlier one and makes none twice. What an earlier file had and the plan has no more
is sent once again as cancelled, as long as it lies ahead.

All times are in UTC, so that the file needs no description of a time zone.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from uuid import NAMESPACE_URL, uuid5

from icalendar import Alarm, Calendar, Event

from finishsched.planning.hours import instant_of
from finishsched.refusals import RefusalError
from finishsched.workshop.base.answers import DueAnswer
from finishsched.workshop.base.spans import today
from finishsched.workshop.base.words import one_line
from finishsched.workshop.plan.answers import PlanAnswer, PlannedStep
from finishsched.workshop.plan.step_in_shop import activity_key

PRODUCT = "-//finishsched//plan//EN"
NAMESPACE = uuid5(NAMESPACE_URL, "finishsched:calendar")
LOOK = timedelta(minutes=5)
"""How long a calendar shows that something is ready to be looked at."""


RUN = timedelta(minutes=30)
"""Work on one piece that goes on within so long is one run (our assumption)."""


class NotOurCalendarError(RefusalError, ValueError):
    """A file that this module did not write."""


class EmptyCalendarError(RefusalError, ValueError):
    """A calendar with nothing in it, which RFC 5545 (3.6) does not allow."""


@dataclass(frozen=True, slots=True)
class CalendarBlock:
    """One block of hands-on work, and the wait after it; aware times."""

    uid_parts: tuple[str, ...]
    """What names it for good within the shop, such as its piece and step."""
    title: str
    start: datetime | None
    """None where the work is done and only its wait runs on."""
    end: datetime | None
    ready_at: datetime | None = None
    """When its wait is likely over; None where none follows."""
    look_at: datetime | None = None
    """When somebody is there to look, where that is later."""
    since: str = ""
    """Since when it will be ready then, in words of the shop's own time."""
    rings: bool = True
    """False where it goes on with what the same hands have just done on the piece."""
    ready_rings: bool = True
    """False where the next work on the piece begins at once."""
    place: str = ""
    notes: str = ""


def blocks_of(plan: PlanAnswer) -> tuple[CalendarBlock, ...]:
    """Return the hands-on blocks of a plan; of a rest, which takes no hands, only its end."""
    several = len(plan.people) > 1
    goes_on, leads_on = _runs(plan)
    hours = _Hours(plan)
    return tuple(
        hours.seen_by_somebody(
            CalendarBlock(
                uid_parts=(step.key,),
                title=f"{step.title}: {step.step.title}"
                + (f" ({step.person})" if several and step.person else ""),
                start=step.start if _hands_on(step) else None,
                end=step.end if _hands_on(step) else None,
                ready_at=step.ready_likely if step.ready_likely > step.end else None,
                notes=step.step.how,
                rings=step.key not in goes_on,
                ready_rings=step.key not in leads_on,
            )
        )
        for step in plan.steps
    )


def _hands_on(step: PlannedStep) -> bool:
    return bool(step.person) and step.end > step.start


def _runs(plan: PlanAnswer) -> tuple[set[str], set[str]]:
    """Return which work goes on with what was just done on its piece, and what it goes on with."""
    goes_on: set[str] = set()
    leads_on: set[str] = set()
    last: dict[str, PlannedStep] = {}
    for step in plan.steps:
        before = last.get(step.ref)
        if before is not None and _hands_on(step) and step.start - before.end <= RUN:
            leads_on.add(before.key)
            if _hands_on(before) and before.person == step.person:
                goes_on.add(step.key)
        last[step.ref] = step
    return goes_on, leads_on


class _Hours:
    """When anybody is in the shop, by the plan's hours."""

    def __init__(self, plan: PlanAnswer) -> None:
        self._zone = plan.zone
        windows = sorted(window for hands in plan.problem.hands for window in hands.windows)
        self._windows = [(instant_of(w.start_min), instant_of(w.end_min)) for w in windows]

    def seen_by_somebody(self, block: CalendarBlock) -> CalendarBlock:
        """Return the block with when somebody can look, where its wait ends outside all hours."""
        ready = block.ready_at
        if ready is None or not block.ready_rings:
            return block
        there = next((max(start, ready) for start, end in self._windows if end > ready), ready)
        if there <= ready:
            return block
        local = ready.astimezone(self._zone)
        since = f"Likely ready since {today(ready, self._zone)} {local:%H:%M}."
        return replace(block, look_at=there, since=since)


def waits_of(due: DueAnswer, plan: PlanAnswer) -> tuple[CalendarBlock, ...]:
    """Return the waits that run, each as a block whose work is done; ``plan`` has the hours."""
    hours = _Hours(plan)
    return tuple(
        hours.seen_by_somebody(
            CalendarBlock(
                uid_parts=(activity_key(piece.ref, piece.step),),
                title=f"{piece.title}: {piece.step.title}",
                start=None,
                end=None,
                ready_at=piece.clock.likely_at,
            )
        )
        for piece in due.clocks
        if piece.step is not None and piece.clock is not None and piece.clock.likely_at > due.now
    )


def calendar_text(
    shop_name: str, blocks: Iterable[CalendarBlock], now: datetime, earlier: bytes = b""
) -> bytes:
    """Return the calendar file of a shop's plan.

    Args:
        shop_name: names the calendar, and is part of every identifier.
        blocks: what is planned.
        now: the time of writing; of two files with one event, the later holds.
        earlier: the file that this one is to take the place of, if there is one.

    Raises:
        NotOurCalendarError: when ``earlier`` is not a file of this shop.
        EmptyCalendarError: when there is nothing to write.

    """
    calendar = _empty(shop_name)
    for block in blocks:
        for event in _events(shop_name, block):
            calendar.add_component(_dated(event, now))
    there = {str(event["UID"]) for event in calendar.events}
    for event in _gone(shop_name, earlier, there, now):
        calendar.add_component(_dated(event, now))
    if not calendar.events:
        raise EmptyCalendarError("nothing is planned and no wait runs")
    return bytes(calendar.to_ical())


def _empty(shop_name: str) -> Calendar:
    calendar = Calendar()
    calendar.add("PRODID", PRODUCT)
    calendar.add("VERSION", "2.0")
    calendar.add("NAME", _text(shop_name))
    return calendar


def _events(shop_name: str, block: CalendarBlock) -> Iterator[Event]:
    """Yield the work, and when it is ready."""
    title = _text(block.title)
    if block.start is not None and block.end is not None:
        yield _work(shop_name, block, title, block.start, block.end)
    if block.ready_at is not None:
        yield _ready(shop_name, block, title, block.ready_at)


def _work(
    shop_name: str, block: CalendarBlock, title: str, start: datetime, end: datetime
) -> Event:
    work = _event(_uid(shop_name, "work", block), title, start, end)
    if block.place:
        work.add("LOCATION", _text(block.place))
    if block.notes:
        work.add("DESCRIPTION", _notes(block.notes))
    if block.rings:
        work.add_component(_alarm(f"Begin: {title}"))
    return work


def _ready(shop_name: str, block: CalendarBlock, title: str, ready_at: datetime) -> Event:
    title = f"Ready to check: {title}"
    at = block.look_at or ready_at
    ready = _event(_uid(shop_name, "ready", block), title, at, at + LOOK)
    ready.add("TRANSP", "TRANSPARENT")
    notes = [block.since, "A dry check ends the wait, not the clock."]
    ready.add("DESCRIPTION", "\n".join(filter(None, notes)))
    if block.ready_rings:
        ready.add_component(_alarm(title))
    return ready


def _event(uid: str, title: str, start: datetime, end: datetime) -> Event:
    event = Event()
    event.add("UID", uid)
    event.add("SUMMARY", title)
    event.add("DTSTART", _utc(start))
    event.add("DTEND", _utc(end))
    event.add("STATUS", "CONFIRMED")
    return event


def _alarm(words: str) -> Alarm:
    alarm = Alarm()
    alarm.add("ACTION", "DISPLAY")
    alarm.add("DESCRIPTION", words)
    alarm.add("TRIGGER", timedelta(0))
    return alarm


def _dated(event: Event, now: datetime) -> Event:
    """Return the event with its revision: minutes since 1970, which only grow."""
    event.add("DTSTAMP", _utc(now))
    event.add("LAST-MODIFIED", _utc(now))
    event.add("SEQUENCE", int(now.timestamp()) // 60)
    return event


def _gone(shop_name: str, earlier: bytes, there: set[str], now: datetime) -> Iterator[Event]:
    """Yield what an earlier file had ahead and the plan has no more, cancelled."""
    if not earlier.strip():
        return
    for uid, title, start, end in _ahead(_read(earlier, shop_name), now):
        if uid not in there:
            gone = _event(uid, title, start, end)
            gone["STATUS"] = "CANCELLED"
            yield gone


def _ahead(calendar: Calendar, now: datetime) -> Iterator[tuple[str, str, datetime, datetime]]:
    """Give what is still to come; an event that a hand has spoilt is none of ours any more."""
    for event in calendar.events:
        try:
            uid, title, start, end = event["UID"], event["SUMMARY"], event.start, event.end
        except (KeyError, ValueError):
            continue
        if not isinstance(start, datetime) or not isinstance(end, datetime):
            continue
        if start.tzinfo is not None and end.tzinfo is not None and start >= now:
            yield str(uid), str(title), start, end


def _read(earlier: bytes, shop_name: str) -> Calendar:
    try:
        calendar = Calendar.from_ical(earlier)
        ours = (str(calendar.get("PRODID")), str(calendar.get("NAME")))
    except (ValueError, KeyError, IndexError, AttributeError) as error:
        raise NotOurCalendarError("no calendar") from error
    if ours != (PRODUCT, _text(shop_name)):
        raise NotOurCalendarError(f"not a calendar of {one_line(shop_name)}'s plan")
    return calendar


def _uid(shop_name: str, what: str, block: CalendarBlock) -> str:
    return str(uuid5(NAMESPACE, "\n".join((one_line(shop_name), what, *block.uid_parts))))


def _utc(time: datetime) -> datetime:
    return time.astimezone(UTC).replace(microsecond=0)


def _text(text: str) -> str:
    """Return one line as a calendar's text can hold it.

    The library takes a backslash before a large N for a line end, so a space parts the two.
    """
    return one_line(text).replace("\\N", "\\ N")


def _notes(text: str) -> str:
    """Return lines without signs that a calendar's text must not hold."""
    return "\n".join(filter(None, map(_text, text.splitlines())))
