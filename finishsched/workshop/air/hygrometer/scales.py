"""The units of a file's columns: said in the header, or else plain from the figures."""

from __future__ import annotations

from collections.abc import Sequence

from finishsched.units import plain_number
from finishsched.workshop.air.hygrometer.cells import (
    HygrometerFaultError,
    Scale,
    figure,
    quoted,
    scale_of,
)
from finishsched.workshop.air.hygrometer.names import humidity_unit, temperature_unit

_AIR_IN = {"degC": (5.0, 35.0), "degF": (50.0, 95.0), "K": (278.0, 308.0)}
_DAMP_IN = {"%": (15.0, 100.0), "share": (0.15, 1.0)}
"""The air in which finishes are laid, in each unit (our assumption)."""


def temperature_scale(
    labels: Sequence[str], column: int, rows: Sequence[Sequence[str]], name: str
) -> Scale:
    """Return the scale of the temperatures, by the header's label or by their size.

    Raises:
        HygrometerFaultError: when neither tells.

    """
    unit = temperature_unit(labels[column])
    middle = middle_of(rows, column)
    if unit is None and middle is not None:
        unit = _unit_by_size(middle)
        if unit is None:
            raise HygrometerFaultError(
                f"{name}: column {quoted(labels[column].strip())} has no unit, "
                f"and {plain_number(middle)} could be degC or degF",
                "write the unit into the header, such as temperature C",
            )
    return scale_of(unit or "degC")


def _unit_by_size(middle: float) -> str | None:
    """Return the unit that the middle of a column can only be in; None where two are possible.

    Nobody lays a finish below freezing or above 50 degC (our assumption).
    """
    if 233 <= middle <= 333:
        return "K"
    if middle > 50:
        return "degF"
    return "degC" if middle < 32 else None


def humidity_scale(
    labels: Sequence[str], column: int, rows: Sequence[Sequence[str]], name: str
) -> Scale:
    """Return the scale of the humidity: percent or shares of 1, by the label or by their size.

    Raises:
        HygrometerFaultError: when the two contradict each other.

    """
    unit, middle = humidity_unit(labels[column]), middle_of(rows, column)
    small = middle is not None and 0 < middle < 1
    if unit == "%" and small:
        raise HygrometerFaultError(
            f"{name}: column {quoted(labels[column].strip())} says %, but its figures are below 1",
            "if they are shares of 1, write humidity fraction into the header",
        )
    return scale_of(unit or ("share" if small else "%"))


def middle_of(rows: Sequence[Sequence[str]], column: int) -> float | None:
    """Return the middle one of the figures that have no unit of their own; None when all have."""
    found = [figure(row[column]) for row in rows if len(row) > column]
    bare = sorted(one.value for one in found if one is not None and one.unit is None)
    return bare[len(bare) // 2] if bare else None


def ways_to_read(warm: float | None, humid: float | None) -> list[tuple[str, str]]:
    """Return every pair of units in which two figures without any would be a workshop's air."""
    if warm is None or humid is None:
        return []
    return [
        (of_warm, of_humid)
        for of_warm, (low, high) in _AIR_IN.items()
        for of_humid, (dry, wet) in _DAMP_IN.items()
        if low <= warm <= high and dry <= humid <= wet
    ]
