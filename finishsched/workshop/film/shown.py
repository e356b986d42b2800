"""What a piece's film is, as it is shown: rows of the ledger, a levelling, the whole answer."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from finishsched.film.drawing import Section
from finishsched.film.face import FaceState, Loss
from finishsched.film.limits import Bears, FilmLimit
from finishsched.film.outlook import Bearing, VeneerUse
from finishsched.mixing.amount import Range
from finishsched.model.doing import Lays
from finishsched.model.film import FilmRules, Reach
from finishsched.model.grades import Grade
from finishsched.model.reason import Reason
from finishsched.model.shop import ShownUnits
from finishsched.model.step import Step


class RowKind(StrEnum):
    """What one line of the ledger is."""

    DONE = "done"
    AHEAD = "ahead"
    SKIPPED = "skipped"
    GAUGED = "gauged"


@dataclass(frozen=True, slots=True)
class FilmRow:
    """One line of a piece's ledger. Everything in um, as it stands after it."""

    kind: RowKind
    step: Step | None
    """None for a reading of the gauge."""
    title: str
    laid_um: Range
    taken_um: Range
    wood_um: Range
    film_um: Range
    relief_um: Range
    veneer_um: Range | None
    odds: float | None
    """How likely it cuts through the film, 0 to 1; None where there is none to cut."""
    losses: tuple[Loss, ...]
    """All that it may go through, the likeliest first."""
    worst: Loss | None
    """The likeliest that counts as a loss here; None where none does."""
    veneer: VeneerUse | None
    reason: Reason | None
    notes: tuple[str, ...]
    zones: FaceState | None = None
    """The whole face after it."""
    spot: str = ""
    """The spot that alone it is done on, whose film, relief and veneer it gives."""

    @property
    def changes(self) -> bool:
        """True when film, relief or veneer are other than before."""
        if self.spot or self.kind is RowKind.GAUGED:
            return True
        if self.step is not None and (self.step.strips or self.step.verb.does.lays is Lays.FILLER):
            return True
        return any(amount.high > 0 for amount in (self.laid_um, self.taken_um, self.wood_um))


@dataclass(frozen=True, slots=True)
class Levelling:
    """What a grade would do to the film as it is at a place in the work."""

    grade: Grade
    reach: Reach | None
    """None for bare sanding."""
    wet: bool
    film_um: Range
    """Before it."""
    takes_um: Range
    """Off the field."""
    takes_in: tuple[tuple[str, Range], ...]
    """By name, off every other zone."""
    stands: tuple[tuple[str, Range], ...]
    """By name, how far what is let in stands above its zone before it; below 0 for lower."""
    odds: float | None
    losses: tuple[Loss, ...]
    worst: Loss | None
    safe: bool
    """True when no loss is likelier than the shop goes without asking."""
    bearing: Bearing | None
    """What it bears at the zone that is nearest to going through."""
    coarsest: Grade | None
    """The coarsest that loses nothing, used so; None where none does, or nothing limits it."""
    finest: Grade | None
    """The finest that takes the ridges of the film down; None where there are none."""
    allowed: Reach | None
    """How far this grade may go; None when not even a scuff."""
    more_coats: int | None
    """Until it is safe as asked: 0 when it is; None when no number of coats was found."""
    coat: str
    """What such a coat is, in words; empty when none is known."""
    number: int = 0
    """Of the later step that it is; 0 for the step in hand, and where somebody asks of now."""


@dataclass(frozen=True, slots=True)
class LevelFrom:
    """From when on what stands by itself is likely level with the zone round it."""

    zone: str
    place: str
    """Such as ``prepare, step 1``; empty where it never is."""
    end_um: Range
    """How far it stands above it at the end of the work; below 0 where it lies lower."""


@dataclass(frozen=True, slots=True)
class SpotTold:
    """What lies at one spot now, and what the next paper on the whole piece does there."""

    name: str
    """Of the zone: ``spot 2``."""
    ref: str
    """By which it is worked: ``casket/lid+2``."""
    beside: str
    """The zone that it lies in."""
    film_um: Range
    left_um: Range | None
    """Veneer or patch; None for solid wood, and where none is left."""
    stands_um: Range
    """Above the face round it; below 0 where it lies lower."""
    paper: str
    """The next paper, such as ``level P400``; empty where none comes."""
    takes_um: Range
    """What that takes there."""
    loss: Loss | None
    """The likeliest loss by it there, the odds of the spot alone."""


def may_go(level: Levelling) -> bool:
    """Tell whether a grade may go as far as was asked."""
    if level.reach is None:
        return level.safe
    if level.allowed is None:
        return False
    order = tuple(Reach)
    return order.index(level.allowed) >= order.index(level.reach)


@dataclass(frozen=True, slots=True)
class FilmAnswer:
    """A piece's film as it is, as it will be, and what follows from that."""

    ref: str
    title: str
    rules: FilmRules
    units: ShownUnits
    now: FaceState
    end: FaceState
    rows: tuple[FilmRow, ...]
    hand: str
    """The step in hand in a line, as every face has it; empty where there is none."""
    in_hand: FilmRow | None
    """The step in hand, as it would be if done now; None for a finished piece."""
    before: FaceState
    """The state that the step in hand begins on."""
    next_levelling: Levelling | None
    """The next step that abrades film, at its place in the work."""
    level_now: Levelling | None
    """The grade that was asked about, the paper in hand or the next levelling, as the face is."""
    paper: Levelling | None
    """What the paper of the step in hand does; None while that takes nothing off."""
    filled: tuple[str, str]
    """Where the relief is filled, likely and at worst, such as ``body, round 3 of 4``."""
    level_from: tuple[LevelFrom, ...]
    """Of every inlay, seam and patch, when it is level."""
    more_to_fill: int | None
    """Coats like the last that likely fill what is left at the end; None when none is left."""
    limit: FilmLimit
    bears: Bears
    veneer_at_first_um: float | None
    coats: int
    """That lay film, done and ahead."""
    section: Section
    spots: tuple[SpotTold, ...]
    assumed: tuple[str, ...]
    reasons: tuple[Reason, ...]

    @property
    def film_um(self) -> Range:
        """Film over the high spots now."""
        return self.now.film_um

    @property
    def relief_um(self) -> Range:
        """Relief still to fill now."""
        return self.now.relief_um

    @property
    def veneer_um(self) -> Range | None:
        """Veneer left now; None for solid wood."""
        return self.now.veneer_um


@dataclass(frozen=True, slots=True)
class BeforeLevelling:
    """What to say before the step in hand takes something off."""

    needs_confirmation: bool
    odds_percent: float | None
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LevelQuestion:
    """May I level with this grade now? ``reach`` None asks about the one that the stage has."""

    grade: Grade
    reach: Reach | None = None
    wet: bool = False
