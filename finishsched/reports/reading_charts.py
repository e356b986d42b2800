"""What was read of a surface over time: gloss beside the sheen wanted, and colour."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from finishsched.model.readings import Measure, colour_apart, sheen_band
from finishsched.reports import charts
from finishsched.workshop.film.surfaces import FIELD, Seen
from finishsched.workshop.papers.records import Record

DASHES = {60: "", 20: "5 3", 85: "1.5 3"}
"""Each angle has a line of its own kind, so that no colour has to tell them apart."""
MOST_GLOSS = 100.0
"""What a chart reaches to at least; brighter readings stretch it."""
BAR = 46
"""Signs of a bar in plain text, from 0 to its most."""


def gloss_chart(record: Record) -> dict[str, object] | None:
    """Return the lines of gloss by angle and zone, and the band of the sheen wanted."""
    seen = [one for one in record.readings if one.reading.measure is Measure.GLOSS]
    lines: dict[tuple[int, str], list[tuple[datetime, float]]] = {}
    for one in seen:
        key = (one.reading.angle_deg or 60, one.zone)
        lines.setdefault(key, []).append((one.at, one.reading.numbers[0]))
    chart = _chart(record, [pair for line in lines.values() for pair in line], MOST_GLOSS)
    if chart is None:
        return None
    x, y, drawn = chart
    wanted = sheen_band(record.sheen_wanted)
    if wanted is not None:
        low, high = y(wanted[0]), y(min(wanted[1], MOST_GLOSS))
        drawn["band"] = {"top": high, "height": round(low - high, 1)}
        drawn["wanted"] = record.sheen_wanted
    drawn["lines"] = [
        {
            "points": charts.points((x(at.timestamp()), y(value)) for at, value in line),
            "dots": [(x(at.timestamp()), y(value)) for at, value in line],
            "dash": DASHES[angle],
            "text": f"{angle}°" if zone == FIELD else f"{angle}° {zone}",
        }
        for (angle, zone), line in lines.items()
    ]
    return drawn


def colour_chart(record: Record) -> dict[str, object] | None:
    """Return how far the colour of each zone went from its first reading; None before a second."""
    lines = dict(_colours(record.readings))
    chart = _chart(record, [pair for line in lines.values() for pair in line], 1.0)
    if chart is None:
        return None
    x, y, drawn = chart
    drawn["lines"] = [
        {
            "points": charts.points((x(at.timestamp()), y(value)) for at, value in line),
            "dots": [(x(at.timestamp()), y(value)) for at, value in line],
            "dash": "",
            "text": "" if zone == FIELD else zone,
        }
        for zone, line in lines.items()
    ]
    return drawn


def text_lines(record: Record) -> Iterator[str]:
    """Give every reading as a line, and gloss at 60 degrees as bars beside the sheen wanted."""
    for one in record.readings:
        place = "" if one.zone == FIELD else f", {one.zone}"
        by = f" ({one.by})" if one.by else ""
        yield f"{_day(record, one.at)}  {one.reading.words}{place}{by}"
    glosses = [one for one in record.readings if one.reading.angle_deg == 60 and one.zone == FIELD]
    if not glosses:
        return
    most = max(MOST_GLOSS, *(one.reading.numbers[0] for one in glosses))
    wanted = sheen_band(record.sheen_wanted)
    says = f"; = where {record.sheen_wanted} lies, which is wanted" if wanted else ""
    yield f"gloss at 60 degrees, 0 to {most:g}{says}:"
    for one in glosses:
        yield f"{_day(record, one.at)} |{_bar(one.reading.numbers[0], wanted, most)}|"


def _bar(gloss: float, wanted: tuple[float, float] | None, most: float) -> str:
    def place(value: float) -> int:
        return min(BAR - 1, int(value / most * BAR))

    signs = [" "] * BAR
    if wanted is not None:
        for at in range(place(wanted[0]), place(min(wanted[1], most)) + 1):
            signs[at] = "="
    signs[place(gloss)] = "*"
    return "".join(signs)


def _colours(readings: Sequence[Seen]) -> Iterator[tuple[str, list[tuple[datetime, float]]]]:
    """Give each zone whose colour was read more than once, and how far it had gone each time."""
    seen = [one for one in readings if one.reading.measure is Measure.COLOUR]
    for zone in dict.fromkeys(one.zone for one in seen):
        of_zone = [one for one in seen if one.zone == zone]
        first = of_zone[0].reading.numbers
        if len(of_zone) > 1:
            yield zone, [(one.at, colour_apart(first, one.reading.numbers)) for one in of_zone]


def _chart(
    record: Record, known: Sequence[tuple[datetime, float]], least: float
) -> tuple[charts.Scale, charts.Scale, dict[str, object]] | None:
    if not known:
        return None
    at = [when for when, _ in known]
    x, days = charts.along(min(at), max(at), record.zone)
    y, marks = charts.up([least, *(value for _, value in known)], from_zero=True)
    return x, y, {"days": days, "marks": marks, "band": None}


def _day(record: Record, at: datetime) -> str:
    return f"{at.astimezone(record.zone):%Y-%m-%d %H:%M}"
