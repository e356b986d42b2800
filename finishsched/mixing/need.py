"""What a job takes, coat by coat: from pieces and their steps to amounts of each mixture."""

from __future__ import annotations

import math
import statistics
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import NamedTuple, TypeAlias

from finishsched.mixing.account import account_of, charges_a_pad
from finishsched.mixing.amount import (
    BARE_WOOD_TAKES_ML_PER_M2,
    NOTHING,
    Pores,
    Range,
    pad_charge_ml,
    used_range,
)
from finishsched.mixing.bare_wood import first_into_wood, pores_met
from finishsched.mixing.learnt_use import ERROR_SD, SPREAD_SD, By, MethodKey, Seen, factor
from finishsched.mixing.let_down import jar_cuts, jar_share, sitting_of
from finishsched.model.product import Product, ProductKind
from finishsched.model.schedule import Verb
from finishsched.model.step import Step

ENTRIES_THAT_COUNT = 3
"""So many logged amounts of a product, laid one way, go before the schedule's own figure."""


NO_PADS: Mapping[MethodKey, float] = MappingProxyType({})
NO_PRODUCTS: Mapping[str, Product] = MappingProxyType({})
WATER = "water"
"""The product that comes from the tap and is never short."""
NOTHING_LEARNT = factor((), SPREAD_SD).range
"""What coats take here beside what their schedule says, before anything was logged."""


@dataclass(frozen=True, slots=True)
class PieceWork:
    """One piece and what is to be laid on it."""

    ref: str
    area_m2: float
    species: str
    steps: tuple[Step, ...]
    """Every step of its schedule."""
    left: frozenset[str]
    """The keys of those that are to be reckoned."""
    pieces: int = 1
    """How many it stands for: those alike are worked as one, and have their areas together."""


class LoggedUse(NamedTuple):
    """One coat that somebody weighed or measured: what it took for each square metre."""

    product: str
    verb: Verb
    by_mass: bool
    per_m2: float
    """In g or ml."""
    scheduled_per_m2: float | None = None
    """What its schedule says is to be laid, in the same unit; None where it says nothing."""
    area_m2: float = 1.0
    by: By = By.LOGGED
    shared_by: int = 1
    """How many coats one weighing was spread over: together they tell as much as one."""
    pad_apart: bool = False
    """True where what the pad kept is taken off already, or it had its charge."""

    @property
    def seen(self) -> Seen | None:
        """What it tells of what is laid over what its schedule says; None where it says nothing."""
        if not self.scheduled_per_m2:
            return None
        scheduled = self.scheduled_per_m2 * self.area_m2
        account = account_of(
            self.per_m2 * self.area_m2, scheduled, self.verb, by_mass=self.by_mass,
            charged=self.pad_apart,
        )  # fmt: skip
        error_sd = ERROR_SD[self.by] * math.sqrt(self.shared_by)
        return Seen((self.product, self.verb), account.laid / scheduled, self.by, error_sd)


class OwnUse(NamedTuple):
    """What a coat takes here, by the shop's own entries: film is reckoned from the same model."""

    product: str
    verb: Verb
    by_mass: bool
    factor: Range
    """What is laid over what schedules say."""
    entries: int
    per_m2: Range | None = None
    """Used where a schedule states no amount, in g or ml; None while too few entries tell it."""


OwnUses: TypeAlias = Mapping[tuple[str, Verb, bool], OwnUse]


class Mixture(NamedTuple):
    """One thing to have in a jar: a product, and how strong."""

    product: str
    cut_g_per_l: float | None = None
    thinned_percent: float | None = None
    """Share of thinner by volume; None when it goes on as bought."""
    by_mass: bool = False
    """True when it is reckoned by weight."""


class Coat(NamedTuple):
    """One coat on one piece, or on pieces alike as on one, and what it takes.

    Amounts are in ml, or g for a mixture by mass.
    """

    piece: str
    step: Step
    mixture: Mixture
    """The jar that it is taken from, which may be stronger than the coat."""
    area_m2: float
    amount: Range
    """As it is laid."""
    from_jar: Range
    let_down_ml: float
    """Alcohol that weakens what is taken from the jar to the coat's own cut."""
    pad_ml: float
    """Of the amount, what stays in the pad."""
    into_wood: Pores | None
    """For the first coat into bare wood: how open its grain is."""
    own: OwnUse | None
    after_s: float
    """Likely time from the first step that is left, waits and hands-on work together."""
    pieces: int = 1
    """On how many pieces alike it is laid at once."""


class Unreckoned(NamedTuple):
    """A step that uses a product of which nobody says how much."""

    product: str
    verb: Verb
    why: str


