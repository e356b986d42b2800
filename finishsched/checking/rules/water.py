"""Rules about water, spirits and what they leave behind under a coat."""

from __future__ import annotations

from collections.abc import Iterator

from finishsched.checking import about
from finishsched.checking.cases import ScheduleCase
from finishsched.checking.cutting import cuts
from finishsched.checking.layers.matter import HARDENS_IN_DAMP, matter_at
from finishsched.checking.moves import Move
from finishsched.checking.rule import Example, Found, Rule, Severity
from finishsched.checking.words import at_least, at_most
from finishsched.factors import HOUR_S
from finishsched.film.ledger import SEAL_UM
from finishsched.model.doing import Lays, Wets
from finishsched.model.kinds import SHELLACS
from finishsched.model.product import Mechanism, ProductKind
from finishsched.model.schedule import Verb

AFTER_WET_PAPER_S = 2 * HOUR_S
"""After water-sanding a face or raising its grain a couple of hours (common practice)."""
AFTER_WASH_S = HOUR_S
"""After washing it with water and drying it with a cloth: 1 to 4 h (common practice)."""
AFTER_DAMP_CLOTH_S = HOUR_S / 6
"""A damp cloth, wrung out (our assumption)."""
BEFORE_ALCOHOL_S = HOUR_S / 2
"""The same before shellac or lacquer, which cool as they dry and whiten over damp (our
assumption)."""
AFTER_TAPE_S = 4 * HOUR_S
"""Wetted veneer on a panel: 4 to 8 h, by Fick's law."""
AFTER_SPIRITS_S = HOUR_S / 6
"""Of spirits on a cloth or under paper (our assumption)."""


