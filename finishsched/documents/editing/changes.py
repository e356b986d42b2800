"""What is other in a new tree than in the old one, written into the text where it stands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import TypeAlias

from finishsched.documents.editing import rendering
from finishsched.documents.editing.spans import (
    Span,
    comments,
    line_start,
    next_line,
    rest_of_line,
)
from finishsched.documents.nodes import Fields, Items, Node, Text

_MARKS = ("mark", "id")
"""Keys, of today and of before, by which an item has a name of its own."""


@dataclass(frozen=True, slots=True)
class _Stroke:
    """Characters from one place up to another, and the text to stand instead."""

    start: int
    end: int
    text: str


Turn: TypeAlias = tuple[int | None, Node | None]
"""What becomes of an item: the place of the old one, and the new one; None for none."""


class Pen:
    """Gathers changes to one text, and makes them all at once.

    Each method takes what was, what is to be, and where it stands.
    """

    def __init__(self, text: str, was: Fields, at: Span) -> None:
        self._text = text
        self._stood = list(stood(was, at))
        self._line_end = "\r\n" if "\r\n" in text else "\n"
        self._strokes: list[_Stroke] = []

    def text(self) -> str:
        """Return the text with every change made."""
        parts: list[str] = []
        position = 0
        for stroke in sorted(self._strokes, key=lambda stroke: stroke.start):
            kept = self._text[position : stroke.start]
            parts += [kept, stroke.text]
            position = max(position, stroke.end)
        parts.append(self._text[position:])
        return "".join(parts)

    def fields(self, was: Fields, to_be: Fields, at: Span) -> None:
        """Change keys with values."""
        if not at.in_block and _keys(was) != _keys(to_be):
            self._stroke(at.start, at.end, self._rebuilt_fields(was, to_be, at))
            return
        for key, _ in was.entries:
            pair = at.get(key.value)
            if to_be.get(key.value) is None and pair is not None:
                self._take_out_entry(at, *pair)
        before: tuple[Span, Span] | None = None
        for key, value in to_be.entries:
            pair = at.get(key.value)
            if pair is None:
                self._put_in_entry(key.value, value, at, before)
                continue
            before = pair
            old = was.get(key.value)
            if not same(old, value):
                self._value(old, value, pair[1], key=pair[0])

    def _value(self, was: Node | None, to_be: Node, at: Span, key: Span | None) -> None:
        """Change one value, of a key or of an item of a list, part by part where that can be."""
        if isinstance(was, Fields) and isinstance(to_be, Fields) and at.kind == "fields":
            first_stays = _known(was, at) and to_be.get(at.entries[0][0].key) is not None
            if first_stays:
                self.fields(was, to_be, at)
                return
        if isinstance(was, Items) and isinstance(to_be, Items) and at.kind == "items":
            all_stand_there = len(at.items) == len(was.items)
            if to_be.items and all_stand_there:
                self._items(was, to_be, at)
                return
        self._write_anew(to_be, at, key)

    def _items(self, was: Items, to_be: Items, at: Span) -> None:
        """Change items of a list."""
        turns = _turns(was, to_be)
        moved = any(old is None or new is None for old, new in turns)
        if not at.in_block and moved:
            self._stroke(at.start, at.end, self._rebuilt_items(was, turns, at))
            return
        last: Span | None = None
        for old, new in turns:
            if old is None and new is not None:
                self._put_in_item(new, at, last)
                continue
            assert old is not None  # noqa: S101  # one of the two is always there
            last = at.items[old]
            if new is None:
                self._take_out_item(last)
            elif not same(was.items[old], new):
                self._value(was.items[old], new, last, key=None)

    def _write_anew(self, node: Node, at: Span, key: Span | None) -> None:
        """Write a value as a whole; comments that stood in it go above it.

        Args:
            node: what is to be.
            at: where the old one stands.
            key: its key, where it has one; an item of a list has none.

        """
        after = rest_of_line(self._text, at.end).strip()
        was_on_line = not at.in_block and "\n" not in self._text[at.start : at.end]
        on_line = bool(after) or rendering.fits_on_line(node)
        if at.in_flow or (was_on_line and on_line):
            self._stroke(at.start, at.end, rendering.on_line(node))
            return
        begin = at if key is None else key
        margin = " " * begin.column
        found = comments(self._text, begin.start, at.end)
        above = "".join([f"{comment}\n{margin}" for comment in found])
        self._stroke(begin.start, at.end, above + _lines(node, at, key, on_line=on_line))

    def _put_in_entry(
        self,
        key: str,
        node: Node,
        at: Span,
        before: tuple[Span, Span] | None,
    ) -> None:
        """Write a new key with its value, behind the one before it, or as the first."""
        first = at.entries[0][0]
        margin = " " * first.column
        lines = rendering.entry(key, node, first.column)
        if before is None:
            self._stroke(first.start, first.start, lines + "\n" + margin)
        else:
            self._add_line(before[1].end, margin + lines)

    def _put_in_item(self, node: Node, at: Span, last: Span | None) -> None:
        """Write a new item, behind the one before it, or as the first."""
        margin = " " * at.column
        lines = self._as_it_stood(node, at.column) or rendering.item(node, at.column)
        if last is None:
            self._stroke(at.start, at.start, lines + "\n" + margin)
        else:
            self._add_line(last.end, margin + lines)

    def _as_it_stood(self, node: Node, column: int) -> str | None:
        """Return the lines of an item that stands elsewhere in the text, with its comments."""
        for old, span in self._stood:
            if not isinstance(node, Fields) or not _same_but_mark(old, node):
                continue
            dash = self._text.rfind("-", 0, span.start)
            whole = self._text[dash : span.end] + rest_of_line(self._text, span.end)
            first, *others = whole.splitlines()
            mark = None if _mark(old) else _mark(node)
            if mark is not None:
                key, value = mark
                within = " " * self._column(span.start)
                others.append(within + rendering.entry_on_line(key, value))
            moved_by = column - self._column(dash)
            return "\n".join([first, *[_shifted(line, moved_by) for line in others]])
        return None

    def _column(self, position: int) -> int:
        """Return how many characters stand before a place on its line."""
        return position - line_start(self._text, position)

    def _add_line(self, after: int, lines: str) -> None:
        """Write lines of their own below the line that a place is on."""
        position = next_line(self._text, after)
        ended = position > 0 and self._text[position - 1] in "\r\n"
        self._stroke(position, position, lines + "\n" if ended else "\n" + lines)

    def _take_out_entry(self, at: Span, key: Span, value: Span) -> None:
        """Take out a key with its value, and its lines where it has them to itself."""
        if self._alone_before(key):
            begin = line_start(self._text, key.start)
            end = next_line(self._text, value.end)
            if self._text.startswith("\ufeff") and begin == 0:
                begin = 1
            self._stroke(begin, end, "")
            return
        # The first key of an item stands behind its dash, which stays for the key after it.
        position = at.entries.index((key, value))
        end = value.end
        if position + 1 < len(at.entries):
            following = at.entries[position + 1][0].start
            if not self._text[value.end : following].strip():
                end = following
        self._stroke(key.start, end, "")

    def _take_out_item(self, item: Span) -> None:
        """Take out an item with its dash, and its lines where it has them to itself."""
        dash = self._text.rfind("-", 0, item.start)
        begin = line_start(self._text, dash)
        if self._text[begin:dash].strip():
            begin = dash
        self._stroke(begin, next_line(self._text, item.end), "")

    def _alone_before(self, key: Span) -> bool:
        """Tell whether nothing stands before a key on its line."""
        before = self._text[line_start(self._text, key.start) : key.start]
        return not before.strip(" \ufeff")

    def _rebuilt_fields(self, was: Fields, to_be: Fields, at: Span) -> str:
        """Return keys with values on one line, what is the same as it stood."""
        parts: list[str] = []
        for key, value in to_be.entries:
            pair = at.get(key.value)
            if pair is not None and same(was.get(key.value), value):
                begin, end = pair
                parts.append(self._text[begin.start : end.end])
            else:
                parts.append(rendering.entry_on_line(key.value, value))
        return "{" + ", ".join(parts) + "}" + self._kept_comments(at)

    def _rebuilt_items(self, was: Items, turns: list[Turn], at: Span) -> str:
        """Return a list on one line, what is the same as it stood."""
        parts: list[str] = []
        for old, new in turns:
            if old is not None and same(was.items[old], new):
                there = at.items[old]
                parts.append(self._text[there.start : there.end])
            elif new is not None:
                parts.append(rendering.on_line(new))
        return "[" + ", ".join(parts) + "]" + self._kept_comments(at)

    def _kept_comments(self, at: Span) -> str:
        """Return the comments of a stretch, to stand behind what is written in its place."""
        found = comments(self._text, at.start, at.end)
        return "".join([f"  {comment}" for comment in found])

    def _stroke(self, start: int, end: int, text: str) -> None:
        """Note a change, with the ends of lines that the text has."""
        lines = text.replace("\n", self._line_end) if self._line_end != "\n" else text
        self._strokes.append(_Stroke(start, end, lines.replace("\r\r\n", "\r\n")))


def stood(was: Node | None, at: Span) -> Iterator[tuple[Fields, Span]]:
    """Give each item on lines of its own that is keys with values, and where it stands."""
    if isinstance(was, Fields) and at.kind == "fields":
        for key, value in at.entries:
            yield from stood(was.get(key.key), value)
    elif isinstance(was, Items) and at.kind == "items" and len(at.items) == len(was.items):
        for item, span in zip(was.items, at.items, strict=True):
            if isinstance(item, Fields) and at.in_block and span.in_block:
                yield item, span
            yield from stood(item, span)


def same(one: Node | None, other: Node | None) -> bool:
    """Tell whether two trees say the same, wherever they stand."""
    if isinstance(one, Text) and isinstance(other, Text):
        return one.value == other.value
    if isinstance(one, Items) and isinstance(other, Items):
        return _all_same(one.items, other.items)
    if isinstance(one, Fields) and isinstance(other, Fields):
        return _keys(one) == _keys(other) and _all_same(_values(one), _values(other))
    return False


def _all_same(ones: Sequence[Node], others: Sequence[Node]) -> bool:
    """Tell whether trees say the same, one by one."""
    if len(ones) != len(others):
        return False
    return all(same(one, other) for one, other in zip(ones, others, strict=True))


def _same_but_mark(old: Fields, new: Fields) -> bool:
    """Tell whether two items say the same, but that the new one may have a name besides."""
    kept = [(key, value) for key, value in new.entries if key.value not in _MARKS]
    return same(old, new) or (_mark(old) is None and same(old, Fields(kept)))


def _mark(item: Fields) -> tuple[str, Node] | None:
    """Return the name of its own that an item has, with the key it is written by."""
    for key, value in item.entries:
        if key.value in _MARKS:
            return key.value, value
    return None


def _shifted(line: str, by: int) -> str:
    """Return a line further in or out, as far as it has room to go."""
    if by >= 0:
        return " " * by + line if line.strip() else line
    room = len(line) - len(line.lstrip(" "))
    return line[min(-by, room) :]


def _keys(fields: Fields) -> list[str]:
    return [key.value for key, _ in fields.entries]


def _values(fields: Fields) -> list[Node]:
    return [value for _, value in fields.entries]


def _known(was: Fields, at: Span) -> bool:
    """Tell whether the text has the keys that the model wrote: else it says it another way."""
    return bool(at.entries) and all(at.get(key) is not None for key in _keys(was))


def _turns(was: Items, to_be: Items) -> list[Turn]:
    """Return what becomes of each item: from which old one, into what.

    Items are the same by what they are called, so that one put in before them moves none.
    """
    names = [_name(item) for item in was.items]
    new_names = [_name(item) for item in to_be.items]
    matcher = SequenceMatcher(None, names, new_names, autojunk=False)
    turns: list[Turn] = []
    for _, old, old_end, new, new_end in matcher.get_opcodes():
        in_pairs = min(old_end - old, new_end - new)
        turns += [(old + number, to_be.items[new + number]) for number in range(in_pairs)]
        turns += [(gone, None) for gone in range(old + in_pairs, old_end)]
        turns += [(None, item) for item in to_be.items[new + in_pairs : new_end]]
    return turns


def _lines(node: Node, at: Span, key: Span | None, *, on_line: bool) -> str:
    """Return a value with its key, or an item without its dash, on one line or on several."""
    if key is None:
        return rendering.on_line(node) if on_line else _within_item(node, at.column)
    if on_line:
        return rendering.entry_on_line(key.key, node)
    return rendering.entry(key.key, node, key.column)


def _within_item(node: Node, column: int) -> str:
    """Return the lines of an item that begins at ``column``, behind its dash."""
    return rendering.item(node, column - 2)[2:]


def _name(node: Node) -> tuple[str, ...]:
    """Return what an item is called: its first key and value, or its text."""
    if isinstance(node, Text):
        return (node.value,)
    if isinstance(node, Fields) and node.entries:
        key, value = node.entries[0]
        said = value.value if isinstance(value, Text) else ""
        return (key.value, said)
    return ()
