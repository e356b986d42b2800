"""The ways to put a defect right that fit a piece, the likeliest causes' own ways first."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping
from itertools import islice
from types import MappingProxyType
from typing import TypeAlias

from finishsched.checking.defects import recipes as r
from finishsched.checking.defects import spot_recipes as spot
from finishsched.checking.defects.ranking import Diagnosis
from finishsched.checking.defects.rework import Rework
from finishsched.checking.defects.worked_with import Means
from finishsched.model.film import Reach
from finishsched.model.schedule import StepPlan, Verb

MOST_OFFERED = 4
"""More than that is no help in wet gloves."""
WORTH_OFFERING = 0.08
"""Chance of the causes that it mends, below which a way is left out."""

Plans: TypeAlias = tuple[StepPlan, ...]
Recipe: TypeAlias = Callable[[Means], "Plans | None"]

_FLAT = "the place and a hand's breadth round it, straight with the grain, until it is flat"


def offered(
    diagnosis: Diagnosis, means: Means, bears: Callable[[Rework], bool] = lambda _: True
) -> tuple[Rework, ...]:
    """Return what can be done, best first: each way by the chances of the causes that it mends.

    ``bears`` tells whether the piece's remaining work bears a way: one that the checker would
    refuse is never offered.
    """
    worth: dict[str, float] = defaultdict(float)
    for ranked in diagnosis.causes:
        for place, name in enumerate(ranked.cause.reworks, start=1):
            worth[name] += ranked.chance / place
    names = sorted(worth, key=lambda name: (-worth[name], name))
    found = [(worth[name], rework_of(name, means)) for name in names]
    fitting = [(by, rework) for by, rework in found if rework is not None]
    good = (rework for by, rework in fitting if by >= WORTH_OFFERING)
    best = tuple(islice(filter(bears, good), MOST_OFFERED))
    if best:
        return best
    # Leaving it to harden is never wrong, and is all that is left where nothing else is borne.
    rest = (*(rework for _, rework in fitting), rework_of("wait", means))
    return tuple(islice((rework for rework in rest if rework and bears(rework)), 1))


def rework_of(name: str, means: Means) -> Rework | None:
    """Return one way by its name; None where the piece has not what it takes."""
    title, recipe = OPTIONS[name]
    plans = recipe(means)
    return Rework(name, title, means.stage, hardened(plans, means)) if plans else None


def hardened(plans: Plans, means: Means, *, dabs: bool = False) -> Plans:
    """Return ``plans`` with a rest before them, where the last coat is too soft for the first.

    With ``dabs`` it is too soft for a coat as well: what lies thick on a spot shuts it in.
    """
    first = plans[0].verb
    if not means.fresh or not (_wants_hard(first) or (dabs and first.lays_coats)):
        return plans
    rested = r.rest(means, "let the last coat harden first; count from when it was laid", 0.5)
    return (rested, *plans)


def _wants_hard(verb: Verb) -> bool:
    """Tell whether a verb is more than a coat still soft bears: it tears, melts or is bitten."""
    return verb.abrades or verb.does.cleans or verb is Verb.BURN_IN


def _wait(means: Means) -> Plans:
    return (r.rest(means, "warm, dry air that moves a little; nothing touches it", 1.5),)


def _dry_out(means: Means) -> Plans:
    if not means.shellac or means.thinner is None:
        return (r.dry_out(),)
    return r.dry_out(), r.spirit_off(means, "a few light straight strokes over the white places")


def _spirit_off(means: Means) -> Plans | None:
    if not means.shellac or means.thinner is None:
        return None
    return (
        r.rest(means, "in drier air than it was coated in, below 55 % humidity", 0.5),
        r.spirit_off(means, "three or four straight strokes, off the end, then leave it"),
    )


def _level_coat(means: Means) -> Plans | None:
    if means.coat is None:
        return None
    return (
        r.rest(means, "leave it until it is hard; soft film tears"),
        r.level(means, _FLAT, spot=True),
        r.wiped(means),
        r.coats(means),
    )


def _level_flat(means: Means) -> Plans:
    return (
        r.rest(means, "leave it until it is hard right through; a thick place takes longest", 1.5),
        r.level(means, f"pare what stands up with a sharp blade first; then {_FLAT}", spot=True),
        r.wiped(means),
    )


def _wait_level(means: Means) -> Plans:
    return (
        r.rest(means, "leave it until it is hard right through", 1.5),
        r.level(means, "fresh paper, off the edges, no weight; stop if the swarf gets gummy"),
        r.wiped(means),
    )


def _wet_level(means: Means) -> Plans:
    wet = means.spirits or "mineral-spirits"
    return (
        r.level(means, "a fresh sheet, off the edges, more to wet it, no weight; wipe it", wet),
        r.wiped(means),
    )


def _finer_level(means: Means) -> Plans:
    return (
        r.level(means, "off the edges, the grade passed over; stop when one scratch is left"),
        r.wiped(means),
    )


def _nib_off(means: Means) -> Plans:
    return (
        r.level(
            means,
            "paper nearly worn out, flat under two fingers; the points only",
            None,
            Reach.SCUFF,
            spot=True,
        ),
        r.wiped(means),
    )


def _clean_seal(means: Means) -> Plans | None:
    if means.seal is None:
        return None
    return r.clean(means), r.seal(means, "one thin quick pass, no going back over it")


def _clean_off(means: Means) -> Plans:
    return (r.clean(means),)


def _draw_oil(means: Means) -> Plans | None:
    if not means.shellac or means.thinner is None:
        return None
    how = "barely damp, quick light strokes with the grain; fresh linen as it fills with oil"
    return r.spirit_off(means, how), r.spirit_off(means, how, "spirit-off-again")


def _strip(means: Means) -> Plans | None:
    if means.coat is None:
        return None
    sealed = (r.seal(means, "one thin quick pass over all"),) if means.seal else ()
    return r.strip(means), *sealed, r.coats(means, means.coats_laid)


def _touch_in(means: Means) -> Plans | None:
    if means.coat is None:
        return None
    over = r.coats(means, how="begin over the spot, then the whole face")
    flat = "the spot only, flat block, until it is flush; stay off the rim"
    flush = r.level(means, flat, spot=True)
    return r.touch_in(means), flush, r.wiped(means), over


def _wait_touch_in(means: Means) -> Plans | None:
    later = _touch_in(means)
    return (r.rest(means, "leave it until it is hard; soft film tears"), *later) if later else None


def _colour_in(means: Means) -> Plans | None:
    if means.bare:
        # Colour under a filler and a stain to come would keep both out.
        return None
    sealed = (r.seal(means, "one thin pass, no rubbing: the colour is under it"),)
    return r.colour_in(means), *sealed, *((r.coats(means),) if means.coat else ())


def _patch_in(means: Means) -> Plans:
    if means.bare:
        # Filling, seal and coats are still to come, over the patch as over the rest.
        return r.patch_in(means), spot.flush_bare(means, "the patch")
    return (
        r.patch_in(means),
        r.level(means, "the patch only, towards its middle, until it is flush", spot=True),
        r.wiped(means),
        r.seal(means, "one thin pass over the patch and its rim"),
        *((r.coats(means),) if means.coat else ()),
    )


def _fill_pores(means: Means) -> Plans | None:
    if means.filler is None or means.coat is None:
        return None
    return r.fill(means), r.level(means, _FLAT, spot=True), r.wiped(means), r.coats(means)


def _rub_even(means: Means) -> Plans:
    rested = r.rest(means, "leave it until it is hard", 0.5)
    rubbed = r.rub_even("felt, off the edges, small straight strokes, no weight; look often")
    return rested, rubbed, r.clean(means)


def _glue_down(means: Means) -> Plans:
    return r.dry_out(), r.glue_down(means), *((r.coats(means),) if means.coat else ())


def _seal_quick(means: Means) -> Plans | None:
    if means.seal is None:
        return None
    return (
        r.level(
            means,
            "the light places only, until the colour is off",
            reach=Reach.SCUFF,
            spot=True,
        ),
        r.wiped(means),
        r.seal(means, "one quick pass, light woods first, never rubbing; a clean pad"),
    )


OPTIONS: Mapping[str, tuple[str, Recipe]] = MappingProxyType(
    {
        "wait": ("leave it in warm dry air until it is hard", _wait),
        "dry-out": ("let the water out first", _dry_out),
        "spirit-off": ("rest in dry air, then flash it off with alcohol", _spirit_off),
        "level-coat": ("let it harden, level it, coat over it", _level_coat),
        "level-flat": ("let it harden, then cut it flat", _level_flat),
        "wait-level": ("let it harden, then level with fresh paper", _wait_level),
        "wet-level": ("go on with fresh wet paper", _wet_level),
        "finer-level": ("go back to the grade that was passed over", _finer_level),
        "nib-off": ("take the points off with worn paper", _nib_off),
        "clean-seal": ("wash it clean and shut it in under a seal", _clean_seal),
        "clean-off": ("wash it clean", _clean_off),
        "draw-oil": ("draw the oil out with alcohol", _draw_oil),
        "strip": ("take the film off and lay it again", _strip),
        "touch-in": ("touch in the bare spot, then coat over it", _touch_in),
        "wait-touch-in": ("let it harden, touch in the bare spot, coat over it", _wait_touch_in),
        "colour-in": ("paint the spot in the veneer's colour, seal and coat", _colour_in),
        "patch-in": ("let in a patch of veneer, seal and coat", _patch_in),
        "fill-pores": ("fill the holes, level, coat over them", _fill_pores),
        "rub-even": ("let it harden and rub it even", _rub_even),
        "glue-down": ("dry it out, glue the veneer down, coat over it", _glue_down),
        "seal-quick": ("lift the colour off, then one quick seal", _seal_quick),
    }
)
"""Every way by its short name: its title, and the steps that it makes of a piece's means."""
