"""The finish record as one page that needs nothing beside it, and as plain text for archives."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from finishsched.mixing.amount import Range
from finishsched.numerals import counted
from finishsched.reports import charts, reading_charts, seal
from finishsched.reports.pages import page
from finishsched.reports.pictures import embedded
from finishsched.safety.deferring import IN_PRINT
from finishsched.units import MASS, TEMPERATURE, convert, show
from finishsched.workshop.base.shown import film_told
from finishsched.workshop.base.words import one_line
from finishsched.workshop.papers.care import EVERY_DAY, FOOD, TRY_FIRST
from finishsched.workshop.papers.records import Record

TEXT_WIDTH = 78


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture in the page."""

    address: str
    caption: str


def record_page(records: Sequence[Record], folder: Path) -> str:
    """Return the page of one or several records; pictures are looked for in ``folder``.

    Raises:
        PictureFaultError: when a picture cannot be put in.

    """
    return seal.sealed(
        page(
            "record.html",
            records=[_view(record, folder) for record in records],
            title=one_line(_title(records)),
            every_day=EVERY_DAY,
            food=FOOD,
            try_first=TRY_FIRST,
            deferral=IN_PRINT,
            how_sealed=seal.HOW,
            blank=seal.BLANK,
        )
    )


def record_text(records: Sequence[Record]) -> str:
    """Return the same as plain text, ``TEXT_WIDTH`` wide."""
    lines = [line for record in records for line in _text(record)]
    lines += ["", *textwrap.wrap(seal.HOW, TEXT_WIDTH), seal.BLANK, ""]
    return seal.sealed("\n".join(lines))


def _title(records: Sequence[Record]) -> str:
    if len(records) == 1:
        return f"Finish record: {records[0].title}"
    return f"Finish record: {records[0].ref.partition('/')[0]}, {counted(len(records), 'piece')}"


def _view(record: Record, folder: Path) -> dict[str, object]:
    """Return what the template shows of a record."""
    zone = record.zone
    return {
        "record": record,
        "state": _state(record),
        "day": _day(record),
        "film": film_told(record.film_um, record.units),
        "films": lambda um: film_told(um, record.units),
        "solvents": list(_solvents(record)),
        "total": show(
            sum(grams for _, grams in record.solvents), MASS, record.units.mass, digits=2
        ),
        "film_chart": _film_chart(record),
        "air_chart": _air_chart(record),
        "gloss_chart": reading_charts.gloss_chart(record),
        "colour_chart": reading_charts.colour_chart(record),
        "picture_rows": [
            (
                row.title,
                [Picture(embedded(folder, p.path), one_line(p.caption)) for p in row.pictures],
            )
            for row in record.pictures
        ],
        "made": f"{record.made_at.astimezone(zone):%Y-%m-%d %H:%M %Z}",
    }


def _day(record: Record) -> Callable[[datetime], str]:
    return lambda at: f"{at.astimezone(record.zone):%Y-%m-%d %H:%M}"


def _state(record: Record) -> str:
    day = _day(record)
    if record.finished_at is not None:
        return f"begun {day(record.begun_at)}, finished {day(record.finished_at)}"
    return f"begun {day(record.begun_at)}, not finished yet"


def _solvents(record: Record) -> Iterator[tuple[str, str]]:
    for name, grams in record.solvents:
        yield name, show(grams, MASS, record.units.mass, digits=2)


def _film_chart(record: Record) -> dict[str, object] | None:
    known = [(line.at, line.film_um) for line in record.work if line.film_um is not None]
    known.sort(key=lambda pair: pair[0])
    if len(known) < 2:
        return None
    x, days = charts.along(known[0][0], known[-1][0], record.zone)
    y, marks = charts.up((film.high for _, film in known), from_zero=True)
    at = [x(instant.timestamp()) for instant, _ in known]

    def line(pick: Callable[[Range], float]) -> list[tuple[float, float]]:
        heights = [y(pick(film)) for _, film in known]
        return charts.stairs(list(zip(at, heights, strict=True)), charts.WIDTH - charts.RIGHT)

    band = line(lambda film: film.high) + line(lambda film: film.low)[::-1]
    return {
        "band": charts.points(band),
        "line": charts.points(line(lambda film: film.likely)),
        "days": days,
        "marks": marks,
    }


