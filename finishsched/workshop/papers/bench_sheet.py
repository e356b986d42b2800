"""The bench sheet of a piece: its whole schedule as a list to tick, for those who keep paper."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, tzinfo
from enum import StrEnum

from finishsched import __version__
from finishsched.drying.laws import SCHEDULE_AIR
from finishsched.journal import events
from finishsched.journal.events import Event
from finishsched.journal.progress import StepStatus, this_life
from finishsched.model.shop import ShownUnits
from finishsched.model.step import Step
from finishsched.safety.cautions import DEFERRAL, Caution, Danger
from finishsched.units import AREA, LENGTH, TEMPERATURE, show
from finishsched.workshop.amounts.amounts import amounts_of
from finishsched.workshop.amounts.coats import NO_HABIT, Work, habits_along
from finishsched.workshop.amounts.told_amounts import with_amounts
from finishsched.workshop.amounts.uses import habits_of
from finishsched.workshop.base.answers import StepSheet
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.spans import span
from finishsched.workshop.base.words import one_line
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.film.before import risk_words
from finishsched.workshop.film.films import film_answer
from finishsched.workshop.film.sentences import spot_sentences
from finishsched.workshop.film.shown import RowKind
from finishsched.workshop.papers.handbook import topic_of
from finishsched.workshop.papers.sheet_jars import JarsOfSteps
from finishsched.workshop.plan.mixes_ahead import mixes_as_planned
from finishsched.workshop.plan.pots import mix_on_its_day
from finishsched.workshop.plan.step_in_shop import activity_key
from finishsched.workshop.standing.several import find_several, of_each
from finishsched.workshop.standing.sheets import made_of, step_sheet
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.together import Row, rows_of
from finishsched.workshop.standing.waits import Laid
from finishsched.workshop.standing.where import cure_room, find

_KINDS = {
    Danger.FIRE: "fire",
    Danger.VAPOUR: "vapour",
    Danger.RAGS: "rags",
    Danger.DUST: "dust",
    Danger.SKIN: "skin and eyes",
    Danger.HEAT: "heat",
    Danger.OTHER: "also",
}


class Tick(StrEnum):
    """What stands in a box."""

    OPEN = " "
    DONE = "x"
    SKIPPED = "-"


@dataclass(frozen=True, slots=True)
class TickLine:
    """One step to tick: its box, and what the journal knows of it; empty where pencil goes."""

    number: int
    key: str
    coat: str
    """``coat 4 of 8``; empty for a step of one."""
    tick: Tick
    at: datetime | None
    when: str
    """The same by the shop's wall clock: ``2026-11-25 17:36``."""
    air: str
    by: str
    note: str
    """``dry check still to make``, or why it was left out."""


@dataclass(frozen=True, slots=True)
class SheetStep:
    """One step, all coats of it together; every text one line, and empty where there is nothing."""

    title: str
    place: str
    topic: str
    """Of the handbook."""
    how: str
    tool: str
    product: str
    mixes: tuple[tuple[str, str], ...]
    """What to mix, or from which jar to take: the word for it and the text, one for each jar."""
    grade: str
    wet_with: str
    waits: tuple[str, ...]
    dry_check: str
    minds: tuple[str, ...]
    """The schedule's own cautions on this step."""
    hands_on: str
    """For one coat."""
    lines: tuple[TickLine, ...]


@dataclass(frozen=True, slots=True)
class BenchSheet:
    """A piece's schedule, ready to be hung on the wall."""

    ref: str
    title: str
    shop: str
    facts: tuple[tuple[str, str], ...]
    dangers: tuple[tuple[str, tuple[str, ...]], ...]
    """Kinds of danger and their cautions over the whole schedule, the quickest to hurt first."""
    deferral: str
    waits_hold: str
    """In which air the waits hold, and that a dry check ends them."""
    steps: tuple[SheetStep, ...]
    made_at: datetime
    zone: tzinfo
    degrees: str
    """The unit that a temperature is written in: ``degC``."""
    program: str = f"finishsched {__version__}"


def bench_sheet(workshop: Workshop, name: str, now: datetime) -> BenchSheet:
    """Return the sheet of one piece, begun or not, ticked as its journal is at ``now``.

    Raises:
        RefusedError: for an unknown piece, or one whose schedule cannot be read.

    """
    standing = find(workshop, name)
    return _sheet_of(workshop, standing, now, (standing,))


def row_sheets(workshop: Workshop, name: str, now: datetime) -> tuple[BenchSheet, ...]:
    """Return the sheets of several pieces: one for those worked together, with amounts for all.

    Raises:
        RefusedError: for an unknown piece, or one whose schedule cannot be read.

    """
    found = {one.ref: one for one in find_several(workshop, name, finished=True)}
    rows = rows_of(list(found.values()), workshop.book(), now)
    as_worked = [_as_one(row, found) for row in rows]
    members = {row.refs[0]: tuple(found[ref] for ref in row.refs) for row in rows}
    sheets = of_each(as_worked, lambda one: _sheet_of(workshop, one, now, members[one.ref]))
    return tuple(replace(sheet, ref=row.name) for sheet, row in zip(sheets, rows, strict=True))


