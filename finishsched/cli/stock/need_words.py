"""What a job takes, for people, in the units of the shop; for programs it is in need_data.py."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from datetime import tzinfo

from finishsched.cli.common import why_lines
from finishsched.mixing.consumables import Consumable
from finishsched.mixing.need import Mixture
from finishsched.mixing.supply import PlannedBatch, Supplied, thinner_of
from finishsched.model.reason import Reason
from finishsched.model.shop import Pack
from finishsched.numerals import counted
from finishsched.safety.cautions import DEFERRAL
from finishsched.units import AREA, MASS, VOLUME, convert, plain_number, show
from finishsched.workshop.base.mixed_words import gives_words, makes_words, readings
from finishsched.workshop.base.shown import cut_words
from finishsched.workshop.base.spans import span
from finishsched.workshop.plan.pots import PlannedMix, mix_on_its_day
from finishsched.workshop.stock.needs import NeedAnswer

DIGITS = 2
"""Significant digits for people: the figures are no better."""

SAME = 0.005
"""What stands there and lacks no more than that is all of it: nobody pours finer."""

WORTH_SAYING_S = 86400.0
"""A batch wanted within a day is mixed at once."""

REASONS = (
    Reason(
        "a coat takes (amount for its area + what bare wood takes) x area / (1 - loss)",
        ("the amounts of the schedule, or the shop's own entries", "the areas of the job's faces"),
        "coatings texts for the losses; see what is assumed",
    ),
    Reason(
        "flakes = cut x volume of alcohol; volume = alcohol + flakes / {1.20 g/ml}",
        (),
        "Federal Specification TT-S-300A, 1977, 1.2 note 1; published yields",
    ),
    Reason(
        "packs: the cheapest that hold what is missing, or those with the least left over",
        (),
        "exact search over the packs that the shop lists",
    ),
)


def need_lines(
    need: NeedAnswer, mixes: Sequence[PlannedMix], zone: tzinfo, *, coats: bool, why: bool
) -> Iterator[str]:
    """Say what the job takes, in short tables."""
    yield from _head(need)
    if not need.coats:
        yield "nothing is left to lay"
    yield from _takes(need)
    yield from _mix(need)
    if mixes:
        yield "mix by the plan, each when it is wanted"
    for mix in mixes:
        yield f"  {mix_on_its_day(mix, zone)}"
    yield from _from_the_shelf(need)
    yield from _buy(need)
    yield from _used_up(need)
    if coats:
        yield from _coat_lines(need)
    if why:
        yield from why_lines(REASONS, need.units)
    if need.assumptions:
        yield "assumed"
    for assumption in need.assumptions:
        yield f"  - {assumption}"
    if has_hazards(need):
        yield DEFERRAL


def _head(need: NeedAnswer) -> Iterator[str]:
    yield f"{need.job}: {need.title}"
    for piece in need.pieces:
        area = show(piece.area_m2, AREA, need.units.area, digits=DIGITS)
        yield f"  {piece.ref}  {area}, {piece.scope}"


def _takes(need: NeedAnswer) -> Iterator[str]:
    rows = []
    for supplied in need.supply.mixtures:
        mixture, amount = supplied.need.mixture, supplied.need.amount
        say = _amount_words(need, by_mass=mixture.by_mass)
        unit = need.units.mass if mixture.by_mass else need.units.volume
        between = "-".join(
            plain_number(convert(end, MASS if mixture.by_mass else VOLUME, unit), DIGITS)
            for end in (amount.low, amount.high)
        )
        coats = counted(supplied.need.coats, "coat")
        name = _mixture_words(need, mixture)
        rows.append((say(amount.likely), f"({between})", coats, name, _there(need, supplied)))
    yield from _table("takes", rows, right=(0,))
    say = _amount_words(need, by_mass=False)
    for supplied in need.supply.mixtures:
        mixture, alcohol_ml = supplied.need.mixture, supplied.need.let_down_ml
        if alcohol_ml > 0:
            thinner = need.title_of(thinner_of(mixture, need.products))
            yield f"  {say(alcohol_ml)} {thinner}, to let down {_mixture_words(need, mixture)}"


def _there(need: NeedAnswer, supplied: Supplied) -> str:
    """Say how much of a mixture stands there already; all of it by no second figure."""
    if supplied.in_stock <= 0:
        return ""
    where = " and ".join(supplied.taken_from) or "stock"
    if supplied.in_stock >= supplied.need.amount.likely * (1 - SAME):
        return f"all of it in {where}"
    by_mass = supplied.need.mixture.by_mass
    held = _amount_words(need, by_mass=True) if by_mass else need.shown.held
    return f"{held(supplied.in_stock)} in {where}"


def _mix(need: NeedAnswer) -> Iterator[str]:
    if need.supply.batches:
        yield "mix"
    volume = _amount_words(need, by_mass=False)
    for batch in need.supply.batches:
        where = [_mixture_words(need, batch.mixture)]
        if batch.jar_ml is not None:
            where.append(f"in a {volume(batch.jar_ml)} jar")
        if batch.after_s >= WORTH_SAYING_S:
            where.append(f"wanted after {span(batch.after_s)}")
        makes = makes_words(batch.jar, batch.mixture.cut_g_per_l, need.shop)
        yield f"  {makes} {', '.join(where)}"
        yield f"      {_parts(need, batch)}"


def _parts(need: NeedAnswer, batch: PlannedBatch) -> str:
    volume, mass = _amount_words(need, by_mass=False), _amount_words(need, by_mass=True)
    parts, mixture = batch.parts, batch.mixture
    if batch.jar.really is not None:
        read = readings(batch.jar.really, need.shown)
        gives = gives_words(batch.jar.really.cut, need.shop)
        return f"{read.flakes} flakes + {read.alcohol} alcohol, gives {gives}"
    into = need.title_of(thinner_of(mixture, need.products))
    if parts.of:
        each = [
            f"{mass(one.grams) if one.grams is not None else volume(one.ml or 0.0)} "
            f"{need.title_of(one.product)}"
            for one in parts.of
        ]
        thinner = [f"{volume(parts.thinner_ml)} {into}"] if parts.thinner_ml else []
        return " + ".join([*each, *thinner])
    product_ml, thinner_ml = parts.product_ml or 0.0, parts.thinner_ml or 0.0
    return f"{volume(product_ml)} {need.title_of(mixture.product)} + {volume(thinner_ml)} {into}"


def _used_up(need: NeedAnswer) -> Iterator[str]:
    rows = []
    for one in need.consumables:
        if one.unit == "ml":
            say = _amount_words(need, by_mass=False)
            amount, *ends = map(say, (one.amount.likely, one.amount.low, one.amount.high))
            ends = [end.removesuffix(f" {need.units.volume}") for end in ends]
            name = f"{need.title_of(one.name)}, to wet paper and cloth"
        elif one.unit == "m":
            lengths = (one.amount.likely, one.amount.low, one.amount.high)
            amount, *ends = (need.shown.supply(math.ceil(metres), "m") for metres in lengths)
            name = f"of {one.name}"
        else:
            amount, *ends = map(_count, (one.amount.likely, one.amount.low, one.amount.high))
            plural = "s" if one.amount.likely > 1 else ""
            within = one.unit in one.name
            name = f"{one.name}{plural}" if within else f"{one.unit}{plural} of {one.name}"
        between = "" if ends == [amount, amount] else f"({'-'.join(ends)})"
        # The names come last: the longest of them would push what is to be bought over the edge.
        rows.append((amount, between, _to_buy(need, one), name))
    yield from _table("papers and cloths", rows, right=(0,))


def _to_buy(need: NeedAnswer, one: Consumable) -> str:
    """Return how much of a supply is to be bought, in whole ones; empty where there is enough."""
    short = need.to_buy.get(one.name)
    if short is None:
        return "there"
    if one.unit == "ml":
        return f"buy {_amount_words(need, by_mass=False)(short.likely)}"
    likely, most = math.ceil(short.likely), math.ceil(short.high)
    return f"buy {likely}{f', up to {most}' if most > likely else ''}"


def _count(number: float) -> str:
    """Return how many, in quarters of a sheet while they are few."""
    return plain_number(math.ceil(number * 4) / 4 if number < 4 else math.ceil(number), 4)


def _buy(need: NeedAnswer) -> Iterator[str]:
    rows = []
    for purchase in need.supply.purchases:
        material = purchase.material
        say = _amount_words(need, by_mass=material.by_mass)
        cost = f"{purchase.cost.amount:.2f} {purchase.cost.currency}" if purchase.cost else ""
        packs = ", ".join(f"{n} x {_pack_size(need, pack)}" for pack, n in purchase.packs)
        rows.append((say(material.to_buy), need.title_of(material.product), packs, cost))
    yield from _table("buy", rows, right=(0, 3))


def _from_the_shelf(need: NeedAnswer) -> Iterator[str]:
    rows = []
    for material in need.supply.materials:
        if material.in_stock > 0:
            say = _amount_words(need, by_mass=material.by_mass)
            rows.append((say(material.in_stock), need.title_of(material.product)))
    yield from _table("take from the shelf", rows, right=(0,))


def _pack_size(need: NeedAnswer, pack: Pack) -> str:
    if pack.size_g is not None:
        return show(pack.size_g, MASS, need.units.mass)
    return show(pack.size_ml or 0.0, VOLUME, need.units.volume)


def _coat_lines(need: NeedAnswer) -> Iterator[str]:
    rows = []
    for coat in need.coats:
        say = _amount_words(need, by_mass=coat.mixture.by_mass)
        step = f"{coat.step.number} {coat.step.place}: {coat.step.title}"
        rows.append(
            (coat.piece, step, say(coat.amount.likely), need.title_of(coat.mixture.product))
        )
    yield from _table("coat by coat", rows, right=(2,))


def _table(
    head: str, rows: Sequence[tuple[str, ...]], right: tuple[int, ...] = ()
) -> Iterator[str]:
    """Give a small table under ``head``; columns are as wide as they must be, empty ones gone."""
    if not rows:
        return
    yield head
    widths = [max(map(len, cells)) for cells in zip(*rows, strict=True)]
    columns = [column for column, width in enumerate(widths) if width]
    for row in rows:
        cells = [
            row[column].rjust(widths[column])
            if column in right
            else row[column].ljust(widths[column])
            for column in columns
        ]
        yield f"  {'  '.join(cells)}".rstrip()


def _amount_words(need: NeedAnswer, *, by_mass: bool) -> Callable[[float], str]:
    """Return how an amount is told: in two digits, and what is weighed as the scale reads it."""
    if by_mass:
        return lambda g: need.shown.mass(g, DIGITS)
    return lambda ml: need.shown.volume(ml, DIGITS)


def _mixture_words(need: NeedAnswer, mixture: Mixture) -> str:
    strength = _strength(need, mixture)
    title = need.title_of(mixture.product)
    return f"{title}, {strength}" if strength else title


def _strength(need: NeedAnswer, mixture: Mixture) -> str:
    if mixture.cut_g_per_l is not None:
        return cut_words(mixture.cut_g_per_l, need.units)
    return f"{mixture.thinned_percent:g} % thinned" if mixture.thinned_percent else ""


def has_hazards(need: NeedAnswer) -> bool:
    """Tell whether anything that the job takes states a hazard."""
    used = (need.products.get(material.product) for material in need.supply.materials)
    return any(product is not None and product.hazards for product in used)
