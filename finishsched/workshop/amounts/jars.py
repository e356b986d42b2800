"""The jar on the shelf that a coat is taken from: nobody mixes what stands there already."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from itertools import accumulate
from typing import NamedTuple

from finishsched.journal.shelf import Shelf
from finishsched.mixing.keeping import life_of
from finishsched.model.product import Product
from finishsched.model.stock import Batch, is_empty, same_strength
from finishsched.workshop.base.answers import StepSheet
from finishsched.workshop.base.shown import Shown

AS_TOLD = 0.001
"""Share by which sums of coats may miss what a jar holds."""


class Jars(NamedTuple):
    """The batches on the shelf, as they can be used at ``now``."""

    shelf: Shelf
    products: Mapping[str, Product]
    shown: Shown
    now: datetime

    def named_in(self, sheet: StepSheet) -> StepSheet:
        """Return a sheet with the jar that it is taken from: the oldest that holds this coat.

        So what is left of one jar is used before the next is mixed, as a job's need reckons it.
        """
        alike = (batch for batch in self._alike(sheet) if self._holds(batch, sheet))
        fits = [batch for batch in alike if not self._why_unfit(batch)]
        if not fits:
            return sheet
        jar = min(fits, key=lambda batch: batch.mixed_at)
        left = self.shown.held(jar.left_ml)
        test_from_s = life_of(self.products.get(jar.product), mixed=True).test_from_s
        is_old = test_from_s is not None and self._age_s(jar) >= test_from_s
        first = "; try a drop on glass first" if is_old else ""
        jar_words = f"{jar.name}, {left} left{_how_far(jar.left_ml, sheet.coats_ml)}{first}"
        return sheet._replace(mix_makes=sheet.taken, jar=jar_words, jar_name=jar.name)

    def usable(self) -> tuple[Batch, ...]:
        """Return the batches that something can be taken from."""
        return tuple(batch for batch in self.shelf.batches if not self._why_unfit(batch))

    def passed_over(self, sheet: StepSheet) -> str:
        """Say of the newest jar of what a sheet takes why none was told for it; else empty."""
        alike = self._alike(sheet)
        if not alike:
            return ""
        newest = max(alike, key=lambda batch: batch.mixed_at)
        little = f"{newest.name!r} holds {self.shown.held(newest.left_ml)}, which is too little"
        return self._why_unfit(newest) or little

    def _holds(self, batch: Batch, sheet: StepSheet) -> bool:
        return batch.left_ml >= sheet.coats_ml[0] * (1 - AS_TOLD)

    def _why_unfit(self, batch: Batch) -> str:
        """Say why nothing is taken from a jar, however little; empty for one that will do."""
        product = self.products.get(batch.product)
        lives_s = life_of(product, mixed=True).over_s, product.pot_life_s if product else None
        if batch.mixed_at > self.now:
            return f"{batch.name!r} was mixed only later"
        if any(life_s is not None and self._age_s(batch) > life_s for life_s in lives_s):
            return f"{batch.name!r} is past its life"
        if batch.tested is not None and not batch.tested.passed:
            return f"{batch.name!r} failed its drop on glass"
        return f"{batch.name!r} is empty" if is_empty(batch.left_ml, batch.made_ml) else ""

    def _alike(self, sheet: StepSheet) -> list[Batch]:
        """Return the batches of the product and the strength that a sheet takes."""
        step = sheet.step
        if not sheet.coats_ml:
            return []
        cut = sheet.jar_cut_g_per_l or step.cut_g_per_l
        return [
            batch
            for batch in self.shelf.batches
            if batch.product == step.product and same_strength(batch, cut, step.thinned_percent)
        ]

    def _age_s(self, batch: Batch) -> float:
        return (self.now - batch.mixed_at).total_seconds()


def _how_far(left_ml: float, coats_ml: Sequence[float]) -> str:
    """Say how many of the coats a jar is enough for, where it is not enough for all."""
    enough = sum(so_far <= left_ml * (1 + AS_TOLD) for so_far in accumulate(coats_ml))
    if enough >= len(coats_ml):
        return ""
    return f", enough for {max(1, enough)} of {len(coats_ml)} coats"
