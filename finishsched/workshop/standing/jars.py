"""The jar on the shelf that a coat is taken from: nobody mixes what stands there already."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from itertools import accumulate
from typing import NamedTuple

from finishsched.journal.shelf import Shelf
from finishsched.mixing.keeping import life_of
from finishsched.model.product import Product
from finishsched.model.shop import ShownUnits
from finishsched.model.stock import Batch, same_strength
from finishsched.units import VOLUME, show
from finishsched.workshop.base.answers import StepSheet

AS_TOLD = 0.001
"""Share by which sums of coats may miss what a jar holds."""


class Jars(NamedTuple):
    """The batches on the shelf, as they can be used at ``now``."""

    shelf: Shelf
    products: Mapping[str, Product]
    units: ShownUnits
    now: datetime

    def named_in(self, sheet: StepSheet) -> StepSheet:
        """Return a sheet with the jar that it is taken from: the oldest that holds this coat.

        So what is left of one jar is used before the next is mixed, as a job's need reckons it.
        """
        fits = [batch for batch in self.shelf.batches if self._fits(batch, sheet)]
        if not fits:
            return sheet
        jar = min(fits, key=lambda batch: batch.mixed_at)
        left = show(jar.left_ml, VOLUME, self.units.volume, digits=2)
        test_from_s = life_of(self.products.get(jar.product), mixed=True).test_from_s
        is_old = test_from_s is not None and self._age_s(jar) >= test_from_s
        first = "; try a drop on glass first" if is_old else ""
        jar_words = f"{jar.name}, {left} left{_how_far(jar.left_ml, sheet.coats_ml)}{first}"
        return sheet._replace(mix_makes=sheet.taken, jar=jar_words)

    def _fits(self, batch: Batch, sheet: StepSheet) -> bool:
        step = sheet.step
        if not sheet.coats_ml or batch.product != step.product:
            return False
        if batch.left_ml < sheet.coats_ml[0] * (1 - AS_TOLD):
            return False
        cut = sheet.jar_cut_g_per_l or step.cut_g_per_l
        if not same_strength(batch, cut, step.thinned_percent):
            return False
        over_s = life_of(self.products.get(batch.product), mixed=True).over_s
        return over_s is None or self._age_s(batch) <= over_s

    def _age_s(self, batch: Batch) -> float:
        return (self.now - batch.mixed_at).total_seconds()


def _how_far(left_ml: float, coats_ml: Sequence[float]) -> str:
    """Say how many of the coats a jar is enough for, where it is not enough for all."""
    enough = sum(so_far <= left_ml * (1 + AS_TOLD) for so_far in accumulate(coats_ml))
    if enough >= len(coats_ml):
        return ""
    return f", enough for {max(1, enough)} of {len(coats_ml)} coats"
