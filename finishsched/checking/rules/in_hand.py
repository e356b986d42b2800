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
    unless: str = ""
    """Words that say it is done rightly all the same, joined by commas."""
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
        "flood, flooded, flooding, generous coat, heavy coat, puddles, all that stands",
        "oil",
        "what the wood does not take in skins over on it, stays gummy, and wrinkles",
        "wipe off all that stands on the face within half an hour, and again as pores bleed",
        unless="wipe, wiped, wipes, wiping, rub, rubbed, buff, buffed, drain, drained",
    ),
    Unfit(
        "thick, thickly, like butter, heavy, generous, plenty",
        "wax",
        "thick wax drags, smears and gathers dust: once its spirits have gone no cloth clears it",
        "thin as breath, buffed when it hazes, ten to thirty minutes",
        unless="thin, thinly, sparing, sparingly",
    ),
    Unfit(
        "along the grain, with the grain",
        "filler.oil, filler.water",
        "a cloth that goes along the pores pulls the filler out of them again",
        "rub it off across the grain, and only the last trace along",
        unless="across, slant, diagonally, squeegee",
    ),
    Unfit(
        "as much hardener, more hardener, extra hardener, less hardener, double the hardener, "
        "more catalyst, extra catalyst, hardener by eye, hardener by feel, without hardener",
        "two-part, filler.epoxy, glue.epoxy, glue.urea",
        "it is a ratio and no catalyst: what finds no partner stays in it, soft, gummy, sweating",
        "weigh it out as its maker says; warmth makes it quicker",
    ),
    Unfit(
        "same pot, same mix, same cup, same batch, yesterday's mix, leftover, left over mix",
        "two-part, filler.epoxy, glue.epoxy",
        "once mixed it sets in the pot: past its pot life it thickens, and does not flow or bond",
        "mix fresh for each coat, no more than its pot life lasts",
    ),
    Unfit(
        "glue side, glue face, under side, underside, inner side, between veneer and core",
        "tape",
        "tape on the glue side stays there: glue does not pass it, and its ridge shows",
        "tape the show face, and damp it off once the glue is hard",
    ),
    Unfit(
        "year old, years old, last year's, years ago, a year ago",
        "shellac",
        "shellac that stood dissolved so long never grows hard: it stays gummy",
        "mix it fresh, and try a drop on glass: hard by the next day or thrown away",
    ),
    Unfit(
        "paper towel, kitchen paper, kitchen roll, terry cloth, towelling, fluffy cloth",
        "shellac, spirit, lacquer, varnish, waterborne",
        "it sheds lint, which the film keeps",
        "old linen or cotton that was washed often",
        unless="lathe, turning, turned, spindle",
    ),
    Unfit(
        "dripping, sopping, soaking wet, running wet",
        "shellac, spirit, alcohol",
        "so wet it dissolves what lies there: the pad sticks, drags and burns through",
        "squeeze it out on paper until it leaves a film that dries behind the hand",
    ),
    Unfit(
        "stop in the middle, stops in the middle, rest the pad on, set the pad down, "
        "hold it still, "
        "straight down onto, lift it straight off, pause on the work",
        "shellac, spirit, alcohol",
        "a pad that stands still sinks in: its print stays, and the film comes off with it",
        "come on and go off in a glide, and never stop on the work",
    ),
    Unfit(
        "straight from the cold, cold from the shed, cold from the garage, fresh from outside, "
        "from the unheated, ice cold",
        "shellac, spirit, lacquer, varnish, waterborne, two-part",
        "a cold piece draws dew and chills the film: it turns white, runs and stays soft",
        "let it stand a night in the room where it is coated",
    ),
    Unfit(
        "green wood, unseasoned, still damp, still wet from, wet wood, damp wood",
        "shellac, spirit, lacquer, varnish, waterborne, two-part, oil",
        "the water in it wants out: the film whitens, blisters or lifts, and joints open",
        "dry it to some 6 to 10 % indoors first",
    ),
    Unfit(
        "pilot light, open flame, naked flame, candle, gas heater, gas ring, gas stove, furnace, "
        "cigarette, smoking, fireplace",
        "shellac, spirit, lacquer, varnish, oil, two-part, wax, thinner, alcohol, stain.oil, "
        "dye.spirit",
        "its vapour catches fire from there, across a room and along the floor",
        "no flame, spark or glow in the room until the smell is gone: data sheet and local codes "
        "come first",
    ),
    Unfit(
        "heat gun, hot air gun, hair dryer, hairdryer, hot air, blow lamp, blowtorch, "
        "radiator, oven, "
        "in the sun, full sun, fan heater, stove, fireside, by the fire, near the fire, "
        "blow torch",
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
def _pattern(words: str, *, thinned: bool = False) -> str:
    each = "|".join(re.escape(word) for word in _several(words))
    return rf"{_THINNED if thinned else ''}\b(?:{each})\b"


def _several(text: str) -> list[str]:
    return [word.strip() for word in text.split(",")]


def _unfit(case: ScheduleCase) -> Iterator[Found]:
    for move in case.moves:
        one = next(_said_of(move), None)
        if one is not None:
            with_what = move.step.product or move.step.tool or "tape"
            yield Found(
                move.verb_path,
                f"'{move.step.title}' with {with_what}: {one.why}",
                one.instead,
            )


def _said_of(move: Move) -> Iterator[Unfit]:
    """Give the rows that the words of a step speak for; what lands as mist is not wiped."""
    tapes = move.verb is Verb.MASK
    wets = move.product is not None and move.verb.does.must_dry
    if not (wets or tapes):
        return
    matter = matter_of(move.product) if move.product is not None else "tape"
    said = f"{move.step.how}. {move.step.tool}"
    for one in UNFIT:
        fits = any(is_a(matter, each) for each in _several(one.products))
        misted = move.step.by_gun and "wipe" in one.words
        excused = bool(one.unless) and tells(said, _pattern(one.unless))
        heard = fits and not misted and not excused
        if heard and tells(said, _pattern(one.words, thinned=one.thinned)):
            yield one


IN_HAND_RULES = (
    Rule(
        "unfit-tool",
        "A tool or a way of working that its product does not bear",
        Severity.ADVICE,
        "Bristle drinks water, foam melts in alcohol, lye eats hair and metal, shaking beats in "
        "air, heat boils a film from below, the wrong thinner curdles it, hardener is no matter of "
        "taste, filler is pulled out along the pores, and oil that is not wiped off never dries.",
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
