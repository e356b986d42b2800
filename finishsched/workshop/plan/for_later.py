"""Pieces with a step to do that is left for later, told as that: one answer on every face."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from finishsched.workshop.base.answers import DueAnswer, Later
from finishsched.workshop.plan.what_now import HeldBy, WhatNow

_LEAVES = (HeldBy.DUST, HeldBy.HANDS, HeldBy.HOURS, HeldBy.SITTING)
"""What leaves a step that is to do for later; a wait, and what is worked beside it, tell
themselves."""
_LEAVES_AT_ANY_HOUR = (HeldBy.DUST,)
"""It falls on a wet coat whoever is here."""


def later_of(found: WhatNow) -> Mapping[str, Later]:
    """Return, by piece, why its step is not to be begun now; with nobody here, for dust alone."""
    leaves = _LEAVES if found.hands else _LEAVES_AT_ANY_HOUR
    return {
        ref: Later(each.why.rstrip(","), each.until)
        for each in (*found.held, *found.soon)
        if each.by in leaves
        for ref in each.refs or (each.ref,)
    }


def due_with_later(due: DueAnswer, found: WhatNow) -> DueAnswer:
    """Return ``due`` with what is left for later among what is coming."""
    later = later_of(found)
    pieces = [piece.left_for(later.get(piece.ref)) for piece in due.at_hand]
    return replace(
        due,
        at_hand=tuple(piece for piece in pieces if piece.later is None),
        coming=(*(piece for piece in pieces if piece.later is not None), *due.coming),
    )
