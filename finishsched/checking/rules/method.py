"""Rules about the way of doing it: against the grain, with what in the hand, in which order."""

from __future__ import annotations

from collections.abc import Iterator

from finishsched.checking import about
from finishsched.checking.cases import ScheduleCase
from finishsched.checking.layers.matter import is_a, matter_at
from finishsched.checking.moves import Move
from finishsched.checking.rule import Example, Found, Rule, Severity
from finishsched.checking.rules.stacked import told_by_layers
from finishsched.checking.said.asked import told_by_words
from finishsched.checking.words import duration
from finishsched.factors import DAY_S
from finishsched.model.how import tells
from finishsched.model.kinds import COLOURS, FILMS, MELTING, Mechanism, ProductKind
from finishsched.model.recipe import is_tinted
from finishsched.model.verbs import Verb

PULLS_CLEAN_S = 2 * DAY_S
"""After the last coat tape comes off with a clean edge; later it tears it (our assumption)."""
MOST_SEALER_COATS = 2
"""Thin ones; more are soft below what is hard (common practice)."""
FINEST_UNDER_FILM_UM = 31.0
"""P500 and finer leave wood that is burnished (common practice, no source)."""
_MACHINED = (
    r"\b(?:planer|planed|thicknesser|jointer|saw(?:n|ed)?|machined?|knife (?:marks|ripples))\b"
)
COARSEST_START_UM = 100.0
"""P150: a finer paper only shines up what a machine left (common practice, no source)."""


def _sets_too_fast(case: ScheduleCase) -> Iterator[Found]:
    for move in case.films:
        product = move.product
        by_hand = not move.step.by_gun and move.verb is not Verb.DIP
        fast = product is not None and product.mechanism in (None, Mechanism.SOLVENT)
        if not (by_hand and fast) or product is None or product.kind is not ProductKind.LACQUER:
            continue
        made_for_it = rf"\b{move.verb.value[:3]}\w*ing\b|retard|slow"  # brushing, padding, wiping
        told = " ".join(one.step.how for one in case.films if one.product == product)
        slow = tells(f"{product.id}. {product.title}. {told}", made_for_it)
        if not slow and not is_a(matter_at(move), "two-part"):
            yield Found(
                move.verb_path,
                f"{product.id} is laid by {move.verb.value}: it sets within seconds and melts what "
                "is below, so that every stroke drags and laps",
            )
            return


def _colour_in_laps(case: ScheduleCase) -> Iterator[Found]:
    for move in case.films:
        product = move.product
        tinted = product is not None and is_tinted(product, case.products)
        if product is not None and tinted and move.verb is Verb.BRUSH:
            yield Found(
                move.verb_path,
                f"'{move.step.title}' brushes {product.id}, which holds its colour in the film: "
                "every lap and ridge is darker",
            )
            return


def _sealer_built_up(case: ScheduleCase) -> Iterator[Found]:
    sealed = [move for move in case.films if matter_at(move) == "lacquer.sealer"]
    if len(sealed) > MOST_SEALER_COATS:
        yield Found(
            sealed[-1].key("coats"),
            f"{len(sealed)} coats of {sealed[-1].step.product}: it is soft and holds little, and "
            "what is hard above it cracks",
            "one coat, or two thin ones, sanded well",
        )
    yield from told_by_layers("soft-sealer")(case)


