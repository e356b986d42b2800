"""From a line to what it says of a step, one word or quantity after the other."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from finishsched.documents.lines.cutting import Line, unquote
from finishsched.documents.lines.loose import LooseWords
from finishsched.documents.lines.names import Names
from finishsched.documents.lines.patterns import (
    COUNT,
    CUT,
    GRADE,
    ID,
    NUMBER,
    QUOTED,
    REACH,
    SHARE,
    SPREAD,
    TIME,
    TIME_UNIT,
    WORK,
    cut_text,
    grade_text,
    list_of,
    time_text,
)
from finishsched.documents.lines.said import Notes, SaidStep
from finishsched.documents.lines.shorthand import SHORTHAND
from finishsched.documents.lines.words import NUMBERS, SHARES, WORDS, Meaning
from finishsched.documents.nodes import Fields, Items, Node, Place, Text
from finishsched.model.verbs import ABRADES, Verb

_WITH = re.compile(r"\b(?:with|using|w/?)(?!\w)[^,;]*$", re.IGNORECASE)
_OF_COATS = {"coats", "cut", "product", "amount"}
_GAP = re.compile(r"(?:[\s,;:()@–-]|(?<!\d)/|\.(?!\d))+")


@dataclass(frozen=True, slots=True)
class _Rule:
    pattern: re.Pattern[str]
    take: Callable[[Clauses, re.Match[str]], None]


class Clauses:
    """Reads one step's part of a line into what it says."""

    def __init__(self, line: Line, names: Names, notes: Notes) -> None:
        self._line = line
        self._names = names
        self._notes = notes
        self._loose = LooseWords(line, names.ids, notes)
        self._second: Fields | None = None
        """A second time that does not say when it is waited."""
        self._usual: set[str] = set()
        """Keys that a verb's own words set: what is said besides goes before it."""
        self.step = SaidStep(line.place(0))

    def read(self) -> SaidStep:
        """Return what the line says; what cannot be read is noted."""
        position, text = 0, self._line.text
        while position < len(text):
            gap = _GAP.match(text, position)
            if gap is not None:
                if gap[0].strip():
                    self._loose.end(self.step)
                position = gap.end()
                continue
            position = self._one(text, position)
        self._loose.end(self.step)
        self._settle()
        return self.step

    def _one(self, text: str, position: int) -> int:
        end = self._by_rule(text, position)
        end = end or self._named(position)
        if end is not None:
            return end
        word = re.compile(r'"|[^\s,;:()"/]+|/').match(text, position)
        assert word is not None  # noqa: S101  # space was passed over before
        self._loose.add(self.step, position, word.end())
        return word.end()

    def _by_rule(self, text: str, position: int) -> int | None:
        if not self._notes.exactly:
            for pattern, shorten in SHORTHAND:
                found = pattern.match(text, position)
                if found is not None:
                    self._loose.end(self.step)
                    shorten(self.step, found, self._line.place(position), self._notes)
                    return found.end()
        for rule in (_OF_PRODUCT, *_RULES) if self._notes.exactly else _RULES:
            found = rule.pattern.match(text, position)
            if found is not None:
                self._loose.end(self.step)
                rule.take(self, found)
                return found.end()
        return None

    def _settle(self) -> None:
        """Put what belongs elsewhere, now that all of the line is read."""
        step = self.step
        if step.thinner is not None and step.verb in ABRADES:
            self._set("lubricant", step.thinner)
            step.thinner = None
        if step.held is not None and step.waits:
            step.how.append(f"held for {step.held.value}")
        elif step.held is not None:
            place = step.held.place
            step.waits[""] = Fields([(Text("likely", place), step.held)], place)
        if self._second is not None:
            self._two_times(self._second)
        step.said_waits = dict(step.waits)

    def _two_times(self, second: Fields) -> None:
        """Take two times at several coats for the one between them and the one after the last."""
        step = self.step
        if step.coats == 1 or step.waits.keys() & {"between", "after"}:
            remedy = "say 'between' or 'after the last'"
            self._notes.fault(second.place, "this says a wait again", remedy)
            return
        step.waits |= {"between": step.waits.pop(""), "after": second}
        self._notes.assume(step, "wait", "the first time is between the coats, the second after")

    def _named(self, position: int) -> int | None:
        """Take a product or a word of the trade, whichever is the longer name."""
        product = self._longest(position, self._names.ids) or ""
        word = self._longest(position, WORDS) or ""
        if not product and not word:
            return None
        if len(word) > len(product) and self._is_tool(WORDS[word], position):
            self._loose.add(self.step, position, position + len(word), known=True)
            return position + len(word)
        self._loose.end(self.step)
        place = self._line.place(position)
        if len(word) >= len(product):
            self._mean(WORDS[word], place)
            return position + len(word)
        node = Text(self._names.ids[product], place)
        if node.value in self._names.wets and self.step.thinner is None:
            self.step.thinner = node
        else:
            self._set("product", node)
        return position + len(product)

    def _longest(self, position: int, known: Mapping[str, object]) -> str | None:
        rest = self._line.text[position:].lower()
        fitting = (n for n in known if rest.startswith(n) and not re.match(r"\w", rest[len(n) :]))
        return max(fitting, key=len, default=None)

    def _mean(self, meaning: Meaning, place: Place) -> None:
        step = self.step
        if meaning.verb is Verb.REST and step.verb is None and step.values.keys() & _OF_COATS:
            return  # a coat that is left to dry
        if meaning.verb is not None and step.verb is not None and step.verb is not meaning.verb:
            self._notes.fault(
                place,
                f"{step.verb.value!r} and {meaning.verb.value!r} are two steps",
                "write 'then' between them, or a line for each",
            )
        step.verb = meaning.verb or step.verb
        step.stage = meaning.stage or step.stage
        for key, value in meaning.sets.items():
            if meaning.verb is not None and key in step.values:
                continue  # said already, and nearer than what the verb means by itself
            self._set(key, Text(value, place))
            if meaning.verb is not None:
                self._usual.add(key)
        if meaning.how:
            step.how.append(meaning.how)

    def _set(self, key: str, node: Node) -> None:
        if key in self._usual:
            self._usual.discard(key)
        elif _text_of(self.step.values.get(key)) == _text_of(node):
            pass  # the same again
        elif key in self.step.values:
            remedy = "write them with commas between" if key == "grade" else "keep one of them"
            self._notes.fault(node.place, f"this says {key!r} again", remedy)
        self.step.values[key] = node

    def _is_tool(self, meaning: Meaning, position: int) -> bool:
        """Tell whether a word of what is done names what is in the hand: vacuum with a brush."""
        said = self.step.verb
        if meaning.verb is None or said is meaning.verb or self._notes.exactly:
            return False
        if said is None and meaning.verb is not Verb.TACK_OFF:
            return False  # with a brush: the way in which it is laid on
        return _WITH.search(self._line.text[:position]) is not None

    # What each rule takes.

    def _place(self, found: re.Match[str], group: str | int = 0) -> Place:
        return self._line.place(found.start(group))

    def _texts(self, found: re.Match[str], group: str, pattern: str) -> Node:
        """Return one text, or a list of those between the strokes."""
        start = found.start(group)
        texts: list[Node] = [
            Text(" ".join(one[0].split()), self._line.place(start + one.start()))
            for one in re.finditer(pattern, found[group], re.IGNORECASE)
        ]
        return texts[0] if len(texts) == 1 else Items(texts, self._place(found, group))

    def quoted(self, found: re.Match[str]) -> None:
        """Take words in quotes: how, with what, the dry check or a caution."""
        text = Text(unquote(found["quoted"]), self._place(found, "quoted"))
        label = (found["label"] or "how").lower()
        if label == "how":
            self.step.how.append(text.value)
        elif label in ("caution", "mind"):
            self.step.cautions.append(text)
        else:
            self._set("tool" if label == "with" else "dry_check", text)

    def named(self, found: re.Match[str]) -> None:
        """Take a name of the step's own, or a product or a lubricant by its id."""
        key = {"called": "mark", "of": "product", "lubricant": "lubricant"}[found["label"].lower()]
        self._set(key, Text(found["id"], self._place(found, "id")))

    def coats(self, found: re.Match[str]) -> None:
        """Take a number of coats, or one for each round."""
        node = self._texts(found, "n", COUNT)
        for text in node.items if isinstance(node, Items) else [node]:
            assert isinstance(text, Text)  # noqa: S101  # made so just above
            text.value = NUMBERS.get(text.value.lower(), text.value)
        self._set("coats", node)
        if found["sittings"]:
            self._notes.assume(self.step, "coats", f"each of the {found['sittings']} is a coat")
        self.step.of_the_last = found["last"] is not None
        manner = (found["manner"] or "").lower().split()
        told = [word for word in manner if word in _TOLD_MANNER]
        if told:
            self.step.how.append(f"{' '.join(told)} coats")

    def times(self, found: re.Match[str]) -> None:
        """Take once or twice as so many coats, or passes."""
        count = {"once": "1", "twice": "2", "thrice": "3"}[found["n"].lower()]
        self._set("coats", Text(count, self._place(found)))

    def remark(self, found: re.Match[str]) -> None:
        """Take what is only said of the steps that follow, which have lines of their own."""

    def percent(self, found: re.Match[str]) -> None:
        """Take a solution in per cent for grams in 100 ml, and say so."""
        cut = f"{found['percent']} %w/v"
        self._set("cut", Text(cut, self._place(found)))
        self._notes.assume(self.step, "cut", f"{cut}: so many grams for 100 ml of alcohol")

    def thin_to(self, found: re.Match[str]) -> None:
        """Take the cut that coats step down to."""
        self._set("thin_to", Text(cut_text(found["cut"]), self._place(found, "cut")))

    def thinned(self, found: re.Match[str]) -> None:
        """Take shares of thinner."""
        self._set("thinned", self._texts(found, "share", SHARE))

    def thin_by(self, found: re.Match[str]) -> None:
        """Take how much less of a cut than before."""
        word = found["by"].lower()
        share = SHARES.get(word)
        if share is None:
            share = float(re.match(r"[\d.]+", word)[0]) / 100  # type: ignore[index]
        self.step.thin_by = 1 - share

    def work(self, found: re.Match[str]) -> None:
        """Take the hands-on time."""
        self._set("hands_on", Text(found["work"].strip(), self._place(found, "work")))

    def wait(self, found: re.Match[str]) -> None:
        """Take one time or a range, with when it is waited."""
        times = [found[name].strip() for name in ("low", "mid", "high") if found[name]]
        place = self._place(found, "low")
        if len(times) > 1 and re.fullmatch(NUMBER, times[0]):
            times[0] += re.sub(rf"^\s*{NUMBER}", "", times[1])
        names = ("likely",) if len(times) == 1 else ("earliest", "likely", "latest")
        entries: list[tuple[Text, Node]] = [
            (Text(name, place), Text(time_text(time), place))
            for name, time in zip(names, times, strict=False)
        ]
        if found["next"]:
            entries.append((Text("next_by", place), Text(found["next"].strip(), place)))
        when = (found["when"] or "").lower()
        in_rounds = any(word in when for word in ("rounds", "sessions", "evenings"))
        spoken_between = any(word in when for word in ("between", "apart", "btw", "each"))
        which = "first" if "first" in when else ""
        which = "between" if spoken_between and not in_rounds else which
        which = "after" if not which and when else which
        if which in self.step.waits:
            if which or self._second is not None or self._notes.exactly:
                self._notes.fault(
                    place, "this says a wait again", "say 'between' or 'after the last'"
                )
            self._second = Fields(entries, place)
            return
        self.step.waits[which] = Fields(entries, place)

    def no_wait(self, found: re.Match[str]) -> None:  # noqa: ARG002
        """Take it that there is no wait."""
        self.step.no_wait = True

    def spread(self, found: re.Match[str]) -> None:
        """Take how much is laid on."""
        self._set("amount", Text(found[0].strip(), self._place(found)))

    def cut(self, found: re.Match[str]) -> None:
        """Take one cut, or several."""
        node = self._texts(found, "cut", CUT)
        for text in node.items if isinstance(node, Items) else [node]:
            assert isinstance(text, Text)  # noqa: S101  # made so just above
            text.value = cut_text(text.value)
        self._set("cut", node)

    def grades(self, found: re.Match[str]) -> None:
        """Take one grade, or several."""
        node = self._texts(found, "grade", GRADE)
        for text in node.items if isinstance(node, Items) else [node]:
            assert isinstance(text, Text)  # noqa: S101
            text.value = grade_text(text.value)
        self._set("grade", node)

    def reaches(self, found: re.Match[str]) -> None:
        """Take how far levelling goes."""
        self._set("reach", self._texts(found, "reach", REACH))


