"""Keys of a step that once were called otherwise: still read, told of, and kept in a text changed.

It is done on the tree of nodes, before reading and after writing, as the ids of steps are; the
format itself knows the words of today only.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from types import MappingProxyType

from finishsched.documents.nodes import Fields, Items, Node, Text

OLD_WORDS: Mapping[str, str] = MappingProxyType({"id": "mark", "with": "tool"})
"""What a key of a step was called, and what it is called now."""


def renew(schedule: Node) -> tuple[Text, ...]:
    """Give every old key of a step its name of today; return the old ones, with their places."""
    found: list[Text] = []
    for step in _steps(schedule):
        for at, (key, value) in enumerate(step.entries):
            if key.value in OLD_WORDS:
                found.append(key)
                step.entries[at] = (Text(OLD_WORDS[key.value], key.place), value)
    return tuple(found)


def old_words_in(schedule: Node) -> frozenset[str]:
    """Return which old keys a tree uses."""
    return frozenset(
        key.value for step in _steps(schedule) for key, _ in step.entries if key.value in OLD_WORDS
    )


def write_old(schedule: Node, words: Collection[str]) -> None:
    """Give the keys of steps the old names in ``words``, for a text that is written with those."""
    old = {new: was for was, new in OLD_WORDS.items() if was in words}
    for step in _steps(schedule):
        step.entries = [(Text(old.get(k.value, k.value), k.place), v) for k, v in step.entries]


def _steps(schedule: Node) -> Iterator[Fields]:
    for stage in _items(schedule, "stages"):
        for item in _items(stage, "steps"):
            yield from _items(item, "steps") if item.get("steps") else (item,)


def _items(node: Node, key: str) -> Iterator[Fields]:
    found = node.get(key) if isinstance(node, Fields) else None
    if isinstance(found, Items):
        yield from (item for item in found.items if isinstance(item, Fields))
