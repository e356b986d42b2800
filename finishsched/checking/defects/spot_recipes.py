"""The steps of each repair of one spot, made of what the piece is worked with.

All of it is common practice, no source, as the table of repairs says row by row. Minutes are our
assumption. What is laid is laid on the spot alone and counts as no film of the face.
"""

from __future__ import annotations

import math
from dataclasses import replace

from finishsched.checking.defects import recipes as r
from finishsched.checking.defects.spot_state import SpotState
from finishsched.checking.defects.worked_with import DAB_ML_PER_M2, WorkedWith
from finishsched.factors import HOUR_S, MIN_S
from finishsched.model.film import Reach
from finishsched.model.grades import FEPA_UM, grade_of
from finishsched.model.schedule import HandsOn, Spread, StepPlan, Verb, Wait, Waits
from finishsched.model.step import SPOT
from finishsched.model.verbs import VERBS

MOST_DABS = 6
"""More than that is a film laid anew: the whole face is better (our assumption)."""
STICK_COOLS = Wait(10 * MIN_S, 15 * MIN_S)
"""Of molten shellac in a hole."""
FADED_ML_PER_M2 = 20.0
"""A coat that is drawn out thin round a spot (our assumption)."""
STEAM_REST = Wait(4 * HOUR_S, 12 * HOUR_S, 24 * HOUR_S)
FINE = "P1500"
"""For a spot in the last coat, where the schedule has no paper as fine (our assumption)."""


def patch_in(used: WorkedWith) -> StepPlan:
    """Return the letting in of new veneer; it stands under weight until the glue has set."""
    return StepPlan(
        f"{SPOT}patch-in",
        Verb.GLUE_UP,
        "cut a boat-shaped patch along the grain, cut its bed to it, glue and weigh down",
        product=used.glue,
        tool="veneer of the same sheet, sharp knife, waxed paper, a block",
        hands_on=HandsOn(40.0),
        waits=Waits(r.GLUE_REST),
        dry_check="no gap at the rim under a lens; flat under a straightedge",
    )


def flush_bare(used: WorkedWith, what: str) -> StepPlan:
    """Return the bringing flush of something that stands up on bare wood, dry."""
    return StepPlan(
        f"{SPOT}flush",
        Verb.SAND,
        f"{what} only, towards its middle, on a small hard block, until it is flush; then stop",
        grade=(used.sand.grade,) if used.sand and used.sand.grade else ("P180",),
        lubricant="dry",
        hands_on=HandsOn(8.0),
        cautions=(r.VENEER_CAUTION,),
    )


def flush(used: WorkedWith, what: str) -> StepPlan:
    """Return the bringing flush of something that stands up in a film."""
    return r.level(used, f"{what} only, small hard block, until it is flush", "dry", spot=True)


def wiped() -> StepPlan:
    """Return the taking off of the dust of one spot."""
    return StepPlan(f"{SPOT}tack-off", Verb.TACK_OFF, "a clean dry cloth", hands_on=HandsOn(1.0))


def stain(used: WorkedWith) -> StepPlan:
    """Return the piece's own stain on one spot."""
    own = used.stain
    assert own is not None  # noqa: S101  # repairs that need a stain are not offered without one
    return StepPlan(
        f"{SPOT}stain",
        Verb.STAIN,
        "the pale place only, with a small brush; wipe at once from its rim inwards",
        product=own.product,
        tool="fine pointed brush, dry cloth",
        spread=own.spread,
        hands_on=HandsOn(10.0),
        waits=Waits(own.wait) if own.wait else Waits(r.SEAL_REST),
        dry_check=own.dry_check or r.NO_COLOUR,
    )


