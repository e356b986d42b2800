"""What is on the shelf: every lot and batch with its age, what is left, and whether to trust it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, tzinfo
from enum import StrEnum

from finishsched.journal.shelf import Shelf
from finishsched.mixing.keeping import MONTH_S, Life, life_of
from finishsched.mixing.need import Coat
from finishsched.model.product import Product
from finishsched.model.shop import Shop, ShownUnits
from finishsched.model.step import Step
from finishsched.model.stock import TEST_HOLDS, Batch, DropTest, Lot, is_empty
from finishsched.model.stock import same_strength as same_strength  # noqa: PLC0414  # asked for here
from finishsched.units import plain_number
from finishsched.workshop.amounts.coats import Habit, Work, coat_ahead
from finishsched.workshop.base.shown import PLAIN, Shown, shown_of
from finishsched.workshop.base.words import drop_words
from finishsched.workshop.standing.standing import Standing

LOW_SHARE = 0.10
"""Less than a tenth of what there was is low (our assumption)."""


PLAIN_SHOP = Shop("")
"""One of which nothing is known."""


class StockState(StrEnum):
    """What a person should know of a lot or batch before reaching for it, the gravest first."""

    EMPTY = "empty"
    PAST = "past its life"
    TEST = "test it"
    LOW = "low"
    GOOD = "good"


@dataclass(frozen=True, slots=True)
class CoatNeed:
    """What a coat that is in hand or comes next takes, the pad's own charge counted."""

    product: str
    cut_g_per_l: float | None
    thinned_percent: float | None
    ml: float = 0.0
    g: float = 0.0

    def is_of(self, batch: Batch) -> bool:
        """Tell whether the coat could be laid out of ``batch``."""
        return self.product == batch.product and same_strength(
            batch, self.cut_g_per_l, self.thinned_percent
        )

    def as_kept(self, density_g_per_ml: float | None, *, by_mass: bool) -> float:
        """Return what it takes, in g ``by_mass`` and else in ml; 0 where no density tells."""
        own, other = (self.g, self.ml) if by_mass else (self.ml, self.g)
        if own or density_g_per_ml is None:
            return own
        return other * density_g_per_ml if by_mass else other / density_g_per_ml


@dataclass(frozen=True, slots=True)
class Row:
    """What is said of a lot and of a batch alike."""

    title: str
    """What it holds, in the product's words."""
    age_s: float
    life: Life
    states: tuple[StockState, ...]
    """All that apply, the gravest first; never none."""
    why: tuple[str, ...]

    @property
    def state(self) -> StockState:
        """The gravest."""
        return self.states[0]

    @property
    def usable(self) -> bool:
        """True while there is some left that is not past its life."""
        return self.state not in (StockState.EMPTY, StockState.PAST)


@dataclass(frozen=True, slots=True)
class LotRow(Row):
    """A lot as it stands."""

    lot: Lot


@dataclass(frozen=True, slots=True)
class BatchRow(Row):
    """A batch as it stands."""

    batch: Batch


@dataclass(frozen=True, slots=True)
class StockAnswer:
    """Everything on the shelf, the oldest first, empty ones last."""

    now: datetime
    zone: tzinfo
    units: ShownUnits
    lots: tuple[LotRow, ...]
    batches: tuple[BatchRow, ...]
    shown: Shown = PLAIN
    """By which units and which scale amounts are told."""
    shop: Shop = PLAIN_SHOP
    """Whose tools tell how near a mixed jar's cut is known."""

    def find(self, name: str) -> LotRow | BatchRow | None:
        """Return the row of the lot or batch of that name."""
        lots = (row for row in self.lots if row.lot.name == name)
        return next(lots, None) or next((r for r in self.batches if r.batch.name == name), None)


@dataclass(frozen=True, slots=True)
class Judge:
    """What the rows of a stock are judged by."""

    products: Mapping[str, Product]
    now: datetime
    coats: tuple[CoatNeed, ...] = ()
    shown: Shown = PLAIN

    def lot(self, lot: Lot) -> LotRow:
        """Return the row of a lot."""
        product = self.products.get(lot.product)
        age_s = max(0.0, (self.now - lot.bought_at).total_seconds())
        life = life_of(product, mixed=False)
        uncut = [c for c in self.coats if c.product == lot.product and c.cut_g_per_l is None]
        plain = [coat for coat in uncut if not coat.thinned_percent]
        by_mass = lot.left_g is not None
        density = product.density_g_per_ml if product is not None else None
        coat = max((one.as_kept(density, by_mass=by_mass) for one in plain), default=0.0)
        states = _states(lot.left, lot.had, age_s, life, coat)
        told = self.shown.mass(coat) if by_mass else self.shown.volume(coat)
        why = tuple(_why(life, lot.short, told if coat and StockState.LOW in states else ""))
        return LotRow(_title(lot.product, product), age_s, life, states, why, lot)

    def batch(self, batch: Batch) -> BatchRow:
        """Return the row of a batch."""
        product = self.products.get(batch.product)
        age_s = max(0.0, (self.now - batch.mixed_at).total_seconds())
        life = life_of(product, mixed=True)
        coat = max((c.ml for c in self.coats if c.is_of(batch)), default=0.0)
        states = _by_drop(_states(batch.left_ml, batch.made_ml, age_s, life, coat), batch, self.now)
        told = self.shown.volume(coat) if coat and StockState.LOW in states else ""
        why = (*_why(life, batch.short, told), *_drop_words(batch.tested))
        return BatchRow(_title(batch.product, product), age_s, life, states, why, batch)


