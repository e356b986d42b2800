"""Dust and wet film kept apart, now: which piece's coat is wet, and whose dust has not settled."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from typing import NamedTuple

from finishsched.model.names import in_words
from finishsched.model.room import Room
from finishsched.model.step import Step
from finishsched.workshop.plan.hands_and_hours import Place
from finishsched.workshop.plan.step_in_shop import dusty, last_dust, room_of
from finishsched.workshop.standing.standing import Standing


class Apart(NamedTuple):
    """What keeps a step from being begun, and until when."""

    why: str
    until: datetime


class _There(NamedTuple):
    ref: str
    room: Room
    until: datetime


class DustAndWet:
    """What is wet and what is dusty at an instant, room by room, by what was logged.

    The same rule and the same times as the plan's: a coat catches dust until it is dry to the
    touch, and dust settles for the room's own time.
    """

    def __init__(self, place: Place, standings: Iterable[Standing]) -> None:
        """Look over what was done last on each piece."""
        self._place = place
        pieces = list(standings)
        self._wet = list(self._wet_coats(pieces))
        self._dust = list(self._dust_about(pieces))

    def holds(self, ref: str, step: Step, at: datetime) -> Apart | None:
        """Return what keeps a step from being begun at ``at``; None for nothing.

        Wet is what lies on other pieces: the piece's own coat has its wait. Dust is its own too.
        """
        room = room_of(self._place.shop, step)
        if not room.apart:
            return None
        if dusty(step):
            others = [wet for wet in self._wet if wet.ref != ref]
            return _worst(room, at, others, "dust would fall on the wet coat of")
        if step.verb.lays_coats:
            return _worst(room, at, self._dust, "dust is settling from")
        return None

    def _wet_coats(self, pieces: Iterable[Standing]) -> Iterator[_There]:
        for standing in pieces:
            laid = standing.laid
            if laid is None or not laid.step.verb.lays_coats:
                continue
            product = self._place.products.get(laid.step.product or "")
            minutes = self._place.waits.dust_free_min(product, self._place.waits.running(laid))
            room = room_of(self._place.shop, laid.step)
            yield _There(standing.ref, room, laid.at + timedelta(minutes=minutes))

    def _dust_about(self, pieces: Iterable[Standing]) -> Iterator[_There]:
        for standing in pieces:
            stirred = last_dust(standing)
            if stirred is not None:
                step, at = stirred
                room = room_of(self._place.shop, step)
                yield _There(standing.ref, room, at + timedelta(seconds=room.settle_s))


def _worst(room: Room, at: datetime, there: Iterable[_There], why: str) -> Apart | None:
    found = [each for each in there if each.room == room and each.until > at]
    if not found:
        return None
    last = max(found, key=lambda each: each.until)
    alike = in_words(each.ref for each in found if each.until == last.until)
    return Apart(f"{why} {alike}", last.until)