class MixtureNeed(NamedTuple):
    """All that a job takes of one mixture. Amounts in ml, or g for a mixture by mass."""

    mixture: Mixture
    amount: Range
    let_down_ml: float
    coats: int
    """Over all pieces."""
    area_m2: float
    """Of the pieces together that it goes on."""


def own_uses(logged: Iterable[LoggedUse]) -> OwnUses:
    """Return what coats take here, for each product and verb of which there are entries."""
    found: dict[tuple[str, Verb, bool], list[LoggedUse]] = defaultdict(list)
    for use in logged:
        found[use.product, use.verb, use.by_mass].append(use)
    return {key: _learnt(key, uses) for key, uses in found.items()}


def _learnt(key: tuple[str, Verb, bool], uses: list[LoggedUse]) -> OwnUse:
    known = factor((use.seen for use in uses if use.seen is not None), SPREAD_SD)
    used = [use.per_m2 for use in uses]
    per_m2 = None
    if len(used) >= ENTRIES_THAT_COUNT:
        middle = statistics.median(used)
        method = (key[0], key[1])
        ratios = (Seen(method, one / middle, By.LOGGED, ERROR_SD[By.LOGGED]) for one in used)
        per_m2 = factor(ratios, SPREAD_SD).range.times(middle)
    return OwnUse(*key, known.range, len(uses), per_m2)


def coats_of(
    piece: PieceWork, products: Mapping[str, Product], own: OwnUses
) -> tuple[tuple[Coat, ...], tuple[Unreckoned, ...]]:
    """Return every coat that is left on ``piece``, in the order of the work.

    Beside them, the steps of which no amount is known.
    """
    coats: list[Coat] = []
    unreckoned: list[Unreckoned] = []
    cuts = jar_cuts(piece.steps)
    # Asked once for all coats: whoever asks what is due asks it of every piece of the shop.
    first = first_into_wood(piece.steps, products)
    for step, after_s in _left_steps(piece):
        if step.product in (None, WATER):
            continue
        own_use = _own_use(step, own)
        missing = _what_is_missing(step, products.get(step.product), own_use)
        if missing:
            unreckoned.append(Unreckoned(step.product, step.verb, missing))
            continue
        into_wood = step == first
        pores = pores_met(step, piece.steps, piece.species, products) if into_wood else None
        coats.append(_coat(piece, step, cuts.get(sitting_of(step)), own_use, pores, after_s))
    return tuple(coats), tuple(dict.fromkeys(unreckoned))


def with_pads(
    coats: Iterable[Coat],
    since_s: Mapping[MethodKey, float] = NO_PADS,
    products: Mapping[str, Product] = NO_PRODUCTS,
) -> tuple[Coat, ...]:
    """Return the coats of all pieces, each that charges a fresh pad with what the pad keeps.

    Source: our assumption; a pad in a closed box serves every piece while it stays soft.

    Args:
        coats: of all pieces, each with its time.
        since_s: how long ago each pad was used that there is, in s, 0 or more.
        products: by id; they tell how long a pad keeps.

    """
    kept = list(coats)
    last_s: dict[MethodKey, float] = {pad: -gone_s for pad, gone_s in since_s.items()}
    known = {name: products.get(name) for name in {coat.mixture.product for coat in kept}}
    hold_some = {verb for verb in {coat.step.verb for coat in kept} if pad_charge_ml(verb)}
    in_turn = sorted(
        (coat.after_s, index)
        for index, coat in enumerate(kept)
        if coat.step.verb in hold_some and not coat.mixture.by_mass
    )
    for after_s, index in in_turn:
        coat = kept[index]
        pad = (coat.mixture.product, coat.step.verb)
        before_s = last_s.get(pad)
        gone_s = None if before_s is None else after_s - before_s
        if charges_a_pad(gone_s, known[coat.mixture.product]):
            kept[index] = _charging(coat)
        last_s[pad] = after_s
    return tuple(kept)


def _charging(coat: Coat) -> Coat:
    held_ml = pad_charge_ml(coat.step.verb)
    share = coat.from_jar.likely / coat.amount.likely if coat.amount.likely else 1.0
    amount = coat.amount + Range(held_ml, held_ml, held_ml)
    return coat._replace(
        amount=amount,
        from_jar=amount.times(share),
        let_down_ml=amount.likely * (1 - share),
        pad_ml=held_ml,
    )


