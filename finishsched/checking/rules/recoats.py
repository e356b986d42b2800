"""Rules about one coat after another: not too soon, and not too late."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from finishsched.checking import about
from finishsched.checking.cases import ScheduleCase
from finishsched.checking.layers.matter import matter_at
from finishsched.checking.layers.thin import is_wash_coat, share_of_wait
from finishsched.checking.moves import Move
from finishsched.checking.rule import Example, Found, Rule, Severity
from finishsched.checking.rules.rests import LEAST_OF_PUBLISHED
from finishsched.checking.rules.stacked import told_by_layers
from finishsched.checking.words import at_most, duration
from finishsched.factors import DAY_S
from finishsched.model.product import Mechanism, Product
from finishsched.model.schedule import Verb

LEAST_OF_A_THIN_CUT = 0.35
"""After so much of it a thin cut may be coated: an hour for shellac (common practice, no
source)."""
_IN_PASSES = (Verb.PAD, Verb.TONE)
"""What lays a coat in films so thin that each is dry within minutes."""
UNDER_TWO_PART_S = DAY_S
"""Of whatever a two-part coat goes over (our assumption)."""


def _recoat_too_soon(case: ScheduleCase) -> Iterator[Found]:
    for below, move in pairwise(case.layers):
        takes_s, known = _recoats_in(below.product)
        in_passes = below.verb in _IN_PASSES and below.step.product == move.step.product
        given = case.earliest_s(below, move)
        if given >= takes_s * LEAST_OF_PUBLISHED or below.verb is Verb.WAX:
            continue
        thin = given >= takes_s * share_of_wait(case, below) or _is_thin_cut(below, given / takes_s)
        if not (in_passes or thin or _of_one_mix(case, below, move)):
            yield Found(
                below.key("wait"),
                f"'{move.step.title}' may follow {at_most(given)} after '{below.step.title}', and "
                f"{below.step.product} takes {duration(takes_s)} {known}",
                about=about.drying(below),
                needed_s=takes_s * LEAST_OF_PUBLISHED,
            )


def _is_thin_cut(below: Move, share: float) -> bool:
    """Tell whether a wash coat, a dab or a mist had so much of a full coat's wait as it wants."""
    return is_wash_coat(below) and share >= LEAST_OF_A_THIN_CUT


def _recoats_in(product: Product | None) -> tuple[float, str]:
    """Return how long a full coat wants before the next one, and who says so; 0 for not known."""
    if product is None:
        return 0.0, ""
    if product.dries is not None and product.dries.recoat_s is not None:
        return product.dries.recoat_s, "as published"
    row = product.kind.row
    dries_as_its_kind = product.mechanism in (None, row.mechanism)
    return (row.usual_recoat_s if dries_as_its_kind else None) or 0.0, "as a rule"


def _of_one_mix(case: ScheduleCase, below: Move, move: Move) -> bool:
    """Tell whether a step goes on with the mix of the one before, as the plan takes it too.

    That is the same two-part product again, next, before its pot life is over: wet in wet.
    """
    product = below.product
    if product is None or product.pot_life_s is None or below.step.product != move.step.product:
        return False
    at_once = not case.between(below, move) and below.step.wait is not None
    in_time = below.likely_s < product.pot_life_s
    return product.mechanism is Mechanism.TWO_PART and at_once and in_time


def _two_part_over_green(case: ScheduleCase) -> Iterator[Found]:
    for below, move in pairwise(case.films):
        given, needed = case.earliest_s(below, move), UNDER_TWO_PART_S
        own_sealer = matter_at(below) == "lacquer.vinyl"  # made to lie under them, wet in wet
        if not _is_two_part(move) or _is_two_part(below) or own_sealer or given >= needed:
            continue
        if given < needed * share_of_wait(case, below):
            yield Found(
                move.key("product"),
                f"a two-part coat goes on {at_most(given)} after '{below.step.title}': it shuts "
                "in what has still to leave, and wrinkles",
                about=about.drying(below),
                needed_s=needed,
            )


def _is_two_part(move: Move) -> bool:
    return move.product is not None and move.product.mechanism is Mechanism.TWO_PART


_COAT = "product: shellac-dewaxed-blonde, cut: 2 lb, amount: 90 ml/m2"

RECOAT_RULES = (
    Rule(
        "recoat-too-soon",
        "The next coat before the last one bears it",
        Severity.ERROR,
        "A coat over one that is still soft shuts its solvent in: it stays soft, wrinkles or "
        "cracks. Thin padded passes of one shellac are no such coats, nor is more of one two-part "
        "mix within its pot life: they become one film.",
        "wait as the data sheet says, half of it at the very earliest",
        "published recoat times of the product; half of them taken for thin films and warm air",
        Example(
            """\
- stage: body
  steps:
    - brush: tip off once
      product: oil-varnish
      coats: 2
      wait: {earliest: 2 h, likely: 4 h}
      dry_check: no tack
""",
            ("earliest: 2 h, likely: 4 h", "earliest: 8 h, likely: 12 h"),
        ),
        on_schedule=_recoat_too_soon,
    ),
    Rule(
        "two-part-over-green",
        "A two-part coat over green film",
        Severity.ERROR,
        "A two-part coat hardens by itself and shuts in whatever is still to leave the film "
        "below. That comes out later: wrinkles, bubbles, a film that peels.",
        "let what is below cure a day or more, and scuff it",
        "common practice; the day is our assumption",
        Example(
            f"""\
- stage: body
  steps:
    - {{brush: seal, mark: seal, {_COAT},
       wait: {{earliest: 2 h, likely: 3 h}}, dry_check: dry}}
    - {{brush: flow on, product: two-part-clear, mark: top}}
""",
            ("earliest: 2 h, likely: 3 h", "earliest: 24 h, likely: 36 h"),
            besides="with a varnish two-part-clear that dries two-part",
        ),
        on_schedule=_two_part_over_green,
    ),
    Rule(
        "no-bite",
        "A coat that has nothing to hold to",
        Severity.ADVICE,
        "Varnish, waterborne and two-part coats bond to the coat below only while it is young. "
        "Past a day they lie on it like paper, and let go at the first knock.",
        "scuff the coat below first, or lay the next sooner",
        "the table of layers; makers' data sheets for oil-modified polyurethane: abrade after "
        "12 to 24 h",
        Example(
            """\
- stage: body
  steps:
    - brush: tip off once
      product: oil-varnish
      coats: 2
      wait: {earliest: 12 h, likely: 36 h}
      dry_check: no tack
""",
            ("earliest: 12 h, likely: 36 h", "earliest: 8 h, likely: 12 h"),
        ),
        on_schedule=told_by_layers("no-bite"),
    ),
)
