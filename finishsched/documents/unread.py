"""Documents that could not be read: what they are called, and the names that they use.

A document with faults makes no model, but the names in it stand in its tree all the same. So a
person is told of those together with everything else.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from finishsched.documents.faults import Fault
from finishsched.documents.nodes import Fields, Items, Node, Text
from finishsched.documents.wording import did_you_mean
from finishsched.model.lubricants import LUBRICANT_WORDS

_ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_NAMED_BY = {"product": "product", "lubricant": "product", "thinner": "product"}


@dataclass(frozen=True, slots=True)
class Unread:
    """A document with faults, as far as it can be made out."""

    name: str
    """The file, as the faults name it."""
    root: Fields

    @property
    def kind(self) -> str:
        """What it begins with."""
        return self.root.entries[0][0].value

    @property
    def id(self) -> str:
        """What it is called; empty where that cannot be told."""
        value = self.root.entries[0][1]
        return value.value if isinstance(value, Text) else ""


def unread_from(name: str, root: Node | None) -> Unread | None:
    """Return a document with faults; None for what is no document at all."""
    return Unread(name, root) if isinstance(root, Fields) and root.entries else None


def names_unread(
    unread: Unread,
    products: Collection[str],
    schedules: Collection[str],
    hidden: Mapping[str, Collection[str]],
) -> Iterator[Fault]:
    """Give the names in a document with faults that nothing has.

    ``hidden`` holds the names of other documents that could not be read.
    """
    for key, value in _texts(unread.root.entries[1:]):
        if unread.kind == "job" and key in ("schedule", "schedules"):
            kind, known = "schedule", schedules
        elif unread.kind in ("schedule", "product", "shop") and key in _NAMED_BY:
            kind, known = "product", products
        else:
            continue
        word = value.value
        if key == "lubricant" and word in LUBRICANT_WORDS:
            continue
        if _ID.fullmatch(word) and word not in known and word not in hidden[kind]:
            remedy = did_you_mean(word, known, f"check the name, or add a {kind} of that name")
            line, column = value.place
            yield Fault(
                unread.name, line, column, f"there is no {kind} {word!r}", remedy, "unknown-name"
            )


def _texts(entries: list[tuple[Text, Node]]) -> Iterator[tuple[str, Text]]:
    """Give every key with a text for its value, at any depth; trees are never deep."""
    for key, value in entries:
        if isinstance(value, Text):
            yield key.value, value
            continue
        if isinstance(value, Items):
            yield from ((key.value, item) for item in value.items if isinstance(item, Text))
        yield from _within(value)


def _within(node: Node) -> Iterator[tuple[str, Text]]:
    if isinstance(node, Fields):
        yield from _texts(node.entries)
    elif isinstance(node, Items):
        for item in node.items:
            yield from _within(item)
