"""The steps of each way to put a defect right, made of what the piece is worked with.

All of it is common practice, no source. A step on one spot is still entered as a step on the piece,
so that the account of film and veneer is never too hopeful. The data sheet of the product and a
sample board go first.
"""

from __future__ import annotations

from typing import TypeVar

from finishsched.checking.defects.worked_with import WorkedWith
from finishsched.factors import G_PER_L_IN_A_POUND_CUT, HOUR_S
from finishsched.model.film import Reach
from finishsched.model.lubricants import LUBRICANT_WORDS, WATERS
from finishsched.model.schedule import HandsOn, Spread, StepPlan, Verb, Wait, Waits
from finishsched.model.step import SPOT, STRIP, Step

T = TypeVar("T")

SEAL_ML_PER_M2 = 20.0
"""A thin seal coat (our assumption)."""

UNKNOWN_REST = Wait(12 * HOUR_S, 24 * HOUR_S, 48 * HOUR_S)
SPIRIT_REST = Wait(0.5 * HOUR_S, 1 * HOUR_S)
SEAL_REST = Wait(2 * HOUR_S, 3 * HOUR_S, 6 * HOUR_S)
GLUE_REST = Wait(24 * HOUR_S, 24 * HOUR_S)
DRY_OUT_REST = Wait(24 * HOUR_S, 48 * HOUR_S, 96 * HOUR_S)
"""What is waited where the piece's own work has no such wait (common practice, no source)."""

MOST_COATS = 12
"""More than a day's work of coats is entered in two reworks, with a look between."""

HARD = "a thumbnail leaves no dent, and a folded corner of the paper lifts dry powder"


VENEER_CAUTION = "On veneer count the strokes, and stop when its colour changes."
NO_COLOUR = "a clean finger takes up no colour"


def once(value: T | None) -> tuple[T, ...]:
    """Return a value as a step's plan holds it, for each coat the same; none where it is None."""
    return () if value is None else (value,)


def rest(used: WorkedWith, how: str, times: float = 1.0, least_s: float = 0.0) -> StepPlan:
    """Return a rest as long as the finish's own before paper, or so many ``times`` as long.

    It is ``least_s`` at the least.
    """
    wait = used.after or UNKNOWN_REST
    latest_s = wait.latest_s * times if wait.latest_s is not None else None
    earliest_s = max(wait.earliest_s * times, least_s)
    likely_s = max(wait.likely_s * times, earliest_s)
    longer = Wait(earliest_s, likely_s, max(latest_s, likely_s) if latest_s is not None else None)
    return StepPlan("rest", Verb.REST, how, waits=Waits(longer), dry_check=HARD)


def dry_out() -> StepPlan:
    """Return a rest for water that was shut in."""
    return StepPlan(
        "rest",
        Verb.REST,
        "warm, dry, moving air on all faces; on edge, off the bench; no heat on one side",
        waits=Waits(DRY_OUT_REST),
        dry_check="as warm to the cheek as dry wood, seams flat; the white has stopped growing",
    )


def spirit_off(used: WorkedWith, how: str, id_: str = "spirit-off") -> StepPlan:
    """Return a pass of a nearly dry pad of alcohol."""
    return StepPlan(
        id_,
        Verb.SPIRIT_OFF,
        how,
        product=used.thinner,
        tool="fresh linen, damp enough to cool the lip and no more",
        hands_on=HandsOn(2.0, 8.0),
        waits=Waits(SPIRIT_REST),
        dry_check="clear to the edge against a lamp; no cloud, no smear",
        cautions=("Too wet and it bites through in one stroke. Try the pad on glass first.",),
    )


def _dry_where_water(lubricant: str | None) -> str | None:
    """Return what wets the paper, but no water.

    It is what made many a defect, and no place that is mended bears more of it.
    """
    return "dry" if lubricant in WATERS else lubricant


