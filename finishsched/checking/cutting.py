"""Levellings that go through what is not to be lost: what lies there, and what the grade takes.

Judged as ``film`` judges them, by the shop's own limit: clear film over clear wood that more coats
follow is no loss; colour, filler, seal, veneer, inlay and a film that little follows are.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from finishsched.checking.cases import Move, ScheduleCase
from finishsched.film.face import FaceLine, FaceState, Loss, enter_face
from finishsched.film.works import Reckoned
from finishsched.model.product import ProductKind
from finishsched.model.said import Teller, in_kept_units
from finishsched.model.schedule import StageName, Verb

FILM_STAGES = (StageName.BODY, StageName.LEVEL, StageName.POLISH, StageName.CURE)
EDGES_TOLD = 0.10
"""From so much on a schedule is told of its edges alone; beneath it the bench asks at the step, by
the shop's own limit (our assumption)."""
PROVES_IT = 0.25
"""From so much on for the face itself, film gone through is an error, and advice beneath it: how
much a scuff or a rub takes is known to a factor of three or four (our assumption)."""


@dataclass(frozen=True, slots=True)
class Cut:
    """One abrading that goes through, likelier than the shop is ready for; um are likely values."""

    move: Move
    loss: Loss
    film_um: float
    takes_um: float
    face_odds: float = 0.0
    """Of the face itself, its edges and corners left out, 0 to 1."""
    edges_only: bool = False
    """True where the face itself is safe, and only edges and corners are not."""
    tell: Teller = in_kept_units
    """By which its figures are told."""

    @property
    def is_certain(self) -> bool:
        """True where it makes an error."""
        return self.face_odds >= PROVES_IT

    @property
    def words(self) -> str:
        """What it does, without its step."""
        lies = f", and about {self.tell(self.film_um, 'um', 2)} of film lies there"
        takes = f"takes about {self.tell(self.takes_um, 'um', 2)}{lies if self.film_um else ''}"
        return (
            f"{takes}: it goes through the {self.loss.stake.value}, at the {self.loss.zone} "
            f"first, with odds of {100 * self.loss.odds:.0f} %"
        )


def on_film(case: ScheduleCase, move: Move) -> bool:
    """Tell whether an abrasive meets a film that was built, not bare wood, a seal or an oil."""
    if move.verb is not Verb.LEVEL or move.step.stage not in FILM_STAGES:
        return False
    below = case.film_below(move)
    return below is not None and below.kind is not ProductKind.OIL


def cuts(
    case: ScheduleCase, ledger: tuple[tuple[Reckoned, FaceLine], ...], *, of_the_wood: bool
) -> Iterator[Cut]:
    """Give the abradings that lose something with more than the odds this shop goes without asking.

    Of veneer and inlay, or of what was laid on them.
    """
    most = case.shop.film.cut_through_odds_percent / 100
    for move in case.moves:
        line = ledger[move.at][1]
        lost = _lost(line, of_the_wood=of_the_wood)
        if lost and lost[0].odds > most:
            face = _lost(_without_edges(line), of_the_wood=of_the_wood)
            odds = face[0].odds if face else 0.0
            if of_the_wood or odds > most or lost[0].odds > EDGES_TOLD:
                film_um, takes_um = line.before.film_um.likely, line.taken_um.likely
                tell = case.shop.units.tell
                yield Cut(move, lost[0], film_um, takes_um, odds, odds <= most, tell)


def _lost(line: FaceLine, *, of_the_wood: bool) -> list[Loss]:
    return [loss for loss in line.lost if loss.stake.is_of_ground is of_the_wood]


def _without_edges(line: FaceLine) -> FaceLine:
    """Return the same abrading of the face alone, its edges and corners left out."""
    parts = tuple(part for part in line.before.parts if not part.zone.is_edge)
    return enter_face(line.work, FaceState(parts), line.stakes)
