"""What a coat takes, and from which jar, where nobody said it: as due tells, and marked so."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cache

from finishsched.journal.events import StepDone
from finishsched.journal.progress import Book
from finishsched.journal.shelf import Shelf, shelf
from finishsched.mixing.account import TOLD_WITHIN, is_as_told, kept_by_dry_pad
from finishsched.mixing.amount import pad_charge_ml
from finishsched.mixing.let_down import jar_cut, jar_share
from finishsched.mixing.need import Coat
from finishsched.model.step import Step
from finishsched.model.stock import Batch, Thing, same_strength
from finishsched.workshop.amounts.as_told import AsTold, as_told
from finishsched.workshop.amounts.coats import Habit, Work, coat_ahead
from finishsched.workshop.amounts.uses import Habits, habits_of
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.pads import key_of
from finishsched.workshop.standing.sitting import coats_ahead
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.stock.drawing import measured


@dataclass(frozen=True, slots=True)
class Reckoner:
    """By what a coat is reckoned of which nobody said how much it took, or out of which jar."""

    shelved: Shelf
    papers: Papers
    habits: Habits
    told: Callable[[], AsTold]
    """What due tells; asked for only where a coat was logged without its jar or its amount."""

    def settled(
        self,
        done: StepDone,
        standing: Standing,
        at: datetime,
        *,
        charged: bool,
        mixed_ml: float | None = None,
    ) -> StepDone:
        """Return the entry of a step with its jar and what it took of that, as far as it can tell.

        Who names no jar took it from the one that was told; of what nobody said it is reckoned, and
        so it is where what was said is ``mixed_ml``, the mix. The pad is ``charged`` by another
        piece of the same entry, or as it stands in its box.
        """
        step = next((one for one in standing.steps if one.key == done.step), None)
        if step is None or step.product is None:
            return done
        jar = done.batch or self.told().jar_name(standing, step)
        thing = self.shelved.find(jar) if jar else None
        done = replace(done, batch=jar, jar_told=not done.batch and bool(jar), mixed_ml=mixed_ml)
        if done.amount_ml is None and done.amount_g is None and (thing or mixed_ml):
            done = self._reckoned(done, standing, step, at, charged=charged)
        if thing is None:
            return done
        done = measured(done, self.shelved, self.papers.products, self.papers.shop)
        return replace(done, let_down_ml=_let_down_ml(done, step, standing, thing))

    def is_the_mix(
        self, used_ml: float | None, pieces: Sequence[Standing], at: datetime, coats: int = 1
    ) -> bool:
        """Tell whether an amount is the one that was told to be mixed, not the one that is used.

        For so many coats on each of some pieces together; who logs what the coats take, logs that.
        """
        laid = _laid(pieces, coats)
        if used_ml is None or not laid:
            return False
        takes_ml, first = self._take_ml(laid, at), laid[0][1]
        held_ml = 0.0 if self.habits.pads.is_charged(first, at) else pad_charge_ml(first.verb)
        if takes_ml * (1 - TOLD_WITHIN) <= used_ml <= (takes_ml + held_ml) * (1 + TOLD_WITHIN):
            return False
        sheets = (self.told().sheet(piece, _coats_in_hand(piece)[0]) for piece in pieces)
        return any(is_as_told(used_ml, told.makes_ml) for told in sheets if told.makes_ml)

    def charge_ml(
        self, used_ml: float | None, pieces: Sequence[Standing], at: datetime, coats: int = 1
    ) -> float:
        """Return what a dry pad kept of an amount for so many coats on each of some pieces.

        What was used beyond what the coats take, up to what a pad holds: it is the first coat's.
        """
        laid = _laid(pieces, coats)
        if used_ml is None or not laid or self.habits.pads.is_charged(laid[0][1], at):
            return 0.0
        return kept_by_dry_pad(used_ml, self._take_ml(laid, at), laid[0][1].verb)

    def _take_ml(self, laid: Sequence[tuple[Standing, Step]], at: datetime) -> float:
        """Return what some coats take together by a pad that has its charge."""
        found = (self._coat(piece, step, at, charged=True) for piece, step in laid)
        return sum(coat.amount.likely for coat in found if coat and not coat.mixture.by_mass)

    def _reckoned(
        self, done: StepDone, standing: Standing, step: Step, at: datetime, *, charged: bool
    ) -> StepDone:
        """Return the entry with what its coat likely took, where anything tells that."""
        coat = self._coat(standing, step, at, charged=charged)
        if coat is None:
            return done
        if coat.mixture.by_mass:
            return replace(done, amount_g=coat.amount.likely, reckoned=True)
        return replace(done, amount_ml=coat.amount.likely, reckoned=True)

    def _coat(self, standing: Standing, step: Step, at: datetime, *, charged: bool) -> Coat | None:
        since_s = self.habits.pads.since_s(at) | ({key_of(step): 0.0} if charged else {})
        piece = standing.piece
        work = Work(standing.steps, step, piece.area_m2, piece.made_of)
        return coat_ahead(work, self.papers.products, Habit(self.habits.own, since_s))


def reckoner_of(workshop: Workshop, book: Book, at: datetime) -> Reckoner:
    """Return what reckons coats that end at ``at``, by ``book`` as it is before them."""
    told = cache(lambda: as_told(workshop, at, book))
    return Reckoner(shelf(book), workshop.papers, habits_of(workshop, book), told)


def _let_down_ml(done: StepDone, step: Step, standing: Standing, thing: Thing) -> float:
    """Return the alcohol in a coat that was let down from the jar that its step's coats share.

    From any other jar a coat is as strong as the jar.
    """
    if done.amount_ml is None or step.cut_g_per_l is None or not isinstance(thing, Batch):
        return 0.0
    jar_g_per_l = jar_cut(step, standing.steps)
    if not same_strength(thing, jar_g_per_l, step.thinned_percent):
        return 0.0
    return done.amount_ml * (1 - jar_share(step.cut_g_per_l, jar_g_per_l))


def _laid(pieces: Sequence[Standing], coats: int) -> list[tuple[Standing, Step]]:
    """Return each coat that an entry about the step in hand may mean, with its piece."""
    return [(piece, step) for piece in pieces for step in _coats_in_hand(piece)[:coats]]


def _coats_in_hand(standing: Standing) -> tuple[Step, ...]:
    """Return the coats that an entry about the step in hand may mean, the first first."""
    return coats_ahead(standing) or ((standing.step,) if standing.step is not None else ())
