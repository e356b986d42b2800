"""The coming days as rows of character cells: pure, from a timeline and a width.

A cell is the same length of real time all over a day, so that a day of 23 or 25 hours is drawn as
long as it is.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta, tzinfo
from itertools import groupby

from textual.content import Content

from finishsched.bench import words
from finishsched.workshop.plan.timeline import Bar, Row, Stretch, Timeline

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

    def cells_of(self, bar: Bar) -> Iterator[tuple[int, float]]:
        """Give each cell that a stretch touches, and how many seconds of it it takes."""
        begins = self.starts[0].timestamp()
        cell_s = self.starts[1].timestamp() - begins
        first_s = bar.start.timestamp() - begins
        last_s = bar.end.timestamp() - begins
        low = max(0, math.floor(first_s / cell_s))
        high = min(len(self.starts) - 1, math.ceil(last_s / cell_s))
        for cell in range(low, high):
            enters_s = max(first_s, cell * cell_s)
            leaves_s = min(last_s, (cell + 1) * cell_s)
            yield cell, leaves_s - enters_s

    @property
    def hours(self) -> float:
        """The length of a cell."""
        return (self.starts[1] - self.starts[0]).total_seconds() / 3600


def day_of(day: date, zone: tzinfo, width: int) -> Day:
    """Return a local day in the finest cells that leave room for names.

    Args:
        day: the date.
        zone: where it begins at midnight.
        width: characters there are for names and cells.

    """
    begins_s = datetime.combine(day, time(), zone).timestamp()
    ends_s = datetime.combine(day + timedelta(days=1), time(), zone).timestamp()
    whole_min = (ends_s - begins_s) / 60
    room = width - _LEAST_LABEL
    fitting = [minutes for minutes in _CELL_MIN if whole_min / minutes <= room]
    cell_min = fitting[0] if fitting else _CELL_MIN[-1]
    cells = math.ceil(whole_min / cell_min)
    starts_s = [begins_s + 60 * cell_min * number for number in range(cells + 1)]
    return Day(tuple(datetime.fromtimestamp(at_s, zone) for at_s in starts_s), zone)


def letters_of(shown: Timeline) -> Mapping[str, str]:
    """Return a letter for each piece, by its reference."""
    return {row.name: sign for row, sign in zip(shown.pieces, LETTERS, strict=False)}


def day_rows(
    shown: Timeline,
    day: date,
    width: int,
    titles: Mapping[str, str],
) -> Iterator[Content]:
    """Give the rows of one day: the hours, the hands, the pieces with something on, the racks.

    Args:
        shown: the coming days.
        day: one of them.
        width: characters there are for a row.
        titles: what people call each piece, by its reference.

    """
    cut = day_of(day, shown.zone, width)
    letters = letters_of(shown)
    label = min(_MOST_LABEL, max(_LEAST_LABEL, width - len(cut.starts) + 1))
    yield Content(" " * label) + _heads(cut, shown.now)
    for row in _cut(shown.hands, cut):
        yield _named(row.name, label) + _signs(_hands(row, cut, letters))
    pieces = [row for row in _cut(shown.pieces, cut) if row.bars]
    for row in pieces:
        name = f"{letters.get(row.name, '*')} {titles.get(row.name, row.name)}"
        yield _named(name, label) + _signs(_piece(row, cut))
    for row in _cut(shown.stores, cut):
        if row.bars:
            yield _store(row, cut, label)
    if not pieces:
        yield Content.styled("no work and no wait on this day", "$text-muted")


def _heads(cut: Day, now: datetime) -> Content:
    """Return the hours along the top, and the mark of now in place of an hour that it touches."""
    every = 3 if cut.hours <= 0.5 else 6
    line = [" "] * (len(cut.starts) - 1)
    mark = _cell_of(now, cut)
    for at, (start, _) in enumerate(cut.cells):
        hour = str(start.hour)
        ends = at + len(hour)
        is_told = start.minute == 0 and start.hour % every == 0
        is_marked = at <= mark < ends
        if is_told and not is_marked and ends <= len(line):
            line[at:ends] = hour
    text = "".join(line)
    if mark < 0:
        return Content.styled(text, "$text-muted")
    return Content.assemble(
        (text[:mark], "$text-muted"),
        (NOW, "bold $text-warning"),
        (text[mark + 1 :], "$text-muted"),
    )


def _cell_of(now: datetime, cut: Day) -> int:
    """Return the cell that an instant lies in; -1 where it lies in none."""
    for at, (start, end) in enumerate(cut.cells):
        if start <= now < end:
            return at
    return -1


def _named(name: str, width: int) -> Content:
    """Return a name in so many characters, cut where it is longer."""
    return Content.styled(words.fit(words.plain(name), width - 1) + " ", "")


def _signs(signs: Iterable[str]) -> Content:
    """Return a row of signs, each in its colour, equal ones together."""
    parts: list[tuple[str, str]] = []
    for style, alike in groupby(signs, key=_style_of):
        parts.append(("".join(alike), style))
    return Content.assemble(*parts)


def _style_of(sign: str) -> str:
    """Return the style of a sign; a letter stands for work."""
    if sign == " ":
        return ""
    return _STYLES.get(sign, _STYLES[WORK])


def _hands(row: Row, cut: Day, letters: Mapping[str, str]) -> list[str]:
    """Return the letter of the piece that takes the most of each cell, or that there are hours."""
    signs = [" "] * (len(cut.starts) - 1)
    most_s = [0.0] * len(signs)
    for bar in row.bars:
        for cell, taken_s in cut.cells_of(bar):
            if bar.what is Stretch.OPEN and signs[cell] == " ":
                signs[cell] = HOURS
            elif bar.what is Stretch.WORK and taken_s > most_s[cell]:
                signs[cell] = letters.get(bar.ref, "*")
                most_s[cell] = taken_s
    return signs


def _piece(row: Row, cut: Day) -> list[str]:
    """Return what becomes of a piece in each cell: work before drying, drying before perhaps."""
    signs = [" "] * (len(cut.starts) - 1)
    for what, sign in ((Stretch.MAYBE, MAYBE), (Stretch.WAIT, WAIT), (Stretch.WORK, WORK)):
        for bar in row.bars:
            if bar.what is what:
                for cell, _ in cut.cells_of(bar):
                    signs[cell] = sign
    return signs


def _store(row: Row, cut: Day, label: int) -> Content:
    """Return how many places are taken at most in each cell; a full one stands out."""
    most = [0] * (len(cut.starts) - 1)
    for bar in row.bars:
        for cell, _ in cut.cells_of(bar):
            most[cell] = max(most[cell], bar.amount)
    parts = [(_places(taken), _fullness(taken, row.capacity)) for taken in most]
    return Content.assemble(_named(f"{row.name} of {row.capacity}", label), *parts)


def _places(taken: int) -> str:
    """Return a figure for so many places, a plus for more than nine."""
    if not taken:
        return " "
    return str(taken) if taken < 10 else "+"


def _fullness(taken: int, capacity: int) -> str:
    """Return the style of so many places taken."""
    return "bold $text-warning" if taken >= capacity else "$text-muted"


def _cut(rows: Sequence[Row], cut: Day) -> Iterator[Row]:
    """Give each row with the bars of the day alone, so that no cell looks at more."""
    begins, ends = cut.starts[0], cut.starts[-1]
    for row in rows:
        inside = tuple(bar for bar in row.bars if bar.end > begins and bar.start < ends)
        yield replace(row, bars=inside)
