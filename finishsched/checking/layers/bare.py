"""What the table of layers says of bare wood: oil, resin, tannin, colour taken unevenly."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from finishsched.checking.cases import ScheduleCase
from finishsched.checking.layers.matter import FILMS, is_a, matter_at
from finishsched.checking.layers.pairs import Need, Pair, asked_of
from finishsched.checking.layers.stack import layer_of
from finishsched.checking.moves import Move
from finishsched.model.doing import Lays
from finishsched.model.woods import Degree, Wood, woods_of

ROSEWOODS = ("Dalbergia",)
"""Whose wood holds what keeps oil and varnish from drying, beside its oil (common practice)."""


def _is_rosewood(wood: Wood) -> bool:
    return wood.botanical.startswith(ROSEWOODS)


BARE: Mapping[str, Callable[[Wood], bool]] = MappingProxyType(
    {
        "wood.oily": lambda wood: wood.oily,
        "wood.oily.rosewood": lambda wood: wood.oily and _is_rosewood(wood),
        "wood.resinous": lambda wood: wood.resinous and wood.pores == "softwood",
        "wood.blotching": lambda wood: wood.blotches is Degree.YES,
        "wood.tannin": lambda wood: wood.tannin is Degree.HIGH,
        "wood.untanned": lambda wood: wood.tannin is Degree.NO and wood.is_pale,
    }
)
"""What the table calls a bare wood by, and which woods are of that kind."""
FIGURED = r"\b(?:curly|figured|quilted|tiger|fiddleback|bird'?s? ?eye|flamed|rippled)\b"
"""Wood that is coloured unevenly on purpose, so that its figure shows."""


@dataclass(frozen=True, slots=True)
class OnWood:
    """A layer that the table speaks against on bare wood, and the woods that it is."""

    woods: tuple[str, ...]
    move: Move
    pair: Pair


def on_wood(case: ScheduleCase, species: str) -> Iterator[OnWood]:
    """Give the first layer of a schedule that each property of its woods speaks against.

    Nothing is bare any more once a film, an oil or a wash of shellac lies on it, nor where the
    schedule begins on an old finish.
    """
    if not case.on_bare_wood:
        return
    woods = woods_of(species)
    for matter in BARE:
        names = tuple(wood.name for wood in woods if matter in _matters_of(wood))
        found = next(_against(case, matter), None) if names else None
        if found is not None:
            yield OnWood(names, *found)


def _matters_of(wood: Wood) -> tuple[str, ...]:
    """Return what the table calls a bare wood by, each in its narrowest name."""
    found = tuple(matter for matter, is_such in BARE.items() if is_such(wood))
    return tuple(one for one in found if not any(other.startswith(f"{one}.") for other in found))


def _against(case: ScheduleCase, matter: str) -> Iterator[tuple[Move, Pair]]:
    for move in case.moves:
        layer = layer_of(move)
        if layer is None:
            continue
        against = (pair for pair in asked_of(matter, layer.matter) if not _met(case, move, pair))
        yield from ((move, pair) for pair in against)
        if any(is_a(layer.matter, shut) for shut in (*FILMS, "two-part", "oil", "paint")):
            return


def _met(case: ScheduleCase, move: Move, pair: Pair) -> bool:
    """Tell whether what a row needs was done: a fast solvent before, a gun in the hand."""
    done = {
        Need.SPRAY: lambda: move.step.by_gun,
        Need.WASH: lambda: _is_washed(case, move, pair.until_s),
        Need.MEANT: lambda: move.verb.does.lays is Lays.COLOUR,
        Need.TANNIN: lambda: any(matter_at(one) == "mordant.tannin" for one in case.before(move)),
        Need.FRESH: lambda: _is_fresh(case, move, pair.until_s),
    }
    return bool(pair.needs) and all(one in done and done[one]() for one in pair.needs)


def _is_washed(case: ScheduleCase, move: Move, within_s: float) -> bool:
    """Tell whether a solvent took the wood's oil off, so late that it has not come back by a step.

    Without end where the row names no time.
    """
    washed = [one for one in case.before(move) if one.washes]
    return bool(washed) and case.earliest_s(washed[-1], move) <= (within_s or math.inf)


def _is_fresh(case: ScheduleCase, move: Move, within_s: float) -> bool:
    """Tell whether bare wood was cut or washed just before a step, or nobody says when."""
    opened = [one for one in case.before(move) if one.verb.abrades or one.washes]
    return not opened or case.earliest_s(opened[-1], move) <= within_s
