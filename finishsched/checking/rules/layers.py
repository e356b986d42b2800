"""Rules about what goes over what: fillers, seals, wax, alcohol and oil."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from finishsched.checking import about
from finishsched.checking.cases import ScheduleCase
from finishsched.checking.layers.matter import matter_at
from finishsched.checking.layers.thin import MOST_WASH_COATS, is_thin_seal, is_wash_coat
from finishsched.checking.moves import Move
from finishsched.checking.rule import Example, Found, Rule, Severity
from finishsched.checking.rules.stacked import told_by_layers
from finishsched.checking.words import cut
from finishsched.model.how import tells
from finishsched.model.kinds import SHELLACS
from finishsched.model.product import ProductKind
from finishsched.model.schedule import Stage, StageName, Verb

_SOFTENS = (*SHELLACS, ProductKind.LACQUER, ProductKind.WATERBORNE)
FLOWS_TOGETHER = (
    r"\bflows? (?:together|out|again)\b|\bre-?amalgamat\w+|\bamalgamat\w+|\breflow\w*|"
    r"\b(?:craz\w*|crack\w*|checks|alligator\w*) (?:\w+ ){0,3}(?:melts?|closes?|softens?|flows?)\b"
)
"""How an old film of shellac or lacquer is made whole again by what it dissolves in."""
_ORDER = {
    StageName.PREPARE: 0,
    StageName.FILL: 1,
    StageName.SEAL: 1,
    StageName.BODY: 2,
    StageName.LEVEL: 3,
    StageName.POLISH: 4,
    StageName.CURE: 5,
}
"""The order of stages; fill and seal come in either."""


def _filler_over_seal(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        if not move.is_filler:
            continue
        below = [one for one in case.before(move) if one.is_film or one.verb is Verb.WAX]
        why = _shuts_the_pores(below)
        if why:
            yield Found(
                move.verb_path,
                f"the filler goes on over {why}: it cannot get into the pores, or bond there",
                contested=_all_thin(below),
                about=about.remains(move),
            )
    yield from _pumice_over_film(case)
    yield from told_by_layers("filler-over-seal")(case)


def _all_thin(below: list[Move]) -> bool:
    """Tell whether what lies there is thin enough for some to fill over it, and not for all."""
    one_seal = len(below) == 1 and (is_thin_seal(below[0]) or _is_called_wash_coat(below[0]))
    return one_seal or all(map(is_wash_coat, below))


def _is_called_wash_coat(move: Move) -> bool:
    return tells(move.step.how, r"\bwash ?coat|\bsanding seal")


def _pumice_over_film(case: ScheduleCase) -> Iterator[Found]:
    """Tell of pumice over brushed or sprayed shellac that is more than a wash coat."""
    for move in case.moves:
        if move.verb is not Verb.FILL or move.kind is not ProductKind.POWDER:
            continue
        built = [one for one in case.before(move) if _bridges(one)]
        if built:
            yield Found(
                move.verb_path,
                f"'{move.step.title}' comes over '{built[0].step.title}' of "
                f"{cut(built[0].step.cut_g_per_l or 0.0)}: it lies over the pores, and the powder "
                "grinds the film and does not get into them",
                "pad on two or three thin coats of 1 lb first, and no more",
                contested=True,
            )
            return


def _bridges(move: Move) -> bool:
    """Tell whether a coat of shellac lies over the pores, and not in them as a padded one does."""
    flowed = move.is_shellac and move.verb is not Verb.PAD
    return flowed and bool(move.step.cut_g_per_l) and not is_wash_coat(move)


def _shuts_the_pores(below: list[Move]) -> str:
    """Return what shuts the pores, in words; empty for bare wood and a wash coat."""
    for move in below:
        if move.verb is Verb.WAX:
            return "wax"
        if move.step.stage not in (StageName.SEAL, StageName.PREPARE):
            return f"coats of the stage '{move.step.stage.value}'"
        if is_wash_coat(move) or (move.is_shellac and not move.step.cut_g_per_l):
            continue
        if move.step.cut_g_per_l:
            return f"a seal of {cut(move.step.cut_g_per_l)}"
        return f"a coat of {move.step.product or 'an unknown product'}"
    return f"{len(below)} seal coats" if len(below) > MOST_WASH_COATS else ""


def _filler_haze(case: ScheduleCase) -> Iterator[Found]:
    for fill, move in pairwise(case.layers):
        if not fill.is_filler or not move.is_film:
            continue
        cut_off = any(one.verb.cuts for one in case.between(fill, move))
        if not cut_off and not _wiped_over_wash_coat(case, fill):
            yield Found(
                fill.verb_path,
                f"'{move.step.title}' goes on over the haze that '{fill.step.title}' leaves on "
                "the face",
            )


def _wiped_over_wash_coat(case: ScheduleCase, fill: Move) -> bool:
    """Tell whether an oil filler was wiped off a sealed face, where it leaves next to no veil."""
    sealed = any(is_wash_coat(one) for one in case.before(fill))
    oily = matter_at(fill) == "filler.oil"
    return sealed and oily and tells(fill.step.how, r"\bwip(?:e|ed|ing)\b")


def _alcohol_lifts(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        below = case.film_below(move)
        old = case.schedule.over if below is None else None
        kind, what = (below.kind, below.step.product) if below else (old, "the old finish")
        if kind not in _SOFTENS or move.step.strips:
            continue  # a rework that takes the film off means to
        if below is None and tells(move.step.how, FLOWS_TOGETHER):
            continue  # the old film is softened so that its cracks close
        alcohol = next((one for one in move.brings if one.kind is ProductKind.ALCOHOL), None)
        wipes = move.verb.abrades or (move.verb.does.cleans and move.verb is not Verb.SPIRIT_OFF)
        spirits = move.verb is Verb.SPIRIT_OFF and kind not in SHELLACS
        if alcohol is not None and (wipes or spirits):
            yield Found(
                move.key("product" if move.product is alcohol else "lubricant"),
                f"{alcohol.id} goes over a film of {what} at "
                f"'{move.step.title}': it softens and lifts it",
            )
    yield from told_by_layers("alcohol-lifts")(case)


def _oil_left_in(case: ScheduleCase) -> Iterator[Found]:
    if all(move.kind is ProductKind.OIL for move in case.films):
        return  # oil is the finish
    for move in case.moves:
        oil = move.lubricant
        if oil is None or not oil.kind.row.oils:
            continue
        if not any(later.washes for later in case.after(move)):
            yield Found(
                move.key("lubricant"),
                f"{oil.id} comes on at '{move.step.title}' and nothing takes it off again",
                about=about.remains(move),
            )


def _stages_out_of_order(case: ScheduleCase) -> Iterator[Found]:
    for at, (before, stage) in enumerate(pairwise(case.schedule.stages), start=1):
        if _ORDER[stage.name] < _ORDER[before.name] and _of(stage) == _of(before):
            yield Found(
                ("stages", at, "stage"),
                f"the stage '{stage.name.value}' comes after '{before.name.value}'",
            )


def _of(stage: Stage) -> str:
    """Return which of several schedules run one after another a stage belongs to."""
    return next((step.id for step in stage.step_plans()), "").rpartition(".")[0]


_SEAL = "product: shellac-dewaxed-blonde"

LAYER_RULES = (
    Rule(
        "filler-over-seal",
        "Filler over a face that is shut already",
        Severity.ERROR,
        "Filler has to lock into open pores. Over a thin wash coat it still does; over a real "
        "seal, several coats or anything oily it lies on the surface and comes out with the "
        "first levelling, or sinks.",
        "fill first, or over one or two wash coats of 1 lb",
        "common practice",
        Example(
            f"""\