def _water_under_coat(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        own_wait = move.verb in (Verb.STRIP_TAPE, Verb.BLEACH)  # and so has glue
        if not move.is_wetted or own_wait or move.verb.does.lays is Lays.GLUE:
            continue
        following = case.next_layer(move)
        if following is None or matter_at(following) == HARDENS_IN_DAMP:
            continue
        needed = _dries_in_s(move, following)
        given = case.earliest_s(move, following)
        if given < needed:
            yield Found(
                _wait_path(move),
                f"water comes on at '{move.step.title}' and '{following.step.title}' follows "
                f"{_after(given)}: what is left of it comes back as white bloom and lifted seams",
                f"give it {at_least(needed)} at the earliest, and a check for damp",
                # A film that shuts the wood takes in little, and an hour is enough for many.
                contested=move.verb.cuts and bool(case.film_below(move)) and given >= needed / 2,
                about=about.drying(move),
                needed_s=needed,
            )


def _dries_in_s(move: Move, following: Move) -> float:
    """Return the least that the water of a step takes: wet paper's, a wash's, a damp cloth's."""
    if _soaks(move):
        return AFTER_WET_PAPER_S
    if move.verb.cuts:
        return AFTER_WET_PAPER_S if _dries_by_solvent(following) else AFTER_WASH_S
    if move.verb is Verb.WASH:
        return AFTER_WASH_S
    whitens = following.kind in (*SHELLACS, ProductKind.LACQUER)
    return BEFORE_ALCOHOL_S if whitens else AFTER_DAMP_CLOTH_S


def _dries_by_solvent(move: Move) -> bool:
    """Tell whether a coat cools as it dries, and whitens over damp, as shellac and lacquer do."""
    return move.product is not None and move.product.mechanism is Mechanism.SOLVENT


def _soaks(move: Move) -> bool:
    return move.wets is Wets.WATER


def _tape_not_dry(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        if move.verb is not Verb.STRIP_TAPE or move.pulls_dry:
            continue
        following = next((m for m in case.after(move) if m.lays or m.verb is Verb.SAND), None)
        given = case.earliest_s(move, following)
        if given < AFTER_TAPE_S:
            yield Found(
                _wait_path(move),
                f"the face is wetted for its tape and has {at_most(given)} to dry again: "
                "sanded damp it shrinks later, and its seams open",
                about=about.drying(move),
                needed_s=AFTER_TAPE_S,
            )


def _spirits_under_coat(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        spirits = [
            one
            for one in move.brings
            if one.kind is ProductKind.THINNER and one.mechanism is Mechanism.SOLVENT
        ]
        following = case.next_layer(move)
        if not spirits or following is None or move.verb.lays_coats:
            continue
        if following.kind is ProductKind.WAX:
            continue  # it is let down with the same
        given = case.earliest_s(move, following)
        if given < AFTER_SPIRITS_S:
            yield Found(
                _wait_path(move),
                f"{spirits[0].id} is used at '{move.step.title}' and "
                f"'{following.step.title}' follows {_after(given)}",
            )


def _water_through_seal(case: ScheduleCase) -> Iterator[Found]:
    cut = {one.move.at for one in cuts(case, case.ledger, of_the_wood=False) if one.is_certain}
    for move in case.moves:
        if move.at in cut:
            continue  # too-few-coats tells that the film is gone
        below = case.film_below(move)
        if below is None or not _dries_by_solvent(below) or move.step.is_rework:
            continue
        film_um = case.ledger[move.at][1].before.film_um.likely
        # What is no more than a seal in the wood lets water through.
        if move.verb.rubs_film and move.wets_with_water and film_um < SEAL_UM:
            yield Found(
                move.key("lubricant"),
                f"'{move.step.title}' is wetted with water, and next to no film lies there: it "
                "goes through into the pores, swells them and lifts seams",
            )
            return


def _water_on_bare_wood(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        if move.lays:
            return
        if move.verb is Verb.SAND and move.wets_with_water:
            yield Found(
                move.key("lubricant"),
                "bare wood is sanded wet: its grain stands up, and a veneer's glue loosens",
            )


def steel_rusts(case: ScheduleCase) -> Iterator[Found]:
    """Tell of steel wool that comes before a waterborne coat, at any distance."""
    for move in case.moves:
        if not move.rubs_with_steel:
            continue
        over = next((m for m in case.after(move) if m.kind is ProductKind.WATERBORNE), None)
        if over is not None:
            yield Found(
                move.key("grade"),
                f"steel wool is used before '{over.step.title}' of a waterborne finish: "
                "a crumb that stays behind rusts under it",
            )


def _wait_path(move: Move) -> tuple[str | int, ...]:
    return move.key("wait") if move.step.wait else move.verb_path


def _after(given_s: float) -> str:
    return f"{at_most(given_s)} later" if given_s else "at once"


WATER_RULES = (
    Rule(
        "water-under-coat",
        "Water under the next coat",
        Severity.ERROR,
        "Water that is shut in under a film turns it white, swells seams and lifts veneer, days "
        "later and from below. Shellac and lacquer show it first. The face is dry again when it "
        "is as warm to the cheek as dry wood, and not before.",
        "let the water leave first",
        "common practice: a couple of hours after water-sanding a film; the ten minutes after a "
        "damp cloth are our assumption",
        Example(
            """\
- stage: body
  steps:
    - {level: cork block, grade: P400, lubricant: soapy water, hands_on: 5 min}
    - {pad: thin ovals, product: shellac-dewaxed-blonde, cut: 2 lb, amount: 15 ml/m2}
""",
            (
                "hands_on: 5 min}",
                (
                    "hands_on: 5 min,\n"
                    "       wait: {earliest: 2 h, likely: 4 h}, dry_check: as warm as dry wood}"
                ),
            ),
        ),
        on_schedule=_water_under_coat,
    ),
    Rule(
        "tape-not-dry",
        "Wetted tape not dry again",
        Severity.ERROR,
        "The water that loosens gummed tape goes into the veneer. Sanded or sealed while it is "
        "still swollen, the face shrinks afterwards: seams open and glue lines stand proud.",
        "wait 4 h at the earliest, better overnight, and check for a dark band",
        "computed by Fick's law for a face of 0.6 mm: 51 min in the open, 2 to 4 times that on a "
        "panel, 4 to 8 h to be safe",
        Example(
            """\
- stage: prepare
  steps:
    - strip tape: damp, peel
      product: water
      wait: {earliest: 30 min, likely: 1 h}
      dry_check: no dark band
    - {sand: block, grade: P150, lubricant: dry}
""",
            ("earliest: 30 min, likely: 1 h", "earliest: 4 h, likely: 12 h"),
        ),
        on_schedule=_tape_not_dry,
    ),
    Rule(
        "spirits-under-coat",
        "Spirits under the next coat",
        Severity.ADVICE,
        "Spirits or thinner that have not gone yet keep the next coat soft from below, and an "
        "alcohol or water film crawls away from them.",
        "give it some minutes, and a check for the smell",
        "common practice; the ten minutes are our assumption",
        Example(
            """\
- stage: body
  steps:
    - tack off: a cloth damped with spirits
      product: mineral-spirits
      wait: none
    - {pad: thin ovals, product: shellac-dewaxed-blonde, cut: 2 lb}
""",
            (
                "wait: none",
                "wait: {earliest: 15 min, likely: 30 min}\n      dry_check: no smell of it",
            ),
        ),
        on_schedule=_spirits_under_coat,
    ),
    Rule(
        "water-on-bare-wood",
        "Bare wood sanded wet",
        Severity.ADVICE,
        "Water raises the grain that sanding has just laid flat, and in veneered work it swells "
        "the face and softens the glue. Wet paper is for film.",
        "sand bare wood dry; raise the grain on purpose as a step of its own",
        "common practice",
        Example(
            """\
- stage: prepare
  steps:
    - {sand: block, grade: P240, lubricant: water}
""",
            ("lubricant: water", "lubricant: dry"),
        ),
        on_schedule=_water_on_bare_wood,
    ),
    Rule(
        "water-through-seal",
        "Wet paper over a thin seal",
        Severity.ADVICE,
        "One wash coat is no barrier. The water of wet paper goes through it into pores, seams and "
        "thin faces, and comes back as haze and raised grain under the next coats.",
        "rub it dry or with white spirit until a film lies there",
        "common practice; the 5 um are our assumption",
        Example(
            "- stage: seal\n  steps:\n"
            "    - {wipe: thin, product: shellac-dewaxed-blonde, cut: 1 lb, amount: 25 ml/m2}\n"
            "    - {level: light, grade: P320, reach: scuff, lubricant: soapy water}\n",
            ("soapy water", "mineral-spirits"),
        ),
        on_schedule=_water_through_seal,
    ),
    Rule(
        "steel-rusts",
        "Steel wool under a waterborne coat",
        Severity.ERROR,
        "Steel wool sheds crumbs that no cloth gets out of the grain. The water of the next coat "
        "rusts them: brown specks under a clear film, and black ones on oak.",
        "use a grey or white pad",
        "makers' data sheets for waterborne clear; common practice",
        Example(
            """\
- stage: body
  steps:
    - {level: with the grain, grade: 0000 wool, lubricant: dry}
    - {tack off: vacuum}
    - {brush: full and quick, product: waterborne-clear}
""",
            ("0000 wool", "grey pad"),
        ),
        on_schedule=steel_rusts,
    ),
)
