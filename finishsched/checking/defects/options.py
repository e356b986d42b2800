"""The ways to put a defect right that fit a piece, the likeliest causes' own ways first."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import replace
from itertools import islice
from types import MappingProxyType
from typing import TypeAlias

from finishsched.checking.defects import passed_grades as grades
from finishsched.checking.defects import recipes as r
from finishsched.checking.defects import spot_recipes as spot
from finishsched.checking.defects.ranking import Diagnosis
from finishsched.checking.defects.rework import Plans, Rework, named_apart
from finishsched.checking.defects.undoing import UNDOING
from finishsched.checking.defects.worked_with import WorkedWith
from finishsched.checking.rule import PRACTICE
from finishsched.checking.rules.ready import BEFORE_SPIRIT_S
from finishsched.model.film import Reach
from finishsched.model.grades import grade_of
from finishsched.model.schedule import Verb
from finishsched.model.step import SPOT, Step

MOST_OFFERED = 4
"""More than that is no help in wet gloves."""
WORTH_OFFERING = 0.08
"""Chance of the causes that it mends, below which a way is left out."""

Recipe: TypeAlias = Callable[[WorkedWith], "Plans | None"]

_CURED = "leave it until it has cured; count from when it was laid"
_FLAT = "the place and a hand's breadth round it, straight with the grain, until it is flat"


def offered(
    diagnosis: Diagnosis, used: WorkedWith, bears: Callable[[Rework], bool] = lambda _: True
) -> tuple[Rework, ...]:
    """Return what can be done: the ways of the likeliest cause, then the others.

    Each comes by the chances of the causes that it mends; waiting, where the work bears none.
    ``bears`` tells whether the piece's remaining work bears a way: one that the checker would
    refuse is never offered.
    """
    used = heeding(used, diagnosis)
    worth, own = _worth(diagnosis), diagnosis.causes[0].cause.reworks
    names = sorted(worth, key=lambda name: (name not in own, -worth[name], name))
    fitting = [rework for name in names if (rework := rework_of(name, used)) is not None]
    good = (one for one in fitting if one.option in own or worth[one.option] >= WORTH_OFFERING)
    best = tuple(islice(filter(bears, good), MOST_OFFERED))
    if best:
        return best
    # Leaving it to harden is never wrong, and is all that is left where nothing else is borne; on
    # bare wood nothing hardens.
    rest = (*fitting, rework_of("wipe-off" if used.nothing_lies else "wait", used))
    return tuple(islice((one for one in rest if one is not None and bears(one)), 1))


def _worth(diagnosis: Diagnosis) -> Mapping[str, float]:
    """Return by its name what each way is worth: by the chances of the causes that it mends."""
    worth: dict[str, float] = defaultdict(float)
    for ranked in diagnosis.causes:
        for place, name in enumerate(ranked.cause.reworks, start=1):
            worth[name] += ranked.chance / place
    return worth


def heeding(used: WorkedWith, diagnosis: Diagnosis) -> WorkedWith:
    """Return the means with what is done otherwise this time, by the likeliest cause."""
    cause = diagnosis.causes[0].cause
    return replace(used, again=cause.again, colour_again=cause.colour_again)


def undoes(diagnosis: Diagnosis, rework: Rework) -> bool:
    """Tell whether a way takes away what most likely made a defect; a spot's repair mends it."""
    return rework.beside or rework.option in diagnosis.causes[0].cause.reworks


def source_of(name: str) -> str:
    """Return where a way is from."""
    return UNDOING[name].source if name in UNDOING else PRACTICE


def rework_of(name: str, used: WorkedWith) -> Rework | None:
    """Return one way by its name; None where the piece has not what it takes."""
    title, recipe = OPTIONS[name]
    plans = None if name in ON_FILM and used.nothing_lies else recipe(used)
    if not plans:
        return None
    if name in UNDOING:
        title = UNDOING[name].title_for(used)
    whole = _shone(_ended(_unwaxed(plans, used), used), used)
    return Rework(name, title, used.stage, hardened(whole, used))


