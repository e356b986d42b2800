"""What is other in a new tree than in the old one, written into the text where it stands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from difflib import SequenceMatcher

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
    start: int
    end: int
    text: str


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
        parts, position = [], 0
        for stroke in sorted(self._strokes, key=lambda stroke: stroke.start):
            parts += [self._text[position : stroke.start], stroke.text]
            position = max(position, stroke.end)
        return "".join([*parts, self._text[position:]])

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
            if _known(was, at) and to_be.get(at.entries[0][0].key) is not None:
                self.fields(was, to_be, at)
                return
        elif (
            isinstance(was, Items)
            and isinstance(to_be, Items)
            and at.kind == "items"
            and to_be.items
            and len(at.items) == len(was.items)
        ):
            self._items(was, to_be, at)
            return
        self._write_anew(to_be, at, key)

    def _items(self, was: Items, to_be: Items, at: Span) -> None:
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
        after = rest_of_line(self._text, at.end).strip()
        was_on_line = not at.in_block and "\n" not in self._text[at.start : at.end]
        on_line = bool(after) or rendering.fits_on_line(node)
        if at.in_flow or (was_on_line and on_line):
            self._stroke(at.start, at.end, rendering.on_line(node))
            return
        begin = at if key is None else key
        if key is not None and on_line:
            lines = rendering.entry_on_line(key.key, node)
        elif key is not None:
            lines = rendering.entry(key.key, node, key.column)
        else:
            lines = rendering.on_line(node) if on_line else _within_item(node, at.column)
        found = comments(self._text, begin.start, at.end)
        above = "".join(f"{comment}\n{' ' * begin.column}" for comment in found)
        self._stroke(begin.start, at.end, above + lines)

    def _put_in_entry(
        self, key: str, node: Node, at: Span, before: tuple[Span, Span] | None
    ) -> None:
        first = at.entries[0][0]
        margin = " " * first.column
        lines = rendering.entry(key, node, first.column)
        if before is None:
            self._stroke(first.start, first.start, lines + "\n" + margin)
        else:
            self._add_line(before[1].end, margin + lines)

    def _put_in_item(self, node: Node, at: Span, last: Span | None) -> None:
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
            moved_by = column - (dash - line_start(self._text, dash))
            lines = (self._text[dash : span.end] + rest_of_line(self._text, span.end)).splitlines()
            mark = None if _mark(old) else _mark(node)
            if mark is not None:
                within = " " * (span.start - line_start(self._text, span.start))
                lines.append(within + rendering.entry_on_line(mark[0], mark[1]))
            return "\n".join([lines[0], *(_shifted(line, moved_by) for line in lines[1:])])
        return None

    def _add_line(self, after: int, lines: str) -> None:
        position = next_line(self._text, after)
        ended = position > 0 and self._text[position - 1] in "\r\n"
        self._stroke(position, position, lines + "\n" if ended else "\n" + lines)

    def _take_out_entry(self, at: Span, key: Span, value: Span) -> None:
        if self._alone_before(key):
            begin, end = line_start(self._text, key.start), next_line(self._text, value.end)
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
        dash = self._text.rfind("-", 0, item.start)
        begin = line_start(self._text, dash)
        if self._text[begin:dash].strip():
            begin = dash
        self._stroke(begin, next_line(self._text, item.end), "")

    def _alone_before(self, key: Span) -> bool:
        return not self._text[line_start(self._text, key.start) : key.start].strip(" \ufeff")

    def _rebuilt_fields(self, was: Fields, to_be: Fields, at: Span) -> str:
        parts = []
        for key, value in to_be.entries:
            pair = at.get(key.value)
            if pair is not None and same(was.get(key.value), value):
                parts.append(self._text[pair[0].start : pair[1].end])
            else:
                parts.append(rendering.entry_on_line(key.value, value))
        return "{" + ", ".join(parts) + "}" + self._kept_comments(at)

    def _rebuilt_items(
        self, was: Items, turns: list[tuple[int | None, Node | None]], at: Span
    ) -> str:
        parts = []
        for old, new in turns:
            if old is not None and same(was.items[old], new):
                parts.append(self._text[at.items[old].start : at.items[old].end])
            elif new is not None:
                parts.append(rendering.on_line(new))
        return "[" + ", ".join(parts) + "]" + self._kept_comments(at)

    def _kept_comments(self, at: Span) -> str:
        found = list(comments(self._text, at.start, at.end))
        return "".join(f"  {comment}" for comment in found)

    def _stroke(self, start: int, end: int, text: str) -> None:
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
        return len(one.items) == len(other.items) and all(
            same(a, b) for a, b in zip(one.items, other.items, strict=True)
        )
    if isinstance(one, Fields) and isinstance(other, Fields):
        return _keys(one) == _keys(other) and all(
            same(a, b) for (_, a), (_, b) in zip(one.entries, other.entries, strict=True)
        )
    return False


def _same_but_mark(old: Fields, new: Fields) -> bool:
    """Tell whether two items say the same, but that the new one may have a name besides."""
    kept = [(key, value) for key, value in new.entries if key.value not in _MARKS]
    return same(old, new) or (_mark(old) is None and same(old, Fields(kept)))


def _mark(item: Fields) -> tuple[str, Node] | None:
    """Return the name of its own that an item has, with the key it is written by."""
    return next(((k.value, value) for k, value in item.entries if k.value in _MARKS), None)


def _shifted(line: str, by: int) -> str:
    """Return a line further in or out, as far as it has room to go."""
    if by >= 0:
        return " " * by + line if line.strip() else line
    return line[min(-by, len(line) - len(line.lstrip(" "))) :]


def _keys(fields: Fields) -> list[str]:
    return [key.value for key, _ in fields.entries]


def _known(was: Fields, at: Span) -> bool:
    """Tell whether the text has the keys that the model wrote: else it says it another way."""
    return bool(at.entries) and all(at.get(key) is not None for key in _keys(was))


def _turns(was: Items, to_be: Items) -> list[tuple[int | None, Node | None]]:
    """Return what becomes of each item: from which old one, into what; None for none.

    Items are the same by what they are called, so that one put in before them moves none.
    """
    names = [_name(item) for item in was.items]
    new_names = [_name(item) for item in to_be.items]
    turns: list[tuple[int | None, Node | None]] = []
    for _, i, i_end, j, j_end in SequenceMatcher(None, names, new_names, False).get_opcodes():  # noqa: FBT003
        both = min(i_end - i, j_end - j)
        turns += [(i + k, to_be.items[j + k]) for k in range(both)]
        turns += [(k, None) for k in range(i + both, i_end)]
        turns += [(None, to_be.items[k]) for k in range(j + both, j_end)]
    return turns


def _within_item(node: Node, column: int) -> str:
    """Return the lines of an item that begins at ``column``, behind its dash."""
    return rendering.item(node, column - 2)[2:]


def _name(node: Node) -> tuple[str, ...]:
    """Return what an item is called: its first key and value, or its text."""
    if isinstance(node, Text):
        return (node.value,)
    if isinstance(node, Fields) and node.entries:
        key, value = node.entries[0]
        return (key.value, value.value if isinstance(value, Text) else "")
    return ()
