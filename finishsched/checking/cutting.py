"""Levellings that go through what is not to be lost: what lies there, and what the grade takes.

Judged as ``film`` judges them, by the shop's own limit: clear film over clear wood that more coats
follow is no loss; colour, filler, seal, veneer, inlay and a film that little follows are.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from finishsched.checking import about
from finishsched.checking.asked_once import asked_once
from finishsched.checking.cases import ScheduleCase
from finishsched.checking.layers.matter import HARDENS_IN_DAMP, matter_at
from finishsched.checking.layers.thin import seals_under_wax
from finishsched.checking.moves import Move
from finishsched.checking.words import odds
from finishsched.film.abrading import Stroke
from finishsched.film.face import LEAST_UM, FaceLine, FaceState, Loss, enter_face
from finishsched.film.odds import Stake
from finishsched.film.works import Reckoned
from finishsched.model.doing import Lays
from finishsched.model.film import Reach
from finishsched.model.kinds import COLOURS
from finishsched.model.product import ProductKind
from finishsched.model.said import Teller, in_kept_units
from finishsched.model.schedule import StageName, Verb

FILM_STAGES = (StageName.BODY, StageName.LEVEL, StageName.POLISH, StageName.CURE)
PROVES_IT = 0.25
"""From so much on for the face itself, film gone through is an error, and advice beneath it: how
much a scuff or a rub takes is known to a factor of three or four (our assumption)."""
SCUFF_PROVES_IT = 0.3
"""Of the film: what a scuff likely takes is an error from so much on, since it is known to that
factor; a thinner one everybody goes over now and then on clear wood (our assumption)."""
EDGES_TOLD = PROVES_IT
"""From so much on a schedule is told of its edges alone, and of a scuff; beneath it the bench asks
at the step, by the shop's own limit (our assumption)."""
OFF_ALTOGETHER = 1.35
"""Times the film that lies there: what takes so much takes the whole coat off (our assumption)."""


@dataclass(frozen=True, slots=True)
class Cut:
    """One abrading that goes through, likelier than the shop is ready for; um are likely values."""

    move: Move
    loss: Loss
    film_um: float
    takes_um: float
    face_odds: float = 0.0
    """Of the face itself, its edges and corners left out, 0 to 1."""
    scuffs: bool = False
    """True where it only dulls, which a hand stops at once the dust turns."""
    edges_only: bool = False
    """True where the face itself is safe, and only edges and corners are not."""
    tell: Teller = in_kept_units
    """By which its figures are told."""

    @property
    def is_certain(self) -> bool:
        """True where it makes an error."""
        far = not self.scuffs or self.takes_um > SCUFF_PROVES_IT * self.film_um
        return self.face_odds >= PROVES_IT and far

    @property
    def words(self) -> str:
        """What it does, without its step."""
        return (
            f"{_takes(self.film_um, self.takes_um, self.tell)}: it goes through the "
            f"{self.loss.stake.value}, at the {self.loss.zone} first, {odds(self.loss.odds)}"
        )


class CoatOff(NamedTuple):
    """A levelling that takes off all the film that lies there; um are likely values."""

    move: Move
    film_um: float
    takes_um: float
    is_certain: bool
    """True where the least that it takes is more than the film that is likely there."""
    tell: Teller = in_kept_units

    @property
    def words(self) -> str:
        """What it does, without its step."""
        film = "" if self.film_um >= LEAST_UM else ", and next to no film lies there"
        takes = _takes(self.film_um, self.takes_um, self.tell)
        return f"{takes}{film}: that coat is off again, and the wood is cut open"


def _takes(film_um: float, takes_um: float, tell: Teller) -> str:
    lies = f", and about {tell(film_um, 'um', 2)} of film lies there" if film_um >= LEAST_UM else ""
    return f"takes about {tell(takes_um, 'um', 2)}{lies}"


def on_film(case: ScheduleCase, move: Move) -> bool:
    """Tell whether an abrasive meets a film that was built, not bare wood, a seal or an oil."""
    if move.verb is not Verb.LEVEL or move.step.stage not in FILM_STAGES:
        return False
    below = case.film_below(move)
    return below is not None and below.kind is not ProductKind.OIL


