"""What the dust of a piece holds, by the words for its woods and inlays.

Wood dust: IARC group 1, EU limit for hardwood 2 mg/m3 (Directive 2004/37/EC), NIOSH 1 mg/m3. Which
woods sensitise or poison: the table of woods, which says what was found in print. Lead in coatings
from before 1978: US lead-safe rules.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from finishsched.model.inlays import inlays_in
from finishsched.model.woods import DustHarm, Wood, woods_of

_OLD = r"\b(old (finish|coating|paint|varnish|lacquer|polish)|painted|restor\w*|repair\w*)\b"


def dust_of(made_of: str, *, wet: bool = False) -> Iterator[str]:
    """Give the cautions for abrading a piece, ``made_of`` in any words; wet makes less dust."""
    if re.search(_OLD, made_of.lower()):
        yield "An old coating may hold lead (before 1978): test it first; lead-safe rules apply."
    for inlay in inlays_in(made_of):
        if inlay.dust and not (wet and inlay.dry_only):
            yield inlay.dust
    if wet:
        return
    woods = woods_of(made_of)
    allergic = _named(woods, DustHarm.SENSITISES)
    if allergic:
        yield f"Dust of {allergic} can bring on allergy: cover the skin, wash it off after."
    lungs = _named(woods, DustHarm.LUNGS)
    if lungs:
        yield f"Dust of {lungs} can bring on asthma: a P3 or P100 mask, and extraction."
    poison = _named(woods, DustHarm.POISONOUS)
    if poison:
        yield f"Dust of {poison} is poisonous: a P3 or P100 mask, gloves, no food near it."


def _named(woods: Iterable[Wood], harm: DustHarm) -> str:
    """Name the woods that do a harm; those of which no list in print was found, as said."""
    return ", ".join(
        wood.name if wood.dust_found else f"{wood.name} (from memory)"
        for wood in woods
        if harm in wood.dust
    )
