"""From the lines of a notebook to a schedule."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

from finishsched.documents.codec import Reading, UnreadableError
from finishsched.documents.document import Document
from finishsched.documents.faults import Fault
from finishsched.documents.formats.schedule import SCHEDULE
from finishsched.documents.lines.asking import Asking
from finishsched.documents.lines.clauses import Clauses
from finishsched.documents.lines.cutting import Line, cut_lines, segments, unquote
from finishsched.documents.lines.examples import Examples
from finishsched.documents.lines.filling import Filler
from finishsched.documents.lines.names import names_of_products
from finishsched.documents.lines.said import Assumed, Doubt, Notes, SaidItem, SaidRounds, SaidStep
from finishsched.documents.lines.stages import staged
from finishsched.documents.lines.waiting import said_waits
from finishsched.documents.lines.words import NUMBERS, WORDS
from finishsched.documents.nodes import NOWHERE, Fields, Items, Node, Place, Text, places
from finishsched.documents.step_ids import add_ids
from finishsched.model.film import BareGrades
from finishsched.model.product import Product
from finishsched.model.schedule import Schedule, StageName, Verb

ADD_NOTHING = "add nothing"
"""The line that says that what is not written is not meant."""
SOURCE = "own notebook; what its lines leave out is our assumption"

_HEAD = re.compile(
    r"(schedule|title|suits|look|over|source|notes|silent)\b\s*:?\s*(.+)", re.IGNORECASE
)
_STAGE = re.compile(rf"({'|'.join(StageName)})\s*:", re.IGNORECASE)
_HOW_OFTEN = rf"(\d+|{'|'.join(sorted(NUMBERS, key=len, reverse=True))})"
_WORD = rf"(?:{'|'.join(re.escape(word) for word in sorted(WORDS, key=len, reverse=True))})\b"
_ROUNDS = re.compile(
    rf"{_HOW_OFTEN}\s*(?:rounds?|times|sessions?|evenings?|nights?)"
    rf"\s*(?::|of\b|,?\s*(?={_WORD}))\s*"
    rf"|{_HOW_OFTEN}\s*[x×]\s*(?::|(?=\d+\s+\w*\s*coats))\s*",
    re.IGNORECASE,
)
"""Rounds on the line or the lines below: 3 rounds:, 3 evenings of, 3 x 6 coats."""
_LED = re.compile(rf"{_WORD}\s*[:,]?\s*", re.IGNORECASE)
"""What is done, before the rounds that it is done in: bodying: 3 evenings of 5 coats."""
_EACH = re.compile(
    rf"\s*,?\s*(?:an?|per|each|every)\s+(?:evening|night|session|day)\s*,?\s*(?:for|over|[x×])?\s*"
    rf"{_HOW_OFTEN}\s*(?:days|evenings|nights|sessions|rounds)\b",
    re.IGNORECASE,
)
"""Rounds at the end of a line: 4 coats an evening for 3 days."""
_BEHIND = re.compile(r"\((?P<inner>[^()]+)\)\s*[x×]\s*(?P<often>\d+)", re.IGNORECASE)
"""Rounds of all that stands in brackets: (8 coats > overnight > wet sand 600) x 3."""
_SILENT = re.compile(r'([a-z0-9-]+)\s+because\s+("(?:[^"\\]|\\.)*"|.+)')


@dataclass(frozen=True, slots=True)
class Context:
    """What lines are read with."""

    products: Mapping[str, Product]
    schedules: Sequence[Schedule] = ()
    """To borrow from what is not said."""
    grades: BareGrades | None = None
    """What paper without a letter is; None to ask."""
    answers: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    """To doubts, by their keys."""


@dataclass(frozen=True, slots=True)
class ReadLines:
    """A schedule read from lines, with all that a person should see before it is kept."""

    document: Document | None
    """None where the lines have faults."""
    faults: tuple[Fault, ...]
    doubts: tuple[Doubt, ...]
    assumed: tuple[Assumed, ...]
    step_lines: Mapping[str, int]
    """For each step, as ``stage/id``, the line that says it."""

    @property
    def schedule(self) -> Schedule | None:
        """The schedule, where there is one."""
        model = self.document.model if self.document else None
        return model if isinstance(model, Schedule) else None


@dataclass(slots=True)
class _Sheet:
    head: dict[str, Text] = field(default_factory=dict)
    silent: list[Node] = field(default_factory=list)
    items: list[SaidItem] = field(default_factory=list)


def read_lines(text: str, name: str, context: Context, schedule_id: str = "") -> ReadLines:
    """Return the schedule that the lines of ``text`` say; ``name`` is for the faults.

    ``schedule_id`` is what it is called where the lines do not say. Nothing is guessed silently:
    what is taken for granted is in ``assumed``, and what could be meant otherwise in ``doubts``.
    """
    lines = list(cut_lines(text))
    notes = Notes(name, exactly=any(line.text.lower() == ADD_NOTHING for line in lines))
    sheet = _Sheet()
    _Lines(lines, context.products, notes, sheet).read()
    asking = Asking(context.answers, notes)
    examples = Examples(context.schedules, context.products)
    filler = Filler(context.products, examples, asking, notes, context.grades)
    items = sheet.items if notes.exactly else filler.work_out(sheet.items)
    stages = staged(items)
    if notes.exactly:
        _settle(items)
    else:
        filler.borrow(stages)
        for key in asking.idle_answers():
            notes.fault(NOWHERE, f"nothing asks {key!r}", "leave this answer out", "bad-answer")
    return _done(sheet, stages, notes, schedule_id)


class _Lines:
    """Goes through the lines: heads, headings, rounds and steps."""

    def __init__(
        self, lines: Sequence[Line], products: Mapping[str, Product], notes: Notes, sheet: _Sheet
    ) -> None:
        self._lines = lines
        self._names = names_of_products(products)
        self._notes = notes
        self._sheet = sheet
        self._stage: StageName | None = None
        self._open: tuple[int, SaidRounds] | None = None
        """The rounds whose steps follow, with how far their line is indented."""

    def read(self) -> None:
        """Read all of them into the sheet."""
        for line in self._lines:
            self._line(line)
        if not self._sheet.items:
            self._notes.fault(NOWHERE, "no step is written here", "write what you do, a line each")

    def _line(self, line: Line) -> None:
        if line.text.lower() == ADD_NOTHING:
            return
        heading = _STAGE.match(line.text)
        if heading is not None:
            self._stage, self._open = StageName(heading[1].lower()), None
            if line.text[heading.end() :].strip():
                self._line(line.part(heading.end()))
            return
        head = _HEAD.fullmatch(line.text)
        if head is not None:
            self._head(line, head)
            return
        if self._open is not None and line.indent <= self._open[0]:
            self._open = None
        if self._in_rounds(line):
            return
        steps = self._steps(line)
        (self._open[1].steps if self._open is not None else self._sheet.items).extend(steps)

    def _in_rounds(self, line: Line) -> bool:
        """Take a line that says how often it is done, and tell whether it does."""
        rounds = _ROUNDS.match(line.text)
        if rounds is not None:
            self._rounds(line, rounds, line.part(rounds.end()))
            return True
        if self._notes.exactly:
            return False
        led = _LED.match(line.text)
        rounds = _ROUNDS.match(line.text, led.end()) if led else None
        if led is not None and rounds is not None:
            self._rounds(line, rounds, line.part(0, led.end()).before(line.part(rounds.end())))
            return True
        behind = _BEHIND.fullmatch(line.text)
        if behind is not None:
            self._rounds(line, behind, line.part(behind.start("inner"), behind.end("inner")))
            return True
        each = _EACH.search(line.text)
        if each is not None:
            self._rounds(line, each, line.part(0, each.start()).before(line.part(each.end())))
        return each is not None

    def _rounds(self, line: Line, found: re.Match[str], rest: Line) -> None:
        often = found.groupdict().get("often") or next(n for n in found.groups() if n)
        group = SaidRounds(line.place(0), NUMBERS.get(often.lower(), often), [])
        if self._open is not None:
            self._notes.fault(line.place(0), "rounds within rounds", "write them one after another")
        self._sheet.items.append(group)
        if not rest.text:
            self._open = (line.indent, group)
            return
        group.steps.extend(self._steps(rest))
        if not self._notes.exactly and re.search(r"evening|night|day", found[0], re.IGNORECASE):
            self._till_next_evening(group.steps[-1])

    def _till_next_evening(self, step: SaidStep) -> None:
        """Wait overnight after the last coat of an evening, where nothing else is said."""
        if step.waits.keys() & {"", "after"}:
            return
        step.waits["after"] = Fields([(Text("likely"), Text("overnight", step.place))], step.place)
        self._notes.assume(step, "wait", "overnight from one evening to the next")

    def _steps(self, line: Line) -> list[SaidStep]:
        steps: list[SaidStep] = []
        for segment in segments(line, at_verbs=not self._notes.exactly):
            step = Clauses(segment, self._names, self._notes).read()
            step.stage = self._stage or step.stage
            if _is_only_how(step) and (before := steps or self._so_far()):
                before[-1].how.extend(step.how)
                self._notes.assume(step, "how", f"how line {before[-1].line} is done")
                continue
            if steps and _is_only_a_wait(step) and not (steps[-1].waits or steps[-1].no_wait):
                steps[-1].waits = step.waits
                continue
            if step.rest_before is not None:
                rest = SaidStep(step.place, Verb.REST, self._stage)
                rest.waits["after"] = step.rest_before
                steps.append(rest)
                if _says_nothing_else(step):
                    continue
            steps.append(step)
        return steps

    def _so_far(self) -> list[SaidStep]:
        last = self._sheet.items[-1:]
        return list(_steps_of(self._open[1].steps if self._open is not None else last))

    def _head(self, line: Line, found: re.Match[str]) -> None:
        key, words = found[1].lower(), found[2].strip()
        place = line.place(found.start(2))
        if key == "silent":
            rule = _SILENT.fullmatch(words)
            if rule is None:
                self._notes.fault(place, "this names no rule", 'write silent RULE because "..."')
                return
            entries: list[tuple[Text, Node]] = [
                (Text("rule", place), Text(rule[1], place)),
                (Text("because", place), Text(_bare(rule[2]), place)),
            ]
            self._sheet.silent.append(Fields(entries, place))
        elif key in self._sheet.head:
            self._notes.fault(place, f"{key!r} is written twice", "keep one of them")
        else:
            self._sheet.head[key] = Text(_bare(words), place)


def _is_only_how(step: SaidStep) -> bool:
    """Tell whether a line says no more than how the step before is done: wipe off the excess."""
    return bool(step.how) and step.rest_before is None and _says_nothing_else(step)


def _is_only_a_wait(step: SaidStep) -> bool:
    """Tell whether nothing is said but a time, as behind an arrow: wet sand 500 > 3 h."""
    waits, step.waits = step.waits, {}
    nothing = _says_nothing_else(step) and not step.how and step.rest_before is None
    step.waits = waits
    return nothing and bool(waits)


def _says_nothing_else(step: SaidStep) -> bool:
    """Tell whether nothing is said of a step but how it is done, and what comes before it."""
    said = (step.verb, step.stage, step.thinner, step.thin_by, step.held)
    parts = (step.values, step.waits, step.loose, step.parts, step.cautions, step.as_before)
    return not any(parts) and all(each is None for each in said)


def _bare(words: str) -> str:
    quoted = len(words) > 1 and words.startswith('"') and words.endswith('"')
    return unquote(words) if quoted else words


def _settle(items: Sequence[SaidItem]) -> None:
    """Put the waits into place where nothing is filled in."""
    for step in _steps_of(items):
        bare = step.waits.pop("", None)
        if bare is not None:
            step.waits.setdefault("after", bare)
        if step.waits:
            step.values["wait"] = said_waits(step)


def _steps_of(items: Sequence[SaidItem]) -> Iterator[SaidStep]:
    for item in items:
        yield from item.steps if isinstance(item, SaidRounds) else [item]


def _done(
    sheet: _Sheet, stages: list[tuple[StageName, list[SaidItem]]], notes: Notes, schedule_id: str
) -> ReadLines:
    reading = Reading(notes.name)
    root = _tree(sheet, stages, schedule_id)
    located = places(root)
    document = None
    add_ids(root, reading)
    lines = dict(_lines_by_step(root))
    if not notes.faults:
        try:
            document = Document(notes.name, "schedule", SCHEDULE.read(root, reading), located)
        except UnreadableError:
            document = None
    faults = tuple(sorted({*notes.faults, *reading.faults}))
    return ReadLines(
        document if not faults else None,
        faults,
        tuple(sorted(notes.doubts, key=lambda doubt: doubt.place)),
        tuple(sorted(notes.assumed, key=lambda each: each.line)),
        MappingProxyType(lines),
    )


def _tree(
    sheet: _Sheet, stages: list[tuple[StageName, list[SaidItem]]], schedule_id: str
) -> Fields:
    name = sheet.head.get("schedule") or Text(schedule_id or "own-schedule")
    title = sheet.head.get("title") or Text(name.value.replace("-", " ").capitalize())
    root = Fields([(Text("schedule"), name), (Text("title"), title)])
    for key in ("suits", "look", "over", "notes"):
        if key in sheet.head:
            root.entries.append((Text(key), sheet.head[key]))
    root.entries.append((Text("source"), sheet.head.get("source") or Text(SOURCE)))
    if sheet.silent:
        root.entries.append((Text("accepted"), Items(sheet.silent)))
    root.entries.append((Text("stages"), Items([_stage_node(*stage) for stage in stages])))
    return root


def _stage_node(name: StageName, items: list[SaidItem]) -> Node:
    place = items[0].place
    steps: list[Node] = [
        _rounds_node(item) if isinstance(item, SaidRounds) else _step_node(item) for item in items
    ]
    return Fields(
        [
            (Text("stage", place), Text(name.value, place)),
            (Text("steps", place), Items(steps, place)),
        ],
        place,
    )


def _rounds_node(group: SaidRounds) -> Node:
    place = group.place
    steps: list[Node] = [_step_node(step) for step in group.steps]
    return Fields(
        [
            (Text("rounds", place), Text(group.rounds, place)),
            (Text("steps", place), Items(steps, place)),
        ],
        place,
    )


def _step_node(step: SaidStep) -> Node:
    entries: list[tuple[Text, Node]] = []
    if step.verb is not None:
        how = Text(", ".join(step.how) if step.how else "", step.place)
        entries.append((Text(step.verb.value, step.place), how))
    entries += [(Text(key, _at(value)), value) for key, value in step.values.items()]
    if step.cautions:
        entries.append((Text("cautions", step.place), Items(step.cautions, step.place)))
    return Fields(entries, step.place)


def _at(value: Node) -> Place:
    return value.place


def _lines_by_step(root: Fields) -> Iterator[tuple[str, int]]:
    stages = root.get("stages")
    for stage in stages.items if isinstance(stages, Items) else []:
        if not isinstance(stage, Fields):
            continue
        name = stage.get("stage")
        for item in _fields_in(stage):
            for step in _fields_in(item) if item.get("steps") else [item]:
                id_ = step.get("mark")
                if isinstance(id_, Text) and isinstance(name, Text):
                    yield f"{name.value}/{id_.value}", step.place.line


def _fields_in(node: Fields) -> list[Fields]:
    steps = node.get("steps")
    return [s for s in steps.items if isinstance(s, Fields)] if isinstance(steps, Items) else []
