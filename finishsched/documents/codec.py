"""Codecs: both ways between a node and a value, and the schema of what may be written.

A codec that finds a fault notes it on the ``Reading`` and raises ``UnreadableError``; whatever
holds it (a record, a list) goes on with its other parts, so that one reading finds all faults.
Records, which is how whole formats are declared, are in ``records``; the leaves of the trade
(quantities, names, words) are in ``leaves``.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Mapping
from contextlib import suppress
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, ClassVar, Generic, Protocol, TypeAlias, TypeVar

from finishsched.documents.faults import Fault
from finishsched.documents.nodes import Fields, Items, Node, Place, Text, shape
from finishsched.documents.wording import did_you_mean, quoted
from finishsched.refusals import RefusalError
from finishsched.units import NoUnitError

Value = TypeVar("Value")
JsonSchema: TypeAlias = dict[str, Any]


class UnreadableError(Exception):
    """There is no value to be had from a node, and the reason has been noted."""


class BadValueError(RefusalError, ValueError):
    """A text that is not what is wanted, and what would be."""


class Reading:
    """One reading of one document, on which its faults are noted."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.faults: list[Fault] = []

    def note(self, place: Place, message: str, remedy: str, rule: str = "bad-value") -> None:
        """Note a fault and go on."""
        self.faults.append(Fault(self.name, place.line, place.column, message, remedy, rule))

    def refuse(
        self, place: Place, message: str, remedy: str, rule: str = "bad-value"
    ) -> UnreadableError:
        """Note a fault, and return what to raise when there is no going on from it."""
        self.note(place, message, remedy, rule)
        return UnreadableError(message)


class Codec(Protocol[Value]):
    """Both ways between a node and a value, and the schema of what may be written."""

    def read(self, node: Node, reading: Reading) -> Value:
        """Return the value of ``node``; on a fault note it and raise ``UnreadableError``."""

    def write(self, value: Value) -> Node:
        """Return the node that ``read`` makes exactly ``value`` of."""

    def schema(self, shared: dict[str, JsonSchema]) -> JsonSchema:
        """Return the JSON Schema; a schema worth sharing goes into ``shared`` by its name."""


@dataclass(frozen=True, slots=True)
class Leaf(Generic[Value]):
    """A value written as one text, by a pair of plain functions."""

    noun: str
    """What it is, with its article: ``a length``."""
    from_text: Callable[[str], Value]
    """Raises a RefusalError, such as BadValueError or UnitFaultError."""
    to_text: Callable[[Value], str]
    described: JsonSchema
    example: str
    bare: bool = False
    """True when YAML itself does not take it for text: a number, a date, yes or no."""

    def read(self, node: Node, reading: Reading) -> Value:
        """Return the value of a text."""
        if not isinstance(node, Text):
            message = f"{self.noun} is wanted here, not {shape(node)}"
            raise reading.refuse(node.place, message, f"write for example {self.example}")
        if not node.value.strip():
            message = f"{self.noun} is wanted here, and nothing is written"
            raise reading.refuse(node.place, message, f"write for example {self.example}")
        try:
            return self.from_text(node.value)
        except RefusalError as fault:
            rule = "no-unit" if isinstance(fault, NoUnitError) else "bad-value"
            raise reading.refuse(node.place, fault.message, fault.remedy, rule) from None

    def write(self, value: Value) -> Node:
        """Return the text of a value."""
        return Text(self.to_text(value), bare=self.bare)

    def schema(self, shared: dict[str, JsonSchema]) -> JsonSchema:  # noqa: ARG002
        """Return the schema that was declared."""
        return dict(self.described)


