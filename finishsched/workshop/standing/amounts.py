"""What the coats ahead take, as every face tells it: by the one account, and out of which jar."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from finishsched.journal.progress import Book
from finishsched.journal.shelf import shelf
from finishsched.mixing.learnt_use import MethodKey
from finishsched.workshop.base.answers import StepSheet
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.base.shown import shown_of
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.jars import Jars
from finishsched.workshop.standing.sheets import Habit, Work, mixing_reasons, with_amounts
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.uses import Habits, habits_of


@dataclass(frozen=True, slots=True)
class Amounts:
    """What is needed to tell what a coat takes at ``now``; each kind of coat is worked out once."""

    papers: Papers
    habits: Habits
    jars: Jars
    now: datetime
    known: dict[tuple[object, ...], tuple[StepSheet, StepSheet]] = field(default_factory=dict)
    """Each sheet that was asked about, and as it was told."""
    pads: dict[datetime, Mapping[MethodKey, float]] = field(default_factory=dict)

    def told(
        self,
        sheet: StepSheet,
        pieces: Sequence[Standing],
        at: datetime | None = None,
    ) -> StepSheet:
        """Return the sheet of a step on some pieces at once with what it takes, and the jar for it.

        ``at`` is when it is begun, now where nothing is said.
        """
        at = max(self.now, at or self.now)
        area_m2 = sum(one.piece.area_m2 for one in pieces)
        species = " ".join(dict.fromkeys(one.piece.made_of for one in pieces))
        key = (id(sheet), area_m2, species, at)
        if key not in self.known:
            work = Work(pieces[0].steps, sheet.step, area_m2, species)
            papers = self.papers
            told = with_amounts(sheet, work, papers.products, papers.shop, self._habit(at))
            self.known[key] = sheet, self.jars.named_in(told)
        return self.known[key][1]

    def reasons(self, sheet: StepSheet, pieces: Sequence[Standing]) -> tuple[str, ...]:
        """Return in words how the amounts of a told sheet came about, and how its pad is."""
        area_m2 = sum(one.piece.area_m2 for one in pieces)
        shown = shown_of(self.papers.shop)
        pad = self.habits.pads.words(sheet.step, self.now, shown)
        return (*mixing_reasons(sheet, area_m2, self.papers.shop), *filter(None, [pad]))

    def _habit(self, at: datetime) -> Habit:
        if at not in self.pads:
            self.pads[at] = self.habits.pads.since_s(at)
        return Habit(self.habits.own, self.pads[at])


def amounts_of(workshop: Workshop, now: datetime, book: Book | None = None) -> Amounts:
    """Return what tells the amounts of the shop at ``now``, by its journal or by ``book``."""
    papers, book = workshop.papers, book or workshop.book()
    jars = Jars(shelf(book), papers.products, shown_of(papers.shop), now)
    return Amounts(papers, habits_of(workshop, book), jars, now)
