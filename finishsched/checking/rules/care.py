"""Rules about what can hurt: rags, sparks, and cautions that a document leaves out.

They never replace the product's safety data sheet, local codes or licensed practice.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from finishsched.checking.cases import PieceCase, ProductCase, ScheduleCase
from finishsched.checking.moves import Move
from finishsched.checking.rule import Example, Found, Kind, Rule, Severity
from finishsched.checking.said.asked import told_by_words
from finishsched.factors import HOUR_S
from finishsched.film.solids import carries_film
from finishsched.model.product import Mechanism, Product, ProductKind, RagHabit
from finishsched.model.room import Room, room_for

if TYPE_CHECKING:
    from finishsched.safety.ventilation import VentAnswer

_DISPOSAL = re.compile(
    r"outdoors|\bflat\b|\bspread\b|metal|under water|closed (can|tin)", re.IGNORECASE
)
_SPARKS = re.compile(r"spark|flame|booth|heater|ignit|fan\b", re.IGNORECASE)
LEAST_H = 0.25
"""A coat lasts no less with all its vapour (our assumption)."""
TOLD_OVER_LIMIT = 2.0
"""Times the limit for breathing, which holds for a whole day: a coat is less (our assumption)."""
FAR_OVER_LIMIT = 4.0
"""Times the limit for breathing: from there on an error (our assumption)."""
_DEFER = "the product's data sheet and local codes come first"


def _oily_rags(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        for product in move.brings:
            if product.rags is RagHabit.SELF_HEATING and not _says(move, product, _DISPOSAL):
                yield Found(
                    move.key("product" if product is move.product else "lubricant"),
                    f"cloths with {product.id} can catch fire by themselves, and neither "
                    "it nor the step says where they go",
                )


def _spray_near_sparks(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        flammable = any(one.is_flammable_liquid for one in move.brings)
        said = any(_SPARKS.search(text) for text in move.step.cautions)
        if move.step.by_gun and flammable and not said:
            yield Found(
                move.verb_path,
                f"{move.step.product} is sprayed, and no caution of the step speaks of booth, fan "
                "or sparks",
            )


def _caution_missing(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        for product in move.brings:
            if product.hazards and not product.cautions and not move.step.cautions:
                codes = ", ".join(product.hazards)
                yield Found(
                    move.key("product" if product is move.product else "lubricant"),
                    f"{product.id} carries {codes}, and neither it nor the step has a caution",
                )


def _vapour_in_room(case: PieceCase) -> Iterator[Found]:
    rooms = case.shop.rooms if case.shop is not None else ()
    for move in case.left:
        room = room_for(move.verb, rooms)
        answer = _vapour_of_coat(case, move, room) if room is not None else None
        if room is not None and answer is not None and answer.index > TOLD_OVER_LIMIT:
            yield Found(
                case.key("schedule"),
                f"'{move.words}' sprays {move.step.product} in '{room.name}': one coat alone "
                f"brings its air to {answer.index:.2g} times the limit for breathing"
                + (", and past a tenth of what can explode" if answer.over_fire else ""),
                contested=not answer.over_fire and answer.index < FAR_OVER_LIMIT,
            )
            return


def _vapour_of_coat(case: PieceCase, move: Move, room: Room) -> VentAnswer | None:
    """Return what one sprayed coat makes of a room's air; None where that cannot be reckoned."""
    from finishsched.safety.contents import parts_of_product  # noqa: PLC0415  # dear to load
    from finishsched.safety.ventilation import RoomAir, vent_answer  # noqa: PLC0415

    if not move.step.by_gun or move.product is None or not move.amount_ml_per_m2:
        return None
    if not room.volume_m3:
        return None
    sprayed_ml_per_m2 = move.amount_ml_per_m2 / (1 - move.verb.does.lost_share)
    parts = parts_of_product(move.product, ml=sprayed_ml_per_m2 * case.piece.area_m2)
    over_h = max(LEAST_H, case.hands_s(move) / HOUR_S)
    air = RoomAir(room.volume_m3, room.air_flow_m3_per_h or 0.0)
    return vent_answer(parts, over_h, air) if parts else None


