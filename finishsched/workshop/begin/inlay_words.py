"""What is let into a face, as a person says it: ``shell 0.3 mm in 0.6 mm veneer; brass 1 mm``."""

from __future__ import annotations

import re

from finishsched.documents.codec import Reading, UnreadableError
from finishsched.documents.formats.job import INLAY
from finishsched.documents.nodes import Fields, Node, Text
from finishsched.model.job import Inlay
from finishsched.workshop.base.entries import RefusedError

_INLAY = re.compile(
    r"(?P<material>[^\d.,]+?)[\s,]+(?P<thickness>[\d.][^,]*?)(?:[\s,]+(?:let\s+)?in(?:to)?\s+"
    r"(?:an?\s+|the\s+)?(?P<veneer>\S.*?))?",
    re.IGNORECASE,
)
_NUMBER_FIRST = re.compile(
    r"(?P<thickness>[\d.]\S*(?:\s+(?:mm|mil|in|inch|um|thou))?)\s+(?:of\s+)?(?P<material>[^\d.,]+?)"
    r"(?:[\s,]+(?:let\s+)?in(?:to)?\s+(?:an?\s+|the\s+)?(?P<veneer>\S.*?))?",
    re.IGNORECASE,
)
_REMEDY = "write material and thickness: shell 0.3 mm in 0.6 mm veneer; brass 1 mm"


def read_inlays(text: str) -> tuple[Inlay, ...]:
    """Return the inlays that a line says, parted by semicolons.

    Raises:
        RefusedError: for what is no inlay, or of no material that is known.

    """
    parts = filter(None, (part.strip() for part in text.split(";")))
    return tuple(_inlay(" ".join(part.split())) for part in parts)


def _inlay(part: str) -> Inlay:
    found = _NUMBER_FIRST.fullmatch(part) or _INLAY.fullmatch(part)
    if found is None:
        raise RefusedError(f"{part!r:.60} does not say how thick it is, or of what", _REMEDY)
    entries: list[tuple[Text, Node]] = [
        (Text("material"), Text(found["material"].strip())),
        (Text("thickness"), Text(found["thickness"].strip())),
    ]
    if found["veneer"]:
        entries.append((Text("in"), Text(found["veneer"])))
    reading = Reading("inlay")
    try:
        read = INLAY.read(Fields(entries), reading)
    except UnreadableError:
        read = None
    if read is None or reading.faults:
        fault = reading.faults[0]
        raise RefusedError(f"{part!r:.60}: {fault.message}", fault.remedy)
    return read
