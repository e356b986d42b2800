"""A notebook's text in lines: each with its number, its indent and what it says.

``#`` begins a remark, outside of quotes. A line that ends with a comma goes on in the next.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from finishsched.documents.lines.patterns import GRADE
from finishsched.documents.lines.product_words import FAMILIES, OTHER_NAMES
from finishsched.documents.lines.words import NUMBERS, TIMES, WORDS
from finishsched.documents.nodes import Place
from finishsched.model.grades import held_in_the_hand
from finishsched.model.schedule import Verb
from finishsched.model.verbs import ABRADES

_QUOTED = r'"(?:[^"\\\n]|\\.)*"'
_PIECES = re.compile(rf"{_QUOTED}|(?P<remark>(?<!\S)#(?!\d).*)|.")
_THEN = re.compile(rf"{_QUOTED}|(?P<then>[,;]?\s*\bthen\b\s*|\s+(?:[-=]?>|→)\s+)", re.IGNORECASE)
_FIGURE = re.compile(
    rf"\d|{'|'.join(held_in_the_hand())}|\b(?:{'|'.join([*NUMBERS, *TIMES])})\b", re.IGNORECASE
)
"""What paper is used, or how much: a part of a line that has one is whole."""
_PRODUCTS = frozenset({*FAMILIES, *OTHER_NAMES})
_PAPER = re.compile(rf"{GRADE}\s*(?:grit|wet|dry|$|,)", re.IGNORECASE)
_JOINT = re.compile(rf"{_QUOTED}|(?P<joint>\s*[,;]\s*|\s+(?:and|&)\s+)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Line:
    """What one line says, with where each of its characters stood."""

    text: str
    indent: int
    places: tuple[Place, ...]
    """For each character of ``text``."""

    @property
    def number(self) -> int:
        """The line in the notebook, from 1."""
        return self.places[0].line

    def place(self, position: int) -> Place:
        """Return where a character stood; past the end, where the line ends."""
        if position < len(self.places):
            return self.places[position]
        last = self.places[-1]
        return Place(last.line, last.column + 1)

    def before(self, other: Line) -> Line:
        """Return this line with another one behind it."""
        if not self.text or not other.text:
            return self if self.text else other
        places = (*self.places, other.places[0], *other.places)
        return Line(f"{self.text} {other.text}", self.indent, places)

    def part(self, start: int, end: int | None = None) -> Line:
        """Return a part of the line, without the space around it."""
        text = self.text[start:end]
        left = len(text) - len(text.lstrip())
        kept = text.strip()
        begin = start + left
        return Line(kept, self.indent, self.places[begin : begin + len(kept)])


def cut_lines(text: str) -> Iterator[Line]:
    """Give each line that says something."""
    held: Line | None = None
    for number, raw in enumerate(re.split(r"\r\n|\r|\n", text.removeprefix("\ufeff")), start=1):
        said = _without_remark(raw).expandtabs(8) if "\t" in raw else _without_remark(raw)
        words = said.strip()
        if not words:
            continue
        indent = len(said) - len(said.lstrip())
        places = tuple(Place(number, indent + at + 1) for at in range(len(words)))
        line = Line(words, indent, places)
        if held is not None:
            gap = (line.places[0],)
            line = Line(f"{held.text} {words}", held.indent, (*held.places, *gap, *places))
        held = line if words.endswith(",") else None
        if held is None:
            yield line
    if held is not None:
        yield held.part(0, len(held.text) - 1)


def segments(line: Line, *, at_verbs: bool = False) -> Iterator[Line]:
    """Give the parts of a line between the words 'then': each is a step.

    With ``at_verbs`` a comma, or 'and', before another thing that is done parts two as well.
    """
    for part in _between_thens(line):
        yield from _at_verbs(part) if at_verbs else (part,)


def _at_verbs(line: Line) -> Iterator[Line]:
    start, before = 0, _verb_at(line.text, 0)
    for found in _JOINT.finditer(line.text):
        if found["joint"] is None:
            continue
        verb = _verb_at(line.text, found.end()) or _by_paper(line.text, found.end(), before)
        if verb is None:
            continue
        if _parts(line.text[start : found.start()], found["joint"], before, verb):
            yield line.part(start, found.start())
            start = found.end()
        before = verb
    yield line.part(start)


def _by_paper(text: str, position: int, before: Verb | None) -> Verb | None:
    """Return what paper on its own does after something else: pad 4 coats, 800."""
    if (
        before is None
        or (before in ABRADES and before.does.graded)
        or _PAPER.match(text, position) is None
    ):
        return None
    return Verb.SAND


def _parts(said: str, joint: str, before: Verb | None, verb: Verb) -> bool:
    """Tell whether a comma or 'and' between what was said and a verb begins another step."""
    if before is None and verb.lays_coats:
        return False  # the way in which those coats are laid
    if "," in joint or ";" in joint:
        is_whole = bool(_FIGURE.search(said)) or said.strip().lower() in _PRODUCTS
        return is_whole or before not in (None, verb)
    if (before, verb) == (Verb.RUB_OUT, Verb.WAX):
        return False  # wool with wax on it, or the wax afterwards: that is asked
    is_whole = said.strip().lower() in WORDS or bool(_FIGURE.search(said))
    return is_whole and before is not verb and (before is not None or not verb.lays_coats)


def _verb_at(text: str, position: int) -> Verb | None:
    """Return what is done by the longest words of the trade that begin at ``position``."""
    rest = text[position:].lower()
    fitting = [w for w in WORDS if rest.startswith(w) and not re.match(r"[\w-]", rest[len(w) :])]
    longest = max(fitting, key=len, default=None)
    return WORDS[longest].verb if longest is not None else None


def _between_thens(line: Line) -> Iterator[Line]:
    start = 0
    for found in _THEN.finditer(line.text):
        if found["then"] is None:
            continue
        if line.text[start : found.start()].strip():
            yield line.part(start, found.start())
        start = found.end()
    if line.text[start:].strip():
        yield line.part(start)


def _without_remark(raw: str) -> str:
    kept = []
    for piece in _PIECES.finditer(raw):
        if piece["remark"] is not None:
            break
        kept.append(piece[0])
    return "".join(kept)


def quote(text: str) -> str:
    """Return text as it may stand in a line, whatever it holds."""
    inner = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
    return f'"{inner}"'


def unquote(quoted: str) -> str:
    """Return what ``quote`` was given."""
    return re.sub(r"\\(.)", lambda found: "\n" if found[1] == "n" else found[1], quoted[1:-1])
