"""What a coat takes from its jar where nobody said how much: as due tells it, and marked so."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cache

from finishsched.journal.events import StepDone
from finishsched.journal.progress import Book
from finishsched.journal.shelf import Shelf, Thing, shelf
from finishsched.mixing.account import kept_by_dry_pad
from finishsched.mixing.need import Coat, jar_share
from finishsched.model.product import Product
from finishsched.model.step import Step
from finishsched.model.stock import Batch, same_strength
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.as_told import AsTold, as_told
from finishsched.workshop.standing.pads import key_of
from finishsched.workshop.standing.sheets import Habit, Work, coat_ahead
from finishsched.workshop.standing.sitting import coats_ahead
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.uses import Habits, habits_of


@dataclass(frozen=True, slots=True)
class Reckoner:
    """By what a coat is reckoned of which nobody said how much it took, or out of which jar."""

    shelved: Shelf
    products: Mapping[str, Product]
    habits: Habits
    told: Callable[[], AsTold]
    """What due tells; asked for only where a coat was logged without its jar."""

    def out_of_the_jar(self, done: StepDone, standing: Standing) -> StepDone:
        """Return the entry with the jar that its coat was told to be taken from, if none is named.

        Where due names no jar for it, since none holds it or is good, it is as it was.
        """
        step = _step_of(done, standing)
        if done.batch or step is None or step.product is None:
            return done
        jar = self.told().sheet(standing, step).jar_name
        return replace(done, batch=jar, jar_told=True) if jar else done

    def reckoned(
        self, done: StepDone, standing: Standing, at: datetime, *, charged: bool
    ) -> StepDone:
        """Return the entry with what the coat likely took, where it has a jar and no amount.

        Where nobody says how much it takes, or the jar is not on the shelf, it is as it was. The
        pad is ``charged`` by another piece of the same entry, or as it stands in its box.
        """
        thing = self.shelved.find(done.batch) if done.batch else None
        step = _step_of(done, standing)
        said = done.amount_ml is not None or done.amount_g is not None
        if thing is None or said or step is None:
            return done
        coat = self._coat(standing, step, at, charged=charged)
        if coat is None:
            return done
        if coat.mixture.by_mass:
            return replace(done, amount_g=coat.amount.likely, reckoned=True)
        return replace(done, amount_ml=_from_jar_ml(coat, step, thing), reckoned=True)

    def charge_ml(
        self, used_ml: float | None, pieces: Sequence[Standing], at: datetime, coats: int = 1
    ) -> float:
        """Return what a dry pad kept of an amount for so many coats on each of some pieces.

        What was used beyond what the coats take, up to what a pad holds: it is the first coat's.
        """
        laid = [(piece, step) for piece in pieces for step in _coats_in_hand(piece)[:coats]]
        if used_ml is None or not laid:
            return 0.0
        first = laid[0][1]
        if self.habits.pads.is_charged(first, at):
            return 0.0
        found = (self._coat(piece, step, at, charged=True) for piece, step in laid)
        takes_ml = sum(coat.amount.likely for coat in found if coat and not coat.mixture.by_mass)
        return kept_by_dry_pad(used_ml, takes_ml, first.verb)

    def _coat(self, standing: Standing, step: Step, at: datetime, *, charged: bool) -> Coat | None:
        since_s = self.habits.pads.since_s(at) | ({key_of(step): 0.0} if charged else {})
        piece = standing.piece
        work = Work(standing.steps, step, piece.area_m2, piece.made_of)
        return coat_ahead(work, self.products, Habit(self.habits.own, since_s))


def reckoner_of(workshop: Workshop, book: Book, at: datetime) -> Reckoner:
    """Return what reckons coats that end at ``at``, by ``book`` as it is before them."""
    told = cache(lambda: as_told(workshop, at, book))
    return Reckoner(shelf(book), workshop.papers.products, habits_of(workshop, book), told)


def _step_of(done: StepDone, standing: Standing) -> Step | None:
    return next((one for one in standing.steps if one.key == done.step), None)


def _from_jar_ml(coat: Coat, step: Step, thing: Thing) -> float:
    """Return what of a coat comes out of its jar: as told, where the jar is as strong as told."""
    cut, jar = step.cut_g_per_l, thing.cut_g_per_l if isinstance(thing, Batch) else None
    mixture = coat.mixture
    if isinstance(thing, Batch) and same_strength(
        thing, mixture.cut_g_per_l, mixture.thinned_percent
    ):
        return coat.from_jar.likely
    share = jar_share(cut, jar) if cut and jar and jar > cut else 1.0
    return coat.amount.likely * share


def _coats_in_hand(standing: Standing) -> tuple[Step, ...]:
    """Return the coats that an entry about the step in hand may mean, the first first."""
    return coats_ahead(standing) or ((standing.step,) if standing.step is not None else ())
