"""The rule of what is in the hand, and how it is used, where a step's words speak against it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from finishsched.checking.cases import Move, ScheduleCase
from finishsched.checking.layers.matter import is_a, matter_of
from finishsched.checking.rule import Example, Found, Rule, Severity
from finishsched.model.how import tells
from finishsched.model.verbs import Verb


class Unfit(NamedTuple):
    """One way of doing it that a product does not bear, as the words of a step say it."""

    words: str
    """What is looked for in the tool and in how it is done, joined by commas."""
    products: str
    """Matters, or their beginnings, as the table of layers names them, joined by commas."""
    why: str
    instead: str
    thinned: bool = False
    """True where the words name what it is thinned with."""


UNFIT = (
    Unfit(
        "natural bristle, hog bristle, hog hair, hog brush, pig bristle, boar bristle, "
        "china bristle, black bristle, pure bristle, bristle brush, badger, ox hair, "
        "natural hair, animal hair",
        "waterborne, two-part.waterborne, dye.water, filler.water",
        "natural bristle drinks water, goes limp and splays: streaks, and hairs in the film",
        "a synthetic brush",
    ),
    Unfit(
        "foam brush, foam roller, foam pad, foam",
        "shellac, spirit, lacquer, two-part.lacquer",
        "alcohol and thinner dissolve foam: it swells, sheds and blows bubbles",
        "a brush of hair, a pad or a gun",
    ),
    Unfit(
        "natural bristle, hog bristle, china bristle, bristle brush, hair brush, steel wool, "
        "wire brush, brass brush, metal tray, metal bowl, metal pan, tin can, iron pot, steel bowl",
        "bleach, alkali",
        "lye and bleach eat hair and metal, and the metal stains the wood",
        "a synthetic brush or swab, and plastic or glass",
    ),
    Unfit(
        "shake, shaken, shaking",
        "varnish, waterborne, two-part.varnish, two-part.waterborne",
        "shaking beats air into it: bubbles that dry in the film",
        "stir it slowly from the bottom, and let it stand",
    ),
    Unfit(
        "back and forth, over and over, again and again, back over it, back over wet places, "
        "brush it out until it sets, until it drags, while it is tacky, until it is tacky",
        "shellac, spirit, lacquer, varnish, waterborne",
        "it begins to set while it is worked: it is dragged into ridges, and torn",
        "lay it on, tip it off once, leave it",
    ),
    Unfit(
        "do not wipe, don't wipe, never wipe, no wiping, not wiped, unwiped, without wiping, "
        "leave it on, leave it standing, leave it to dry, left on, left standing, left to"
        " dry, let it dry on",
        "oil, stain.oil, filler.oil",
        "what the wood does not take in skins over on it, stays gummy, and lifts",
        "wipe off all that stands on the face before it grows tacky",
    ),
    Unfit(
        "heat gun, hot air gun, hair dryer, hairdryer, hot air, blow lamp, blowtorch, "
        "radiator, oven, "
        "in the sun, in full sun, fan heater",
        "shellac, spirit, lacquer, varnish, waterborne, two-part, oil, stain",
        "heat skins it over and boils what is below: bubbles, wrinkles, white haze",
        "a warm room and air that moves a little",
    ),
    Unfit(
        "white spirit, mineral spirits, turpentine, turps, naphtha, paraffin, kerosene, water",
        "shellac, spirit, lacquer",
        "it falls out of solution: lumps, haze, a film that never hardens",
        "alcohol for shellac, its own thinner for lacquer",
        thinned=True,
    ),
    Unfit(
        "alcohol, meths, methylated spirit, water, lacquer thinner, acetone",
        "varnish, oil",
        "it does not mix with that, or is thrown out of it: haze, a soft film",
        "white spirit or turpentine",
        thinned=True,
    ),
    Unfit(
        "alcohol, meths, white spirit, mineral spirits, turpentine, turps, lacquer "
        "thinner, acetone",
        "waterborne",
        "it curdles: only water mixes with it, and little of that",
        "water, a tenth at the most",
        thinned=True,
    ),
)
"""Common practice, and for the brushes makers' data sheets."""
_THINNED = r"\b(?:thin|thinned|let down|cut|reduced?)\b[^.;,]{0,20}\bwith\b[^.;,]{0,12}"


@cache
def _pattern(one: Unfit) -> str:
    words = "|".join(re.escape(word) for word in _several(one.words))
    return rf"{_THINNED if one.thinned else ''}\b(?:{words})\b"


def _several(text: str) -> list[str]:
    return [word.strip() for word in text.split(",")]


def _unfit(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        one = next(_said_of(move), None)
        if one is not None:
            yield Found(
                move.verb_path,
                f"'{move.step.title}' with {move.step.product}: {one.why}",
                one.instead,
            )


def _said_of(move: Move) -> Iterator[Unfit]:
    """Give the rows that the words of a step speak for; what lands as mist is not wiped."""
    if move.product is None or not move.verb.does.must_dry or move.verb is Verb.SPIRIT_OFF:
        return
    matter, said = matter_of(move.product), f"{move.step.how}. {move.step.tool}"
    for one in UNFIT:
        fits = any(is_a(matter, each) for each in _several(one.products))
        misted = move.step.by_gun and "wipe" in one.words
        if fits and not misted and tells(said, _pattern(one)):
            yield one


IN_HAND_RULES = (
    Rule(
        "unfit-tool",
        "A tool or a way of working that its product does not bear",
        Severity.ADVICE,
        "Bristle drinks water, foam melts in alcohol, lye eats hair and metal, shaking beats in "
        "air, heat boils a film from below, the wrong thinner curdles it, and oil that is not "
        "wiped off never dries.",
        "use what the product's data sheet names",
        "common practice; makers' data sheets for brushes and thinners",
        Example(
            "- stage: body\n  steps:\n    - brush: full and quick\n"
            "      product: waterborne-clear\n      tool: hog bristle brush\n",
            ("hog bristle brush", "synthetic brush"),
        ),
        on_schedule=_unfit,
    ),
)
