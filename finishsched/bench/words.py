"""How the bench says things: times, spans, the air, bars. Pure functions on plain values."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from datetime import datetime, tzinfo

from rich.cells import cell_len, chop_cells, set_cell_size

from finishsched.drying.clock import CureClock
from finishsched.workshop.base.answers import AirView, BenchView, Window, WindowKind
from finishsched.workshop.base.spans import (
    away,
    dated,
    day,
    reckoned,
    span,
    today,
    wall,
    weekday_of,
)

# The words that every face has.
__all__ = ("away", "dated", "day", "reckoned", "span", "today", "wall", "weekday_of")


def plain(text: str) -> str:
    """Return a user's text as one line without control or direction characters."""
    spaced = " ".join(text.split())
    return "".join(c for c in spaced if unicodedata.category(c) not in ("Cc", "Cf", "Cs", "Co"))


def titled(text: str, titles: Mapping[str, str]) -> str:
    """Return a text with titles for references, as the rows have them."""
    if not titles:
        return text
    refs = "|".join(re.escape(ref) for ref in sorted(titles, key=len, reverse=True))
    return re.sub(rf"(?<![\w/-])({refs})(?![\w/-])", lambda found: titles[found[0]], text)


def window_name(window: Window, view: BenchView) -> str:
    """Return what a window is of, as the rows call it; a batch by its own name."""
    if window.kind is WindowKind.POT:
        return plain(window.name)
    titles = {piece.ref: piece.title for piece in view.pieces}
    return plain(titles.get(window.name) or window.name.rpartition("/")[2])


def late(minutes: int) -> str:
    """Return by how much something is late, as short as a column is: ``6 d late``."""
    days, hours = divmod(minutes // 60, 24)
    if days:
        return f"{days} d late"
    return f"{hours} h late" if hours else f"{minutes} min late"


def temperature(celsius: float, unit: str) -> str:
    """Return a temperature in ``degC`` or ``degF``; any other unit is shown as degC."""
    if unit == "degF":
        return f"{celsius * 9 / 5 + 32:.0f} degF"
    return f"{celsius:.1f}".removesuffix(".0") + " degC"


def age(view: AirView, now: datetime) -> str:
    """Return how old the reading is, and that it is too old where it is."""
    if view.read_at is None:
        return "usual air, no reading yet"
    gone = f"read {span((now - view.read_at).total_seconds())} ago"
    return f"{gone}: too old, read it anew" if view.is_old else gone


def air(view: AirView, now: datetime, zone: tzinfo, unit: str) -> tuple[str, ...]:
    """Return the air strip in parts, the most wanted first."""
    answer = view.answer
    warmth = temperature(answer.temperature_c, unit)
    parts = [
        f"{warmth}, old" if view.is_old else warmth,
        f"{answer.humidity_percent:.0f} %",
        f"dew {temperature(answer.dew_point_c, unit)}",
        f"wood {answer.emc_percent:.1f} %",
    ]
    if view.surface_c is not None:
        parts.insert(2, f"surface {temperature(view.surface_c, unit)}")
    if view.read_at is None or (view.is_old and not view.points):
        parts.insert(2, age(view, now))
    elif not view.points:
        parts.append(f"read {wall(view.read_at, now, zone)}")
    return tuple(parts)


def join_to_fit(parts: tuple[str, ...], width: int, gap: str = " · ") -> str:
    """Join as many of the first ``parts`` as fit into ``width`` cells."""
    text = ""
    for part in parts:
        longer = f"{text}{gap}{part}" if text else part
        if cell_len(longer) > width:
            break
        text = longer
    return text


def fit(text: str, width: int) -> str:
    """Return ``text`` in exactly ``width`` cells: padded, or cut with an ellipsis."""
    if cell_len(text) <= width:
        return set_cell_size(text, max(0, width))
    return set_cell_size(text, width - 1) + "…" if width > 0 else ""


def wrap(text: str, width: int) -> list[str]:
    """Return ``text`` in lines of at most ``width`` cells, broken between words where it can be."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        for part in chop_cells(word, max(2, width)):
            longer = f"{line} {part}" if line else part
            if cell_len(longer) <= width:
                line = longer
            else:
                lines.append(line)
                line = part
    return [*lines, line] if line or not lines else lines


def wait_bar(clock: CureClock, width: int) -> tuple[str, str]:
    """Return a wait as a bar in two parts, gone by and still to come.

    Its whole length is the time from the coat to the slow end of the range; the marks stand at
    the earliest and at the likely time.
    """
    whole_s = max(1.0, (clock.latest_at - clock.laid_at).total_seconds())

    def column(instant: datetime) -> int:
        share = (instant - clock.laid_at).total_seconds() / whole_s
        return min(width, max(0, round(share * width)))

    cells = ["─"] * width
    gone = column(clock.now)
    cells[:gone] = ["━"] * gone
    for instant, mark in ((clock.earliest_at, "╷"), (clock.likely_at, "┃")):
        cells[min(width - 1, column(instant))] = mark
    return "".join(cells[:gone]), "".join(cells[gone:])
