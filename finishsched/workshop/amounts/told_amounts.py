"""What a coat takes and what is to be mixed for it, in the words of its sheet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from typing import NamedTuple

from finishsched.mixing.amount import SMALLEST_BATCH_ML, holder, pad_charge_ml
from finishsched.mixing.into_jar import ToMix, is_mixed, to_mix
from finishsched.mixing.need import Coat
from finishsched.model.product import Product
from finishsched.model.schedule import Spread
from finishsched.model.shop import Shop
from finishsched.model.step import Step
from finishsched.units import AREA, SPREAD, SPREAD_MASS, show
from finishsched.workshop.amounts.coats import NO_HABIT, Habit, Work, coats_of_the_jar
from finishsched.workshop.base.answers import MixLine, StepSheet, Takes
from finishsched.workshop.base.mixed_words import (
    coarse_words,
    gives_words,
    makes_words,
    readings,
)
from finishsched.workshop.base.shown import shown_of

WORTH_KEEPING_SHARE = 0.1
"""Less than this of a mix is left over of any (our assumption)."""


class ForCoats(NamedTuple):
    """What a jar is mixed for: all that is under way, where more pieces take from it."""

    coats: tuple[Coat, ...]
    pieces: int
    """On how many these are, where it is more than the sheet's own; else 0."""
    area_m2: float
    jar: ToMix | None = None
    """As it is mixed; None where it is to be worked out of the coats."""
    at_once: int = 1
    """How many of them are one entry: those of pieces that are worked as one."""

    def counted(self) -> int:
        """Return how many coats these are: on each piece one where pieces are told, else of all."""
        if self.pieces > 1:
            return sum(coat.pieces for coat in self.coats)
        return max(Counter(coat.piece for coat in self.coats).values())


def with_amounts(
    sheet: StepSheet,
    work: Work,
    products: Mapping[str, Product],
    shop: Shop,
    habit: Habit = NO_HABIT,
    of_all: ForCoats | None = None,
) -> StepSheet:
    """Return the sheet with what its coat takes, and what to mix for all that comes of one jar.

    By the account that need is reckoned by: losses, a dry pad's charge, what bare wood drinks,
    and what coats take here by what was logged. The jar is that ``of_all`` where told.
    """
    product = products.get(sheet.step.product or "")
    own = coats_of_the_jar(work, products, habit)
    if product is None or not own:
        return sheet
    first = own[0]
    by_mass = first.mixture.by_mass
    whole = sum(coat.from_jar.likely for coat in own)
    # Told upwards, so that what was mixed as told is enough for every coat.
    shown, cut_g_per_l = shown_of(shop), first.mixture.cut_g_per_l
    serves = of_all or ForCoats(own, 0, work.area_m2)
    jar = serves.jar
    if jar is None and not by_mass:
        jar = to_mix(first.mixture, whole, products, shop, shown.measured_up)
    really = jar.really if jar else None
    makes = makes_words(jar, cut_g_per_l, shop) if jar else shown.weight(whole)
    elsewhere_ml = pad_charge_ml(first.step.verb) if habit.charged_elsewhere else 0.0
    words = _Words(first, shop, elsewhere_ml)
    as_bought = _is_as_bought(first, product, products)
    taken = words.taken(whole, len(own), work.area_m2)
    return sheet._replace(
        as_bought=as_bought,
        mix=_mix(jar, product, whole, products, shop),
        mix_makes=taken
        if as_bought
        else words.makes(makes, jar.makes_ml if jar else whole, serves),
        mix_gives=gives_words(really.cut, shop) if really else "",
        mix_warnings=tuple(coarse_words(really.coarse, shop)) if really else (),
        jar_holds=makes,
        makes_ml=jar.makes_ml if jar else None,
        taken=taken,
        coats_ml=() if by_mass else tuple(coat.from_jar.likely for coat in own),
        for_coats=tuple(coat.step.key for coat in own),
        let_down=words.let_down,
        takes=words.takes,
        jar_cut_g_per_l=cut_g_per_l,
    )


def _is_as_bought(first: Coat, product: Product, products: Mapping[str, Product]) -> bool:
    """Tell whether a coat is poured or weighed as it is bought; what sets in a pot is mixed."""
    return not is_mixed(first.mixture, products) and product.pot_life_s is None


def mixing_reasons(sheet: StepSheet, area_m2: float, shop: Shop) -> list[str]:
    """Return in words how the sheet's amounts came about."""
    step, takes, shown = sheet.step, sheet.takes, shown_of(shop)
    if not sheet.mix or takes is None:
        return []
    laid = "what coats took here"
    if step.spread is not None:
        laid = _spread_words(step.spread, shop)
    loss = 100 * step.verb.does.lost_share
    lost = f", {loss:g} % lost on the way (coatings texts)" if loss else ""
    held = ""
    if takes.pad_ml:
        held = f", {shown.volume(takes.pad_ml)} for the dry {holder(step.verb)} (our assumption)"
    area = show(area_m2, AREA, shop.units.area, digits=2)
    return [
        (
            f"amount: {laid} laid on {area}{lost}{held}: likely {takes.words(shown)}, "
            f"{takes.between(shown)}, as finishsched need reckons it; never less than "
            f"{shown.volume(SMALLEST_BATCH_ML)} is mixed, which can just be measured"
        ),
        *_rule_of_the_mix(step),
    ]