def stock_answer(shelf: Shelf, judge: Judge, zone: tzinfo, shop: Shop) -> StockAnswer:
    """Return everything on the shelf as it stands at the judge's ``now``."""
    return StockAnswer(
        now=judge.now,
        zone=zone,
        units=shop.units,
        shown=shown_of(shop),
        shop=shop,
        lots=tuple(sorted(map(judge.lot, shelf.lots), key=_is_empty)),
        batches=tuple(sorted(map(judge.batch, shelf.batches), key=_is_empty)),
    )


def coat_needs(
    standings: Iterable[Standing], habit: Habit, products: Mapping[str, Product]
) -> tuple[CoatNeed, ...]:
    """Return what the coats take that are in hand or come next, on every piece not finished."""
    return tuple(_coat_needs(standings, habit, products))


def _coat_needs(
    standings: Iterable[Standing], habit: Habit, products: Mapping[str, Product]
) -> Iterator[CoatNeed]:
    known: dict[tuple[int, str, float], Coat | None] = {}
    for standing in standings:
        current, area_m2 = standing.step, standing.piece.area_m2
        number = current.number if current is not None else len(standing.steps) + 2
        for step in standing.steps[number - 1 : number + 1]:
            key = (id(standing.steps), step.key, area_m2)
            if key not in known:
                work = Work(standing.steps, step, area_m2, standing.piece.made_of)
                known[key] = coat_ahead(work, products, habit) if step.product else None
            coat = known[key]
            if coat is not None:
                yield _coat_need(step, coat)


def _coat_need(step: Step, coat: Coat) -> CoatNeed:
    amount, by_mass = coat.from_jar.likely, coat.mixture.by_mass
    return CoatNeed(
        product=coat.mixture.product,
        cut_g_per_l=coat.mixture.cut_g_per_l,
        thinned_percent=step.thinned_percent,
        ml=0.0 if by_mass else amount,
        g=amount if by_mass else 0.0,
    )


def _states(
    left: float, had: float, age_s: float, life: Life, coat: float
) -> tuple[StockState, ...]:
    if is_empty(left, had):
        return (StockState.EMPTY,)
    found = []
    if life.over_s is not None and age_s > life.over_s:
        found.append(StockState.PAST)
    elif life.test_from_s is not None and age_s >= life.test_from_s:
        found.append(StockState.TEST)
    if left < max(had * LOW_SHARE, coat):
        found.append(StockState.LOW)
    return tuple(found) or (StockState.GOOD,)


def _by_drop(states: tuple[StockState, ...], batch: Batch, now: datetime) -> tuple[StockState, ...]:
    """Let the newest drop on glass decide: it knows the jar, and its age only guesses."""
    drop = batch.tested
    if drop is None or states == (StockState.EMPTY,):
        return states
    others = tuple(one for one in states if one not in (StockState.TEST, StockState.GOOD))
    if not drop.passed:
        return tuple(dict.fromkeys((StockState.PAST, *others)))
    if now - drop.at <= TEST_HOLDS:
        return others or (StockState.GOOD,)
    return states


def _drop_words(drop: DropTest | None) -> Iterator[str]:
    if drop is None:
        return
    yield f"a drop on glass on {drop.at.date()}: {drop_words(drop.hard_after_s)}"


def _why(life: Life, short: bool, coat: str) -> Iterator[str]:  # noqa: FBT001  # a mark
    ages = [
        f"{words} {plain_number(seconds / MONTH_S, 2)} months"
        for words, seconds in (
            ("tested from", life.test_from_s),
            ("typical life", life.typical_s),
            ("not used past", life.over_s),
        )
        if seconds is not None
    ]
    yield f"{', '.join(ages) or 'no limit of age'} ({life.source})"
    if coat:
        yield f"the next coat takes about {coat}, with what a dry pad holds"
    if short:
        yield "more was taken than there was by the journal: count it with stock --left"


def _title(name: str, product: Product | None) -> str:
    return product.title if product else name


def _is_empty(row: LotRow | BatchRow) -> bool:
    return row.state is StockState.EMPTY
