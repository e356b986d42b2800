"""What entries are made with: refusals all at once, amounts by the jar."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from finishsched.journal import events
from finishsched.journal.events import NewEvent
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.several import of_each
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.stock.drawing import measured
from finishsched.workshop.stock.reckoned import Reckoner


@dataclass(frozen=True, slots=True)
class Made:
    """Entries to be written, and what is told of them."""

    new: tuple[NewEvent, ...]
    refs: tuple[str, ...]
    apart: tuple[str, ...] = ()
    kept: tuple[str, ...] = ()


def of_the_jar(
    workshop: Workshop, new: NewEvent, reckoner: Reckoner, standing: Standing, *, charged: bool
) -> NewEvent:
    """Return a coat's entry with its jar and what it took, also in the unit of the jar.

    Who names no jar took it from the one that was told. The pad is ``charged`` where another piece
    of the same entry did that.
    """
    if not isinstance(new.what, events.StepDone):
        return new
    done = reckoner.out_of_the_jar(new.what, standing)
    if not done.batch:
        return new
    papers = workshop.papers
    done = reckoner.reckoned(done, standing, new.at, charged=charged)
    what = measured(done, reckoner.shelved, papers.products, papers.shop)
    return replace(new, what=what)


def each_or_none(
    standings_: Sequence[Standing], make: Callable[[int, Standing], Sequence[NewEvent]]
) -> tuple[NewEvent, ...]:
    """Return what ``make`` makes of every piece and its place, or every refusal at once."""
    places = {standing.ref: place for place, standing in enumerate(standings_)}
    made = of_each(standings_, lambda standing: make(places[standing.ref], standing))
    return tuple(chain.from_iterable(made))
