"""What a coat takes from the shelf, and what a person should hear about it; never a refusal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from finishsched.journal.events import BatchMixed, StepDone
from finishsched.journal.shelf import Shelf
from finishsched.mixing.let_down import as_laid
from finishsched.model.product import Product, ProductKind
from finishsched.model.shop import Shop
from finishsched.model.step import Step
from finishsched.model.stock import Batch, Lot, Thing
from finishsched.near import nearest
from finishsched.units import plain_number
from finishsched.workshop.base.mixed_words import mixed_cut_words
from finishsched.workshop.base.shown import cut_words
from finishsched.workshop.stock.mixing_draws import density_g_per_ml
from finishsched.workshop.stock.stock import BatchRow, Judge, LotRow, StockState, same_strength


def measured(done: StepDone, shelf: Shelf, products: Mapping[str, Product], shop: Shop) -> StepDone:
    """Return the entry with what was taken also in the unit that its batch is kept in.

    A bottle weighed before and after says the best what a coat takes, and batches are kept by
    volume. Where no density tells, the entry is as it was, and takes nothing.
    """
    thing = shelf.find(done.batch) if done.batch else None
    if thing is None or (done.amount_g is None) == (done.amount_ml is None):
        return done
    density = density_g_per_ml(thing, products, shop)
    by_weight = isinstance(thing, Lot) and thing.left_g is not None
    if density is None or (done.amount_g if by_weight else done.amount_ml) is not None:
        return done
    if done.amount_g is None:
        return replace(done, amount_g=(done.amount_ml or 0.0) * density)
    return replace(done, amount_ml=done.amount_g / density)


@dataclass(frozen=True, slots=True)
class Listener:
    """What remarks are made by: the shelf after the entry, and the shop."""

    shelf: Shelf
    judge: Judge
    shop: Shop

    def row(self, thing: Thing) -> LotRow | BatchRow:
        """Return a lot or batch as it stands."""
        return self.judge.lot(thing) if isinstance(thing, Lot) else self.judge.batch(thing)

    def of_coat(self, done: StepDone, at: datetime, steps: Sequence[Step]) -> Iterator[str]:
        """Give what a person should know who laid a coat, one of ``steps``, out of a batch."""
        if not done.batch:
            return
        thing = self.shelf.find(done.batch)
        if thing is None:
            yield from self._not_known(done.batch)
            return
        came = thing.bought_at if isinstance(thing, Lot) else thing.mixed_at
        if at < came:
            yield f"{thing.name!r} came to the shelf only later, so nothing is taken from it"
        else:
            yield from self._amount(done, thing)
        if self.row(thing).state is StockState.PAST:
            yield f"{thing.name!r} is past its life: a coat of it may never harden"
        for step in steps:
            if step.key == done.step:
                yield from self._other_than_asked(thing, step, steps)

    def _is_alcohol_of(self, name: str, lots: list[Lot]) -> bool:
        """Tell whether another alcohol was drawn in the place of the one named."""
        kinds = {p.kind for lot in lots if (p := self.judge.products.get(lot.product))}
        product = self.judge.products.get(name)
        return bool(product and product.kind is ProductKind.ALCOHOL and product.kind in kinds)

    def _keeps_such(self, name: str) -> bool:
        """Tell whether the shop logs what it buys of such: who never did is not told of a gap.

        Alcohol is bought by the can, for more than finishing, by many who log their flakes.
        """
        products = self.judge.products
        product = products.get(name)
        kept = {found.kind for lot in self.shelf.lots if (found := products.get(lot.product))}
        if product is not None and product.kind is ProductKind.ALCOHOL:
            return ProductKind.ALCOHOL in kept
        return bool(kept)

    def of_mixing(self, mixed: BatchMixed) -> Iterator[str]:
        """Give what a person should know who mixed a batch."""
        lots = [lot for draw in mixed.draws for lot in self.shelf.lots if lot.name == draw.lot]
        product = self.judge.products.get(mixed.product)
        drawn = {lot.product for lot in lots}
        # Of a mix by a recipe the parts are drawn; else the product itself.
        for name in (part.product for part in mixed.parts) if mixed.parts else (mixed.product,):
            missing = name not in drawn and not self._is_alcohol_of(name, lots)
            if missing and self._keeps_such(name):
                yield f"no lot of {name} is logged, so none was taken for it"
        into = product.thinner if product else None
        thins = mixed.cut_g_per_l is not None or bool(mixed.thinned_percent)
        alone = thins and all(lot.product == mixed.product for lot in lots)
        if alone and self._keeps_such(into or ""):
            yield f"no lot of {into or 'its thinner'} is logged, so none was taken for it"
        for lot in lots:
            row = self.judge.lot(lot)
            if StockState.TEST in row.states:
                yield f"{lot.name!r} is old enough to test: {row.life.test}"

    def _not_known(self, name: str) -> Iterator[str]:
        near = nearest(name, self.shelf.names)
        if near:
            yield f"{name!r} is kept as you wrote it, and is no batch; did you mean {near!r}?"

    def _amount(self, done: StepDone, thing: Thing) -> Iterator[str]:
        by_weight = isinstance(thing, Lot) and thing.left_g is not None
        taken = done.amount_g if by_weight else done.amount_ml
        if taken is not None and thing.short:
            yield (
                f"{thing.name!r} held less than what was taken; count it: "
                f"finishsched stock --left '{thing.name}: ...'"
            )
        elif taken is None and done.amount_g is None and done.amount_ml is None:
            yield f"how much is not said, so nothing is taken from {thing.name!r}; see --used"
        elif taken is None:
            unit = "grams" if by_weight else "millilitres"
            yield f"{thing.name!r} is kept in {unit} and its density is not known: none was taken"

    def _other_than_asked(self, thing: Thing, step: Step, steps: Sequence[Step]) -> Iterator[str]:
        if step.product is not None and thing.product != step.product:
            asked = self.judge.products.get(step.product)
            wanted = asked.title if asked else step.product
            yield f"{thing.name!r} is {self.row(thing).title}, and the step asks for {wanted}"
        elif isinstance(thing, Batch):
            yield from self._other_strength(thing, step, steps)

    def _other_strength(self, batch: Batch, step: Step, steps: Sequence[Step]) -> Iterator[str]:
        if same_strength(batch, step.cut_g_per_l, step.thinned_percent):
            return
        is_let_down = as_laid(step, steps, batch.cut_g_per_l) == step.cut_g_per_l
        if step.cut_g_per_l is not None and is_let_down:
            return
        if step.cut_g_per_l is not None and batch.cut_g_per_l is not None:
            strength = mixed_cut_words(batch.cut_g_per_l, batch.made_ml, self.shop)
            yield (
                f"{batch.name!r} is a {strength}, "
                f"and the step asks for a {cut_words(step.cut_g_per_l, self.shop.units)}"
            )
        else:
            yield (
                f"{batch.name!r} is {plain_number(batch.thinned_percent or 0.0)} % thinned, "
                f"and the step asks for {plain_number(step.thinned_percent or 0.0)} %"
            )
