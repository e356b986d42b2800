"""What is seen when something is wrong, in the trade's words."""

from __future__ import annotations

from enum import StrEnum


class Seen(StrEnum):
    """A defect by its name."""

    BLUSH = "blush"
    STICKY = "sticky"
    RIDGE = "ridge"
    SAG = "sag"
    DUST_NIB = "dust nib"
    CORNING = "corning"
    ORANGE_PEEL = "orange peel"
    PRINT = "print"
    WHITE_RING = "white ring"
    FISHEYE = "fisheye"
    LIFTING = "lifting"
    CRACKLE = "crackle"
    FILM_THROUGH = "sand-through of film"
    VENEER_THROUGH = "sand-through of veneer"
    WITNESS_LINES = "witness lines"
    PINHOLES = "pinholes"
    BLEEDING = "bleeding"
    DULL_PATCH = "dull patch"


_ALSO = {
    Seen.BLUSH: ("blushed", "blushing", "bloom", "white bloom", "milky", "cloudy", "white haze"),
    Seen.STICKY: ("tacky", "soft film", "still soft", "stays soft", "not hard"),
    Seen.RIDGE: ("ridges", "pad ridge", "pad ridges", "lap mark", "lap marks", "overlap"),
    Seen.SAG: ("sags", "run", "runs", "curtain", "tear", "drip"),
    Seen.DUST_NIB: ("dust nibs", "nib", "nibs", "dust", "speck", "specks", "grit"),
    Seen.CORNING: ("corns", "paper clogs", "clogged paper", "paper loads", "clogging"),
    Seen.ORANGE_PEEL: ("orange-peel", "pebbled", "peel texture"),
    Seen.PRINT: ("prints", "finger print", "fingerprint", "fingerprints", "imprint", "press mark"),
    Seen.WHITE_RING: ("white rings", "ring", "water ring", "water mark", "heat mark"),
    Seen.FISHEYE: ("fisheyes", "fish eye", "fish eyes", "fish-eye", "crater", "craters"),
    Seen.LIFTING: ("lifted", "lifts", "peeling", "peels", "wrinkle", "wrinkled", "wrinkling"),
    Seen.CRACKLE: ("crackled", "cracks", "cracking", "crazing", "checking", "alligatoring"),
    Seen.FILM_THROUGH: (
        "sand-through",
        "sand through",
        "sanded through",
        "rubbed through",
        "rub-through",
        "cut through",
        "film through",
        "through the film",
    ),
    Seen.VENEER_THROUGH: (
        "veneer through",
        "sand through of veneer",
        "sand through veneer",
        "sanded through the veneer",
        "sanded through veneer",
        "through the veneer",
        "core shows",
        "glue shows",
    ),
    Seen.WITNESS_LINES: ("witness line", "witness", "coat lines", "contour lines"),
    Seen.PINHOLES: ("pinhole", "pin holes", "pin hole", "bubbles", "bubble"),
    Seen.BLEEDING: ("bleed", "bleeds", "bled", "colour ran", "colour runs"),
    Seen.DULL_PATCH: ("dull patches", "dull spot", "dull spots", "dull", "flat spot", "sunk"),
}
_NAMES = {name: seen for seen in Seen for name in (seen.value, *_ALSO[seen])}
_LONGEST_FIRST = sorted(_NAMES, key=lambda name: (-len(name), name))


def seen_in(text: str) -> Seen | None:
    """Return the defect that ``text`` begins with by any of its names, or None.

    ``blush along the hinge edge`` is blush; ``a bit of blush`` is only text.
    """
    said = " ".join(text.lower().replace(":", " ").replace(",", " ").split())
    for name in _LONGEST_FIRST:
        if said == name or said.startswith(f"{name} "):
            return _NAMES[name]
    return None
