"""Abrasive grades: what a grade is called, in which system, and how large its grain is.

Two systems number abrasives alike and mean different grains: FEPA P (ISO 6344, always with a P)
and CAMI (ANSI B74.18). A number alone is taken by the shop's setting, and is always said with its
grain. Wool, pads and powders have no standard grain; theirs are rough equivalents.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

from finishsched.model.film import BareGrades
from finishsched.model.said import Quantity, Said, said
from finishsched.refusals import RefusalError


class Form(StrEnum):
    """What an abrasive is as it is bought."""

    SHEET = "sheet"
    PAD = "pad"
    """Wool and pads of a hand's size."""
    POWDER = "powder"
    """A product, which is weighed."""
    TOOL = "tool"
    """What is not used up."""


class System(StrEnum):
    """By which standard a grade is numbered."""

    FEPA = "FEPA P"
    CAMI = "CAMI"
    NONE = "no standard"
    """Wool, pads and powders."""


FEPA_UM: Mapping[int, float] = MappingProxyType(
    {
        40: 425.0,
        50: 336.0,
        60: 269.0,
        80: 201.0,
        100: 162.0,
        120: 125.0,
        150: 100.0,
        180: 82.0,
        220: 68.0,
        240: 58.5,
        280: 52.2,
        320: 46.2,
        360: 40.5,
        400: 35.0,
        500: 30.2,
        600: 25.8,
        800: 21.8,
        1000: 18.3,
        1200: 15.3,
        1500: 12.6,
        2000: 10.3,
        2500: 8.4,
        3000: 7.0,
        5000: 5.0,
    }
)
"""Mean grain of ISO 6344 (FEPA P) in um. P80 to P220 as found in cross charts; the decimals of P240
to P2500, and P40 to P60, P3000 and P5000 as a whole, from memory."""


CAMI_UM: Mapping[int, float] = MappingProxyType(
    {
        40: 428.0,
        50: 351.0,
        60: 268.0,
        80: 192.0,
        100: 141.0,
        120: 116.0,
        150: 93.0,
        180: 78.0,
        220: 66.0,
        240: 53.0,
        280: 44.0,
        320: 36.0,
        360: 28.8,
        400: 23.6,
        500: 19.7,
        600: 16.0,
        800: 12.2,
        1000: 9.2,
        1200: 6.5,
    }
)
"""Mean grain of ANSI B74.18 (CAMI) in um, as found in cross charts; 40, 50, 60 and 1200 from
memory."""


ROUGH_UM: Mapping[str, float] = MappingProxyType(
    {
        "card scraper": 40.5,
        "0 wool": 50.0,
        "00 wool": 40.0,
        "000 wool": 35.0,
        "0000 wool": 25.8,
        "grey pad": 37.5,
        "white pad": 15.3,
        "f pumice": 100.0,
        "ff pumice": 57.0,
        "fff pumice": 35.0,
        "ffff pumice": 20.0,
        "coarse pumice": 40.0,
        "pumice": 20.0,
        "fine pumice": 12.6,
        "rottenstone": 6.0,
        "whiting": 5.0,
        "bronze wool": 25.8,
        "fine bronze wool": 25.8,
        "0000 bronze wool": 25.8,
        "green pad": 40.5,
        "maroon pad": 60.0,
        "0 synthetic wool": 50.0,
        "00 synthetic wool": 40.0,
        "000 synthetic wool": 35.0,
        "0000 synthetic wool": 25.8,
        "film 15 um": 15.0,
        "film 9 um": 9.0,
        "film 5 um": 5.0,
        "film 3 um": 3.0,
    }
)
"""What rubs about like so large a grain, in um; makers differ.

Wools of steel, grey and maroon pad: by a chart in M. Asser, "True grit", 2008, which takes a white
pad for a polisher; 0000 as P600. Wools of other fibres as those of steel; the rest from memory.
Pumice goes from F to FFFF and on to rottenstone (a tool dealer's sheet on rubbing by hand; a US
Army course); its grain in um is from memory, since no standard grades it.
"""


_FORMS: Mapping[str, Form] = MappingProxyType(
    {
        "scraper": Form.TOOL,
        "wool": Form.PAD,
        "pad": Form.PAD,
        "pumice": Form.POWDER,
        "rottenstone": Form.POWDER,
        "whiting": Form.POWDER,
        "um": Form.SHEET,
    }
)
"""Of what no standard numbers, by the last word of its name."""

COARSEST_BY_GRAIN_UM = 200.0
"""Film and cushioned cloth are named by their grain in um, and none is coarser (from memory)."""
FEPA_SOURCE = "ISO 6344, FEPA P grades; the finest and their decimals from memory"
CAMI_SOURCE = "ANSI B74.18, CAMI grades, as found in cross charts"
ROUGH_SOURCE = "rough equivalent from memory; makers differ"


