"""In which state a layer is so long after it was laid: wet, dry to the touch, through, cured."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from finishsched.checking.layers.matter import is_a
from finishsched.model.product import DryingTimes

_H = 3600.0
_D = 24 * _H


class Course(NamedTuple):
    """When a full coat comes into each state, at the earliest, seconds after it was laid."""

    touch_s: float
    through_s: float
    cured_s: float


USUAL: Mapping[str, Course] = MappingProxyType(
    {
        "shellac": Course(0.5 * _H, 8 * _H, 7 * _D),
        "spirit": Course(0.5 * _H, 12 * _H, 28 * _D),
        "lacquer": Course(0.3 * _H, 4 * _H, 28 * _D),
        "varnish": Course(6 * _H, 24 * _H, 28 * _D),
        "waterborne": Course(0.5 * _H, 4 * _H, 21 * _D),
        "two-part.epoxy": Course(6 * _H, 24 * _H, 7 * _D),
        "two-part": Course(2 * _H, 16 * _H, 7 * _D),
        "oil.raw": Course(3 * _D, 7 * _D, 28 * _D),
        "oil.tung": Course(2 * _D, 3 * _D, 14 * _D),
        "oil.mineral": Course(1e12, 1e12, 1e12),
        "oil": Course(12 * _H, 24 * _H, 5 * _D),
        "filler.oil": Course(12 * _H, 48 * _H, 5 * _D),
        "filler.epoxy": Course(6 * _H, 24 * _H, 7 * _D),
        "filler": Course(0.5 * _H, 2 * _H, 1 * _D),
        "stain.oil": Course(6 * _H, 24 * _H, 3 * _D),
        "glaze": Course(6 * _H, 24 * _H, 5 * _D),
        "dye": Course(0.5 * _H, 6 * _H, 12 * _H),
        "wax": Course(0.2 * _H, 12 * _H, 2 * _D),
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
