"""What makers write short or loosely: ``x4``, ``50/50``, ``wipe off after 15 min``, ``ws600``.

None of it is in lines that the tool wrote itself, so it is looked for in notebooks only.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from finishsched.documents.lines.patterns import COUNT, GRADE, NUMBER, TIME, TIME_UNIT, time_text
from finishsched.documents.lines.said import Notes, SaidStep
from finishsched.documents.lines.words import ABBREVIATIONS, HINTS, NTH, NUMBERS, WORDS
from finishsched.documents.nodes import Fields, Items, Node, Place, Text
from finishsched.model.verbs import ABRADES, Verb

Take = Callable[[SaidStep, "re.Match[str]", Place, Notes], None]

_UNITS = rf"(?:{TIME_UNIT}|lbs?|g|kg|ml|l|oz|floz|fl|coats?|rounds?|%|\#)"
_PERCENTS = "|".join(rf"{share}\s*/\s*{100 - share}" for share in range(5, 100, 5))
_SHORTENED = "|".join(ABBREVIATIONS)
_A_PAIR = 2
_NTH = "|".join(NTH)
_SAME = (
    r"(?:the\s+)?same\s+(?:way|again|as\s+(?:the\s+)?(?:before|first|last|above))"
    r"|as\s+(?:before|above)"
)


def _say(step: SaidStep, key: str, node: Node, notes: Notes) -> None:
    known = step.values.get(key)
    if isinstance(known, Text) and isinstance(node, Text) and known.value == node.value:
        return
    if known is not None:
        notes.fault(node.place, f"this says {key!r} again", "keep one of them")
    step.values[key] = node


def _so_many(step: SaidStep, found: re.Match[str], place: Place, notes: Notes) -> None:
    """Take ``x4`` and ``4x`` for four coats."""
    said = (found["before"] or found["behind"]).lower()
    _say(step, "coats", Text(NUMBERS.get(said, said), place), notes)


def _nth(step: SaidStep, found: re.Match[str], place: Place, notes: Notes) -> None:
    """Take ``second coat`` for one coat more, and ``last coat`` for perhaps one of those before."""
    _say(step, "coats", Text("1", place), notes)
    step.of_the_last = NTH[found["nth"].lower()]


def _as_before(step: SaidStep, found: re.Match[str], place: Place, notes: Notes) -> None:  # noqa: ARG001
    """Take all that is not said from the coats before."""
    step.as_before = True


def _ratio(step: SaidStep, found: re.Match[str], place: Place, notes: Notes) -> None:  # noqa: ARG001
    """Take ``1:1`` or ``75/25`` for parts of the finish to parts of its thinner, and say so."""
    finish, thinner = (float(n) for n in re.findall(r"\d+(?:\.\d+)?", found["ratio"]))
    if finish + thinner <= 0:
        return
    step.thin_by = finish / (finish + thinner)
    if finish != thinner:
        notes.assume(step, "thinned", f"{finish:g} parts of the finish to {thinner:g} of thinner")


def _parts(step: SaidStep, found: re.Match[str], place: Place, notes: Notes) -> None:  # noqa: ARG001
    """Take ``1 part varnish, 1 part spirits`` for a ratio, once both parts are said."""
    step.parts.append(float(found["parts"]))
    if len(step.parts) == _A_PAIR:
        step.thin_by = step.parts[0] / sum(step.parts)


def _percent(step: SaidStep, found: re.Match[str], place: Place, notes: Notes) -> None:
    """Take a share with no word to it for a solution's strength, and say so."""
    cut = f"{found['percent']} %w/v"
    _say(step, "cut", Text(cut, place), notes)
    notes.assume(step, "cut", f"{cut}: so many grams for 100 ml of alcohol")


def _thinned(step: SaidStep, found: re.Match[str], place: Place, notes: Notes) -> None:  # noqa: ARG001
    """Take ``10 % thinner`` for thinned by a tenth."""
    step.thin_by = 1 - float(found["thinner"]) / 100


def _even(step: SaidStep, found: re.Match[str], place: Place, notes: Notes) -> None:  # noqa: ARG001
    """Take ``half and half`` for thinned by half."""
    step.thin_by = 0.5


def _rests(step: SaidStep, found: re.Match[str], place: Place, notes: Notes) -> None:  # noqa: ARG001
    """Take ``let the oil cure 3 days`` for a rest."""
    step.verb = step.verb or Verb.REST


def _each_coat(step: SaidStep, found: re.Match[str], place: Place, notes: Notes) -> None:  # noqa: ARG001
    """Ask for rounds where something is done after every coat."""
    notes.fault(place, f"{found[0]!r} is no step by itself", HINTS["between"], "unknown-word")


def _so_many_or_so(step: SaidStep, found: re.Match[str], place: Place, notes: Notes) -> None:
    """Ask for one number of coats."""
    notes.fault(place, f"{found['range']} coats are no number", "write how many you mean to lay")
    step.values["coats"] = Text("1", place)


def _as_how(step: SaidStep, found: re.Match[str], place: Place, notes: Notes) -> None:  # noqa: ARG001
    """Keep the words as how it is done."""
    step.how.append(" ".join(found[0].split()))


def _before_it(step: SaidStep, found: re.Match[str], place: Place, notes: Notes) -> None:
    """Take ``after 3 days`` for a rest before the step."""
    time = time_text(found["time"].strip())
    step.rest_before = Fields([(Text("likely", place), Text(time, place))], place)
    notes.assume(step, "wait", f"a rest of {time} before this")


def _held(step: SaidStep, found: re.Match[str], place: Place, notes: Notes) -> None:  # noqa: ARG001
    """Take the time in clamps, which is the wait where no other is said."""
    step.held = Text(time_text(found["time"].strip()), place)


