"""Rules about rests: before paper comes to a film, before it is rubbed, and at the end."""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

from finishsched.checking import about
from finishsched.checking.cases import ScheduleCase
from finishsched.checking.layers.thin import is_wash_coat, seals_under_wax, share_of_wait
from finishsched.checking.moves import Move
from finishsched.checking.rule import Example, Found, Rule, Severity
from finishsched.checking.rules.sheen import TO_GLOSS_BELOW_UM
from finishsched.checking.words import at_least, at_most, duration
from finishsched.factors import DAY_S, HOUR_S
from finishsched.model.film import Reach
from finishsched.model.product import Mechanism, Product, ProductKind
from finishsched.model.schedule import StageName, Verb

LEAST_OF_PUBLISHED = 0.5
"""Of a product's published time: a thin film or warm air may halve it (our assumption)."""
UNKNOWN_SANDS_S = HOUR_S
"""Where a product states no time (our assumption)."""
HANDLED_SHARE = 0.2
"""Of the published cure: what a film wants before satin is rubbed and hands use it (our
assumption; oil varnish 6 days, lacquer and waterborne near 3)."""
CURED_S = MappingProxyType(
    {
        ProductKind.VARNISH: 28 * DAY_S,
        ProductKind.LACQUER: 28 * DAY_S,
        ProductKind.WATERBORNE: 21 * DAY_S,
        ProductKind.OIL: 7 * DAY_S,
    }
)
"""Where a product states no cure (common practice, no source)."""
FAR_OFF = 0.5
"""Of what is wanted: with less than that it comes out wrong for certain (our assumption)."""
BODY_RESTS_S = 12 * HOUR_S
"""Of padded body before paper (R. Bitmead, French Polishing and Enamelling, 1910)."""
HARD_S = DAY_S
"""Of shellac (US Army TM 43-0139), and the least for any film."""
TO_GLOSS_S = 14 * DAY_S
TO_GLOSS_SHARE = 0.5
"""Before it is rubbed to gloss: what dries by its solvent two weeks, any other film half of its
published cure (common practice; our assumption)."""
BODY_COATS = 3
"""Fewer padded coats are no body that sinks (our assumption)."""


