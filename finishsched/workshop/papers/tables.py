"""The journal as tables, for spreadsheets and for those who come after this program."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import TypeAlias

from finishsched.journal import events
from finishsched.journal.events import Event, utc_text
from finishsched.journal.shelf import shelf
from finishsched.model.recipe import Weighed
from finishsched.model.step import Step
from finishsched.workshop.base.shown import shown_of
from finishsched.workshop.base.words import entry_words
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.film.surfaces import readings_of
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.where import every_standing

Cell: TypeAlias = str | float | int | None


@dataclass(frozen=True, slots=True)
class Table:
    """A table with a row of headings; every row is as long as they are."""

    name: str
    headings: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


def tables(workshop: Workshop) -> tuple[Table, ...]:
    """Return pieces, coats, entries, air, stock and readings, each as a table."""
    pieces = every_standing(workshop)
    return (
        Table("pieces", _PIECE, tuple(map(_piece, pieces))),
        Table("coats", _COAT, tuple(row for s in pieces for row in _coats(s, workshop))),
        Table("entries", _ENTRY, tuple(_entries(pieces, workshop))),
        Table("air", _AIR, tuple(_air(workshop))),
        Table("stock", _STOCK, tuple(_stock(workshop))),
        Table("readings", _READING, tuple(row for s in pieces for row in _readings(s, workshop))),
    )


_PIECE = ("piece", "title", "job", "schedule", "species", "area_m2", "veneer_mm", "due",
          "steps_done", "steps_in_all", "finished")  # fmt: skip
_COAT = ("piece", "step", "title", "place", "done_at_utc", "ready_at_utc", "not_yet_checks",
         "product", "cut_g_per_l", "thinned_percent", "grade", "batch", "amount_ml", "amount_g",
         "temperature_c", "humidity_percent", "by", "note")  # fmt: skip
_ENTRY = ("number", "at_utc", "logged_at_utc", "piece", "kind", "words", "by", "undone")
_READING = ("piece", "at_utc", "zone", "measure", "angle_deg", "gloss", "l", "a", "b", "grade",
            "by")  # fmt: skip
_AIR = ("at_utc", "temperature_c", "humidity_percent", "movement_m_per_s")
_STOCK = ("name", "what", "product", "since_utc", "had", "left", "unit", "cut_g_per_l",
          "thinned_percent", "lots", "parts")  # fmt: skip


def _piece(standing: Standing) -> tuple[Cell, ...]:
    piece, progress = standing.piece, standing.progress
    due = piece.due or (standing.job.due if standing.job else None)
    return (
        standing.ref,
        piece.title,
        standing.job.title if standing.job else "",
        "+".join(piece.schedules),
        piece.species,
        piece.area_m2,
        piece.veneer_mm,
        due.isoformat() if due else "",
        progress.steps_passed if progress else 0,
        len(standing.steps),
        "yes" if progress and progress.finished else "no",
    )


def _coats(standing: Standing, workshop: Workshop) -> Iterator[tuple[Cell, ...]]:
    if standing.progress is None:
        return
    checks = _checks(workshop.book().live(standing.ref))
    for step, event in standing.progress.done:
        what = event.what
        assert isinstance(what, events.StepDone)  # noqa: S101
        ready_at, not_yet = checks.get(step.key, (None, 0))
        yield (
            standing.ref,
            step.number,
            step.title,
            step.place,
            utc_text(event.at, "seconds"),
            utc_text(ready_at, "seconds") if ready_at else "",
            not_yet,
            step.product or "",
            step.cut_g_per_l,
            step.thinned_percent,
            step.grade or "",
            what.batch,
            what.amount_ml,
            what.amount_g,
            what.air.temperature_c if what.air else None,
            what.air.humidity_percent if what.air else None,
            what.by,
            what.note,
        )


def _checks(live: tuple[Event, ...]) -> dict[str, tuple[datetime | None, int]]:
    """Return by step when it was found ready, and how often it was not."""
    found: dict[str, tuple[datetime | None, int]] = {}
    for event in live:
        what = event.what
        if isinstance(what, events.PieceStarted):
            found.clear()
        elif isinstance(what, events.StepDone):
            found.pop(what.step, None)
        elif isinstance(what, events.DryReady) and not isinstance(what, events.WentEarly):
            found[what.step] = (event.at, found.get(what.step, (None, 0))[1])
        elif isinstance(what, events.DryNotYet):
            ready_at, count = found.get(what.step, (None, 0))
            found[what.step] = (ready_at, count + 1)
    return found


def _entries(standings: tuple[Standing, ...], workshop: Workshop) -> Iterator[tuple[Cell, ...]]:
    book = workshop.book()
    steps: dict[str | None, dict[str, Step]] = {
        standing.ref: {step.key: step for step in standing.steps} for standing in standings
    }
    shown = shown_of(workshop.papers.shop)
    for event in workshop.every_event():
        yield (
            event.seq,
            utc_text(event.at, "seconds"),
            utc_text(event.logged_at, "seconds"),
            event.piece or "",
            event.what.kind,
            entry_words(event.what, steps.get(event.piece, {}), shown),
            getattr(event.what, "by", ""),
            "undone" if event.id in book.undone else "",
        )


def _air(workshop: Workshop) -> Iterator[tuple[Cell, ...]]:
    for reading in workshop.book().air:
        air = reading.air
        yield (
            utc_text(reading.at, "seconds"),
            air.temperature_c,
            air.humidity_percent,
            air.movement_m_per_s,
        )


def _readings(standing: Standing, workshop: Workshop) -> Iterator[tuple[Cell, ...]]:
    for seen in readings_of(standing, workshop.book()):
        numbers = seen.reading.numbers
        gloss = numbers[0] if len(numbers) == 1 else None
        light, red, yellow = numbers if len(numbers) == 3 else (None, None, None)
        yield (standing.ref, utc_text(seen.at, "seconds"), seen.zone, seen.reading.measure.value,
               seen.reading.angle_deg, gloss, light, red, yellow, seen.reading.grade,
               seen.by)  # fmt: skip


def _part(part: Weighed) -> str:
    by_weight = part.grams is not None
    amount = part.grams if part.grams is not None else part.ml or 0.0
    return f"{part.product} {amount:.6g} {'g' if by_weight else 'ml'}"


def _stock(workshop: Workshop) -> Iterator[tuple[Cell, ...]]:
    standing = shelf(workshop.book())
    for lot in standing.lots:
        yield (lot.name, "lot", lot.product, utc_text(lot.bought_at, "seconds"), lot.had, lot.left,
               "ml" if lot.left_g is None else "g", None, None, "", "")  # fmt: skip
    for batch in standing.batches:
        yield (batch.name, "batch", batch.product, utc_text(batch.mixed_at, "seconds"),
               batch.made_ml, batch.left_ml, "ml", batch.cut_g_per_l, batch.thinned_percent,
               "; ".join(batch.lots),
               "; ".join(map(_part, batch.parts)))  # fmt: skip
