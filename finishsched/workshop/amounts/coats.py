"""One coat ahead, as it is reckoned: by the schedule, by what coats take here, by how pads are."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import NamedTuple

from finishsched.mixing.into_jar import is_mixed
from finishsched.mixing.learnt_use import MethodKey
from finishsched.mixing.let_down import sitting_of
from finishsched.mixing.need import NO_PADS, Coat, OwnUses, PieceWork, coats_of, with_pads
from finishsched.mixing.supply import surely_keeps_s
from finishsched.model.product import Product
from finishsched.model.step import Step


class Work(NamedTuple):
    """One step on one piece, or on several that are worked as one."""

    steps: Sequence[Step]
    """All of the schedule's."""
    step: Step
    area_m2: float
    species: str = ""


NO_USES: OwnUses = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Habit:
    """What coats take here, and how long ago each pad was used; nothing known to begin with."""

    own: OwnUses = field(default_factory=lambda: NO_USES)
    since_s: Mapping[MethodKey, float] = field(default_factory=lambda: NO_PADS)
    charged_elsewhere: bool = False
    """The pad is dry still: another piece is counted as the one that charges it."""


NO_HABIT = Habit()


def coat_ahead(work: Work, products: Mapping[str, Product], habit: Habit) -> Coat | None:
    """Return the one coat that a step lays; None where it lays nothing or no amount is known."""
    left = frozenset([work.step.key])
    piece = PieceWork("", work.area_m2, work.species, tuple(work.steps), left)
    coats = with_pads(coats_of(piece, products, habit.own)[0], habit.since_s, products)
    return coats[0] if coats else None


def habits_along(
    steps: Sequence[Step], species: str, products: Mapping[str, Product], own: OwnUses
) -> dict[str, Habit]:
    """Return by step key how the pads are when each coat of a schedule is laid, one by one."""
    every = frozenset(step.key for step in steps)
    coats, _ = coats_of(PieceWork("", 1.0, species, tuple(steps), every), products, own)
    last_s: dict[MethodKey, float] = {}
    found: dict[str, Habit] = {}
    for coat in coats:
        since_s = {pad: coat.after_s - used_s for pad, used_s in last_s.items()}
        found[coat.step.key] = Habit(own, since_s)
        last_s[coat.mixture.product, coat.step.verb] = coat.after_s
    return found


def coats_of_the_jar(work: Work, products: Mapping[str, Product], habit: Habit) -> tuple[Coat, ...]:
    """Return this coat and those after it on the same work that come from the same jar.

    What is mixed and keeps serves all coats of its strength while it is surely good; of the rest,
    those of the same step and round.
    """
    left = frozenset(one.key for one in work.steps[work.step.number - 1 :])
    piece = PieceWork("", work.area_m2, work.species, tuple(work.steps), left)
    coats = with_pads(coats_of(piece, products, habit.own)[0], habit.since_s, products)
    if not coats or coats[0].step.key != work.step.key:
        return ()
    first = coats[0]
    alike = (coat for coat in coats if coat.mixture == first.mixture)
    if not keeps_in_a_jar(first, products):
        mine = sitting_of(work.step)
        return tuple(coat for coat in alike if sitting_of(coat.step) == mine)
    life_s = surely_keeps_s(first.mixture, products)
    return tuple(coat for coat in alike if life_s is None or coat.after_s <= life_s)


def keeps_in_a_jar(coat: Coat, products: Mapping[str, Product]) -> bool:
    """Tell whether a coat comes from what is mixed for days: no pot that sets in minutes."""
    product = products.get(coat.mixture.product)
    sets = product is not None and product.pot_life_s is not None
    return is_mixed(coat.mixture, products) and not coat.mixture.by_mass and not sets
