"""The tree between YAML and the model: texts, lists and keys with values, each with its place.

A text is kept as it was written: YAML's own readings (``1:30`` as 90, ``no`` as false, ``010`` as
8) are never applied, because the formats know better what each text should be.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple, TypeAlias


class Place(NamedTuple):
    """A line and a column, both from 1; columns count characters."""

    line: int
    column: int


NOWHERE = Place(1, 1)
"""The place of a node that was made from a model and is yet to be written."""


@dataclass(slots=True)
class Text:
    """A piece of text; a key is one too."""

    value: str
    place: Place = NOWHERE
    bare: bool = False
    """For writing: True for what is no text to YAML itself, such as a number or ``yes``."""


@dataclass(slots=True)
class Items:
    """A list."""

    items: list[Node] = field(default_factory=list)
    place: Place = NOWHERE
    on_one_line: bool = False
    """For writing: True to write it as ``[a, b]``."""


@dataclass(slots=True)
class Fields:
    """Keys with values, in the order written; a key may be there twice."""

    entries: list[tuple[Text, Node]] = field(default_factory=list)
    place: Place = NOWHERE
    on_one_line: bool = False
    """For writing: True to write it as ``{a: b}``."""

    def get(self, key: str) -> Node | None:
        """Return the value of the first ``key``."""
        return next((value for name, value in self.entries if name.value == key), None)


Node: TypeAlias = Text | Items | Fields

Path: TypeAlias = tuple[str | int, ...]


def shape(node: Node) -> str:
    """Say what a node is, for a message."""
    if isinstance(node, Text):
        return "text"
    return "a list" if isinstance(node, Items) else "keys with values"


def places(root: Node) -> dict[Path, Place]:
    """Return the place of every value, by its path of keys and positions (from 0)."""
    return dict(_walk(root, ()))


def _walk(node: Node, path: Path) -> Iterator[tuple[Path, Place]]:
    yield path, node.place
    if isinstance(node, Items):
        for position, item in enumerate(node.items):
            yield from _walk(item, (*path, position))
    elif isinstance(node, Fields):
        for key, value in node.entries:
            yield from _walk(value, (*path, key.value))
