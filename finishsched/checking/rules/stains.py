"""Rules about stain: what it goes on, and what comes on it."""

from __future__ import annotations

from collections.abc import Iterator

from finishsched.checking import about
from finishsched.checking.cases import ScheduleCase
from finishsched.checking.cutting import bare_colour
from finishsched.checking.layers.matter import is_a, matter_at
from finishsched.checking.layers.thin import is_wash_coat
from finishsched.checking.moves import Move
from finishsched.checking.rule import Example, Found, Rule, Severity
from finishsched.checking.rules.stacked import told_by_layers
from finishsched.model.doing import Lays
from finishsched.model.film import Reach
from finishsched.model.kinds import COLOURS
from finishsched.model.product import ProductKind
from finishsched.model.schedule import Verb

FINEST_ON_NAP_UM = 40.0
"""A grey pad and finer, and 000 wool (common practice)."""
COARSEST_ON_WHISKERS_UM = 47.0
"""P320 (common practice)."""
SEAL_FIRST = "lay a thin wash coat of shellac over the colour before the filler"
_FINEST_UNDER_UM = {ProductKind.STAIN: 45.0, ProductKind.DYE: 25.0}
"""P320 and no finer: pigment lodges in scratches (common practice; guides say P180 to P220). P800
and finer leave pores too few even for a dye (common practice, no source)."""


