"""From the lines of a notebook to a schedule."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

from finishsched.documents.codec import Reading, UnreadableError
from finishsched.documents.decode import Document
from finishsched.documents.faults import Fault
from finishsched.documents.formats.schedule import SCHEDULE
from finishsched.documents.lines.asking import Asking
from finishsched.documents.lines.clauses import Clauses
from finishsched.documents.lines.cutting import Line, cut_lines, segments, unquote
from finishsched.documents.lines.examples import Examples
from finishsched.documents.lines.filling import Filler
from finishsched.documents.lines.said import Assumed, Doubt, Notes, SaidItem, SaidRounds, SaidStep
from finishsched.documents.lines.stages import staged
from finishsched.documents.lines.waiting import said_waits
from finishsched.documents.lines.words import FAMILIES, NUMBERS
from finishsched.documents.nodes import NOWHERE, Fields, Items, Node, Place, Text, places
from finishsched.documents.step_ids import add_ids
from finishsched.model.film import BareGrades
from finishsched.model.product import Product
from finishsched.model.schedule import Schedule, StageName

ADD_NOTHING = "add nothing"
"""The line that says that what is not written is not meant."""
SOURCE = "own notebook; what its lines leave out is our assumption"

_HEAD = re.compile(
    r"(schedule|title|suits|look|over|source|notes|silent)\b\s*:?\s*(.+)", re.IGNORECASE
)
_STAGE = re.compile(rf"({'|'.join(StageName)})\s*:", re.IGNORECASE)
_HOW_OFTEN = rf"(\d+|{'|'.join(sorted(NUMBERS, key=len, reverse=True))})"
_ROUNDS = re.compile(
    rf"{_HOW_OFTEN}\s*(?:rounds?|times|sessions?|evenings?|nights?)\s*(?::|of\b)\s*"
    rf"|{_HOW_OFTEN}\s*[x×]\s*(?::|(?=\d+\s+\w*\s*coats))\s*",
    re.IGNORECASE,
)
"""Rounds on the line or the lines below: 3 rounds:, 3 evenings of, 3 x 6 coats."""
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
        self._names = _names(products)
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
        rounds = _ROUNDS.match(line.text)
        if rounds is not None:
            self._rounds(line, rounds)
        else:
            steps = self._steps(line)
            (self._open[1].steps if self._open is not None else self._sheet.items).extend(steps)

    def _rounds(self, line: Line, found: re.Match[str]) -> None:
        often = found[1] or found[2]
        group = SaidRounds(line.place(0), NUMBERS.get(often.lower(), often), [])
        if self._open is not None:
            self._notes.fault(line.place(0), "rounds within rounds", "write them one after another")
        self._sheet.items.append(group)
        rest = line.part(found.end())
        if rest.text:
            group.steps.extend(self._steps(rest))
        else:
            self._open = (line.indent, group)

    def _steps(self, line: Line) -> list[SaidStep]:
        steps = []
        for segment in segments(line, at_verbs=not self._notes.exactly):
            step = Clauses(segment, self._names, self._notes).read()
            step.stage = self._stage or step.stage
            steps.append(step)
        return steps

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


def _bare(words: str) -> str:
    quoted = len(words) > 1 and words.startswith('"') and words.endswith('"')
    return unquote(words) if quoted else words


def _names(products: Mapping[str, Product]) -> dict[str, str]:
    """Return every name of a product that a line may use, in small letters, with its id."""
    names = {family: family for family in FAMILIES}
    for family, kinds in FAMILIES.items():
        names |= _by_one_word(family, [p for p in products.values() if p.kind in kinds])
    for product in products.values():
        for name in (product.title.lower(), product.id.replace("-", " "), product.id):
            names[name] = product.id
    return names


def _by_one_word(family: str, products: Sequence[Product]) -> dict[str, str]:
    """Return names such as 'blonde shellac', where one product only has that word in its id."""
    names: dict[str, str] = {}
    words = Counter(word for product in products for word in set(product.id.split("-")))
    for product in products:
        for word in product.id.split("-"):
            if words[word] == 1 and not word.isdigit() and word not in family.split():
                names[f"{word} {family}"] = product.id
    return names


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
