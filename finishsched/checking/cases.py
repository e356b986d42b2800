"""What rules look at: a schedule step by step, a piece in its shop, a shop, a product."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property
from itertools import pairwise

from finishsched.checking.moves import Move
from finishsched.checking.step_paths import id_of, paths_of
from finishsched.drying.laws import interval_factor
from finishsched.drying.waiting import law_of_wait
from finishsched.factors import MIN_S
from finishsched.film.face import FaceLine
from finishsched.film.works import Reckoned, Terms, ledger_of
from finishsched.model.doing import Lays
from finishsched.model.grades import Grade, UnknownGradeError, grade_of, powder_in
from finishsched.model.how import tells
from finishsched.model.job import Face, Job, Piece
from finishsched.model.lubricants import is_wet
from finishsched.model.product import Product
from finishsched.model.schedule import Schedule
from finishsched.model.shop import Air, Shop
from finishsched.model.step import Step, steps_of
from finishsched.model.stock import Batch
from finishsched.model.verbs import Verb

_ANY_PIECE = Piece("any", "Any piece", "any", (Face("face", stated_area_m2=0.1),))
"""What a schedule is reckoned on by itself: wood of no name, 0.1 m2."""
PULLED_DRY = (
    r"^dry\b|\b(?:pull|peel|scrape|lift|sand)\w* (?:it |them )?(?:off |up )?dry\b|"
    r"\b(?:without|no) (?:any |a drop of )?water\b|\bwater-?less\b"
)
"""Tape over a seam that is taken off dry, by warmth or a blade."""


@dataclass(frozen=True)
class ScheduleCase:
    """A schedule as rules look at it."""

    schedule: Schedule
    products: Mapping[str, Product]
    shop: Shop = field(default_factory=lambda: Shop(""))
    """Whose meaning of a bare grade and whose alcohol it is judged by."""
    steps: tuple[Step, ...] | None = None
    """The work as it really is, where a rework was put into it; None for the schedule's own."""
    read_air: Air | None = None
    """The air of the shop as it was read of late; None where nobody keeps readings."""

    @property
    def air(self) -> Air:
        """The air that its waits run in: as read of late, or the shop's usual."""
        return self.read_air or self.shop.usual_air

    @cached_property
    def moves(self) -> tuple[Move, ...]:
        """Every step in the order of the work, rounds and coats laid out."""
        paths = dict(paths_of(self.schedule))
        steps = self.steps or steps_of(self.schedule)
        dry_tape = frozenset(_dry_tape(steps))
        return tuple(
            Move(
                at=at,
                step=step,
                path=("rework", step.key) if step.is_rework else paths[step.stage, id_of(step)],
                product=self.products.get(step.product or ""),
                lubricant=self.products.get(step.lubricant or ""),
                pulls_dry=at in dry_tape,
            )
            for at, step in enumerate(steps)
        )

    @property
    def on_bare_wood(self) -> bool:
        """False where the work begins over a finish that is there already."""
        return self.schedule.over is None

    @cached_property
    def films(self) -> tuple[Move, ...]:
        """The coats that lay film."""
        return tuple(move for move in self.moves if move.is_film)

    @cached_property
    def layers(self) -> tuple[Move, ...]:
        """All that lays something on the face."""
        return tuple(move for move in self.moves if move.lays)

    @property
    def first_layer(self) -> Move | None:
        """What is laid first of all; None where nothing is."""
        return self.layers[0] if self.layers else None

    @property
    def last_film(self) -> Move | None:
        """The last coat that lays film; None where none does."""
        return self.films[-1] if self.films else None

    @cached_property
    def ledger(self) -> tuple[tuple[Reckoned, FaceLine], ...]:
        """Film and relief step by step, on a piece of wood of no name."""
        return self.ledger_on(_ANY_PIECE)

    def ledger_on(self, piece: Piece) -> tuple[tuple[Reckoned, FaceLine], ...]:
        """Return film, relief and veneer step by step, on one piece; it is dear, so kept."""
        if piece not in self._ledgers:
            terms = Terms(self.products, self.shop.alcohol, self.shop.film.bare_grades)
            steps = [move.step for move in self.moves]
            self._ledgers[piece] = ledger_of(piece, steps, terms, self.schedule.over)
        return self._ledgers[piece]

    @cached_property
    def _ledgers(self) -> dict[Piece, tuple[tuple[Reckoned, FaceLine], ...]]:
        return {}

    @cached_property
    def worked_out(self) -> dict[Callable[..., object], object]:
        """What many rules ask of it, by what worked it out: ``asked_once.py``."""
        return {}

    def earliest_s(self, start: Move, end: Move | None) -> float:
        """Return the least that the waits from ``start`` on take, up to ``end`` or the last."""
        return sum(move.earliest_s for move in self.span(start, end))

    def likely_s(self, start: Move, end: Move | None) -> float:
        """Return what the waits from ``start`` on likely take, up to ``end`` or the last."""
        return sum(move.likely_s for move in self.span(start, end))

    def slower(self, move: Move) -> float:
        """Return how many times as long a step's wait takes in this air as it is written.

        Waits are written for a usual room; 1 where nothing dries, without end where it never does.
        """
        law = law_of_wait(move.step, [one.step for one in self.moves], self.products)
        return interval_factor(law, self.air) if law else 1.0

    def span(self, start: Move, end: Move | None) -> Sequence[Move]:
        """Return the steps from ``start`` on, without ``end``."""
        return self.moves[start.at : end.at if end else None]

    def between(self, start: Move, end: Move | None) -> Sequence[Move]:
        """Return the steps after ``start`` and before ``end``."""
        return self.moves[start.at + 1 : end.at if end else None]

    def after(self, move: Move) -> Sequence[Move]:
        """Return all steps after ``move``."""
        return self.moves[move.at + 1 :]

    def before(self, move: Move) -> Sequence[Move]:
        """Return all steps before ``move``, in the order of the work."""
        return self.moves[: move.at]

    def next_layer(self, move: Move) -> Move | None:
        """Return the next step that lays something over ``move``."""
        return next(iter(self.layers[bisect_right(self.layers, move.at, key=_place) :]), None)

    def film_below(self, move: Move) -> Move | None:
        """Return the last coat of film before ``move``; None where it was taken off again."""
        return self._still_there(_last_before(move, self.films), move)

    def layer_below(self, move: Move) -> Move | None:
        """Return what was laid last before ``move``; None where it was taken off again."""
        return self._still_there(_last_before(move, self.layers), move)

    def _still_there(self, below: Move | None, move: Move) -> Move | None:
        gone = below and any(below.at < at < move.at for at in self._strips)
        return None if gone else below

    @cached_property
    def _strips(self) -> tuple[int, ...]:
        return tuple(move.at for move in self.moves if move.step.strips)

    def grade(self, move: Move) -> Grade | None:
        """Return the grade of an abrasive, as the shop means it; None for none or an unknown."""
        if not move.step.grade:
            return None
        try:
            return grade_of(move.step.grade, self.shop.film.bare_grades)
        except UnknownGradeError:
            return None

    def abrasive(self, move: Move) -> Grade | None:
        """Return the grade of whatever rubs, paper, wool or powder; None for none."""
        return self.grade(move) or powder_in(move.step.product or "")

    @cached_property
    def papers(self) -> tuple[tuple[Move, Grade], ...]:
        """Sanding and levelling with a grade of a standard, in order."""
        found = ((m, self.grade(m)) for m in self.moves if m.verb.cuts)
        return tuple((move, grade) for move, grade in found if grade and not grade.rough)

    def pairs_of_papers(self) -> Iterator[tuple[Move, Grade, Move, Grade]]:
        """Give each abrasive with the one before it."""
        for (before, coarse), (move, fine) in pairwise(self.papers):
            yield before, coarse, move, fine

    def is_covered(self, before: Move, move: Move) -> bool:
        """Tell whether something was laid, glued on or taken off whole, between two steps."""
        if any(before.at <= at <= move.at for at in self._strips):
            return True
        return any(one.verb.does.lays is not Lays.NOTHING for one in self.between(before, move))