@dataclass(frozen=True, slots=True)
class Grade:
    """One grade of abrasive."""

    name: str
    """``P400``, ``CAMI 400``, ``0000 wool``, ``rottenstone``."""
    system: System
    grain_um: float
    """Mean size of its grain."""
    taken_by_setting: bool = False
    """True when only a number was written, and the shop's setting chose the system."""

    @property
    def rough(self) -> bool:
        """True when its grain is no standard's: a rough equivalent."""
        return self.system is System.NONE

    @property
    def form(self) -> Form:
        """What it is as it is bought."""
        return _FORMS[self.name.split()[-1]] if self.rough else Form.SHEET

    @property
    def source(self) -> str:
        """Where its grain size comes from."""
        if self.system is System.FEPA:
            return FEPA_SOURCE
        return CAMI_SOURCE if self.system is System.CAMI else ROUGH_SOURCE

    @property
    def words(self) -> Said:
        """The grade with its grain, such as ``P600, grain about 26 um``."""
        taken = f", as the shop means a bare number ({self.system.value})"
        return said(
            "{}, grain about {}{}",
            self.name,
            Quantity(self.grain_um, "um", 2),
            (" (rough equivalent)" if self.rough else "")
            + (taken if self.taken_by_setting else ""),
        )


class UnknownGradeError(RefusalError, ValueError):
    """A grade that is in no table: what is wrong, and what would be right."""


def held_in_the_hand() -> tuple[str, ...]:
    """Return the names of wools, pads and films: not the powders, which are products too."""
    return tuple(name for name in ROUGH_UM if grade_of(name).form in (Form.PAD, Form.SHEET))


def powder_in(words: str) -> Grade | None:
    """Return the rubbing powder that ``words`` name, such as a product's id; None for none.

    Fine pumice is named by two words, and by the pumice in them: the longest says most.
    """
    said = words.replace("-", " ")
    graded = _pumice(said) if "pumice" in said else None
    if graded is not None:
        return grade_of(graded)
    powders = (name for name in ROUGH_UM if grade_of(name).form is Form.POWDER and name in said)
    name = max(powders, key=len, default="")
    return grade_of(name) if name else None


def form_of(text: str) -> Form:
    """Return what the abrasive that ``text`` names is bought as; sheets where it names none."""
    try:
        return grade_of(text).form
    except UnknownGradeError:
        return Form.SHEET


def grade_of(text: str, bare: BareGrades | None = BareGrades.FEPA) -> Grade:
    """Return the grade that ``text`` names: ``P400``, ``CAMI 400``, ``400 CAMI``, ``400``, wool.

    The one reader of grades, whoever typed them and wherever. A number alone is taken as ``bare``
    says; where that is None nobody says, and it is refused.

    Raises:
        UnknownGradeError: naming the nearest grades that there are.

    """
    words = " ".join(text.split())
    rough = _rough(words.lower())
    if rough is not None:
        return rough
    match = re.fullmatch(
        r"(P|FEPA P?|CAMI)? ?([0-9]{1,5})( CAMI| FEPA| grit)?", words, re.IGNORECASE
    )
    if match is None:
        raise UnknownGradeError(
            f"{text!r:.40} is not a grade",
            "write for example P400, CAMI 320, 0000 wool or rottenstone",
        )
    before, number, after = (match[1] or "").upper(), int(match[2]), (match[3] or "").upper()
    if "CAMI" in before + after:
        return _numbered(System.CAMI, number)
    if before.strip() or "FEPA" in after:
        return _numbered(System.FEPA, number)
    if bare is None:
        raise UnknownGradeError(
            f"{text!r} may be one grade or another", f"P{number} or CAMI {number}?"
        )
    system = System.CAMI if bare is BareGrades.CAMI else System.FEPA
    found = _numbered(system, number)
    return Grade(found.name, system, found.grain_um, taken_by_setting=True)


def is_steel(grade: str) -> bool:
    """Tell whether a grade sheds steel: wool that is neither bronze nor synthetic."""
    text = grade.lower()
    return "wool" in text and not any(one in text for one in ("bronze", "synthetic", "nylon"))


def _pumice(words: str) -> str | None:
    """Return the pumice that its grade means: ``FFF``, ``3F``; with its name beside ``3/0``."""
    found = re.search(r"\b(?:(f{1,4})|([1-4])f|([1-4])/0)\b", words)
    if found is None or (found[3] and "pumice" not in words):
        return None
    return f"{found[1] or 'f' * int(found[2] or found[3])} pumice"


def _rough(words: str) -> Grade | None:
    if re.fullmatch(r"(?:pumice )?(?:f{1,4}|[1-4]f|[1-4]/0)(?: pumice)?", words):
        words = _pumice(words) or words
    if re.fullmatch("0{1,4}", words):
        words = f"{words} wool"
    words = words.replace("steel wool", "wool").replace("gray", "grey")
    sized = re.fullmatch(
        r"(film|(?:cushioned )?cloth) (\d{1,3}(?:\.\d)?) ?(?:um|µm|microns?)", words
    )
    if sized is not None and 0 < float(sized[2]) <= COARSEST_BY_GRAIN_UM:
        kind = "film" if sized[1] == "film" else "cushioned cloth"
        return Grade(f"{kind} {float(sized[2]):g} um", System.NONE, float(sized[2]))
    grain_um = ROUGH_UM.get(words)
    return None if grain_um is None else Grade(words, System.NONE, grain_um)


def _numbered(system: System, number: int) -> Grade:
    table = FEPA_UM if system is System.FEPA else CAMI_UM
    name = f"P{number}" if system is System.FEPA else f"CAMI {number}"
    if number not in table:
        near = sorted(sorted(table, key=lambda known: abs(known - number))[:2])
        prefix = "P" if system is System.FEPA else "CAMI "
        there = " and ".join(f"{prefix}{known}" for known in near)
        raise UnknownGradeError(f"there is no grade {name}", f"the nearest are {there}")
    return Grade(name, system, table[number])
