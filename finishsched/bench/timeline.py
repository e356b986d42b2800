"""The coming days as rows of character cells: pure, from a timeline and a width.

A cell is the same length of real time all over a day, so that a day of 23 or 25 hours is drawn as
long as it is.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta, tzinfo
from functools import partial

from textual.content import Content

from finishsched.bench import words
from finishsched.workshop.timeline import Bar, Row, Stretch, Timeline

WORK, WAIT, MAYBE, HOURS, NOW = "█", "─", "~", "·", "▼"
LEGEND = (
    f"{WORK} and letters hands-on",
    f"{WAIT} drying",
    f"{MAYBE} perhaps still",
    f"{HOURS} hours",
    "1 2 3 places taken",
)
LETTERS = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
_CELL_MIN = (15, 30, 60, 120)
_LEAST_LABEL, _MOST_LABEL = 9, 30
_STYLES = {
    WORK: "bold $text-primary",
    WAIT: "$text-secondary",
    MAYBE: "$text-accent",
    HOURS: "$text-muted",
}


@dataclass(frozen=True, slots=True)
class Day:
    """One local day, cut into cells."""

    starts: tuple[datetime, ...]
    """Of each cell, and of the one after the last."""
    zone: tzinfo

    @property
    def cells(self) -> Iterator[tuple[datetime, datetime]]:
        """Each cell's beginning and end."""
        yield from zip(self.starts, self.starts[1:], strict=False)

    @property
    def hours(self) -> float:
        """The length of a cell."""
        return (self.starts[1] - self.starts[0]).total_seconds() / 3600


def day_of(day: date, zone: tzinfo, width: int) -> Day:
    """Return a local day in the finest cells that leave room for names in ``width``."""
    begins, ends = (datetime.combine(day + timedelta(days=n), time(), zone) for n in (0, 1))
    whole_min = (ends.timestamp() - begins.timestamp()) / 60
    room = width - _LEAST_LABEL
    cell_min = next((m for m in _CELL_MIN if whole_min / m <= room), _CELL_MIN[-1])
    count = math.ceil(whole_min / cell_min)
    first = begins.timestamp()
    starts = tuple(
        datetime.fromtimestamp(first + 60 * cell_min * n, zone) for n in range(count + 1)
    )
    return Day(starts, zone)


def letters_of(shown: Timeline) -> Mapping[str, str]:
    """Return a letter for each piece, by its reference."""
    return {row.name: sign for row, sign in zip(shown.pieces, LETTERS, strict=False)}


def day_rows(
    shown: Timeline, day: date, width: int, titles: Mapping[str, str]
) -> Iterator[Content]:
    """Give the rows of one day: the hours, the hands, the pieces with something on, the racks."""
    cut = day_of(day, shown.zone, width)
    letters = letters_of(shown)
    label = min(_MOST_LABEL, max(_LEAST_LABEL, width - len(cut.starts) + 1))
    yield Content(" " * label) + _heads(cut, shown.now)
    for row in shown.hands:
        yield _named(row.name, label) + _signs(cut, partial(_hands, row, letters))
    pieces = [row for row in shown.pieces if any(_touches(bar, cut) for bar in row.bars)]
    for row in pieces:
        name = f"{letters.get(row.name, '*')} {titles.get(row.name, row.name)}"
        yield _named(name, label) + _signs(cut, partial(_piece, row))
    for row in shown.stores:
        if any(_touches(bar, cut) for bar in row.bars):
            yield _store(row, cut, label)
    if not pieces:
        yield Content.styled("no work and no wait on this day", "$text-muted")


def _heads(cut: Day, now: datetime) -> Content:
    """Return the hours along the top, and the mark of now in place of what stands there."""
    step = 3 if cut.hours <= 0.5 else 6
    line = [" "] * (len(cut.starts) - 1)
    for at, (start, end) in enumerate(cut.cells):
        hour = f"{start:%H}".lstrip("0") or "0"
        if start.minute == 0 and start.hour % step == 0 and at + len(hour) <= len(line):
            line[at : at + len(hour)] = hour
        if start <= now < end:
            line[at] = NOW
    text = "".join(line)
    before, mark, after = text.partition(NOW)
    return Content.assemble(
        (before, "$text-muted"), (mark, "bold $text-warning"), (after, "$text-muted")
    )


def _named(name: str, width: int) -> Content:
    return Content.styled(words.fit(words.plain(name), width - 1) + " ", "")


def _signs(cut: Day, sign: Callable[[tuple[datetime, datetime]], str]) -> Content:
    """Return a row of signs, each in its colour, equal ones together."""
    parts: list[tuple[str, str]] = []
    for cell in cut.cells:
        found = sign(cell)
        style = _STYLES.get(found, _STYLES[WORK] if found != " " else "")
        if parts and parts[-1][1] == style:
            parts[-1] = (parts[-1][0] + found, style)
        else:
            parts.append((found, style))
    return Content.assemble(*parts)


def _overlap_s(bar: Bar, cell: tuple[datetime, datetime]) -> float:
    return (min(bar.end, cell[1]) - max(bar.start, cell[0])).total_seconds()


def _most(bars: Sequence[Bar], cell: tuple[datetime, datetime], what: Stretch) -> Bar | None:
    """Return the bar of a kind that takes the most of a cell, if any does."""
    inside = [bar for bar in bars if bar.what is what and _overlap_s(bar, cell) > 0]
    return max(inside, key=lambda bar: _overlap_s(bar, cell), default=None)


def _hands(row: Row, letters: Mapping[str, str], cell: tuple[datetime, datetime]) -> str:
    work = _most(row.bars, cell, Stretch.WORK)
    if work is not None:
        return letters.get(work.ref, "*")
    return HOURS if _most(row.bars, cell, Stretch.OPEN) else " "


def _piece(row: Row, cell: tuple[datetime, datetime]) -> str:
    for what, sign in ((Stretch.WORK, WORK), (Stretch.WAIT, WAIT), (Stretch.MAYBE, MAYBE)):
        if _most(row.bars, cell, what):
            return sign
    return " "


def _store(row: Row, cut: Day, label: int) -> Content:
    """Return how many places are taken at most in each cell; a full one stands out."""
    drawn = _named(f"{row.name} of {row.capacity}", label)
    for cell in cut.cells:
        most = max((bar.amount for bar in row.bars if _overlap_s(bar, cell) > 0), default=0)
        text = " " if not most else str(most) if most < 10 else "+"
        style = "bold $text-warning" if most >= row.capacity else "$text-muted"
        drawn += Content.styled(text, style)
    return drawn


def _touches(bar: Bar, cut: Day) -> bool:
    return bar.end > cut.starts[0] and bar.start < cut.starts[-1]
