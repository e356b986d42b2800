"""The ways to put a defect right that fit a piece, the likeliest causes' own ways first."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import replace
from itertools import islice
from types import MappingProxyType
from typing import TypeAlias

from finishsched.checking.defects import passed_grades as grades
from finishsched.checking.defects import recipes as r
from finishsched.checking.defects import spot_recipes as spot
from finishsched.checking.defects.ending import WIPE_WET, ended, hardened, shone, unwaxed
from finishsched.checking.defects.ranking import Diagnosis
from finishsched.checking.defects.relaying import key, washed_twice
from finishsched.checking.defects.rework import Plans, Rework
from finishsched.checking.defects.undoing import UNDOING
from finishsched.checking.defects.worked_with import WorkedWith
from finishsched.checking.rule import PRACTICE
from finishsched.checking.rules.ready import BEFORE_SPIRIT_S
from finishsched.model.film import Reach
from finishsched.model.schedule import Verb

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
    again = replace(used, again=cause.again, colour_again=cause.colour_again)
    return replace(again, thinned_again=cause.thinned_again)


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
    whole = shone(ended(unwaxed(plans, used), used), used)
    return Rework(name, title, used.stage, hardened(whole, used))


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


def _build_level(used: WorkedWith) -> Plans | None:
    if used.coat is None or used.oiled or used.nothing_lies or used.fills_ahead:
        return None
    dull = key(used)
    first = (r.rest(used, "leave it until it is hard"), dull, r.tack_off())
    hard = r.rest(used, "leave it until it is hard right through, a week or more if you can", 2.0)
    return (*first, r.coats(used), hard, r.level(used, _FLAT, spot=True), r.wiped(used))


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


def _wipe_wet(used: WorkedWith) -> Plans | None:
    """Return a coat wiped off while it is wet, where its thinner leaves alone what lies below."""
    bites = used.melts or used.shellac or used.oiled
    if not used.wet or bites or None in (used.coat, used.thinner, used.spirits):
        return None
    how = "at once, before it sets: a dry cloth, then one wet with its thinner, turned each stroke"
    wiped = replace(r.clean(used), id=WIPE_WET, how=how, product=used.thinner)
    coats = () if used.fills_ahead else (r.coats(used, 1),)
    return wiped, *washed_twice(used), *coats


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
    if used.coat is None or used.oiled:
        # Oil goes into the wood: no spot of it stands proud, to be levelled.
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
        rested = r.rest(used, _CURED, 1.0, used.to_gloss_s)
        return rested, *(r.again(step) for step in used.ended[sheens[0] :])
    rested = r.rest(used, _CURED, 0.5, used.to_gloss_s)
    rubbed = r.rub_even("felt, off the edges, small straight strokes, no weight; look often")
    return rested, rubbed, r.clean(used)


def _rub_down(used: WorkedWith) -> Plans:
    how = "full length with the grain, the same count everywhere, off the edges; look often"
    satin = replace(r.rub_even(how), grade=("P1000",), tool="paper or grey wool on a flat felt")
    return r.rest(used, _CURED, 0.5, used.to_satin_s), satin, r.clean(used)


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
        *(
            "spirit-off",
            "level-coat",
            "level-flat",
            "build-level",
            "wait-level",
            "wet-level",
            "finer-level",
        ),
        *("nib-off", "draw-oil", "touch-in", "wait-touch-in", "rub-even", "rub-down"),
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
        "build-level": ("lay coats over it, let them harden, level them", _build_level),
        "wait-level": ("let it harden, then level with fresh paper", _wait_level),
        "wet-level": ("go on with fresh wet paper", _wet_level),
        "finer-level": ("go back to the grade that was passed over", grades.finer_level),
        "nib-off": ("take the points off with worn paper", _nib_off),
        "clean-seal": ("wash it clean and shut it in under a seal", _clean_seal),
        WIPE_WET: ("wipe it off while it is wet, wash, lay it again", _wipe_wet),
        "clean-off": ("wash it clean", _clean_off),
        "draw-oil": ("draw the oil out with alcohol", _draw_oil),
        "touch-in": ("touch in the bare spot, then coat over it", _touch_in),
        "wait-touch-in": ("let it harden, touch in the bare spot, coat over it", _wait_touch_in),
        "colour-in": ("paint the spot in the veneer's colour, seal and coat", _colour_in),
        "patch-in": ("let in a patch of veneer, seal and coat", _patch_in),
        "fill-pores": ("fill the holes, level, coat over them", _fill_pores),
        "rub-even": ("let it harden and rub it even", _rub_even),
        "rub-down": ("let it harden and rub it down to satin", _rub_down),
        "glue-down": ("dry it out, glue the veneer down, coat over it", _glue_down),
        "seal-quick": ("lift the colour off, then one quick seal", _seal_quick),
    }
    | {name: (undoing.title, undoing.recipe) for name, undoing in UNDOING.items()}
)
"""Every way by its short name: its title, and the steps that it makes of a piece's means."""
