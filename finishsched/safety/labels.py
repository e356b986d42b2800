"""Hazard statements of a label in a few words of our own, and the pictograms they call for.

The codes are those of the UN GHS (Globally Harmonised System of Classification and Labelling of
Chemicals) and the EU's CLP Regulation 1272/2008, annexes III and V. The short meanings are no
substitute for the statements on the product's own label: its safety data sheet and local codes
come first.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

LABEL_DEFERRAL = "The product's safety data sheet and local codes come first."


class Pictogram(StrEnum):
    """The pictograms of the GHS, by their codes."""

    BOMB = "GHS01"
    FLAME = "GHS02"
    FLAME_OVER_CIRCLE = "GHS03"
    GAS_CYLINDER = "GHS04"
    CORROSION = "GHS05"
    SKULL = "GHS06"
    EXCLAMATION = "GHS07"
    HEALTH = "GHS08"
    ENVIRONMENT = "GHS09"

    @property
    def shows(self) -> str:
        """What is drawn in it."""
        return _SHOWS[self]


_SHOWS = {
    Pictogram.BOMB: "exploding bomb",
    Pictogram.FLAME: "flame",
    Pictogram.FLAME_OVER_CIRCLE: "flame over circle",
    Pictogram.GAS_CYLINDER: "gas cylinder",
    Pictogram.CORROSION: "corrosion",
    Pictogram.SKULL: "skull and crossbones",
    Pictogram.EXCLAMATION: "exclamation mark",
    Pictogram.HEALTH: "health hazard",
    Pictogram.ENVIRONMENT: "environment",
}

NOT_LISTED = "see the data sheet for this code"

_MEANINGS = {
    "H220": ("extremely flammable gas", Pictogram.FLAME),
    "H222": ("extremely flammable aerosol", Pictogram.FLAME),
    "H223": ("flammable aerosol", Pictogram.FLAME),
    "H224": ("extremely flammable liquid and vapour", Pictogram.FLAME),
    "H225": ("highly flammable liquid and vapour", Pictogram.FLAME),
    "H226": ("flammable liquid and vapour", Pictogram.FLAME),
    "H227": ("liquid that can burn", None),
    "H228": ("flammable solid", Pictogram.FLAME),
    "H229": ("under pressure: may burst when hot", None),
    "H240": ("may explode when heated", Pictogram.BOMB),
    "H241": ("may burn or explode when heated", Pictogram.BOMB),
    "H242": ("may burn when heated", Pictogram.FLAME),
    "H250": ("catches fire by itself in air", Pictogram.FLAME),
    "H251": ("heats by itself and may catch fire", Pictogram.FLAME),
    "H252": ("heats by itself in large amounts", Pictogram.FLAME),
    "H270": ("makes fires fiercer", Pictogram.FLAME_OVER_CIRCLE),
    "H271": ("may start fires or explosions", Pictogram.FLAME_OVER_CIRCLE),
    "H272": ("makes fires fiercer", Pictogram.FLAME_OVER_CIRCLE),
    "H280": ("gas under pressure: may burst when hot", Pictogram.GAS_CYLINDER),
    "H290": ("may eat metals", Pictogram.CORROSION),
    "H300": ("deadly if swallowed", Pictogram.SKULL),
    "H301": ("poisonous if swallowed", Pictogram.SKULL),
    "H302": ("harmful if swallowed", Pictogram.EXCLAMATION),
    "H303": ("may be harmful if swallowed", None),
    "H304": ("may kill if it is swallowed and gets into the lungs", Pictogram.HEALTH),
    "H305": ("may harm if it is swallowed and gets into the lungs", Pictogram.HEALTH),
    "H310": ("deadly through the skin", Pictogram.SKULL),
    "H311": ("poisonous through the skin", Pictogram.SKULL),
    "H312": ("harmful through the skin", Pictogram.EXCLAMATION),
    "H313": ("may be harmful through the skin", None),
    "H314": ("burns skin and eyes", Pictogram.CORROSION),
    "H315": ("irritates the skin", Pictogram.EXCLAMATION),
    "H316": ("irritates the skin a little", None),
    "H317": ("may make the skin allergic", Pictogram.EXCLAMATION),
    "H318": ("harms the eyes for good", Pictogram.CORROSION),
    "H319": ("irritates the eyes badly", Pictogram.EXCLAMATION),
    "H320": ("irritates the eyes", None),
    "H330": ("deadly to breathe", Pictogram.SKULL),
    "H331": ("poisonous to breathe", Pictogram.SKULL),
    "H332": ("harmful to breathe", Pictogram.EXCLAMATION),
    "H333": ("may be harmful to breathe", None),
    "H334": ("may make the lungs allergic, or bring on asthma", Pictogram.HEALTH),
    "H335": ("may irritate nose, throat and lungs", Pictogram.EXCLAMATION),
    "H336": ("may make drowsy or dizzy", Pictogram.EXCLAMATION),
    "H340": ("may damage genes", Pictogram.HEALTH),
    "H341": ("suspected of damaging genes", Pictogram.HEALTH),
    "H350": ("may cause cancer", Pictogram.HEALTH),
    "H351": ("suspected of causing cancer", Pictogram.HEALTH),
    "H360": ("may harm fertility or an unborn child", Pictogram.HEALTH),
    "H361": ("suspected of harming fertility or an unborn child", Pictogram.HEALTH),
    "H362": ("may harm a breast-fed child", None),
    "H370": ("damages organs", Pictogram.HEALTH),
    "H371": ("may damage organs", Pictogram.HEALTH),
    "H372": ("damages organs when met again and again", Pictogram.HEALTH),
    "H373": ("may damage organs when met again and again", Pictogram.HEALTH),
    "H400": ("very poisonous to water life", Pictogram.ENVIRONMENT),
    "H401": ("poisonous to water life", None),
    "H402": ("harmful to water life", None),
    "H410": ("very poisonous to water life for long", Pictogram.ENVIRONMENT),
    "H411": ("poisonous to water life for long", Pictogram.ENVIRONMENT),
    "H412": ("harmful to water life for long", None),
    "H413": ("may harm water life for long", None),
    "H420": ("harms the ozone layer", Pictogram.EXCLAMATION),
}

# What the letters behind a code of reproductive harm narrow it to.
_LETTERED = {
    "H360D": "may harm an unborn child",
    "H360F": "may harm fertility",
    "H361d": "suspected of harming an unborn child",
    "H361f": "suspected of harming fertility",
}


@dataclass(frozen=True, slots=True)
class HazardLine:
    """One hazard statement: its code, and what it means in a few words."""

    code: str
    meaning: str


def hazard_lines(codes: Iterable[str]) -> tuple[HazardLine, ...]:
    """Return each of ``codes`` once with its meaning, in the order of the codes.

    A code that is not listed here says to look into the data sheet: it is never left out.
    """
    return tuple(HazardLine(code, _meaning(code)) for code in sorted(set(codes)))


def pictograms(codes: Iterable[str]) -> tuple[Pictogram, ...]:
    """Return every pictogram that ``codes`` call for, in the order of their codes.

    The rules by which one pictogram may stand for another are not applied: a jar in the shop
    shows all of them.
    """
    found = (_MEANINGS[code[:4]][1] for code in codes if code[:4] in _MEANINGS)
    return tuple(sorted({one for one in found if one is not None}))


def _meaning(code: str) -> str:
    if code in _LETTERED:
        return _LETTERED[code]
    return _MEANINGS[code[:4]][0] if code[:4] in _MEANINGS else NOT_LISTED