def _no_rest_before_levelling(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        if not (move.verb.cuts or move.verb is Verb.SCRAPE):
            continue
        below = case.layer_below(move)
        if below is None or below.verb is Verb.WAX:
            continue
        blade = move.verb is Verb.SCRAPE
        needed = _sands_s(below.product, 1.0 if blade else _share_before_paper(case, move, below))
        given = case.earliest_s(below, move)
        if given < needed:
            when = f"{at_most(given)} after" if given else "at once after"
            tears = "rolls up under the blade" if blade else "clogs the paper"
            yield Found(
                move.verb_path,
                f"'{move.step.title}' comes {when} '{below.step.title}': soft film {tears} and "
                f"tears{_dust(below.product)}",
                f"give it {at_least(needed)} at the earliest, and a check that it powders",
                about=about.drying(below),
                needed_s=needed,
            )


def _share_before_paper(case: ScheduleCase, move: Move, below: Move) -> float:
    """Return how much of a published time paper waits for; only to scuff a wash coat wants less."""
    scuffs = move.reach is Reach.SCUFF or move.verb is Verb.SAND
    thin = scuffs and is_wash_coat(below)
    return min(LEAST_OF_PUBLISHED, share_of_wait(case, below)) if thin else LEAST_OF_PUBLISHED


def _dust(product: Product | None) -> str:
    """Return what else is to be feared of the dust of a film that is not hard yet."""
    is_two_part = product is not None and product.mechanism is Mechanism.TWO_PART
    return ", and the dust of what is half cured sensitises" if is_two_part else ""


def _short_rest_before_levelling(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        below = case.layer_below(move)
        if move.verb is not Verb.LEVEL or below is None or below.verb is not Verb.PAD:
            continue
        body = (
            below.is_shellac
            and below.step.stage is StageName.BODY
            and below.step.coats >= BODY_COATS
        )
        given = case.likely_s(below, move)
        if body and _sands_s(below.product) <= given < BODY_RESTS_S:
            yield Found(
                below.key("wait"),
                f"padded body rests {at_most(given)} as a rule before it is levelled: it sinks "
                "afterwards, and the pores come back",
                about=about.drying(below),
                needed_s=BODY_RESTS_S,
            )


def _rub_out_too_early(case: ScheduleCase) -> Iterator[Found]:
    last = case.last_film
    if last is None or last.product is None or seals_under_wax(case):
        return
    move = next(filter(_rubs_out, case.after(last)), None)
    if move is None:
        return
    to_gloss = _rubs_to_gloss(case, move)
    needed, given = rubs_s(last.product, to_gloss=to_gloss), case.earliest_s(last, move)
    if given < needed:
        sheen = "gloss" if to_gloss else "satin"
        yield Found(
            move.verb_path,
            f"'{move.step.title}' rubs to {sheen} {at_most(given)} after the last coat at the "
            "earliest: the film still shrinks, and sheen and scratches go on without you",
            f"for {sheen} let {last.step.product} cure {at_least(needed)} or more first",
            grave=given < FAR_OFF * needed,
            about=about.curing(last),
            needed_s=needed,
        )


def _rubs_out(move: Move) -> bool:
    """Tell whether a step brings a cured film to its sheen."""
    levels_cured = move.verb is Verb.LEVEL and move.step.stage is StageName.CURE
    return move.verb is Verb.RUB_OUT or levels_cured


def _no_cure(case: ScheduleCase) -> Iterator[Found]:
    last = case.last_film
    if last is None:
        return
    given = case.earliest_s(last, None)
    handled_s = HANDLED_SHARE * _cured_s(last.product)
    needed = HARD_S if last.is_shellac else max(HARD_S, handled_s)  # it hardens as it dries
    if given < needed:
        film = "no film is hard by then" if given < HARD_S else "that film is soft under a hand"
        yield Found(
            last.verb_path,
            f"the last coat has {at_most(given)} before the piece leaves: {film}",
            f"end with a rest in the stage 'cure' that makes it {at_least(needed)} or more before "
            f"hands use it; {last.step.product or 'it'} is fully hard after about "
            f"{duration(_cured_s(last.product))}",
            grave=given < FAR_OFF * needed,
            about=about.curing(last),
            needed_s=needed,
        )


def _sands_s(product: Product | None, share: float = LEAST_OF_PUBLISHED) -> float:
    dries = product.dries if product else None
    published = (dries.sand_s or dries.recoat_s) if dries else None
    if product is None or published is None:
        return UNKNOWN_SANDS_S
    # Thin or warm, it is hard sooner; but half-cured dust of two parts sensitises: no share there.
    is_two_part = product.mechanism is Mechanism.TWO_PART
    return published if is_two_part else share * published


def _rubs_to_gloss(case: ScheduleCase, move: Move) -> bool:
    """Tell whether a rub is for gloss: by powder, or finer than what leaves satin."""
    grade = case.grade(move)
    is_fine = grade is not None and grade.grain_um < TO_GLOSS_BELOW_UM
    return is_fine or move.kind is ProductKind.POWDER


def rubs_s(product: Product, *, to_gloss: bool) -> float:
    """Return how long a film rests before it is rubbed: to gloss weeks, to satin a share."""
    if not to_gloss:
        return HANDLED_SHARE * _cured_s(product)
    by_solvent = product.mechanism is Mechanism.SOLVENT
    return TO_GLOSS_S if by_solvent else TO_GLOSS_SHARE * _cured_s(product)


def _cured_s(product: Product | None) -> float:
    """Return how long a film takes to its full hardness, as published; else as its kind does."""
    if product is None:
        return HARD_S
    published = product.dries.cured_s if product.dries else None
    return published or CURED_S.get(product.kind, HARD_S)


_COAT = "product: shellac-dewaxed-blonde, cut: 2 lb, amount: 15 ml/m2"

REST_RULES = (
    Rule(
        "no-rest-before-levelling",
        "Levelling with no rest before it",
        Severity.ERROR,
        "Film feels hard long before it is. Under paper it clogs, rolls and tears, and what is "
        "cut flat today sinks tomorrow. It is ready when the swarf is dry powder.",
        "give it a rest first, and a check that it powders",
        "published times of the product, half of them taken; common practice for the powder test",
        Example(
            f"""\
- stage: body
  steps:
    - {{pad: ovals, coats: 12, {_COAT},
       wait: {{earliest: 5 min, likely: 15 min}}, dry_check: no drag}}
    - {{level: block, grade: P600, lubricant: dry}}
""",
            ("earliest: 5 min, likely: 15 min", "earliest: 12 h, likely: 20 h"),
        ),
        on_schedule=_no_rest_before_levelling,
    ),
    Rule(
        "short-rest-before-levelling",
        "A short rest before the body is levelled",
        Severity.ADVICE,
        "Many padded coats hold their alcohol for hours. Papered the same evening they go on "
        "shrinking, and pores and scratches come back the next week.",
        "let it rest overnight, 12 h or more",
        "Bitmead, French Polishing and Enamelling: body rests about 12 h before papering",
        Example(
            f"""\
- stage: body
  steps:
    - {{pad: ovals, coats: 12, {_COAT},
       wait: {{earliest: 2 h, likely: 4 h}}, dry_check: lifts powder}}
    - {{level: block, grade: P600, lubricant: dry}}
""",
            ("earliest: 2 h, likely: 4 h", "earliest: 12 h, likely: 20 h"),
        ),
        on_schedule=_short_rest_before_levelling,
    ),
    Rule(
        "rub-out-too-early",
        "Rubbed out before it has cured",
        Severity.ADVICE,
        "A film loses its last solvent for weeks, and shrinks as it does. Rubbed to gloss before, "
        "it goes dull again and every pore prints; rubbed soft, it smears instead of cutting.",
        "let it cure first",
        "common practice: two weeks and more before a film is rubbed to gloss; a fifth of the "
        "published cure before satin is our assumption",
        Example(
            f"""\
- stage: polish
  steps:
    - {{pad: straight, {_COAT},
       wait: {{earliest: 12 h, likely: 24 h}}, dry_check: hard}}
- stage: cure
  steps:
    - {{rest: on pins, wait: {{earliest: 24 h, likely: 2 days}}, dry_check: no dent}}
    - {{rub out: small strokes, product: rottenstone, lubricant: mineral-oil}}
""",
            ("earliest: 24 h, likely: 2 days", "earliest: 2 weeks, likely: 4 weeks"),
        ),
        on_schedule=_rub_out_too_early,
    ),
    Rule(
        "no-cure",
        "Nothing cures at the end",
        Severity.ADVICE,
        "Hard to the touch is not hard. Wrapped, stacked or used within a day the film takes "
        "prints and rings, and sticks to what it lies on.",
        "end with a rest in the stage 'cure', a day for shellac and weeks for varnish",
        "US Army TM 43-0139: shellac is hard in 24 h; data sheets: days to weeks for the others; "
        "a fifth of the published cure is our assumption",
        Example(
            f"""\
- stage: body
  steps:
    - {{pad: ovals, {_COAT},
       wait: {{earliest: 8 h, likely: 12 h}}, dry_check: no drag}}
""",
            (
                "dry_check: no drag}\n",
                (
                    "dry_check: no drag}\n- stage: cure\n  steps:\n    - rest: on pins\n"
                    "      wait: {earliest: 24 h, likely: 4 days}\n      dry_check: hard\n"
                ),
            ),
        ),
        on_schedule=_no_cure,
    ),
)