@dataclass(frozen=True, slots=True)
class ListOf(Generic[Value]):
    """A list as a tuple; with ``or_one`` a single value need not be put in brackets."""

    item: Codec[Value]
    noun: str
    """What the items are: ``stages``."""
    at_least: int = 0
    or_one: bool = False
    on_one_line: bool = False

    def read(self, node: Node, reading: Reading) -> tuple[Value, ...]:
        """Return all the items, once every one of them can be read."""
        if self.or_one and not isinstance(node, Items):
            return (self.item.read(node, reading),)
        if not isinstance(node, Items):
            message = f"a list of {self.noun} is wanted here, not {shape(node)}"
            raise reading.refuse(node.place, message, "write each on a line of its own after '- '")
        if len(node.items) < max(self.at_least, int(self.or_one)):
            raise reading.refuse(node.place, f"there are no {self.noun} here", "write at least one")
        before = len(reading.faults)
        values = []
        for item in node.items:
            with suppress(UnreadableError):
                values.append(self.item.read(item, reading))
        if len(reading.faults) > before:
            raise UnreadableError
        return tuple(values)

    def write(self, value: tuple[Value, ...]) -> Node:
        """Return the list, or its one item."""
        items = [self.item.write(item) for item in value]
        if self.or_one and len(items) == 1:
            return items[0]
        return Items(items, on_one_line=self.on_one_line)

    def schema(self, shared: dict[str, JsonSchema]) -> JsonSchema:
        """Return an array, or a choice of one item and an array."""
        item = self.item.schema(shared)
        array: JsonSchema = {"type": "array", "items": item}
        if self.at_least or self.or_one:
            array["minItems"] = 1
        return {"anyOf": [item, array]} if self.or_one else array


@dataclass(frozen=True, slots=True)
class MapOf(Generic[Value]):
    """Keys of the writer's choosing (within ``names``, if given), each with a value."""

    item: Codec[Value]
    noun: str
    names: frozenset[str] | None = None

    _FREE_NAME: ClassVar[str] = r"^[a-z0-9]+(-[a-z0-9]+)*$"

    def read(self, node: Node, reading: Reading) -> Mapping[str, Value]:
        """Return the values by their keys."""
        fields = fields_of(node, self.noun, reading)
        before = len(reading.faults)
        values = {}
        for name, (key, value) in without_duplicates(fields, reading).items():
            self._check_name(key, reading)
            with suppress(UnreadableError):
                values[name] = self.item.read(value, reading)
        if len(reading.faults) > before:
            raise UnreadableError
        return MappingProxyType(values)

    def write(self, value: Mapping[str, Value]) -> Node:
        """Return the keys in the order that the mapping has."""
        return Fields([(Text(name), self.item.write(item)) for name, item in value.items()])

    def schema(self, shared: dict[str, JsonSchema]) -> JsonSchema:
        """Return an object with free keys."""
        names: JsonSchema = (
            {"pattern": self._FREE_NAME} if self.names is None else {"enum": sorted(self.names)}
        )
        return {
            "type": "object",
            "propertyNames": names,
            "additionalProperties": self.item.schema(shared),
        }

    def _check_name(self, key: Text, reading: Reading) -> None:
        if self.names is not None:
            if key.value not in self.names:
                note_unknown(key, self.names, self.noun, reading)
        elif not re.fullmatch(self._FREE_NAME, key.value):
            reading.note(
                key.place,
                f"{quoted(key.value)} is no name for a key here",
                "write lower-case letters, digits and hyphens",
            )


def fields_of(node: Node, noun: str, reading: Reading) -> Fields:
    """Return ``node`` as keys with values; anything else is refused."""
    if isinstance(node, Fields):
        return node
    message = f"{noun} is keys with values, not {shape(node)}"
    raise reading.refuse(node.place, message, "write lines of 'key: value'")


def without_duplicates(fields: Fields, reading: Reading) -> dict[str, tuple[Text, Node]]:
    """Return the keys and values by key, noting every key that is there again."""
    found: dict[str, tuple[Text, Node]] = {}
    for key, value in fields.entries:
        first, _ = found.setdefault(key.value, (key, value))
        if first is not key:
            reading.note(
                key.place,
                f"{quoted(key.value)} is written twice: on line {first.place.line}, "
                f"column {first.place.column}, and again here",
                "keep one of them",
                "duplicate-key",
            )
    return found


def note_unknown(key: Text, known: Collection[str], noun: str, reading: Reading) -> None:
    """Note a key that is none of ``known``, with the one it was probably meant to be."""
    remedy = did_you_mean(key.value, known, "leave it out")
    if remedy.startswith("write"):
        remedy = f"leave it out, or {remedy}"
    reading.note(key.place, f"{noun} has no key {quoted(key.value)}", remedy, "unknown-key")
