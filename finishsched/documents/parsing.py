"""From bytes to a tree of nodes, safely.

The parser's events are taken one by one and nothing here recurses, so that size, depth and
references are refused before they can cost memory or stack. A document that is refused here gets
one fault only, since nothing after it can be trusted.
"""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import yaml

from finishsched.documents.document import MOST_BYTES
from finishsched.documents.faults import DocumentFaultsError, Fault
from finishsched.documents.nodes import NOWHERE, Fields, Items, Node, Place, Text

DEEPEST = 40
MOST_NODES = 50_000

# The pure-Python parser words its errors better but is slow: only for errors that come soon.
_MOST_CHARACTERS_READ_TWICE = 100_000
_FAST_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_SLOW_LOADER: Any = yaml.SafeLoader

_STANDARD_TAG = re.compile(r"tag:yaml\.org,2002:(str|int|float|bool|null|seq|map|timestamp)")
# Control characters, lone surrogates, non-characters, and line ends that editors do not count.
_UNREADABLE = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufdd0-\ufdef\ufeff\ufffe\uffff]"
)


def parse(data: bytes, name: str) -> Node:
    """Return the tree of the one YAML document in ``data``; ``name`` is for the faults.

    Raises:
        DocumentFaultsError: with one fault, when it is too big, too deep, not text, not YAML,
            empty, more than one document, or uses references or tags.

    """
    try:
        return _parse(data)
    except _RefusalError as refusal:
        place = refusal.place
        fault = Fault(name, place.line, place.column, refusal.message, refusal.remedy, refusal.rule)
        raise DocumentFaultsError([fault]) from None


class _RefusalError(Exception):
    def __init__(self, place: Place, message: str, remedy: str, rule: str = "not-yaml") -> None:
        super().__init__(message)
        self.place = place
        self.message = message
        self.remedy = remedy
        self.rule = rule


def _parse(data: bytes) -> Node:
    text = _as_text(data)
    try:
        root = _compose(yaml.parse(text, Loader=_FAST_LOADER))
    except yaml.YAMLError as error:
        from finishsched.documents.syntax import plain_words  # noqa: PLC0415  # only for an error

        place, message, remedy = plain_words(_better_error(text, error))
        raise _RefusalError(place, message, remedy) from None
    if root is None or (isinstance(root, Text) and not root.value):
        raise _RefusalError(
            Place(1, 1), "the document is empty", "write its kind first, such as 'job: tea-box'"
        )
    return root


def _better_error(text: str, error: yaml.YAMLError) -> yaml.YAMLError:
    mark = getattr(error, "problem_mark", None)
    if mark is None or mark.index > _MOST_CHARACTERS_READ_TWICE:
        return error
    try:
        _compose(yaml.parse(text, Loader=_SLOW_LOADER))
    except yaml.YAMLError as better:
        return better
    except (ValueError, OverflowError):
        # An escape for no character: only the fast parser says so in an error of its own.
        return error
    return error


def _as_text(data: bytes) -> str:
    if len(data) > MOST_BYTES:
        raise _RefusalError(
            Place(1, 1), "the document is larger than 1 MB", "split it into several", "too-big"
        )
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        raise _RefusalError(Place(1, 1), "the text is UTF-16, not UTF-8", "save it as UTF-8")
    data = data.removeprefix(codecs.BOM_UTF8)
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8", "replace")
        raise _RefusalError(_end_of(before), "the text is not UTF-8", "save it as UTF-8") from None
    found = _UNREADABLE.search(text)
    if found:
        raise _RefusalError(
            _end_of(text[: found.start()]),
            f"the document holds the unreadable character U+{ord(found.group()):04X}",
            "take it out, or check that this is a text file",
        )
    return text


def _end_of(text: str) -> Place:
    lines = re.split("\r\n|\r|\n", text)
    return Place(len(lines), len(lines[-1]) + 1)


@dataclass(slots=True)
class _Open:
    """A list or a mapping whose end is yet to come, and a key that waits for its value."""

    node: Items | Fields
    key: Text | None = None

    def add(self, node: Node) -> None:
        if isinstance(self.node, Items):
            self.node.items.append(node)
        elif self.key is not None:
            self.node.entries.append((self.key, node))
            self.key = None
        elif isinstance(node, Text):
            self.key = node
        else:
            raise _RefusalError(node.place, "a key is one line of text", "write 'key: value'")


def _compose(events: Iterable[yaml.Event]) -> Node | None:
    root: Node | None = None
    stack: list[_Open] = []
    documents = nodes = 0
    for event in events:
        if isinstance(event, yaml.DocumentStartEvent):
            documents += 1
            _refuse_second_document(event, documents)
            continue
        if isinstance(event, yaml.NodeEvent):
            nodes += 1
            node = _node(event, nodes, depth=len(stack))
            if not isinstance(node, Text):
                stack.append(_Open(node))
                continue
        elif isinstance(event, yaml.CollectionEndEvent):
            node = stack.pop().node
        else:
            continue
        if stack:
            stack[-1].add(node)
        else:
            root = node
    return root


def _node(event: yaml.NodeEvent, nodes: int, depth: int) -> Node:
    place = _place(event)
    if nodes > MOST_NODES:
        raise _RefusalError(
            place, f"the document has more than {MOST_NODES} values", "split it", "too-big"
        )
    if event.anchor is not None:
        sign = "*" if isinstance(event, yaml.AliasEvent) else "&"
        raise _RefusalError(
            place,
            f"references ({sign}{event.anchor:.20}) are not used here",
            "write the value out",
            "alias",
        )
    tag = getattr(event, "tag", None)
    if tag is not None and not _STANDARD_TAG.fullmatch(tag):
        raise _RefusalError(
            place, f"the tag {tag[:40]!r} is not used here", "write the value without '!'"
        )
    if isinstance(event, yaml.ScalarEvent):
        return _text(event.value, place)
    if depth >= DEEPEST:
        raise _RefusalError(
            place, f"more than {DEEPEST} levels one inside another", "write it flatter", "too-deep"
        )
    return Items([], place) if isinstance(event, yaml.SequenceStartEvent) else Fields([], place)


def _text(value: str, place: Place) -> Text:
    found = _UNREADABLE.search(value)
    if found:
        raise _RefusalError(
            place,
            f"the text holds the unreadable character U+{ord(found.group()):04X}",
            "take the escape out",
        )
    return Text(value, place)


def _refuse_second_document(event: yaml.Event, documents: int) -> None:
    if documents > 1:
        raise _RefusalError(
            _place(event), "a second document begins here", "keep one document in a file"
        )


def _place(event: yaml.Event) -> Place:
    mark = event.start_mark
    return Place(mark.line + 1, mark.column + 1) if mark else NOWHERE
