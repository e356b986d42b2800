"""What a finger can tap, cell by cell: a late tap is held against what lay there when it came."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple, TypeAlias

from textual.errors import NoWidget
from textual.geometry import Region
from textual.screen import Screen
from textual.widget import Widget

from finishsched.bench.widgets.piece_list import PieceList
from finishsched.bench.widgets.taps import TapSource

_SAID_FOR_A_WHILE = "Toast"
"""The toolkit's own box for what is said for some seconds; a tap takes it away."""


class Target(NamedTuple):
    """One thing to tap: where it stands, and what it is."""

    region: Region
    of: int
    """Which widget it is of, by its identity."""
    ref: str = ""
    """Which piece, for a row of the list."""

    def is_same_as(self, other: Target | None) -> bool:
        """Tell whether it is the same thing, wherever that stands."""
        return other is not None and (self.of, self.ref) == (other.of, other.ref)


Lay: TypeAlias = tuple[Target, ...]
"""Everything that can be tapped on a screen, what lies above after what it lies on."""


def lay_of(screen: Screen[Any]) -> Lay:
    """Return what can be tapped on ``screen``, and where, as it is laid out now."""
    return tuple(_targets(screen))


def target_at(lay: Lay, x: int, y: int) -> Target | None:
    """Return what lies on top at a cell, counted from 0; None where nothing can be tapped."""
    return next((target for target in reversed(lay) if target.region.contains(x, y)), None)


def _targets(screen: Screen[Any]) -> Iterator[Target]:
    for widget in screen.query(Widget):
        region = _seen_of(screen, widget) if _is_tapped(widget) else Region()
        if not region:
            continue
        if isinstance(widget, PieceList):
            yield from _rows(widget, region)
        else:
            yield Target(region, id(widget))


def _rows(pieces: PieceList, seen: Region) -> Iterator[Target]:
    corner = pieces.region.offset - pieces.scroll_offset
    for place in pieces.in_sight:
        region = pieces.region_of(place).translate(corner).intersection(seen)
        if region:
            yield Target(region, id(pieces), pieces.rows[place].piece.ref)


def _is_tapped(widget: Widget) -> bool:
    named = type(widget).__name__ == _SAID_FOR_A_WHILE
    return named or hasattr(widget, "on_click") or isinstance(widget, TapSource)


def _seen_of(screen: Screen[Any], widget: Widget) -> Region:
    try:
        return screen.find_widget(widget).visible_region
    except NoWidget:
        return Region()
