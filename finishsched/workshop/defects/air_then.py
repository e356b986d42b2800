"""The air that a coat had, and the dust in it, as far as it was read."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from finishsched.checking.defects.evidence import Evidence
from finishsched.drying.air import FILM_COOLING, air_answer
from finishsched.drying.forecast import Reading
from finishsched.factors import HOUR_S
from finishsched.journal.events import Event
from finishsched.model.lubricants import is_wet
from finishsched.model.step import Step
from finishsched.workshop.defects.story import Done, Story
from finishsched.workshop.standing.where import as_beside, cure_room

if TYPE_CHECKING:
    from finishsched.workshop.base.workshop import Workshop

KNOWN_FOR_S = 12 * HOUR_S
"""A reading tells of the air this long after it; later, nothing is known (our assumption)."""
DUST_BEFORE, DUST_AFTER = timedelta(minutes=30), timedelta(hours=1)
"""Sanding this near to a coat may dust it (our assumption)."""


def with_air(found: Evidence, story: Story, step: Step, event: Event) -> Evidence:
    """Add the air that a step had, and the dampest, coldest and driest from then on."""
    air = _air_at(story.workshop, event.at)
    if air is None:
        return found
    how = step.verb.value if step.verb.value in FILM_COOLING else "pad"
    answer = air_answer(
        min(60.0, max(-10.0, air.temperature_c)), max(1.0, air.humidity_percent), how
    )
    until = [air, *_readings(story.workshop, event.at, story.at)]
    return replace(
        found,
        temperature_c=air.temperature_c,
        humidity_percent=air.humidity_percent,
        dew_margin_k=answer.blush_margin_k,
        movement_m_per_s=air.movement_m_per_s,
        worst_humidity_percent=max(one.humidity_percent for one in until),
        coldest_c=min(one.temperature_c for one in until),
        humidity_fall_percent=_fall(story, until),
    )


def _fall(story: Story, until: Sequence[Reading]) -> float:
    """Return how much drier the air became since the first coat than it was then."""
    first = _air_at(story.workshop, story.coats[0].event.at) if story.coats else None
    return (first or until[0]).humidity_percent - min(one.humidity_percent for one in until)


def _air_at(workshop: Workshop, at: datetime) -> Reading | None:
    """Return the air at an instant, where it was read not long before."""
    course, at_s = cure_room(workshop).course, at.timestamp()
    known = [reading.at_s for reading in course.readings]
    index = bisect_right(known, at_s) - 1
    if index < 0 or at_s - known[index] > KNOWN_FOR_S:
        return None
    return course.at(at_s)


def _readings(workshop: Workshop, begin: datetime, end: datetime) -> list[Reading]:
    begin_s, end_s = begin.timestamp(), end.timestamp()
    return [one for one in cure_room(workshop).course.readings if begin_s < one.at_s <= end_s]


def dust_near(story: Story, coat: Done) -> bool:
    """Tell whether any piece of the shop was sanded dry about the time of the coat."""
    laid_at = coat.event.at
    begin, end = laid_at - DUST_BEFORE, min(story.at, laid_at + DUST_AFTER)
    for other in as_beside(story.workshop, story.standing):
        for step, event in other.progress.done if other.progress else ():
            dry = step.verb.cuts and not is_wet(step.lubricant)
            own_before = other.ref == story.standing.ref and event.at <= laid_at
            if dry and not own_before and begin <= event.at <= end:
                return True
    return False
