"""Rules about figures that a step says in its words: how far off, how warm."""

from __future__ import annotations

import re
from collections.abc import Iterator

from finishsched.checking.cases import ScheduleCase
from finishsched.checking.layers.matter import matter_of
from finishsched.checking.rule import Example, Found, Rule, Severity
from finishsched.model.how import tells

_FROM_WORK = re.compile(
    r"(\d+(?:\.\d+)?) ?(mm|cm|in|inch|inches|ft|feet)\b[^.;,]{0,16}\b(?:away|from|off|distan)"
)
_CM = {"mm": 0.1, "cm": 1.0, "in": 2.54, "inch": 2.54, "inches": 2.54, "ft": 30.5, "feet": 30.5}
GUN_CM = (10.0, 35.0)
"""Between which a gun is held, 15 to 25 cm as a rule (common practice), with a margin."""


def _gun_distance(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        said = _FROM_WORK.search(move.step.how.lower()) if move.step.by_gun else None
        held_cm = float(said[1]) * _CM[said[2]] if said else GUN_CM[0]
        if not GUN_CM[0] <= held_cm <= GUN_CM[1]:
            far = held_cm > GUN_CM[1]
            yield Found(
                move.verb_path,
                f"'{move.step.title}' holds the gun {'too far off' if far else 'too near'}: "
                + ("it lands half dry, rough, and holds badly" if far else "it runs and ripples"),
            )


_DEGREES = re.compile(r"(\d{2,3}) ?(?:deg(?:rees)? ?|°)?([cf])\b")
HOTTEST_GLUE_C = 70.0


def _glue_overheated(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        if move.product is None or matter_of(move.product) != "glue.hide":
            continue
        said = f"{move.step.how}. {move.step.tool}".lower()
        found = [(float(one[1]), one[2]) for one in _DEGREES.finditer(said)]
        warm_c = [warm if unit == "c" else (warm - 32) / 1.8 for warm, unit in found]
        hot = any(warm > HOTTEST_GLUE_C for warm in warm_c)
        if hot or tells(said, r"\bboil(?:s|ed|ing)?\b"):
            yield Found(
                move.verb_path,
                f"'{move.step.title}' keeps {move.step.product} too hot: it breaks down, and the "
                "joint holds little",
            )


MEASURED_RULES = (
    Rule(
        "gun-distance",
        "The gun too far off, or too near",
        Severity.ADVICE,
        "From afar the drops dry in the air and land as dust: rough, grey, weakly bound. From too "
        "near the air blows the wet film into ripples and runs.",
        "hold it 15 to 25 cm off, square to the work, and lay it wet",
        "common practice, no source",
        Example(
            "- stage: body\n  steps:\n    - spray: from 60 cm away so that nothing runs\n"
            "      product: nitrocellulose-lacquer\n"
            "      cautions: [In the booth with the fan on and no sparks near]\n",
            ("60 cm", "20 cm"),
        ),
        on_schedule=_gun_distance,
    ),
    Rule(
        "glue-overheated",
        "Hide glue kept too hot",
        Severity.ADVICE,
        "Hide glue is protein. Above some 70 degC, and worse when it boils, it falls apart: thin, "
        "smelly, and weak for good.",
        "keep it at 60 to 65 degC in a water bath, and warm no more than the day takes",
        "common practice, no source",
        Example(
            "- stage: prepare\n  steps:\n"
            "    - {glue up: kept at 90 degC in the pot, product: hot-hide-glue}\n",
            ("90 degC", "62 degC"),
        ),
        on_schedule=_glue_overheated,
    ),
)
