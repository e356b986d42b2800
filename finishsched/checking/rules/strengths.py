"""Rules about how strong shellac is laid: by pad, brush and cloth, at the gun."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from finishsched.checking.cases import ScheduleCase
from finishsched.checking.rule import Example, Found, Rule, Severity
from finishsched.checking.words import cut
from finishsched.factors import G_PER_L_IN_A_POUND_CUT
from finishsched.model.verbs import Verb

HAIR = 1.001
"""Cuts are kept in g/L, a hair off the pounds that were written."""
FAR_TOO_STRONG = 1.25
"""Times the strongest (our assumption)."""


def _too_strong(says: str, *verbs: Verb) -> Callable[[ScheduleCase], Iterator[Found]]:
    """Return what tells a cut stronger than these ways of laying it bear."""

    def find(case: ScheduleCase) -> Iterator[Found]:
        for move in case.moves:
            coat, strength = move.verb.does.coat, move.step.cut_g_per_l
            if move.verb not in verbs or coat is None or not coat.most_cut_lb or not strength:
                continue
            pounds = strength / G_PER_L_IN_A_POUND_CUT
            if pounds > coat.most_cut_lb * HAIR:
                yield Found(
                    move.key("cut"),
                    says.format(cut(strength)),
                    grave=pounds > FAR_TOO_STRONG * coat.most_cut_lb,
                )

    return find


_BODY = "product: shellac-dewaxed-blonde"

STRENGTH_RULES = (
    Rule(
        "pad-too-heavy",
        "A pad with too heavy a cut",
        Severity.ERROR,
        "Padding lays films of a few micrometres that dry while the pad is still moving. A heavy "
        "cut cannot: the pad sticks, leaves ropes and tears the coats below.",
        "thin it: 2 lb for body, 1 lb and less at the end; 3 lb is the most",
        "common practice",
        Example(
            f"- stage: body\n  steps:\n    - {{pad: ovals, {_BODY}, cut: 4 lb}}\n",
            ("4 lb", "2 lb"),
        ),
        on_schedule=_too_strong(
            "the pad is charged with a {}: it drags, ropes and tears what is below", Verb.PAD
        ),
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
            f"- stage: body\n  steps:\n    - {{brush: full coat, {_BODY}, cut: 5 lb}}\n",
            ("cut: 5 lb", "cut: 2 lb"),
        ),
        on_schedule=_too_strong(
            "a {} is brushed: it sets before it levels, and stays soft below", Verb.BRUSH
        ),
    ),
    Rule(
        "spray-too-heavy",
        "A cut too heavy for the gun",
        Severity.ADVICE,
        "Alcohol leaves a spray on its way to the wood. A strong cut arrives half dry: threads, "
        "orange peel, and ridges that take more paper than the coat has film.",
        "thin it to 1 or 2 lb, and spray one coat more",
        "common practice",
        Example(
            "- stage: body\n  steps:\n"
            f"    - spray: even passes\n      {_BODY}\n      cut: 3 lb\n"
            "      cautions: [In the booth with the fan on and no sparks near]\n",
            ("cut: 3 lb", "cut: 1.5 lb"),
        ),
        on_schedule=_too_strong(
            "a {} goes through the gun: it threads, and lands half dry", Verb.SPRAY, Verb.TONE
        ),
    ),
    Rule(
        "wipe-too-heavy",
        "A cut too heavy to wipe or to dip",
        Severity.ADVICE,
        "A cloth has no time to even out what sets behind it: a strong cut drags, laps and leaves "
        "its threads. From a bath it runs down, and hangs in fat edges that stay soft.",
        "thin it to 1 or 2 lb, and lay one coat more",
        "common practice",
        Example(
            f"- stage: body\n  steps:\n    - {{wipe: thin, {_BODY}, cut: 4 lb}}\n",
            ("cut: 4 lb", "cut: 1.5 lb"),
        ),
        on_schedule=_too_strong(
            "a {} is wiped or dipped: it sets before it is even, and laps", Verb.WIPE, Verb.DIP
        ),
    ),
)
