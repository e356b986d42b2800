"""Classic mistakes of the trade and sound schedules, in a shorthand that is read aloud in a breath.

``brush varnish 60ml @24h; level P320; tack`` is a brushed coat that rests a day, a levelling, and a
wiping off. ``@`` is the least wait, ``~`` the lubricant, ``x`` the coats, and what stands in
quotes is how it is done, and in a second pair of them a caution. ``over varnish;`` at its head is
an old finish that stays.

They were written from the advice of handbooks, makers' data sheets and common practice: R. Bitmead,
French Polishing and Enamelling, 4th ed., Crosby Lockwood, 1910; W. Noyes, Handwork in Wood, Manual
Arts Press, 1910; B. Flexner, columns in Popular Woodworking, 2000 to 2016; Wood Handbook, USDA
Forest Products Laboratory, 2010; and what every finisher has done once.
"""

from __future__ import annotations

import re
import shlex
from dataclasses import replace
from pathlib import Path

from made_up import MADE_UP as MADE_UP  # noqa: PLC0414  # also asked for here

from finishsched.model.film import Reach
from finishsched.model.job import Face, Inlay, Piece
from finishsched.model.product import ProductKind
from finishsched.model.schedule import Schedule, Spread, Stage, StageName, StepPlan, Wait, Waits
from finishsched.model.shop import Air, Shop
from finishsched.model.verbs import Verb

HOUR_S = {"min": 60.0, "h": 3600.0, "d": 86400.0, "w": 604800.0}

SHORT = {
    "shellac": "shellac-dewaxed-blonde",
    "waxy": "shellac-waxy-orange",
    "varnish": "oil-varnish",
    "wiping": "wiping-varnish",
    "lacquer": "nitrocellulose-lacquer",
    "waterborne": "waterborne-clear",
    "linseed": "boiled-linseed-oil",
    "raw": "raw-linseed-oil",
    "tung": "tung-oil",
    "paste": "oil-paste-filler",
    "waterfill": "water-based-filler",
    "epoxy": "two-part-epoxy",
    "waxpolish": "paste-wax",
    "spirits": "mineral-spirits",
    "alcohol": "denatured-alcohol",
    "thinner": "lacquer-thinner",
    "mineral": "mineral-oil",
    "hide": "hot-hide-glue",
    "pva": "pva-glue",
}
BETWEEN_STEPS = re.compile(r';(?=(?:[^"]*"[^"]*")*[^"]*$)')
"""A semicolon that stands in no quotes."""
VERBS = {verb.value.replace(" ", "-"): verb for verb in Verb} | {"tack": Verb.TACK_OFF}


def schedule(text: str, look: str = "", shipped=()) -> Schedule:
    """Return the schedule that the shorthand says."""
    products = {**MADE_UP, **dict.fromkeys(shipped)}
    parts = [part.strip() for part in BETWEEN_STEPS.split(text)]
    over = ProductKind(parts.pop(0).removeprefix("over ")) if parts[0].startswith("over ") else None
    plans = [_step(at, one, products) for at, one in enumerate(parts)]
    return Schedule("mine", "Mine", _stages(plans), look=look, source="made up", over=over)


def piece(species: str, sheen: str = "", veneer: float | None = None) -> Piece:
    """Return a piece of one face."""
    return Piece(
        "lid",
        "Lid",
        "mine",
        (Face("top", stated_area_m2=0.1), Face("under", stated_area_m2=0.1)),
        species=species,
        sheen=sheen or None,
        veneer_mm=veneer,
    )


def _stages(plans):
    coats = [at for at, plan in enumerate(plans) if plan.verb.lays_coats and plan.product]
    first = coats[0] if coats else len(plans)
    last = coats[-1] if coats else len(plans)
    thin = [at for at in coats if (plans[at].cut_g_per_l or (999.0,))[0] <= 180.0]
    seal = first + 1 if len(coats) > 1 and thin[:1] == [first] else first
    fills = [at for at, plan in enumerate(plans) if plan.verb is Verb.FILL and at >= seal]
    body = fills[0] if fills else seal
    parts = (
        (StageName.PREPARE, plans[:first]),
        (StageName.SEAL, plans[first:body]),
        (StageName.BODY, plans[body : last + 1]),
        (StageName.CURE, plans[last + 1 :]),
    )
    return tuple(Stage(name, tuple(steps)) for name, steps in parts if steps)


def _step(at: int, text: str, products) -> StepPlan:
    verb_word, *words = shlex.split(text)
    quoted = text.split('"')[1::2]
    how = quoted[0] if quoted else "so"
    given: dict[str, object] = {"lubricant": None, "cautions": tuple(quoted[1:])}
    if verb_word == "scuff":
        verb_word, given["reach"] = "level", (Reach.SCUFF,)
    if "flush" in words:
        words.remove("flush")
        given["reach"] = (Reach.FLUSH,)
    if verb_word in ("spray", "tone") and "unsaid" not in words:
        given["cautions"] = (*quoted[1:], "In the booth, fan running, no sparks within 6 m.")
    for word in words:
        if word not in quoted:
            given.update(_said(word, products))
    return StepPlan(f"s{at}", VERBS[verb_word], how, **given)


