"""Rules about a shop's air: what never dries in it, and what takes far longer than is written."""

from __future__ import annotations

import math
from collections.abc import Iterator
from types import MappingProxyType

from finishsched.checking.cases import PieceCase, ScheduleCase
from finishsched.checking.layers.matter import HARDENS_IN_DAMP, matter_at
from finishsched.checking.moves import Move
from finishsched.checking.rule import Example, Found, Kind, Rule, Severity
from finishsched.checking.rules.examples import lid
from finishsched.checking.words import duration
from finishsched.drying.figures import Phase
from finishsched.drying.laws import SCHEDULE_AIR, product_law, stop_reason
from finishsched.model.doing import Lays
from finishsched.model.how import tells

DRIEST_FOR_TREE_LACQUER_PERCENT = 60.0
"""Of the air's humidity; it is hardened at 65 to 85 % and 20 to 30 degC (common practice)."""
LONGER = 1.5
"""Times the written wait, from which on it is worth a word (our assumption)."""
COLDEST_GLUE_C = MappingProxyType(
    {"glue.pva": 10.0, "glue.urea": 10.0, "glue.epoxy": 10.0, "glue.contact": 15.0}
)
"""Makers' data sheets print 4 to 13 degC for PVA, near 10 for the others; hide glue is warmed."""
GELS_BELOW_C = MappingProxyType({"glue.hide": 15.0})
"""Hot glue is a jelly before hammer or clamp is there (common practice: a warm room, warm wood)."""
FREEZING_C = 0.0
"""Below it no other glue sets either."""


def _air_stops_drying(case: PieceCase) -> Iterator[Found]:
    if case.shop is None:
        return
    told = set()
    for move in case.left:
        if not move.lays or move.product is None or move.product.id in told:
            continue
        told.add(move.product.id)
        law = product_law(move.product, Phase.RECOAT)
        if _wants_damper(case, move):
            yield Found(
                case.key("schedule"),
                f"{move.product.id} does not harden in the {_words(case.schedule)}: it takes the "
                "water for that from the air",
                "a closed cupboard with wet cloths in it, 65 to 85 % and 20 to 30 degC",
            )
            continue
        stop = stop_reason(law, case.schedule.air) if law is not None else None
        if stop is not None:
            yield Found(
                case.key("schedule"),
                f"{move.product.id} does not dry in the {_words(case.schedule)}, {stop.value}",
            )


def _wants_damper(case: PieceCase, move: Move) -> bool:
    """Tell whether the sap of the lacquer tree is laid in dry air, with no damp place named."""
    dry = case.schedule.air.humidity_percent < DRIEST_FOR_TREE_LACQUER_PERCENT
    damp = r"\b(?:damp|moist|humid|wet|steam)"
    return (
        dry
        and matter_at(move) == HARDENS_IN_DAMP
        and not any(tells(one.step.how, damp) for one in case.left if not one.verb.does.cleans)
    )


def _glue_too_cold(case: PieceCase) -> Iterator[Found]:
    if case.shop is None:
        return
    room_c = case.schedule.air.temperature_c
    for move in case.left:
        glues = move.verb.does.lays is Lays.GLUE
        if glues and room_c < COLDEST_GLUE_C.get(matter_at(move), FREEZING_C):
            yield Found(
                case.key("schedule"),
                f"{move.step.product} is to set at '{move.step.title}' in the "
                f"{_words(case.schedule)}: it sets to chalk or not at all, and the joint lets go",
            )
            return
        if glues and room_c < GELS_BELOW_C.get(matter_at(move), FREEZING_C):
            yield Found(
                case.key("schedule"),
                f"{move.step.product} is laid at '{move.step.title}' in the "
                f"{_words(case.schedule)}: it is a jelly before the joint is closed",
                "warm room, wood and tools, and lay less at a time",
                contested=True,
            )
            return