- stage: seal
  steps:
    - {{brush: full coat, {_SEAL}, cut: 3 lb}}
- stage: fill
  steps:
    - {{fill: across the pores, product: oil-paste-filler}}
""",
            ("cut: 3 lb", "cut: 1 lb"),
        ),
        on_schedule=_filler_over_seal,
    ),
    Rule(
        "filler-haze",
        "Filler not taken off the face",
        Severity.ADVICE,
        "However well it is wiped, filler leaves a veil between the pores. A clear coat makes it "
        "a grey cloud for good.",
        "level it lightly before the next coat",
        "common practice",
        Example(
            f"""\
- stage: fill
  steps:
    - {{fill: across the pores, product: water-based-filler}}
- stage: body
  steps:
    - {{pad: ovals, {_SEAL}, cut: 2 lb}}
""",
            (
                "filler}\n",
                (
                    "filler}\n    - {level: 'block, light', grade: P320, lubricant: dry}\n"
                    "    - {tack off: vacuum}\n"
                ),
            ),
        ),
        on_schedule=_filler_haze,
    ),
    Rule(
        "over-waxy-shellac",
        "A coat that peels off waxy shellac",
        Severity.ERROR,
        "Flakes with their wax leave some of it at the surface. Shellac sticks to that; "
        "polyurethane, waterborne and two-part coats do not, and peel off in sheets.",
        "seal with dewaxed shellac",
        "common practice",
        Example(
            """\
