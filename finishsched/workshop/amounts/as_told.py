"""The jar that a coat was told to be taken from, for who logs it and names none: as due has it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import datetime

from finishsched.journal.progress import Book
from finishsched.journal.shelf import Shelf
from finishsched.model.step import Step
from finishsched.model.stock import Batch
from finishsched.workshop.amounts.amounts import Amounts, amounts_of
from finishsched.workshop.base.answers import StepSheet
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.pads import key_of
from finishsched.workshop.standing.sheets import step_sheet
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.together import rows_of
from finishsched.workshop.standing.where import standings


@dataclass(slots=True)
class AsTold:
    """What due tells of coats at one instant, and what those of one entry have taken of it."""

    amounts: Amounts
    rows: tuple[tuple[Standing, ...], ...]
    """The pieces as they are worked: those of one row take one coat together."""
    _told: dict[tuple[str, str], StepSheet] = field(default_factory=dict)
    _taken_ml: dict[str, float] = field(default_factory=dict)

    def sheet(self, standing: Standing, step: Step) -> StepSheet:
        """Return what was told of ``step`` on the row of a piece, its jar among it.

        What coats asked about before have taken of a jar is gone from it, and their pad is charged.
        """
        row = (one for one in self.rows if any(member.ref == standing.ref for member in one))
        members = next(row, (standing,))
        key = members[0].ref, step.key
        if key not in self._told:
            told = self._told[key] = self._of(members, standing.steps, step)
            if told.jar_name:
                gone_ml = self._taken_ml.get(told.jar_name, 0.0) + told.coats_ml[0]
                self._taken_ml[told.jar_name] = gone_ml
        return self._told[key]

    def _of(self, members: tuple[Standing, ...], steps: tuple[Step, ...], step: Step) -> StepSheet:
        amounts = self.amounts
        if self._told:
            jars = amounts.jars._replace(shelf=self._less_taken(amounts.jars.shelf))
            charged = {key_of(told.step): 0.0 for told in self._told.values()}
            since_s = amounts.habits.pads.since_s(amounts.now) | charged
            amounts = replace(amounts, jars=jars, known={}, jobs={}, pads={amounts.now: since_s})
        return _told(amounts, members, steps, step)

    def _less_taken(self, shelf: Shelf) -> Shelf:
        def left(batch: Batch) -> Batch:
            gone_ml = self._taken_ml.get(batch.name, 0.0)
            return replace(batch, left_ml=max(0.0, batch.left_ml - gone_ml))

        return shelf._replace(batches=tuple(map(left, shelf.batches)))


def as_told(workshop: Workshop, at: datetime, book: Book | None = None) -> AsTold:
    """Return what due tells at ``at``, of the pieces in the rows that they stand in."""
    book = book or workshop.book()
    known = {standing.ref: standing for standing in standings(workshop, book)}
    rows = rows_of(tuple(known.values()), book, at)
    members = tuple(tuple(known[ref] for ref in row.refs) for row in rows)
    return AsTold(amounts_of(workshop, at, book), members)


def why_no_jar(workshop: Workshop, standing: Standing, step: Step, at: datetime) -> str:
    """Say why no jar is told for a coat of a piece, where one of its kind stands there."""
    amounts = amounts_of(workshop, at)
    told = _told(amounts, (standing,), standing.steps, step)
    return amounts.jars.passed_over(told)


def _told(
    amounts: Amounts, members: tuple[Standing, ...], steps: tuple[Step, ...], step: Step
) -> StepSheet:
    """Return the sheet of ``step`` on some pieces worked as one, with its amounts and its jar."""
    papers = amounts.papers
    area_m2 = sum(one.piece.area_m2 for one in members)
    bare = step_sheet(steps, step, area_m2, papers.products, papers.shop)
    return amounts.told(bare, members)