def _tape_pulled_late(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        if move.verb is not Verb.STRIP_TAPE or not move.pulls_dry:
            continue
        masks = [one for one in case.before(move) if one.verb is Verb.MASK]
        over = [one for one in case.between(masks[-1], move) if one.is_film] if masks else []
        given = case.earliest_s(over[-1], move) if over else 0.0
        if over and given > PULLS_CLEAN_S:
            yield Found(
                move.verb_path,
                f"the tape comes off {duration(given)} after '{over[-1].step.title}': the film has "
                "grown hard over its edge and tears, and its glue stays behind",
                "pull it flat back on itself within the day, while the coat is soft; a hard edge "
                "is cut with a knife first",
            )


def _burnished_bare(case: ScheduleCase) -> Iterator[Found]:
    first = case.first_layer
    if first is None or not case.on_bare_wood:
        return
    takes_in = first.kind in (*COLOURS, ProductKind.FILLER) or _wants_tooth(first)
    for move in case.before(first):
        later = case.between(move, first)
        if move.verb is Verb.BURNISH and takes_in and not any(one.verb.abrades for one in later):
            yield Found(
                move.verb_path,
                f"'{move.step.title}' shuts the bare wood before '{first.step.title}': colour "
                "stays pale on it, and a film has nothing to hold to",
                "burnish only what is waxed or left bare, or sand it open again with P220",
            )


def _wants_tooth(move: Move) -> bool:
    """Tell whether a coat holds by what it gets into: alcohol and thinner wet wood well enough."""
    return move.is_film and move.kind in FILMS and move.kind not in MELTING


def _too_fine_for_film(case: ScheduleCase) -> Iterator[Found]:
    first = case.first_layer
    if first is None or not case.on_bare_wood or not _wants_tooth(first):
        return
    sanded = [(one, grade) for one, grade in case.papers if one.at < first.at]
    if sanded and sanded[-1][1].grain_um < FINEST_UNDER_FILM_UM and not _is_wiped(first):
        move, grade = sanded[-1]
        yield Found(
            move.key("grade"),
            f"the bare wood is sanded to {grade.name} before '{first.step.title}': it is polished, "
            "and the film has little to hold to",
            about=about.grade(move),
        )


def _is_wiped(move: Move) -> bool:
    """Tell whether a coat goes on by cloth and soaks in, which fine wood bears."""
    return move.verb is Verb.WIPE


def _starts_too_fine(case: ScheduleCase) -> Iterator[Found]:
    first = next((move for move in case.moves if move.verb.abrades), None)
    grade = case.grade(first) if first is not None else None
    if first is None or grade is None or not case.on_bare_wood or first.verb is not Verb.SAND:
        return
    if grade.grain_um < COARSEST_START_UM and tells(first.step.how, _MACHINED):
        yield Found(
            first.key("grade"),
            f"'{first.step.title}' is the first paper on wood as the machine left it: it shines up "
            "the ripples and does not take them out",
            about=about.grade(first),
        )


_SHELLAC = "product: shellac-dewaxed-blonde"
_VARNISH = "    - {brush: full coat, product: oil-varnish}\n"

METHOD_RULES = (
    Rule(
        "starts-too-fine",
        "The first paper is too fine for what a machine left",
        Severity.ADVICE,
        "Planer ripples and saw marks are deeper than a fine paper reaches. It rounds and shines "
        "them, and the first coat shows them as bars across the board.",
        "begin with P80 to P120, a scraper or a hand plane, and work up",
        "common practice, no source",
        Example(
            "- stage: prepare\n  steps:\n"
            "    - {sand: straight from the planer, grade: P240, lubricant: dry}\n",
            ("P240", "P120"),
        ),
        on_schedule=_starts_too_fine,
    ),
    Rule(
        "across-the-grain",
        "The last scratches run across the grain",
        Severity.ADVICE,
        "Scratches along the fibres are lost among them. One that crosses them is a line that "
        "stain makes dark and gloss makes bright. Across and in circles is for cutting level; the "
        "last strokes of every surface go with the grain.",
        "end with the same grade, straight and with the grain",
        "'Hand rubbing with pumice and rottenstone', a tool dealer's sheet, undated (no circles in "
        "the last grade); common practice",
        Example(
            "- stage: prepare\n  steps:\n"
            "    - {sand: 'block, across the grain', grade: P180, lubricant: dry}\n"
            f"- stage: body\n  steps:\n{_VARNISH}",
            ("across the grain", "with the grain"),
        ),
        on_schedule=told_by_words("across-the-grain"),
    ),
    Rule(
        "oily-tack-cloth",
        "A resin cloth before a waterborne coat",
        Severity.ADVICE,
        "A tack cloth is sticky with resin or oil. A trace of it on the face is lost in varnish; a "
        "waterborne coat draws back from it in craters.",
        "vacuum, then a cloth damp with water, and let it dry",
        "makers' data sheets for waterborne clear; common practice",
        Example(
            "- stage: body\n  steps:\n    - {tack off: with a tack cloth}\n"
            "    - {brush: full and quick, product: waterborne-clear}\n",
            ("with a tack cloth", "vacuum and a clean cloth"),
        ),
        on_schedule=told_by_words("oily-tack-cloth"),
    ),
    Rule(
        "sets-too-fast",
        "Lacquer for the gun, laid by hand",
        Severity.ADVICE,
        "Lacquer for spraying is dry before a brush comes back, and its thinner melts the coat "
        "below under the hairs: ridges, laps and dragged colour.",
        "spray it, take a lacquer made for the brush, or slow it with retarder: say so in the step",
        "common practice, no source",
        Example(
            "- stage: body\n  steps:\n    - {brush: full coat, product: nitrocellulose-lacquer}\n",
            ("brush: full coat", "spray: 'even passes in the booth, fan on'"),
        ),
        on_schedule=_sets_too_fast,
    ),
    Rule(
        "colour-in-laps",
        "A tinted film laid by brush",
        Severity.ADVICE,
        "What holds its colour in the film is as dark as it is thick: a brush shows every lap, run "
        "and ridge. Mist evens it, and a pad nearly.",
        "spray it in thin mists, or colour the wood and lay clear film over it",
        "common practice, no source",
        Example(
            "- stage: body\n  steps:\n    - {brush: full coat, product: amber-toner}\n",
            ("brush: full coat", "tone: 'light passes in the booth, fan on'"),
        ),
        on_schedule=_colour_in_laps,
    ),
    Rule(
        "soft-sealer",
        "Sanding sealer where it does not hold, or too much of it",
        Severity.ERROR,
        "Sanding sealer powders under paper because there is soap in it. The same soap keeps it "
        "soft and weak: it is one thin coat under lacquer, and nothing under urethane or two-part "
        "films.",
        "one thin coat, sanded well, under lacquer alone; dewaxed shellac below all else",
        "B. Flexner, Polyurethane and sealers, trade column, 2016; common practice",
        Example(
            "- stage: body\n  steps:\n"
            "    - {spray: even passes, product: sanding-sealer, coats: 4}\n",
            ("coats: 4", "coats: 1"),
            besides="with a lacquer sanding-sealer titled Sanding sealer",
        ),
        on_schedule=_sealer_built_up,
    ),
    Rule(
        "tape-pulled-late",
        "Tape pulled off a hard film",
        Severity.ADVICE,
        "While a coat is soft, tape leaves a clean edge. Once it is hard the film goes over the "
        "tape in one piece, and comes off with it in splinters.",
        "pull it within the day",
        "common practice; the two days are our assumption",
        Example(
            "- stage: body\n  steps:\n    - {mask: the stringing}\n"
            f"    - {{brush: full coat, {_SHELLAC}, cut: 2 lb,\n"
            "       dry_check: dry, wait: {earliest: 7 d, likely: 8 d}}\n"
            "    - {strip tape: flat back on itself}\n",
            ("earliest: 7 d, likely: 8 d", "earliest: 2 h, likely: 4 h"),
        ),
        on_schedule=_tape_pulled_late,
    ),
    Rule(
        "burnished-bare",
        "Burnished wood under colour or film",
        Severity.ADVICE,
        "Burnishing lays the fibres down and shuts the pores: that is a finish of its own, or one "
        "for wax. Stain stays pale on it, and varnish peels.",
        "burnish what is waxed or left bare, and nothing else",
        "common practice, no source",
        Example(
            f"- stage: prepare\n  steps:\n    - {{burnish: hard, tool: bone}}\n"
            f"- stage: body\n  steps:\n{_VARNISH}",
            ("burnish: hard, tool: bone", "sand: block, grade: P220, lubricant: dry"),
        ),
        on_schedule=_burnished_bare,
    ),
    Rule(
        "too-fine-for-film",
        "Bare wood polished under a film",
        Severity.ADVICE,
        "Varnish and waterborne coats hold to wood by its scratches and open cells. Past P400 it "
        "is polished: the film lies on it, and water beads.",
        "stop at P220 to P320 under film; finer is for oil, wax and shellac by pad",
        "common practice, no source",
        Example(
            "- stage: prepare\n  steps:\n"
            "    - {sand: block, grade: P800, lubricant: dry}\n"
            f"- stage: body\n  steps:\n{_VARNISH}",
            ("P800", "P220"),
        ),
        on_schedule=_too_fine_for_film,
    ),
)
