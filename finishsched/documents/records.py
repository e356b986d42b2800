"""Records: the small language that a document format is declared in.

A format is declared once, as a record of keys, each with a codec for its value::

    FACE = Record(Face, "a face", (
        Key("face", LINE, "its name, such as top", attribute="name", required=True),
        Key("length", LENGTH, "along the grain", attribute="length_mm"),
    ))

and from that one declaration come reading (node to model, gathering every fault with its place),
writing (model to node) and the JSON Schema. Defaults are nowhere repeated: a key that is not
written takes the default of the model's field, and a value equal to that default is not written.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property
from typing import Any, Generic, Protocol, TypeAlias, TypeVar

from finishsched.documents.codec import (
    Codec,
    JsonSchema,
    Reading,
    UnreadableError,
    fields_of,
    note_unknown,
    without_duplicates,
)
from finishsched.documents.nodes import Fields, Node, Text
from finishsched.documents.wording import did_you_mean, nearest, quoted
from finishsched.near import either

Value = TypeVar("Value")
Model = TypeVar("Model")


class Draft:
    """A record while it is being read: what is written, and the values made of it so far."""

    def __init__(self, noun: str, fields: Fields, reading: Reading) -> None:
        self.noun = noun
        self.fields = fields
        self.reading = reading
        self.written = without_duplicates(fields, reading)
        self.meant: set[str] = set()
        """Known keys that a misspelt one was probably meant to be: they are not missed as well."""
        self.values: dict[str, Any] = {}
        """By attribute; without those that could not be read."""

    def read(self, key: str, attribute: str, codec: Codec[Any]) -> None:
        """Read the value of ``key`` into ``attribute``, if it is written and can be read."""
        if key in self.written:
            with suppress(UnreadableError):
                self.values[attribute] = codec.read(self.written[key][1], self.reading)

    def node(self, key: str) -> Node | None:
        """Return what is written for ``key``."""
        return self.written[key][1] if key in self.written else None

    def fault(self, message: str, remedy: str, *, at: str = "", rule: str = "bad-value") -> None:
        """Note a fault at the value of the key ``at``, or of the record as a whole."""
        node = self.node(at) or self.fields
        self.reading.note(node.place, message, remedy, rule)

    def missing(self, key: str, why: str) -> None:
        """Note that ``key`` is missing, unless a misspelt one already stands for it."""
        if key not in self.meant and key not in self.written:
            self.fault(f"{self.noun} has no {key!r}", f"add '{key}:', {why}", rule="missing-key")

    def unknown_keys(self, known: Sequence[str]) -> None:
        """Note every key that is none of ``known``."""
        for name, (key, _) in self.written.items():
            if name not in known:
                free = [one for one in known if one not in self.written]
                note_unknown(key, free, self.noun, self.reading)
                self.meant.add(nearest(name, free) or "")


Check: TypeAlias = Callable[[Draft], None]
"""A rule about several keys of a record. It must bear with values that could not be read."""


class Member(Protocol):
    """A part of a record: one key, or several of which one is chosen."""

    @property
    def names(self) -> tuple[str, ...]:
        """The keys that may be written for it."""

    def read(self, draft: Draft) -> None:
        """Read what is written into the draft's values."""

    def write(self, model: object, default: Mapping[str, object]) -> Iterator[tuple[Text, Node]]:
        """Give the key and value for ``model``; nothing for a value equal to ``default``'s."""

    def describe(self, schema: JsonSchema, shared: dict[str, JsonSchema]) -> None:
        """Put the keys into a record's schema."""


@dataclass(frozen=True, slots=True)
class Key(Generic[Value]):
    """One key and the attribute that it fills."""

    name: str
    codec: Codec[Value]
    says: str
    """What to write there, in a few words: for the schema, and for the fault when it is missing."""
    attribute: str = ""
    """When it is not the key's own name."""
    required: bool = False
    unless: str = ""
    """Required too, but not where this other key is written."""
    formerly: str = ""
    """What it was called, where old documents still say that: ``old_words`` renames it."""

    @property
    def names(self) -> tuple[str, ...]:
        """The key."""
        return (self.name,)

    def read(self, draft: Draft) -> None:
        """Read the value, or miss it."""
        if self.required or (self.unless and self.unless not in draft.written):
            draft.missing(self.name, self.says)
        draft.read(self.name, self.attribute or self.name, self.codec)

    def write(self, model: object, default: Mapping[str, object]) -> Iterator[tuple[Text, Node]]:
        """Give the key, if it must be there or says more than the default."""
        attribute = self.attribute or self.name
        value = getattr(model, attribute)
        needed = self.required or (self.unless and not getattr(model, self.unless))
        if needed or value != default[attribute]:
            yield Text(self.name), self.codec.write(value)

    def describe(self, schema: JsonSchema, shared: dict[str, JsonSchema]) -> None:
        """Put in the key with its description."""
        described = {"description": self.says, **self.codec.schema(shared)}
        schema["properties"][self.name] = described
        if self.formerly:
            schema["properties"][self.formerly] = described | {"deprecated": True}
        if self.required:
            schema["required"].append(self.name)
        if self.unless:
            either_ = schema.setdefault("anyOf", [{"required": []}, {"required": [self.unless]}])
            either_[0]["required"].append(self.name)


