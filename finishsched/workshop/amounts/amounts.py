"""What the coats ahead take, as every face tells it: by the one account, and out of which jar."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from finishsched.journal.progress import Book
from finishsched.journal.shelf import shelf
from finishsched.mixing.account import charges_a_pad
from finishsched.mixing.learnt_use import MethodKey
from finishsched.mixing.need import Mixture
from finishsched.workshop.amounts.coats import Habit, Work, coats_of_the_jar, keeps_in_a_jar
from finishsched.workshop.amounts.jars import Jars
from finishsched.workshop.amounts.job_coats import (
    CoatsLeft,
    JobCoats,
    job_coats,
    job_of,
    jobs_under_way,
)
from finishsched.workshop.amounts.told_amounts import ForCoats, mixing_reasons, with_amounts
from finishsched.workshop.amounts.uses import Habits, habits_of
from finishsched.workshop.base.answers import StepSheet
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.base.shown import shown_of
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.pads import key_of
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.where import standings


@dataclass(frozen=True, slots=True)
class Amounts:
    """What is needed to tell what a coat takes at ``now``; each kind of coat is worked out once."""

    papers: Papers
    habits: Habits
    jars: Jars
    now: datetime
    found: Sequence[Standing] = ()
    """Every piece of the shop."""
    under_way: frozenset[str] = frozenset()
    """The jobs that take from one jar and one pad."""
    coats_left: CoatsLeft = field(default_factory=CoatsLeft)
    known: dict[tuple[object, ...], tuple[StepSheet, StepSheet]] = field(default_factory=dict)
    """Each sheet that was asked about, and as it was told."""
    pads: dict[datetime, Mapping[MethodKey, float]] = field(default_factory=dict)
    jobs: dict[frozenset[str], JobCoats] = field(default_factory=dict)
    """What is left of all that is under way, and of each job that is not."""

    def told(
        self,
        sheet: StepSheet,
        pieces: Sequence[Standing],
        at: datetime | None = None,
        habit: Habit | None = None,
    ) -> StepSheet:
        """Return the sheet of a step on some pieces at once with what it takes, and the jar for it.

        ``at`` is when it is begun, now where nothing is said; ``habit`` how the pads are then,
        where that is another than as they stand.
        """
        at = max(self.now, at or self.now)
        work = _work(sheet, pieces)
        elsewhere = habit is None and bool(self.charged_with(sheet, pieces, at))
        key = (
            id(sheet), job_of(pieces[0]), work.area_m2, work.species, at, elsewhere, id(habit)
        )  # fmt: skip
        if key not in self.known:
            reckoned_by = habit or self._habit(sheet, at, charged=elsewhere)
            self.known[key] = sheet, self._told(sheet, work, pieces, reckoned_by)
        return self.known[key][1]

    def from_jar(self, sheet: StepSheet, pieces: Sequence[Standing]) -> StepSheet:
        """Return the sheet of a step on some pieces at once with what it takes, and its jar.

        Where no jar is told, what is to be mixed is not reckoned: it is for all that is under way.
        """
        charged = bool(self.charged_with(sheet, pieces, self.now))
        habit = self._habit(sheet, self.now, charged=charged)
        return self._from_jar(sheet, _work(sheet, pieces), habit)

    def reasons(self, sheet: StepSheet, pieces: Sequence[Standing]) -> tuple[str, ...]:
        """Return in words how the amounts of a told sheet came about, and how its pad is."""
        area_m2 = sum(one.piece.area_m2 for one in pieces)
        shown = shown_of(self.papers.shop)
        elsewhere = self.charged_with(sheet, pieces, self.now)
        pad = self.habits.pads.words(sheet.step, self.now, shown, elsewhere)
        return (*mixing_reasons(sheet, area_m2, self.papers.shop), *filter(None, [pad]))

    def charged_with(self, sheet: StepSheet, pieces: Sequence[Standing], at: datetime) -> str:
        """Return the piece whose coat charges the dry pad of a step before this one's; else empty.

        As the need of all jobs under way counts it: one pad serves them all.
        """
        pad, since_s = key_of(sheet.step), self._since_s(at)
        product = self.papers.products.get(sheet.step.product or "")
        is_dry = charges_a_pad(since_s.get(pad), product)
        if not self.habits.pads.holds(sheet.step) or not is_dry:
            return ""
        charging = self._beside(pieces).charges(pad)
        others = charging.isdisjoint(one.ref for one in pieces)
        return min(charging) if charging and others else ""

    def _told(
        self, sheet: StepSheet, work: Work, pieces: Sequence[Standing], habit: Habit
    ) -> StepSheet:
        papers = self.papers
        told = self._from_jar(sheet, work, habit)
        if told.jar_name or not told.coats_ml:
            return told
        first = coats_of_the_jar(work, papers.products, habit)[0]
        if not keeps_in_a_jar(first, papers.products):
            return told
        of_all = self._jar_of_all(pieces, first.mixture, told.coats_ml[0])
        mixed = with_amounts(sheet, work, papers.products, papers.shop, habit, of_all)
        return self.jars.to_log(mixed)

    def _from_jar(self, sheet: StepSheet, work: Work, habit: Habit) -> StepSheet:
        papers = self.papers
        return self.jars.named_in(with_amounts(sheet, work, papers.products, papers.shop, habit))

    def _jar_of_all(
        self, pieces: Sequence[Standing], mixture: Mixture, least_ml: float
    ) -> ForCoats | None:
        """Return the jar that is mixed for all under way, where it holds a coat of ``pieces``."""
        beside = self._beside(pieces)
        planned = beside.jars.get(mixture)
        if planned is None or planned.makes_ml < least_ml:
            return None
        rows = {coat.piece: coat.area_m2 for coat in planned.serves}
        refs = frozenset[str]().union(*(beside.refs[row] for row in rows))
        more = not refs <= {one.ref for one in pieces}
        count = len(refs) if more else 0
        at_once = len(pieces) if more else 1
        return ForCoats(planned.serves, count, sum(rows.values()), planned.jar, at_once)

    def _beside(self, pieces: Sequence[Standing]) -> JobCoats:
        """Return the coats left of all jobs under way; of a job not begun, its own alone."""
        name = job_of(pieces[0])
        names = self.under_way if name in self.under_way else frozenset([name])
        if names not in self.jobs:
            found = [one for one in self.found if job_of(one) in names]
            habit = Habit(self.habits.own, self._since_s(self.now))
            self.jobs[names] = job_coats(
                found, self.papers, habit, self.jars.usable(), self.coats_left, self.now
            )
        return self.jobs[names]

    def _habit(self, sheet: StepSheet, at: datetime, *, charged: bool) -> Habit:
        since_s = self._since_s(at)
        if charged:
            since_s[key_of(sheet.step)] = 0.0
        return Habit(self.habits.own, since_s, charged_elsewhere=charged)

    def _since_s(self, at: datetime) -> dict[MethodKey, float]:
        if at not in self.pads:
            self.pads[at] = self.habits.pads.since_s(at)
        return dict(self.pads[at])


def _work(sheet: StepSheet, pieces: Sequence[Standing]) -> Work:
    """Return the step of a sheet as it is done on some pieces at once."""
    area_m2 = sum(one.piece.area_m2 for one in pieces)
    species = " ".join(dict.fromkeys(one.piece.made_of for one in pieces))
    return Work(pieces[0].steps, sheet.step, area_m2, species)


def amounts_of(workshop: Workshop, now: datetime, book: Book | None = None) -> Amounts:
    """Return what tells the amounts of the shop at ``now``, by its journal or by ``book``."""
    papers, book = workshop.papers, book or workshop.book()
    shop = papers.shop
    jars = Jars(shelf(book), papers.products, shop.alcohol, shown_of(shop), now)
    found = standings(workshop, book)
    under_way = jobs_under_way(found)
    left = workshop.held(CoatsLeft, CoatsLeft)
    return Amounts(papers, habits_of(workshop, book), jars, now, found, under_way, left)