def level(
    used: WorkedWith,
    how: str,
    lubricant: str | None = None,
    reach: Reach = Reach.LEVEL,
    *,
    spot: bool = False,
) -> StepPlan:
    """Return a levelling as the piece has it, with its grade; of one ``spot``, with its time."""
    own = used.level
    wet = lubricant or (own.lubricant if own else None)
    wet = _dry_where_water(wet)
    waits = None
    if wet not in (None, "dry"):
        # What wetted the paper has to leave; after dry paper there is nothing to wait for.
        waits = Waits(own.wait) if own and own.wait else Waits(Wait(HOUR_S, 2 * HOUR_S))
    return StepPlan(
        f"{SPOT}level" if spot else "level",
        Verb.LEVEL,
        how,
        grade=(own.grade,) if own and own.grade else ("P400",),
        reach=(reach,),
        lubricant=wet or "dry",
        hands_on=HandsOn(5.0) if spot else HandsOn(3.0, 20.0),
        waits=waits,
        dry_check="wiped clean, nothing cool to the cheek, one even grey" if waits else "",
    )


def tack_off() -> StepPlan:
    """Return the wiping off of the swarf."""
    return StepPlan(
        "tack-off", Verb.TACK_OFF, "vacuum, then a clean dry cloth", hands_on=HandsOn(1.0, 4.0)
    )


def wiped(used: WorkedWith) -> StepPlan:
    """Return what takes the swarf off: a wash where the piece's own paper is wetted with oil."""
    wet = used.level.lubricant if used.level else None
    oiled = wet is not None and wet not in (*LUBRICANT_WORDS, used.spirits)
    return clean(used) if oiled and used.spirits else tack_off()


def clean(used: WorkedWith) -> StepPlan:
    """Return a wash with mineral spirits, which lifts oil and wax and leaves shellac alone."""
    return StepPlan(
        "clean",
        Verb.TACK_OFF,
        "wash with spirits and turn the cloth until none comes up; then a dry one",
        product=used.spirits,
        hands_on=HandsOn(3.0, 10.0),
        waits=Waits(Wait(HOUR_S, 2 * HOUR_S)),
        dry_check="no smell of spirits at a hand's breadth; a finger leaves no track",
    )


def seal(used: WorkedWith, how: str) -> StepPlan:
    """Return one thin coat that shuts in what is below."""
    return StepPlan(
        "seal",
        Verb.PAD,
        how,
        product=used.seal,
        cut_g_per_l=(G_PER_L_IN_A_POUND_CUT,) if used.seal else (),
        tool="lint-free cloth folded to a pad",
        spread=Spread(ml_per_m2=SEAL_ML_PER_M2),
        hands_on=HandsOn(2.0, 8.0),
        waits=Waits(SEAL_REST),
        dry_check="no smell of alcohol; a folded corner of the paper lifts dry powder",
    )


def otherwise(again: str) -> str:
    """Return what is done otherwise this time, before where it is done; as before for nothing."""
    return f"{again};" if again else "as before,"


def coats(used: WorkedWith, number: int | None = None, how: str = "") -> StepPlan:
    """Return so many coats of the piece's own finish, else enough for one levelling.

    What the work itself still lays before paper comes again is part of that: the film would grow
    by it beyond what it bears.
    """
    own = used.coat
    assert own is not None  # noqa: S101  # options that need a coat are not offered without one
    usual = own.verb.does.coat
    few = max(1, (usual.make_good if usual else 2) - used.coats_next)
    count = few if number is None else max(1, min(number, MOST_COATS))
    after, between = used.after or UNKNOWN_REST, used.between
    return StepPlan(
        own.verb.value,
        own.verb,
        how or f"{otherwise(used.again)} over the whole face, so that no edge of it shows",
        product=own.product,
        tool=own.tool,
        lubricant=own.lubricant,
        cut_g_per_l=once(_thinner_cut(own, used.thinned_again)),
        thinned_percent=once(_thinned_more(own, used.thinned_again)),
        coats=(count,),
        spread=own.spread,
        hands_on=own.hands_on,
        waits=Waits(after, between=between),
        dry_check=own.dry_check,
        cautions=own.cautions,
    )


def _thinner_cut(own: Step, share: float) -> float | None:
    cut = own.cut_g_per_l
    return cut if cut is None else cut * (1 - share)


def _thinned_more(own: Step, share: float) -> float | None:
    """Return how far it is thinned; what is made of flakes is thinned by its cut."""
    if not share or own.cut_g_per_l is not None:
        return own.thinned_percent
    return (own.thinned_percent or 0.0) + 100 * share


