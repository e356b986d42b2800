"""How quantities look in a line, as patterns, and how what they find is written plainly."""

from __future__ import annotations

import re

from finishsched.documents.lines.words import NUMBERS, TIMES
from finishsched.model.film import Reach
from finishsched.model.grades import UnknownGradeError, grade_of, held_in_the_hand
from finishsched.units import AREA as AREA_UNITS
from finishsched.units import DURATION, names_of

NUMBER = r"(?:\d+\s+\d+/\d+|\d+/\d+|\d*\.?\d+(?:[eE][+-]?\d+)?(?:\s*[¼-¾⅐-⅞])?|[¼-¾⅐-⅞])"
END = r"(?!\w|/\S)"
TIME_UNIT = rf"(?:{'|'.join(names_of(DURATION))})"
SAID = "|".join(sorted(NUMBERS, key=len, reverse=True))
WORD_NUMBER = rf"(?:(?:{SAID})\b)"
NAMED_TIME = "|".join(sorted(TIMES, key=len, reverse=True))
TIME = (
    rf"(?:overnight\b|(?:{NAMED_TIME})\b|(?:{WORD_NUMBER}\s+|{NUMBER}\s*){TIME_UNIT}{END}\s*"
    rf"(?:{NUMBER}\s*{TIME_UNIT}{END}\s*)*)"
)
AREA = rf"(?:{'|'.join(names_of(AREA_UNITS))}|m²|sq\.?\s*(?:ft|in|cm|m))"
WORK = rf"{NUMBER}\s*{TIME_UNIT}(?:\s*(?:/|per)\s*{AREA})?"
SPREAD = rf"{NUMBER}\s*(?:fl\.?\s*oz\.?|[A-Za-zµ]+)\s*(?:/|per)\s*{AREA}{END}"
CUT = (
    rf"(?:(?:{SAID})(?:\s+|-)pounds?\b|{NUMBER}(?:\s*-?\s*)(?:%\s*w/v|(?:lbs?|pounds?|kg|g|oz|\#)(?:\s*(?:/|per)\s*[A-Za-z]+)?)"
    rf"(?![\w%]|/\S))"
)
SHARE = rf"{NUMBER}\s*(?:%|percent\b)"
HELD = "|".join(
    name.replace("wool", "(?:steel )?wool").replace("grey", "gr[ea]y").replace(" ", r"\s+")
    for name in held_in_the_hand()
)
SIZED = r"(?:film|(?:cushioned\s+)?cloth)\s+\d{1,3}(?:\.\d)?\s*(?:um|µm|microns?)"
"""Film and cloth by their grain, of which any may be had."""
GRADE = rf"(?:p\s?\d{{2,4}}|cami\s*\d{{2,4}}|\d{{2,4}}\s+cami|{HELD}|{SIZED}|\d{{2,4}})\b(?!\.\d)"
"""How a grade looks; which there are is for the one reader to say."""
COUNT = rf"(?:\d+|{WORD_NUMBER})"
REACH = rf"(?:{'|'.join(sorted((reach.value for reach in Reach), key=len, reverse=True))})"
ID = r"[a-z0-9]+(?:-[a-z0-9]+)*"
QUOTED = r'"(?:[^"\\]|\\.)*"'


def list_of(one: str, also: str = "") -> str:
    """Return the pattern of one, or several between strokes."""
    return rf"{one}(?:\s*(?:\s/\s{also})\s*{one})*"


def time_text(text: str) -> str:
    """Return a time with its number in figures, and a time of day as the hours it stands for."""
    plain = " ".join(text.lower().split())
    if plain in TIMES or plain == "overnight":
        return TIMES.get(plain, plain)
    said = re.match(rf"(?:{SAID})\b", text, re.IGNORECASE)
    return text if said is None else NUMBERS[said[0].lower()] + text[said.end() :]


def cut_text(text: str) -> str:
    """Return a cut with the one name of its unit."""
    said = re.match(rf"(?:{SAID})(?=[\s-])", text, re.IGNORECASE)
    if said is not None:
        return f"{NUMBERS[said[0].lower()]} lb"
    plain = " ".join(re.sub(r"(?<=[\d ])-\s*(?=[A-Za-z%])", " ", text).split())
    return re.sub(r"\b(?:lbs|pounds?)\b", "lb", re.sub(r"\s*#", " lb", plain))


def grade_text(text: str) -> str:
    """Return a grade by its name; as it stands where its system is still to be asked, or none."""
    try:
        return grade_of(text, None).name
    except UnknownGradeError:
        return text
