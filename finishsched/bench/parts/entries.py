"""Handing in: what becomes of an entry is said, and everything follows it."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING

from finishsched.bench import words
from finishsched.bench.asking.desk import Desk, Refusal
from finishsched.bench.asking.logged_here import LoggedHere
from finishsched.bench.host import REMARK_S, Host
from finishsched.bench.parts.choosing import Act, Choosing
from finishsched.journal.events import Event
from finishsched.workshop.base.entries import Entry, What

if TYPE_CHECKING:
    from finishsched.bench.typed.seeing import SurfaceSeen
    from finishsched.model.shop import Air
    from finishsched.workshop.stock.shelf_entries import Mixed


class Entries:
    """Takes entries from the other parts to the desk."""

    def __init__(self, host: Host, desk: Desk, choosing: Choosing) -> None:
        self._host = host
        self._desk = desk
        self._choosing = choosing
        self.logged = LoggedHere()
        """What was logged on this bench, for the key that takes it back."""

    def hand_in(
        self, entry: Entry, said: str, *, can_undo: bool = True, widens: bool = True
    ) -> Refusal | None:
        """Hand in an entry, and say what became of it; ``widens`` as the desk has it."""
        now = self._host.now()
        refusal = self._desk.log(entry, now, widens=widens)
        if refusal is not None:
            self._host.say_refused(refusal)
            return refusal
        for event in self._events():
            self.logged.add(event)
        # Of an undo, what it took back says its own time.
        at = words.wall(entry.at or now, now, self._desk.view.zone)
        when = "" if entry.what is What.UNDO else f" at {at}"
        undo = self._host.key_for("undo")
        tail = f"; {undo} takes it back" if can_undo and undo else ""
        self._taken(f"{words.plain(said)}{when}{tail}")
        return None

    def hand_in_air(self, air: Air) -> Refusal | None:
        """Hand in a reading of the air; return why not, when it was refused."""
        return self._told(self._desk.add_air(air, self._host.now()), "the air")

    def hand_in_batch(self, mixed: Mixed) -> Refusal | None:
        """Hand in a batch that was mixed; return why not, when it was refused."""
        return self._told(self._desk.log_batch(mixed, self._host.now()), words.plain(mixed.name))

    def hand_in_readings(self, seen: SurfaceSeen, said: str) -> Refusal | None:
        """Hand in what was read of a surface; return why not, when it was refused."""
        refusal = self._desk.log_readings(seen, self._host.now())
        if refusal is None:
            for event in self._events():
                self.logged.add(event)
            undo = self._host.key_for("undo")
            tail = f"; {undo} takes it back" if undo and len(seen.readings) == 1 else ""
            self._taken(f"{words.plain(said)}{tail}")
        return refusal

    def written(self, events: object, said: str, *, seconds: float = REMARK_S) -> None:
        """Follow what was written by the shop itself, past the desk."""
        for event in events if isinstance(events, (tuple, list)) else (events,):
            self.logged.add(event)
        self._choosing.pressed(Act.ENTERED)
        self._host.say(said, seconds=seconds)
        self._desk.refresh(self._host.now())
        self._host.take_view()

    def _told(self, refusal: Refusal | None, name: str) -> Refusal | None:
        if refusal is None:
            self._taken(f"logged: {name}")
        return refusal

    def _taken(self, said: str) -> None:
        self._choosing.pressed(Act.ENTERED)
        self._host.say(said)
        self._tell_remarks()
        self._host.take_view()

    def _events(self) -> tuple[Event, ...]:
        from finishsched.workshop.log.log import Taken  # noqa: PLC0415  # after the first look

        last = self._desk.last_entry
        if isinstance(last, Taken):
            return last.events
        if isinstance(last, tuple):
            return tuple(event for event in last if isinstance(event, Event))
        return (last,) if isinstance(last, Event) else ()

    def _tell_remarks(self) -> None:
        """Say what the shop remarks on the entry just taken."""
        from finishsched.workshop.log.log import remarks_on  # noqa: PLC0415  # after the first look

        workshop, now = self._desk.workshop, self._host.now()
        if workshop is None:
            return
        events = self._events()
        heard = self._host.asked(lambda: [remarks_on(workshop, event, now) for event in events])
        for remark in dict.fromkeys(chain.from_iterable(heard or ())):
            self._host.say(words.plain(remark), seconds=REMARK_S, warns=True)
