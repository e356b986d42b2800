"""What passes over a layer and leaves nothing there, as the table of layers names it."""

from __future__ import annotations

from finishsched.checking.cases import Move
from finishsched.model.verbs import Verb

_SOAKS = (Verb.STRIP_TAPE, Verb.RAISE_GRAIN, Verb.NEUTRALISE)


def work_of(move: Move) -> str | None:
    """Return the table's word for what a step does to the layer that lies there; None for nothing.

    A damp cloth and wet paper are no soaking: films bear them within hours.
    """
    if move.verb is Verb.STEAM:
        return "work.steam"
    if move.verb is Verb.MASK:
        return "work.tape"
    if move.verb in _SOAKS or (move.verb is Verb.WASH and move.wets_with_water):
        return "work.soak"
    return None
