"""Faces as a person says them in one line: ``220 x 140 x 80 mm``, ``top: 220 x 140 mm``."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from finishsched.model.job import Face
from finishsched.units import (
    AREA,
    LENGTH,
    ForeignUnitError,
    Measure,
    UnitFaultError,
    by_sides,
    read,
    read_sides,
    sides_as_written,
)
from finishsched.workshop.base.entries import RefusedError

_NAMED = re.compile(r"(?P<name>[^:\d][^:]*?)\s*:\s*(?P<rest>.+)")
_SEVERAL = re.compile(r"(?P<count>\d{1,3})\s+(?:of|times)\s+(?P<rest>.+)")
_REMEDY = (
    "write two sides such as 220 x 140 mm or 9 x 6 in, an area such as 0.015 m2, or three sides "
    "for the outside of a box; several parted by semicolons"
)


def read_faces(text: str) -> tuple[Face, ...]:
    """Return the faces that a line says, parted by semicolons.

    Three sides are the outside of a box without its bottom: a top and four sides.

    Raises:
        RefusedError: for what is no face.

    """
    faces: list[Face] = []
    for part in _parts(text):
        faces += _faces(part, len(faces))
    if not faces:
        raise RefusedError("no face is written", _REMEDY)
    return tuple(faces)


def sizes_as_typed(text: str) -> Mapping[tuple[Measure, float], str]:
    """Return each side and area of a line that ``read_faces`` takes, as it was typed, by its value.

    The value is in the unit that its measure keeps it in: mm, or m2.
    """
    found: dict[tuple[Measure, float], str] = {}
    for _, _, said in map(_said, _parts(text)):
        if by_sides(said):
            found |= {(LENGTH, read(side, LENGTH)): side for side in sides_as_written(said)}
        else:
            found[AREA, _area(said)] = said.strip()
    return found


def _parts(text: str) -> Iterator[str]:
    yield from filter(None, (part.strip() for part in re.split(r"[;\n]", text)))


def _said(part: str) -> tuple[str, int, str]:
    """Return the name of a face where it has one, how many it is, and its size as written."""
    named = _NAMED.fullmatch(part)
    rest = named["rest"] if named else part
    several = _SEVERAL.fullmatch(rest)
    name = " ".join(named["name"].split()) if named else ""
    return name, int(several["count"]) if several else 1, several["rest"] if several else rest


def _faces(part: str, before: int) -> list[Face]:
    given, count, said = _said(part)
    name = given or ("all" if before == 0 else f"face {before + 1}")
    if not by_sides(said):
        return [Face(name, stated_area_m2=_area(said), count=count)]
    lengths = _sides(said)
    if len(lengths) == 2:
        return [Face(name, max(lengths), min(lengths), count=count)]
    if len(lengths) == 3:
        return _box(lengths, f"{given} " if given else "", count)
    raise RefusedError(f"{part!r:.60} is no face", _REMEDY)


def _box(sides: list[float], name: str, count: int) -> list[Face]:
    """Return a top and four sides; the last of the three is the height."""
    long, short, height = max(sides[:2]), min(sides[:2]), sides[2]
    return [
        Face(f"{name}top", long, short, count=count),
        Face(f"{name}long sides", long, height, count=2 * count),
        Face(f"{name}short sides", short, height, count=2 * count),
    ]


def _area(text: str) -> float:
    try:
        return read(text, AREA)
    except ForeignUnitError:
        raise RefusedError(f"{text!r:.40} is one side only", _REMEDY) from None
    except UnitFaultError as fault:
        raise RefusedError(fault.message, _REMEDY) from None


def _sides(text: str) -> list[float]:
    try:
        return read_sides(text)
    except UnitFaultError as fault:
        raise RefusedError(fault.message, _REMEDY) from None
