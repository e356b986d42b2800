"""Values of a document as people type them: no brackets, no quotes, no keys that go without saying.

``Ana, Rui`` is a list, ``18 degC, 60 %`` the air, ``drying rack, capacity 6, for pad and brush`` a
store, ``2 h to 3 h between, 12 h to 1 day after`` the waits of a step. YAML in brackets will do.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from finishsched.documents.codec import Leaf, ListOf
from finishsched.documents.editing.rendering import on_line
from finishsched.documents.leaves import LINE
from finishsched.documents.lines.waiting import spoken, waits_in_words
from finishsched.documents.nodes import Fields, Items, Node, Text
from finishsched.documents.parsing import parse
from finishsched.documents.records import Key, Member, Record
from finishsched.refusals import RefusalError

_BETWEEN = ", "
_APART = "; "
_WORD = re.compile(r"[^\s,{}\[\]]+")
_OF_A_LIST = re.compile(r"\s+and\s+|\s*/\s*")


def readings_of(member: Member, key: str, text: str, name: str) -> list[Node]:
    """Return what a typed value may mean, the likeliest first; each is to be tried."""
    text = text.strip()
    if text.startswith(("{", "[")):
        return [parse(text.encode("utf-8"), name)]
    if key == "wait" and (waits := waits_in_words(text)) is not None:
        return [waits]
    codec = member.codec if isinstance(member, Key) else None
    if isinstance(codec, Record):
        is_word = bool(codec.words) and _WORD.fullmatch(text) is not None
        return [Text(text)] if is_word else [_record(codec, text), Text(text)]
    if isinstance(codec, ListOf) and isinstance(codec.item, Record):
        return [Items([_record(codec.item, part) for part in _parts(text, ";")])]
    if isinstance(codec, ListOf) or not isinstance(member, Key):
        return _lists(member, text)
    return [Text(text)]


def _lists(member: Member, text: str) -> list[Node]:
    """Return a list by semicolons, as one thing, or by commas."""
    codec = member.codec if isinstance(member, Key) else None
    by_commas: list[Node] = [Items([Text(part) for part in _parts(text, ",")])]
    if not isinstance(member, Key):
        parted = [Items([Text(part) for part in _parts(text, ";")])] if ";" in text else by_commas
        return [Text(text), *parted]
    found: list[Node] = [Items([Text(part) for part in _parts(text, ";")])]
    if isinstance(codec, ListOf) and codec.or_one and ";" not in text:
        found = [Text(text), *found]
    return found if ";" in text else [*found, *by_commas]


def in_words(member: Member, key: str, node: Node) -> str:
    """Return a value as it may be typed; as YAML on one line where words would read otherwise."""
    if isinstance(node, Text):
        return node.value
    if key == "wait":
        said = spoken(node)
    else:
        codec = member.codec if isinstance(member, Key) else None
        said = _said(node, codec)
    read = readings_of(member, key, said, "value") if said else []
    taken = read[-1:] if not isinstance(member, Key) else read[:1]
    return said if taken and _plain(taken[0]) == _plain(node) else on_line(node)


def _plain(node: Node) -> Any:
    """Return what a value says, however it is written."""
    if isinstance(node, Fields):
        return {key.value: _plain(value) for key, value in node.entries}
    return [_plain(item) for item in node.items] if isinstance(node, Items) else node.value


def _said(node: Node, codec: Any) -> str:
    if isinstance(node, Fields) and isinstance(codec, Record):
        return _fields_said(node)
    if not isinstance(node, Items):
        return ""
    if all(isinstance(item, Text) for item in node.items):
        # Names are parted by commas, as they are typed; what has a key may have commas within.
        apart = _BETWEEN if codec is None else _APART
        return apart.join(item.value for item in node.items if isinstance(item, Text))
    return _APART.join(_fields_said(item) for item in node.items if isinstance(item, Fields))


def _fields_said(fields: Fields) -> str:
    return _BETWEEN.join(f"{key.value} {_value_said(value)}" for key, value in fields.entries)


def _value_said(node: Node) -> str:
    if isinstance(node, Items):
        return " and ".join(_value_said(item) for item in node.items)
    return node.value if isinstance(node, Text) else on_line(node)


def _parts(text: str, sign: str) -> list[str]:
    return [part.strip() for part in text.split(sign) if part.strip()]


def _record(record: Record[Any], text: str) -> Node:
    """Return the entries: by their keys, and those without one in the order of the record."""
    names = [name for member in record.members for name in member.names]
    entries: list[tuple[Text, Node]] = []
    for part in _parts(text, ","):
        key, value = _keyed(part, names)
        if key is None:
            taken = {said.value for said, _ in entries}
            free = [name for name in names if name not in taken]
            key = _by_its_figure(record, free, part) or next(iter(free), names[-1])
        entries.append((Text(key), _value(record, key, value)))
    if entries and names[0] not in {said.value for said, _ in entries}:
        entries = [*_named(record, names[0]), *entries]
    return Fields(entries)


def _by_its_figure(record: Record[Any], free: Sequence[str], part: str) -> str | None:
    """Return the key that a figure is for, where by its place it would be the name of a thing.

    A room of '12 x 14 x 8 ft' is not called so.
    """
    if not part[0].isdecimal() or not free:
        return None
    first = _codec(record, free[0])
    if first is not LINE and not isinstance(first, ListOf):
        return None
    return next((name for name in free[1:] if _reads(_codec(record, name), part)), None)


def _reads(codec: Any, text: str) -> bool:
    if not isinstance(codec, Leaf):
        return False
    try:
        codec.from_text(text)
    except RefusalError:
        return False
    return True


def _named(record: Record[Any], key: str) -> Sequence[tuple[Text, Node]]:
    """Return the name that a thing without one gets: a room is the room."""
    if _codec(record, key) is not LINE:
        return ()
    return [(Text(key), Text(record.noun.partition(" ")[2]))]


def _codec(record: Record[Any], key: str) -> Any:
    member = next((one for one in record.members if key in one.names), None)
    return member.codec if isinstance(member, Key) else None


def _keyed(part: str, names: Sequence[str]) -> tuple[str | None, str]:
    word, _, rest = part.partition(" ")
    word = word.rstrip(":").lower()
    return (word, rest.strip()) if word in names and rest.strip() else (None, part)


def _value(record: Record[Any], key: str, text: str) -> Node:
    codec = _codec(record, key)
    if isinstance(codec, ListOf):
        parts = [part for part in _OF_A_LIST.split(text) if part]
        if len(parts) > 1 or not codec.or_one:
            return Items([Text(part) for part in parts])
    return Text(text)
