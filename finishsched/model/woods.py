"""Woods, by the one table in ``woods.txt``, whose head names the sources of each column."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import lru_cache

from finishsched.tables import rows_of


class PoreSize(StrEnum):
    """How large the pores of a wood are."""

    LARGE = "large"
    MEDIUM = "medium"
    SMALL = "small"
    VERY_SMALL = "very small"


class PoreClass(StrEnum):
    """How open a planed face is."""

    OPEN = "open"
    HALF_OPEN = "half open"
    CLOSED = "closed"
    NONE = "none"


class Oil(StrEnum):
    """How much oil or other antioxidant a wood holds."""

    NONE = "-"
    SLIGHT = "slight"
    OILY = "oily"
    VERY = "very"


class Degree(StrEnum):
    """How much of something a wood has or does."""

    NO = "-"
    SLIGHT = "slight"
    SOME = "some"
    YES = "yes"
    HIGH = "high"


class DustHarm(StrEnum):
    """What the dust of a wood is known to do, beside what all wood dust does."""

    SENSITISES = "S"
    IRRITATES = "I"
    LUNGS = "P"
    NAUSEA = "N"
    POISONOUS = "T"
    NASAL_CANCER = "C"


@dataclass(frozen=True, slots=True)
class Wood:
    """One wood: a row of the table, or one that the shop describes itself."""

    name: str
    """As it is called where it is named."""
    pore_class: PoreClass
    size: PoreSize
    pores: str = "diffuse"
    """How they lie: ``ring``, ``semi-ring``, ``diffuse`` or ``softwood``."""
    kg_per_m3: float | None = None
    """Oven-dry mass over the volume at 12 % moisture."""
    janka_n: float | None = None
    """Side hardness at 12 % moisture, in N."""
    oil: Oil = Oil.NONE
    resinous: bool = False
    tannin: Degree = Degree.NO
    bleeds_in: tuple[str, ...] = ()
    """The liquids that carry its colour: ``alcohol``, ``water``; ``slight`` for little in any."""
    blotches: Degree = Degree.NO
    in_light: str = ""
    colour: str = ""
    """Of the fresh heartwood: ``pale``, ``yellow``, ``red``, ``brown`` or ``dark``."""
    dust: tuple[DustHarm, ...] = ()
    """Empty when nothing is known, which is not safe."""
    dust_found: bool = False
    """True where a list in print was found to say it, False where it is from memory."""
    shrinks_tangential_percent: float | None = None
    """From green to oven-dry."""
    shrinks_radial_percent: float | None = None
    moves_per_percent: float | None = None
    """Change of width over width for each percent of moisture, tangential, 6 to 14 %."""
    botanical: str = ""
    trade_listed: str = ""
    """Where trade in it is restricted: the appendix of CITES and its annotation."""

    @property
    def fill(self) -> bool:
        """True when its pores have to be filled for a surface like glass."""
        return self.pore_class in (PoreClass.OPEN, PoreClass.HALF_OPEN)

    @property
    def oily(self) -> bool:
        """True when its oil keeps what dries by oxygen from drying."""
        return self.oil in (Oil.OILY, Oil.VERY)

    @property
    def is_pale(self) -> bool:
        """True for the pale woods, which show a stain and turn yellow or dark under oil."""
        return self.colour == "pale"


HEAD = (
    *("names", "botanical", "pores", "class", "size", "kg/m3", "janka N"),
    *("shrinks T/R %", "moves T", "oil", "resin", "tannin", "bleeds in", "blotches", "in light"),
    *("colour", "dust", "trade"),
)


@lru_cache(maxsize=1)
def table() -> tuple[tuple[tuple[str, ...], Wood], ...]:
    """Return every row of the table: the names that it goes by, and the wood."""
    return tuple(map(_row, rows_of("woods.txt", __package__)))


@lru_cache(maxsize=1)
def by_name() -> Mapping[str, Wood]:
    """Return every wood by each of its names, in small letters."""
    return {name.lower(): wood for names, wood in table() for name in names}


def woods_of(species: str, own: Iterable[Wood] = ()) -> tuple[Wood, ...]:
    """Return the woods that ``species`` names, each once, by the words that it uses.

    The longest name counts: ``African blackwood`` is one wood. ``own`` are woods told beside it,
    and a wood may be described where it is named, ``quince (like pear, oily)``: both go before the
    table's. Words that name no wood are passed over.
    """
    known = {wood.name.lower(): wood for wood in own}
    if "(" in species:
        from finishsched.model.woods_described import described_in  # noqa: PLC0415  # a circle else

        known |= described_in(species, by_name())
        species = _without_descriptions(species, known)
    found = dict.fromkeys(_named(species, known))
    return tuple(replace(known.get(name) or by_name()[name], name=name) for name in found)


def _without_descriptions(species: str, known: Mapping[str, Wood]) -> str:
    """Return a text without the brackets behind a wood: what it is like is none of its woods."""
    for name in known:
        species = re.sub(rf"({re.escape(name)})\s*\([^()]*\)", r"\1", species, flags=re.IGNORECASE)
    return species


def _named(species: str, own: Mapping[str, Wood]) -> Iterator[str]:
    words = re.findall(r"[a-z]+", species.lower())
    at = 0
    while at < len(words):
        for length in (3, 2, 1):
            name = " ".join(words[at : at + length])
            # What is called cherrywood is cherry.
            known = next((n for n in (name, name.removesuffix("wood")) if _is_wood(n, own)), None)
            if known is not None:
                yield known
                at += length
                break
        else:
            at += 1


def _is_wood(name: str, own: Mapping[str, Wood]) -> bool:
    return name in own or name in by_name()


def _row(cells: tuple[str, ...]) -> tuple[tuple[str, ...], Wood]:
    said = dict(zip(HEAD, (*cells, *[""] * len(HEAD)), strict=False))
    names = tuple(name.strip() for name in said["names"].split(","))
    density, _, _ = said["kg/m3"].partition(" ")
    tangential, _, radial = said["shrinks T/R %"].partition("/")
    moves, _, _ = said["moves T"].partition(" ")
    harms, _, source = said["dust"].partition(" ")
    bleeds = said["bleeds in"]
    wood = Wood(
        name=names[0],
        pore_class=PoreClass(said["class"]),
        size=PoreSize(said["size"]),
        pores=said["pores"],
        kg_per_m3=float(density),
        janka_n=float(said["janka N"].partition(" ")[0]),
        oil=Oil(said["oil"]),
        resinous=said["resin"] == "resin",
        tannin=Degree(said["tannin"]),
        bleeds_in=() if bleeds == "-" else tuple(bleeds.split()),
        blotches=Degree(said["blotches"]),
        in_light=said["in light"],
        colour=said["colour"],
        dust=() if harms == "?" else tuple(DustHarm(letter) for letter in harms),
        dust_found=source == "f",
        shrinks_tangential_percent=float(tangential) if radial else None,
        shrinks_radial_percent=float(radial) if radial else None,
        moves_per_percent=None if moves == "-" else float(moves),
        botanical=said["botanical"],
        trade_listed="" if said["trade"] == "-" else said["trade"],
    )
    return names, wood
