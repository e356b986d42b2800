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
    COLOUR_THROUGH = "sand-through of colour"
    WITNESS_LINES = "witness lines"
    PINHOLES = "pinholes"
    BLEEDING = "bleeding"
    DULL_PATCH = "dull patch"
    RAISED_GRAIN = "raised grain"
    BLOTCHES = "blotches"
    RUST = "rust"
    BRUSH_MARKS = "brush marks"
    BLISTER = "blister"
    OPEN_SEAM = "open seam"
    WHITE_PORES = "white in the pores"
    SCRATCHES = "scratches"
    STREAKS = "streaks"
    COLOUR_CHANGE = "colour change"
    DENT = "dent"
    BURN = "burn"


_ALSO = {
    Seen.BLUSH: (
        "blushed",
        "blushing",
        "bloom",
        "white bloom",
        "milky",
        "cloudy",
        "white haze",
        "haze",
        "hazy",
        "clouding",
        "cobwebs",
        "chill",
        "blooming",
        "sweating",
        "sweat",
        "sweats",
    ),
    Seen.STICKY: (
        "tacky",
        "soft film",
        "still soft",
        "stays soft",
        "not hard",
        "gummy",
        "soft below",
        "after-tack",
        "slow to dry",
        "will not dry",
        "never dries",
        "dead shellac",
        "cheesy",
        "smeary",
        "greasy",
    ),
    Seen.RIDGE: (
        "ridges",
        "pad ridge",
        "pad ridges",
        "lap mark",
        "lap marks",
        "overlap",
        "pad marks",
        "pad mark",
        "ropey",
        "ropes",
        "whips",
        "tracks",
        "tails",
    ),
    Seen.SAG: (
        "sags",
        "run",
        "runs",
        "curtain",
        "curtains",
        "tear",
        "tears",
        "drip",
        "drips",
        "fat edge",
        "fat edges",
        "lobe",
    ),
    Seen.DUST_NIB: (
        "dust nibs",
        "nib",
        "nibs",
        "dust",
        "speck",
        "specks",
        "grit",
        "hair",
        "hairs",
        "lint",
        "bits",
        "seeds",
        "seedy",
        "bristle",
    ),
    Seen.CORNING: ("corns", "paper clogs", "clogged paper", "paper loads", "clogging", "loading"),
    Seen.ORANGE_PEEL: (
        "orange-peel",
        "pebbled",
        "peel texture",
        "dry spray",
        "overspray",
        "sandpapery",
        "cobwebbing",
    ),
    Seen.PRINT: (
        "prints",
        "finger print",
        "fingerprint",
        "fingerprints",
        "imprint",
        "press mark",
        "cloth mark",
        "cloth marks",
    ),
    Seen.WHITE_RING: (
        "white rings",
        "ring",
        "water ring",
        "water mark",
        "heat mark",
        "water ring",
        "cup ring",
        "white heat",
    ),
    Seen.FISHEYE: (
        "fisheyes",
        "fish eye",
        "fish eyes",
        "fish-eye",
        "crater",
        "craters",
        "cissing",
        "crawling",
        "crawls",
        "creeping",
    ),
    Seen.LIFTING: (
        "lifted",
        "lifts",
        "peeling",
        "peels",
        "wrinkle",
        "wrinkled",
        "wrinkling",
        "flaking",
        "flakes",
        "crinkled",
        "frosting",
        "picking up",
    ),
    Seen.CRACKLE: (
        "crackled",
        "cracks",
        "cracking",
        "crazing",
        "checking",
        "alligatoring",
        "crazed",
        "cold check",
        "line crack",
        "hairline",
    ),
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
    Seen.COLOUR_THROUGH: (
        "sand-through of stain",
        "sanded through the stain",
        "through the stain",
        "through the colour",
        "stain through",
        "colour through",
        "pale edge",
        "pale edges",
    ),
    Seen.WITNESS_LINES: ("witness line", "witness", "coat lines", "contour lines", "halo"),
    Seen.PINHOLES: (
        "pinhole",
        "pin holes",
        "pin hole",
        "bubbles",
        "bubble",
        "froth",
        "solvent pop",
        "pop",
        "pore dots",
        "silver pores",
        "pitting",
    ),
    Seen.BLEEDING: (
        "bleed",
        "bleeds",
        "bled",
        "colour ran",
        "colour runs",
        "weeping",
        "resin",
        "pitch",
        "oil bleeds",
        "tannin",
    ),
    Seen.DULL_PATCH: (
        "dull patches",
        "dull spot",
        "dull spots",
        "dull",
        "flat spot",
        "sunk",
        "sunken",
        "sinking",
        "holiday",
        "skip",
        "skips",
        "missed",
        "starved",
        "flat",
    ),
    Seen.RAISED_GRAIN: ("rough", "fuzzy", "whiskers", "grain raised", "furry", "rough feel"),
    Seen.BLOTCHES: (
        "blotch",
        "blotchy",
        "mottled",
        "patchy",
        "splotch",
        "splotchy",
        "glue spot",
        "glue spots",
        "dark ends",
        "dark end grain",
        "uneven colour",
    ),
    Seen.RUST: (
        "rusty",
        "rust specks",
        "black spots",
        "black specks",
        "iron stain",
        "brown specks",
        "blue-black",
        "dark ring",
        "black ring",
    ),
    Seen.BRUSH_MARKS: ("brush mark", "brushmarks", "brush lines", "ropiness", "strokes show"),
    Seen.BLISTER: ("blisters", "blistering", "veneer bubble", "loose veneer", "veneer lifts"),
    Seen.OPEN_SEAM: (
        "open seams",
        "open joint",
        "seam open",
        "gap",
        "seam opened",
        "joint open",
        "open joints",
    ),
    Seen.WHITE_PORES: (
        "white pores",
        "grey pores",
        "white in pores",
        "grey in the pores",
        "filler haze",
        "white lines",
        "white specks",
        "wax in the pores",
        "white in crevices",
        "muddy",
        "veil",
    ),
    Seen.SCRATCHES: (
        "scratch",
        "swirl",
        "swirls",
        "swirl marks",
        "pigtails",
        "sanding marks",
        "sanding scratches",
        "marks come back",
    ),
    Seen.STREAKS: (
        "streak",
        "streaky",
        "uneven sheen",
        "sheen uneven",
        "bands",
        "patchy sheen",
        "uneven gloss",
    ),
    Seen.COLOUR_CHANGE: (
        "faded",
        "fading",
        "yellowed",
        "yellowing",
        "darkened",
        "too dark",
        "too yellow",
        "ambering",
        "colour changed",
    ),
    Seen.DENT: ("dents", "dented", "ding", "hollow", "bruise", "knock"),
    Seen.BURN: (
        "burnt",
        "burned",
        "burn mark",
        "burns",
        "burnt spot",
        "bite",
        "bitten",
        "dragged",
        "pulled",
        "melted",
    ),
}