def _unwaxed(plans: Plans, used: WorkedWith) -> Plans:
    """Return ``plans`` on a waxed face: washed first, where anything is to hold or to cut."""
    clings = any(plan.verb.lays_coats or plan.verb.abrades for plan in plans)
    washed = plans[0].id == "clean"
    if not used.waxed or used.spirits is None or washed or not clings:
        return plans
    return r.clean(used), *plans


def _ended(plans: Plans, used: WorkedWith) -> Plans:
    """Return ``plans`` with what ended the work done again, as far as they undo it.

    A new coat cures as the whole did, and is brought to its sheen; what only rubs or washes has the
    sheen and the wax to make good.
    """
    if any(plan.verb is Verb.RUB_OUT for plan in plans):
        return plans
    verbs = [plan.verb for plan in plans if not plan.id.startswith(SPOT) or plan.verb.abrades]
    papers = [plan for plan in plans if plan.verb.cuts and plan.grade]
    least_um = grade_of(papers[-1].grade[0]).grain_um if papers else math.inf
    coated = any(verb.lays_coats or verb is Verb.SPIRIT_OFF for verb in verbs)
    rubbed = coated or any(verb.abrades for verb in verbs)
    washed = used.waxed and any(verb.does.cleans for verb in verbs)
    if Verb.WAX in verbs:
        return plans
    # Paper as coarse as what was just taken would scratch it again.
    sheens = [at for at, step in enumerate(used.ended) if _shines(step, least_um)]
    waxes = [at for at, step in enumerate(used.ended) if step.verb is Verb.WAX]
    starts = ((coated, [0]), (rubbed, sheens), (washed or rubbed, waxes))
    start = next((found[0] for does, found in starts if does and found), len(used.ended))
    # A pass of alcohol leaves nothing to level.
    level = any(verb.lays_coats or verb.abrades for verb in verbs)
    again = [step for step in used.ended[start:] if level or step.verb is not Verb.LEVEL]
    soft = coated and any(step.verb is Verb.SPIRIT_OFF for step in again[:1])
    rested = (r.rest(used, "overnight: alcohol tears what is soft", 1.0, BEFORE_SPIRIT_S),)
    return *plans, *(rested if soft else ()), *(r.again(step) for step in again)


def _shines(step: Step, least_um: float) -> bool:
    """Tell whether a step rubs the sheen on over paper whose grain is ``least_um``."""
    if not step.verb.abrades:
        return False
    return step.verb is Verb.RUB_OUT or not step.grade or grade_of(step.grade).grain_um < least_um


