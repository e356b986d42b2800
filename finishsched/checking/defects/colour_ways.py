"""Ways about the colour of the wood, and about what keeps it out: dye, glue, gum, haze of filler.

All of it is common practice, no source. What was wrong is not done again: wood that drinks
unevenly is damped or given a wash coat first, and colour in stripes is first drawn even.
"""

from __future__ import annotations

from dataclasses import replace

from finishsched.checking.defects import recipes as r
from finishsched.checking.defects.relaying import (
    Undoing,
    coloured_again,
    fibres_cut,
    put_back,
    sand_last,
    sanded,
)
from finishsched.checking.defects.rework import Plans
from finishsched.checking.defects.worked_with import WorkedWith
from finishsched.factors import G_PER_L_IN_A_POUND_CUT, HOUR_S
from finishsched.model.film import Reach
from finishsched.model.schedule import HandsOn, Spread, StepPlan, Verb, Wait, Waits

TINT_COATS = 2
"""Thin coats of tint before it is looked at in daylight (our assumption)."""
FINER_GRADE = "P320"
"""Wood that is sanded so far drinks less of an oil, and more evenly (common practice)."""


def _colour_wash(used: WorkedWith) -> Plans | None:
    again = coloured_again(used)
    if not again or used.filler_laid or used.stain_thinner is None:
        return None
    drawn = StepPlan(
        "wash-colour",
        Verb.TACK_OFF,
        "wet all the face from end to end, wipe off what colour comes, again until it is even",
        product=used.stain_thinner,
        tool="clean cloths, turned often",
        hands_on=HandsOn(6.0, 20.0),
        waits=Waits(Wait(2 * HOUR_S, 12 * HOUR_S)),
        dry_check="one even tone, wet and dry, and no cooler to the cheek than dry wood",
        cautions=("On veneer as little as will do: it swells seams and lets glue go.",),
    )
    return put_back(used, drawn, *again)


def _colour_even(used: WorkedWith) -> Plans | None:
    """Return the wood sanded clean, and then made to drink less, or everywhere alike."""
    if not used.sands or used.filler_laid:
        return None
    if used.oiled:
        finer = replace(sand_last(used), grade=(FINER_GRADE,))
        how = "the first coat thinned by half and wiped off at once"
        return put_back(replace(used, again=how), *sanded(used), finer, r.tack_off())
    cleaned = (*sanded(used), r.tack_off())
    if not coloured_again(used):
        return put_back(used, *cleaned)
    if used.stain_thinner == used.water:
        how = "half as strong and twice, on wood that was damped all over first"
        again = coloured_again(replace(used, colour_again=how))
        return put_back(used, *cleaned, _damped(), *fibres_cut(used), *again)
    if used.seal is None:
        return None
    washed = r.seal(
        used, "one thin quick pass, a wash coat: it stops the thirst, the pores stay open"
    )
    again = coloured_again(replace(used, colour_again="in two thin coats over the wash coat"))
    return put_back(used, *cleaned, washed, *again)


def _damped() -> StepPlan:
    return StepPlan(
        "damp",
        Verb.RAISE_GRAIN,
        "a wrung sponge over the whole face, evenly; fibres that stand up are cut before the dye",
        product="water",
        hands_on=HandsOn(2.0, 8.0),
        waits=Waits(Wait(2 * HOUR_S, 4 * HOUR_S)),
        dry_check="as warm to the cheek as dry wood",
        cautions=("On veneer as little water as can be: it swells seams and lets glue go.",),
    )


def _tone_paler(used: WorkedWith) -> Plans | None:
    if used.seal is None or used.nothing_lies or used.oiled:
        return None
    how = "the paler part only: dye in it, each coat faint, until both agree by a window"
    coats = () if used.coat is None or used.fills_ahead else (r.coats(used),)
    return r.rest(used, "leave it until it is hard"), _tinted(used, how), *coats


def _tinted(used: WorkedWith, how: str) -> StepPlan:
    return StepPlan(
        "colour-tint",
        Verb.BRUSH,
        how,
        product=used.seal,
        cut_g_per_l=(G_PER_L_IN_A_POUND_CUT,),
        coats=(TINT_COATS,),
        tool="soft mop brush, spirit dye stirred into thin shellac and strained",
        spread=Spread(ml_per_m2=50.0),
        hands_on=HandsOn(4.0, 12.0),
        waits=Waits(r.SEAL_REST, between=r.SEAL_REST),
        dry_check="no smell of alcohol; a clean finger takes up no colour",
        cautions=("Try it on an offcut of the same wood first, and look by daylight.",),
    )


def _haze_off(used: WorkedWith) -> Plans | None:
    if not used.filler_laid:
        return None
    light = replace(
        sand_last(used),
        how="light, with the grain, until the veil is off the face and stands in the pores alone",
        reach=(Reach.SCUFF,),
    )
    return put_back(used, light, r.tack_off())


def _gum_off(used: WorkedWith) -> Plans | None:
    if used.water is None or used.filler_laid:
        return None
    washed = StepPlan(
        "wash-gum",
        Verb.TACK_OFF,
        "warm water on a wrung cloth, on the strip alone, until it is not slippery; dry it off",
        product=used.water,
        tool="cloths, wrung out and turned often",
        hands_on=HandsOn(6.0),
        waits=Waits(Wait(12 * HOUR_S, 24 * HOUR_S)),
        dry_check="as warm to the cheek as the wood beside it; the seam is flat",
        cautions=("On veneer as little water as can be: it swells seams and lets glue go.",),
    )
    return put_back(used, washed, *fibres_cut(used), *coloured_again(used))


COLOUR_WAYS = {
    "colour-wash": Undoing(
        "take the film off, draw the colour even with its own solvent, colour and coat again",
        _colour_wash,
        where_bare="draw the colour even with its own solvent, and colour it again",
    ),
    "colour-even": Undoing(
        "go back to the wood, make it drink evenly, lay it again",
        _colour_even,
        'B. Flexner, "Battling blotching", Popular Woodworking no. 140, 2004',
        where_bare="sand it clean and make it drink evenly",
    ),
    "tone-paler": Undoing("tint the paler part in the film, coat over it", _tone_paler),
    "haze-off": Undoing("take the film off, sand the veil off the face, lay it again", _haze_off),
    "gum-off": Undoing(
        "take the film off, wash the gum off the wood, lay it again",
        _gum_off,
        where_bare="wash the gum off the wood",
    ),
}
"""Every such way by its short name."""