def _says(move: Move, product: Product, wanted: re.Pattern[str]) -> bool:
    return any(wanted.search(text) for text in (*move.step.cautions, *product.cautions))


def _rags_understated(case: ProductCase) -> Iterator[Found]:
    product = case.product
    oxidises = product.mechanism is Mechanism.OXIDISING
    if oxidises and product.rags is not RagHabit.SELF_HEATING:
        yield Found(
            ("rags",),
            f"it oxidises, and its rags are called {product.rags.value}: in a heap they heat by "
            "themselves",
            "write self-heating",
        )
    elif product.rags is RagHabit.HARMLESS and product.is_flammable_liquid:
        yield Found(
            ("rags",),
            "it is a flammable liquid, and its rags are called harmless",
            "write flammable",
        )


def _wax_not_said(case: ProductCase) -> Iterator[Found]:
    product = case.product
    if product.kind.is_shellac and product.waxy is None and product.recipe is None:
        yield Found(
            ("kind",),
            "nothing says whether its wax is still in it: what may go over it is not known",
        )


def _solids_not_said(case: ProductCase) -> Iterator[Found]:
    product = case.product
    is_liquid_film = carries_film(product.kind) and product.kind is not ProductKind.FLAKES
    # Of a product that is made of others its parts tell.
    if is_liquid_film and product.recipe is None and product.volume_solids_percent is None:
        yield Found(
            ("kind",),
            "nothing says how much of it stays as film: a usual share of its kind is taken",
        )


_PRODUCT = """\
product: mine
title: Mine
kind: {kind}
mechanism: oxidising
volume_solids: 40 %
hazards: [H226]
rags: harmless
solvents: []
sources: {{volume_solids: label, hazards: label, rags: label, solvents: label}}
"""

