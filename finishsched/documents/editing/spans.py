"""Where every value of a document stands in its text, from the first character to the last."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import yaml

# Only the pure-Python parser tells the end of a plain text to the character.
_LOADER: Any = yaml.SafeLoader


@dataclass(slots=True)
class Span:
    """One value: a text, a list or keys with values, and where it stands."""

    start: int
    end: int
    column: int
    """From 0: of the first key, or of the dash of the first item."""
    kind: str
    """'text', 'items' or 'fields'."""
    in_block: bool
    """True for a list or keys on lines of their own, and for text after ``|`` or ``>``."""
    in_flow: bool = False
    """True for what stands within brackets."""
    entries: list[tuple[Span, Span]] = field(default_factory=list)
    """Of keys with values: each key and its value."""
    items: list[Span] = field(default_factory=list)
    key: str = ""
    """Of a text: what it says."""

    @property
    def holds_on_line(self) -> bool:
        """True for brackets, and for all that is within brackets."""
        return self.in_flow or not self.in_block

    def get(self, name: str) -> tuple[Span, Span] | None:
        """Return the key called ``name`` with its value."""
        return next((pair for pair in self.entries if pair[0].key == name), None)

    def _close(self, end: int) -> None:
        """End where the last part ends: a block's own end mark lies beyond the comments after."""
        parts = [value for _, value in self.entries] or self.items
        self.end = parts[-1].end if self.in_block and parts else end


def spans(text: str) -> Span:
    """Return the whole document in ``text``, which has been read without fault before."""
    stack: list[tuple[Span, list[Span]]] = []
    root: Span | None = None
    events: Iterator[Any] = yaml.parse(text, Loader=_LOADER)  # each with its marks
    for event in events:
        if isinstance(event, yaml.ScalarEvent):
            done = _text(event, text)
            done.in_flow = bool(stack) and stack[-1][0].holds_on_line
        elif isinstance(event, (yaml.SequenceStartEvent, yaml.MappingStartEvent)):
            opened = _opened(event)
            opened.in_flow = bool(stack) and stack[-1][0].holds_on_line
            stack.append((opened, []))
            continue
        elif isinstance(event, yaml.CollectionEndEvent):
            done, parts = stack.pop()
            _fill(done, parts)
            done._close(_end(event))  # noqa: SLF001  # of this module's own class
        else:
            continue
        if stack:
            stack[-1][1].append(done)
        else:
            root = done
    assert root is not None  # noqa: S101  # an empty document is refused in reading
    return root


def _text(event: Any, text: str) -> Span:
    start, end = event.start_mark.index, event.end_mark.index
    in_block = event.style in ("|", ">")
    if in_block:
        end = start + len(text[start:end].rstrip())
    return Span(start, end, event.start_mark.column, "text", in_block, key=event.value)


def _opened(event: Any) -> Span:
    kind = "items" if isinstance(event, yaml.SequenceStartEvent) else "fields"
    mark = event.start_mark
    return Span(mark.index, mark.index, mark.column, kind, not event.flow_style)


def _end(event: Any) -> int:
    return int(event.end_mark.index)


def _fill(span: Span, parts: list[Span]) -> None:
    if span.kind == "items":
        span.items = parts
    else:
        span.entries = list(zip(parts[::2], parts[1::2], strict=True))


def comments(text: str, start: int, end: int) -> Iterator[str]:
    """Give the comments that stand in ``text`` from ``start`` to ``end``, each from its ``#``."""
    last = 0
    tokens: Iterator[Any] = yaml.scan(text, Loader=_LOADER)
    for token in tokens:
        begin = token.start_mark.index
        yield from _in_gap(text, max(last, start), min(begin, end))
        last = max(last, token.end_mark.index)
        if getattr(token, "style", None) in ("|", ">") and start <= begin < end:
            header = text[begin : _line_end(text, begin)]
            yield from re.findall(r"\s(#.*)", header)
    yield from _in_gap(text, max(last, start), end)


def _in_gap(text: str, start: int, end: int) -> list[str]:
    return [found.rstrip() for found in re.findall(r"#[^\r\n]*", text[start:end])]


def _line_end(text: str, position: int) -> int:
    found = re.compile(r"\r?\n|\r").search(text, position)
    return found.start() if found else len(text)


def line_start(text: str, position: int) -> int:
    """Return where the line of ``position`` begins."""
    return max(text.rfind("\n", 0, position), text.rfind("\r", 0, position)) + 1


def rest_of_line(text: str, position: int) -> str:
    """Return what stands on the line after ``position``, without its end."""
    return text[position : _line_end(text, position)]


def next_line(text: str, position: int) -> int:
    """Return where the line after that of ``position`` begins."""
    end = _line_end(text, position)
    return end + (2 if text.startswith("\r\n", end) else 1 if end < len(text) else 0)
