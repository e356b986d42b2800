"""What is bought beside finishes, by the piece or the metre: papers, pads, covers, cloths, tape."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from finishsched.model.film import BareGrades
from finishsched.model.grades import Form, UnknownGradeError, grade_of
from finishsched.refusals import RefusalError

COVER, CLOTH, TAPE = "pad cover", "cloth", "masking tape"
_NAMES: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "pad cover": (COVER, "cover"),
        "cover": (COVER, "cover"),
        "cloth": (CLOTH, "cloth"),
        "rag": (CLOTH, "cloth"),
        "masking tape": (TAPE, "m"),
        "tape": (TAPE, "m"),
    }
)
"""What it may be called, what it is called here, and what it is counted by."""
_COUNT = re.compile(r"(\d+(?:\.\d+)?|empty|none)\s*([a-z]+)?", re.IGNORECASE)
MOST = 10_000.0


class SupplyFaultError(RefusalError, ValueError):
    """Words that name no supply, or no number of it."""


@dataclass(frozen=True, slots=True)
class Supply:
    """So much of one thing that is used up."""

    name: str
    """``P240``, ``0000 wool``, ``pad cover``, ``cloth`` or ``masking tape``."""
    unit: str
    """``sheet``, ``pad``, ``cover``, ``cloth``, or ``m`` of tape."""
    count: float


def supply_named(text: str, bare: BareGrades = BareGrades.FEPA) -> tuple[str, str] | None:
    """Return the name and the unit of what ``text`` names; None where it is no such thing."""
    words = " ".join(text.lower().split())
    for name in (words, words.removesuffix("s")):
        if name in _NAMES:
            return _NAMES[name]
    try:
        grade = grade_of(text, bare)
    except UnknownGradeError:
        return None
    # Powders are weighed, and a scraper is no thing that is used up.
    is_counted = grade.form in (Form.SHEET, Form.PAD)
    return (grade.name, grade.form.value) if is_counted else None


def read_supply(name: str, amount: str, bare: BareGrades = BareGrades.FEPA) -> Supply | None:
    """Return so many of what ``name`` says; None where that is nothing that is counted so.

    Raises:
        SupplyFaultError: for no number of it.

    """
    found = supply_named(name, bare)
    if found is None:
        return None
    what, unit = found
    match = _COUNT.fullmatch(amount.strip())
    said = (match[2] or "").lower().rstrip("s") if match else ""
    if match is None or said not in ("", unit):
        raise SupplyFaultError(
            f"{amount!r:.40} is no number of it",
            f"{what} is counted in {'m' if unit == 'm' else f'{unit}s'}: write for example 10",
        )
    count = float(match[1]) if match[1][0].isdigit() else 0.0
    if count > MOST:
        raise SupplyFaultError(f"{count:g} {unit}", f"write 0 to {MOST:g}")
    return Supply(what, unit, count)