def _text_of(node: Node | None) -> str | None:
    return node.value if isinstance(node, Text) else None


def _rule(pattern: str, take: Callable[[Clauses, re.Match[str]], None]) -> _Rule:
    return _Rule(re.compile(pattern, re.IGNORECASE), take)


_TOLD_MANNER = ("full", "wet", "heavy", "thick", "double", "mist", "flow")
_MANNER = rf"(?:{'|'.join((*_TOLD_MANNER, 'thin', 'light', 'ghost', 'more', 'even', 'good'))})"
_WHEN = (
    r"(?P<when>(?:in\s+)?between(?:\s+(?:the\s+)?(?:coats|rounds|sessions|evenings))?|apart|btw|each|after\s+the\s+first(?:\s+coat)?|after\s+the\s+last(?:\s+coat)?"
    r"|afterwards|after)"
)
_RULES = (
    _rule(rf"(?:(?P<label>how|with|check|dry check|caution|mind)\s*:?\s*)?(?P<quoted>{QUOTED})",
          Clauses.quoted),
    _rule(rf"(?P<label>called|lubricant)\s+(?P<id>{ID})\b", Clauses.named),
    _rule(rf"work\s+(?P<work>{WORK}(?:\s*\+\s*{WORK})*)", Clauses.work),
    _rule(rf"(?P<last>(?:the\s+)?last\s+)?(?P<n>{list_of(COUNT)})\s*(?P<manner>(?:{_MANNER}\s+)*)"
          r"(?:coats?|layers?|passes|(?P<sittings>sessions|applications|rubbers))\b",
          Clauses.coats),
    _rule(rf"(?:thin(?:ned|ning|ner)?|cut|reduced?)\s+(?:down\s+)?to\s+(?P<cut>{CUT})",
          Clauses.thin_to),
    _rule(r"(?:thin(?:ned)?|cut|reduced?|let\s+down)\s+(?:by|in)\s+(?P<by>half|a\s+half|a\s+third|a\s+quarter|\d+\s*%)",
          Clauses.thin_by),
    _rule(rf"thinned\s+(?P<share>{list_of(SHARE)})(?:\s+with)?", Clauses.thinned),
    _rule(rf"(?P<grade>{GRADE}(?:(?:\s+/\s+|\s*,\s*|\s+and\s+)(?:then\s+)?{GRADE})*)"
          rf"(?!\s*(?:{TIME_UNIT}|lbs?|g|kg|ml|l|oz|floz|fl|coats?|rounds?|to\s+\d+)\b)"
          r"(?!\s*[-–%/](?!grit))(?:[\s-]*grit\b)?",
          Clauses.grades),
    _rule(rf"(?:ghost\s+|thin\s+)?coats?\s*:\s*(?P<n>{COUNT})\b(?P<last>)(?P<sittings>)(?P<manner>)",
          Clauses.coats),
    _rule(r"before\s+(?:rubbing|levelling|leveling|sanding|polishing|waxing)(?:\s+(?:out|down))?\b",
          Clauses.remark),
    _rule(r"(?P<n>once|twice|thrice)\b(?P<last>)(?P<sittings>)", Clauses.times),
    _rule(rf"(?P<percent>{NUMBER})\s*(?:%|percent|per\s+cent)\s+(?:solution|shellac|polish|cut)\b",
          Clauses.percent),
    _rule(SPREAD, Clauses.spread),
    _rule(rf"(?P<cut>{list_of(CUT)})(?:\s+cut\b)?", Clauses.cut),
    _rule(r"no\s+wait\b", Clauses.no_wait),
    _rule(rf"(?P<low>{TIME}|{NUMBER}(?=\s*(?:to|-|–)\s*{TIME}))"
          rf"(?:\s*(?:to|-|–)\s*(?P<mid>{TIME}))?(?:\s*(?:to|-|–)\s*(?P<high>{TIME}))?"
          rf"(?:\s*next\s+within\s+(?P<next>{TIME}))?(?:\s*{_WHEN}\b)?", Clauses.wait),
    _rule(rf"reach\s+(?P<reach>{list_of(REACH)})\b", Clauses.reaches),
)  # fmt: skip
_OF_PRODUCT = _rule(rf"(?P<label>of)\s+(?P<id>{ID})\b", Clauses.named)
"""A product by its id, in lines to which nothing is added: there any id may stand."""
