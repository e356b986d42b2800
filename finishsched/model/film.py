"""What a shop says about film and abrasives: how it writes grades, and when to be asked first."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class BareGrades(StrEnum):
    """Which system a grade without a letter, such as 600, is taken to be of."""

    FEPA = "FEPA"
    CAMI = "CAMI"


class Reach(StrEnum):
    """How far a levelling goes."""

    SCUFF = "scuff"
    """The shine broken, the raised fibres off; no hollow is chased."""
    LEVEL = "level"
    """The high spots cut until the face is an even grey; the deepest hollows may still shine."""
    FLUSH = "flush"
    """Down until no hollow shines, or until film is left in the hollows only."""
    CUT_BACK = "cut back"
    """Down to the high wood on purpose; film stays in the hollows, and more coats follow."""


@dataclass(frozen=True, slots=True)
class FilmRules:
    """How the shop means its grades, how it measures film, and how much risk it takes unasked."""

    bare_grades: BareGrades = BareGrades.FEPA
    cut_through_odds_percent: float = 5.0
    """More likely than this, a levelling that cuts through is confirmed first (our assumption)."""
    gauge_error_um: float = 5.0
    """How far a film gauge may be out (our assumption)."""