def _dry_tape(steps: Sequence[Step]) -> Iterator[int]:
    """Give the places where tape comes off that masked, or as its words say dry: nothing wets."""
    masked = False
    for at, step in enumerate(steps):
        if step.verb.does.lays is Lays.GLUE:
            masked = False
        elif step.verb is Verb.MASK:
            masked = True
        is_wetted = bool(step.product) or is_wet(step.lubricant)
        dry = masked or tells(step.how, PULLED_DRY)
        if step.verb is Verb.STRIP_TAPE and dry and not is_wetted:
            yield at


def _place(move: Move) -> int:
    return move.at


def _last_before(move: Move, some: Sequence[Move]) -> Move | None:
    """Return the last of ``some``, which are in the order of the work, before ``move``."""
    before = bisect_left(some, move.at, key=_place)
    return some[before - 1] if before else None


@dataclass(frozen=True)
class PieceCase:
    """A piece with its schedule, in its shop."""

    piece: Piece
    schedule: ScheduleCase
    job: Job | None = None
    path: tuple[str | int, ...] = ()
    """Of the piece in its job's document."""
    shop: Shop | None = None
    open_min: tuple[tuple[int, int], ...] = ()
    """Spans of minutes in which hands are there, in order, for some weeks; none: not known."""
    now: datetime | None = None
    passed: frozenset[str] = frozenset()
    """The keys of the steps that are behind it."""
    batches: tuple[Batch, ...] = ()
    """What stands on the shelf mixed."""
    beside_its_schedule: bool = False
    """True where its schedule's own document is checked with it, and tells its faults itself."""

    def key(self, name: str) -> tuple[str | int, ...]:
        """Return the path of one of its keys."""
        return (*self.path, name)

    @property
    def left(self) -> Sequence[Move]:
        """The steps still to do."""
        return [move for move in self.schedule.moves if move.step.key not in self.passed]

    def slower(self, move: Move) -> float:
        """Return how many times as long a wait takes here; 1 for what never dries here at all."""
        factor = self.schedule.slower(move)
        return factor if math.isfinite(factor) else 1.0

    def hands_s(self, move: Move) -> float:
        """Return how long hands work on a step here, in seconds."""
        return MIN_S * move.step.hands_on.minutes(self.piece.area_m2)

    @cached_property
    def ledger(self) -> tuple[tuple[Reckoned, FaceLine], ...]:
        """Film, relief and veneer step by step, as the schedule has it."""
        return self.schedule.ledger_on(self.piece)


@dataclass(frozen=True, slots=True)
class ShopCase:
    """A shop, and which of its keys are written."""

    shop: Shop
    written: frozenset[str]


@dataclass(frozen=True, slots=True)
class ProductCase:
    """A product by itself."""

    product: Product
