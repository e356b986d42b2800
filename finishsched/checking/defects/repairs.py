"""The repairs of one spot: what each mends, when it can be done, and what waits for it.

A row of ``REPAIRS`` is one repair of the trade. Which of them is offered follows from what lies at
the place now and from what the piece's own schedule still brings there: a patch let into bare wood
is only glued and brought flush, since filling, seal and coats are still to come.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeAlias

from finishsched.checking.defects import recipes as r
from finishsched.checking.defects import spot_recipes as spot
from finishsched.checking.defects.options import hardened
from finishsched.checking.defects.rework import Holds, Rework
from finishsched.checking.defects.seen import Seen
from finishsched.checking.defects.spot_state import Lies
from finishsched.checking.defects.worked_with import Means
from finishsched.model.schedule import StepPlan

PRACTICE = "common practice, no source"
LOW_SPOT_DABS = 3
"""Dabs that fill a low spot of a film before it is looked at again (our assumption)."""

Plans: TypeAlias = tuple[StepPlan, ...]


@dataclass(frozen=True, slots=True)
class Repair:
    """One repair of a spot."""

    name: str
    title: str
    mends: tuple[Seen, ...]
    fits: Callable[[Means, Lies], bool]
    plans: Callable[[Means, Lies], Plans]
    holds: Holds
    source: str = PRACTICE
    bare: bool = False
    """True where it lets in new wood, on which nothing lies yet."""


def repairs_of(seen: Seen, means: Means, lies: Lies, area_m2: float) -> tuple[Rework, ...]:
    """Return what mends ``seen`` on a spot of ``area_m2``, the best first."""
    return tuple(
        _rework(repair, means, lies, area_m2)
        for repair in REPAIRS
        if seen in repair.mends and repair.fits(means, lies)
    )


def repair_named(name: str, means: Means, lies: Lies, area_m2: float) -> Rework | None:
    """Return one repair by its name; None where it does not fit, or there is none."""
    for repair in REPAIRS:
        if repair.name == name and repair.fits(means, lies):
            return _rework(repair, means, lies, area_m2)
    return None


def _rework(repair: Repair, means: Means, lies: Lies, area_m2: float) -> Rework:
    plans = hardened(repair.plans(means, lies), means, dabs=True)
    return Rework(repair.name, repair.title, means.stage, plans, repair.holds, area_m2, repair.bare)


def _patched(means: Means, lies: Lies) -> Plans:
    if lies.bare:
        return (
            spot.patch_in(means),
            spot.flush_bare(means, "the patch"),
            *_ground(means, lies),
        )
    return (
        spot.patch_in(means),
        spot.flush(means, "the patch"),
        spot.wiped(),
        *_ground(means, lies),
        *_built_up(means, lies),
    )


def _ground(means: Means, lies: Lies) -> Iterator[StepPlan]:
    """Give the colour and filler that the face has already, and that its work brings no more."""
    if lies.stained and not lies.stains_ahead and means.stain is not None:
        yield spot.stain(means)
    if lies.filled and not lies.fills_ahead and means.filler is not None:
        yield r.fill(means)
        yield spot.wiped()


def _built_up(means: Means, lies: Lies) -> Plans:
    """Return what brings a bare spot up to the film round it, and flush with it."""
    number = spot.dabs_for(means, lies)
    dabs = spot.dabs(
        means, lies, number, "the spot only, thin, up to its rim; let it stand a hair proud"
    )
    return dabs, *_flush_again(means, lies)


def _flush_again(means: Means, lies: Lies) -> Plans:
    """Return the bringing flush of dabs; the schedule's own paper does it where some comes."""
    flushed = () if lies.levels_ahead else (spot.flush(means, "the dabs"), spot.wiped())
    return *flushed, *spot.even_sheen(means, lies)


def _coloured(means: Means, lies: Lies) -> Plans:
    return spot.colour(means), *_built_up(means, lies)


def _recoloured(means: Means, lies: Lies) -> Plans:
    return (spot.stain(means),) if lies.bare else _coloured(means, lies)


def _burnt_in(means: Means, lies: Lies) -> Plans:
    how = "melt it in until it stands a hair proud, press it with a cold blade"
    filled = spot.burn_in(how), spot.flush(means, "the fill"), spot.wiped()
    if lies.coats_ahead:
        return filled
    thin = "one thin dab over the fill and its rim"
    return *filled, spot.dabs(means, lies, 1, thin), *_flush_again(means, lies)


def _dropped(means: Means, lies: Lies) -> Plans:
    how = "a drop into the low place, no further; each dry first, until it stands a hair proud"
    return spot.dabs(means, lies, LOW_SPOT_DABS, how), *_flush_again(means, lies)


def _feathered(means: Means, lies: Lies) -> Plans:
    return spot.feather(means), spot.wiped(), *_built_up(means, lies)


def _steamed(means: Means, lies: Lies) -> Plans:  # noqa: ARG001  # as every row is asked
    return spot.steam(), spot.flush_bare(means, "the raised fibres")


def _run_down(means: Means, lies: Lies) -> Plans:
    hard = r.rest(means, "leave it until the run is hard right through; it takes longest", 1.5)
    return hard, spot.pare(means), spot.wiped(), *spot.even_sheen(means, lies)


def _point_off(means: Means, lies: Lies) -> Plans:
    return spot.point_off(means, lies), spot.wiped(), *spot.even_sheen(means, lies)


def _has_film(means: Means, lies: Lies) -> bool:
    return means.coat is not None and not lies.bare


def _can_colour(means: Means, lies: Lies) -> bool:
    return means.stain is not None if lies.bare else means.coat is not None


REPAIRS = (
    Repair(
        "steam-dent",
        "raise the dent with steam, before anything is laid",
        (Seen.DENT,),
        lambda _, lies: lies.bare and not lies.stained and not lies.filled,
        _steamed,
        Holds.TOUCH,
    ),
    Repair(
        "patch-spot",
        "let in a patch of veneer there, and nowhere else",
        (Seen.VENEER_THROUGH,),
        lambda means, lies: means.glue is not None and (lies.bare or means.coat is not None),
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
