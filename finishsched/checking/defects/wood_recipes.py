"""Ways that are about the wood below and what lives in it, and not about the film."""

from __future__ import annotations

from dataclasses import replace

from finishsched.checking.defects import recipes as r
from finishsched.checking.defects.rework import Plans
from finishsched.checking.defects.worked_with import WorkedWith
from finishsched.factors import DAY_S, HOUR_S
from finishsched.model.schedule import HandsOn, StepPlan, Verb, Wait, Waits
from finishsched.model.step import SPOT

MOULD_CAUTION = (
    "Spores harm lungs: a fitted mask of class P3 or N100, gloves, nobody else near. Who has "
    "asthma or a weak defence leaves it to others. Local advice comes first."
)


def balance(used: WorkedWith) -> Plans:
    """Return what lets a panel come level again, and the other face finished as the one is."""
    own = used.coat
    if own is None or used.bare or used.oiled:
        return (_level_again(),)
    back = StepPlan(
        f"{SPOT}back",
        own.verb,
        "the other face and all edges, as many coats as this face has; each dry first",
        product=own.product,
        cut_g_per_l=r.once(own.cut_g_per_l),
        tool=own.tool,
        hands_on=HandsOn(10.0, 40.0),
        waits=Waits(used.after or r.UNKNOWN_REST),
        dry_check="as hard as the other face; a straightedge shows no more light than before",
        cautions=own.cautions,
    )
    return _level_again(), back


def _level_again() -> StepPlan:
    held = "a straightedge shows no light, or no less than the day before"
    return replace(r.dry_out(), dry_check=held)


def come_level(_: WorkedWith) -> Plans:
    """Return the rest in which wood that was wetted on one face comes level again."""
    return (_level_again(),)


def freeze(_: WorkedWith) -> Plans:
    """Return the killing of beetles by cold, which harms no film that is packed dry."""
    frozen = StepPlan(
        "rest",
        Verb.REST,
        "in a bag of film, its air pressed out, at -20 degC or colder; thaw a day in the bag",
        waits=Waits(Wait(7 * DAY_S, 14 * DAY_S, 21 * DAY_S)),
        dry_check="a week on black paper, and no new dust lies on it",
        cautions=(
            "Old thick varnish and inlay can crack in such cold: show those to a restorer first.",
            "No insecticide by guess: poisons are for licensed hands, and spoil a finish.",
        ),
    )
    return (frozen,)


def mould_off(used: WorkedWith) -> Plans:
    """Return the drying out of a piece and the taking off of what grew on it."""
    wiped = StepPlan(
        "clean",
        Verb.TACK_OFF,
        "outdoors: vacuum through a fine filter, then spirits on cloths, each used once",
        product=used.spirits,
        tool="soft brush, vacuum with a fine filter, cloths in a closed bag after",
        hands_on=HandsOn(10.0, 20.0),
        waits=Waits(Wait(HOUR_S, 2 * HOUR_S)),
        dry_check="no smell of cellar; after two weeks below 60 % humidity nothing has grown",
        cautions=(MOULD_CAUTION,),
    )
    return r.dry_out(), wiped
