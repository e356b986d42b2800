"""Rules about the shop itself: its air, its alcohol, its rooms."""

from __future__ import annotations

from collections.abc import Iterator

from finishsched.checking.cases import ShopCase
from finishsched.checking.rule import Example, Found, Kind, Rule, Severity
from finishsched.drying.air import (
    LEAST_ROOM_C,
    MOST_HUMIDITY_FOR_ALCOHOL_PERCENT,
    MOST_HUMIDITY_PERCENT,
)
from finishsched.mixing.cut import LEAST_STRENGTH_PERCENT_VOL

MOST_ROOM_C = 30.0
"""Above it films set before they flow (common practice, no source)."""
COLDEST_ROOM_C = 10.0
"""Below it nothing is begun (common practice, no source)."""


def _no_usual_air(case: ShopCase) -> Iterator[Found]:
    if "usual_air" not in case.written:
        air = case.shop.usual_air
        warmth = case.shop.units.tell(air.temperature_c, "degC")
        yield Found(
            ("shop",),
            "no usual air is stated: every clock runs by "
            f"{warmth} and {air.humidity_percent:g} % until somebody reads it",
        )


def _room_too_cold(case: ShopCase) -> Iterator[Found]:
    room_c = case.shop.usual_air.temperature_c
    if room_c < LEAST_ROOM_C:
        warmth = case.shop.units.tell(room_c, "degC")
        yield Found(
            ("usual_air", "temperature"),
            f"the room usually has {warmth}: films flow badly and stay soft for long",
            grave=room_c < COLDEST_ROOM_C,
        )


def _room_too_warm(case: ShopCase) -> Iterator[Found]:
    room_c = case.shop.usual_air.temperature_c
    if room_c > MOST_ROOM_C:
        warmth = case.shop.units.tell(room_c, "degC")
        yield Found(
            ("usual_air", "temperature"),
            f"the room usually has {warmth}: films set before they flow, pads and brushes drag, "
            "and solvent boils up in bubbles",
        )


def _room_too_humid(case: ShopCase) -> Iterator[Found]:
    percent = case.shop.usual_air.humidity_percent
    if percent > MOST_HUMIDITY_FOR_ALCOHOL_PERCENT:
        yield Found(
            ("usual_air", "humidity"),
            f"the room usually has {percent:g} % humidity: alcohol and lacquer films turn white "
            "in it",
            grave=percent > MOST_HUMIDITY_PERCENT,
        )


def _weak_alcohol(case: ShopCase) -> Iterator[Found]:
    strength = case.shop.alcohol.strength_percent_vol
    if strength < LEAST_STRENGTH_PERCENT_VOL:
        yield Found(
            ("alcohol", "strength"),
            f"alcohol of {strength:g} %vol holds much water: shellac dissolves badly in it, dries "
            "slowly and clouds",
        )


def _no_fresh_air(case: ShopCase) -> Iterator[Found]:
    for at, room in enumerate(case.shop.rooms):
        if room.volume_m3 and not room.air_flow_m3_per_h:
            yield Found(
                ("rooms", at),
                f"the room {room.name!r} has a volume and no fresh air: its vapour cannot be "
                "reckoned, and nothing takes it away",
            )


SHOP_RULES = (
    Rule(
        "no-usual-air",
        "No usual air",
        Severity.ADVICE,
        "Warmth and humidity decide how long every wait takes. Until somebody logs a reading, "
        "the clocks go by the shop's usual air.",
        "add 'usual_air:', such as {temperature: 18 degC, humidity: 55 %}",
        "drying laws of this program; common practice",
        Example(
            "shop: Corner\n",
            (
                "shop: Corner\n",
                "shop: Corner\nusual_air: {temperature: 18 degC, humidity: 55 %}\n",
            ),
            Kind.SHOP,
        ),
        on_shop=_no_usual_air,
    ),
    Rule(
        "room-too-cold",
        "A cold room",
        Severity.ADVICE,
        "Below 15 degC varnish ropes, shellac drags and every wait doubles; a cold piece draws "
        "the dew.",
        "warm the room first, by means that bring no flame near solvents",
        "common practice, no source",
        Example(
            "shop: Corner\nusual_air: {temperature: 12 degC, humidity: 55 %}\n",
            ("12 degC", "18 degC"),
            Kind.SHOP,
        ),
        on_shop=_room_too_cold,
    ),
    Rule(
        "room-too-warm",
        "A hot room",
        Severity.ADVICE,
        "Above 30 degC alcohol and thinner are gone before a film is even, varnish skins over what "
        "is still wet, and warm wood blows bubbles out of its pores.",
        "work in the morning, shade the piece, use a slower thinner",
        "common practice, no source",
        Example(
            "shop: Corner\nusual_air: {temperature: 34 degC, humidity: 45 %}\n",
            ("34 degC", "24 degC"),
            Kind.SHOP,
        ),
        on_shop=_room_too_warm,
    ),
    Rule(
        "room-too-humid",
        "A damp room",
        Severity.ADVICE,
        "Alcohol cools the film as it leaves. Above about 65 % humidity that draws water out of "
        "the air into it, and it turns white.",
        "dry the air, coat on dry days, or use a slower alcohol from 2 % up",
        "coatings guides: no lacquer above about 65 % humidity",
        Example(
            "shop: Corner\nusual_air: {temperature: 18 degC, humidity: 75 %}\n",
            ("75 %", "55 %"),
            Kind.SHOP,
        ),
        on_shop=_room_too_humid,
    ),
    Rule(
        "weak-alcohol",
        "Alcohol with much water in it",
        Severity.ADVICE,
        "Shellac wants strong alcohol. With a tenth of water it dissolves slowly, dries slowly and "
        "blushes; what it does not dissolve settles out.",
        "use 95 %vol or stronger",
        "common practice",
        Example(
            "shop: Corner\nusual_air: {temperature: 18 degC, humidity: 55 %}\n"
            "alcohol: {strength: 80 %vol, at: 20 degC}\n",
            ("80 %vol", "95 %vol"),
            Kind.SHOP,
        ),
        on_shop=_weak_alcohol,
    ),
    Rule(
        "no-fresh-air",
        "A room without fresh air",
        Severity.ADVICE,
        "Vapour leaves with the air that leaves. Without a flow the day's coats add up in the "
        "room; the product's data sheet and local codes come first.",
        "add 'air_flow:', what comes in through window and fan",
        "ventilation arithmetic of industrial hygiene texts",
        Example(
            "shop: Corner\nusual_air: {temperature: 18 degC, humidity: 55 %}\n"
            "rooms:\n  - {room: shed, volume: 40 m3}\n",
            ("volume: 40 m3", "volume: 40 m3, air_flow: 60 m3/h"),
            Kind.SHOP,
        ),
        on_shop=_no_fresh_air,
    ),
)
