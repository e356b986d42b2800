"""What entries are made with: refusals all at once, amounts by the jar."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from itertools import chain

from finishsched.journal import events
from finishsched.journal.events import NewEvent
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.standing.several import of_each
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.stock.reckoned import Reckoner


@dataclass(frozen=True, slots=True)
class Made:
    """Entries to be written, and what is told of them."""

    new: tuple[NewEvent, ...]
    refs: tuple[str, ...]
    apart: tuple[str, ...] = ()
    kept: tuple[str, ...] = ()


def of_the_jar(
    new: NewEvent,
    reckoner: Reckoner,
    standing: Standing,
    *,
    charged: bool,
    mixed_ml: float | None = None,
) -> NewEvent:
    """Return a coat's entry with its jar and what it took, as ``Reckoner.settled`` has them."""
    if not isinstance(new.what, events.StepDone):
        return new
    what = reckoner.settled(new.what, standing, new.at, charged=charged, mixed_ml=mixed_ml)
    return replace(new, what=what)


def without_the_mix(
    entry: Entry, reckoner: Reckoner, pieces: Sequence[Standing], at: datetime, coats: int = 1
) -> tuple[Entry, float | None]:
    """Return an entry without its amount, and that, where it is the mix that was told.

    Nobody has said then how much of it was used.
    """
    done = entry.what in (What.DONE, What.GO_ON)
    if not done or not reckoner.is_the_mix(entry.amount_ml, pieces, at, coats):
        return entry, None
    return replace(entry, amount_ml=None), entry.amount_ml


def each_or_none(
    standings_: Sequence[Standing], make: Callable[[int, Standing], Sequence[NewEvent]]
) -> tuple[NewEvent, ...]:
    """Return what ``make`` makes of every piece and its place, or every refusal at once."""
    places = {standing.ref: place for place, standing in enumerate(standings_)}
    made = of_each(standings_, lambda standing: make(places[standing.ref], standing))
    return tuple(chain.from_iterable(made))
