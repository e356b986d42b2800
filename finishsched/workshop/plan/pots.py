"""The mixes that a plan wants of what does not keep: of what, how much, for which pieces, when."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo

from finishsched.mixing.amount import SMALLEST_BATCH_ML
from finishsched.mixing.learnt_use import MethodKey
from finishsched.mixing.need import Coat
from finishsched.model.names import listed
from finishsched.model.product import Product
from finishsched.planning.hours import instant_of
from finishsched.planning.pots import all_mixed
from finishsched.planning.problem import Done, Mixed, Placed
from finishsched.workshop.amounts.coats import Habit, coat_ahead
from finishsched.workshop.amounts.coats import Work as CoatWork
from finishsched.workshop.amounts.uses import habits_of
from finishsched.workshop.base.shown import Shown, shown_of
from finishsched.workshop.base.spans import today
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.work_left import ShopProblem
from finishsched.workshop.standing.pads import key_of


@dataclass(frozen=True, slots=True)
class PlannedMix:
    """One mix of what does not keep."""

    product: str
    title: str
    thinned_percent: float | None
    refs: tuple[str, ...]
    """The pieces, or rows of them, in the order in which they are served."""
    pieces: tuple[str, ...]
    """Each piece of those."""
    keys: tuple[str, ...]
    """The activities of the plan."""
    begun: datetime
    """When the first is served: it is mixed just before."""
    done: datetime
    """When the last has been served."""
    good_until: datetime
    amount: float | None
    """What they take together, in ml, or g; None where that is not known of all."""
    by_mass: bool
    shown: Shown

    @property
    def is_shared(self) -> bool:
        """True where more than one step is done from it."""
        return len(self.keys) > 1

    @property
    def amount_words(self) -> str:
        """How much that is, for people; empty where it is not known."""
        if self.amount is None:
            return ""
        if self.by_mass:
            return self.shown.weight(self.amount)
        least_ml = max(SMALLEST_BATCH_ML, self.amount)
        return self.shown.volume(self.shown.measured_up(least_ml))


def planned_mixes(
    workshop: Workshop, shop: ShopProblem, placed: Sequence[Placed]
) -> tuple[PlannedMix, ...]:
    """Return the mixes that what is placed wants, in the order of time."""
    if not shop.problem.pots:
        return ()
    teller = _Teller(workshop, shop, placed)
    return tuple(teller.told(mixed) for mixed in all_mixed(shop.problem, placed))


class _Teller:
    """Turns mixes in minutes and keys into what people read."""

    def __init__(self, workshop: Workshop, shop: ShopProblem, placed: Sequence[Placed]) -> None:
        self._workshop = workshop
        self._shop = shop
        everything: tuple[Done | Placed, ...] = (*shop.problem.done, *placed)
        self._there = {each.key: each for each in everything}
        self._lives = {pot.name: pot.life_min for pot in shop.problem.pots}
        self._habits = habits_of(workshop)
        self._used: dict[MethodKey, datetime] = {}
        """When each pad was used last, by the coats that were told of."""

    def told(self, mixed: Mixed) -> PlannedMix:
        """Return one of them."""
        papers = self._workshop.papers
        first = self._shop.steps[mixed.keys[0]].step
        begun = min(self._there[key].start_min for key in mixed.keys)
        product = papers.products.get(first.product or "")
        amount, by_mass = self._amount(mixed.keys, papers.products)
        refs = tuple(dict.fromkeys(self._shop.steps[key].ref for key in mixed.keys))
        return PlannedMix(
            product=first.product or "",
            title=product.title if product is not None else first.product or "",
            thinned_percent=first.thinned_percent,
            refs=refs,
            pieces=tuple(piece for ref in refs for piece in self._shop.works[ref].refs),
            keys=mixed.keys,
            begun=instant_of(begun),
            done=instant_of(max(self._there[key].end_min for key in mixed.keys)),
            good_until=instant_of(begun + self._lives[mixed.pot]),
            amount=amount,
            by_mass=by_mass,
            shown=shown_of(papers.shop),
        )

    def _amount(
        self, keys: Iterable[str], products: Mapping[str, Product]
    ) -> tuple[float | None, bool]:
        """Return what some coats take together, and whether that is by mass."""
        amount, by_mass = 0.0, False
        for key in sorted(keys, key=lambda one: self._there[one].start_min):
            coat = self._coat(key, products)
            if coat is None:
                return None, by_mass
            amount += coat.from_jar.likely
            by_mass = coat.mixture.by_mass
        return amount, by_mass

    def _coat(self, key: str, products: Mapping[str, Product]) -> Coat | None:
        """Return one coat, by a pad or cloth as those before it have left it, of all mixes."""
        meant, begun = self._shop.steps[key], instant_of(self._there[key].start_min)
        planned_s = {pad: (begun - at).total_seconds() for pad, at in self._used.items()}
        habit = Habit(self._habits.own, self._habits.pads.since_s(begun) | planned_s)
        self._used[key_of(meant.step)] = begun
        work = self._shop.works[meant.ref]
        area_m2 = sum(piece.area_m2 for piece in work.pieces)
        species = " ".join(dict.fromkeys(piece.made_of for piece in work.pieces))
        return coat_ahead(CoatWork(work.steps, meant.step, area_m2, species), products, habit)


def mix_words(mix: PlannedMix, zone: tzinfo) -> str:
    """Say of one mix how much of what is mixed once, for what, and till when it is good."""
    thinned = f", {mix.thinned_percent:g} % thinned" if mix.thinned_percent else ""
    amount = f"{mix.amount_words} of " if mix.amount_words else ""
    until = f"{mix.good_until.astimezone(zone):%H:%M}"
    return f"one mix, {amount}{mix.title}{thinned}, for {listed(mix.refs)}: good till {until}"


def mix_on_its_day(mix: PlannedMix, zone: tzinfo) -> str:
    """Say the same with its day and time first, as the plan has it."""
    begun = f"{today(mix.begun, zone)} {mix.begun.astimezone(zone):%H:%M}"
    return f"{begun}, by the plan: {mix_words(mix, zone)}"
