"""A piece's film in words, in a table of 80 columns, and as JSON values."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from finishsched.cli.common import why_data, why_lines
from finishsched.film.dishing import FLAT_UM
from finishsched.film.drawing import cross_section
from finishsched.film.face import FaceState, Loss
from finishsched.film.odds import MENDS
from finishsched.film.outlook import Bearing
from finishsched.mixing.amount import Range
from finishsched.model.shop import ShownUnits
from finishsched.workshop.base.shown import film_cell, um_number, um_told
from finishsched.workshop.film.before import before_levelling
from finishsched.workshop.film.sentences import answer_sentences, standing_sentences
from finishsched.workshop.film.shown import FilmAnswer, FilmRow, Levelling, RowKind, SpotTold

ZONES_A_LINE = 4
"""So many zones stand side by side in 100 columns."""

HEADS = ("film", "relief", "veneer")
_HEADS = {RowKind.DONE: "so far", RowKind.AHEAD: "ahead"}


def film_lines(
    answer: FilmAnswer, logged: Iterable[str] = (), *, asked: bool, why: bool
) -> Iterator[str]:
    """Say a piece's film for people; ``asked`` when a grade was asked about.

    ``logged`` are the entries just taken, in words.
    """
    for words in logged:
        yield f"logged {words}"
    yield f"{answer.ref}  {answer.title}"
    for sentence in standing_sentences(answer):
        yield f"  {sentence}"
    if not asked:
        for line in _drawing(answer):
            yield f"  {line}"
        yield from _table(answer.rows, answer.units)
        yield from _zone_table(answer.rows, answer.units)
    for sentence in answer_sentences(answer):
        yield f"  {sentence}"
    for note in answer.assumed:
        yield f"  assumed: {note}"
    if why:
        yield from why_lines(answer.reasons, answer.units)


def film_data(answer: FilmAnswer) -> dict[str, Any]:
    """Return a piece's film as JSON values, every length in um."""
    before = before_levelling(answer)
    likely, at_worst = answer.filled
    return {
        "piece": answer.ref,
        "film_um": _range(answer.film_um),
        "relief_um": _range(answer.relief_um),
        "veneer_um": _range(answer.veneer_um),
        "zones": _zones_data(answer.now),
        "level": answer.now.is_level,
        "level_from": {
            one.zone: {"place": one.place or None, "end_um": _range(one.end_um)}
            for one in answer.level_from
        },
        "spots": [_spot_data(spot) for spot in answer.spots],
        "veneer_used_percent": _range(answer.now.veneer_used_percent),
        "end": {
            "film_um": _range(answer.end.film_um),
            "relief_um": _range(answer.end.relief_um),
            "veneer_um": _range(answer.end.veneer_um),
        },
        "limit": {
            "film_um": answer.limit.film_um,
            "what": answer.limit.what,
            "source": answer.limit.source,
            "verdict": answer.bears.value,
        },
        "next_levelling": _levelling_data(answer.next_levelling),
        "level_now": _levelling_data(answer.level_now),
        "filled": {"likely": likely or None, "at_worst": at_worst or None},
        "more_coats_to_fill": answer.more_to_fill,
        "confirm": {
            "needed": before.needs_confirmation,
            "odds_percent": before.odds_percent,
            "words": list(before.words),
        },
        "drawing": list(_drawing(answer)),
        "steps": [_row_data(row) for row in answer.rows],
        "assumed": list(answer.assumed),
        "why": why_data(answer.reasons, answer.units),
    }


def _drawing(answer: FilmAnswer) -> tuple[str, ...]:
    return cross_section(answer.section, 72, 9, lambda um: um_told(um, answer.units))


def _table(rows: tuple[FilmRow, ...], units: ShownUnits) -> Iterator[str]:
    shown = [row for row in _sittings(rows) if row.changes]
    has_veneer = any(row.veneer_um is not None for row in shown)
    heads = [f"{what} {units.film}" for what in HEADS[: None if has_veneer else -1]]
    cells = [
        [film_cell(um, units) for um in (row.film_um, row.relief_um, row.veneer_um)][: len(heads)]
        for row in shown
    ]
    widths = [max(map(len, column)) for column in zip(heads, *cells, strict=True)]
    head = ""
    for row, told in zip(shown, cells, strict=True):
        now = _HEADS.get(row.kind, "so far")
        if now != head:
            head = now
            yield f"  {head:<26} {_in_columns(heads, widths)}".rstrip()
        number = f"{row.step.number:>3}" if row.step else "   "
        yield f"  {number} {row.title[:22]:<22} {_in_columns(told, widths)}".rstrip()


def _in_columns(cells: Iterable[str], widths: Iterable[int]) -> str:
    return "  ".join(f"{cell:<{width}}" for cell, width in zip(cells, widths, strict=True))


