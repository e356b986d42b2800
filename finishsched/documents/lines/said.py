"""What was said of a step, before anything that nobody said is filled in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from finishsched.documents.faults import Fault
from finishsched.documents.nodes import Fields, Items, Node, Place, Text
from finishsched.model.schedule import StageName, Verb


@dataclass(slots=True)
class SaidStep:
    """One step as far as its line says it."""

    place: Place
    verb: Verb | None = None
    stage: StageName | None = None
    values: dict[str, Node] = field(default_factory=dict)
    """By the key of the document."""
    how: list[str] = field(default_factory=list)
    waits: dict[str, Fields] = field(default_factory=dict)
    """By when: 'first', 'between', 'after', or '' for a time that does not say."""
    no_wait: bool = False
    cautions: list[Node] = field(default_factory=list)
    thin_by: float | None = None
    """The share of what it was that is left of the cut."""
    of_the_last: bool = False
    """True for 'the last 4 coats'."""
    as_before: bool = False
    """True where all that is not said is as with the coats before."""
    thinner: Text | None = None
    """What thins, wets or cleans, where the line names such a product."""
    parts: list[float] = field(default_factory=list)
    """Parts of the finish and of its thinner."""
    held: Text | None = None
    """How long it is clamped or pressed."""
    rest_before: Fields | None = None
    """A wait that is over before it begins."""
    said_waits: Mapping[str, Fields] = field(default_factory=dict)
    """The waits as they were said, for what is done as before."""
    loose: list[Text] = field(default_factory=list)
    """Words that say nothing known."""

    @property
    def line(self) -> int:
        """The line of the notebook."""
        return self.place.line

    def text(self, key: str) -> str | None:
        """Return what was said for a key that has one text."""
        value = self.values.get(key)
        return value.value if isinstance(value, Text) else None

    @property
    def coats(self) -> int:
        """How many coats, the most of them where rounds have their own numbers."""
        value = self.values.get("coats")
        texts = value.items if isinstance(value, Items) else [value]
        numbers = [int(t.value) for t in texts if isinstance(t, Text) and t.value.isdigit()]
        return max(numbers, default=1)


@dataclass(slots=True)
class SaidRounds:
    """Steps that are done over again."""

    place: Place
    rounds: str
    steps: list[SaidStep]


SaidItem = SaidStep | SaidRounds


@dataclass(frozen=True, slots=True)
class Doubt:
    """A question that the lines leave open, with the answer that is taken until there is one."""

    key: str
    """What an answer names it by: the line's number and a word, such as ``3:wait``."""
    place: Place
    question: str
    choices: tuple[tuple[str, str], ...]
    """What may be answered, and what each means."""
    usual: str


@dataclass(frozen=True, slots=True)
class Assumed:
    """What nobody said and was filled in: our assumption."""

    line: int
    key: str
    says: str


@dataclass(slots=True)
class Notes:
    """What comes up while lines are read."""

    name: str
    exactly: bool = False
    """True where the lines say all there is, and nothing is filled in."""
    faults: list[Fault] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    assumed: list[Assumed] = field(default_factory=list)

    def fault(self, place: Place, message: str, remedy: str, rule: str = "bad-line") -> None:
        """Note what cannot be read."""
        self.faults.append(Fault(self.name, place.line, place.column, message, remedy, rule))

    def assume(self, step: SaidStep, key: str, says: str) -> None:
        """Note what was filled in."""
        self.assumed.append(Assumed(step.line, key, says))
