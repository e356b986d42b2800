"""Rules about figures that a step says in its words: how far off, how warm."""

from __future__ import annotations

from finishsched.checking.rule import Example, Rule, Severity
from finishsched.checking.said.asked import told_by_words

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
        on_schedule=told_by_words("gun-distance"),
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
        on_schedule=told_by_words("glue-overheated"),
    ),
)