def _air_chart(record: Record) -> dict[str, object] | None:
    if len(record.air) < 2:
        return None
    unit = record.units.temperature
    x, days = charts.along(record.air[0].at, record.air[-1].at, record.zone)
    degrees = [convert(point.temperature_c, TEMPERATURE, unit) for point in record.air]
    warm, warm_marks = charts.up(degrees)
    damp, damp_marks = charts.up(point.humidity_percent for point in record.air)
    at = [x(point.at.timestamp()) for point in record.air]
    return {
        "warm": charts.points(zip(at, map(warm, degrees), strict=True)),
        "damp": charts.points(
            (where, damp(point.humidity_percent))
            for where, point in zip(at, record.air, strict=True)
        ),
        "days": days,
        "marks": warm_marks,
        "right_marks": damp_marks,
        "unit": unit.replace("deg", "°"),
    }


def _text(record: Record) -> Iterator[str]:
    day = _day(record)
    yield from _heading(f"FINISH RECORD: {record.title} ({record.ref})", "=")
    yield from _wrapped(f"{record.shop}. {_state(record)}.")
    for name, text in record.facts:
        yield from _wrapped(f"{name}: {text}", "  ")
    yield from _heading("What was done", "-")
    for line in record.work:
        yield from _wrapped(f"{day(line.at)}  {line.what}, {line.place}")
        details = [
            line.product,
            f"out of {line.out_of}" if line.out_of else "",
            line.amount,
            f"air {line.air}" if line.air else "",
            f"by {line.by}" if line.by else "",
            f"film then {film_told(line.film_um, record.units)}" if line.film_um else "",
            line.outcome,
        ]
        yield from _wrapped("; ".join(filter(None, details)), "    ")
    if record.readings:
        yield from _heading("What was read of the surface", "-")
        for words in reading_charts.text_lines(record):
            yield from [words] if words.endswith("|") else _wrapped(words)
    if record.talk:
        yield from _heading("Notes, defects and what was done about them", "-")
        for talk in record.talk:
            by = f" ({talk.by})" if talk.by else ""
            yield from _wrapped(f"{day(talk.at)}  {talk.words}{by}")
    yield from _end(record)


def _end(record: Record) -> Iterator[str]:
    yield from _heading("The film", "-")
    yield from _wrapped(
        f"{film_told(record.film_um, record.units)} over the high spots, reckoned not measured."
    )
    for words in (*record.film_words, *record.beneath):
        yield from _wrapped(f"- {words}")
    if record.solvents:
        listed = ", ".join(f"{name} {amount}" for name, amount in _solvents(record))
        yield from _wrapped(f"Left as vapour: {listed}. {record.solvent_words}".rstrip())
    yield from _heading("Care, repair, removal", "-")
    for words in (*EVERY_DAY, TRY_FIRST):
        yield from _wrapped(words)
    for keeping in record.keeping:
        yield ""
        yield keeping.finish.upper()
        for name, words in (
            ("avoid", keeping.avoid),
            ("repair, by a restorer", keeping.mend),
            ("removal, by a restorer", keeping.remove),
        ):
            yield from _wrapped(f"{name}: {words}", "  ")
    yield from _wrapped(f"{FOOD} {IN_PRINT}")
    yield from _heading("Sources", "-")
    for words in record.sources:
        yield from _wrapped(f"- {words}")
    yield from _wrapped(f"Written by {record.program} on {_day(record)(record.made_at)}.")
    yield ""


def _heading(text: str, line: str) -> Iterator[str]:
    yield ""
    yield from textwrap.wrap(text, TEXT_WIDTH)
    yield line * min(len(text), TEXT_WIDTH)


def _wrapped(text: str, indent: str = "") -> Iterator[str]:
    plain = one_line(text)
    if plain and len(indent) + len(plain) <= TEXT_WIDTH:
        yield f"{indent}{plain}"
        return
    yield from textwrap.wrap(
        plain, TEXT_WIDTH, initial_indent=indent, subsequent_indent=f"{indent}  "
    )
