"""What is read of a finished surface: gloss, colour, hardness; and the words that a maker writes.

Gloss: ISO 2813:2014, units of gloss at 20, 60 and 85 degrees. Colour: ISO/CIE 11664-4:2019, L*a*b*.
Pencil: ISO 15184:2020, the hardest of twenty pencils that leaves the film whole. The thumbnail is
common practice, no source. Names of sheens by their gloss at 60 degrees: as makers' and painters'
class tables use them, from memory; they vary by maker.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

from finishsched.near import nearest
from finishsched.refusals import RefusalError

SHEENS: Mapping[str, float] = MappingProxyType(
    {
        "flat": 5.0,
        "velvet": 10.0,
        "eggshell": 25.0,
        "satin": 35.0,
        "semi-gloss": 70.0,
        "gloss": 85.0,
        "high gloss": 1000.0,
    }
)
"""Sheens from dull to bright, each with the most gloss at 60 degrees that it is the name of."""
LOOKS = tuple(SHEENS)
"""Their names, from dull to bright."""
GLOSSES = ("gloss", "high gloss")
"""Those that show every pore and ridge."""
ALSO_CALLED: Mapping[str, str] = MappingProxyType(
    {
        **dict.fromkeys(("matt", "matte", "dead flat", "dull"), "flat"),
        **dict.fromkeys(("silk", "silky", "semi-matt", "semi-matte", "low sheen"), "satin"),
        "glossy": "gloss",
        **dict.fromkeys(("semi gloss", "half gloss"), "semi-gloss"),
        **dict.fromkeys(("mirror", "full gloss", "piano", "like glass"), "high gloss"),
    }
)
"""What people say for them (common practice, no source)."""
ANGLES_DEG = (20, 60, 85)
MOST_GLOSS = 1000.0
"""A mirror reads up to 2000 at 20 degrees; no film on wood comes near (ISO 2813, from memory)."""
PENCILS = (
    *(f"{n}B" for n in range(9, 1, -1)),
    *("B", "HB", "F", "H"),
    *(f"{n}H" for n in range(2, 10)),
)
"""From soft to hard."""
SMELL = ("strong", "faint", "none")
"""With the nose on it, after an hour shut in (common practice, no source)."""
CONDITIONS = (
    *("abrasion", "bleaching", "blister", "bloom", "burn", "cracks", "craquelure", "dent", "dirt"),
    *("discoloured", "flaking", "insect holes", "lifting veneer", "loss", "mould", "old repair"),
    *("open joint", "rust", "scratch", "stain", "sticky", "varnish drips", "water ring", "wax"),
    *("worn through", "sound"),
)
"""What a finished wood surface shows, in the words that conservators use (common practice)."""
SWABS = ("water", "saliva", "spirits", "alcohol", "acetone", "lacquer thinner", "turpentine")
"""From mild to strong, as they are tried one after the other."""
THUMBNAIL = ("dent", "print", "no mark")
"""From soft to hard: a dent that stays, a print that goes, nothing to see."""


class Measure(StrEnum):
    """What is read."""

    GLOSS = "gloss"
    COLOUR = "colour"
    PENCIL = "pencil"
    THUMBNAIL = "thumbnail"
    SMELL = "smell"
    JUDGED = "judged"
    """What somebody thinks of it, up to 10, in words of their own."""
    FOUND = "found"
    """What an old piece shows, before anything is done to it."""
    SWAB = "swab"
    """What a solvent on a swab did on a hidden spot."""
    LEAVE = "leave"
    """What must not be touched."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading: numbers for gloss and colour, a word of its scale for hardness."""

    measure: Measure
    numbers: tuple[float, ...] = ()
    """Gloss: its units. Colour: L*, a*, b*."""
    angle_deg: int | None = None
    grade: str = ""
    where: str = ""
    """In the maker's words; empty for the field."""

    @property
    def words(self) -> str:
        """Return it in words: ``gloss 42 at 60 degrees, semi-gloss``."""
        if self.measure is Measure.GLOSS:
            sheen = f", {sheen_of(self.numbers[0])}" if self.angle_deg == 60 else ""
            return f"gloss {self.numbers[0]:g} at {self.angle_deg} degrees{sheen}"
        if self.measure is Measure.COLOUR:
            return "colour L* {:g} a* {:g} b* {:g}".format(*self.numbers)
        if self.measure is Measure.JUDGED:
            said = f": {self.grade}" if self.grade else ""
            return f"judged {self.numbers[0]:g} of 10{said}"
        return f"{self.measure.value} {self.grade}"

    @property
    def name(self) -> str:
        """Return what was read, without what was found: ``gloss at 60 degrees``."""
        angle = f" at {self.angle_deg} degrees" if self.angle_deg else ""
        return f"{self.measure.value}{angle}"

    @property
    def found(self) -> str:
        """Return what was found, without what was read: ``42, semi-gloss``."""
        return self.words.partition(" ")[2].replace(f" at {self.angle_deg} degrees", "")


