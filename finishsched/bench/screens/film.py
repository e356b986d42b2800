"""A piece in section: film, hollow and veneer drawn with their numbers, and what follows."""

from __future__ import annotations

from typing import ClassVar, NamedTuple

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content

from finishsched.bench import bindings, keys
from finishsched.bench.screens.card import Body, Card, line, reading_foot
from finishsched.bench.screens.page import PageText, Paragraph
from finishsched.bench.widgets.drawn import Drawn, lines
from finishsched.film.drawing import Section, cross_section
from finishsched.model.shop import ShownUnits
from finishsched.workshop.base.shown import um_told

LOW_HEIGHT, HEIGHT = 6, 9
_HIGH_SCREEN = 23


class Seen(NamedTuple):
    """A piece in section, and the units that its figures are told in."""

    section: Section
    units: ShownUnits = ShownUnits()

    def tell(self, um: float) -> str:
        """Return a thickness in words."""
        return um_told(um, self.units)


class SectionDrawing(Drawn[Seen]):
    """The cross-section, as wide as the card."""

    GROWS = True

    def draw(self, facts: Seen, width: int) -> Content:
        """Return the drawing for ``width`` cells; none where it cannot be drawn whole."""
        height = HEIGHT if self.app.size.height >= _HIGH_SCREEN else LOW_HEIGHT
        rows = cross_section(facts.section, width, height, facts.tell)
        return lines(*(Content(row) for row in rows))


class FilmCard(Card):
    """Before paper what it bears, then the drawing and sentences; turned with the arrow keys."""

    BINDINGS: ClassVar[list[BindingType]] = [bindings.binding(key) for key in keys.READING]

    def __init__(
        self,
        title: str,
        seen: Seen,
        paragraphs: tuple[Paragraph, ...],
        first: tuple[Paragraph, ...] = (),
    ) -> None:
        super().__init__()
        self._title = title
        self.seen = seen
        self.paragraphs = paragraphs
        self.first = first
        """What to know before the paper touches: above the drawing, so that nobody has to turn."""

    def compose(self) -> ComposeResult:
        """Lay out the drawing and the sentences."""
        with Body():
            yield line(self._title, "bold")
            if self.first:
                yield PageText(self.first, classes="before")
            yield SectionDrawing(id="section")
            yield PageText(self.paragraphs, classes="after")
            yield reading_foot()

    def on_mount(self) -> None:
        """Show the drawing."""
        self.query_one(SectionDrawing).show(self.seen)
