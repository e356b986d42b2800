"""A piece of text that is drawn for the room it has, and repainted only when it changed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, ClassVar, Generic, Protocol, TypeVar, runtime_checkable

from textual.app import App
from textual.content import Content
from textual.geometry import Size
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Static

from finishsched.bench import words

Facts = TypeVar("Facts")

ROOMY_HEIGHT = 34
TOUCHED_HEIGHT = 28
"""In a page, on a screen as high as this, letters are as large as they can be."""
LOW_SCREEN = 23
"""On a screen lower than this, what is only good to know gives way to what there is to do."""
LOWEST_HEIGHT, LOWEST_TOUCHED = 16, 20
"""On a screen lower than this only what the hands need has room; more, where rows are high."""


_NEVER = (0, 0)
"""Where what is shown was not drawn yet."""


@runtime_checkable
class FitsItsRoom(Protocol):
    """What is drawn for the room that it has."""

    @property
    def is_whole(self) -> bool:
        """False while what it shows was drawn for another room than it now has."""

    def redraw(self) -> None:
        """Draw from the facts at hand; leave the screen alone when it is the same."""


class Drawn(Static, Generic[Facts]):
    """A static text made from facts and a width. Subclasses say how, in ``draw``."""

    draw: Callable[[Facts, int], Content]
    """Returns the text for so many cells. The toolkit's widgets take no abstract methods."""

    GROWS: ClassVar[bool] = False
    """True when the text decides the height, so that a new text means a new layout."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002  # Textual's own name
        super().__init__("", id=id, markup=False)
        self.set_reactive(Drawn.auto_links, False)  # noqa: FBT003  # we draw what can be tapped
        self.facts: Facts | None = None
        self.drawn = Content("")
        self._drawn_for = _NEVER
        """The room that it was drawn for last: its own width, and the screen's height."""

    def show(self, facts: Facts) -> None:
        """Take new facts and repaint if they change the text."""
        self.facts = facts
        self._drawn_for = _NEVER
        self.redraw()

    def on_resize(self) -> None:
        """Draw again for the new room, unless it was painted in that already."""
        if not self.is_whole:
            self.redraw()

    def redraw(self) -> None:
        """Draw from the facts at hand; leave the screen alone when the text is the same."""
        before = self.drawn
        self._draw_anew()
        if not self.drawn.is_same(before):
            self.refresh(layout=self.GROWS and _height(self.drawn) != self.content_size.height)

    def render(self) -> Content:
        """Return what to paint: drawn here where it has a new room, so that no paint is blank.

        A page makes other room for what opens, and nothing is to be tapped before it has that.
        """
        if not (self.is_whole or self.is_touched):
            self._draw_anew()
        return self.drawn

    def _draw_anew(self) -> None:
        width = self.content_size.width
        if self.facts is not None and width > 0:
            self._drawn_for = self._room
            self.drawn = self.draw(self.facts, width)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Return the height that the text will have, so that one layout gets it right."""
        if self.facts is None or width <= 0:
            return super().get_content_height(container, viewport, width)
        return _height(self.draw(self.facts, width))

    @property
    def is_whole(self) -> bool:
        """False while what it shows was drawn for another room than it now has."""
        return self.facts is None or self._drawn_for == self._room or self._room[0] <= 0

    @property
    def _room(self) -> tuple[int, int]:
        return self.content_size.width, self.app.size.height

    @property
    def is_roomy(self) -> bool:
        """True when the screen is high enough for larger letters and lines of air between."""
        return is_roomy(self.app)

    @property
    def is_touched(self) -> bool:
        """True in a page: what a finger chooses is two lines high."""
        return is_touched(self.app)

    @property
    def is_seen_from_afar(self) -> bool:
        """True in a page with room for letters that are read from across the room."""
        return self.is_touched and self.app.size.height >= TOUCHED_HEIGHT

    @property
    def is_lowest(self) -> bool:
        """True where only what the hands need has room."""
        return is_lowest(self.app)


def not_whole(screen: Screen[Any]) -> Iterator[FitsItsRoom]:
    """Return what shows on ``screen`` as it was drawn for another room than it now has."""
    for part in screen.query(Widget):
        if isinstance(part, FitsItsRoom) and not part.is_whole:
            yield part


def draw_what_is_not_whole(screen: Screen[Any]) -> None:
    """Draw what has its old width still, on a screen of another height."""
    for part in not_whole(screen):
        part.redraw()


def fit(screen: Screen[Any]) -> None:
    """Give a screen that opens the look for the room it has, so that it is laid out once.

    The toolkit does so only after the first layout, and what was painted in that would move.
    """
    if is_touched(screen.app):
        return  # a page makes other room for what opens
    width, height = screen.app.size
    of_width, of_height = screen.HORIZONTAL_BREAKPOINTS or [], screen.VERTICAL_BREAKPOINTS or []
    for cells, looks in ((width, of_width), (height, of_height)):
        fitting = max((look for look in looks if look[0] <= cells), default=None)
        for look in looks:
            screen.set_class(look == fitting, look[1])


def is_roomy(app: App[Any]) -> bool:
    """Tell whether the screen of ``app`` is high enough for lines of air between others."""
    return app.size.height >= ROOMY_HEIGHT


def is_touched(app: App[Any]) -> bool:
    """Tell whether ``app`` shows in a page, where what a finger chooses is two lines high."""
    return app.has_class("-touch")


def is_lowest(app: App[Any]) -> bool:
    """Tell whether only what the hands need has room on the screen of ``app``."""
    least = LOWEST_TOUCHED if is_touched(app) else LOWEST_HEIGHT
    return app.size.height < least


def _height(drawn: Content) -> int:
    return drawn.plain.count("\n") + 1


def lines(*parts: Content) -> Content:
    """Return ``parts`` one below the other."""
    return Content("\n").join(parts)


def apart(left: Content, right: Content, width: int) -> Content:
    """Return ``left`` and ``right`` at the two ends of one line; the right gives way."""
    room = width - left.cell_length
    if right.cell_length + 2 > room:
        return left if room >= 0 else left.truncate(width, ellipsis=True)
    return left + Content(" " * (room - right.cell_length)) + right


def hanging(
    label: str, text: str, width: int, indent: int, style: str = "", mark: str = ""
) -> list[Content]:
    """Return a labelled paragraph: the label in the margin, the text wrapped beside it.

    A ``mark`` stands before the text, in the colour of cautions.
    """
    wrapped = words.wrap(text, max(8, width - indent - len(mark)))
    first = Content.assemble(
        (words.fit(label, indent), "$text-muted"), (mark, "bold $text-error"), (wrapped[0], style)
    )
    margin = " " * (indent + len(mark))
    return [first, *(Content.assemble(margin, (line, style)) for line in wrapped[1:])]
