"""A sitting told afterwards: so many coats on each of several pieces, round and round."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from finishsched.journal import events
from finishsched.journal.events import NewEvent
from finishsched.journal.progress import Book
from finishsched.workshop.base.entries import AHEAD, TOLD_AFTERWARDS, Entry, RefusedError
from finishsched.workshop.base.wall_clock import in_typed_minute
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import Taken, take, with_hands
from finishsched.workshop.log.making import Made, each_or_none, of_the_jar, without_the_mix
from finishsched.workshop.standing.amend_entries import IN_ORDER
from finishsched.workshop.standing.one_go import in_one_go
from finishsched.workshop.standing.several import choose_in
from finishsched.workshop.standing.sitting import (
    Rhythm,
    go_on_events,
    next_coats,
    shares,
    wet_below,
)
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.stock.reckoned import reckoner_of

LONGEST_EVERY_S = 4 * 3600.0
"""Coats further apart than this are no sitting, and each has a dry check of its own."""


@dataclass(frozen=True, slots=True)
class Sat:
    """What a person tells of a sitting that is over: how many coats, and its times."""

    coats: int
    """On each piece."""
    every_s: float | None = None
    """From one coat on a piece to the next on the same piece."""
    began_at: datetime | None = None
    """When the first coat was laid."""


def log_sitting(
    workshop: Workshop, entry: Entry, sat: Sat, now: datetime, *, trial: bool = False
) -> Taken:
    """Take a whole sitting on the pieces that ``entry.piece`` names, or nothing of it.

    The coats went round: the first on every piece in the order named, then the second, evenly
    spread. ``entry.at`` is when the last was laid, now where it is not said. An amount is for all
    of them together. Their times are told as reckoned, and teach nothing about how it dries.

    Raises:
        RefusedError: when so many coats cannot follow one another on a piece, or the times cannot
            be; the journal is as it was.
        JournalFaultError: when it cannot be kept; the journal is as it was.

    """
    entry = with_hands(workshop, entry)
    if not entry.what.lays or entry.step is not None:
        raise RefusedError(
            "--coats tells a sitting, from the coat in hand on", "write PIECES done --coats N"
        )
    return take(workshop, lambda book: _made(workshop, entry, sat, book, now), now, trial=trial)


def _made(workshop: Workshop, entry: Entry, sat: Sat, book: Book, now: datetime) -> Made:
    """Return what a sitting writes: for each coat on each piece its start and its end.

    Args:
        workshop: the shop.
        entry: what was told: the pieces, and what all of it took together.
        sat: how many coats, and how far apart.
        book: the journal up to now.
        now: the instant.

    """
    chosen = choose_in(workshop, entry.piece, book, agreeing=True)
    pieces = chosen.standings
    rhythm = rhythm_of(sat, entry.at or now, len(pieces))
    if rhythm.last_at > now + AHEAD:
        raise RefusedError("an entry from the time to come", "correct --at, --from or --every")
    began_at = rhythm.at(0, 0, len(pieces))
    reckoner = reckoner_of(workshop, book, began_at)
    entry, mixed_ml = without_the_mix(entry, reckoner, pieces, began_at, sat.coats)
    charge_ml = reckoner.charge_ml(entry.amount_ml, pieces, began_at, sat.coats)
    left_ml = None if entry.amount_ml is None else entry.amount_ml - charge_ml
    ml = shares(pieces, left_ml)
    g = shares(pieces, entry.amount_g)
    took = shares(pieces, entry.took_min)

    def of_one(place: int, standing: Standing) -> Sequence[NewEvent]:
        """Return what it writes of one of the pieces, by its place among them."""
        own = replace(entry, amount_ml=ml[place], amount_g=g[place], took_min=took[place])
        times = [rhythm.at(turn, place, len(pieces)) for turn in range(sat.coats)]
        first_at = _after_the_last(standing, book, times[0])
        times = [max(first_at, at) for at in times]
        # The first coat on the first piece charges the pad, which then serves all the others.
        coats = _coats(own, standing, times, 0.0 if place else charge_ml)
        found: list[NewEvent] = []
        for turn, coat in enumerate(coats):
            is_charged = bool(place or turn)
            mine = of_the_jar(coat, reckoner, standing, charged=is_charged, mixed_ml=mixed_ml)
            found.append(mine)
        return found

    new = each_or_none(pieces, of_one)
    in_turn = sorted(new, key=lambda one: one.at)
    refs = tuple(standing.ref for standing in pieces)
    apart = tuple(f"{standing.ref} is apart" for standing in chosen.apart)
    return Made(in_one_go(in_turn), refs, apart)


def rhythm_of(sat: Sat, last_at: datetime, pieces: int) -> Rhythm:
    """Return when the coats of a sitting on so many ``pieces`` were laid.

    Raises:
        RefusedError: when neither a rhythm nor a beginning is told, or the two cannot be.

    """
    if not 1 <= sat.coats <= 99:
        raise RefusedError(f"{sat.coats} coats are no sitting", "write from 1 to 99")
    rounds = sat.coats - 1 + (pieces - 1) / pieces
    every_s = sat.every_s
    if sat.began_at is not None:
        lasted_s = (last_at - sat.began_at).total_seconds()
        if every_s is not None:
            last_at = sat.began_at + timedelta(seconds=rounds * every_s)
        elif lasted_s < 0:
            raise RefusedError("the sitting ends before it begins", "correct --from or --at")
        else:
            every_s = lasted_s / rounds if rounds else 0.0
    if every_s is None and rounds:
        raise RefusedError(
            "nobody says how far apart the coats were", "give --every '6 min', or --from TIME"
        )
    if every_s is not None and not 0 <= every_s <= LONGEST_EVERY_S:
        raise RefusedError("coats so far apart are no sitting", "log each with its own dry check")
    return Rhythm(sat.coats, last_at, every_s or 0.0)


def _coats(
    entry: Entry, standing: Standing, times: Sequence[datetime], charge_ml: float
) -> list[NewEvent]:
    wet = wet_below(standing)
    steps = next_coats(standing, len(times))
    new: list[NewEvent] = []
    for step, at in zip(steps, times, strict=True):
        laid_ml = None if entry.amount_ml is None else entry.amount_ml / len(times)
        coat = events.StepDone(
            step=step.key,
            by=entry.by,
            batch=entry.batch,
            amount_ml=laid_ml if laid_ml is None or new else laid_ml + charge_ml,
            took_min=None if entry.took_min is None else entry.took_min / len(times),
            amount_g=None if entry.amount_g is None else entry.amount_g / len(times),
            air=entry.air if at == times[-1] else None,
            note=(at == times[-1] and entry.text) or TOLD_AFTERWARDS,
            told=True,
        )
        new.extend(go_on_events(standing, coat, at, wet=wet))
        wet = step
    return new


def _after_the_last(standing: Standing, book: Book, first_at: datetime) -> datetime:
    """Return when the first coat was laid; refuse what came before the step before it."""
    last = max((event.at for event in book.told(standing.ref, *IN_ORDER)), default=None)
    first_at = in_typed_minute(first_at, last)
    if last and first_at < last:
        raise RefusedError(
            "its first coat would have been before the step before it was logged",
            "tell a shorter --every, fewer --coats, or when it began with --from",
        )
    return first_at
