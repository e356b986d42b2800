"""The leaves of every format: what the trade writes as one text."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date
from enum import StrEnum
from functools import lru_cache, partial
from typing import TypeVar

from finishsched import units
from finishsched.documents.codec import BadValueError, JsonSchema, Leaf
from finishsched.documents.wording import did_you_mean, quoted
from finishsched.units import Measure

Word = TypeVar("Word", bound=StrEnum)

_LONGEST_ID = 80
_COUNTED = ("day", "week", "month", "year")


def _one_line(text: str) -> str:
    return " ".join(text.split())


def _prose(text: str) -> str:
    return text.replace("\t", " ").strip()


def _identifier(text: str) -> str:
    if re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", text) and len(text) <= _LONGEST_ID:
        return text
    slug = re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")[:_LONGEST_ID].strip("-")
    remedy = "lower-case letters, digits and hyphens only"
    raise BadValueError(
        f"{quoted(text)} is no id", f"write {slug} ({remedy})" if slug else f"write {remedy}"
    )


LINE = Leaf("one line of text", _one_line, str, {"type": "string", "minLength": 1}, "a few words")
"""Text on one line: line ends and runs of spaces become one space."""

PROSE = Leaf("text", _prose, str, {"type": "string", "minLength": 1}, "a few words")
"""Text of one or more lines."""

ID = Leaf(
    "an id",
    _identifier,
    str,
    {"type": "string", "pattern": "^[a-z0-9]+(-[a-z0-9]+)*$", "maxLength": _LONGEST_ID},
    "tea-box",
)


def one_of(noun: str, words: Iterable[str]) -> Leaf[str]:
    """Return the codec of a text that is one of ``words``."""
    known = tuple(words)
    return Leaf(noun, partial(_known, noun, known), str, {"enum": list(known)}, known[0])


def word(noun: str, words: type[Word]) -> Leaf[Word]:
    """Return the codec of an enumeration, by its values."""
    known = tuple(each.value for each in words)
    return Leaf(
        noun,
        lambda text: words(_known(noun, known, text)),
        lambda value: value.value,
        {"enum": list(known)},
        known[0],
    )


def _known(noun: str, known: tuple[str, ...], text: str) -> str:
    if text in known:
        return text
    raise BadValueError(f"{quoted(text)} is not {noun}", did_you_mean(text, known))


def matching(noun: str, pattern: str, remedy: str, example: str) -> Leaf[str]:
    """Return the codec of a text that has to match ``pattern`` from end to end."""

    def from_text(text: str) -> str:
        if re.fullmatch(pattern, text):
            return text
        raise BadValueError(f"{quoted(text)} is not {noun}", remedy)

    return Leaf(noun, from_text, str, {"type": "string", "pattern": f"^({pattern})$"}, example)


def whole(noun: str, low: int, high: int) -> Leaf[int]:
    """Return the codec of a whole number from ``low`` to ``high``."""

    def from_text(text: str) -> int:
        if re.fullmatch(r"[0-9]{1,9}", text) and low <= int(text) <= high:
            return int(text)
        raise BadValueError(
            f"{quoted(text)} is not {noun}", f"write a whole number from {low} to {high}"
        )

    schema: JsonSchema = {
        "type": ["integer", "string"],
        "minimum": low,
        "maximum": high,
        "pattern": "^[0-9]{1,9}$",
    }
    return Leaf(noun, from_text, str, schema, str(low), bare=True)


def _yes_or_no(text: str) -> bool:
    answers = {"yes": True, "true": True, "no": False, "false": False}
    if text.lower() in answers:
        return answers[text.lower()]
    raise BadValueError(f"{quoted(text)} is neither yes nor no", "write yes or no")


YES_NO = Leaf(
    "yes or no",
    _yes_or_no,
    lambda value: "yes" if value else "no",
    {"enum": [True, False, "yes", "no", "true", "false"]},
    "yes",
    bare=True,
)


def _date(text: str) -> date:
    try:
        if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
            return date.fromisoformat(text)
    except ValueError:
        raise BadValueError(
            f"there is no day {quoted(text)}", "check the month and the day"
        ) from None
    raise BadValueError(f"{quoted(text)} is not a date", "write year-month-day, such as 2026-12-18")


DAY = Leaf(
    "a date",
    _date,
    date.isoformat,
    {"type": "string", "format": "date", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"},
    "2026-12-18",
    bare=True,
)


def quantity(measure: Measure, *shown_in: str) -> Leaf[float]:
    """Return the codec of a quantity, kept as the measure keeps it.

    ``shown_in`` are the units to write it in, the preferred ones first.
    """
    return Leaf(
        measure.noun,
        lambda text: read_quantity(text, measure),
        lambda value: exact_text(value, measure, shown_in),
        quantity_schema(measure),
        measure.examples[0],
    )


@lru_cache(maxsize=4096)
def read_quantity(text: str, measure: Measure) -> float:
    """Return what ``units.read`` does, remembered: a schedule says ``2 lb`` many times."""
    return units.read(text, measure)


def exact_text(value: float, measure: Measure, shown_in: Iterable[str] = ()) -> str:
    """Return a text that reads back as exactly ``value``, as pleasant as that allows.

    Whole numbers are best, in the first unit that gives one; then the shortest text; and if none
    of ``shown_in`` reads back to the same float, every digit in the kept unit.
    """
    texts = [_shown(value, measure, unit) for unit in shown_in]
    exact = [text for text in texts if _reads_back(text, value, measure)]
    whole_numbers = (text for text in exact if "." not in text and not text.startswith("0 "))
    shortest = min(exact, key=len, default=f"{value!r} {measure.kept_unit}")
    return next(whole_numbers, shortest)


def _shown(value: float, measure: Measure, unit: str) -> str:
    text = units.show(value, measure, unit, digits=6)
    return text if text.startswith("1 ") or unit not in _COUNTED else f"{text}s"


def _reads_back(text: str, value: float, measure: Measure) -> bool:
    try:
        return read_quantity(text, measure) == value
    except units.UnitFaultError:
        return False


def quantity_schema(*measures: Measure, words: str = "") -> JsonSchema:
    """Return a schema that asks for a number with some unit, and gives examples.

    Which units do is for the reader to say; an editor need only catch the bare number.
    ``words`` are patterns of what else may be written.
    """
    spoken = r"|overnight|none" if units.DURATION in measures else ""
    number_and_unit = r"[+-]?[0-9.¼-¾⅐-⅞].*[A-Za-zµμ°%].*"
    return {
        "type": "string",
        "pattern": f"^\\s*({number_and_unit}{spoken}{words})\\s*$",
        "examples": [example for measure in measures for example in measure.examples],
    }


def unit_of(measure: Measure) -> Leaf[str]:
    """Return the codec of the name of a unit, which must be one for ``measure``."""

    def from_text(text: str) -> str:
        unit = text.strip()
        units.convert(1.0, measure, unit)
        return unit

    schema: JsonSchema = {"type": "string", "examples": list(measure.written_in)}
    return Leaf(f"a unit of {measure.name}", from_text, str, schema, measure.unit)