CARE_RULES = (
    Rule(
        "oily-rags",
        "Oily rags with nowhere to go",
        Severity.ERROR,
        "Drying oil in crumpled cloth heats by itself and can burn down a shop within hours. "
        f"Whoever works by the schedule must read where the cloths go: {_DEFER}.",
        "add a caution: spread flat outdoors in one layer, or under water in a closed metal can",
        "NFPA safety tip sheet on oily rags; for hardeners found in print",
        Example(
            "- stage: body\n  steps:\n    - {wipe: thin, product: danish-oil}\n",
            (
                "danish-oil}",
                "danish-oil,\n       cautions: [Cloths go outdoors at once; flat in a layer]}",
            ),
            besides="with a product danish-oil of self-heating rags that has no cautions",
        ),
        on_schedule=_oily_rags,
    ),
    Rule(
        "spray-near-sparks",
        "Flammable spray without a word of sparks",
        Severity.ERROR,
        "Sprayed, a flammable finish fills the air that a switch, heater or brushed motor can "
        f"light. The step itself must say so: {_DEFER}.",
        "add a caution: in the booth only with its fan running, nothing that sparks within 6 m",
        "fire code: no sparking tool within 20 ft of a spray area (found)",
        Example(
            "- stage: body\n  steps:\n    - {spray: even, product: nitrocellulose-lacquer}\n",
            (
                "lacquer}",
                "lacquer,\n       cautions: [In the booth only and nothing near it that sparks.]}",
            ),
        ),
        on_schedule=_spray_near_sparks,
    ),
    Rule(
        "vapour-in-room",
        "More vapour than the room bears",
        Severity.ERROR,
        "Half of what a gun throws never lands, and all its solvent is in the air at once. In a "
        "small room with little fresh air one coat passes the limit for breathing, and a few "
        f"pieces what a spark can light: {_DEFER}.",
        "spray in a booth or in the open, or lay it by brush or pad; 'vent' tells the air it wants",
        "dilution ventilation of industrial hygiene texts; limits as 'vent' names them",
        Example(
            "piece: top\ntitle: Top\nschedule: mine\n"
            "faces: [{face: top, area: 0.4 m2}, {face: under, area: 0.4 m2}]\n",
            ("area: 0.4 m2}, {face: under, area: 0.4 m2", "area: 100 mm2"),
            Kind.PIECE,
            shop="rooms:\n  - {room: box room, volume: 12 m3, air_flow: 5 m3/h}\n",
            stages="- stage: body\n  steps:\n    - spray: even passes\n"
            "      product: nitrocellulose-lacquer\n      amount: 120 ml/m2\n"
            "      cautions: [In the booth with its fan on and nothing that sparks near.]\n",
        ),
        on_piece=_vapour_in_room,
    ),
    Rule(
        "heaped-rags",
        "Oily cloths put in a heap",
        Severity.ERROR,
        "Linseed, varnish and oil stains take up oxygen and grow warm. In a bin or a heap the "
        f"warmth stays, and within hours the cloths burn by themselves: {_DEFER}.",
        "spread each flat outdoors in one layer, or under water in a closed metal can",
        "NFPA safety tip sheet on oily rags",
        Example(
            "- stage: body\n  steps:\n"
            "    - {wipe: 'thin, then the rags go in the bin', product: boiled-linseed-oil}\n",
            ("the rags go in the bin", "the rags go outdoors, flat"),
        ),
        on_schedule=told_by_words("heaped-rags"),
    ),
    Rule(
        "caution-missing",
        "A labelled hazard without a caution",
        Severity.ERROR,
        "A product that carries hazard statements hurts those who do not know it. Its document or "
        f"the step must say in plain words what to mind: {_DEFER}.",
        "add 'cautions:' to the product, from its data sheet, or to the step",
        "UN GHS: hazard statements on the label",
        Example(
            "- stage: body\n  steps:\n    - {wipe: thin, product: bare-thinner}\n",
            ("bare-thinner}", "bare-thinner, cautions: [Gloves and an open window.]}"),
            besides="with a product bare-thinner that carries H225 and has no cautions",
        ),
        on_schedule=_caution_missing,
    ),
    Rule(
        "rags-understated",
        "Rags called safer than they are",
        Severity.ERROR,
        "Whatever oxidises heats in a heap of cloth, and a cloth wet with flammable liquid burns. "
        f"The rags ledger and every caution go by this one word: {_DEFER}.",
        "write self-heating for what oxidises, flammable for what burns",
        "NFPA safety tip sheet on oily rags",
        Example(
            _PRODUCT.format(kind="varnish"), ("rags: harmless", "rags: self-heating"), Kind.PRODUCT
        ),
        on_product=_rags_understated,
    ),
    Rule(
        "wax-not-said",
        "Shellac that does not say whether it is dewaxed",
        Severity.ADVICE,
        "Over dewaxed shellac anything may go, over waxy only shellac. Where the document does "
        "not say, no rule can warn.",
        "add 'waxy: yes' or 'waxy: no'",
        "common practice",
        Example(
            _PRODUCT.format(kind="shellac").replace("mechanism: oxidising", "mechanism: solvent"),
            ("kind: shellac", "kind: shellac\nwaxy: no"),
            Kind.PRODUCT,
        ),
        on_product=_wax_not_said,
    ),
    Rule(
        "solids-not-said",
        "A finish that does not say its solids",
        Severity.ADVICE,
        "How much film a coat leaves is its wet amount times the volume solids of the data sheet.",
        "add 'volume_solids:' from its data sheet, with its source",
        "coverage of coatings texts",
        Example(
            _PRODUCT.format(kind="varnish")
            .replace("volume_solids: 40 %\n", "")
            .replace("volume_solids: label, ", ""),
            ("sources: {", "volume_solids: 40 %\nsources: {volume_solids: label, "),
            Kind.PRODUCT,
        ),
        on_product=_solids_not_said,
    ),
)