def _names(seen: Seen) -> tuple[str, ...]:
    return (seen.value, *_ALSO[seen], *_IN_PRINT.get(seen, ()))


_IN_PRINT = {
    Seen.BLUSH: ("blue haze", "oily film", "salt frost", "oxalic frost", "acetate"),
    Seen.STICKY: ("slow shellac", "softened", "amine film", "old varnish"),
    Seen.RIDGE: ("rubber marks", "ridging", "picture frame"),
    Seen.DUST_NIB: ("gel", "thread", "skin", "skinning"),
    Seen.ORANGE_PEEL: ("peel", "pebble", "stringing"),
    Seen.FISHEYE: ("cratering", "ciss"),
    Seen.LIFTING: ("crinkle", "shrivel", "raising", "alligator lift", "sheets", "gas check",
                   "crystal"),
    Seen.CRACKLE: ("thermal crazing", "crocodiling", "crack at joint", "crack"),
    Seen.PINHOLES: ("pinholing", "bubbling", "boil", "micro-blisters", "open pores",
                    "silver holes"),
    Seen.BLEEDING: ("migration", "scabs", "knot ring", "green-grey", "brown cast"),
    Seen.DULL_PATCH: ("holidays", "shrink-back", "pores telegraph", "telegraphing"),
    Seen.BLOTCHES: ("mottle", "clouds of stain", "pale patch", "glue bleed-through", "measles",
                    "pale dots"),
    Seen.BRUSH_MARKS: ("roughing",),
    Seen.BLISTER: ("kiss",),
    Seen.WHITE_PORES: ("greying", "wax residue", "polish residue", "residue"),
    Seen.SCRATCHES: ("marks coming back", "scratch pattern"),
    Seen.STREAKS: ("sheen streaks", "flatting"),
    Seen.COLOUR_CHANGE: ("too brown", "darkening", "bleached"),
}  # fmt: skip
"""Words that are read more often than said: glossaries of coatings and old handbooks."""
_NAMES = {name: seen for seen in Seen for name in _names(seen)}
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