def _said(word: str, products) -> dict[str, object]:
    """Return what one word says of a step."""
    name = SHORT.get(word, word)
    if name in products:
        return {"product": name}
    if word.startswith("@"):
        return {"waits": _waits(word), "dry_check": "dry"}
    if word.startswith("~"):
        return {"lubricant": SHORT.get(word[1:], word[1:].replace("soapy", "soapy water"))}
    for pattern, key, read in WORDS:
        found = re.fullmatch(pattern, word)
        if found:
            return {key: read(float(found[1]))}
    return {} if word == "unsaid" else {"grade": (word.replace("_", " "),)}


WORDS = (
    (r"([\d.]+)lb", "cut_g_per_l", lambda value: (value * 119.826427,)),
    (r"(\d+)ml", "spread", lambda value: Spread(ml_per_m2=value)),
    (r"x(\d+)", "coats", lambda value: (int(value),)),
    (r"(\d+)%", "thinned_percent", lambda value: (value,)),
)


def _waits(word: str) -> Waits:
    between, _, after = word[1:].rpartition("/")
    waits = {"after": _wait(after)}
    if between:
        waits["between"] = _wait(between)
    return Waits(**waits)


def _wait(text: str) -> Wait:
    number, unit = re.fullmatch(r"([\d.]+)(\w+)", text).groups()
    earliest_s = float(number) * HOUR_S[unit]
    return Wait(earliest_s, earliest_s * 1.5)


PREP = "sand P120; sand P150; sand P180; sand P220; tack"
CURE = "rest @3w"
LAYERS = {
    "too-soon-over", "film-not-scuffed", "two-part-over-single", "oil-over-film", "chemical-left",
    "over-residue", "dye-lifted", "glue-in-the-way", "over-waxy-shellac", "coat-over-wax",
    "alcohol-lifts", "lacquer-over-oil", "stain-over-seal", "filler-over-seal", "recoat-too-soon",
    "two-part-over-green", "film-not-fit",
}  # fmt: skip


def mistakes() -> list[tuple[str, str, str, set[str]]]:
    """Return what, on which wood, how, and the codes by which ``check`` may tell it."""
    rows = _rows("classic_mistakes.txt")
    return [(what, wood, _long(how), _codes(codes)) for what, wood, how, codes in rows]


def sound() -> list[tuple[str, str]]:
    """Return on which wood, and a schedule that a handbook would pass."""
    return [(wood, _long(how)) for wood, how in _rows("sound_schedules.txt")]


def on_what(text: str) -> Piece:
    """Return a piece as a row says it: ``walnut; veneer 0.6; brass; gloss; for a bar``."""
    wood, *rest = [part.strip() for part in text.split(";")]
    rest = [part for part in rest if not part.startswith("for ")]
    looks = [part for part in rest if part in ("gloss", "satin", "high gloss")]
    veneers = [float(part.split()[1]) for part in rest if part.startswith("veneer")]
    let_in = [part for part in rest if part not in looks and not part.startswith("veneer")]
    made = piece(wood, *looks, veneer=veneers[0] if veneers else None)
    inlays = tuple(Inlay(one, 1.0, in_mm=1.0, area_m2=0.001, width_mm=5.0) for one in let_in)
    return replace(made, inlays=inlays)


def what_for(text: str) -> str:
    """Return what a row says that its schedule is for; empty where it says nothing."""
    said = [part.strip() for part in text.split(";")]
    return " ".join(part for part in said if part.startswith("for "))


def in_air(text: str) -> Shop:
    """Return a shop with the air that a row says: ``12C 60%``."""
    found = re.fullmatch(r"(\d+)C (\d+)%", text)
    return Shop("", usual_air=Air(float(found[1]), float(found[2]))) if found else Shop("")


def mistakes_of(name: str) -> list[tuple[str, str, str, str, set[str]]]:
    """Return what, on what, in which air, how, and the codes by which it may be told."""
    rows = _rows(f"{name}_mistakes.txt")
    return [(what, on, air, _long(how), _codes(codes)) for what, on, air, how, codes in rows]


def sound_of(name: str) -> list[tuple[str, str, str]]:
    """Return on what, in which air, and how."""
    return [(on, air, _long(how)) for on, air, how in _rows(f"{name}_sound.txt")]


def _rows(name: str) -> list[list[str]]:
    lines = (Path(__file__).parent / name).read_text("utf-8").splitlines()
    return [[cell.strip() for cell in line.split("|")] for line in lines if line[0] != "#"]


def _long(how: str) -> str:
    return how.replace("prep;", f"{PREP};").replace("; cure", f"; {CURE}")


def _codes(text: str) -> set[str]:
    named = set(text.split())
    return named - {"layers"} | (LAYERS if "layers" in named else set())
