"""Every piece in a row of its own: all rows are one widget, which draws those that are in sight."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from textual import events
from textual.content import Content
from textual.geometry import Region, Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.selection import Selection
from textual.strip import Strip
from textual.style import Style
from textual.visual import RenderOptions

from finishsched.bench.widgets.drawn import is_roomy, is_touched
from finishsched.bench.widgets.row import RowFacts, RowRoom, draw_row
from finishsched.workshop.base.answers import BenchView

_CHOSEN = "piece-list--chosen"
_MARGIN = 1
"""Between the rows and what stands to the right of them."""


class PieceList(ScrollView, can_focus=False):
    """The rows. All take their facts; a row is drawn from them once it comes into sight."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {_CHOSEN}

    class Touched(Message):
        """Somebody pointed at a row."""

        def __init__(self, ref: str) -> None:
            super().__init__()
            self.ref = ref

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002  # Textual's own name
        super().__init__(id=id)
        self.set_reactive(PieceList.auto_links, False)  # noqa: FBT003  # rows have no links
        self.rows: tuple[RowFacts, ...] = ()
        self._drawn: dict[int, Content] = {}
        """The rows in sight, by their place, as they were drawn last."""
        self._drawn_for = self._room
        self._shown: tuple[str, list[str]] = ("", [])

    # What it shows.

    def show(
        self,
        view: BenchView,
        chosen: str,
        moved: Mapping[str, str],
        late_min: Mapping[str, int],
    ) -> None:
        """Show the pieces of ``view``, the chosen one in sight."""
        self.rows = tuple(
            RowFacts(
                piece,
                view.now,
                piece.ref == chosen,
                moved.get(piece.ref, ""),
                late_min.get(piece.ref, 0),
            )
            for piece in view.pieces
        )
        self.redraw()
        refs = [piece.ref for piece in view.pieces]
        # A list that was turned by hand stays there until another row is chosen, or rows move.
        if chosen in refs and self._shown != (chosen, refs) and self.in_sight:
            self._shown = (chosen, refs)
            self._bring_into_sight()
            # What else changed may leave the list less room, which is known once that is laid out.
            self.call_after_refresh(self._bring_into_sight)

    def _bring_into_sight(self) -> None:
        for place, row in enumerate(self.rows):
            if row.chosen:
                self.scroll_to_region(self.region_of(place), animate=False)

    def redraw(self) -> None:
        """Draw what is in sight from the facts at hand; leave alone what stays the same."""
        room = self._room
        self.virtual_size = Size(0, len(self.rows) * room.height)
        before = self._drawn if room == self._drawn_for else {}
        if room != self._drawn_for:
            self.refresh()
        self._drawn_for = room
        self._drawn = {place: draw_row(self.rows[place], room) for place in self.in_sight}
        for place, drawn in self._drawn.items():
            if place not in before or not drawn.is_same(before[place]):
                self.refresh_lines(place * room.height, room.height)
        for gone in before.keys() - self._drawn.keys():
            self.refresh_lines(gone * room.height, room.height)

    @property
    def in_sight(self) -> range:
        """The places of the rows that are in sight, in whole or in part."""
        window, height = self.scrollable_content_region, self._room.height
        if window.width <= _MARGIN:
            return range(0)
        first = self.scroll_offset.y
        last = -(-(first + window.height) // height)
        return range(first // height, min(last, len(self.rows)))

    def drawn_row(self, place: int) -> Content:
        """Return the row at ``place`` as it is drawn, from the facts at hand."""
        if self._room != self._drawn_for:
            self._drawn, self._drawn_for = {}, self._room
        if place not in self._drawn:
            self._drawn[place] = draw_row(self.rows[place], self._room)
        return self._drawn[place]

    def region_of(self, place: int) -> Region:
        """Return where the row at ``place`` stands among all of them."""
        room = self._room
        return Region(0, place * room.height, room.width + _MARGIN, room.height)

    @property
    def is_whole(self) -> bool:
        """False while rows are in sight that were drawn for another room than there is now."""
        return not self.rows or self._room == self._drawn_for or self._room.width <= 0

    @property
    def _room(self) -> RowRoom:
        roomy = self.is_attached and is_roomy(self.app)
        high = roomy or (self.is_attached and is_touched(self.app))
        width = self.scrollable_content_region.width - _MARGIN
        return RowRoom(width, 2 if high else 1, roomy)

    # What the toolkit asks.

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:  # noqa: ARG002  # Textual's own
        """Return how many lines all rows take."""
        return len(self.rows) * self._room.height

    def on_resize(self) -> None:
        """Draw for the new room."""
        self.redraw()

    def on_click(self, event: events.Click) -> None:
        """Say which piece was pointed at."""
        place = (event.y + self.scroll_offset.y) // self._room.height
        if place < len(self.rows):
            self.post_message(self.Touched(self.rows[place].piece.ref))

    def render_line(self, y: int) -> Strip:
        """Return the line ``y`` of what is in sight."""
        line = self.scroll_offset.y + y
        place, below = divmod(line, self._room.height)
        if place >= len(self.rows):
            return Strip.blank(self.size.width, self.visual_style.rich_style)
        chosen = (_CHOSEN,) if self.rows[place].chosen else ()
        style = self.get_visual_style(*chosen)
        drawn = self._selected(self.drawn_row(place).split("\n")[below], line)
        options = RenderOptions(self._get_style, {})
        (strip,) = drawn.render_strips(self._room.width, 1, style, options)
        ground = (style + Style(reverse=False)).rich_style
        return strip.extend_cell_length(self.size.width, ground).apply_offsets(0, line)

    def _selected(self, drawn: Content, line: int) -> Content:
        """Return a line with what somebody marked in it to copy."""
        selection = self.text_selection
        span = selection.get_span(line) if selection is not None else None
        if span is None:
            return drawn
        marked = Style.from_styles(self.screen.get_component_styles("screen--selection"))
        start, end = span
        return drawn.stylize(marked, start, None if end < 0 else end)

    def get_selection(self, selection: Selection) -> tuple[str, str]:
        """Return what is marked, of rows out of sight too."""
        text = "\n".join(draw_row(facts, self._room).plain for facts in self.rows)
        return selection.extract(text), "\n"
