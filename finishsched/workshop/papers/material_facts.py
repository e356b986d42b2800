"""What the next owner should know of the woods and inlays themselves: light, and the law."""

from __future__ import annotations

from collections.abc import Iterator

from finishsched.model.inlays import inlays_in
from finishsched.model.job import Piece
from finishsched.model.woods import woods_of


def material_facts(piece: Piece) -> Iterator[tuple[str, str]]:
    """Give how its woods change in light, and what of it is protected; nothing of unknown ones."""
    woods = woods_of(piece.shows)
    light = [
        f"{wood.name} {wood.in_light}" for wood in woods if wood.in_light not in ("", "stable")
    ]
    if light:
        yield "in light", f"{', '.join(light)} (wood handbooks, from memory)"
    inlays = inlays_in(piece.shows)
    listed = [f"{wood.name}, CITES {wood.trade_listed}" for wood in woods if wood.trade_listed]
    listed += [f"{one.name}, {one.trade}" for one in inlays if one.trade]
    if listed:
        yield (
            "protected",
            f"{'; '.join(listed)}: state of 2023, from memory; look it up, keep papers",
        )
