"""The rules of what a step's words say: in the hand, in the pot, in the room, by guard and time.

What they ask stands in the tables of ``checking/said/unfit``.
"""

from __future__ import annotations

from finishsched.checking.rule import Example, Rule, Severity
from finishsched.checking.said.asked import told_by_words

_DEFER = "the product's data sheet and local codes come first"

IN_HAND_RULES = (
    Rule(
        "unfit-tool",
        "A tool or a way of working that its product does not bear",
        Severity.ADVICE,
        "Bristle drinks water, foam melts in alcohol, lye eats hair and metal, shaking beats in "
        "air, heat boils a film from below, the wrong thinner curdles it, hardener is no matter of "
        "taste, filler is pulled out along the pores, and oil that is not wiped off never dries.",
        "use what the product's data sheet names",
        "common practice; makers' data sheets for brushes and thinners",
        Example(
            "- stage: body\n  steps:\n    - brush: full and quick\n"
            "      product: waterborne-clear\n      tool: hog bristle brush\n",
            ("hog bristle brush", "synthetic brush"),
        ),
        on_schedule=told_by_words("unfit-tool"),
    ),
    Rule(
        "can-hurt",
        "A way of working that can hurt",
        Severity.ERROR,
        "Vapour over a stove lights, chlorine with acid or ammonia gives off poisonous gas, lye "
        "burns skin before it is felt, a closed bottle of bleach bursts, and a paper mask lets "
        f"vapour through. This names what is told again and again, and not all there is: {_DEFER}.",
        "do it as the product's data sheet says",
        "common practice, no source; the data sheets of the products named",
        Example(
            "- stage: body\n  steps:\n    - brush: warm it on the stove, full coat\n"
            "      product: oil-varnish\n",
            ("warm it on the stove", "in a warm room"),
        ),
        on_schedule=told_by_words("can-hurt"),
    ),
    Rule(
        "said-too-soon",
        "By its own words it goes on too soon",
        Severity.ADVICE,
        "A figure under wait may be right, and the words beside it wrong: who is told to go on "
        "while it is tacky will do so, and shuts in what has not left yet.",
        "wait until it is dry by touch, by nail and by smell, and say so",
        "common practice, no source",
        Example(
            "- stage: body\n  steps:\n    - brush: full coat\n      product: oil-varnish\n"
            "      wait: {earliest: 24 h, likely: 36 h}\n"
            "      dry_check: a finger still sticks a little\n",
            ("a finger still sticks a little", "a thumbnail leaves no dent"),
        ),
        on_schedule=told_by_words("said-too-soon"),
    ),
)
