"""How well a schedule fits what is wanted: reasons for it and against it, each with its weight."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from finishsched.checking.cases import ScheduleCase
from finishsched.checking.moves import Move
from finishsched.film.species import is_pattern, wants_filling
from finishsched.model.doing import Lays
from finishsched.model.product import Product
from finishsched.model.readings import LOOKS as LOOKS  # noqa: PLC0414  # also asked for here
from finishsched.model.schedule import Verb
from finishsched.model.woods import woods_of
from finishsched.workshop.begin.finishes import FINISHES, GENTLE, Finish, Wear
from finishsched.workshop.begin.offers import Wanted

_SHINY = ("semi-gloss", "gloss", "high gloss")
_DARKENS = ("orange", "garnet", "linseed", "tung", "varnish", "oil")


ADVICE_WEIGHS: Mapping[str, float] = MappingProxyType(
    {
        "colour-runs": -3.0,
        "inlay-lifted": -1.5,
        "resin-bleeds": -1.5,
        "colour-blotches": -1.5,
        "epoxy-on-oily": -1.5,
    }
)
"""What advice of the checker on such a piece weighs, where it is more than a remark."""
A_REMARK = -0.3
"""What any other advice weighs."""


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason, with what it weighs: above zero speaks for the schedule."""

    says: str
    weight: float


def last_film(case: ScheduleCase) -> Move | None:
    """Return the coat of film that ends up on top; None where none is laid."""
    films = [move for move in case.films if move.product is not None]
    return films[-1] if films else None


def finish_of(case: ScheduleCase) -> Finish | None:
    """Return what the schedule's last film is like."""
    top = last_film(case)
    return FINISHES.get(top.product.kind) if top is not None and top.product is not None else None


def reasons(case: ScheduleCase, wanted: Wanted) -> Iterator[Reason]:
    """Give every reason that what is wanted gives for or against a schedule (our assumption)."""
    finish = finish_of(case)
    yield from _look(case, wanted)
    yield from _pores(case, wanted)
    yield from _use(case, wanted)
    if finish is not None:
        yield from _wear(finish, wanted)
        yield from _taste(case, finish, wanted)
    yield from _without(case, wanted)


def _look(case: ScheduleCase, wanted: Wanted) -> Iterator[Reason]:
    look = case.schedule.look
    if not wanted.sheen or not look:
        return
    apart = abs(LOOKS.index(look) - LOOKS.index(wanted.sheen))
    if apart == 0:
        yield Reason(f"{look}, as wanted", 3.0)
    elif apart == 1:
        yield Reason(f"{look}, near to {wanted.sheen}", 1.0)
    else:
        yield Reason(f"{look}, and {wanted.sheen} is wanted", -1.5 * apart)


def _pores(case: ScheduleCase, wanted: Wanted) -> Iterator[Reason]:
    open_pored = wants_filling(wanted.made_of)
    if not case.on_bare_wood:
        return  # its pores are as the old finish left them
    if open_pored is None:
        if wanted.species:
            yield Reason(f"{wanted.species} is in no table of woods: look at its pores", 0.0)
        return
    fills = any(move.is_filler or move.verb is Verb.FILL for move in case.moves)
    sheen = wanted.sheen or case.schedule.look
    if open_pored and fills:
        yield Reason(f"fills the open pores of {wanted.species}", 2.0)
    elif open_pored and sheen in _SHINY:
        yield Reason(f"leaves the pores of {wanted.species} open: no even shine", -4.0)
    elif not open_pored and fills:
        yield Reason(f"fills pores that {wanted.species} has not", -2.0)
    elif not open_pored:
        yield Reason(f"{wanted.species} needs no filler", 1.0)
    if any(wood.oily for wood in woods_of(wanted.made_of)):
        yield from _oily(case, wanted)


def _oily(case: ScheduleCase, wanted: Wanted) -> Iterator[Reason]:
    """Speak for shellac first; what the table of layers speaks against, the checker tells."""
    first = next((move for move in case.moves if move.is_film), None)
    if first is not None and first.is_shellac:
        yield Reason(
            f"shellac goes first on {wanted.species}, whose oil would stop other coats", 1.5
        )


def _use(case: ScheduleCase, wanted: Wanted) -> Iterator[Reason]:
    suits = case.schedule.suits.lower()
    pattern = is_pattern(wanted.made_of)
    if pattern and "pattern" in suits:
        yield Reason("made for woods side by side", 2.0)
    elif "pattern" in suits and wanted.species and not pattern:
        yield Reason("made for woods side by side, and this is one", -1.0)
    if any(move.verb.does.lays is Lays.COLOUR or move.verb is Verb.TONE for move in case.moves):
        yield Reason("gives the wood another colour: for where that is wanted", -1.0)
    if any(move.step.by_gun for move in case.moves):
        yield Reason("needs a spray gun, and a place where it may be used", -2.0)
    if "inside" in suits:
        yield Reason("made for insides", -1.5)
    named = [wood.name for wood in woods_of(wanted.made_of) if wood.name in suits]
    if named:
        yield Reason(f"made for {named[0]} among others", 1.0)


def _wear(finish: Finish, wanted: Wanted) -> Iterator[Reason]:
    borne = [wear for wear in Wear if wear in wanted.wear and wear in finish.bears]
    fails = [wear for wear in Wear if wear in wanted.wear and wear not in finish.bears]
    hard = [wear.value for wear in borne if wear not in GENTLE]
    if hard:
        yield Reason(f"{finish.name} bears {' and '.join(hard)}", 1.0 * len(hard))
    for wear in fails:
        yield Reason(f"{finish.name} is marked by {wear.value}", -3.0)


def _taste(case: ScheduleCase, finish: Finish, wanted: Wanted) -> Iterator[Reason]:
    if finish.reversible and not wanted.reversible:
        yield Reason("can be mended and taken off", 0.5)
    elif wanted.reversible and finish.reversible:
        yield Reason(f"comes off again: {finish.comes_off}", 2.0)
    elif wanted.reversible:
        yield Reason(f"does not come off without harm: {finish.comes_off}", -5.0)
    if wanted.pale:
        dark = [name for name in _products(case) if _darkens(name)]
        if dark:
            yield Reason(f"{dark[0]} darkens the wood", -3.0)
        else:
            yield Reason(f"keeps the wood pale: {finish.colour}", 1.0)


def _darkens(product: str) -> bool:
    return any(word in product for word in _DARKENS)


def _products(case: ScheduleCase) -> list[str]:
    return [move.product.id for move in case.films if move.product is not None]


def _without(case: ScheduleCase, wanted: Wanted) -> Iterator[Reason]:
    for word in sorted(wanted.without):
        used = next(_uses(case, word), None)
        if used is not None:
            yield Reason(f"takes {used}, which is not wanted", -10.0)


def _uses(case: ScheduleCase, word: str) -> Iterator[str]:
    """Give what of a schedule is called ``word``: a way, a product, a kind or a solvent."""
    for move in case.moves:
        if move.verb.value == word:
            yield word
        for product in move.brings:
            yield from (product.title for name in _names(product, case.products) if word in name)


def _names(product: Product, products: Mapping[str, Product]) -> Iterator[str]:
    yield product.id.replace("-", " ")
    yield product.kind.value
    for share in product.solvents or ():
        yield share.liquid.value
    thinner = products.get(product.thinner or "")
    if thinner is not None:
        yield thinner.id.replace("-", " ")
