"""Rules about what nobody stated, so that something usual is taken for it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from finishsched.checking.cases import PieceCase, ShopCase
from finishsched.checking.rule import Example, Found, Kind, Rule, Severity
from finishsched.checking.rules.examples import lid
from finishsched.model.woods import woods_of


def _no_hours(case: ShopCase) -> Iterator[Found]:
    own = {person.name for person in case.shop.persons if person.hours}
    if case.shop.hours or (case.shop.people and own.issuperset(case.shop.people)):
        return
    yield Found(
        ("shop",), "no hours are stated: the plan takes hands for granted every day from 8 to 22"
    )


def _no_room_volume(case: ShopCase) -> Iterator[Found]:
    if "alcohol" not in case.written or any(room.volume_m3 for room in case.shop.rooms):
        return
    yield Found(
        ("rooms",) if case.shop.rooms else ("alcohol",),
        "it mixes with alcohol and no room has a volume: how much vapour a day's coats make of "
        "its air cannot be told",
    )


def _unknown_wood(case: PieceCase) -> Iterator[Found]:
    if not re.search("[a-z]", case.piece.made_of.lower()) or woods_of(case.piece.made_of):
        return
    yield Found(
        case.key("species"),
        f"no wood in {case.piece.made_of!r} is known here: pores, oil and hollows of "
        f"'{case.piece.title}' are guessed widely",
    )


UNSTATED_RULES = (
    Rule(
        "no-hours",
        "No hours",
        Severity.ADVICE,
        "A coat has to be met again while its window is open, and a plan puts work where hands "
        "are. Without hours both reckon with a shop that is open every day from eight to ten.",
        "add 'hours:', such as [Mon-Thu 18:30-21:30, Sat 9:00-17:00]",
        "our assumption where none are stated",
        Example(
            "shop: Corner\nusual_air: {temperature: 18 degC, humidity: 55 %}\n",
            ("shop: Corner\n", "shop: Corner\nhours: [Mon-Thu 18:30-21:30]\n"),
            Kind.SHOP,
        ),
        on_shop=_no_hours,
    ),
    Rule(
        "no-room-volume",
        "No volume of the room",
        Severity.ADVICE,
        "What a coat gives off goes into the air of one room, and a small closed one passes a "
        "limit sooner than anybody smells it. The product's data sheet and local codes come first.",
        "add 'volume:' to the room, its length by width by height, and 'air_flow:'",
        "ventilation arithmetic of industrial hygiene texts",
        Example(
            "shop: Corner\nalcohol: {strength: 95 %vol}\nrooms:\n  - {room: shed}\n",
            ("room: shed", "room: shed, volume: 40 m3, air_flow: 60 m3/h"),
            Kind.SHOP,
        ),
        on_shop=_no_room_volume,
    ),
    Rule(
        "unknown-wood",
        "A wood that is not in the tables",
        Severity.ADVICE,
        "Whether pores want filling, whether the wood is oily and how deep its hollows are comes "
        "from a table of woods. For one that is not there no rule can warn, and the film is told "
        "in wide ranges.",
        "say what it is like, or what it has: 'species: quince (like pear, slightly oily)'",
        "wood handbooks, in reprint, for the woods that are known",
        Example(
            lid("padded-shellac-closed-pored", "species: quince\n"),
            ("species: quince", "species: quince like pear"),
            Kind.PIECE,
        ),
        on_piece=_unknown_wood,
    ),
)