def _shone(plans: Plans, used: WorkedWith) -> Plans:
    """Return ``plans`` with thin coats where they end dull from paper and nothing more is to come.

    The piece's own rubbing out stands among them already, where it has one.
    """
    last = next((p.verb for p in reversed(plans) if p.verb.lays_coats or p.verb.rubs_film), None)
    if last is not Verb.LEVEL or used.sheen_ahead or used.coat is None or used.fills_ahead:
        return plans
    usual = used.coat.verb.does.coat
    few = max(1, (usual.make_good if usual else 2) // 2)
    return *plans, r.coats(used, few, "thin, over the whole face: it brings the shine back")


def hardened(plans: Plans, used: WorkedWith, *, dabs: bool = False) -> Plans:
    """Return ``plans`` with a rest before them, where the last coat is too soft for the first.

    With ``dabs`` it is too soft for a coat as well: what lies thick on a spot shuts it in.
    """
    first = plans[0].verb
    wet = used.oiled and first.does.cleans  # oil that stands wet is wiped off before it is gum
    if wet or not used.fresh or not (_wants_hard(first) or (dabs and first.lays_coats)):
        return named_apart(plans)
    rested = r.rest(used, "let the last coat harden first; count from when it was laid", 0.5)
    return named_apart((rested, *plans))


def _wants_hard(verb: Verb) -> bool:
    """Tell whether a verb is more than a coat still soft bears: it tears, melts or is bitten."""
    return verb.abrades or verb.does.cleans or verb is Verb.BURN_IN


def _wait(used: WorkedWith) -> Plans:
    return (r.rest(used, "warm, dry air that moves a little; nothing touches it", 1.5),)


def _wipe_off(used: WorkedWith) -> Plans | None:
    return (r.tack_off(),) if used.nothing_lies else None


def _dry_out(used: WorkedWith) -> Plans:
    if not used.shellac or used.thinner is None or used.nothing_lies:
        return (r.dry_out(),)
    return r.dry_out(), r.spirit_off(used, "a few light straight strokes over the white places")


def _spirit_off(used: WorkedWith) -> Plans | None:
    if not used.shellac or used.thinner is None:
        return None
    return (
        r.rest(
            used,
            "in drier air than it was coated in, below 55 % humidity",
            0.5,
            BEFORE_SPIRIT_S,
        ),
        r.spirit_off(used, "three or four straight strokes, off the end, then leave it"),
    )


def _level_coat(used: WorkedWith) -> Plans | None:
    if used.coat is None:
        return None
    return (
        r.rest(used, "leave it until it is hard; soft film tears"),
        r.level(used, _FLAT, spot=True),
        r.wiped(used),
        *_coats(used),
    )


def _coats(used: WorkedWith) -> Plans:
    """Return coats of the piece's own finish; none under a filler that is still to come."""
    return () if used.coat is None or used.fills_ahead else (r.coats(used),)


def _level_flat(used: WorkedWith) -> Plans:
    return (
        r.rest(used, "leave it until it is hard right through; a thick place takes longest", 1.5),
        r.level(used, f"pare what stands up with a sharp blade first; then {_FLAT}", spot=True),
        r.wiped(used),
    )


def _wait_level(used: WorkedWith) -> Plans:
    return (
        r.rest(used, "leave it until it is hard right through", 1.5),
        r.level(used, "fresh paper, off the edges, no weight; stop if the swarf gets gummy"),
        r.wiped(used),
    )


def _wet_level(used: WorkedWith) -> Plans:
    wet = used.spirits or "mineral-spirits"
    return (
        r.level(used, "a fresh sheet, off the edges, more to wet it, no weight; wipe it", wet),
        r.wiped(used),
    )


def _nib_off(used: WorkedWith) -> Plans:
    return (
        r.level(
            used,
            "paper nearly worn out, flat under two fingers; the points only",
            None,
            Reach.SCUFF,
            spot=True,
        ),
        r.wiped(used),
    )


def _clean_seal(used: WorkedWith) -> Plans | None:
    if used.seal is None:
        return None
    return r.clean(used), r.seal(used, "one thin quick pass, no going back over it")


def _clean_off(used: WorkedWith) -> Plans:
    if not used.oiled:
        return (r.clean(used),)
    # Oil that has begun to set is gum, which no soft cloth lifts.
    how = "spirits on a coarse cloth or a white pad; rub until none comes up, then a dry cloth"
    return (replace(r.clean(used), how=how),)


def _draw_oil(used: WorkedWith) -> Plans | None:
    if not used.shellac or used.thinner is None:
        return None
    how = "barely damp, quick light strokes with the grain; fresh linen as it fills with oil"
    return r.spirit_off(used, how), r.spirit_off(used, how, "spirit-off-again")


def _touch_in(used: WorkedWith) -> Plans | None:
    if used.coat is None:
        return None
    over = r.coats(used, how="begin over the spot, then the whole face")
    flat = "the spot only, flat block, until it is flush; stay off the rim"
    flush = r.level(used, flat, spot=True)
    return r.touch_in(used), flush, r.wiped(used), over


def _wait_touch_in(used: WorkedWith) -> Plans | None:
    later = _touch_in(used)
    return (r.rest(used, "leave it until it is hard; soft film tears"), *later) if later else None


def _colour_in(used: WorkedWith) -> Plans | None:
    if used.bare:
        # Colour under a filler and a stain to come would keep both out.
        return None
    sealed = (r.seal(used, "one thin pass, no rubbing: the colour is under it"),)
    return r.colour_in(used), *sealed, *_coats(used)


def _patch_in(used: WorkedWith) -> Plans:
    if used.bare:
        # Filling, seal and coats are still to come, over the patch as over the rest.
        return spot.patch_in(used), spot.flush_bare(used, "the patch")
    return (
        spot.patch_in(used),
        r.level(used, "the patch only, towards its middle, until it is flush", spot=True),
        r.wiped(used),
        r.seal(used, "one thin pass over the patch and its rim"),
        *_coats(used),
    )


def _fill_pores(used: WorkedWith) -> Plans | None:
    if used.filler is None or used.coat is None or used.filler.lubricant is not None:
        # Pumice is worked in with alcohol, over pores; it fills no hole.
        return None
    return r.fill(used), r.level(used, _FLAT, spot=True), r.wiped(used), r.coats(used)


def _rub_even(used: WorkedWith) -> Plans:
    sheens = [at for at, step in enumerate(used.ended) if step.verb is Verb.RUB_OUT]
    if sheens:
        # It is brought to its sheen again as it was; another grade would leave another.
        rested = r.rest(used, _CURED, 1.0, used.rubs_s)
        return rested, *(r.again(step) for step in used.ended[sheens[0] :])
    rested = r.rest(used, _CURED, 0.5, used.rubs_s)
    rubbed = r.rub_even("felt, off the edges, small straight strokes, no weight; look often")
    return rested, rubbed, r.clean(used)


def _glue_down(used: WorkedWith) -> Plans:
    return r.dry_out(), r.glue_down(used), *_coats(used)


def _seal_quick(used: WorkedWith) -> Plans | None:
    if used.seal is None:
        return None
    return (
        r.rest(used, "leave it until it is hard; wet colour smears"),
        r.level(
            used,
            "the light places only, until the colour is off",
            reach=Reach.SCUFF,
            spot=True,
        ),
        r.wiped(used),
        r.seal(used, "one quick pass, light woods first, never rubbing; a clean pad"),
    )


ON_FILM = frozenset(
    {
        *("spirit-off", "level-coat", "level-flat", "wait-level", "wet-level", "finer-level"),
        *("nib-off", "draw-oil", "touch-in", "wait-touch-in", "rub-even"),
    }
)
"""Ways that work on a film or a filler: where nothing lies there is nothing to work on."""

OPTIONS: Mapping[str, tuple[str, Recipe]] = MappingProxyType(
    {
        "wait": ("leave it in warm dry air until it is hard", _wait),
        "wipe-off": ("nothing lies there by the log: clean it, log what was laid", _wipe_off),
        "dry-out": ("let the water out first", _dry_out),
        "spirit-off": ("rest in dry air, then flash it off with alcohol", _spirit_off),
        "level-coat": ("let it harden, level it, coat over it", _level_coat),
        "level-flat": ("let it harden, then cut it flat", _level_flat),
        "wait-level": ("let it harden, then level with fresh paper", _wait_level),
        "wet-level": ("go on with fresh wet paper", _wet_level),
        "finer-level": ("go back to the grade that was passed over", grades.finer_level),
        "nib-off": ("take the points off with worn paper", _nib_off),
        "clean-seal": ("wash it clean and shut it in under a seal", _clean_seal),
        "clean-off": ("wash it clean", _clean_off),
        "draw-oil": ("draw the oil out with alcohol", _draw_oil),
        "touch-in": ("touch in the bare spot, then coat over it", _touch_in),
        "wait-touch-in": ("let it harden, touch in the bare spot, coat over it", _wait_touch_in),
        "colour-in": ("paint the spot in the veneer's colour, seal and coat", _colour_in),
        "patch-in": ("let in a patch of veneer, seal and coat", _patch_in),
        "fill-pores": ("fill the holes, level, coat over them", _fill_pores),
        "rub-even": ("let it harden and rub it even", _rub_even),
        "glue-down": ("dry it out, glue the veneer down, coat over it", _glue_down),
        "seal-quick": ("lift the colour off, then one quick seal", _seal_quick),
    }
    | {name: (undoing.title, undoing.recipe) for name, undoing in UNDOING.items()}
)
"""Every way by its short name: its title, and the steps that it makes of a piece's means."""
