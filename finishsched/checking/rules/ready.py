"""Rules about what is not ready yet: for spirit, for oil, out of its clamps; and by which check."""

from __future__ import annotations

from collections.abc import Iterator

from finishsched.checking import about
from finishsched.checking.cases import ScheduleCase
from finishsched.checking.moves import Move
from finishsched.checking.rule import Example, Found, Rule, Severity
from finishsched.checking.words import at_most
from finishsched.factors import HOUR_S
from finishsched.model.schedule import Verb
from finishsched.model.step import steps_of

BEFORE_SPIRIT_S = 4 * HOUR_S
BEFORE_OIL_S = 8 * HOUR_S
"""Of shellac, before alcohol flashes over it or oil comes on it (our assumptions)."""
CLAMPED_S = HOUR_S / 2
"""The least unstressed, for PVA (an adhesive maker's guide)."""


def _spirit_off_too_early(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        below = case.film_below(move)
        if move.verb is not Verb.SPIRIT_OFF or below is None:
            continue
        given = case.earliest_s(below, move)
        if given < BEFORE_SPIRIT_S:
            yield Found(
                move.verb_path,
                f"the spirit comes {at_most(given)} after '{below.step.title}': it tears a film "
                "that is still soft",
                about=about.drying(below),
                needed_s=BEFORE_SPIRIT_S,
            )


def _oil_on_fresh_shellac(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        below = case.film_below(move)
        oil = move.lubricant is not None and move.lubricant.kind.row.oils
        if not move.verb.abrades or move.verb is Verb.SAND or below is None or not oil:
            continue
        given = case.earliest_s(below, move)
        if below.is_shellac and given < BEFORE_OIL_S:
            yield Found(
                move.key("lubricant"),
                f"oil comes on shellac {at_most(given)} after its last coat: it goes in and "
                "sweats out again for weeks",
                about=about.drying(below),
                needed_s=BEFORE_OIL_S,
            )


def _clamp_too_short(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        if move.verb is Verb.GLUE_UP and move.earliest_s < CLAMPED_S:
            yield Found(
                move.key("wait") if move.step.wait else move.verb_path,
                f"the glue has {at_most(move.earliest_s)} in the clamp: the joint creeps open",
            )


def _no_dry_check(case: ScheduleCase) -> Iterator[Found]:
    last = steps_of(case.schedule)[-1].key
    for move in case.moves:
        if move.must_dry and move.step.wait is None and not _is_rinsed_at_once(case, move):
            yield Found(
                move.verb_path,
                f"'{move.step.title}' has no wait and no dry check: nothing says when it is ready",
                # Wax that is the last of all is buffed, and nothing waits for it.
                contested=move.verb is Verb.WAX and move.step.key == last,
            )


def _is_rinsed_at_once(case: ScheduleCase, move: Move) -> bool:
    """Tell whether a step is washed off by the next, which says when that is dry."""
    following = case.after(move)[:1]
    return move.verb is Verb.NEUTRALISE and any(one.verb is Verb.WASH for one in following)


_COAT = "product: shellac-dewaxed-blonde, cut: 2 lb, amount: 15 ml/m2"

READY_RULES = (
    Rule(
        "spirit-off-too-early",
        "Spirited off too early",
        Severity.ERROR,
        "The last passes of alcohol only float over a film that is hard. A soft one they tear.",
        "let the last pads rest overnight, 4 h at the very least",
        "common practice; the 4 h are our assumption",
        Example(
            f"""\
- stage: polish
  steps:
    - {{pad: straight, {_COAT},
       wait: {{earliest: 20 min, likely: 1 h}}, dry_check: slides}}
    - {{spirit off: light, product: denatured-alcohol}}
""",
            ("earliest: 20 min, likely: 1 h", "earliest: 8 h, likely: 12 h"),
        ),
        on_schedule=_spirit_off_too_early,
    ),
    Rule(
        "oil-on-fresh-shellac",
        "Oil on shellac that is still green",
        Severity.ADVICE,
        "Oil under the paper goes into a film that still holds alcohol. It sweats out again for "
        "weeks, and what oil is left makes the next coat crawl.",
        "wait longer, or level with spirits",
        "common practice; the 8 h are our assumption",
        Example(
            f"""\
- stage: body
  steps:
    - {{pad: ovals, {_COAT},
       wait: {{earliest: 3 h, likely: 12 h}}, dry_check: powders}}
    - {{level: light, grade: P600, reach: scuff, lubricant: mineral-oil}}
    - {{tack off: until no oil comes up}}
""",
            ("earliest: 3 h", "earliest: 12 h"),
        ),
        on_schedule=_oil_on_fresh_shellac,
    ),
    Rule(
        "clamp-too-short",
        "A glue-up out of its clamps too soon",
        Severity.ERROR,
        "Glue that has only skinned lets the joint slide and open, and veneer lifts at its edges.",
        "clamp for half an hour unstressed, 24 h under stress",
        "adhesive maker's guide for PVA: 30 to 60 min unstressed, 24 h stressed",
        Example(
            """\
- stage: prepare
  steps:
    - {glue up: close the seam, product: pva-glue,
       wait: {earliest: 10 min, likely: 20 min}, dry_check: squeeze-out snaps}
""",
            ("earliest: 10 min, likely: 20 min", "earliest: 30 min, likely: 1 h"),
        ),
        on_schedule=_clamp_too_short,
    ),
    Rule(
        "no-dry-check",
        "A step with no dry check",
        Severity.ERROR,
        "What is wet says nothing of when it is dry. A wait says when to look, and only the test "
        "at its end says that it is ready; without both the next step comes by guess.",
        "add 'wait:' with a range and 'dry_check:' with the test that ends it",
        "common practice: the clock advises, the test decides",
        Example(
            f"""\
- stage: seal
  steps:
    - {{pad: one wet pass, {_COAT}}}
""",
            (
                "15 ml/m2}",
                (
                    "15 ml/m2,\n       wait: {earliest: 90 min, likely: 2 h}, "
                    "dry_check: no smell of alcohol}"
                ),
            ),
        ),
        on_schedule=_no_dry_check,
    ),
)
