"""What a piece cost: hours by kind of work, material at the shop's prices, and a quote for another.

Minutes are those that somebody logged with a step; a step without them counts as its schedule says,
and is told apart. Material is what was logged as used, else what the schedule says. A quote scales
both by area: what a step takes whatever its size stays as it is.
"""

from __future__ import annotations

import statistics
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from finishsched.journal.events import StepDone
from finishsched.mixing.amount import used_amount
from finishsched.mixing.into_jar import is_mixed, parts_of
from finishsched.mixing.need import Mixture
from finishsched.mixing.supply import bought_for, thinner_of
from finishsched.model.ranges import Range
from finishsched.model.schedule import StageName
from finishsched.model.shop import Price
from finishsched.model.step import Step
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.papers.prices import unit_price
from finishsched.workshop.standing.several import find_several
from finishsched.workshop.standing.standing import Standing

UNKNOWN_HANDS = Range(0.7, 1.0, 1.6)
"""Hours over those of a schedule, where too few steps were timed to know (our assumption)."""
TIMED_ENOUGH = 5
"""So many timed steps tell something of a shop's own hands (our assumption)."""


@dataclass(frozen=True, slots=True)
class Spent:
    """The hours of one kind of work."""

    stage: StageName
    minutes: float
    logged_min: float
    """Of these, what somebody timed."""


@dataclass(frozen=True, slots=True)
class Used:
    """One product as bought, as much as went into the coats done."""

    product: str
    title: str
    by_mass: bool
    amount: float
    """In g or ml."""
    cost: float | None
    """None where the shop lists no pack of it with a price."""


@dataclass(frozen=True, slots=True)
class Cost:
    """What one piece, or several together, have cost so far."""

    refs: tuple[str, ...]
    area_m2: float
    finished: bool
    spent: tuple[Spent, ...]
    used: tuple[Used, ...]
    hour: Price | None
    currency: str
    hands: Range
    """Hours as timed over hours as scheduled."""
    fixed_min: float
    """Of the minutes of the schedule, what does not grow with the area."""
    scheduled_min: float
    whole_material: float
    """What the priced material of all steps costs, those left by their schedule."""

    @property
    def minutes(self) -> float:
        """All hands-on minutes."""
        return sum(one.minutes for one in self.spent)

    @property
    def hands_known(self) -> bool:
        """True where enough steps were timed to say how this shop's hours go."""
        return self.hands != UNKNOWN_HANDS

    @property
    def material(self) -> float:
        """What the material with a price cost."""
        return sum(one.cost or 0.0 for one in self.used)

    @property
    def unpriced(self) -> tuple[str, ...]:
        """What has no price."""
        return tuple(one.title for one in self.used if one.cost is None)

    @property
    def in_all(self) -> float | None:
        """Hands and material together; None where an hour has no price."""
        if self.hour is None:
            return None
        return self.hour.amount * self.minutes / 60 + self.material


@dataclass(frozen=True, slots=True)
class Quote:
    """What a like piece would take and cost, with its range."""

    area_m2: float
    hours: Range
    material: Range
    in_all: Range | None
    """None where an hour has no price."""


MATERIAL_SPREAD = Range(0.8, 1.0, 1.4)
"""Material of the next piece over that of this one, by area (our assumption)."""


def cost_of(workshop: Workshop, name: str) -> Cost:
    """Return what the pieces that ``name`` means have cost, together.

    Raises:
        RefusedError: for what names no piece, or none that was begun.

    """
    found = [s for s in find_several(workshop, name, finished=True) if s.progress is not None]
    if not found:
        raise RefusedError(f"nothing of {name!r} is begun", "log 'start' first")
    done = [(s, step, what) for s in found for step, what in _done(s)]
    shop = workshop.papers.shop
    used = tuple(_used(workshop, done))
    told = {(s.ref, step.key): what for s, step, what in done}
    whole = [(s, step, told.get((s.ref, step.key))) for s in found for step in s.steps]
    priced = next((pack.price for pack in shop.packs if pack.price), None) or shop.hour
    every = [(s, step) for s in found for step in s.steps]
    return Cost(
        refs=tuple(standing.ref for standing in found),
        area_m2=sum(standing.piece.area_m2 for standing in found),
        finished=all(s.progress is not None and s.progress.finished for s in found),
        spent=tuple(_spent(done)),
        used=used,
        hour=shop.hour,
        currency=priced.currency if priced else "",
        hands=_hands(done),
        fixed_min=sum(step.hands_on.fixed_min for _, step in every),
        scheduled_min=sum(step.hands_on.minutes(s.piece.area_m2) for s, step in every),
        whole_material=sum(one.cost or 0.0 for one in _used(workshop, whole)),
    )


