"""Sources of vapour out of what the journal tells: every coat, every jar mixed, and when."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import NamedTuple

from finishsched.drying.airing import leaves_in_s
from finishsched.drying.course import Course
from finishsched.journal import events
from finishsched.journal.progress import Book
from finishsched.journal.shelf import Shelf
from finishsched.mixing.amount import used_amount
from finishsched.mixing.cut import mix_for_volume
from finishsched.model.product import Product, ProductKind
from finishsched.model.schedule import Verb
from finishsched.model.solvent import Liquid
from finishsched.model.step import Step
from finishsched.model.stock import Batch
from finishsched.safety.budget import Release
from finishsched.safety.contents import added, is_presumed, parts_of_product, presumed
from finishsched.safety.solvents import Part
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.base.words import one_line
from finishsched.workshop.standing.standing import Standing

LOOKS_BACK = timedelta(hours=48)
"""What was used earlier than this has left the room (our assumption)."""

JAR_LOSS_SHARE = 0.01
JAR_OPEN_S = 600.0
"""A hundredth of the solvent that a jar is mixed with is lost in ten minutes (our assumption)."""

SPIRIT_OFF_ML_PER_M2 = 15.0
LUBRICANT_ML_PER_M2 = 20.0
"""What a spiriting pad lays, and a lubricant that is wet on the work, where nobody wrote an amount
(our assumptions)."""


class Coat(NamedTuple):
    """One coat as far as its vapour goes, logged or still to be laid."""

    step: Step
    area_m2: float
    ref: str
    ends_at: datetime
    amount_ml: float | None = None
    amount_g: float | None = None
    batch: str = ""

    @property
    def measured(self) -> bool:
        """True when somebody said how much was used."""
        return self.amount_ml is not None or self.amount_g is not None


@dataclass(slots=True)
class Sources:
    """Makes sources of coats and jars, and keeps what had to be taken for granted."""

    papers: Papers
    shelf: Shelf
    air: Course
    liquids: set[Liquid] = field(default_factory=set)
    unmeasured: int = 0
    presumed: set[str] = field(default_factory=set)

    def of_coat(self, coat: Coat) -> tuple[Release, ...]:
        """Return what a coat lets go: laid evenly over the work, and drying off after."""
        parts = self._coat_parts(coat)
        if not parts:
            return ()
        if not coat.measured:
            self.unmeasured += 1
        work_s = coat.step.hands_on.minutes(coat.area_m2) * 60
        begins_s = coat.ends_at.timestamp() - work_s
        reading = self.air.at(coat.ends_at.timestamp())
        return tuple(
            Release(
                part.solvent,
                part.grams,
                begins_s,
                work_s,
                leaves_in_s(
                    part.ml,
                    coat.area_m2,
                    part.solvent.rate,
                    reading.temperature_c,
                    reading.movement_m_per_s,
                ),
                one_line(coat.ref),
            )
            for part in parts
        )

    def of_mixing(self, mixed: events.BatchMixed, at: datetime) -> tuple[Release, ...]:
        """Return what was lost while a jar was mixed."""
        batch = Batch(
            mixed.batch,
            mixed.product,
            at,
            mixed.makes_ml,
            mixed.makes_ml,
            mixed.cut_g_per_l,
            mixed.thinned_percent,
            tuple(draw.lot for draw in mixed.draws),
        )
        parts = self._solution(batch.product, batch, batch.made_ml, None, None)
        begins_s = at.timestamp() - JAR_OPEN_S
        what = f"mixing {one_line(mixed.batch)}"
        return tuple(
            Release(part.solvent, part.grams * JAR_LOSS_SHARE, begins_s, JAR_OPEN_S, what=what)
            for part in parts
        )

    def _coat_parts(self, coat: Coat) -> tuple[Part, ...]:
        if coat.area_m2 <= 0:
            return ()
        ml, grams = _amount(coat)
        found: list[Part] = []
        if ml or grams:
            found += self._solution(coat.step.product, self._thing(coat), ml, grams, coat.step)
        lubricant = self.papers.products.get(coat.step.lubricant or "")
        if lubricant is not None:
            found += self._parts(lubricant, LUBRICANT_ML_PER_M2 * coat.area_m2)
        return added(part for part in found if part.grams > 0)

    def _thing(self, coat: Coat) -> Batch | None:
        thing = self.shelf.find(coat.batch) if coat.batch else None
        return thing if isinstance(thing, Batch) else None

    def _solution(
        self,
        name: str | None,
        batch: Batch | None,
        ml: float | None,
        grams: float | None,
        step: Step | None,
    ) -> tuple[Part, ...]:
        """Return what leaves a product as it is applied: dissolved, thinned or plain."""
        product = self.papers.products.get((batch.product if batch else name) or "")
        if product is None:
            return ()
        cut = batch.cut_g_per_l if batch else step.cut_g_per_l if step else None
        thinned = (batch.thinned_percent if batch else step.thinned_percent if step else None) or 0
        if product.kind is ProductKind.FLAKES:
            return self._dissolved(product, batch, cut, ml, grams)
        if not thinned or ml is None:
            return self._parts(product, ml, grams)
        return added(
            (
                *self._parts(product, ml * (1 - thinned / 100)),
                *self._thinner(product, batch, ml * thinned / 100),
            )
        )

    def _dissolved(
        self,
        flakes: Product,
        batch: Batch | None,
        cut_g_per_l: float | None,
        ml: float | None,
        grams: float | None,
    ) -> tuple[Part, ...]:
        if not cut_g_per_l:
            return ()
        alcohol = self.papers.shop.alcohol
        one_litre = mix_for_volume(cut_g_per_l, 1000.0, alcohol)
        if ml is None:
            ml = (grams or 0.0) / one_litre.density_g_per_ml
        return self._thinner(flakes, batch, one_litre.alcohol_ml * ml / 1000)

    def _thinner(self, product: Product, batch: Batch | None, ml: float) -> tuple[Part, ...]:
        """Return what leaves the thinner: the batch's own lot of it, else the product's word."""
        drawn = self._lots_of(batch) if batch else ()
        named = self.papers.products.get(product.thinner or "")
        thinner = next((one for one in drawn if one.id != product.id), named)
        return self._parts(thinner, ml) if thinner is not None else ()

    def _lots_of(self, batch: Batch) -> tuple[Product, ...]:
        held = {lot.name: lot.product for lot in self.shelf.lots}
        names = (held.get(name, "") for name in batch.lots)
        return tuple(self.papers.products[n] for n in names if n in self.papers.products)

    def _parts(
        self, product: Product, ml: float | None, grams: float | None = None
    ) -> tuple[Part, ...]:
        if is_presumed(product):
            self.presumed.add(one_line(product.title))
        self.liquids.update(share.liquid for share in presumed(product).solvents or ())
        methanol = self.papers.shop.alcohol.methanol_percent
        return parts_of_product(product, ml=ml, grams=grams, methanol_percent=methanol)


def _amount(coat: Coat) -> tuple[float | None, float | None]:
    """Return how much a coat uses: as was said, else by the schedule, else as assumed."""
    if coat.measured:
        return (coat.amount_ml, None) if coat.amount_ml is not None else (None, coat.amount_g)
    step = coat.step
    if step.spread is not None and step.spread.ml_per_m2 is not None:
        return used_amount(step.spread.ml_per_m2, coat.area_m2, 1, step.verb), None
    if step.spread is not None and step.spread.g_per_m2 is not None:
        return None, used_amount(step.spread.g_per_m2, coat.area_m2, 1, step.verb)
    if step.verb is Verb.SPIRIT_OFF:
        return SPIRIT_OFF_ML_PER_M2 * coat.area_m2, None
    return None, None


def coats_since(
    standings: Iterable[Standing], book: Book, since: datetime, until: datetime
) -> Iterator[Coat]:
    """Give every step logged done between two instants that may have wetted the work."""
    for standing in standings:
        for event in book.told(standing.ref, events.StepDone):
            what = event.what
            if isinstance(what, events.StepDone) and since <= event.at <= until:
                step = standing.step_of(event, what.step)
                if step is not None:
                    yield coat_of(standing, step, event.at, what)


def coat_of(
    standing: Standing, step: Step, ends_at: datetime, done: events.StepDone | None = None
) -> Coat:
    """Return a step of a piece as a coat that ends at an instant, as logged or as planned."""
    return Coat(
        step=step,
        area_m2=standing.piece.area_m2,
        ref=standing.ref,
        ends_at=ends_at,
        amount_ml=done.amount_ml if done else None,
        amount_g=done.amount_g if done else None,
        batch=done.batch if done else "",
    )


def mixings_since(
    book: Book, since: datetime, until: datetime
) -> Iterator[tuple[datetime, events.BatchMixed]]:
    """Give every jar that was mixed between two instants."""
    for event in book.told_since(None, since, events.BatchMixed):
        if isinstance(event.what, events.BatchMixed) and event.at <= until:
            yield event.at, event.what
