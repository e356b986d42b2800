"""Signs: one fact of the log each, for the catalogue to weigh."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Sign(StrEnum):
    """One thing that the log may say."""

    DAMP_AIR = "damp air at the coat"
    DAMP_SINCE = "damp air since the coat"
    COLD_AIR = "cold air"
    HOT_AIR = "hot air"
    DRAUGHT = "moving air"
    TOO_SOON = "coated too soon"
    TOO_LATE = "coated long after"
    NOT_DRY = "not dry yet"
    STAYS_SOFT = "soft past its time"
    YOUNG_FILM = "young film"
    HEAVY_COAT = "heavy coat"
    LEAN_COAT = "lean coat"
    HEAVY_CUT = "heavy cut"
    THINNED_FAR = "thinned far"
    MANY_COATS = "many coats in a day"
    THICK_FILM = "thick film"
    THIN_FILM = "thin film"
    OLD_BATCH = "old batch"
    OIL_BELOW = "oil or varnish below"
    WAX_BELOW = "wax below"
    OIL_USED = "oil left"
    SPIRITS_USED = "spirits left"
    GREEN_BELOW = "a layer below not dry when it was coated"
    STEEL_WOOL = "steel wool used"
    WATER_UNDER = "water under the coat"
    WET_WORK = "water used"
    STAINED = "stain on the wood"
    PATTERNED = "woods side by side"
    UNSEALED = "wood not sealed"
    COARSE = "coarse grade"
    COARSE_FOR_WOOD = "coarse grade for bare wood"
    FINE = "fine grade"
    JUMP = "grade skipped"
    DRY_PAPER = "dry paper"
    MANY_LEVELLINGS = "levelled often"
    FEW_COATS = "few coats before levelling"
    MANY_SANDINGS = "wood sanded often"
    NOT_TACKED = "not tacked off"
    DUST_NEAR = "sanding near by"
    OPEN_PORES = "open pores, not filled"
    FILLED = "filler in the wood"
    OILY_WOOD = "oily wood"
    THIN_VENEER = "thin veneer"
    SPRAYED = "sprayed"
    PADDED = "padded"
    SPIRITED = "flashed off with alcohol"
    SLOW_KIND = "a finish that stays open for hours"
    SEPARATE_COATS = "a finish whose coats do not melt together"
    SHELLAC = "shellac"
    AT_EDGE = "at an edge"


@dataclass(frozen=True, slots=True)
class Reading:
    """What the evidence says of one sign, and in which words."""

    grade: float
    """From 1, fully so, over 0, which says nothing, to -1, the reverse."""
    words: str