def _as_one(row: Row, found: Mapping[str, Standing]) -> Standing:
    """Return the pieces of a row as one that has the faces of all."""
    members = [found[ref] for ref in row.refs]
    first = members[0]
    if len(members) == 1:
        return first
    faces = tuple(face for one in members for face in one.piece.faces)
    return replace(first, piece=replace(first.piece, title=row.title, faces=faces))


def _sheet_of(
    workshop: Workshop, standing: Standing, now: datetime, members: tuple[Standing, ...]
) -> BenchSheet:
    if not standing.steps:
        raise RefusedError(
            f"{standing.ref} has no schedule that can be read: {standing.piece.schedule!r}",
            "see finishsched check, and correct the job or the schedule",
        )
    return _Maker(workshop, standing, now, members).sheet()


class _Maker:
    """Makes the sheet of one piece."""

    def __init__(
        self, workshop: Workshop, standing: Standing, now: datetime, members: tuple[Standing, ...]
    ) -> None:
        """``members`` are the pieces that the sheet is of: set-up comes with each."""
        self._workshop = workshop
        self._members = members
        self._amounts = amounts_of(workshop, now)
        self._standing = standing
        self._now = now
        self._units: ShownUnits = workshop.papers.shop.units
        self._habits = habits_along(
            standing.steps,
            standing.piece.species,
            workshop.papers.products,
            habits_of(workshop).own,
        )
        progress = standing.progress
        self._done = {step.key: event for step, event in progress.done} if progress else {}
        self._sheets = {step.key: self._sheet(step) for step in standing.steps}
        self._shared = self._shared_mixes()
        self._jars = JarsOfSteps()
        self._film = film_answer(workshop, standing.ref, now)
        self._risks = {
            row.step.key: risk_words(row, self._film.rules)
            for row in self._film.rows
            if row.step is not None and row.kind is RowKind.AHEAD
        }
        self._skipped = {
            event.what.step: event.what.reason
            for event in this_life(workshop.book().live(standing.ref))
            if isinstance(event.what, events.StepSkipped)
        }

    def _shared_mixes(self) -> dict[str, str]:
        """Return by step what other pieces are served from its mix, as the plan stands."""
        standing = self._standing
        products = {step.product for step in standing.steps if step.product}
        mixes = mixes_as_planned(self._workshop, products, (standing.ref,), self._now)
        found: dict[str, str] = {}
        for mix in mixes:
            words = mix_on_its_day(mix, self._workshop.zone)
            for key in mix.keys if len(mix.keys) > 1 else ():
                found[key] = words
        return {
            step.key: found.get(activity_key(standing.ref, step), "") for step in standing.steps
        }

    def sheet(self) -> BenchSheet:
        groups = itertools.groupby(self._standing.steps, key=lambda s: s.key.rpartition(".")[0])
        return BenchSheet(
            ref=self._standing.ref,
            title=one_line(self._standing.piece.title),
            shop=one_line(self._workshop.papers.shop.name),
            facts=tuple((name, one_line(text)) for name, text in self._facts() if text),
            dangers=tuple(_dangers(self._sheets.values())),
            deferral=DEFERRAL,
            waits_hold=self._waits_hold(),
            steps=tuple(self._step(tuple(steps)) for _, steps in groups),
            made_at=self._now,
            zone=self._workshop.zone,
            degrees=self._units.temperature,
        )

    def _sheet(self, step: Step) -> StepSheet:
        papers, piece, steps = self._workshop.papers, self._standing.piece, self._standing.steps
        sheet = step_sheet(steps, step, piece.area_m2, papers.products, papers.shop, made_of(piece))
        habit = self._habits.get(step.key, NO_HABIT)
        if step.key not in self._done:
            return self._amounts.told(sheet, self._members, habit=habit)
        work = Work(steps, step, piece.area_m2, piece.made_of)
        return with_amounts(sheet, work, papers.products, papers.shop, habit)

    def _facts(self) -> Iterator[tuple[str, str]]:
        piece, job, schedule = self._standing.piece, self._standing.job, self._standing.schedule
        yield "part of", job.title if job else ""
        yield "wood", piece.species
        veneer = piece.veneer_mm
        yield "veneer", show(veneer, LENGTH, self._units.length) if veneer else ""
        yield "area", show(piece.area_m2, AREA, self._units.area, digits=3)
        yield "sheen wanted", piece.sheen
        due = piece.due or (job.due if job else None)
        yield "due", f"{due:%Y-%m-%d}" if due else ""
        yield "schedule", f"{schedule.title} ({schedule.id})" if schedule else ""
        yield "notes", piece.notes
        yield "spots", "; ".join(spot_sentences(self._film))

    def _waits_hold(self) -> str:
        degrees = show(SCHEDULE_AIR.temperature_c, TEMPERATURE, self._units.temperature, digits=3)
        return (
            f"Waits are for {degrees} and {SCHEDULE_AIR.humidity_percent:.0f} % humidity, at the "
            "pace learnt here; colder or damper takes longer. A dry check ends a wait, not the "
            "clock."
        )

    def _step(self, steps: tuple[Step, ...]) -> SheetStep:
        first = steps[0]
        sheet = self._sheets[first.key]
        grades = dict.fromkeys(self._sheets[step.key].abrasive for step in steps)
        coats = f", {first.coats} coats" if first.coats > 1 else ""
        areas_m2 = [one.piece.area_m2 for one in self._members]
        minutes = sum(first.hands_on.minutes(area_m2) for area_m2 in areas_m2)
        each = " a coat" if coats else ""
        mixes = tuple((label, one_line(text)) for label, text in self._from(steps))
        return SheetStep(
            title=f"{first.verb.value}{coats}",
            place=first.place,
            topic=topic_of(first),
            how=one_line(first.how),
            tool=one_line(first.in_hand),
            product=one_line(sheet.product) if not mixes else "",
            mixes=mixes,
            grade=one_line(", ".join(filter(None, grades))),
            wet_with=one_line(sheet.lubricant),
            waits=tuple(self._waits(steps)),
            dry_check=one_line(first.dry_check),
            minds=tuple(map(one_line, self._minds(steps))),
            hands_on=f"about {span(minutes * 60, up=True)}{each}" if minutes else "",
            lines=tuple(self._line(step) for step in steps),
        )

    def _minds(self, steps: Sequence[Step]) -> Iterator[str]:
        """Give the schedule's own cautions, and what its paper may go through on this piece."""
        yield from dict.fromkeys(steps[0].cautions)
        risks = (self._risks.get(step.key, "") for step in steps)
        yield from (f"{risk}." for risk in dict.fromkeys(risks) if risk)

    def _from(self, steps: Sequence[Step]) -> Iterator[tuple[str, str]]:
        """Give what the coats of a step come from, and what else the plan has for its mix."""
        yield from self._jars.of([self._sheets[step.key] for step in steps])
        shared = [self._shared[step.key] for step in steps if self._shared[step.key]]
        yield from (("mix", text) for text in dict.fromkeys(shared))

    def _waits(self, steps: Sequence[Step]) -> Iterator[str]:
        for words, group in itertools.groupby(steps, key=self._wait):
            same = list(group)
            if not words:
                continue
            if len(same) == len(steps):
                yield words
            else:
                first, last = same[0].coat, same[-1].coat
                coats = f"coat {first}" if first == last else f"coats {first} to {last}"
                yield f"after {coats}: {words}"

    def _wait(self, step: Step) -> str:
        room = cure_room(self._workshop)
        laid = Laid(
            self._standing.piece, step, self._standing.steps, events.StepDone(step.key), self._now
        )
        wait = room.wait(laid)
        if wait is None:
            return ""
        need = room.need(laid, wait)
        words = (
            f"{span(need.earliest_s)} to {span(need.latest_s, up=True)}, "
            f"likely {span(need.likely_s, up=True)}"
        )
        window = f"; the next step within {span(wait.next_by_s)}" if wait.next_by_s else ""
        return words + window

    def _line(self, step: Step) -> TickLine:
        tick, note = Tick.OPEN, ""
        event = self._done.get(step.key)
        progress = self._standing.progress
        status = progress.status_of(step) if progress else StepStatus.TO_DO
        if status is StepStatus.SKIPPED:
            tick, note = Tick.SKIPPED, f"left out: {self._skipped.get(step.key, '')}".rstrip(": ")
        elif event is not None:
            tick = Tick.DONE
            note = "dry check still to make" if status is StepStatus.WAITING else ""
        else:
            note = self._sheets[step.key].let_down
        return TickLine(
            number=step.number,
            key=step.key,
            coat=f"coat {step.coat} of {step.coats}" if step.coats > 1 else "",
            tick=tick,
            at=event.at if event else None,
            when=f"{event.at.astimezone(self._workshop.zone):%Y-%m-%d %H:%M}" if event else "",
            air=self._air(event) if event else "",
            by=one_line(getattr(event.what, "by", "")) if event else "",
            note=one_line(note),
        )

    def _air(self, event: Event) -> str:
        """Return the air of a coat as it was entered, else as it was read then."""
        air = getattr(event.what, "air", None)
        course = cure_room(self._workshop).course
        if air is None and course.first_s is None:
            return ""
        at = air or course.at(event.at.timestamp())
        degrees = show(at.temperature_c, TEMPERATURE, self._units.temperature, digits=3)
        return f"{degrees}, {at.humidity_percent:.0f} %"


def _dangers(sheets: Iterable[StepSheet]) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Give every caution of some steps once, by kind; a step's own stay with the step."""
    found: set[Caution] = set()
    for sheet in sheets:
        found.update(c for c in sheet.cautions if c.text not in sheet.step.cautions)
    for danger in Danger:
        texts = sorted(one_line(caution.text) for caution in found if caution.danger is danger)
        if texts:
            yield _KINDS[danger], tuple(texts)