def _stain_sanded(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        whole = move.verb.abrades and not move.step.on_a_spot
        colour = bare_colour(case, move) if whole else None
        if colour is None or _only_nap(case, colour, move):
            continue
        if not _coloured_again(case, move):
            filled = any(one.is_filler for one in case.between(colour, move))
            yield Found(
                move.verb_path,
                f"'{move.step.title}' comes on bare {colour.step.product}"
                f"{' under the filler' if filled else ''}: it rubs pale spots into the colour",
                SEAL_FIRST if filled else "",
                contested=_only_whiskers(case, colour, move),
            )


def _coloured_again(case: ScheduleCase, move: Move) -> bool:
    """Tell whether more colour follows on that wood, over a wash coat or none.

    It is sanded back so that a figure shows, or that it takes its colour anew.
    """
    layers = (one for one in case.after(move) if one.lays and not is_wash_coat(one))
    following = next(layers, None)
    return following is not None and following.kind in COLOURS


def _only_nap(case: ScheduleCase, colour: Move, move: Move) -> bool:
    """Tell whether a pad or wool, which gives, takes the nap off what lies deep in the wood."""
    grade = case.abrasive(move)
    gives = grade is not None and grade.rough and grade.grain_um <= FINEST_ON_NAP_UM
    return _lies_deep(colour) and gives and move.verb is not Verb.SAND


def _lies_deep(colour: Move) -> bool:
    """Tell whether a colour lies deeper than the whiskers of the wood: a dye, or what turns it."""
    return colour.kind is ProductKind.DYE or is_a(matter_at(colour), "mordant")


def _only_whiskers(case: ScheduleCase, colour: Move, move: Move) -> bool:
    """Tell whether fine paper or a pad goes over a dye, which lies deeper than its whiskers.

    So does what turns the wood itself, and some leave the whiskers all the same.
    """
    grade = case.grade(move)
    only_dulls = grade is None and move.step.reach is Reach.SCUFF
    return _lies_deep(colour) and (
        only_dulls or (grade is not None and grade.grain_um < COARSEST_ON_WHISKERS_UM)
    )
    """Tell whether fine paper goes over what lies deeper than whiskers, say some."""
    grade = case.grade(move)
    is_deep = colour.kind is ProductKind.DYE or _turns_the_wood(colour)
    return is_deep and grade is not None and grade.grain_um < COARSEST_ON_WHISKERS_UM


def _turns_the_wood(colour: Move) -> bool:
    """Tell whether it turns the wood itself, and lodges no colour in it: iron, tannin, lye."""
    return any(is_a(matter_at(colour), one) for one in ("mordant", "alkali"))


def _too_fine_for_stain(case: ScheduleCase) -> Iterator[Found]:
    first = case.first_layer
    finest_um = _FINEST_UNDER_UM.get(first.kind) if first is not None and first.kind else None
    if first is None or finest_um is None or _turns_the_wood(first):
        return
    sanded = [(m, g) for m, g in case.papers if m.verb is Verb.SAND and m.at < first.at]
    if sanded and sanded[-1][1].grain_um < finest_um:
        move, grade = sanded[-1]
        yield Found(
            move.key("grade"),
            f"the wood is sanded to {grade.name} before '{first.step.title}': it stays pale",
            about=about.grade(move),
        )


def _colour_uncovered(case: ScheduleCase) -> Iterator[Found]:
    last = case.layers[-1] if case.layers else None
    if last is None or last.verb.does.lays is not Lays.COLOUR:
        return
    glaze = matter_at(last) == "glaze" or last.verb is Verb.GLAZE
    yield Found(
        last.verb_path,
        f"'{last.step.title}' is the last that is laid: nothing lies over the colour, and hands "
        "and cloths take it off",
        contested=not glaze,  # another schedule may go on over it
    )


def _glaze_on_bare(case: ScheduleCase) -> Iterator[Found]:
    first = case.first_layer
    if first is None or not case.on_bare_wood or first.verb.does.lays is not Lays.COLOUR:
        return
    named = first.product is not None and "glaze" in f"{first.product.id} {first.product.title}"
    if named or first.verb is Verb.GLAZE:
        yield Found(
            first.verb_path,
            f"'{first.step.title}' goes on bare wood: it drinks the glaze in as a stain, and what "
            "is too much cannot be wiped back",
        )


STAIN_RULES = (
    Rule(
        "glaze-on-bare",
        "Glaze on bare wood",
        Severity.ADVICE,
        "A glaze is colour between two films: over a seal it can be moved about, softened and "
        "wiped off again. Bare wood takes it in at once, dark where it is open.",
        "seal first with a thin coat, scuff it, then glaze",
        "common practice, no source",
        Example(
            "- stage: seal\n  steps:\n    - {glaze: wipe and soften, product: oil-glaze,\n"
            "       dry_check: dry, wait: {earliest: 24 h, likely: 48 h}}\n"
            "- stage: body\n  steps:\n    - {brush: full coat, product: oil-varnish}\n",
            (
                "  steps:\n    - {glaze",
                (
                    "  steps:\n    - {wipe: thin, product: shellac-dewaxed-blonde, cut: 1 lb}\n"
                    "    - {glaze"
                ),
            ),
        ),
        on_schedule=_glaze_on_bare,
    ),
    Rule(
        "colour-uncovered",
        "Colour with nothing over it",
        Severity.ERROR,
        "A glaze lies on the face and holds by little; stain and dye lie open in the wood. Only a "
        "clear coat, or wax for a stain, keeps them from hands, damp and light cloths.",
        "lay a clear coat over it, the first one quick and not brushed back",
        "common practice, no source",
        Example(
            """\
- stage: body
  steps:
    - {glaze: wipe and soften, product: walnut-stain,
       dry_check: dry, wait: {earliest: 24 h, likely: 48 h}}
""",
            (
                "likely: 48 h}}\n",
                "likely: 48 h}}\n    - {brush: full coat, product: oil-varnish}\n",
            ),
            besides="with a product walnut-stain of the kind stain",
        ),
        on_schedule=_colour_uncovered,
    ),
    Rule(
        "too-fine-for-stain",
        "Bare wood too fine for stain",
        Severity.ADVICE,
        "Pigment lodges in pores and scratches. Wood that is sanded very fine is burnished: the "
        "stain comes out pale and uneven, at end grain most.",
        "stop at P180 to P240 before a pigment stain, or use a dye, which colours the wood itself",
        "common practice",
        Example(
            """\
- stage: prepare
  steps:
    - {sand: block, grade: P600, lubricant: dry}
    - {tack off: vacuum and cloth}
    - {stain: flood on and wipe off, product: walnut-stain}
""",
            ("P600", "P220"),
            besides="with a product walnut-stain of the kind stain",
        ),
        on_schedule=_too_fine_for_stain,
    ),
    Rule(
        "stain-over-seal",
        "Stain over a sealed face",
        Severity.ADVICE,
        "Stain colours wood that drinks it. Over a seal it lies as a film of pigment, streaked "
        "and easily scratched. A glaze is meant so: accept the rule then, and say that.",
        "stain first, then seal",
        "common practice",
        Example(
            """\
- stage: body
  steps:
    - {brush: seal, mark: seal, product: shellac-dewaxed-blonde, cut: 1 lb}
    - {wipe: colour, mark: colour, product: walnut-stain}
""",
            ("    - {brush: seal, mark: seal, product: shellac-dewaxed-blonde, cut: 1 lb}\n", ""),
            besides="with a product walnut-stain of the kind stain",
        ),
        on_schedule=told_by_layers("stain-over-seal"),
    ),
    Rule(
        "stain-sanded",
        "Paper on bare stain",
        Severity.ERROR,
        "Stain lies only as deep as the wood drank it. Paper goes through it at every edge and "
        "high spot, and the pale patches cannot be coloured alike again.",
        "sand before the colour; cut what stands up after it over a thin seal, with a few light "
        "strokes",
        "common practice",
        Example(
            """\
- stage: prepare
  steps:
    - {wipe: colour, product: walnut-stain}
    - {sand: light, grade: P320, lubricant: dry}
""",
            (
                "    - {sand",
                (
                    "    - {wipe: seal, mark: seal, product: shellac-dewaxed-blonde, cut: 1 lb}\n"
                    "    - {level"
                ),
            ),
            besides="with a product walnut-stain of the kind stain",
        ),
        on_schedule=_stain_sanded,
    ),
)
