"""A page to read: why, the keys, the notices."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content

from finishsched.bench import bindings, keys, words
from finishsched.bench.screens.card import Body, Card, line, reading_foot
from finishsched.bench.widgets.drawn import Drawn, hanging, lines


@dataclass(frozen=True, slots=True)
class Paragraph:
    """One paragraph of a page, with a word in its margin."""

    margin: str
    text: str
    style: str = ""


class PageText(Drawn[tuple[Paragraph, ...]]):
    """Paragraphs, all their margins as wide as the widest word in one."""

    GROWS = True

    def __init__(self, facts: tuple[Paragraph, ...] = (), *, classes: str = "") -> None:
        super().__init__()
        self.add_class(*classes.split())
        self.facts = facts

    def draw(self, facts: tuple[Paragraph, ...], width: int) -> Content:
        """Return the paragraphs wrapped to ``width``."""
        indent = max((len(paragraph.margin) for paragraph in facts), default=0)
        indent = min(indent + 2 if indent else 0, 24)
        return lines(*(text for part in facts for text in _paragraph(part, width, indent)))


def _paragraph(part: Paragraph, width: int, indent: int) -> list[Content]:
    own_indent = indent if part.margin else 0
    return hanging(part.margin, words.plain(part.text), width, own_indent, part.style)


class Page(Card):
    """Paragraphs on a card, turned with the arrow keys."""

    BINDINGS: ClassVar[list[BindingType]] = [bindings.binding(key) for key in keys.READING]

    def __init__(self, title: str, paragraphs: tuple[Paragraph, ...]) -> None:
        super().__init__()
        self._title = title
        self.paragraphs = paragraphs

    def compose(self) -> ComposeResult:
        """Lay out title and paragraphs."""
        with Body():
            yield line(self._title, "bold")
            yield PageText(self.paragraphs)
            yield reading_foot()
