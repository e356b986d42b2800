"""Rules about stain: what it goes on, and what comes on it."""

from __future__ import annotations

from collections.abc import Iterator

from finishsched.checking.cases import ScheduleCase
from finishsched.checking.rule import Example, Found, Rule, Severity
from finishsched.checking.rules.stacked import told
from finishsched.model.product import ProductKind


def _stain_sanded(case: ScheduleCase) -> Iterator[Found]:
    stained = False
    for move in case.moves:
        stained = (stained or move.kind is ProductKind.STAIN) and not move.is_film
        if stained and move.verb.cuts:
            yield Found(
                move.verb_path,
                f"'{move.step.title}' comes on bare stain: it rubs pale spots into the colour",
            )


STAIN_RULES = (
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
        on_schedule=told("stain-over-seal"),
    ),
    Rule(
        "stain-sanded",
        "Paper on bare stain",
        Severity.ERROR,
        "Stain lies only as deep as the wood drank it. Paper goes through it at every edge and "
        "high spot, and the pale patches cannot be coloured alike again.",
        "seal the colour first, then scuff the seal",
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
