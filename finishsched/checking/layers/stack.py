"""The face as a schedule leaves it, layer upon layer, and what the table says of each new one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from finishsched.checking.cases import LB_G_PER_L, Move, ScheduleCase
from finishsched.checking.layers.matter import is_a, matter_of
from finishsched.checking.layers.pairs import Need, Pair, pair_for
from finishsched.checking.words import duration
from finishsched.model.doing import Lays, Wets
from finishsched.model.product import Mechanism, ProductKind
from finishsched.model.verbs import Verb

HEAVIEST_WASH_G_PER_L = 1.5 * LB_G_PER_L * 1.001
"""Shellac this thin leaves the pores open to colour (common practice)."""
CHEMICALS = (ProductKind.BLEACH, ProductKind.ALKALI)


@dataclass(slots=True)
class Layer:
    """What lies on top, and what was done to it since."""

    move: Move
    matter: str
    scuffed: bool = False
    washed: bool = False
    rinsed_at: Move | None = None


@dataclass(frozen=True, slots=True)
class Verdict:
    """A new layer that the table speaks against, and why."""

    below: Layer
    above: Move
    pair: Pair
    given_s: float
    lacks: Need | None
    """What was not done; None where only time is short."""

    @property
    def message(self) -> str:
        """What is wrong, in a sentence."""
        what = f"'{self.above.step.title}' lays {self.above.step.product or 'its product'}"
        over = self.below.move.step.lubricant or ""
        over = self.below.move.step.product or over or self.below.matter
        return f"{what} {self._how(over)}: {self.pair.why}"

    def _how(self, over: str) -> str:
        if self.lacks is Need.SCUFF:
            return f"over {over}, and nothing rubs that dull"
        if self.lacks is Need.WASH:
            return f"over {over} that no solvent washed off"
        if self.lacks is Need.RINSE:
            return f"over {over} that nothing rinsed off"
        if self.lacks is None:
            when = f"{duration(self.given_s)} after" if self.given_s else "at once after"
            return f"{when} {over}"
        return f"over {over}"


def verdicts(case: ScheduleCase) -> Iterator[Verdict]:
    """Give every layer of a schedule that the table speaks against, in the order of the work."""
    top: Layer | None = None
    for move in case.moves:
        layer = _layer_of(move)
        if layer is not None:
            if top is not None and not _goes_on(top, layer):
                yield from _judged(case, top, layer)
            top = layer
        elif top is not None:
            _work_on(top, move)
        if move.lubricant is not None and move.lubricant.kind.row.oils and top is not None:
            top = Layer(move, matter_of(move.lubricant))


def _layer_of(move: Move) -> Layer | None:
    """Return the layer that a step leaves; None where it leaves none, or nobody knows of what."""
    if move.product is None:
        return None
    if move.verb is Verb.FILL and move.kind is ProductKind.POWDER:
        return Layer(move, "filler.pumice")
    if move.verb.does.lays is Lays.NOTHING and move.kind not in CHEMICALS:
        # A wax that serves as the lubricant of a rub stays on the face.
        return Layer(move, "wax") if move.kind is ProductKind.WAX else None
    return Layer(move, matter_of(move.product))


def _goes_on(top: Layer, layer: Layer) -> bool:
    """Tell whether a layer is more of the same, which other rules watch over."""
    same = top.move.step.product == layer.move.step.product
    padded_with_oil = top.move.verb.lays_coats and top.matter == "oil.mineral"
    return same or (padded_with_oil and layer.move.step.product == top.move.step.product)


def _judged(case: ScheduleCase, top: Layer, layer: Layer) -> Iterator[Verdict]:
    pair = pair_for(top.matter, layer.matter)
    if pair is None or _is_washed_on(top, layer):
        return
    chemical = top.move.kind in CHEMICALS
    since = (top.rinsed_at if chemical else None) or top.move
    given_s = case.earliest_s(since, layer.move)
    lacks = _lacking(pair.needs, top, layer)
    if lacks is not None or given_s < pair.after_s:
        too_soon = given_s < pair.after_s and lacks is not Need.NEVER
        yield Verdict(top, layer.move, pair, given_s, None if too_soon else lacks)


def _is_washed_on(top: Layer, layer: Layer) -> bool:
    """Tell whether colour goes on over a wash coat, which is laid so that it takes evenly."""
    thin = 0.0 < (top.move.step.cut_g_per_l or 0.0) <= HEAVIEST_WASH_G_PER_L
    colours = is_a(layer.matter, "stain") or is_a(layer.matter, "dye")
    return thin and colours and layer.matter != "dye.water"


def _lacking(need: Need | None, top: Layer, layer: Layer) -> Need | None:
    done = {
        None: True,
        Need.NEVER: False,
        Need.SEAL: False,
        Need.SCUFF: top.scuffed,
        Need.WASH: top.washed,
        Need.RINSE: top.rinsed_at is not None,
        Need.SPRAY: layer.move.verb is Verb.SPRAY,
    }
    return None if done[need] else need


def _work_on(top: Layer, move: Move) -> None:
    """Keep what a step does to the layer on top."""
    if move.verb.abrades:
        top.scuffed = True
    if move.verb.does.cleans and _is_solvent(move):
        top.washed = True
    if move.verb.does.wets is Wets.WATER or (move.verb.does.cleans and move.wets_with_water):
        top.rinsed_at = move


def _is_solvent(move: Move) -> bool:
    thins = move.kind is ProductKind.THINNER and move.product is not None
    if thins and move.product is not None:
        return move.product.mechanism is not Mechanism.WATER
    return move.kind is ProductKind.ALCOHOL
