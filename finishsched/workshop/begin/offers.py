"""What is wanted of a finish, and the schedules that are offered for it."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime

from finishsched.model.job import Face, Inlay
from finishsched.model.kinds import ProductKind
from finishsched.model.ranges import Range
from finishsched.model.schedule import Schedule
from finishsched.workshop.begin.finishes import Wear


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a person wants, as far as they say."""

    area_m2: float = 0.1
    species: str = ""
    veneer_mm: float | None = None
    sheen: str = ""
    wear: frozenset[Wear] = field(default_factory=frozenset)
    without: frozenset[str] = field(default_factory=frozenset)
    """Kinds of finish and solvents that are not acceptable, and ways such as ``spray``."""
    reversible: bool = False
    """True where a restorer must get it off again."""
    pale: bool = False
    """True where the wood must not turn darker or yellower."""
    over: ProductKind | None = None
    """The kind of finish that is there already and stays; None for bare wood."""
    due: date | None = None
    faces: tuple[Face, ...] = ()
    """Where they are known: then ``area_m2`` is theirs together."""
    inlays: tuple[Inlay, ...] = ()
    """What is let into its faces: it may not bear what the wood does."""
    title: str = "The piece"
    """What it is called, where somebody said."""
    described: str = ""
    """``species`` with what the shop says of those woods that are its own."""

    @property
    def made_of(self) -> str:
        """The woods as rules read them."""
        return self.described or self.species


@dataclass(frozen=True, slots=True)
class Takes:
    """What a schedule takes in this shop."""

    hands_on_min: float
    evenings: int | None = None
    """Days with work on it, by the plan; None without a shop."""
    finish: datetime | None = None
    """By the plan; None without a shop, or where it cannot be planned."""
    waits_s: float = 0.0
    """All its likely waits together."""
    film_um: Range | None = None
    solvent_ml: float = 0.0
    """That leaves into the room."""
    material: tuple[tuple[str, float, str], ...] = ()
    """Product, amount and unit."""
    cost: tuple[float, str] | None = None
    """What would be bought for it by the shop's packs, with the currency; None without prices."""


@dataclass(frozen=True, slots=True)
class Offer:
    """One schedule, with what speaks for it and against it."""

    schedule: Schedule
    fits: tuple[str, ...]
    against: tuple[str, ...]
    refused: tuple[str, ...]
    """What the checker calls an error on this piece: then it is never recommended."""
    late_days: int
    """By how many days it misses the date; 0 for in time or no date."""
    points: float
    takes: Takes
    comes_off: str

    @property
    def is_planned(self) -> bool:
        """True where its day is by the shop's plan; else nobody knows whether a date is met."""
        return self.takes.finish is not None

    @property
    def recommended(self) -> bool:
        """True where nothing refuses it and the plan of this shop meets the date."""
        return self.is_planned and not self.refused and not self.late_days and self.points > 0
