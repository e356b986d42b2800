"""The jar on the shelf that a coat is taken from: nobody mixes what stands there already."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from itertools import accumulate
from shlex import quote
from typing import NamedTuple

from finishsched.journal.shelf import Shelf
from finishsched.mixing.keeping import life_of
from finishsched.mixing.materials import as_bought_g_per_ml
from finishsched.model.names import in_words
from finishsched.model.product import Product
from finishsched.model.shop import Alcohol
from finishsched.model.stock import Batch, Lot, Thing, is_empty, next_jar, same_strength
from finishsched.numerals import counted
from finishsched.units import CUT, show
from finishsched.workshop.base.answers import StepSheet
from finishsched.workshop.base.shown import Shown

TRY_FIRST = "try a drop on glass first"
AS_TOLD = 0.001
"""Share by which sums of coats may miss what a jar holds."""


class Jars(NamedTuple):
    """The batches and lots on the shelf, as they can be used at ``now``."""

    shelf: Shelf
    products: Mapping[str, Product]
    alcohol: Alcohol
    shown: Shown
    now: datetime

    def named_in(self, sheet: StepSheet) -> StepSheet:
        """Return a sheet with the jar that it is taken from: the oldest that holds this coat.

        So what is left of one jar is used before the next is mixed, as a job's need reckons it.
        What is laid as it is bought comes from a lot in the same way.
        """
        alike = (thing for thing in self._alike(sheet) if self._holds(thing, sheet))
        fits = [thing for thing in alike if not self._why_unfit(thing)]
        if not fits:
            return sheet
        jar = min(fits, key=_came_at)
        words = self._jar_words(jar, _how_far(self._left(jar, sheet), _coats(sheet)))
        return sheet._replace(mix_makes=sheet.taken, jar=words, jar_name=jar.name)

    def after_others(self, sheet: StepSheet, before_ml: float, titles: Sequence[str]) -> StepSheet:
        """Return a sheet that names a jar, with how far it goes once others had ``before_ml``."""
        jar = self.shelf.find(sheet.jar_name)
        if jar is None or not before_ml:
            return sheet
        how_far = _how_far_after(self._left(jar, sheet), before_ml, _coats(sheet), titles)
        return sheet._replace(jar=self._jar_words(jar, how_far)) if how_far else sheet

    def _jar_words(self, jar: Thing, how_far: str) -> str:
        life = life_of(self.products.get(jar.product), mixed=isinstance(jar, Batch))
        is_old = life.test_from_s is not None and self._age_s(jar) >= life.test_from_s
        first = f"; {TRY_FIRST}" if is_old and isinstance(jar, Batch) else ""
        return f"{jar.name}, {self._left_words(jar)} left{how_far}{first}"

    def to_log(self, sheet: StepSheet, mixed_before: int = 0) -> StepSheet:
        """Return a sheet that is to be mixed with the command that logs its jar.

        ``mixed_before`` is how many jars are told to be mixed before it, each with a name.
        """
        step, shown = sheet.step, self.shown
        names = list(self.shelf.names)
        for _ in range(mixed_before):
            names.append(next_jar(names))
        said = [f"stock --mixed {quote(next_jar(names))} --product {step.product}"]
        if step.cut_g_per_l is not None:
            cut_g_per_l = sheet.jar_cut_g_per_l or step.cut_g_per_l
            said.append(f"--cut {quote(show(cut_g_per_l, CUT, shown.units.cut))}")
        elif step.thinned_percent:
            said.append(f"--thinned '{step.thinned_percent:g} %'")
        said.append(f"--makes {quote(sheet.jar_holds)}")
        return sheet._replace(log_mix=" ".join(said))

    def usable(self) -> tuple[Batch, ...]:
        """Return the batches that something can be taken from."""
        # Most jars that there ever were are empty, which is quickly seen.
        held = (one for one in self.shelf.batches if not is_empty(one.left_ml, one.made_ml))
        return tuple(batch for batch in held if not self._why_unfit(batch))

    def share_left_by(self, sheet: StepSheet) -> float:
        """Return how much of the jar that a sheet names is left once its coat is laid."""
        jar = self.shelf.find(sheet.jar_name)
        left = self._left(jar, sheet) if jar is not None else 0.0
        return max(0.0, 1 - _coats(sheet)[0] / left) if left else 1.0

    def passed_over(self, sheet: StepSheet) -> str:
        """Say of the newest jar of what a sheet takes why none was told for it; else empty."""
        alike = self._alike(sheet)
        if not alike:
            return ""
        newest = max(alike, key=_came_at)
        little = f"{newest.name!r} holds {self._left_words(newest)}, which is too little"
        return self._why_unfit(newest) or little

    def _holds(self, thing: Thing, sheet: StepSheet) -> bool:
        return self._left(thing, sheet) >= _coats(sheet)[0] * (1 - AS_TOLD)

    def _left(self, thing: Thing, sheet: StepSheet) -> float:
        """Return what is left of a thing, in the unit in which the coat is told; 0 if unknown."""
        by_mass = sheet.takes is not None and sheet.takes.by_mass
        if isinstance(thing, Batch):
            return 0.0 if by_mass else thing.left_ml
        if by_mass is (thing.left_g is not None):
            return thing.left
        density = as_bought_g_per_ml(thing.product, self.products, self.alcohol)
        if density is None:
            return 0.0
        return thing.left * density if by_mass else thing.left / density

    def _left_words(self, thing: Thing) -> str:
        if isinstance(thing, Batch):
            return self.shown.held(thing.left_ml)
        is_weighed = thing.left_g is not None
        return self.shown.weight(thing.left) if is_weighed else self.shown.held(thing.left)

    def _why_unfit(self, thing: Thing) -> str:
        """Say why nothing is taken from a jar, however little; empty for one that will do."""
        if _came_at(thing) > self.now:
            came = "mixed" if isinstance(thing, Batch) else "bought"
            return f"{thing.name!r} was {came} only later"
        if any(self._age_s(thing) > life_s for life_s in self._lives_s(thing)):
            return f"{thing.name!r} is past its life"
        if isinstance(thing, Lot):
            return f"{thing.name!r} is empty" if is_empty(thing.left, thing.had) else ""
        if thing.tested is not None and not thing.tested.passed:
            return f"{thing.name!r} failed its drop on glass"
        return f"{thing.name!r} is empty" if is_empty(thing.left_ml, thing.made_ml) else ""

    def _lives_s(self, thing: Thing) -> Iterator[float]:
        """Give the ages past which a thing is not used; pot life runs for what is mixed."""
        product = self.products.get(thing.product)
        is_mixed = isinstance(thing, Batch)
        pot_s = product.pot_life_s if product is not None and is_mixed else None
        for life_s in (life_of(product, mixed=is_mixed).over_s, pot_s):
            if life_s is not None:
                yield life_s

    def _alike(self, sheet: StepSheet) -> list[Thing]:
        """Return what stands there of the product and the strength that a sheet takes."""
        step = sheet.step
        if sheet.takes is None:
            return []
        cut = sheet.jar_cut_g_per_l or step.cut_g_per_l
        lots = self.shelf.lots if sheet.as_bought else ()
        return [
            *(lot for lot in lots if lot.product == step.product),
            *(
                batch
                for batch in self.shelf.batches
                if batch.product == step.product
                and same_strength(batch, cut, step.thinned_percent)
                and not sheet.takes.by_mass
            ),
        ]

    def _age_s(self, thing: Thing) -> float:
        return (self.now - _came_at(thing)).total_seconds()


def _came_at(thing: Thing) -> datetime:
    return thing.mixed_at if isinstance(thing, Batch) else thing.bought_at


def _coats(sheet: StepSheet) -> Sequence[float]:
    """Return what the coats ahead take, this one first; of what is weighed, this one alone."""
    if sheet.coats_ml:
        return sheet.coats_ml
    return (sheet.takes.amount.likely,) if sheet.takes is not None else (0.0,)


def _how_far(left: float, coats: Sequence[float]) -> str:
    """Say how many of the coats a jar is enough for, where it is not enough for all."""
    enough = _enough(left, coats)
    if enough >= len(coats):
        return ""
    return f", enough for {max(1, enough)} of {len(coats)} coats"


def _how_far_after(
    left: float, before: float, coats: Sequence[float], titles: Sequence[str]
) -> str:
    """Say the same of what others leave; nothing where it goes as far with them as without."""
    enough = _enough(left - before, coats)
    if enough >= _enough(left, coats):
        return ""
    count = counted(len(coats), "coat")
    share = f"for {enough} of {count}" if enough else f"for none of {count}"
    return f", enough {share} after {in_words(titles)}"


def _enough(left: float, coats: Sequence[float]) -> int:
    """Return for how many of the coats so much is enough."""
    return sum(so_far <= left * (1 + AS_TOLD) for so_far in accumulate(coats))
