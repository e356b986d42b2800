"""Rules about how it is done: strong solvents, raised grain, heavy cuts, long sittings."""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

from finishsched.checking.cases import DAY_S, HOUR_S, LB_G_PER_L, Move, ScheduleCase
from finishsched.checking.layers.matter import is_a, matter_of
from finishsched.checking.rule import Example, Found, Rule, Severity
from finishsched.checking.words import cut, duration
from finishsched.model.doing import Abrades, Lays, Wets
from finishsched.model.product import ProductKind
from finishsched.model.solvent import Liquid
from finishsched.model.verbs import Verb

STRONG = frozenset(
    (Liquid.ACETONE, Liquid.TOLUENE, Liquid.XYLENE, Liquid.BUTYL_ACETATE, Liquid.ETHYL_ACETATE)
)
HARD_VARNISH_S = 28 * DAY_S
"""After this an oil varnish bears a quick wipe with a strong solvent (our assumption)."""
HEAVIEST_BRUSHED = 3.5 * LB_G_PER_L
MOST_IN_A_SITTING = MappingProxyType({Verb.PAD: 24, Verb.BRUSH: 3})
"""Coats that go on one after the other before the film wants a night (common practice)."""
SITTING_S = 2 * HOUR_S
"""A wait between coats below which they belong to one sitting (our assumption)."""
GLUE_DRIES_S = 12 * HOUR_S


def _solvent_lifts(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        below = case.film_below(move)
        wipes = move.verb.does.cleans or move.verb.abrades
        strong = next((one for one in move.brings if _is_strong(one.kind, one)), None)
        if below is None or below.product is None or strong is None or not wipes:
            continue
        matter = matter_of(below.product)
        old = is_a(matter, "varnish") and case.earliest_s(below, move) >= HARD_VARNISH_S
        if not is_a(matter, "two-part") and not old:
            yield Found(
                move.key("product" if move.product is strong else "lubricant"),
                f"{strong.id} goes over a film of {below.step.product} at '{move.step.title}': it "
                "dissolves or wrinkles it",
            )


def _is_strong(kind: ProductKind, product: object) -> bool:
    words = f"{getattr(product, 'id', '')} {getattr(product, 'title', '')}".lower()
    named = any(word in words for word in ("lacquer", "acetone", "ketone", "toluene", "xylene"))
    holds = {share.liquid for share in getattr(product, "solvents", None) or ()}
    return kind is ProductKind.THINNER and (named or bool(holds & STRONG))


def _grain_not_cut(case: ScheduleCase) -> Iterator[Found]:
    bare, cut_before = True, False
    for move in case.moves:
        if move.is_film:
            return
        wets = move.verb.does.wets is Wets.WATER and move.verb is not Verb.STRIP_TAPE
        dyes = move.product is not None and is_a(matter_of(move.product), "dye.water")
        if bare and (wets or (dyes and move.verb.lays)):
            if _is_cut(case, move, coats_too=dyes):
                cut_before = True
            elif not (dyes and cut_before):
                yield Found(
                    move.verb_path,
                    f"'{move.step.title}' raises the grain, and nothing cuts it back before the "
                    "coats: every fibre stands up under the film",
                )
                return
        bare = bare and not move.lays


def _is_cut(case: ScheduleCase, wetted: Move, *, coats_too: bool) -> bool:
    """Tell whether the fibres are cut: on the bare wood, or after one coat where colour lies."""
    coats = 0
    for move in case.after(wetted):
        if move.verb.abrades:
            return True
        coats += move.is_film
        if coats > (1 if coats_too else 0):
            return False
    return False


def _brush_too_heavy(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        strong = move.step.cut_g_per_l or 0.0
        if move.verb is Verb.BRUSH and strong > HEAVIEST_BRUSHED * 1.001:
            yield Found(
                move.key("cut"),
                f"a {cut(strong)} is brushed: it sets before it levels, and stays soft below",
            )


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
        )


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
                f"'{sanded.step.title}' comes {duration(given)} after the glue-up: the face is "
                "still swollen, and sinks at every seam later",
                f"give it {duration(GLUE_DRIES_S)} at the earliest, better days",
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
        "brush-too-heavy",
        "A cut too heavy to brush",
        Severity.ADVICE,
        "Shellac of four pounds and more sets under the brush: ridges, curtains in the corners, "
        "and a skin over soft film. Thin coats are harder on the same day and lie flatter.",
        "brush a cut of 2 lb, 3 lb at the most",
        "common practice",
        Example(
            f"- stage: body\n  steps:\n    - {{brush: full coat, {_SHELLAC}, cut: 5 lb}}\n",
            ("cut: 5 lb", "cut: 2 lb"),
        ),
        on_schedule=_brush_too_heavy,
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