def _spread_words(spread: Spread, shop: Shop) -> str:
    """Return an amount for an area, in the shop's own units."""
    if spread.ml_per_m2 is not None:
        unit = f"{shop.units.volume}/{shop.units.area}"
        return show(spread.ml_per_m2, SPREAD, unit, digits=2)
    unit = f"{shop.units.mass}/{shop.units.area}"
    return show(spread.g_per_m2 or 0.0, SPREAD_MASS, unit, digits=2)


def _rule_of_the_mix(step: Step) -> list[str]:
    if step.cut_g_per_l is not None:
        rule = "flakes per volume of alcohol by the exact balance"
        return [f"mix: {rule} (Federal Specification TT-S-300A)"]
    if step.thinned_percent:
        return [f"mix: {step.thinned_percent:g} % of the whole is thinner, by volume"]
    return []


def _mix(
    jar: ToMix | None,
    product: Product,
    whole_g: float,
    products: Mapping[str, Product],
    shop: Shop,
) -> tuple[MixLine, ...]:
    """Return what goes into a jar; of what is weighed, so many grams of the product itself."""
    if jar is None:
        return (MixLine(shown_of(shop).mass(whole_g), product.title),)
    thinner = products.get(product.thinner or "")
    if jar.really is not None:
        read = readings(jar.really, shown_of(shop))
        return (
            MixLine(read.flakes, product.title),
            MixLine(read.alcohol, thinner.title if thinner else "alcohol"),
        )
    parts, volume = jar.parts, shown_of(shop).volume
    if parts.product_ml is not None and parts.thinner_ml is not None:
        return (
            MixLine(volume(parts.product_ml), product.title),
            MixLine(volume(parts.thinner_ml), thinner.title if thinner else "thinner"),
        )
    return (MixLine(volume(jar.makes_ml), product.title),)


class _Words:
    """Says how much there is to be of what a coat is laid with, and how much the coat takes."""

    def __init__(self, coat: Coat, shop: Shop, elsewhere_ml: float = 0.0) -> None:
        self._coat = coat
        self._shop = shop
        self._shown = shown_of(shop)
        self.takes = Takes(coat.amount, coat.mixture.by_mass, coat.pad_ml, elsewhere_ml)
        self.let_down = ""
        """What of the coat comes from the jar, and how much alcohol goes to it."""
        if self._shown.is_told(coat.let_down_ml):
            amounts = (self._shown.volume(ml) for ml in (coat.from_jar.likely, coat.let_down_ml))
            self.let_down = "{} from the jar and {} alcohol".format(*amounts)

    def makes(self, amount: str, makes: float, serves: ForCoats) -> str:
        """Return how much a jar is to hold for which coats, what this one takes, what is left."""
        coats = serves.coats
        pieces = f" on {serves.pieces} pieces," if serves.pieces > 1 else " on"
        area = show(serves.area_m2, AREA, self._shop.units.area, digits=2)
        how_many = "this coat" if len(coats) == 1 else f"{serves.counted()} coats"
        whole = f"{amount} for {how_many}{pieces} {area}"
        left = self._left_words(makes, serves)
        if not left and self._takes() == amount:
            return whole
        return f"{whole}; this one takes {self._takes()}{left}"

    def taken(self, whole: float, coats: int, area_m2: float) -> str:
        """Return how much this coat takes of a jar that stands there, and all that are ahead."""
        area = show(area_m2, AREA, self._shop.units.area, digits=2)
        this_one = f"{self._takes()} for this coat on {area}"
        return (
            this_one if coats == 1 else f"{this_one}, {self._amount(whole)} for all {coats} coats"
        )

    def _amount(self, amount: float) -> str:
        by_mass = self._coat.mixture.by_mass
        return self._shown.weight(amount) if by_mass else self._shown.volume(amount)

    def _takes(self) -> str:
        """Return what this coat takes, and what of it is not laid out of the jar."""
        inside = self._inside()
        return f"{self.takes.words(self._shown)}{f' ({inside})' if inside else ''}"

    def _inside(self) -> str:
        """Return a coat by spoons, what it is let down with, and what of it a dry pad keeps."""
        coat, volume = self._coat, self._shown.volume
        spooned = "" if coat.mixture.by_mass else self._shown.spooned(coat.amount.likely)
        said = [spooned] if spooned else []
        said += [self.let_down] if self.let_down else []
        held_in = holder(coat.step.verb)
        if coat.pad_ml:
            said.append(f"{volume(coat.pad_ml)} of it into the dry {held_in}")
        if self.takes.pad_first_ml:
            more = volume(self.takes.pad_first_ml)
            said.append(f"{more} more where it goes first, into the dry {held_in}")
        return ", ".join(said)

    def _left_words(self, makes: float, serves: ForCoats) -> str:
        """Say what the rest of a mix is for, and what is left over after that."""
        coats = serves.coats
        after = serves.counted() - serves.at_once
        said = ", the rest is for the coat after it" if after == 1 else ""
        if after > 1:
            said = f", the rest is for the {after} coats after it"
        over = makes - sum(coat.from_jar.likely for coat in coats)
        if over > WORTH_KEEPING_SHARE * makes and not self._coat.mixture.by_mass:
            said += f", {self._shown.volume(over)} is left over"
        return said
