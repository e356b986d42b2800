"""The words of a notebook, a row each: what the trade means by them.

All are common practice, no source, where nothing else is said.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING

from finishsched.model.kinds import SHELLACS
from finishsched.model.product import ProductKind
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

WORDS: Mapping[str, Meaning] = MappingProxyType(
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
        "rub down": Meaning(Verb.RUB_OUT),
        "cure": Meaning(Verb.REST, stage=StageName.CURE),
        "let cure": Meaning(Verb.REST, stage=StageName.CURE),
        "let rest": Meaning(Verb.REST),
        "glue": Meaning(Verb.GLUE_UP),
        "take off the tape": Meaning(Verb.STRIP_TAPE),
        "tape off": Meaning(Verb.STRIP_TAPE),
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
        "figure eights": _is_done("in figure eights"),
        "figures of eight": _is_done("in figure eights"),
        "ovals": _is_done("in thin ovals"),
        "circles": _is_done("in circles"),
    }
)
"""Longer ones are looked for first."""

IDLE = frozenset(
    {"a", "about", "an", "and", "apply", "at", "coat", "cut", "for", "go", "grit", "in", "it"}
    | {"leave", "let", "more", "of", "on", "paper", "the", "wait", "with"}
)
"""Words that may stand in a line and say nothing on their own."""

SHARES: Mapping[str, float] = MappingProxyType(
    {"half": 0.5, "a half": 0.5, "a third": 1 / 3, "a quarter": 0.25}
)
"""By how much something is thinned."""

FAMILIES: Mapping[str, tuple[ProductKind, ...]] = MappingProxyType(
    {
        "shellac": SHELLACS,
        "oil": (ProductKind.OIL,),
        "varnish": (ProductKind.VARNISH,),
        "lacquer": (ProductKind.LACQUER,),
        "waterborne": (ProductKind.WATERBORNE,),
        "filler": (ProductKind.FILLER,),
        "paste wax": (ProductKind.WAX,),
        "hide glue": (ProductKind.GLUE,),
    }
)
"""What a kind of product is called where it does not matter which: the one there is, or asked."""

EARLIEST_SHARE = 2 / 3
"""A single time is the likely one; the earliest is this share of it (our assumption)."""