def touch_in(used: WorkedWith) -> StepPlan:
    """Return dabs on the bare spot alone; they count as no film of the piece."""
    own = used.coat
    assert own is not None  # noqa: S101
    return StepPlan(
        f"{SPOT}touch-in",
        Verb.BRUSH,
        "the bare spot only: dab after dab, each dry first, until it stands a little proud",
        product=own.product,
        cut_g_per_l=once(own.cut_g_per_l),
        tool="fine pointed brush",
        hands_on=HandsOn(10.0),
        waits=Waits(used.after or UNKNOWN_REST),
        dry_check=HARD,
    )


def strip(used: WorkedWith) -> StepPlan:
    """Return the taking off of a film that nothing can hold on."""
    solvent = used.melts and used.thinner is not None
    how = (
        "soak a cloth, lay it on, wipe off what softens; again until the wood or the seal shows"
        if solvent
        else "card scraper, then block, down to what is sound; stay out of the wood"
    )
    return StepPlan(
        STRIP,
        Verb.TACK_OFF if solvent else Verb.LEVEL,
        how,
        product=used.thinner if solvent else None,
        grade=() if solvent else ("P240",),
        lubricant=None if solvent else "dry",
        hands_on=HandsOn(10.0, 60.0),
        waits=Waits(Wait(2 * HOUR_S, 12 * HOUR_S)),
        dry_check="no smell, no soft places; one even face of sound film or wood",
        cautions=(VENEER_CAUTION,),
    )


def colour_in(used: WorkedWith) -> StepPlan:
    """Return the painting of a spot of core or glue in the veneer's colours."""
    return StepPlan(
        f"{SPOT}colour",
        Verb.BRUSH,
        "on the spot only: the veneer's lightest colour first, then its grain, line by line",
        product=used.seal,
        cut_g_per_l=(G_PER_L_IN_A_POUND_CUT,) if used.seal else (),
        tool="fine pointed brush, dry pigment or dye in the finish",
        hands_on=HandsOn(20.0),
        waits=Waits(SEAL_REST),
        dry_check=NO_COLOUR,
    )


def glue_down(used: WorkedWith) -> StepPlan:
    """Return the gluing down of a veneer that has come up."""
    return StepPlan(
        f"{SPOT}glue-down",
        Verb.GLUE_UP,
        "work glue under with a thin blade, press out what is too much, weigh down",
        product=used.glue,
        tool="thin blade, waxed paper, a flat block",
        hands_on=HandsOn(15.0),
        waits=Waits(GLUE_REST),
        dry_check="no hollow sound under a fingernail; seams flat under a straightedge",
    )


def fill(used: WorkedWith) -> StepPlan:
    """Return the filling of single pores."""
    own = used.filler
    assert own is not None  # noqa: S101
    return StepPlan(
        f"{SPOT}fill",
        Verb.FILL,
        "press into the holes only, scrape off all that stands above",
        product=own.product,
        tool=own.tool,
        spread=own.spread,
        hands_on=HandsOn(5.0, 20.0),
        waits=Waits(own.wait) if own.wait else Waits(GLUE_REST),
        dry_check=own.dry_check or HARD,
    )


def rub_even(how: str) -> StepPlan:
    """Return a rubbing that takes next to nothing."""
    return StepPlan(
        "rub-out",
        Verb.RUB_OUT,
        how,
        grade=("P2000",),
        lubricant="mineral-oil",
        hands_on=HandsOn(5.0, 40.0),
    )


def again(step: Step) -> StepPlan:
    """Return a step of the piece's own work, to be done once more as it was."""
    unsaid = SPIRIT_REST if step.verb.does.must_dry else None
    return StepPlan(
        step.verb.value.replace(" ", "-"),
        step.verb,
        step.how,
        product=step.product,
        tool=step.tool,
        grade=once(step.grade),
        reach=once(step.reach),
        lubricant=_dry_where_water(step.lubricant),
        spread=step.spread,
        hands_on=step.hands_on,
        waits=Waits(wait) if (wait := step.wait or unsaid) else None,
        dry_check=step.dry_check or "it looks and feels as it did before",
        cautions=step.cautions,
    )
