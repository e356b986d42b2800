"""The forms for what is read of a surface: a field a value, where, when, by whom."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from types import MappingProxyType

from finishsched.bench.screens.form import Field, FormCard
from finishsched.bench.typed.seeing import SurfaceSeen, read_seen
from finishsched.model.readings import ANGLES_DEG, Measure
from finishsched.workshop.base.answers import BenchView

VALUES: Mapping[Measure, tuple[str, str]] = MappingProxyType(
    {
        Measure.COLOUR: ("L*, a*, b*", "42.1 18.3 22"),
        Measure.JUDGED: ("up to 10, and why", "8: warm, no blotch"),
        Measure.SWAB: ("solvent, and what it did", "alcohol: sticky"),
        Measure.LEAVE: ("what is not to be touched", "the label inside"),
    }
)
"""What the field of a value is called, and how it may look; grades are chosen from a list."""
_NO_PLACE = (Measure.JUDGED, Measure.LEAVE)
"""What is told of the whole piece, or names its place itself."""


def reading_form(
    ref: str,
    title: str,
    measure: Measure,
    grade: str,
    view: BenchView,
    now: Callable[[], datetime],
) -> FormCard:
    """Return the form for one thing read of a piece; ``grade`` stands there already."""

    def read(values: Mapping[str, str]) -> SurfaceSeen:
        return read_seen(ref, measure, values, now(), view.zone)

    if measure is Measure.GLOSS:
        fields = [
            Field(f"at-{angle}", f"gloss at {angle} degrees", "42; blank if not read")
            for angle in sorted(ANGLES_DEG, key=lambda angle: angle != 60)
        ]
    else:
        label, hint = VALUES.get(measure, (measure.value, grade))
        fields = [Field("value", label, hint, grade)]
    if measure not in _NO_PLACE:
        fields.append(Field("where", "where", "such as top edge; blank for the face"))
    fields += [
        Field("when", "when", "18:42, or blank for now"),
        Field("by", "by", ", ".join(view.people) or "who read it", suggestions=view.people),
    ]
    return FormCard(f"{measure.value}: {title}", fields, read, widens=False)