def colour(used: WorkedWith) -> StepPlan:
    """Return the painting of a pale spot: in shellac, or else in the piece's own finish.

    Alcohol would lift a film that is no shellac.
    """
    painted = r.colour_in(used)
    own = used.coat
    if used.shellac or own is None:
        return painted
    return replace(
        painted,
        product=own.product,
        cut_g_per_l=(),
        thinned_percent=r.once(own.thinned_percent),
        waits=Waits(used.after or r.UNKNOWN_REST),
    )


def burn_in(how: str) -> StepPlan:
    """Return the filling of a hole with a coloured stick, molten in."""
    return StepPlan(
        f"{SPOT}burn-in",
        Verb.BURN_IN,
        how,
        tool="stick of hard shellac in the wood's darker colour, warm knife, wax-free",
        hands_on=HandsOn(12.0),
        waits=Waits(STICK_COOLS),
        dry_check="cold, and a nail leaves no mark",
    )


def dabs(
    used: WorkedWith, there: SpotState, number: int, how: str, *, thin: bool = False
) -> StepPlan:
    """Return so many dabs of the piece's own finish on the spot, each dry before the next.

    Of its strongest coat, or ``thin`` as the last one. Where no coat comes after them, they cure as
    long as the whole does.
    """
    own = used.coat if thin else used.dab or used.coat
    assert own is not None  # noqa: S101  # repairs that need a coat are not offered without one
    after = used.after or r.UNKNOWN_REST
    if not there.coats_ahead and used.cure is not None:
        after = max(after, used.cure, key=lambda wait: wait.likely_s)
    return StepPlan(
        f"{SPOT}dab",
        Verb.BRUSH,
        how,
        product=own.product,
        cut_g_per_l=r.once(own.cut_g_per_l),
        thinned_percent=r.once(own.thinned_percent),
        coats=(max(1, min(number, MOST_DABS)),),
        tool="fine pointed brush",
        spread=Spread(ml_per_m2=FADED_ML_PER_M2 if thin else DAB_ML_PER_M2),
        hands_on=HandsOn(3.0),
        waits=Waits(after, between=_between(used)),
        dry_check=r.HARD,
    )


def _between(used: WorkedWith) -> Wait:
    """Return the wait between two dabs: a dab lies thicker than a padded or wiped coat."""
    own = used.between or r.SEAL_REST
    brushed = used.coat is not None and used.coat.verb is Verb.BRUSH
    return own if brushed or own.likely_s >= r.SEAL_REST.likely_s else r.SEAL_REST


def dabs_for(used: WorkedWith, there: SpotState) -> int:
    """Return the dabs that bring a bare spot up to the film around it.

    As many as lay that film, where it was reckoned; else as lay what the coats round the spot laid.
    """
    if there.film_um is not None and used.dab_um > 0:
        return math.ceil(there.film_um / used.dab_um)
    own = used.coat.verb.does.coat if used.coat else None
    brush = VERBS[Verb.BRUSH].coat
    if own is None or brush is None:
        return 1
    return math.ceil(there.coats * own.usual_wet_um.likely / brush.usual_wet_um.likely)


def feather(used: WorkedWith) -> StepPlan:
    """Return the thinning out of a film's broken rim, so that no step shows under what follows."""
    return r.level(
        used,
        "the rim only, out to a hand's breadth, light as a scuff, until no step is felt",
        "dry",
        Reach.SCUFF,
        spot=True,
    )


def steam() -> StepPlan:
    """Return the swelling up of crushed fibres, before anything is laid."""
    return StepPlan(
        f"{SPOT}steam",
        Verb.STEAM,
        "a damp cloth on the dent, the iron's tip for 2 or 3 seconds, look, and again",
        hands_on=HandsOn(8.0),
        waits=Waits(STEAM_REST),
        dry_check="as warm to the cheek as the wood round it; the dent is up, or no longer moves",
        cautions=("On veneer a second at a time: heat lets the glue go, water swells seams.",),
    )


def pare(used: WorkedWith) -> StepPlan:
    """Return the taking down of a run."""
    return r.level(
        used,
        "shave the run with a sharp blade held flat; then a small hard block until it is flush",
        "dry",
        spot=True,
    )