@dataclass(frozen=True, slots=True)
class FixedKey:
    """A key that always has the same value and fills nothing: it only tells the kind."""

    name: str
    value: str
    says: str

    @property
    def names(self) -> tuple[str, ...]:
        """The key."""
        return (self.name,)

    def read(self, draft: Draft) -> None:
        """See that the value is the one there is."""
        draft.missing(self.name, self.says)
        node = draft.node(self.name)
        if node is not None and not (isinstance(node, Text) and node.value == self.value):
            draft.fault(f"{self.name!r} has one value only", f"write {self.value}", at=self.name)

    def write(self, model: object, default: Mapping[str, object]) -> Iterator[tuple[Text, Node]]:  # noqa: ARG002
        """Give the key."""
        yield Text(self.name), Text(self.value)

    def describe(self, schema: JsonSchema, shared: dict[str, JsonSchema]) -> None:  # noqa: ARG002
        """Put in the key with its one value."""
        schema["properties"][self.name] = {"description": self.says, "const": self.value}
        schema["required"].append(self.name)


@dataclass(frozen=True)
class ChosenKey(Generic[Value]):
    """Exactly one of several keys: which one it is fills an attribute, and its value another."""

    choices: type[StrEnum]
    attribute: str
    codec: Codec[Value]
    value_attribute: str
    noun: str
    """What the choice is of, with its article: ``a verb``."""
    says: str

    @cached_property
    def names(self) -> tuple[str, ...]:
        """All the choices."""
        return tuple(choice.value for choice in self.choices)

    def read(self, draft: Draft) -> None:
        """Read the one key; more than one and none at all are faults."""
        chosen = [name for name in draft.written if name in self.names]
        if not chosen and not draft.meant.intersection(self.names):
            remedy = f"add one of {either(self.names)} with {self.says}"
            draft.fault(f"{draft.noun} has no {self.noun.split()[-1]}", remedy, rule="missing-key")
        for extra in chosen[1:]:
            first = draft.written[chosen[0]][0].place
            key = draft.written[extra][0]
            draft.reading.note(
                key.place,
                f"{draft.noun} has {self.noun} already: {chosen[0]!r} on line {first.line}, "
                f"and {extra!r} here",
                "write two of them",
                "duplicate-key",
            )
        if chosen:
            draft.values[self.attribute] = self.choices(chosen[0])
            draft.read(chosen[0], self.value_attribute, self.codec)

    def write(self, model: object, default: Mapping[str, object]) -> Iterator[tuple[Text, Node]]:  # noqa: ARG002
        """Give the chosen key with its value."""
        chosen = getattr(model, self.attribute)
        yield Text(chosen.value), self.codec.write(getattr(model, self.value_attribute))

    def describe(self, schema: JsonSchema, shared: dict[str, JsonSchema]) -> None:
        """Put in every choice, and that exactly one is wanted."""
        for name in self.names:
            described = {"description": f"{name}: {self.says}", **self.codec.schema(shared)}
            schema["properties"][name] = described
        schema["oneOf"] = [{"required": [name]} for name in self.names]


@dataclass(frozen=True)
class Record(Generic[Model]):
    """Keys with values that make one dataclass."""

    cls: type[Model]
    noun: str
    """What a person calls it, with its article: ``a step``."""
    members: tuple[Member, ...]
    checks: tuple[Check, ...] = ()
    on_one_line: bool = False
    words: Mapping[str, Model] = field(default_factory=dict)
    """Words that may be written for the keys that they stand for: ``us``."""

    @cached_property
    def names(self) -> tuple[str, ...]:
        """Every key that may be written, in the documented order."""
        return tuple(name for member in self.members for name in member.names)

    def read(self, node: Node, reading: Reading) -> Model:
        """Return the model object, once all its keys can be read and the checks are content."""
        if self.words and isinstance(node, Text):
            return self._by_word(node, reading)
        fields = fields_of(node, self.noun, reading)
        before = len(reading.faults)
        draft = Draft(self.noun, fields, reading)
        draft.unknown_keys(self.names)
        for member in self.members:
            member.read(draft)
        for check in self.checks:
            check(draft)
        if len(reading.faults) > before:
            raise UnreadableError
        return self.cls(**draft.values)

    def _by_word(self, node: Text, reading: Reading) -> Model:
        """Return what a word stands for."""
        found = self.words.get(node.value.strip().lower())
        if found is None:
            message = f"{quoted(node.value)} is not {self.noun}"
            raise reading.refuse(node.place, message, did_you_mean(node.value, self.words))
        return found

    def write(self, value: Model) -> Node:
        """Return the keys in the documented order, without those that say nothing new."""
        default = _defaults(self.cls)
        entries = [entry for member in self.members for entry in member.write(value, default)]
        return Fields(entries, on_one_line=self.on_one_line)

    def schema(self, shared: dict[str, JsonSchema]) -> JsonSchema:
        """Return a reference to the record's schema, which goes into ``shared``."""
        title = self.noun.partition(" ")[2]
        name = title.replace(" ", "-")
        if name not in shared:
            shared[name] = {}  # keeps the place, should the record hold itself
            shared[name] = self.closed_object(shared) | {"title": title}
        keys: JsonSchema = {"$ref": f"#/$defs/{name}"}
        return {"anyOf": [{"enum": list(self.words)}, keys]} if self.words else keys

    def closed_object(self, shared: dict[str, JsonSchema]) -> JsonSchema:
        """Return the record's own schema: these keys and no others."""
        schema: JsonSchema = {
            "type": "object",
            "properties": {},
            "required": [],
            "additionalProperties": False,
        }
        for member in self.members:
            member.describe(schema, shared)
        return schema


def _defaults(cls: type[Any]) -> dict[str, Any]:
    """Return each field's default, and for a field without one a value that equals nothing."""
    found = {}
    for each in dataclasses.fields(cls):
        if each.default_factory is not dataclasses.MISSING:
            found[each.name] = each.default_factory()
        else:
            found[each.name] = each.default
    return found
