"""The ways to put a defect right: on its spot alone where it has one, else on all of the piece."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import islice

from finishsched.checking.defects.ending import WIPE_WET
from finishsched.checking.defects.options import (
    MOST_OFFERED,
    OPTIONS,
    heeding,
    offered,
    rework_of,
    undoes,
)
from finishsched.checking.defects.ranking import Diagnosis
from finishsched.checking.defects.refused import Bearing
from finishsched.checking.defects.repairs import repair_named, repairs_of
from finishsched.checking.defects.rework import Rework, joined_at
from finishsched.checking.defects.spot_state import SpotState, spot_state
from finishsched.checking.defects.worked_with import WorkedWith, worked_with
from finishsched.journal.progress import StepStatus
from finishsched.model.step import Step
from finishsched.workshop.base.places import USUAL_SPOT_M2, Place
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.film.films import film_now
from finishsched.workshop.standing.beside import to_do
from finishsched.workshop.standing.standing import Standing

WAITING = "wait"
"""The way that is always there."""


def ways(
    workshop: Workshop,
    standing: Standing,
    diagnosis: Diagnosis,
    place: Place | None,
    *,
    wet: bool = False,
) -> tuple[Rework, ...]:
    """Return what can be done, best first: what mends the spot alone goes before all else.

    ``wet`` tells that a cloth still takes the last coat off.
    Where the whole face bears nothing that takes away what made it but waiting, a spot of the usual
    size is mended though nobody said where it is.
    """
    borne = _bears(workshop, standing)
    used = replace(_means(workshop, standing), wet=wet)
    whole = offered(diagnosis, used, borne)
    undone = any(undoes(diagnosis, rework) and rework.option != WAITING for rework in whole)
    if place is None and undone:
        return whole
    area_m2 = place.area_m2 if place else USUAL_SPOT_M2
    found = repairs_of(diagnosis.defect.seen, used, _lies(workshop, standing), area_m2)
    return tuple(islice((*filter(borne, found), *whole), MOST_OFFERED))


def way_named(
    workshop: Workshop, standing: Standing, name: str, diagnosis: Diagnosis, place: Place | None
) -> Rework | None:
    """Return one way by its name, as the piece is now; None where it no longer fits."""
    used = heeding(_means(workshop, standing), diagnosis)
    used = replace(used, wet=name == WIPE_WET)
    if name in OPTIONS:
        return rework_of(name, used)
    area_m2 = place.area_m2 if place else USUAL_SPOT_M2
    return repair_named(name, used, _lies(workshop, standing), area_m2)


def held_step(standing: Standing, rework: Rework) -> Step | None:
    """Return the step of a piece that a rework comes before; None for the end of its work."""
    return joined_at(to_do(standing.steps, standing.progress), rework.holds)


def _bears(workshop: Workshop, standing: Standing) -> Callable[[Rework], bool]:
    """Return what tells whether the work that is left passes the checker with a rework in it."""
    if standing.schedule is None or standing.progress is None:
        return lambda _: True
    papers = workshop.papers
    bearing = Bearing(
        standing.schedule, standing.steps, papers.products, papers.shop, standing.piece.made_of
    )

    def bears(rework: Rework) -> bool:
        try:
            return not bearing.new_errors(rework, frozenset(_before(standing, rework)))
        except KeyError:
            # Steps of an older text of the schedule have no place in it as it is now.
            return True

    return bears


def _before(standing: Standing, rework: Rework) -> Iterator[str]:
    """Give the keys of the steps that come before a rework: what is begun, and what goes on."""
    held = held_step(standing, rework) if rework.beside else None
    statuses = standing.progress.statuses if standing.progress else ()
    for step, status in zip(standing.steps, statuses, strict=True):
        goes_on = rework.beside and (held is None or step.number < held.number)
        if status is not StepStatus.TO_DO or goes_on:
            yield step.key


def _means(workshop: Workshop, standing: Standing) -> WorkedWith:
    waiting = standing.progress is not None and standing.progress.waiting
    return worked_with(standing.steps, standing.step, workshop.papers.products, waiting=waiting)


def _lies(workshop: Workshop, standing: Standing) -> SpotState:
    done = [step for step, _ in standing.progress.done] if standing.progress else []
    left = to_do(standing.steps, standing.progress)
    if standing.schedule is None:
        return spot_state(done, left, workshop.papers.products)
    film_um = film_now(workshop, standing.ref).film_um.likely
    return spot_state(done, left, workshop.papers.products, film_um)
