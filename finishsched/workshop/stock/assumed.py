"""What a reckoning of material assumes, in sentences."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from finishsched.mixing.account import OILY_CLOTH_KEEPS_S, PAD_KEEPS_S, pad_keeps_s
from finishsched.mixing.amount import BARE_WOOD_TAKES_ML_PER_M2, Pores
from finishsched.mixing.consumables import CLOTH_MM, SHEET_MM
from finishsched.mixing.keeping import MONTH_S, life_of
from finishsched.mixing.need import Coat, Unreckoned
from finishsched.mixing.supply import Supply
from finishsched.model.product import Product, ProductKind
from finishsched.numerals import counted
from finishsched.units import SPREAD, plain_number, show
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.base.shown import shown_of
from finishsched.workshop.stock.stock import StockAnswer, StockState


def assumptions(
    coats: Sequence[Coat],
    unreckoned: Iterable[Unreckoned],
    found: Supply,
    papers: Papers,
    stock: StockAnswer,
) -> tuple[str, ...]:
    """Return each thing taken for granted in the answer, the weightiest first."""
    if not coats:
        return tuple(_not_reckoned(unreckoned, papers))
    return (
        *_own_figures(coats, papers),
        *_losses(coats),
        *_pads(coats, papers),
        *_bare_wood(coats, papers),
        *_jars(coats, found, papers),
        *_shelf(found, papers, stock),
        *_packs(found),
        *_not_reckoned(unreckoned, papers),
    )


def _own_figures(coats: Iterable[Coat], papers: Papers) -> Iterator[str]:
    """Say what the shop lays itself where its journal tells."""
    known = [coat.own for coat in coats if coat.own is not None]
    for own in dict.fromkeys(known):
        words = own.verb.does.one_coat or f"a step of {own.verb.value}"
        figure = plain_number(own.factor.likely, 2)
        low = plain_number(own.factor.low, 2)
        high = plain_number(own.factor.high, 2)
        between = f"{low} to {high}"
        told = counted(own.entries, "entry")
        yield (
            f"here {words} lays {figure} times what schedules say ({between}), by {told} "
            f"({_title(own.product, papers)})"
        )


def _losses(coats: Iterable[Coat]) -> Iterator[str]:
    """Say what is lost on the way, by how it is laid."""
    verbs = dict.fromkeys(coat.step.verb for coat in coats)
    for verb in verbs:
        does = verb.does
        if does.lost:
            yield (
                f"{100 * does.lost_share:g} % of what is used to {verb.value} is lost on the way "
                f"({100 * does.least_lost_share:g} % in the low figures; {does.lost_source})"
            )
    if any(verb.does.lost is None for verb in verbs):
        yield "filler, glue and what else the schedule states are taken as stated, without loss"


def _pads(coats: Iterable[Coat], papers: Papers) -> Iterator[str]:
    """Say what fresh pads take up before they lay anything, and how long one serves."""
    charging = [coat for coat in coats if coat.pad_ml > 0]
    volume = shown_of(papers.shop).volume
    for keeps_s, lasts in _PAD_LASTS.items():
        charges_ml = [
            coat.pad_ml
            for coat in charging
            if pad_keeps_s(papers.products.get(coat.mixture.product)) == keeps_s
        ]
        if charges_ml:
            held = dict.fromkeys([volume(charge_ml) for charge_ml in charges_ml])
            yield (
                f"a fresh pad or cloth takes up {' or '.join(held)} before it lays anything, and "
                f"serves every piece of its product {lasts}: {volume(sum(charges_ml))} in all "
                "(our assumption)"
            )


_PAD_LASTS = {
    PAD_KEEPS_S: "for a week in a closed box",
    OILY_CLOTH_KEEPS_S: "for an evening, after which it is put out safe with the rags",
}


def _bare_wood(coats: Sequence[Coat], papers: Papers) -> Iterator[str]:
    """Say what bare wood may drink besides."""
    unit = f"{papers.shop.units.volume}/{papers.shop.units.area}"

    def spread(ml_per_m2: float) -> str:
        return show(ml_per_m2, SPREAD, unit, digits=2)

    for pores in dict.fromkeys(coat.into_wood for coat in coats if coat.into_wood):
        takes = BARE_WOOD_TAKES_ML_PER_M2[pores]
        names = dict.fromkeys(coat.piece for coat in coats if coat.into_wood is pores)
        yield (
            f"of the first coat bare wood may drink {spread(takes.likely)} besides "
            f"({spread(takes.low)} to {spread(takes.high)}), which the high figures count, "
            f"{_pore_words(pores)}: {', '.join(names)} (our assumption)"
        )
    if any(_is_oil(coat, papers.products.get(coat.mixture.product)) for coat in coats):
        yield "an oil's own amount is what soaks in; bare wood adds nothing to it"


def _pore_words(pores: Pores) -> str:
    if pores is Pores.UNKNOWN:
        return "how open its pores are being unknown"
    return f"its pores being {pores.value}"


def _is_oil(coat: Coat, product: Product | None) -> bool:
    """Tell whether a coat is of oil, which soaks in."""
    is_oil = product is not None and product.kind is ProductKind.OIL
    return is_oil and coat.step.verb.lays_coats


def _jars(coats: Iterable[Coat], found: Supply, papers: Papers) -> Iterator[str]:
    """Say how jars are reckoned."""
    if any(coat.let_down_ml > 0 for coat in coats):
        yield (
            "coats of one step that grow weaker are let down with alcohol at the bench, "
            "from a jar of the strongest"
        )
    if not found.batches:
        return
    if any(batch.parts.flakes_g for batch in found.batches):
        alcohol = papers.shop.alcohol
        yield (
            f"alcohol is {alcohol.strength_percent_vol:g} %vol, measured at "
            f"{shown_of(papers.shop).degrees(alcohol.at_c)}"
        )
    yield from _lives(found, papers)
    if not papers.shop.jars_ml:
        yield "the shop lists no jars, so there is one batch for each cut"
    if any(batch.after_s > 0 for batch in found.batches):
        yield "all pieces begin together and no wait is longer than likely"


def _lives(found: Supply, papers: Papers) -> Iterator[str]:
    """Say how long mixed jars keep, those that keep alike together."""
    alike: dict[tuple[float, float, str], list[str]] = {}
    mixed = [batch.mixture.product for batch in found.batches]
    for product in dict.fromkeys(mixed):
        life = life_of(papers.products.get(product), mixed=True)
        least_s = life.test_from_s or life.typical_s
        if least_s is not None and life.typical_s is not None:
            key = least_s / MONTH_S, life.typical_s / MONTH_S, life.test
            alike.setdefault(key, []).append(_title(product, papers))
    for (least, typical, test), titles in alike.items():
        tested = f"; {test}" if test else ""
        yield (
            f"a mixed jar is used up within {plain_number(least, 2)} months (typically it keeps "
            f"{plain_number(typical, 2)}): {', '.join(titles)}{tested}"
        )


def _shelf(found: Supply, papers: Papers, stock: StockAnswer) -> Iterator[str]:
    """Say what is taken from the shelf, and what of that is tested first."""
    taken = {name for supplied in found.mixtures for name in supplied.taken_from}
    if taken:
        yield "a batch on the shelf serves for its own product and cut, while it is usable today"
    for row in stock.batches:
        if row.batch.name in taken and StockState.TEST in row.states:
            yield f"{row.batch.name} is tested before it is used: {row.life.test}"
    wanted = [supplied.need.mixture.product for supplied in found.mixtures]
    products = [papers.products.get(product) for product in wanted]
    if any(product is not None and product.kind is ProductKind.SHELLAC for product in products):
        yield "shellac bought in solution is reckoned at the cut that the schedule wants"


def _packs(found: Supply) -> Iterator[str]:
    """Say by what packs are chosen."""
    bought = [purchase for purchase in found.purchases if purchase.packs]
    if any(purchase.cost is None for purchase in bought):
        yield "packs without a price are chosen for the least left over"
    if any(purchase.cost is not None for purchase in bought):
        yield "packs with a price are chosen for the least cost"
    if len(bought) < len(found.purchases):
        yield "what the shop's document lists no pack of is given as the plain amount"


def _not_reckoned(unreckoned: Iterable[Unreckoned], papers: Papers) -> Iterator[str]:
    """Say what is not reckoned, and why."""
    by_reason: dict[str, list[str]] = {}
    for one in unreckoned:
        words = f"{_title(one.product, papers)} to {one.verb.value}"
        by_reason.setdefault(one.why, []).append(words)
    for why, what in by_reason.items():
        yield f"not reckoned, since {why}: {', '.join(what)}"
    shown = shown_of(papers.shop)
    sheet, cloth = (shown.sides(*sides) for sides in (SHEET_MM, CLOTH_MM))
    yield (
        f"sheets of {sheet} and cloths of {cloth}, by what one goes over: our assumption, wide; "
        "count yours once"
    )


def _title(product: str, papers: Papers) -> str:
    found = papers.products.get(product)
    return found.title if found else product