- stage: seal
  steps:
    - {brush: full coat, product: shellac-waxy-orange, cut: 1 lb}
- stage: body
  steps:
    - {brush: full coat, product: oil-varnish}
""",
            ("shellac-waxy-orange", "shellac-dewaxed-blonde"),
        ),
        on_schedule=told_by_layers("over-waxy-shellac"),
    ),
    Rule(
        "coat-over-wax",
        "A coat over wax",
        Severity.ERROR,
        "Wax is the last thing on. Nothing sticks to it, and what is laid over it crawls.",
        "put the wax last, or wash it off with spirits first",
        "makers' data sheets for paste wax; common practice",
        Example(
            """\
- stage: cure
  steps:
    - {wax: thin as breath, product: paste-wax}
    - {brush: one more coat, product: oil-varnish}
""",
            ("    - {brush: one more coat, product: oil-varnish}\n", ""),
        ),
        on_schedule=told_by_layers("coat-over-wax"),
    ),
    Rule(
        "alcohol-lifts",
        "Alcohol over a film that it lifts",
        Severity.ERROR,
        "Alcohol dissolves shellac at any age, and softens lacquer and fresh waterborne films. A "
        "cloth damp with it drags the film off; a coat of shellac over it wrinkles it.",
        "use spirits or a dry cloth",
        "common practice",
        Example(
            f"""\
- stage: body
  steps:
    - {{pad: ovals, {_SEAL}, cut: 2 lb}}
    - {{tack off: a damp cloth, product: denatured-alcohol}}
""",
            ("denatured-alcohol", "mineral-spirits"),
        ),
        on_schedule=_alcohol_lifts,
    ),
    Rule(
        "lacquer-over-oil",
        "Lacquer over oil or varnish",
        Severity.ERROR,
        "The thinner of lacquer is a paint stripper to an oxidised film: it swells it, and it "
        "stands up in wrinkles.",
        "put a seal of dewaxed shellac between",
        "common practice",
        Example(
            """\
- stage: body
  steps:
    - {wipe: thin, product: boiled-linseed-oil}
    - {spray: even passes, product: nitrocellulose-lacquer}
""",
            (
                "    - {spray",
                (
                    "    - {wipe: thin, mark: seal, product: shellac-dewaxed-blonde, cut: 1 lb}\n"
                    "    - {spray"
                ),
            ),
        ),
        on_schedule=told_by_layers("lacquer-over-oil"),
    ),
    Rule(
        "oil-left-in",
        "Oil that nothing takes off again",
        Severity.ADVICE,
        "Oil under pad or paper never dries, or dries soft. Left in, it clouds the shine, sweats "
        "out and keeps the next coat from sticking.",
        "add a 'spirit off:' or a 'tack off:' with spirits after it",
        "common practice",
        Example(
            f"""\
- stage: body
  steps:
    - {{pad: ovals, {_SEAL}, cut: 2 lb, lubricant: mineral-oil}}
""",
            (
                "mineral-oil}\n",
                "mineral-oil}\n    - {spirit off: light, product: denatured-alcohol}\n",
            ),
        ),
        on_schedule=_oil_left_in,
    ),
    Rule(
        "stages-out-of-order",
        "Stages out of their order",
        Severity.ADVICE,
        "Prepare comes first, fill and seal in either order, then body, level, polish, cure. Other "
        "orders are mostly a slip of the pen, and every clock and rule goes by the stage.",
        "put them in order, or name the stage as what it is",
        "common practice",
        Example(
            """\
- stage: polish
  steps:
    - {spirit off: light, product: denatured-alcohol}
- stage: body
  steps:
    - {rest: on pins}
""",
            ("body", "cure"),
        ),
        on_schedule=_stages_out_of_order,
    ),
)
