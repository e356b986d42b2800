"""Rules about how it is done: strong solvents, raised grain, long sittings, wet glue."""

from __future__ import annotations

import re
from collections.abc import Iterator
from types import MappingProxyType

from finishsched.checking import about
from finishsched.checking.cases import ScheduleCase
from finishsched.checking.layers.matter import is_a, matter_at
from finishsched.checking.moves import Move
from finishsched.checking.rule import Example, Found, Rule, Severity
from finishsched.checking.said.asked import says
from finishsched.checking.words import at_least, at_most, duration
from finishsched.factors import DAY_S, HOUR_S
from finishsched.model.doing import Abrades, Lays, Wets
from finishsched.model.kinds import SHELLACS
from finishsched.model.product import Product, ProductKind
from finishsched.model.solvent import Liquid
from finishsched.model.verbs import Verb

STRONG = frozenset(
    (Liquid.ACETONE, Liquid.TOLUENE, Liquid.XYLENE, Liquid.BUTYL_ACETATE, Liquid.ETHYL_ACETATE)
)
"""Liquids that take a film off (B. Flexner, article on solvents, Popular Woodworking 166, 2007)."""
HARD_VARNISH_S = 28 * DAY_S
"""After this an oil varnish bears a quick wipe with a strong solvent (our assumption)."""
MOST_IN_A_SITTING = MappingProxyType({Verb.PAD: 24, Verb.BRUSH: 3})
"""Coats that go on one after the other before the film wants a night (common practice)."""
SITTING_S = 2 * HOUR_S
"""A wait between coats below which they belong to one sitting (our assumption)."""
GLUE_DRIES_S = 12 * HOUR_S
"""Of a face that glue has wetted (computed by Fick's law for 0.6 mm; common practice)."""
MOST_OVER_FIBRES = 5
"""Through so many coats paper no longer reaches what stands up below (our assumption)."""
RAISE_IT_FIRST = (
    "raise the grain and cut it off first, seal with thin dewaxed shellac, or scuff the first coat"
)