class UnreadableError(RefusalError, ValueError):
    """Words that are no reading."""


def sheen_of(gloss_60: float) -> str:
    """Return the sheen that a gloss at 60 degrees (0 or more) is called by."""
    return next((name for name, most in SHEENS.items() if gloss_60 <= most), LOOKS[-1])


def sheen_band(sheen: str) -> tuple[float, float] | None:
    """Return the gloss at 60 degrees from which, and up to which, a sheen is called so."""
    if sheen not in SHEENS:
        return None
    below = LOOKS.index(sheen) - 1
    return (SHEENS[LOOKS[below]] if below >= 0 else 0.0, SHEENS[sheen])


def colour_apart(one: tuple[float, ...], other: tuple[float, ...]) -> float:
    """Return how far two colours lie apart: CIE 1976 L*a*b* difference (ISO/CIE 11664-4:2019)."""
    return float(sum((a - b) ** 2 for a, b in zip(one, other, strict=True)) ** 0.5)


def read_reading(text: str) -> Reading:
    """Return what ``gloss 60: 42 at the top edge`` and its like tell.

    Raises:
        UnreadableError: for what is no reading, or lies outside its scale.

    """
    measure, _, rest = text.strip().partition(" ")
    name = _ALSO.get(measure.lower().rstrip(":"), measure.lower().rstrip(":"))
    if name not in tuple(Measure):
        near = nearest(name, (*Measure, *_ALSO))
        meant = f"did you mean {near!r}?" if near else f"write {', '.join(Measure)} and its value"
        raise UnreadableError(f"{measure!r:.40} is nothing that is read", meant)
    another = None if Measure(name) in _IN_WORDS else _ANOTHER.search(rest)
    if another:
        raise UnreadableError(
            f"{text!r:.60} is more than one reading", f"log {another[1].strip()!r:.40} by itself"
        )
    return _READ[Measure(name)](rest.strip(" :"))


_IN_WORDS = (Measure.JUDGED, Measure.FOUND, Measure.SWAB, Measure.LEAVE)
_ANOTHER = re.compile(
    r"[;,]\s*((?:gloss|sheen|colou?r|pencil|hardness|judged?)\s*:?\s*[-+]?\d.*"
    r"|(?:thumbnail|nail|smell|pencil)\s+\w.*)",
    re.IGNORECASE,
)
"""A second reading in the words of the first: it would be lost."""
_NUMBER = r"[+-]?\d+(?:\.\d+)?"
_GLOSS = rf"(\d+)\s*(?:deg(?:rees)?|°)?\s*[:=]\s*({_NUMBER})\s*(?:GU)?\b"


def _gloss(text: str) -> Reading:
    found = re.match(_GLOSS, text, re.IGNORECASE)
    if found is None:
        raise UnreadableError(f"{text!r:.60} is no gloss", "write for example 'gloss 60: 42'")
    angle, units = int(found[1]), float(found[2])
    if angle not in ANGLES_DEG:
        raise UnreadableError(f"gloss at {angle} degrees", "it is read at 20, 60 or 85 degrees")
    if not 0 <= units <= MOST_GLOSS:
        raise UnreadableError(f"a gloss of {units:g}", f"it may be 0 to {MOST_GLOSS:g}")
    return Reading(Measure.GLOSS, (units,), angle, where=_where(text[found.end() :]))