def _waits_longer(case: ScheduleCase) -> Iterator[Found]:
    for move, factor in _longer(case):
        yield Found(move.key("wait"), _says(case, move, factor))


def _waits_longer_for(case: PieceCase) -> Iterator[Found]:
    if case.beside_its_schedule or case.shop is None:
        return
    slowest = max(_longer(case.schedule), key=lambda pair: pair[1], default=None)
    if slowest is not None:
        yield Found(case.key("schedule"), _says(case.schedule, *slowest))


def _longer(case: ScheduleCase) -> Iterator[tuple[Move, float]]:
    """Give the longest wait of each product that takes much longer here, with how many times."""
    longest: dict[str, Move] = {}
    for move in case.moves:
        if move.lays and move.earliest_s and move.product is not None:
            other = longest.setdefault(move.product.id, move)
            if move.earliest_s > other.earliest_s:
                longest[move.product.id] = move
    for move in longest.values():
        factor = case.slower(move)
        if LONGER <= factor < math.inf:
            yield move, factor


def _says(case: ScheduleCase, move: Move, factor: float) -> str:
    return (
        f"in the {_words(case)} {move.step.product} takes about {factor:.2g} times as long as "
        f"waits are written, for {SCHEDULE_AIR.temperature_c:g} degC: the "
        f"{duration(move.earliest_s)} after '{move.step.title}' are some "
        f"{duration(move.earliest_s * factor)} here"
    )


def _words(case: ScheduleCase) -> str:
    what = "air of this shop as read of late" if case.read_air else "usual air of this shop"
    return f"{what} ({case.air.temperature_c:.0f} degC, {case.air.humidity_percent:.0f} %)"


AIR_RULES = (
    Rule(
        "air-stops-drying",
        "A finish that does not dry in this shop",
        Severity.ERROR,
        "Below about 10 degC a waterborne film falls to powder instead of joining, and oil in cold "
        "damp air stays sticky. No waiting mends it.",
        "warm the room by means that bring no flame near solvents, or choose another finish",
        "makers' data sheets, printed for the class: not below about 10 degC",
        Example(
            lid("waterborne-over-shellac"),
            ("waterborne-over-shellac", "padded-shellac-closed-pored"),
            Kind.PIECE,
            shop="usual_air: {temperature: 8 degC, humidity: 55 %}\n",
        ),
        on_piece=_air_stops_drying,
    ),
    Rule(
        "glue-too-cold",
        "Glue that does not set in this shop",
        Severity.ERROR,
        "Below its least temperature a water glue dries to white chalk, and what reacts stops. The "
        "joint holds in the clamps and lets go later; warming it afterwards mends nothing.",
        "warm room, wood and glue for as long as it is clamped, by means that bring no flame near "
        "solvents",
        "makers' data sheets, printed for the class: PVA not below 4 to 13 degC",
        Example(
            lid("veneer-glue-up"),
            ("veneer-glue-up", "padded-shellac-closed-pored"),
            Kind.PIECE,
            shop="usual_air: {temperature: 5 degC, humidity: 55 %}\n",
        ),
        on_piece=_glue_too_cold,
    ),
    Rule(
        "waits-longer-here",
        "A shop in which waits are far longer than they are written",
        Severity.ADVICE,
        "Waits of a schedule hold in a usual room. In a cold one each of them is longer; the cure "
        "clock, the plan and the dates reckon with that, and paper on the wall does not. What is "
        "sanded or covered by the written figure is still soft.",
        "go by the clock and the dry check and not by the figure, or warm the room by means that "
        "bring no flame near solvents",
        "our drying laws; common practice: below 15 degC double it, below 10 degC do not begin",
        Example(
            lid("padded-shellac-closed-pored"),
            ("padded-shellac-closed-pored", "wiped-oil"),
            Kind.PIECE,
            shop="usual_air: {temperature: 13 degC, humidity: 55 %}\n",
        ),
        on_schedule=_waits_longer,
        on_piece=_waits_longer_for,
    ),
)