def quote_for(cost: Cost, area_m2: float) -> Quote:
    """Return what a like piece of ``area_m2`` (above zero) would take, from the first step on."""
    grown = (cost.scheduled_min - cost.fixed_min) * area_m2 / cost.area_m2
    hours = cost.hands.times((cost.fixed_min / len(cost.refs) + grown) / 60)
    material = MATERIAL_SPREAD.times(cost.whole_material * area_m2 / cost.area_m2)
    in_all = hours.times(cost.hour.amount) + material if cost.hour else None
    return Quote(area_m2, hours, material, in_all)


def _done(standing: Standing) -> Iterator[tuple[Step, StepDone]]:
    for step, event in standing.progress.done if standing.progress else ():
        if isinstance(event.what, StepDone):
            yield step, event.what


def _spent(done: Iterable[tuple[Standing, Step, StepDone]]) -> Iterator[Spent]:
    minutes: dict[StageName, float] = defaultdict(float)
    logged: dict[StageName, float] = defaultdict(float)
    for standing, step, what in done:
        taken = what.took_min
        logged[step.stage] += taken or 0.0
        minutes[step.stage] += (
            step.hands_on.minutes(standing.piece.area_m2) if taken is None else taken
        )
    for stage in StageName:
        if minutes[stage]:
            yield Spent(stage, minutes[stage], logged[stage])


def _hands(done: Iterable[tuple[Standing, Step, StepDone]]) -> Range:
    """Return how this shop's hours go beside the schedule's, from the steps that were timed."""
    ratios = [
        what.took_min / planned
        for standing, step, what in done
        if what.took_min is not None
        and (planned := step.hands_on.minutes(standing.piece.area_m2)) > 0
    ]
    if len(ratios) < TIMED_ENOUGH:
        return UNKNOWN_HANDS
    likely, spread = statistics.fmean(ratios), statistics.stdev(ratios)
    return Range(max(0.3 * likely, likely - spread), likely, likely + spread)


def _used(
    workshop: Workshop, done: Iterable[tuple[Standing, Step, StepDone | None]]
) -> Iterator[Used]:
    amounts: dict[tuple[str, bool], float] = defaultdict(float)
    for standing, step, what in done:
        for product, by_mass, amount in _materials(workshop, standing, step, what):
            amounts[product, by_mass] += amount
    papers = workshop.papers
    for (product, by_mass), amount in amounts.items():
        if amount > 0:
            found = papers.products.get(product)
            price = unit_price(product, papers, by_mass=by_mass)
            cost = None if price is None else price * amount
            yield Used(product, found.title if found else product, by_mass, amount, cost)


def _materials(
    workshop: Workshop, standing: Standing, step: Step, what: StepDone | None
) -> Iterator[tuple[str, bool, float]]:
    """Give what goes into a step: each product as bought, whether by mass, and how much.

    As it was logged, or as the schedule has it.
    """
    if step.product is None:
        return
    products, alcohol = workshop.papers.products, workshop.papers.shop.alcohol
    area_m2 = standing.piece.area_m2
    spread = step.spread
    ml = what.amount_ml if what else None
    grams = what.amount_g if what else None
    if ml is None and grams is None and spread is not None:
        ml = used_amount(spread.ml_per_m2 or 0.0, area_m2, 1, step.verb) or None
        grams = used_amount(spread.g_per_m2 or 0.0, area_m2, 1, step.verb) or None
    if grams is not None:
        yield step.product, True, grams
        return
    if not ml:
        return
    mixture = Mixture(step.product, step.cut_g_per_l, step.thinned_percent, by_mass=False)
    if not is_mixed(mixture, products):
        yield step.product, False, ml
        return
    parts, thinner = parts_of(mixture, ml, products, alcohol), thinner_of(mixture, products)
    yield step.product, True, parts.flakes_g or 0.0
    yield thinner, False, parts.alcohol_ml or parts.thinner_ml or 0.0
    if parts.of:
        yield from bought_for(parts.of, products)
    else:
        yield step.product, False, parts.product_ml or 0.0
