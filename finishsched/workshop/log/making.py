"""What entries are made with: marks in common, refusals all at once, amounts by the jar."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from finishsched.journal import events
from finishsched.journal.events import NewEvent, random_id
from finishsched.workshop.base.entries import RefusedError, SeveralRefusedError
from finishsched.workshop.base.workshop import Workshop
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


def in_one_go(new: Sequence[NewEvent]) -> tuple[NewEvent, ...]:
    """Return entries with a mark in common, where there are several."""
    if len(new) < 2:
        return tuple(new)
    mark = random_id()
    return tuple(_marked(one, mark) for one in new)


def of_the_jar(
    workshop: Workshop, new: NewEvent, reckoner: Reckoner, standing: Standing, *, charged: bool
) -> NewEvent:
    """Return a coat's entry with what it took, also in the unit that its jar is kept in.

    The pad is ``charged`` where another piece of the same entry did that.
    """
    if not (isinstance(new.what, events.StepDone) and new.what.batch):
        return new
    papers = workshop.papers
    done = reckoner.reckoned(new.what, standing, new.at, charged=charged)
    what = measured(done, reckoner.shelved, papers.products, papers.shop)
    return replace(new, what=what)


def each_or_none(
    standings_: Sequence[Standing], make: Callable[[int, Standing], Sequence[NewEvent]]
) -> tuple[NewEvent, ...]:
    """Return what ``make`` makes of every piece and its place, or every refusal at once."""
    new: list[NewEvent] = []
    refusals: list[tuple[str, RefusedError]] = []
    for place, standing in enumerate(standings_):
        try:
            new += make(place, standing)
        except RefusedError as error:
            refusals.append((standing.ref, error))
    if refusals:
        raise refusals[0][1] if len(standings_) == 1 else SeveralRefusedError(refusals)
    return tuple(new)


def _marked(new: NewEvent, mark: str) -> NewEvent:
    if not any(field.name == "given" for field in dataclasses.fields(new.what)):
        return new
    what: Any = new.what
    return replace(new, what=replace(what, given=mark))
