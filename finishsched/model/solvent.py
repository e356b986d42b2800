"""Liquids that leave a product as vapour, by the names that documents use."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Liquid(StrEnum):
    """One liquid; the last two are blends whose make-up only a data sheet tells."""

    ETHANOL = "ethanol"
    METHANOL = "methanol"
    ISOPROPANOL = "isopropanol"
    ACETONE = "acetone"
    MINERAL_SPIRITS = "mineral-spirits"
    TURPENTINE = "turpentine"
    NAPHTHA = "naphtha"
    TOLUENE = "toluene"
    XYLENE = "xylene"
    BUTYL_ACETATE = "butyl-acetate"
    ETHYL_ACETATE = "ethyl-acetate"
    BUTOXYETHANOL = "2-butoxyethanol"
    DENATURED_ALCOHOL = "denatured-alcohol"
    """Ethanol with methanol in it, how much nobody has read yet."""
    UNKNOWN_THINNER = "unknown-thinner"
    """A blend of which no data sheet has been read."""


@dataclass(frozen=True, slots=True)
class SolventShare:
    """One liquid in a product as bought: its share by volume or by mass, in percent."""

    liquid: Liquid
    by_volume_percent: float | None = None
    by_mass_percent: float | None = None


@dataclass(frozen=True, slots=True)
class LocalLimit:
    """What the shop's own place allows of one liquid in the air that is breathed."""

    liquid: Liquid
    ppm: float


class FlameClass(StrEnum):
    """Classes of liquids by how readily they burn, as US storage rules name them."""

    IA = "IA"
    IB = "IB"
    IC = "IC"
    II = "II"
    IIIA = "IIIA"
    IIIB = "IIIB"


@dataclass(frozen=True, slots=True)
class StorageLimit:
    """How much the shop may keep in one place: of one class, or of all liquids together."""

    place: str
    most_ml: float
    flame_class: FlameClass | None = None
    """None for all classes together."""