def _dries(step: SaidStep, found: re.Match[str], place: Place, notes: Notes) -> None:  # noqa: ARG001
    """Take ``dry 12 hours`` for the wait; with paper, ``dry`` is how it is done."""
    if step.verb in ABRADES and "lubricant" not in step.values:
        _say(step, "lubricant", Text("dry", place), notes)


def _series(step: SaidStep, found: re.Match[str], place: Place, notes: Notes) -> None:
    """Take ``120-150-180`` for a grade after the other."""
    grades: list[Node] = [Text(grade, place) for grade in re.findall(r"\d+", found["grades"])]
    _say(step, "grade", Items(grades, place), notes)


def _shortened(step: SaidStep, found: re.Match[str], place: Place, notes: Notes) -> None:
    """Take ``ws`` and the like for the words that they stand for."""
    meaning = WORDS[ABBREVIATIONS[found["short"].lower()]]
    step.verb = meaning.verb
    for key, value in meaning.sets.items():
        _say(step, key, Text(value, place), notes)


def _minutes(step: SaidStep, found: re.Match[str], place: Place, notes: Notes) -> None:
    """Take ``20m`` before ``between`` for minutes."""
    when = "between" if found["when"] else ""
    if when in step.waits:
        notes.fault(place, "this says a wait again", "say 'between' or 'after the last'")
    step.waits[when] = Fields(
        [(Text("likely", place), Text(f"{found['count']} min", place))], place
    )


def _rule(pattern: str, take: Take) -> tuple[re.Pattern[str], Take]:
    return re.compile(pattern, re.IGNORECASE), take


SHORTHAND: tuple[tuple[re.Pattern[str], Take], ...] = (
    _rule(rf"(?:(?P<before>{COUNT})\s*[x×](?![\w×])|[x×]\s*(?P<behind>\d+)\b)", _so_many),
    _rule(rf"(?:the\s+|one\s+|a\s+)?(?P<nth>{_NTH})\s+(?:thin\s+|light\s+|full\s+)?coat\b", _nth),
    _rule(rf"(?:done\s+)?(?:{_SAME})\b", _as_before),
    _rule(rf"(?:thin(?:ned)?\s+(?:down\s+)?|reduced?\s+|cut\s+)?"
          rf"(?P<ratio>{_PERCENTS}|\d+(?:\.\d+)?\s*:\s*\d+(?:\.\d+)?)(?!\s*[\d:/])", _ratio),
    _rule(r"(?P<parts>[1-9]\d?)\s*parts?\b(?:\s+of\b)?", _parts),
    _rule(r"(?:thin(?:ned)?\s+)?(?P<thinner>\d{1,2})\s*%\s+(?=thinner|spirit|mineral|white|water)",
          _thinned),
    _rule(rf"(?P<percent>{NUMBER})\s*%(?!\s*(?:w/v|solution|shellac|polish|cut))", _percent),
    _rule(r"(?:thin(?:ned)?\s+(?:down\s+)?)?(?:half\s+and\s+half|equal\s+parts)\b", _even),
    _rule(rf"(?:wip(?:e|ed|ing)|rub|scrape)\s+(?:it\s+)?(?:(?:off|dry|clean|back)\s+)?"
          rf"(?:(?:the\s+)?(?:excess|surplus)\s+)?"
          rf"(?:(?:after|in|at)\s+(?:about\s+)?{TIME}|{NUMBER}\s*min(?:s|utes?)?\b)", _as_how),
    _rule(rf"after\s+(?:about\s+)?{TIME}\s*,?\s*wipe\s+(?:it\s+)?(?:off|dry)"
          r"(?:\s+(?:any|the|all)?\s*excess)?", _as_how),
    _rule(rf"(?P<time>{TIME})later\b", _before_it),
    _rule(rf"after\s+(?:about\s+)?(?P<time>{TIME})(?:\s*to\s+(?:cure|dry|harden)\b)?", _before_it),
    _rule(r"wip(?:e|ed|ing)\s+(?:it\s+)?(?:off|away)\s+(?:any|the|all(?:\s+the)?)?\s*"
          r"(?:excess|surplus)(?:\s+(?:oil|stain|filler|varnish|wax|glue))?\b", _as_how),
    _rule(rf"(?:allow|let|leave)\s+(?:[a-z]+\s+){{1,3}}?(?:dry|cure|harden|sink|stand)"
          rf"(?=\s+(?:for\s+)?(?:about\s+|at\s+least\s+)?{TIME})", _rests),
    _rule(r"(?:after\s+|between\s+)?each\s+coat\b", _each_coat),
    _rule(r"(?P<range>\d+\s*(?:[-–]|or|to)\s*\d+)\s*(?:more\s+)?(?:coats|layers|passes)\b",
          _so_many_or_so),
    _rule(rf"(?:clamp|cramp|press|caul|weight)(?:ed)?\s+(?:it\s+)?(?:for\s+)?(?P<time>{TIME})",
          _held),
    _rule(rf"dr(?:y|ies|ied|ying)(?:\s+time)?(?:\s+for)?(?=\s+(?:about\s+)?{TIME})", _dries),
    _rule(rf"(?P<grades>\d{{2,4}}(?:\s*[-–/]\s*\d{{2,4}})+)(?!\s*{_UNITS}(?!\w))(?![\w/.])",
          _series),
    _rule(rf"(?P<short>{_SHORTENED})\s?(?={GRADE})", _shortened),
    _rule(r"(?P<count>\d+)\s*(?:m(?=\s+(?:btw|between|apart|each)\b|\s*(?:,|$))|['\u2032](?!\w))"
          r"(?:\s+(?P<when>btw|between|apart|each)\b)?", _minutes),
)  # fmt: skip
"""What is looked for first, in this order."""
