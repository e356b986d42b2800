"""The jar that a coat was told to be taken from, for who logs it and names none: as due has it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import NamedTuple

from finishsched.journal.progress import Book
from finishsched.journal.shelf import Shelf
from finishsched.model.step import Step
from finishsched.workshop.amounts.amounts import Amounts, amounts_of
from finishsched.workshop.base.answers import StepSheet
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.pads import key_of
from finishsched.workshop.standing.sheets import step_sheet
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.together import rows_of
from finishsched.workshop.standing.where import standings


class _Coat(NamedTuple):
    """One coat on pieces worked as one, told by what stood there before it."""

    amounts: Amounts
    members: tuple[Standing, ...]
    bare: StepSheet
    """Without amounts."""
    from_jar: StepSheet
    """With what it takes and out of which jar, and not with what is to be mixed."""


@dataclass(slots=True)
class AsTold:
    """What due tells of coats at one instant, and what those of one entry have taken of it."""

    amounts: Amounts
    rows: tuple[tuple[Standing, ...], ...]
    """The pieces as they are worked: those of one row take one coat together."""
    _asked: dict[tuple[str, str], _Coat] = field(default_factory=dict)
    _left_share: dict[str, float] = field(default_factory=dict)
    """How much of each jar is left of what stood in it before those coats."""

    def sheet(self, standing: Standing, step: Step) -> StepSheet:
        """Return what was told of ``step`` on the row of a piece, its jar among it.

        What coats asked about before have taken of a jar is gone from it, and their pad is charged.
        """
        coat = self._coat(standing, step)
        return coat.amounts.told(coat.bare, coat.members)

    def jar_name(self, standing: Standing, step: Step) -> str:
        """Return the jar that was told for the same; empty where none is."""
        return self._coat(standing, step).from_jar.jar_name

    def _coat(self, standing: Standing, step: Step) -> _Coat:
        row = (one for one in self.rows if any(member.ref == standing.ref for member in one))
        members = next(row, (standing,))
        key = members[0].ref, step.key
        if key not in self._asked:
            coat = self._asked[key] = _coat_of(
                self._after_those_asked(), members, standing.steps, step
            )
            told = coat.from_jar
            if told.jar_name:
                before = self._left_share.get(told.jar_name, 1.0)
                self._left_share[told.jar_name] = before * coat.amounts.jars.share_left_by(told)
        return self._asked[key]

    def _after_those_asked(self) -> Amounts:
        """Return what tells amounts once the coats asked about before are laid."""
        amounts = self.amounts
        if not self._asked:
            return amounts
        jars = amounts.jars._replace(shelf=self._less_taken(amounts.jars.shelf))
        charged = {key_of(coat.bare.step): 0.0 for coat in self._asked.values()}
        since_s = amounts.habits.pads.since_s(amounts.now) | charged
        return replace(amounts, jars=jars, known={}, jobs={}, pads={amounts.now: since_s})

    def _less_taken(self, shelf: Shelf) -> Shelf:
        share = self._left_share
        batches = (
            replace(batch, left_ml=batch.left_ml * share.get(batch.name, 1.0))
            for batch in shelf.batches
        )
        lots = (lot.with_left(lot.left * share.get(lot.name, 1.0)) for lot in shelf.lots)
        return shelf._replace(batches=tuple(batches), lots=tuple(lots))


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
    coat = _coat_of(amounts, (standing,), standing.steps, step)
    return amounts.jars.passed_over(coat.from_jar)


def _coat_of(
    amounts: Amounts, members: tuple[Standing, ...], steps: tuple[Step, ...], step: Step
) -> _Coat:
    """Return the coat of ``step`` on some pieces worked as one, out of the jar that is told."""
    papers = amounts.papers
    area_m2 = sum(one.piece.area_m2 for one in members)
    bare = step_sheet(steps, step, area_m2, papers.products, papers.shop)
    return _Coat(amounts, members, bare, amounts.from_jar(bare, members))
