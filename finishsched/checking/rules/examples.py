"""The piece that examples of rules about pieces show: a lid, with what matters of it."""

from __future__ import annotations

TOP_AND_EDGES = (
    "faces: [{face: top, length: 300 mm, width: 200 mm}, {face: edges, area: 0.02 m2}]\n"
)
BOTH_SIDES = "faces: [{face: top, length: 300 mm, width: 200 mm}, {face: under, area: 0.06 m2}]\n"


def lid(schedule: str, keys: str = "", faces: str = TOP_AND_EDGES) -> str:
    """Return a piece as its document has it, with ``keys`` of its own, a line each."""
    return f"piece: lid\ntitle: Lid\nschedule: {schedule}\n{keys}{faces}"


def lid_of(species: str) -> str:
    """Return a lid of some woods, worked on both sides by the schedule ``mine``."""
    return lid("mine", f"species: {species}\n", BOTH_SIDES)