def point_off(used: WorkedWith, there: SpotState) -> StepPlan:
    """Return the taking off of one point; in the last coat with a grade that leaves no scratch."""
    step = r.level(
        used,
        "paper nearly worn out, flat under two fingers: the point only",
        "dry",
        Reach.SCUFF,
        spot=True,
    )
    goes_on = there.coats_ahead or there.levels_ahead or there.sheen_ahead
    return step if goes_on else replace(step, grade=(_finest(used),))


def _finest(used: WorkedWith) -> str:
    """Return the finest paper that what gives the sheen takes the scratches out of."""
    own = used.sheen.grade if used.sheen else None
    rubbed_um = grade_of(own).grain_um if own else 0.0
    fit = [f"P{number}" for number, um in FEPA_UM.items() if um >= rubbed_um]
    return FINE if grade_of(FINE).grain_um >= rubbed_um or not fit else fit[-1]


def unwaxed(used: WorkedWith) -> StepPlan:
    """Return the washing of wax off a spot, and a hand's breadth round it."""
    return replace(
        _washed(used),
        id=f"{SPOT}wash",
        how="spirits on a clean cloth, again with a fresh one, a hand's breadth round the spot too",
    )


def waxed_again(used: WorkedWith) -> StepPlan:
    """Return the wax that the rest of the face has, on a spot that was washed."""
    own = used.wax
    return StepPlan(
        f"{SPOT}wax",
        Verb.WAX,
        "thin, on the spot and round it, then buffed with the rest",
        product=own.product if own else None,
        hands_on=HandsOn(4.0),
        waits=Waits(own.wait) if own and own.wait else None,
        dry_check=own.dry_check if own and own.wait else "",
    )


def fibres_cut(used: WorkedWith) -> tuple[StepPlan, ...]:
    """Return the cutting of the fibres that a stain raised on new wood."""
    cut = replace(
        flush_bare(used, "the raised fibres"),
        id=f"{SPOT}fibres",
        how="two or three strokes with the grain, no weight: the raised fibres only",
        reach=(Reach.SCUFF,),
    )
    return cut, wiped()


def even_sheen(used: WorkedWith, there: SpotState) -> tuple[StepPlan, ...]:
    """Return what gives the spot the sheen of the face, where nothing ahead does.

    What was rubbed is rubbed again; what stays as it was coated gets one thin coat there.
    """
    if there.coats_ahead or there.sheen_ahead:
        return ()
    if used.sheen is None:
        faded = "one thin coat, from the spot outwards, fading out a hand's breadth round it"
        return (replace(dabs(used, there, 1, faded, thin=True), id=f"{SPOT}fade-out"),)
    # Spirits would take off again what was rubbed on dry: wax.
    dry = used.sheen.lubricant == "dry"
    return _rubbed(used), wiped() if dry else _washed(used)


def _rubbed(used: WorkedWith) -> StepPlan:
    own = used.sheen
    grade = own.grade if own else None
    by_powder = own is not None and own.product is not None and grade is None
    return StepPlan(
        f"{SPOT}rub-out",
        Verb.RUB_OUT,
        "the spot and a hand's breadth round it, straight, no weight, until it looks the same",
        product=own.product if own else None,
        grade=() if by_powder else (grade or "P2000",),
        lubricant=own.lubricant if own and own.lubricant else "mineral-oil",
        hands_on=HandsOn(5.0),
    )


def _washed(used: WorkedWith) -> StepPlan:
    return StepPlan(
        f"{SPOT}clean",
        Verb.TACK_OFF,
        "spirits on a clean cloth, then a dry one",
        product=used.spirits,
        hands_on=HandsOn(2.0),
        waits=Waits(Wait(HOUR_S, 2 * HOUR_S)),
        dry_check="no smell of spirits; a finger leaves no track",
    )
