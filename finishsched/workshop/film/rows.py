"""The lines of a piece's ledger as they are shown."""

from __future__ import annotations

from finishsched.film.face import FaceLine, FaceState
from finishsched.film.ledger import State
from finishsched.film.meeting import Part
from finishsched.film.outlook import veneer_use
from finishsched.film.worlds import each, spread
from finishsched.journal.progress import PieceProgress, StepStatus
from finishsched.mixing.amount import NOTHING, Range
from finishsched.model.step import Step
from finishsched.workshop.film.facts import Entry, Reading
from finishsched.workshop.film.shown import FilmRow, RowKind


def row_of(entry: Entry, line: FaceLine, progress: PieceProgress | None) -> FilmRow:
    """Return one line of the ledger: a step, a reading, or work on one spot."""
    if entry.reckoned is None:
        assert entry.reading is not None  # noqa: S101  # an entry is one or the other
        return _read(entry.reading, line)
    step, after = entry.reckoned.step, line.after
    return FilmRow(
        kind=_kind(step, progress),
        step=step,
        title=step.title,
        laid_um=line.laid_um,
        taken_um=line.taken_um,
        wood_um=line.wood_um,
        film_um=after.film_um,
        relief_um=after.relief_um,
        veneer_um=after.veneer_um,
        odds=line.odds,
        losses=line.losses,
        worst=line.worst,
        veneer=veneer_use(after),
        reason=entry.reckoned.reason,
        notes=entry.reckoned.notes,
        zones=line.after,
    )


def _read(reading: Reading, line: FaceLine) -> FilmRow:
    spot, after = reading.on_spot, line.after
    there = _part_named(reading.zone, after) if spot else None
    state: State | FaceState = there.state if there else after
    before = _part_named(reading.zone, line.before) if spot else None
    laid, taken = _changed(before, there)
    kind = RowKind.GAUGED
    if spot is not None:
        kind = RowKind.AHEAD if spot.ahead else RowKind.DONE
    return FilmRow(
        kind=kind,
        step=None,
        title=spot.title if spot else _read_title(reading),
        laid_um=laid,
        taken_um=taken,
        wood_um=NOTHING,
        film_um=state.film_um,
        relief_um=state.relief_um,
        veneer_um=there.left_um if there else after.veneer_um,
        odds=line.odds,
        losses=line.losses,
        worst=line.worst,
        veneer=veneer_use(after),
        reason=None,
        notes=(),
        zones=after,
        spot=reading.zone if spot else "",
    )


def _part_named(name: str, face: FaceState) -> Part | None:
    """Return one zone of a face as it stands; None where there is none of that name."""
    return next((part for part in face.parts if part.zone.name == name), None)


def _changed(before: Part | None, after: Part | None) -> tuple[Range, Range]:
    """Return the film that was laid on a spot and taken off it; a spot that begins had none."""
    if before is None or after is None:
        return NOTHING, NOTHING
    early, late = before.state.worlds.film_um, after.state.worlds.film_um
    laid = each(lambda one, two: max(0.0, two - one), early, late)
    taken = each(lambda one, two: max(0.0, one - two), early, late)
    return spread(laid), spread(taken)


def _read_title(reading: Reading) -> str:
    return f"{reading.zone} measured" if reading.zone else "film gauge read"


def _kind(step: Step, progress: PieceProgress | None) -> RowKind:
    status = progress.status_of(step) if progress else StepStatus.TO_DO
    if status is StepStatus.SKIPPED:
        return RowKind.SKIPPED
    return RowKind.AHEAD if status is StepStatus.TO_DO else RowKind.DONE