def _colour(text: str) -> Reading:
    plain = re.sub(r"\b[Lab]\s*\*?\s*[:=]?\s*(?=[+-]?\d)", " ", text)
    found = re.match(rf"\s*({_NUMBER})[\s,;/]+({_NUMBER})[\s,;/]+({_NUMBER})(?![\d.])", plain)
    if found is None:
        raise UnreadableError(
            f"{text!r:.60} is no colour", "write L*, a* and b*: 'colour 42.1 18.3 22'"
        )
    light, red, yellow = (float(found[n]) for n in (1, 2, 3))
    if not (0 <= light <= 100 and abs(red) <= 128 and abs(yellow) <= 128):
        raise UnreadableError(
            f"a colour of {light:g} {red:g} {yellow:g}",
            "L* may be 0 to 100, a* and b* -128 to 128",
        )
    return Reading(Measure.COLOUR, (light, red, yellow), where=_where(plain[found.end() :]))


def _graded(measure: Measure, grades: tuple[str, ...]) -> Callable[[str], Reading]:
    def read(text: str) -> Reading:
        said = text.lower()
        longest = sorted(grades, key=len, reverse=True)
        found = next(
            (one for one in longest if re.match(rf"{one.lower()}(?![a-z0-9])", said)), None
        )
        if found is None:
            raise UnreadableError(
                f"{text!r:.40} is no grade of the {measure.value}", f"write one of {_few(grades)}"
            )
        return Reading(measure, grade=found, where=_where(text[len(found) :]))

    return read


def _judged(text: str) -> Reading:
    found = re.match(rf"({_NUMBER})\s*(?:(?:of|/)\s*10)?\s*(?:[:,;]\s*(.*))?$", text, re.DOTALL)
    if found is None:
        raise UnreadableError(f"{text!r:.60} is no judgement", "write for example 'judged 8: warm'")
    points = float(found[1])
    if not 0 <= points <= 10:
        raise UnreadableError(f"{points:g} of 10", "it may be 0 to 10")
    return Reading(Measure.JUDGED, (points,), grade=" ".join((found[2] or "").split()))


def _swab(text: str) -> Reading:
    solvent, colon, did = text.partition(":")
    if not colon or solvent.strip().lower() not in SWABS or not did.strip():
        raise UnreadableError(
            f"{text!r:.60} is no test on a spot",
            f"write for example 'swab alcohol: sticky'; solvents are {', '.join(SWABS)}",
        )
    what, _, where = re.sub(r"\s+(?:at|on)\s+", "\n", did.strip(), count=1).partition("\n")
    return Reading(Measure.SWAB, grade=f"{solvent.strip().lower()}: {what}", where=where)


def _leave(text: str) -> Reading:
    if not text.strip():
        raise UnreadableError("nothing is named", "write for example 'leave the label inside'")
    return Reading(Measure.LEAVE, grade=" ".join(text.split()))


def _few(grades: tuple[str, ...]) -> str:
    if grades is CONDITIONS:
        return ", ".join(grades)
    return ", ".join(grades) if len(grades) < 6 else f"{grades[0]} to {grades[-1]}"


def _where(text: str) -> str:
    words = re.sub(r"^[\s,;]*(?:at|on)\b\s*", "", text.strip(" ,;"), flags=re.IGNORECASE)
    return " ".join(words.split())


_ALSO: Mapping[str, str] = MappingProxyType(
    {
        "color": "colour",
        "lab": "colour",
        "hardness": "pencil",
        "sheen": "gloss",
        "nail": "thumbnail",
        "judge": "judged",
    }
)
_READ: Mapping[Measure, Callable[[str], Reading]] = MappingProxyType(
    {
        Measure.GLOSS: _gloss,
        Measure.COLOUR: _colour,
        Measure.PENCIL: _graded(Measure.PENCIL, PENCILS),
        Measure.THUMBNAIL: _graded(Measure.THUMBNAIL, THUMBNAIL),
        Measure.SMELL: _graded(Measure.SMELL, SMELL),
        Measure.JUDGED: _judged,
        Measure.FOUND: _graded(Measure.FOUND, CONDITIONS),
        Measure.SWAB: _swab,
        Measure.LEAVE: _leave,
    }
)
