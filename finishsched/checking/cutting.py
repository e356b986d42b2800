"""Levellings that likely cut through: the film that lies there, and what the grade takes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from finishsched.checking.cases import Move, ScheduleCase
from finishsched.film.abrading import Stroke
from finishsched.film.ledger import SEAL_UM, Line, cut_of
from finishsched.film.works import Reckoned
from finishsched.model.film import Reach
from finishsched.model.product import ProductKind
from finishsched.model.schedule import StageName, Verb

LIKELIER_THAN_NOT = 0.5
FILM_STAGES = (StageName.BODY, StageName.LEVEL, StageName.POLISH, StageName.CURE)


@dataclass(frozen=True, slots=True)
class Cut:
    """One levelling that likely goes through, in um, likely values."""

    move: Move
    film_um: float
    takes_um: float


def on_film(case: ScheduleCase, move: Move) -> bool:
    """Tell whether an abrasive meets a film that was built, not bare wood, a seal or an oil."""
    if move.verb is not Verb.LEVEL or move.step.stage not in FILM_STAGES:
        return False
    below = case.film_below(move)
    return below is not None and below.kind is not ProductKind.OIL


def cuts(case: ScheduleCase, ledger: tuple[tuple[Reckoned, Line], ...]) -> Iterator[Cut]:
    """Give the levellings after which there is more likely a hole than none.

    A scuff is none of them; a film so thin that it counts as a seal always is.
    """
    for move in case.moves:
        work, line = ledger[move.at][0].work, ledger[move.at][1]
        if not isinstance(work, Stroke) or work.reach in (None, Reach.SCUFF):
            continue
        if not on_film(case, move):
            continue
        before = ledger[move.at - 1][1].after
        film_um = before.film_um.likely
        if film_um < SEAL_UM or (line.odds or 0.0) >= LIKELIER_THAN_NOT:
            yield Cut(move, film_um, cut_of(work, before).likely)
