"""The repairs of one spot: what each mends, when it can be done, and what waits for it.

A row of ``REPAIRS`` is one repair of the trade. Which of them is offered follows from what lies at
the place now and from what the piece's own schedule still brings there: a patch let into bare wood
is only glued and brought flush, since filling, seal and coats are still to come.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from finishsched.checking.defects import recipes as r
from finishsched.checking.defects import spot_recipes as spot
from finishsched.checking.defects.ending import hardened
from finishsched.checking.defects.rework import Holds, Plans, Rework
from finishsched.checking.defects.seen import Seen
from finishsched.checking.defects.spot_state import SpotState
from finishsched.checking.defects.worked_with import WorkedWith
from finishsched.checking.rule import PRACTICE
from finishsched.model.schedule import StepPlan

LOW_SPOT_DABS = 3
"""Dabs that fill a low spot of a film before it is looked at again (our assumption)."""


@dataclass(frozen=True, slots=True)
class Repair:
    """One repair of a spot."""

    name: str
    title: str
    mends: tuple[Seen, ...]
    fits: Callable[[WorkedWith, SpotState], bool]
    plans: Callable[[WorkedWith, SpotState], Plans]
    holds: Holds
    source: str = PRACTICE
    bare: bool = False
    """True where it lets in new wood, on which nothing lies yet."""


def repairs_of(
    seen: Seen, used: WorkedWith, there: SpotState, area_m2: float
) -> tuple[Rework, ...]:
    """Return what mends ``seen`` on a spot of ``area_m2``, the best first."""
    return tuple(
        _rework(repair, used, there, area_m2)
        for repair in REPAIRS
        if seen in repair.mends and repair.fits(used, there)
    )


def repair_named(name: str, used: WorkedWith, there: SpotState, area_m2: float) -> Rework | None:
    """Return one repair by its name; None where it does not fit, or there is none."""
    for repair in REPAIRS:
        if repair.name == name and repair.fits(used, there):
            return _rework(repair, used, there, area_m2)
    return None


def _rework(repair: Repair, used: WorkedWith, there: SpotState, area_m2: float) -> Rework:
    plans = hardened(_over_wax(repair.plans(used, there), used, there), used, dabs=True)
    # Coats may bury what waits for paper or wax; where neither comes, it goes before them.
    holds = repair.holds if there.touched_ahead else Holds.TOUCH
    return Rework(repair.name, repair.title, used.stage, plans, holds, area_m2, repair.bare)


def _over_wax(plans: Plans, used: WorkedWith, there: SpotState) -> Plans:
    """Return what is done on a waxed face: washed off the spot first, and laid there again."""
    if not there.waxed or used.spirits is None:
        return plans
    # Where the wax came with the rubbing out, that brings it again.
    again = (spot.waxed_again(used),) if used.wax else ()
    return spot.unwaxed(used), *plans, *again


def _patched(used: WorkedWith, there: SpotState) -> Plans:
    if there.bare:
        return (
            spot.patch_in(used),
            spot.flush_bare(used, "the patch"),
            *_ground(used, there),
        )
    return (
        spot.patch_in(used),
        spot.flush(used, "the patch"),
        spot.wiped(),
        *_ground(used, there),
        *_built_up(used, there, soaks=1),
    )


def _ground(used: WorkedWith, there: SpotState) -> Iterator[StepPlan]:
    """Give the colour and filler that the face has already, and that its work brings no more."""
    if there.stained and not there.stains_ahead and used.stain is not None:
        yield spot.stain(used)
        yield from spot.fibres_cut(used)
    if there.filled and not there.fills_ahead and used.filler is not None:
        yield r.fill(used)
        yield spot.wiped()


def _built_up(used: WorkedWith, there: SpotState, soaks: int = 0) -> Plans:
    """Return what brings a bare spot up to the film round it, and flush with it.

    ``soaks`` are dabs more that new wood drinks.
    """
    number = spot.dabs_for(used, there) + soaks
    dabs = spot.dabs(
        used, there, number, "the spot only, thin, up to its rim; let it stand a hair proud"
    )
    return dabs, *_flush_again(used, there)


def _flush_again(used: WorkedWith, there: SpotState) -> Plans:
    """Return the bringing flush of dabs; the schedule's own paper does it where some comes."""
    flushed = () if there.levels_ahead else (spot.flush(used, "the dabs"), spot.wiped())
    return *flushed, *spot.even_sheen(used, there)


