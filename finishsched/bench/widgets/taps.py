"""What can be tapped: a text that does what a key does, and a line of keys with their words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol, runtime_checkable

from textual.content import Content
from textual.style import Style

from finishsched.bench import keys
from finishsched.bench.widgets.drawn import Drawn, lines

_GAP, _NARROW_GAP, _NARROW = "   ", "  ", 40


@dataclass(frozen=True, slots=True)
class Tap:
    """One key with its word, and what a press or a tap sets off."""

    key: str
    words: str
    action: str
    said: str = ""
    """What it comes to now, in a sentence, where that is known."""


@runtime_checkable
class TapSource(Protocol):
    """What offers taps; a page around the bench shows them as buttons of its own."""

    def taps(self) -> Sequence[Tap]:
        """Return what can be tapped here now."""


def tap(key: keys.Key, words: str = "", name: str = "") -> Tap:
    """Return a key of the table to be tapped; ``name`` is the key in force, where it is known."""
    return Tap(name or keys.shown(key.keys.split(",")[0]), words or key.words, key.tap)


def tapped(content: Content, action: str) -> Content:
    """Return ``content``; a tap on it runs ``action``."""
    return content.stylize(Style.from_meta({"@click": action}))


def _drawn_tap(one: Tap) -> Content:
    """Return a key and its word."""
    said = Content.assemble((one.key, "bold $text-primary"), (f" {one.words}", "$text-muted"))
    return tapped(said, one.action)


class TapLine(Drawn[Sequence[Tap]]):
    """Keys with their words, in as many lines as they take."""

    GROWS = True

    def __init__(self, taps: Sequence[Tap], *, classes: str = "") -> None:
        super().__init__()
        self.add_class(*classes.split())
        self.facts = tuple(taps)

    def taps(self) -> Sequence[Tap]:
        """Return them all."""
        return self.facts or ()

    def draw(self, facts: Sequence[Tap], width: int) -> Content:
        """Return the keys wrapped to ``width``."""
        drawn: list[Content] = []
        gap = _GAP if width >= _NARROW else _NARROW_GAP
        for one in facts:
            hint = _drawn_tap(one)
            longer = drawn[-1].cell_length + len(gap) + hint.cell_length if drawn else width + 1
            if longer <= width:
                drawn[-1] = Content.assemble(drawn[-1], gap, hint)
            else:
                drawn.append(hint)
        return lines(*drawn)


def as_fit(taps: Sequence[Tap], width: int, gap: str = _GAP) -> Content:
    """Return as many of the first keys as fit into one line."""
    line = Content("")
    for one in taps:
        hint = _drawn_tap(one)
        apart = gap if line else ""
        if line.cell_length + len(apart) + hint.cell_length > width:
            break
        line = Content.assemble(line, apart, hint)
    return line
