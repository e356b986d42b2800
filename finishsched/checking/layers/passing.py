"""What passes over a layer and leaves nothing there, as the table of layers names it."""

from __future__ import annotations

from finishsched.checking.cases import Move
from finishsched.model.doing import Wets
from finishsched.model.product import ProductKind
from finishsched.model.verbs import Verb


def work_of(move: Move) -> str | None:
    """Return the table's word for what a step does to the layer that lies there; None for nothing.

    A damp cloth is no soaking, and wet paper less than one: films bear it within hours.
    """
    if move.verb is Verb.STEAM:
        return "work.steam"
    if move.verb is Verb.MASK:
        return "work.tape"
    soaks = move.wets is Wets.WATER  # tape, raised grain, what rinses a bleach
    if soaks or (move.verb is Verb.WASH and move.wets_with_water):
        return "work.soak"
    if move.verb.abrades and move.wets_with_water:
        return "work.paper"
    if move.verb.does.cleans and move.kind is ProductKind.ALCOHOL:
        return "work.alcohol"
    thins = move.kind is ProductKind.THINNER and not move.wets_with_water
    return "work.thinner" if move.verb.does.cleans and thins else None
