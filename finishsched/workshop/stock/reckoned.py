"""What a coat takes from its jar where nobody said how much: as due tells it, and marked so."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from finishsched.journal.events import StepDone
from finishsched.journal.shelf import Shelf
from finishsched.mixing.account import kept_by_dry_pad
from finishsched.mixing.need import Coat, jar_share
from finishsched.model.product import Product
from finishsched.model.step import Step
from finishsched.model.stock import Batch
from finishsched.workshop.standing.pads import key_of
from finishsched.workshop.standing.sheets import Habit, Work, coat_ahead
from finishsched.workshop.standing.sitting import coats_ahead
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.uses import Habits


@dataclass(frozen=True, slots=True)
class Reckoner:
    """By what a coat is reckoned of which nobody said how much it took."""

    shelved: Shelf
    products: Mapping[str, Product]
    habits: Habits

    def reckoned(
        self, done: StepDone, standing: Standing, at: datetime, *, charged: bool
    ) -> StepDone:
        """Return the entry with what the coat likely took, where its jar is named and no amount.

        Where nobody says how much it takes, or the jar is not on the shelf, it is as it was. The
        pad is ``charged`` by another piece of the same entry, or as it stands in its box.
        """
        thing = self.shelved.find(done.batch) if done.batch else None
        step = next((one for one in standing.steps if one.key == done.step), None)
        said = done.amount_ml is not None or done.amount_g is not None
        if thing is None or said or step is None:
            return done
        coat = self._coat(standing, step, at, charged=charged)
        if coat is None:
            return done
        if coat.mixture.by_mass:
            return replace(done, amount_g=coat.amount.likely, reckoned=True)
        cut, jar = step.cut_g_per_l, thing.cut_g_per_l if isinstance(thing, Batch) else None
        share = jar_share(cut, jar) if cut and jar and jar > cut else 1.0
        return replace(done, amount_ml=coat.amount.likely * share, reckoned=True)

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


def _coats_in_hand(standing: Standing) -> tuple[Step, ...]:
    """Return the coats that an entry about the step in hand may mean, the first first."""
    return coats_ahead(standing) or ((standing.step,) if standing.step is not None else ())
