"""The format of a step: a verb, how, what it needs, and the wait that follows."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from finishsched.documents.codec import Codec, JsonSchema, Leaf, ListOf, Reading
from finishsched.documents.leaves import (
    ID,
    LINE,
    PROSE,
    exact_text,
    quantity,
    quantity_schema,
    read_quantity,
    whole,
    word,
)
from finishsched.documents.nodes import Fields, Items, Node, Text
from finishsched.documents.records import Check, ChosenKey, Draft, Key, Record
from finishsched.model.film import Reach
from finishsched.model.grades import grade_of
from finishsched.model.lubricants import LUBRICANT_WORDS
from finishsched.model.schedule import HandsOn, Spread, StepPlan, Verb, Wait, Waits
from finishsched.units import (
    CUT,
    DURATION,
    PACE,
    SHARE,
    SPREAD,
    SPREAD_MASS,
    ForeignUnitError,
    Measure,
)

"""What a step may be lubricated with that is no product."""

_FIXED_WORK = Measure("time", "min", ("5 min", "1 h"), maximum=10000.0)
_WAITING = quantity(DURATION, "week", "day", "h", "min", "s")


def _hands_on(text: str) -> HandsOn:
    fixed_min = per_m2_min = 0.0
    for part in text.split("+"):
        try:
            fixed_min += read_quantity(part.strip(), _FIXED_WORK)
        except ForeignUnitError:
            per_m2_min += read_quantity(part.strip(), PACE)
    return HandsOn(fixed_min, per_m2_min)


def _hands_on_text(work: HandsOn) -> str:
    parts = []
    if work.fixed_min or not work.per_m2_min:
        parts.append(exact_text(work.fixed_min, _FIXED_WORK, ("min",)))
    if work.per_m2_min:
        parts.append(exact_text(work.per_m2_min, PACE, ("min/m2",)))
    return " + ".join(parts)


def _spread(text: str) -> Spread:
    try:
        return Spread(ml_per_m2=read_quantity(text, SPREAD))
    except ForeignUnitError:
        return Spread(g_per_m2=read_quantity(text, SPREAD_MASS))


def _spread_text(spread: Spread) -> str:
    if spread.ml_per_m2 is not None:
        return exact_text(spread.ml_per_m2, SPREAD, ("ml/m2", "floz/ft2"))
    return exact_text(spread.g_per_m2 or 0.0, SPREAD_MASS, ("g/m2", "oz/sqft"))


def _lubricant(text: str) -> str:
    return text if text in LUBRICANT_WORDS else ID.from_text(text)


def _grade(text: str) -> str:
    """Return a grade by its name; a schedule goes from shop to shop, so no bare number will do."""
    return grade_of(text, None).name


HANDS_ON = Leaf(
    "hands-on time",
    _hands_on,
    _hands_on_text,
    quantity_schema(_FIXED_WORK, PACE) | {"examples": ["5 min + 40 min/m2", "5 min"]},
    "5 min + 40 min/m2",
)
AMOUNT = Leaf(
    "an amount for an area",
    _spread,
    _spread_text,
    quantity_schema(SPREAD, SPREAD_MASS),
    "15 ml/m2",
)
GRADE = Leaf(
    "a grade",
    _grade,
    str,
    # Which grades there are is for the reader to say; an editor need only catch the bare number.
    {
        "type": "string",
        "pattern": "[A-Za-z]|^0{1,4}$",
        "examples": ["P400", "CAMI 320", "0000 wool"],
    },
    "P400",
)
REACH = word("a reach", Reach)
"""How far a levelling goes: scuff, level or flush."""
LUBRICANT = Leaf(
    "a lubricant",
    _lubricant,
    str,
    {"anyOf": [{"enum": list(LUBRICANT_WORDS)}, ID.described]},
    "water",
)


def _in_order(draft: Draft) -> None:
    """Check ``earliest <= likely <= latest`` and ``likely <= next_by``."""
    for low, high in (("earliest", "likely"), ("likely", "latest"), ("likely", "next_by")):
        low_s, high_s = draft.values.get(f"{low}_s"), draft.values.get(f"{high}_s")
        if low_s is not None and high_s is not None and low_s > high_s:
            draft.fault(
                f"{high!r} is sooner than {low!r}", f"make it the same as {low!r} or more", at=high
            )


WAIT = Record(
    Wait,
    "a wait",
    (
        Key("earliest", _WAITING, "the soonest that it may be ready", "earliest_s", required=True),
        Key("likely", _WAITING, "when it is ready as a rule", "likely_s", required=True),
        Key("latest", _WAITING, "later than this something is wrong", "latest_s"),
        Key("next_by", _WAITING, "when the window for the next step closes", "next_by_s"),
    ),
    (_in_order,),
    on_one_line=True,
)
WAITS = Record(
    Waits,
    "waits for several coats",
    (
        Key("first", WAIT, "after the first coat"),
        Key("between", WAIT, "after the coats between"),
        Key("after", WAIT, "after the last coat", required=True),
    ),
)


@dataclass(frozen=True, slots=True)
class _WaitsOrOne:
    """``none``, one wait, or first / between / after."""

    def read(self, node: Node, reading: Reading) -> Waits | None:
        if isinstance(node, Text):
            if node.value == "none":
                return None
            remedy = "write none, or {earliest: 1 h, likely: 2 h}"
            raise reading.refuse(node.place, "a wait is a range of times", remedy)
        if isinstance(node, Fields) and any(node.get(key) for key in WAITS.names):
            return WAITS.read(node, reading)
        return Waits(after=WAIT.read(node, reading))

    def write(self, value: Waits | None) -> Node:
        if value is None:
            return Text("none")
        if value.first is None and value.between is None:
            return WAIT.write(value.after)
        return WAITS.write(value)

    def schema(self, shared: dict[str, JsonSchema]) -> JsonSchema:
        return {"anyOf": [{"const": "none"}, WAIT.schema(shared), WAITS.schema(shared)]}


def _a_wait_has_a_dry_check(draft: Draft) -> None:
    wait = draft.node("wait")
    if wait is not None and not (isinstance(wait, Text) and wait.value == "none"):
        draft.missing("dry_check", "the test that ends the wait")


def _needs(key: str, needed: str, why: str) -> Check:
    def check(draft: Draft) -> None:
        if key in draft.written and needed not in draft.written:
            draft.missing(needed, why)

    return check


def _thins_down(draft: Draft) -> None:
    cuts, last = draft.values.get("cut_g_per_l"), draft.values.get("thin_to_g_per_l")
    if cuts and last is not None and last > min(cuts):
        draft.fault("'thin_to' is stronger than 'cut'", "write a thinner cut", at="thin_to")
    coats = draft.values.get("coats") if "coats" in draft.written else (1,)
    if "thin_to" in draft.written and coats and max(coats) == 1:
        draft.fault(
            "'thin_to' steps down over coats, and there is one", "write more coats", at="thin_to"
        )


_PER_TURN = ("cut", "thinned", "grade", "reach")


def _one_for_each_coat(draft: Draft) -> None:
    """Check a step outside rounds: lists are one for each coat, and coats one number."""
    coats = draft.node("coats")
    if isinstance(coats, Items) and len(coats.items) > 1:
        draft.fault("'coats' is a list outside rounds", "write one number", at="coats")
        return
    if "coats" in draft.written and "coats" not in draft.values:
        return
    count = draft.values.get("coats", (1,))[0]
    _check_lengths(draft.fields, _PER_TURN, count, "coat", draft.reading)
    if isinstance(draft.node("cut"), Items) and "thin_to" in draft.written and count > 1:
        draft.fault(
            "'thin_to' and a cut for each coat say two things", "keep one of them", at="thin_to"
        )


def one_for_each_round(draft: Draft) -> None:
    """Check the steps in rounds: lists are one for each round."""
    steps = draft.node("steps")
    rounds = draft.values.get("rounds")
    if not isinstance(steps, Items) or rounds is None:
        return
    for step in steps.items:
        if isinstance(step, Fields):
            _check_lengths(step, (*_PER_TURN, "coats"), rounds, "round", draft.reading)


def _check_lengths(
    step: Fields, keys: tuple[str, ...], count: int, turn: str, reading: Reading
) -> None:
    for key in keys:
        node = step.get(key)
        if isinstance(node, Items) and len(node.items) not in (0, 1, count):
            some = f"1 {turn}" if count == 1 else f"{count} {turn}s"
            reading.note(
                node.place,
                f"{key!r} has {len(node.items)} values for {some}",
                f"write one value, or one for each {turn}",
            )


def _one_or_each(codec: Codec[Any], noun: str) -> ListOf[Any]:
    return ListOf(codec, noun, or_one=True, on_one_line=True)


_CHECKS = (
    _a_wait_has_a_dry_check,
    _needs("thin_to", "cut", "the cut of the first coat"),
    _needs("cut", "product", "the id of what has the cut"),
    _needs("thinned", "product", "the id of what is thinned"),
    _thins_down,
)

STEP = Record(
    StepPlan,
    "a step",
    (
        ChosenKey(Verb, "verb", LINE, "how", "a verb", "how it is done, on one line"),
        Key("mark", ID, "a name of its own within the stage", "id", formerly="id"),
        Key("product", ID, "the id of what is applied"),
        Key(
            "cut",
            _one_or_each(quantity(CUT, "lb", "g/L", "lb/impgal"), "cuts"),
            "its cut: one, or one for each round or coat",
            "cut_g_per_l",
        ),
        Key(
            "thin_to",
            quantity(CUT, "lb", "g/L", "lb/impgal"),
            "the last coat's cut",
            "thin_to_g_per_l",
        ),
        Key(
            "thinned",
            _one_or_each(quantity(SHARE, "%"), "shares"),
            "share of thinner by volume: one, or one for each round or coat",
            "thinned_percent",
        ),
        Key("lubricant", LUBRICANT, "dry, water, soapy water or a product's id"),
        Key("grade", _one_or_each(GRADE, "grades"), "one, or one for each round or coat"),
        Key(
            "reach",
            _one_or_each(REACH, "reaches"),
            "how far a levelling goes: one, or one for each round or coat",
        ),
        Key("tool", LINE, "what is in the hand", formerly="with"),
        Key(
            "coats",
            _one_or_each(whole("a number of coats", 1, 200), "numbers of coats"),
            "how many; in rounds also one for each round",
        ),
        Key("amount", AMOUNT, "wet, for each coat", "spread"),
        Key("hands_on", HANDS_ON, "a fixed part and a part that grows with the area"),
        Key(
            "wait", _WaitsOrOne(), "none, one range of times, or first, between and after", "waits"
        ),
        Key("dry_check", LINE, "the test that ends the wait"),
        Key("cautions", ListOf(PROSE, "cautions"), "cautions of its own"),
    ),
    (*_CHECKS, _one_for_each_coat),
)
"""A step on its own."""

STEP_IN_ROUNDS = replace(STEP, checks=_CHECKS)
"""A step in a group of rounds, which checks what there is for each round."""