def _coloured(used: WorkedWith, there: SpotState) -> Plans:
    return spot.colour(used), *_built_up(used, there)


def _recoloured(used: WorkedWith, there: SpotState) -> Plans:
    return (spot.stain(used),) if there.bare else _coloured(used, there)


def _burnt_in(used: WorkedWith, there: SpotState) -> Plans:
    how = "melt it in until it stands a hair proud, press it with a cold blade"
    hard = r.rest(used, "let the last coat harden before heat comes near; count from its laying", 1)
    filled = hard, spot.burn_in(how), spot.flush(used, "the fill"), spot.wiped()
    if there.coats_ahead:
        return filled
    thin = "one thin dab over the fill and its rim"
    return *filled, spot.dabs(used, there, 1, thin, thin=True), *_flush_again(used, there)


def _dropped(used: WorkedWith, there: SpotState) -> Plans:
    how = "a drop into the low place, no further; each dry first, until it stands a hair proud"
    return spot.dabs(used, there, LOW_SPOT_DABS, how), *_flush_again(used, there)


def _feathered(used: WorkedWith, there: SpotState) -> Plans:
    return spot.feather(used), spot.wiped(), *_built_up(used, there)


def _steamed(used: WorkedWith, there: SpotState) -> Plans:  # noqa: ARG001  # as every row is asked
    return spot.steam(), spot.flush_bare(used, "the raised fibres")


def _run_down(used: WorkedWith, there: SpotState) -> Plans:
    hard = r.rest(used, "leave it until the run is hard right through; it takes longest", 1.5)
    return hard, spot.pare(used), spot.wiped(), *spot.even_sheen(used, there)


def _point_off(used: WorkedWith, there: SpotState) -> Plans:
    return spot.point_off(used, there), spot.wiped(), *spot.even_sheen(used, there)


def _has_film(used: WorkedWith, there: SpotState) -> bool:
    return used.coat is not None and not there.bare


def _can_colour(used: WorkedWith, there: SpotState) -> bool:
    return used.stain is not None if there.bare else used.coat is not None


REPAIRS = (
    Repair(
        "steam-dent",
        "raise the dent with steam, before anything is laid",
        (Seen.DENT,),
        lambda _, there: there.bare and not there.stained and not there.filled,
        _steamed,
        Holds.TOUCH,
    ),
    Repair(
        "patch-spot",
        "let in a patch of veneer there, and nowhere else",
        (Seen.VENEER_THROUGH,),
        lambda used, there: used.glue is not None and (there.bare or used.coat is not None),
        _patched,
        Holds.TOUCH,
        bare=True,
    ),
    Repair(
        "colour-spot",
        "paint the spot in the veneer's colour, and build it up there",
        (Seen.VENEER_THROUGH,),
        _has_film,
        _coloured,
        Holds.TOUCH,
    ),
    Repair(
        "recolour-spot",
        "colour the pale spot again, and build it up there",
        (Seen.COLOUR_THROUGH,),
        _can_colour,
        _recoloured,
        Holds.TOUCH,
    ),
    Repair(
        "feather-spot",
        "feather the rim, and build the film up there",
        (Seen.FILM_THROUGH,),
        _has_film,
        _feathered,
        Holds.PAPER,
    ),
    Repair(
        "drop-fill",
        "fill the low spot drop by drop, coat after coat",
        (Seen.DENT, Seen.PINHOLES),
        _has_film,
        _dropped,
        Holds.PAPER,
    ),
    Repair(
        "burn-in",
        "burn in a coloured stick, and bring it flush",
        (Seen.DENT, Seen.PINHOLES, Seen.OPEN_SEAM),
        _has_film,
        _burnt_in,
        Holds.TOUCH,
    ),
    Repair(
        "run-down",
        "let it harden, then take the run down",
        (Seen.SAG, Seen.RIDGE),
        _has_film,
        _run_down,
        Holds.TOUCH,
    ),
    Repair(
        "point-off",
        "take the point off with worn paper",
        (Seen.DUST_NIB,),
        _has_film,
        _point_off,
        Holds.TOUCH,
    ),
)
"""Every repair of a spot, by what it mends: the best of each first."""