def _zone_table(rows: tuple[FilmRow, ...], units: ShownUnits) -> Iterator[str]:
    """Say step by step what is left in every zone but the field, likely, and how inlays stand."""
    cut = [row for row in rows if row.zones and row.taken_um.high > 0 and not row.spot]
    last = cut[-1].zones if cut else None
    parts = last.parts[1:] if last else ()
    names = [part.zone.name for part in parts if part.first is not None]
    for few in _few(names, ZONES_A_LINE):
        head = "".join(f"{name:<16}" for name in few)
        left = f"veneer and inlay left, {units.film}"
        yield f"  {left:<26} {head}".rstrip()
        for row in cut:
            assert row.zones is not None  # noqa: S101
            number = f"{row.step.number:>3}" if row.step else "   "
            cells = "".join(f"{_zone_cell(name, row.zones, units):<16}" for name in few)
            if cells.strip():
                yield f"  {number} {row.title[:22]:<22} {cells}".rstrip()


def _zone_cell(name: str, face: FaceState, units: ShownUnits) -> str:
    part = next((part for part in face.parts if part.zone.name == name), None)
    if part is None or part.left_um is None:
        return ""
    stands_um = face.likely_steps_um().get(name, 0.0)
    how = "" if abs(stands_um) <= FLAT_UM else " proud" if stands_um > 0 else " low"
    left = um_number(part.left_um.likely, units)
    return left + (f", {um_number(abs(stands_um), units)}{how}" if how else "")


def _few(names: Sequence[str], size: int) -> Iterator[Sequence[str]]:
    """Give names a few at a time."""
    return (names[at : at + size] for at in range(0, len(names), size))


def _sittings(rows: tuple[FilmRow, ...]) -> Iterable[FilmRow]:
    """Give each row, of coats laid in one sitting the last only."""
    for row, after in zip(rows, (*rows[1:], None), strict=True):
        if after is None or row.kind is not after.kind or _sitting(row) != _sitting(after):
            yield row


def _sitting(row: FilmRow) -> str:
    """Return what the coats of one sitting have in common, and nothing else has."""
    if row.step is None or row.step.coats == 1:
        return f"{id(row)}"
    return row.step.key.rpartition(".")[0]


def _range(amount: Range | None) -> dict[str, float] | None:
    if amount is None:
        return None
    return {"low": amount.low, "likely": amount.likely, "high": amount.high}


def _levelling_data(level: Levelling | None) -> dict[str, Any] | None:
    if level is None:
        return None
    return {
        "grade": level.grade.name,
        "system": level.grade.system.value,
        "grain_um": level.grade.grain_um,
        "reach": level.reach.value if level.reach else None,
        "wet": level.wet,
        "film_um": _range(level.film_um),
        "takes_um": _range(level.takes_um),
        "takes_in_um": {name: _range(um) for name, um in level.takes_in},
        "odds_percent": None if level.odds is None else 100 * level.odds,
        "losses": [_loss_data(loss) for loss in level.losses],
        "safe": level.safe,
        "nearest": _bearing_data(level.bearing),
        "coarsest_safe": level.coarsest.name if level.coarsest else None,
        "finest_that_levels": level.finest.name if level.finest else None,
        "allowed": level.allowed.value if level.allowed else None,
        "more_coats": level.more_coats,
    }


def _loss_data(loss: Loss) -> dict[str, Any]:
    mend = MENDS[loss.stake]
    return {
        "through": loss.stake.value,
        "odds_percent": 100 * loss.odds,
        "first_at": loss.zone,
        "odds_there_percent": 100 * loss.zone_odds,
        "mend": {"how": mend.how, "hands_on_min": mend.hands_on_min, "wait_h": mend.wait_h},
    }


def _bearing_data(bearing: Bearing | None) -> dict[str, Any] | None:
    if bearing is None:
        return None
    return {
        "through": bearing.loss.stake.value,
        "zone": bearing.loss.zone,
        "bears_um": _range(bearing.bears_um),
        "strokes": _range(bearing.strokes),
        "tests_of_this_hand": bearing.measured,
    }


def _zones_data(face: FaceState) -> list[dict[str, Any]]:
    steps = face.steps_um()
    return [
        {
            "zone": part.zone.name,
            "material": part.zone.material.words or part.zone.material.name,
            "film_um": _range(part.state.film_um),
            "left_um": _range(part.left_um),
            "stands_um": _range(steps.get(part.zone.name)),
        }
        for part in face.parts
    ]


def _spot_data(spot: SpotTold) -> dict[str, Any]:
    return {
        "spot": spot.name,
        "worked_as": spot.ref,
        "beside": spot.beside,
        "film_um": _range(spot.film_um),
        "left_um": _range(spot.left_um),
        "stands_um": _range(spot.stands_um),
        "next_paper": spot.paper or None,
        "takes_um": _range(spot.takes_um),
        "loss": _loss_data(spot.loss) if spot.loss else None,
    }


def _row_data(row: FilmRow) -> dict[str, Any]:
    step = row.step
    return {
        "number": step.number if step else None,
        "step": step.key if step else None,
        "place": step.place if step else None,
        "title": row.title,
        "kind": row.kind.value,
        "laid_um": _range(row.laid_um),
        "taken_um": _range(row.taken_um),
        "wood_um": _range(row.wood_um),
        "film_um": _range(row.film_um),
        "relief_um": _range(row.relief_um),
        "veneer_um": _range(row.veneer_um),
        "odds_percent": None if row.odds is None else 100 * row.odds,
        "losses": [_loss_data(loss) for loss in row.losses],
        "spot": row.spot or None,
        "zones": _zones_data(row.zones) if row.zones and row.taken_um.high > 0 else [],
    }