def bare_colour(case: ScheduleCase, move: Move) -> Move | None:
    """Return the colour that lies open under a step; None where a film or a new face is over it."""
    for one in reversed(case.before(move)):
        if one.is_film or one.verb.does.lays is Lays.GLUE:
            return None
        if one.verb.lays and one.kind in COLOURS:
            # Chalk paint lies on the wood, and is rubbed to shine.
            return None if matter_at(one) == "paint" else one
    return None


def cuts(
    case: ScheduleCase, ledger: tuple[tuple[Reckoned, FaceLine], ...], *, of_the_wood: bool
) -> Iterator[Cut]:
    """Give the abradings that lose something with more than the odds this shop goes without asking.

    Of veneer and inlay, or of what was laid on them.
    """
    most = case.shop.film.cut_through_odds_percent / 100
    for move in case.moves:
        reckoned, line = ledger[move.at]
        loss = _worst(line, of_the_wood=of_the_wood)
        if loss is None or loss.odds <= most or _lies_in_the_wood(case, move, loss):
            continue
        if loss.stake is Stake.FILM and _scuffs(reckoned) and seals_under_wax(case):
            continue
        of_face = _worst(_without_edges(line), of_the_wood=of_the_wood)
        face_odds = of_face.odds if of_face is not None else 0.0
        told_from = EDGES_TOLD if _scuffs(reckoned) else most
        if face_odds > told_from or loss.odds > EDGES_TOLD:
            yield Cut(
                move,
                loss,
                film_um=line.before.film_um.likely,
                takes_um=line.taken_um.likely,
                face_odds=face_odds,
                scuffs=_scuffs(reckoned),
                edges_only=face_odds <= most,
                tell=case.shop.units.tell,
            )


def _lies_in_the_wood(case: ScheduleCase, move: Move, loss: Loss) -> bool:
    """Tell whether what is gone through is oil, or the sap that soaks in first: paper meets both.

    The slurry that a paper makes of them fills the pores, and is meant to.
    """
    below = case.film_below(move)
    if below is None or loss.stake is not Stake.FILM:
        return False
    return below.kind is ProductKind.OIL or matter_at(below) == HARDENS_IN_DAMP


@asked_once
def goes_through(case: ScheduleCase) -> bool:
    """Tell whether an abrading of a schedule by itself, on wood of no name, goes through a film."""
    return any(cuts(case, case.ledger, of_the_wood=False))


def about_cut(case: ScheduleCase, cut: Cut) -> str:
    """Return what a cut is about; filler that lies on a shut face is gone through for that."""
    fills = [one for one in case.before(cut.move) if one.is_filler]
    if cut.loss.stake is Stake.FILLER and fills:
        return about.remains(fills[-1])
    return about.cutting(cut.move)


def coats_cut_off(case: ScheduleCase) -> Iterator[CoatOff]:
    """Give the levellings that take all the film that lies there, where more follows it.

    Clear film over clear wood is no loss then, but it was laid for nothing.
    """
    for move in case.moves:
        reckoned, line = case.ledger[move.at]
        if not on_film(case, move) or not _levels(case, move, reckoned):
            continue
        film_um, takes_um = line.before.film_um.likely, line.taken_um.likely
        if takes_um > OFF_ALTOGETHER * film_um:
            certain = line.taken_um.low > film_um >= LEAST_UM
            yield CoatOff(move, film_um, takes_um, certain, case.shop.units.tell)


def _levels(case: ScheduleCase, move: Move, reckoned: Reckoned) -> bool:
    """Tell whether paper levels a coat of film: neither scuffs it nor is meant to take it off."""
    work, below = reckoned.work, case.layer_below(move)
    if not isinstance(work, Stroke) or below is None:
        return False
    soaks_in = matter_at(below) == HARDENS_IN_DAMP  # laid as thin as hair, and nobody prints solids
    return below.is_film and not (soaks_in or work.scuffs or work.reach is Reach.CUT_BACK)


def _worst(line: FaceLine, *, of_the_wood: bool) -> Loss | None:
    """Return the likeliest loss of an abrading: of the wood, or of what was laid on it."""
    return next((loss for loss in line.lost if loss.stake.is_of_ground is of_the_wood), None)


def _scuffs(reckoned: Reckoned) -> bool:
    return isinstance(reckoned.work, Stroke) and reckoned.work.scuffs


def _without_edges(line: FaceLine) -> FaceLine:
    """Return the same abrading of the face alone, its edges and corners left out."""
    parts = tuple(part for part in line.before.parts if not part.zone.is_edge)
    return enter_face(line.work, FaceState(parts), line.stakes)
