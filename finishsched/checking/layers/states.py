"""In which state a layer is so long after it was laid: wet, dry to the touch, through, cured."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from finishsched.checking.layers.matter import is_a
from finishsched.factors import DAY_S, HOUR_S
from finishsched.model.product import DryingTimes


class Course(NamedTuple):
    """When a full coat comes into each state, at the earliest, seconds after it was laid."""

    touch_s: float
    through_s: float
    cured_s: float


USUAL: Mapping[str, Course] = MappingProxyType(
    {
        "shellac": Course(0.5 * HOUR_S, 8 * HOUR_S, 7 * DAY_S),
        "spirit": Course(0.5 * HOUR_S, 12 * HOUR_S, 28 * DAY_S),
        "lacquer": Course(0.3 * HOUR_S, 4 * HOUR_S, 28 * DAY_S),
        "varnish": Course(6 * HOUR_S, 24 * HOUR_S, 28 * DAY_S),
        "waterborne": Course(0.5 * HOUR_S, 4 * HOUR_S, 21 * DAY_S),
        "two-part.epoxy": Course(6 * HOUR_S, 24 * HOUR_S, 7 * DAY_S),
        "two-part": Course(2 * HOUR_S, 16 * HOUR_S, 7 * DAY_S),
        "oil.raw": Course(3 * DAY_S, 7 * DAY_S, 28 * DAY_S),
        "oil.tung": Course(2 * DAY_S, 3 * DAY_S, 14 * DAY_S),
        "oil.mineral": Course(1e12, 1e12, 1e12),
        "oil": Course(12 * HOUR_S, 24 * HOUR_S, 5 * DAY_S),
        "filler.oil": Course(12 * HOUR_S, 48 * HOUR_S, 5 * DAY_S),
        "filler.epoxy": Course(6 * HOUR_S, 24 * HOUR_S, 7 * DAY_S),
        "filler": Course(0.5 * HOUR_S, 2 * HOUR_S, 1 * DAY_S),
        "stain.oil": Course(6 * HOUR_S, 24 * HOUR_S, 3 * DAY_S),
        "glaze": Course(6 * HOUR_S, 24 * HOUR_S, 5 * DAY_S),
        "dye": Course(0.5 * HOUR_S, 6 * HOUR_S, 12 * HOUR_S),
        "wax": Course(0.2 * HOUR_S, 12 * HOUR_S, 2 * DAY_S),
    }
)
"""Thin films at 20 to 23 degC, low ends (common practice; a coat of varnish dry in 24 h and rubbed
after weeks: B. Van Dyke, article on varnish, Fine Woodworking, June 2021; oils: B. Flexner, Boiled
linseed oil vs. 100 % tung oil, undated)."""


def course_of(matter: str, published: DryingTimes | None) -> Course | None:
    """Return when a layer comes into its states: as its maker prints, else as its matter does."""
    usual = next((one for name, one in USUAL.items() if is_a(matter, name)), None)
    if usual is None or published is None:
        return usual
    through_s = published.sand_s or usual.through_s
    cured_s = max(published.cured_s or usual.cured_s, through_s)
    return Course(min(published.touch_s or usual.touch_s, through_s), through_s, cured_s)


def state_after(matter: str, published: DryingTimes | None, given_s: float, share: float) -> str:
    """Return the state in words, so long after a coat that wants so great a share of a full one's.

    Empty where nobody knows, and for what is cured: no wait is short for that.
    """
    course = course_of(matter, published)
    if course is None or given_s >= course.cured_s * share:
        return ""
    if given_s >= course.through_s * share:
        return "dry through and not cured"
    return "dry to the touch and soft below" if given_s >= course.touch_s * share else "still wet"
