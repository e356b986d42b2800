"""What the dust of a piece holds, by the words for its woods and inlays.

Wood dust: IARC group 1, EU limit for hardwood 2 mg/m3 (Directive 2004/37/EC), NIOSH 1 mg/m3. Shell:
hypersensitivity pneumonitis in workers (Eur Respir J 1997;10:780). Which woods sensitise is from
memory of wood toxicity lists. Lead in coatings from before 1978: US lead-safe rules.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

_SENSITISING = (
    *("rosewood", "cocobolo", "ebony", "iroko", "padauk", "teak", "wenge", "cedar", "mahogany"),
    *("sapele", "satinwood", "zebrawood", "olive", "yew", "boxwood", "walnut"),
)
_SHELL = r"\b(nacre|mother[ -]of[ -]pearl|abalone|paua|sea ?shell|shell inlay|shell)\b"
_OLD = r"\b(old (finish|coating|paint|varnish|lacquer|polish)|painted|restor\w*|repair\w*)\b"


def dust_of(made_of: str, *, wet: bool = False) -> Iterator[str]:
    """Give the cautions for sanding a piece, ``made_of`` in any words; wet work makes less dust."""
    text = made_of.lower()
    words = set(re.findall(r"[a-z]+", text))
    if re.search(_OLD, text):
        yield "An old coating may hold lead (before 1978): test it first; lead-safe rules apply."
    if re.search(_SHELL, text):
        yield (
            "Shell dust can inflame the lungs for good: cut and sand it wet, extract it, and wear "
            "a P3 or P100 mask."
        )
    if wet:
        return
    known = [wood for wood in _SENSITISING if wood in words]
    if known:
        yield f"Dust of {', '.join(known)} can bring on allergy: cover the skin, wash it off after."