def needs_of(coats: Iterable[Coat]) -> tuple[MixtureNeed, ...]:
    """Return what ``coats`` take of each mixture, in the order in which they are first wanted.

    Additive over pieces: nothing is rounded here.
    """
    by_mixture: dict[Mixture, list[Coat]] = defaultdict(list)
    for coat in coats:
        by_mixture[coat.mixture].append(coat)
    return tuple(_need(mixture, own) for mixture, own in by_mixture.items())


def _need(mixture: Mixture, coats: list[Coat]) -> MixtureNeed:
    taken = [coat.from_jar for coat in coats]
    return MixtureNeed(
        mixture=mixture,
        amount=Range(
            sum(one.low for one in taken),
            sum(one.likely for one in taken),
            sum(one.high for one in taken),
        ),
        let_down_ml=sum(coat.let_down_ml for coat in coats),
        coats=sum(coat.pieces for coat in coats),
        area_m2=sum({coat.piece: coat.area_m2 for coat in coats}.values()),
    )


def _left_steps(piece: PieceWork) -> Iterator[tuple[Step, float]]:
    """Give the steps that are left, each with the likely time until it begins, in seconds."""
    after_s = 0.0
    for step in piece.steps:
        if step.key in piece.left:
            yield step, after_s
            after_s += step.hands_on.minutes(piece.area_m2) * 60
            after_s += step.wait.likely_s if step.wait else 0.0


def _own_use(step: Step, own: OwnUses) -> OwnUse | None:
    """Return the shop's own figure for ``step``, in the unit that its schedule speaks in."""
    product = step.product or ""
    if step.spread is not None:
        return own.get((product, step.verb, step.spread.ml_per_m2 is None))
    return own.get((product, step.verb, False)) or own.get((product, step.verb, True))


def _what_is_missing(step: Step, product: Product | None, own: OwnUse | None) -> str:
    if step.spread is None and (own is None or own.per_m2 is None):
        return "the schedule states no amount"
    by_mass = _is_by_mass(step, own)
    is_flakes = product is not None and product.kind is ProductKind.FLAKES
    if is_flakes and step.cut_g_per_l is None and not by_mass:
        return "the schedule states no cut"
    return ""


def _coat(
    piece: PieceWork,
    step: Step,
    jar_cut_g_per_l: float | None,
    own: OwnUse | None,
    pores: Pores | None,
    after_s: float,
) -> Coat:
    by_mass = _is_by_mass(step, own)
    amount = _used(step, own, piece.area_m2) + _besides(pores, piece.area_m2, by_mass=by_mass)
    mixture = _mixture(step, jar_cut_g_per_l, by_mass=by_mass)
    share = 1.0
    if mixture.cut_g_per_l is not None and step.cut_g_per_l is not None:
        share = jar_share(step.cut_g_per_l, mixture.cut_g_per_l)
    return Coat(
        piece=piece.ref,
        step=step,
        mixture=mixture,
        area_m2=piece.area_m2,
        amount=amount,
        from_jar=amount.times(share),
        let_down_ml=amount.likely * (1 - share),
        pad_ml=0.0,
        into_wood=pores if not by_mass else None,
        own=own,
        after_s=after_s,
        pieces=piece.pieces,
    )


def _is_by_mass(step: Step, own: OwnUse | None) -> bool:
    if own is not None:
        return own.by_mass
    return step.spread is not None and step.spread.ml_per_m2 is None


def _mixture(step: Step, jar_cut_g_per_l: float | None, *, by_mass: bool) -> Mixture:
    product = step.product or ""
    if by_mass:
        return Mixture(product, by_mass=True)
    return Mixture(product, jar_cut_g_per_l, step.thinned_percent or None)


def _used(step: Step, own: OwnUse | None, area_m2: float) -> Range:
    """Return what one coat uses, without the pad's charge: likely, and between which bounds."""
    if step.spread is None:
        assert own is not None  # noqa: S101
        assert own.per_m2 is not None  # noqa: S101
        return own.per_m2.times(area_m2)
    per_m2 = step.spread.ml_per_m2 or step.spread.g_per_m2 or 0.0
    here = own.factor if own is not None else NOTHING_LEARNT
    return used_range(here.times(per_m2), area_m2, step.verb)


def _besides(pores: Pores | None, area_m2: float, *, by_mass: bool) -> Range:
    """Return what bare wood may drink of the first coat besides its own amount: at the most.

    A schedule's amount is what is used, and the film's ledger takes what the wood drinks out of it;
    who lays on until the face is wet uses so much more.
    """
    if pores is None or by_mass:
        return NOTHING
    return Range(0.0, 0.0, BARE_WOOD_TAKES_ML_PER_M2[pores].likely * area_m2)
