"""What is let into a face, as a person says it.

``shell 0.3 mm in 0.6 mm veneer; holly stringing 0.9 mm, proud 0.3 mm, 1.5 mm wide and brass 1 mm``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from finishsched.documents.codec import Reading, UnreadableError
from finishsched.documents.formats.job import INLAY
from finishsched.documents.nodes import Fields, Node, Text
from finishsched.model.job import Inlay
from finishsched.model.woods_described import OwnWood, is_material, not_a_material
from finishsched.units import LENGTH, UnitFaultError, read
from finishsched.workshop.base.entries import RefusedError

_SIZE = re.compile(
    r"(?P<said>\bin(?:to)?(?:\s+(?:an?|the))?|\bproud|\blow)?(?:\s+(?:of|by))?\s*"
    r"(?P<size>\d[\d./]*(?:\s+\d+/\d+)?\s*(?:mm|cm|um|µm|μm|mils?|thou|inch(?:es)?|in|\")(?![a-z]))"
    r"(?:\s+(?P<after>wide|thick|veneer|(?:proud|low)(?!\s*\d))\b)?",
    re.IGNORECASE,
)
_KEYS = {
    "in": "in",
    "into": "in",
    "veneer": "in",
    "proud": "proud",
    "low": "low",
    "wide": "width",
    "thick": "thickness",
}
_IDLE = {"of", "a", "the", "let", "thick", "veneer", "stands", "lies", "it", "that", "is"}
_REMEDY = (
    "write material and thickness: shell 0.3 mm in 0.6 mm veneer; holly 0.9 mm, proud 0.3 mm; "
    "brass 1 mm"
)


def read_inlays(text: str, own: tuple[OwnWood, ...] = ()) -> tuple[Inlay, ...]:
    """Return the inlays that a line says, parted by semicolons, commas or ``and``.

    What names no material says more of the one before: ``holly 0.9 mm, proud 0.3 mm``. Woods of
    the shop's ``own`` are known.

    Raises:
        RefusedError: for what is no inlay, or of no material that is known.

    """
    found = tuple(_inlay(part) for part in _parts(text))
    for inlay in found:
        if not is_material(inlay.material, own):
            raise RefusedError(*not_a_material(inlay.material))
    return found


def _parts(text: str) -> Iterator[str]:
    """Give what is said of each inlay."""
    for stretch in filter(None, (part.strip() for part in text.split(";"))):
        said = ""
        for piece in re.split(r",\s*|\s+and\s+", " ".join(stretch.split())):
            # A size alone, or a material alone, is one inlay with what stands beside it.
            if said and _material(piece) and _SIZE.search(piece) and _SIZE.search(said):
                yield said
                said = ""
            said = f"{said}, {piece}" if said else piece
        yield said


def _material(part: str) -> str:
    words = _SIZE.sub(" ", part).replace(",", " ").split()
    kept = [number for number, word in enumerate(words) if word.lower() not in _IDLE]
    return " ".join(words[kept[0] : kept[-1] + 1]) if kept else ""


def _inlay(part: str) -> Inlay:
    sizes = _sizes(part)
    material = _material(part)
    if not material or "thickness" not in sizes:
        raise RefusedError(f"{part!r:.60} does not say how thick it is, or of what", _REMEDY)
    entries: list[tuple[Text, Node]] = [(Text("material"), Text(material))]
    entries += [(Text(key), Text(size)) for key, size in sizes.items()]
    reading = Reading("inlay")
    try:
        found = INLAY.read(Fields(entries), reading)
    except UnreadableError:
        found = None
    if found is None or reading.faults:
        fault = reading.faults[0]
        raise RefusedError(f"{part!r:.60}: {fault.message}", fault.remedy)
    return found


def _sizes(part: str) -> dict[str, str]:
    """Return each size that is said by its key; how thick it is follows from what it stands in."""
    sizes: dict[str, str] = {}
    for found in _SIZE.finditer(part):
        said = (found["said"] or "").split()
        key = _KEYS[(found["after"] or (said[0] if said else "thick")).lower()]
        sizes.setdefault(key, found["size"].strip())
    if "thickness" not in sizes and "in" in sizes:
        stands = next((key for key in ("proud", "low") if key in sizes), None)
        if stands is not None:
            more = _mm(sizes[stands]) * (1 if stands == "proud" else -1)
            sizes["thickness"] = f"{_mm(sizes['in']) + more:g} mm"
    return sizes


def _mm(text: str) -> float:
    try:
        return read(text, LENGTH)
    except UnitFaultError as fault:
        raise RefusedError(fault.message, fault.remedy) from None