def _solvent_lifts(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        if move.step.strips:
            continue  # a rework that takes the film off means to
        below = case.film_below(move)
        wipes = move.verb.does.cleans or move.verb.abrades
        strong = next(filter(_is_strong, move.brings), None)
        if below is None or below.product is None or strong is None or not wipes:
            continue
        matter = matter_at(below)
        old = is_a(matter, "varnish") and case.earliest_s(below, move) >= HARD_VARNISH_S
        if not is_a(matter, "two-part") and not old:
            yield Found(
                move.key("product" if move.product is strong else "lubricant"),
                f"{strong.id} goes over a film of {below.step.product} at '{move.step.title}': it "
                "dissolves or wrinkles it",
            )


def _is_strong(product: Product) -> bool:
    """Tell whether a thinner takes a film off, by what it is named or what it is made of."""
    words = f"{product.id} {product.title}".lower()
    named = any(word in words for word in ("lacquer", "acetone", "ketone", "toluene", "xylene"))
    holds = {share.liquid for share in product.solvents or ()}
    return product.kind is ProductKind.THINNER and (named or not holds.isdisjoint(STRONG))


def _grain_not_cut(case: ScheduleCase) -> Iterator[Found]:
    bare, cut_before = True, False
    for move in case.moves:
        wets = move.wets is Wets.WATER and move.verb is not Verb.STRIP_TAPE
        dyes = is_a(matter_at(move), "dye.water")
        films = case.on_bare_wood and _is_waterborne_under_film(case, move)
        if wets and case.next_layer(move) is None:
            continue  # a glue-up, a blister laid again: no film shows the fibres
        if bare and (wets or films or (dyes and move.verb.lays)):
            coloured = dyes or films
            coats = _coats_till_cut(case, move)
            if coats is not None and coats <= (1 if coloured else 0):
                cut_before = True
            elif not (coloured and cut_before):
                yield Found(
                    move.verb_path,
                    f"'{move.step.title}' raises the grain, and nothing cuts it back before the "
                    f"{'next coat' if films else 'coats'}: every fibre stands up under the film",
                    RAISE_IT_FIRST if films else "",
                    # Dense wood hardly rises, a first coat may be thin, and later paper cuts too.
                    contested=films or coats is not None,
                )
                return
        if move.is_film:
            return
        bare = bare and not move.lays


def _is_waterborne_under_film(case: ScheduleCase, move: Move) -> bool:
    following = case.next_layer(move)
    covered = following is not None and following.is_film
    return move.is_film and move.kind is ProductKind.WATERBORNE and covered


def _coats_till_cut(case: ScheduleCase, wetted: Move) -> int | None:
    """Return how many coats lie over the fibres when paper cuts them; None where none does."""
    coats = 0
    for move in case.after(wetted):
        if move.verb.abrades:
            return coats if coats < MOST_OVER_FIBRES else None
        coats += move.is_film
    return None


def _sitting_too_long(case: ScheduleCase) -> Iterator[Found]:
    for move in case.films:
        step = move.step
        most = MOST_IN_A_SITTING.get(move.verb)
        if most is None or step.coat != 1 or step.coats <= most or move.earliest_s >= SITTING_S:
            continue
        yield Found(
            move.key("coats"),
            f"{step.coats} coats {duration(move.earliest_s)} apart are one sitting: what is below "
            "never dries, and the film stays soft for weeks",
            f"{most} at the most, then a rest overnight",
            about=about.drying(move),
            needed_s=SITTING_S,
        )


def _burn_in_proud(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        if move.verb is not Verb.BURN_IN:
            continue
        following = case.next_layer(move)
        if not any(one.verb.abrades for one in case.between(move, following)):
            over = f"before '{following.step.title}'" if following else "afterwards"
            yield Found(
                move.verb_path,
                f"nothing levels '{move.step.title}' {over}: what is melted in stands above the "
                "face, and shows at every light",
            )


def _tape_left_on(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        if _tapes(move) and not any(map(_takes_tape_off, case.after(move))):
            gummed = move.verb is not Verb.MASK
            yield Found(
                move.verb_path,
                f"no step takes off what '{move.step.title}' lays: tape that stays bakes on, and "
                f"its edge {'is sanded into the face' if gummed else 'stands in every coat'}",
                "add 'strip tape:' once the glue is hard: damp it, peel it, let it dry"
                if gummed
                else "",
            )


def _tapes(move: Move) -> bool:
    """Tell whether a step leaves tape on the face: it masks, or its words say so of a glue-up."""
    glues = move.verb.does.lays is Lays.GLUE
    said = re.search(r"\btaped?\b", f"{move.step.how} {move.step.tool}".lower())
    return move.verb is Verb.MASK or (glues and said is not None)


def _takes_tape_off(move: Move) -> bool:
    """Tell whether a step takes tape off, or its words say so of the coat that it is for."""
    return move.verb is Verb.STRIP_TAPE or says(move, "tape off")


def _pumice_unbound(case: ScheduleCase) -> Iterator[Found]:
    if case.schedule.over in SHELLACS:
        return
    for move in case.moves:
        if move.is_shellac:
            return
        if move.verb is Verb.FILL and move.kind is ProductKind.POWDER:
            yield Found(
                move.key("product"),
                f"'{move.step.title}' rubs {move.step.product} into wood with no shellac on it: "
                "nothing binds it in the pores, and they turn white",
                contested=not _oiled(move),  # a pad that is charged with shellac binds it, say some
            )
            return


def _oiled(move: Move) -> bool:
    return move.lubricant is not None and move.lubricant.kind.row.oils


def _glue_not_dry(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        if move.verb.does.lays is not Lays.GLUE:
            continue
        sanded = next((one for one in case.after(move) if _touches_the_face(one)), None)
        if sanded is None or sanded.verb.does.abrades is not Abrades.WOOD:
            continue
        again = any(one.verb.does.lays is Lays.GLUE for one in case.between(move, sanded))
        given = case.earliest_s(move, sanded)
        if not again and given < GLUE_DRIES_S:
            yield Found(
                sanded.verb_path,
                f"'{sanded.step.title}' comes {at_most(given)} after the glue-up: the face is "
                "still swollen, and sinks at every seam later",
                f"give it {at_least(GLUE_DRIES_S)} at the earliest, a day before any coat, better "
                "days",
                about=about.drying(move),
                needed_s=DAY_S,  # so that it is told where the paper is, and not at the coat
            )


def _touches_the_face(move: Move) -> bool:
    return move.verb.abrades or move.lays


_SHELLAC = "product: shellac-dewaxed-blonde"
_WAIT = "dry_check: dry, wait: {earliest: 12 h, likely: 24 h}"

HANDS_RULES = (
    Rule(
        "solvent-lifts",
        "A strong solvent over a film",
        Severity.ERROR,
        "Acetone and lacquer thinner dissolve shellac and lacquer at any age, soften waterborne "
        "films, and lift an oil varnish that has not cured for weeks.",
        "wipe with white spirit, or dry",
        "B. Flexner, article on solvents, Popular Woodworking 166, 2007",
        Example(
            f"- stage: body\n  steps:\n    - {{pad: ovals, {_SHELLAC}, cut: 2 lb}}\n"
            "    - {tack off: a damp cloth, product: lacquer-thinner}\n",
            ("lacquer-thinner", "mineral-spirits"),
        ),
        on_schedule=_solvent_lifts,
    ),
    Rule(
        "grain-not-cut",
        "Raised grain that nothing cuts back",
        Severity.ERROR,
        "Water swells the fibres that the paper pressed down. Raised on purpose and cut off they "
        "stay down; left standing they make every coat rough and are cut through at the first "
        "levelling.",
        "let it dry overnight, then cut it off with the last grade; over dye seal, then scuff",
        "B. Flexner, Finishing in one day, Popular Woodworking, undated; common practice",
        Example(
            "- stage: prepare\n  steps:\n"
            f"    - {{raise grain: a damp sponge,\n       {_WAIT}}}\n"
            "- stage: body\n  steps:\n    - {brush: full coat, product: waterborne-clear}\n",
            (
                "- stage: body",
                "    - {sand: light, grade: P220, lubricant: dry}\n- stage: body",
            ),
        ),
        on_schedule=_grain_not_cut,
    ),
    Rule(
        "sitting-too-long",
        "More coats than a sitting bears",
        Severity.ADVICE,
        "Each coat softens those below it. After two dozen padded or three brushed coats in a "
        "row the alcohol has nowhere to go: the pad begins to drag, and the film stays soft.",
        "rest it overnight and go on",
        "common practice",
        Example(
            "- stage: body\n  steps:\n"
            "    - pad: ovals\n      product: shellac-dewaxed-blonde\n      cut: 2 lb\n"
            "      coats: 30\n      dry_check: glides\n      wait:\n"
            "        between: {earliest: 5 min, likely: 10 min}\n"
            "        after: {earliest: 12 h, likely: 24 h}\n",
            ("coats: 30", "coats: 8"),
        ),
        on_schedule=_sitting_too_long,
    ),
    Rule(
        "burn-in-proud",
        "A burn-in that nothing levels",
        Severity.ADVICE,
        "What is melted into a dent is filled over the edge, since it shrinks as it cools. A coat "
        "over it follows the hill, and no later polish hides it.",
        "level it flush with a block or felt, the filled place alone, then go on",
        "common practice, no source",
        Example(
            "- stage: body\n  steps:\n"
            "    - {burn in: the dent, tool: a hot knife}\n"
            f"    - {{pad: ovals, {_SHELLAC}, cut: 2 lb}}\n",
            (
                "a hot knife}\n",
                "a hot knife}\n    - {level: flush, grade: P400, lubricant: dry}\n",
            ),
        ),
        on_schedule=_burn_in_proud,
    ),
    Rule(
        "tape-left-on",
        "Tape that no step takes off",
        Severity.ADVICE,
        "Low-tack tape comes off clean for a few days. Longer, or under several coats, it leaves "
        "its glue or takes the film along, and each coat builds a wall at its edge.",
        "add 'strip tape:' after the coat that it is for, while that coat is soft",
        "common practice, no source",
        Example(
            "- stage: body\n  steps:\n    - {mask: the stringing}\n"
            f"    - {{brush: full coat, {_SHELLAC}, cut: 2 lb}}\n",
            (
                "cut: 2 lb}\n",
                "cut: 2 lb}\n    - {strip tape: flat back on itself}\n",
            ),
        ),
        on_schedule=_tape_left_on,
    ),
    Rule(
        "pumice-unbound",
        "Pumice with nothing to bind it",
        Severity.ERROR,
        "Pumice fills a pore because alcohol wakes the shellac below and packs powder, dust and "
        "shellac into one. With oil on bare wood it lies there loose, and shows white.",
        "pad two or three thin coats of shellac first, and wet the pad with alcohol",
        "R. Bitmead, French Polishing and Enamelling, 1910; common practice",
        Example(
            "- stage: fill\n  steps:\n"
            "    - {fill: small circles, product: pumice, lubricant: mineral-oil,\n"
            f"       {_WAIT}}}\n"
            "    - {tack off: until no oil comes up, product: mineral-spirits}\n"
            f"- stage: body\n  steps:\n    - {{pad: ovals, {_SHELLAC}, cut: 2 lb}}\n",
            (
                "- stage: fill",
                (
                    f"- stage: seal\n  steps:\n    - {{pad: thin, {_SHELLAC}, cut: 1 lb,\n"
                    f"       {_WAIT}}}\n- stage: fill"
                ),
            ),
        ),
        on_schedule=_pumice_unbound,
    ),
    Rule(
        "glue-not-dry",
        "Paper on a face whose glue is still wet",
        Severity.ERROR,
        "Glue brings water, and the face swells over every seam and pore. Sanded level then, it "
        "sinks below as it dries, and the seams show for ever.",
        "overnight at the least, days for a flat finish",
        "computed by Fick's law for a face of 0.6 mm; common practice",
        Example(
            "- stage: prepare\n  steps:\n"
            "    - {glue up: press, product: pva-glue,\n       dry_check: hard, wait: "
            "{earliest: 30 min, likely: 30 min}}\n"
            "    - {sand: light, grade: P180, lubricant: dry}\n",
            ("earliest: 30 min, likely: 30 min", "earliest: 24 h, likely: 36 h"),
        ),
        on_schedule=_glue_not_dry,
    ),
)
