"""The words of a notebook, a row each: what the trade means by them.

All are common practice, no source, where nothing else is said.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING

from finishsched.model.schedule import StageName, Verb

if TYPE_CHECKING:
    from collections.abc import Mapping


@dataclass(frozen=True, slots=True)
class Meaning:
    """What one word says of a step."""

    verb: Verb | None = None
    sets: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    """Keys of the step with their values."""
    how: str = ""
    """Words for how it is done."""
    stage: StageName | None = None


def _does(verb: Verb, **sets: str) -> Meaning:
    return Meaning(verb, MappingProxyType(sets))


def _is_done(how: str) -> Meaning:
    return Meaning(how=how)


_FAD = MappingProxyType({"tool": "fad of wool alone, no cover"})
_STIFF = "half-dry pad, more weight, straight strokes on and off the ends"

_DONE_TO = (
    *("edges", "the edges", "edge", "veneer", "the veneer", "gaps", "dents", "stringing", "inlay"),
    *("the top", "sides", "faces", "the face", "the back", "inside", "outside", "corners", "ends"),
    *(
        "the rest",
        "end grain",
        "mouldings",
        "the low spots",
        "the repair",
        "the patch",
        "everything",
    ),
)
"""Where on a piece: kept as how it is done."""

_ALSO: tuple[tuple[Verb, str], ...] = (
    (
        Verb.SCRAPE,
        (
            "scraped, scrape off the old glue, scrape off the old finish, scrape off old glue, "
            "scrape off old finish"
        ),
    ),
    (Verb.BLEACH, "bleached"),
    (Verb.SAND, "paper off, paper down, papering, sanded, sand down, sand back, sand off, sand up"),
    (
        Verb.LEVEL,
        (
            "flattened, rubbed down, levelled, leveled, block, block sand, block flat, rub flat, "
            "sand flat, wet-and-dry, wet and dry, wet or dry"
        ),
    ),
    (
        Verb.TACK_OFF,
        (
            "dusted, tacked off, clean, clean off, clean up, clean down, remove dust, get rid of "
            "the dust, remove the dust, remove all dust, tack rag, tack cloth, wipe with a tack "
            "cloth, wipe with a tack rag, hoover, wipe down, wipe off dust, wipe off the dust, "
            "dust it off"
        ),
    ),
    (
        Verb.RAISE_GRAIN,
        (
            "dampen, damp, damp down, sponge, sponge down, raise the fibres, grain raised, raised "
            "the grain"
        ),
    ),
    (Verb.FILL, "filled, fill the gaps, fill the dents, fill the grain"),
    (Verb.STAIN, "stained, dyed, dyeing, colour, color, tint"),
    (Verb.PAD, "rubber on, with a rubber, rubber"),
    (Verb.BRUSH, "brushing, brush out"),
    (Verb.WIPE, "wiping, wiped on, rag on, ragged on"),
    (Verb.SPIRIT_OFF, "spirited off, pull over, pulling over, pulled over"),
    (Verb.SPRAY, "hvlp, spraying, spray on, shoot, gun on"),
    (Verb.DIP, "dipped"),
    (Verb.BURNISH, "buffed, polish up, burnished"),
    (Verb.RUB_OUT, "compound, rubbed out, cut and polish, hand rub, rub by hand"),
    (Verb.WAX, "waxed, waxing, wax up, wax on"),
    (Verb.GLUE_UP, "glued, glue on, glue down, lay veneer, lay the veneer, veneer up"),
    (Verb.MASK, "mask off, masked, tape, tape up, tape off"),
    (Verb.STRIP_TAPE, "unmask, remove tape, remove the tape, peel the tape, tape out"),
    (
        Verb.REST,
        (
            "hang, hang up, set aside, put aside, leave to harden, leave to sink, leave to dry, "
            "let it hang"
        ),
    ),
)
"""Plain other words for what is done, that say no more than the first."""

_OF_THE_TRADE: Mapping[str, Meaning] = {
    **dict.fromkeys(
        ("wetsand", "wet sanding", "wet-sanding", "wet sanded", "wetsanding"),
        _does(Verb.LEVEL, lubricant="water"),
    ),
    **dict.fromkeys(("dry sanding", "dry-sand", "drysand"), _does(Verb.SAND, lubricant="dry")),
    **dict.fromkeys(
        (
            "knock back",
            "knock down",
            "knock back down",
            "knock the grain back",
            "knock the grain down",
            "knock the grain back down",
            "cut the fibres",
        ),
        Meaning(Verb.SAND, how="lightly, the raised fibres only"),
    ),
    **dict.fromkeys(("raise the grain", "raise grain", "wet the wood"), Meaning(Verb.RAISE_GRAIN)),
    **dict.fromkeys(
        ("blow off", "blow off the dust", "blow out", "dust", "dust down", "wipe down"),
        Meaning(Verb.TACK_OFF),
    ),
    **dict.fromkeys(("pumice the pores", "pumice in", "filling"), Meaning(Verb.FILL)),
    **dict.fromkeys(
        ("bodying", "body in", "bodying up", "bodying in", "build", "build up"),
        Meaning(Verb.PAD, stage=StageName.BODY),
    ),
    **dict.fromkeys(
        ("stiffening", "stiffing"),
        Meaning(Verb.PAD, how=_STIFF, stage=StageName.POLISH),
    ),
    **dict.fromkeys(
        ("spirit out", "spiriting", "spiriting out", "acid off"), Meaning(Verb.SPIRIT_OFF)
    ),
    **dict.fromkeys(("buff", "buffing", "buff up"), Meaning(Verb.BURNISH)),
    **dict.fromkeys(("rub", "rub with", "rubbing out"), Meaning(Verb.RUB_OUT)),
    **dict.fromkeys(
        (
            "sink",
            "let sink",
            "let it sink",
            "harden",
            "let harden",
            "let it harden",
            "let stand",
            "let it stand",
            "let dry",
            "let it dry",
        ),
        Meaning(Verb.REST),
    ),
    **dict.fromkeys(("level flat", "flat down", "levelling", "leveling"), Meaning(Verb.LEVEL)),
    **dict.fromkeys(("dye", "staining"), Meaning(Verb.STAIN)),
    **dict.fromkeys(("lay on", "padding"), Meaning(Verb.PAD)),
    "glazing": Meaning(Verb.GLAZE),
    **dict.fromkeys(
        ("de-nib", "scuffed", "scuff up", "scuff back"), _does(Verb.LEVEL, reach="scuff")
    ),
    **dict.fromkeys(
        (
            "size",
            "sizing",
            "spit coat",
            "sanding sealer",
            "sand sealer",
            "sealer coat",
            "wash coats",
            "sealed",
        ),
        Meaning(stage=StageName.SEAL),
    ),
    **dict.fromkeys(("roll", "roll on", "rolled on"), _does(Verb.BRUSH, tool="a foam roller")),
    "drop fill": Meaning(Verb.FILL, how="drop by drop, proud of the face"),
    "rub in": _is_done("rubbed in"),
    "sand in": _is_done("sanded in wet"),
    "sanded in": _is_done("sanded in wet"),
    "wet sanded in": _is_done("sanded in wet"),
    "scrape off": _is_done("scrape off what stands on it"),
    "wiped off": _is_done("wipe off what stands on it"),
    "flood on": _is_done("flood it on"),
    "charge the rubber": _is_done("charge the rubber"),
    "going with the grain": _is_done("with the grain"),
    **dict.fromkeys(("paste fill", "paste filling"), _does(Verb.FILL, product="filler")),
    "ghost": _is_done("as light as a breath"),
    "ghost coats": _is_done("as light as a breath"),
    "nearly dry pad": _is_done("with a nearly dry pad"),
    "damp rag": _is_done("with a damp rag"),
    "wipe off": _is_done("wipe off what stands on it"),
    "wipe dry": _is_done("wipe dry"),
    "flat": _is_done("flat"),
    "by hand": _is_done("by hand"),
    "off the edges": _is_done("off the edges"),
}
"""The workshop's other words for the same things, French polishing's among them."""

_WORDS: Mapping[str, Meaning] = MappingProxyType(
    {
        **{verb.value: Meaning(verb) for verb in Verb},
        "sanding": Meaning(Verb.SAND),
        "wet sand": _does(Verb.LEVEL, lubricant="water"),
        "wet-sand": _does(Verb.LEVEL, lubricant="water"),
        "sand wet": _does(Verb.LEVEL, lubricant="water"),
        "wet level": _does(Verb.LEVEL, lubricant="water"),
        "dry sand": _does(Verb.SAND, lubricant="dry"),
        "sand dry": _does(Verb.SAND, lubricant="dry"),
        "flat back": _does(Verb.LEVEL),
        "flatten": _does(Verb.LEVEL),
        "denib": _does(Verb.LEVEL, reach="scuff"),
        "scuff": _does(Verb.LEVEL, reach="scuff"),
        "scuff sand": _does(Verb.LEVEL, reach="scuff"),
        "french polish": Meaning(Verb.PAD),
        "polish on": Meaning(Verb.PAD),
        "pad on": Meaning(Verb.PAD),
        "padded": Meaning(Verb.PAD),
        "fad": Meaning(Verb.PAD, _FAD, stage=StageName.SEAL),
        "fad in": Meaning(Verb.PAD, _FAD, stage=StageName.SEAL),
        **dict.fromkeys(
            ("skinning in", "skin in", "washing in", "fadding in", "fadding", "fad up"),
            Meaning(Verb.PAD, _FAD, stage=StageName.SEAL),
        ),
        "allow to dry": Meaning(),
        "stiff": Meaning(Verb.PAD, how=_STIFF, stage=StageName.POLISH),
        "stiffen": Meaning(Verb.PAD, how=_STIFF, stage=StageName.POLISH),
        "stiff up": Meaning(Verb.PAD, how=_STIFF, stage=StageName.POLISH),
        "body up": Meaning(Verb.PAD, stage=StageName.BODY),
        "body": Meaning(Verb.PAD, stage=StageName.BODY),
        "wash coat": Meaning(stage=StageName.SEAL),
        "seal": Meaning(stage=StageName.SEAL),
        "sealer": Meaning(stage=StageName.SEAL),
        "brush on": Meaning(Verb.BRUSH),
        "brushed": Meaning(Verb.BRUSH),
        "wipe on": Meaning(Verb.WIPE),
        "wiped": Meaning(Verb.WIPE),
        "sprayed": Meaning(Verb.SPRAY),
        "fill pores": Meaning(Verb.FILL),
        "fill the pores": Meaning(Verb.FILL),
        "fill grain": Meaning(Verb.FILL),
        "grain fill": Meaning(Verb.FILL),
        "pore fill": Meaning(Verb.FILL),
        "tack": Meaning(Verb.TACK_OFF),
        "dust off": Meaning(Verb.TACK_OFF),
        "wipe clean": Meaning(Verb.TACK_OFF),
        "vacuum": Meaning(Verb.TACK_OFF),
        "clear the pad": Meaning(Verb.SPIRIT_OFF),
        "clear off": Meaning(Verb.SPIRIT_OFF),
        "spiriting off": Meaning(Verb.SPIRIT_OFF),
        "rub down": Meaning(Verb.LEVEL),
        "rub back": Meaning(Verb.LEVEL),
        "cure": Meaning(Verb.REST, stage=StageName.CURE),
        "let cure": Meaning(Verb.REST, stage=StageName.CURE),
        "let rest": Meaning(Verb.REST),
        "glue": Meaning(Verb.GLUE_UP),
        "take off the tape": Meaning(Verb.STRIP_TAPE),
        "wet": Meaning(sets=MappingProxyType({"lubricant": "water"})),
        "with water": Meaning(sets=MappingProxyType({"lubricant": "water"})),
        "with soapy water": Meaning(sets=MappingProxyType({"lubricant": "soapy water"})),
        "soapy water": Meaning(sets=MappingProxyType({"lubricant": "soapy water"})),
        "dry": Meaning(sets=MappingProxyType({"lubricant": "dry"})),
        "flush": Meaning(sets=MappingProxyType({"reach": "flush"})),
        "soak": _is_done("flood it on and let it soak in"),
        "let soak": _is_done("flood it on and let it soak in"),
        "flood": _is_done("flood it on"),
        "lightly": _is_done("lightly"),
        "light": _is_done("lightly"),
        "thinly": _is_done("thinly"),
        "thin": _is_done("thinly"),
        "with the grain": _is_done("with the grain"),
        "across the grain": _is_done("across the grain"),
        "straight strokes": _is_done("in straight strokes"),
        **_OF_THE_TRADE,
        **{word: Meaning(verb) for verb, words in _ALSO for word in words.split(", ")},
        **{where: _is_done(where) for where in _DONE_TO},
        "figure eights": _is_done("in figure eights"),
        "figures of eight": _is_done("in figure eights"),
        "ovals": _is_done("in thin ovals"),
        "circles": _is_done("in circles"),
    }
)

WORDS: Mapping[str, Meaning] = MappingProxyType(
    {**{word.replace(" ", "-"): meaning for word, meaning in _WORDS.items()}, **_WORDS}
)
"""Longer ones are looked for first; several words may be joined by hyphens."""

IDLE = frozenset(
    {"a", "about", "an", "and", "apply", "at", "coat", "cut", "for", "go", "grit", "in", "it"}
    | {"leave", "let", "more", "of", "on", "paper", "the", "wait", "with", "to", "sit", "then"}
    | {"w/", "w", "&", "+", "i", "we", "my", "first", "by", "around", "each", "using", "use"}
    | {"topcoat", "topcoats", "top", "whiskers", "fibres", "fuzz", "straight", "down", "up", "some"}
    | {"=", "least", "atleast", "approx", "approximately", "very", "any", "excess", "only", "just"}
    | {"again", "bare", "sandpaper", "finish", "piece", "project", "entire", "whole", "applied"}
    | {"also", "now", "give", "off", "dust", "out", "another", "about", "time", "everything"}
    | {"pass", "thoroughly", "well", "all", "over", "its", "wood", "pores", "grain", "until"}
)
"""Words that may stand in a line and say nothing on their own."""

NUMBERS: Mapping[str, str] = MappingProxyType(
    {
        "half an": "0.5", "half a": "0.5", "a half": "0.5", "half": "0.5", "an": "1", "a": "1",
        "one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7",
        "eight": "8", "nine": "9", "ten": "10", "eleven": "11", "twelve": "12", "a dozen": "12",
        "dozen": "12", "another": "1", "a couple of": "2",
    }
)  # fmt: skip
"""Numbers in words, as they stand before a unit, coats or rounds."""

TIMES: Mapping[str, str] = MappingProxyType(
    {
        "one a night": "overnight", "one a day": "1 day", "each night": "overnight",
        "till tomorrow": "1 day", "until tomorrow": "1 day", "till tomorrow evening": "1 day",
        "until tomorrow evening": "1 day", "till next evening": "1 day",
        "until next evening": "1 day",
        "one per day": "1 day", "daily": "1 day", "every day": "1 day", "a day apart": "1 day",
        "the next day": "1 day", "o/n": "overnight", "one per evening": "overnight",
        "over night": "overnight", "a fortnight": "14 days", "fortnight": "14 days",
        **{
            f"{till} {then}": time
            for till in ("till", "until", "'til")
            for then, time in (
                ("morning", "overnight"), ("the morning", "overnight"),
                ("next morning", "overnight"), ("the next morning", "overnight"),
                ("next day", "1 day"), ("the next day", "1 day"),
            )
        },
    }
)  # fmt: skip
"""Times of day as a wait: an evening's work is followed by the next one's (common practice)."""

_BETWEEN = (
    "write a time with it, such as 20 min between; for paper between the coats write '4 rounds:' "
    "and set in below it the coat and the paper"
)

HINTS: Mapping[str, str] = MappingProxyType(
    {
        **dict.fromkeys(
            ("repeat", "above", "same"),
            "write '3 rounds:' and set in below it the lines that are done over",
        ),
        "next": "write the wait on the line before, or 'rest 1 day, then' before this step",
        "thinned": "say how far: thinned by half, 1:1, 20 %, or to 1 lb",
        "strip": "write 'wash' or 'scrape' for taking an old finish off",
        "polish": "write 'buff' for bringing up the shine, or 'pad' for French polishing",
        "before": "put the line where it belongs, before the coats that it speaks of",
        "after": "write a time with it, such as after 3 days; or put the line where it belongs",
        **dict.fromkeys(
            ("if", "unless", "optional", "maybe", "perhaps"),
            "a schedule does a step or it does not: leave the word out, or the line",
        ),
        **dict.fromkeys(
            ("no", "not", "never", "without", "except", "skip", "don't"),
            'write what is done; how it is not done goes in quotes, such as how "never wet"',
        ),
        **dict.fromkeys(("instead", "but"), "write the line as it is to be done"),
        **dict.fromkeys(("between", "apart"), _BETWEEN),
        **dict.fromkeys(("coats", "coat", "passes"), "write a number before it, such as 4 coats"),
        **dict.fromkeys(
            ("rounds", "sessions", "evenings", "nights"),
            "begin the line with them, such as 3 rounds: 4 coats 2 lb, overnight",
        ),
    }
)
"""What to write for a word that stands where it cannot be read."""

SHARES: Mapping[str, float] = MappingProxyType(
    {"half": 0.5, "a half": 0.5, "a third": 1 / 3, "a quarter": 0.25}
)
"""By how much something is thinned."""

EARLIEST_SHARE = 2 / 3
"""A single time is the likely one; the earliest is this share of it (our assumption)."""

NTH: Mapping[str, bool] = MappingProxyType(
    {
        **dict.fromkeys(("1st", "2nd", "3rd", "4th", "first", "second", "third"), False),
        **dict.fromkeys(("fourth", "fifth", "next", "final"), False),
        "last": True,
    }
)
"""Which coat it is, and whether it may be one of those before: it is one coat in any case."""

ABBREVIATIONS: Mapping[str, str] = MappingProxyType(
    {"ws": "wet sand", "ds": "dry sand", "s": "sand", "l": "level"}
)
"""Letters before a grade, and what they are short for."""
