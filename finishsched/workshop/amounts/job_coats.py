"""All coats that are left of some jobs, as their need reckons them: one pad, one mix of what keeps.

``due`` tells of a coat what the need of all that is under way counts for it: which piece charges
a dry pad, and the jar that is mixed for all coats that it keeps for.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import NamedTuple, TypeAlias

from finishsched.mixing.learnt_use import MethodKey
from finishsched.mixing.need import (
    Coat,
    Mixture,
    OwnUses,
    PieceWork,
    Unreckoned,
    coats_of,
    with_pads,
)
from finishsched.mixing.supply import PlannedBatch, jars_to_mix
from finishsched.model.names import in_words
from finishsched.model.product import Product
from finishsched.model.stock import Batch
from finishsched.workshop.amounts.coats import Habit
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.base.shown import shown_of
from finishsched.workshop.standing.beside import to_do
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.waits import rest_and_coat

_Reckoned: TypeAlias = tuple[tuple[Coat, ...], tuple[Unreckoned, ...]]


class RowWork(NamedTuple):
    """The work that is left on a piece, or on pieces alike with the same left, as one."""

    work: PieceWork
    members: tuple[Standing, ...]
    begins_s: float = 0.0
    """In how many seconds the first of it likely begins: not before the wait that runs is over."""


@dataclass(frozen=True, slots=True)
class JobCoats:
    """The coats that are left of some jobs, and the jars that are to be mixed for them."""

    coats: tuple[Coat, ...]
    refs: Mapping[str, frozenset[str]]
    """The pieces of each row by its name."""
    jars: Mapping[Mixture, PlannedBatch]
    """Of each mixture the one that is wanted first; none of what stands on the shelf."""

    def charges(self, pad: MethodKey) -> frozenset[str]:
        """Return the pieces whose coat is the first to charge a dry pad; none where none does."""
        charging = [
            coat
            for coat in self.coats
            if coat.pad_ml and (coat.mixture.product, coat.step.verb) == pad
        ]
        first = min(charging, key=lambda coat: coat.after_s, default=None)
        return self.refs[first.piece] if first else frozenset()


class CoatsLeft:
    """The coats that are left of each row, worked out once for as long as its work is the same.

    An entry about one piece leaves the coats of a hundred others as they were.
    """

    def __init__(self) -> None:
        self._own: OwnUses = {}
        self._of: dict[str, tuple[PieceWork, _Reckoned]] = {}

    def of(self, work: PieceWork, products: Mapping[str, Product], own: OwnUses) -> _Reckoned:
        """Return what ``coats_of`` does; ``products`` are always the same."""
        if own != self._own:
            self._own = own
            self._of.clear()
        before = self._of.get(work.ref)
        if before is None or not _is_same(before[0], work):
            before = self._of[work.ref] = work, coats_of(work, products, own)
        return before[1]


def _is_same(one: PieceWork, other: PieceWork) -> bool:
    """Tell whether two works are the same, without looking into every step."""
    is_alike = (one.left, one.area_m2, one.species, one.pieces) == (
        other.left, other.area_m2, other.species, other.pieces
    )  # fmt: skip
    return one.steps is other.steps and is_alike


def job_coats(
    found: Iterable[Standing],
    papers: Papers,
    habit: Habit,
    batches: Iterable[Batch],
    left: CoatsLeft,
    now: datetime,
) -> JobCoats:
    """Return the coats that are left on the pieces ``found``; ``batches`` can be used still."""
    rows = by_rows([one for one in found if one.schedule is not None], now, whole=False)
    coats, _ = all_coats(rows, papers, habit, left)
    told_up = shown_of(papers.shop).measured_up
    planned = jars_to_mix(
        [coat for coat in coats if not coat.mixture.by_mass],
        papers.products,
        papers.shop,
        batches,
        told_up,
    )
    first: dict[Mixture, PlannedBatch] = {}
    for jar in planned:
        first.setdefault(jar.mixture, jar)
    refs = {row.work.ref: frozenset(one.ref for one in row.members) for row in rows}
    return JobCoats(coats, refs, first)


def by_rows(readable: Iterable[Standing], now: datetime, *, whole: bool) -> list[RowWork]:
    """Return the work on each piece; on pieces alike with the same work left, as one.

    So one batch is mixed and one pad charged for all of them.
    """
    rows: dict[tuple[str, str, frozenset[str]], list[tuple[Standing, PieceWork]]] = {}
    for standing in readable:
        work = _work(standing, whole=whole)
        own = standing.piece.alike or standing.ref
        rows.setdefault((job_of(standing), own, work.left), []).append((standing, work))
    found = [_as_one(members) for members in rows.values()]
    if whole:
        return found
    return [row._replace(begins_s=_begins_s(row.members, now)) for row in found]


def _begins_s(members: Iterable[Standing], now: datetime) -> float:
    """Return in how many seconds the last of the waits that run is likely over, by the schedule."""
    left_s = [0.0]
    for standing in members:
        laid = standing.laid
        wait = rest_and_coat(laid) if laid is not None else None
        if laid is not None and wait is not None:
            left_s.append(wait.likely_s - (now - laid.at).total_seconds())
    return max(left_s)


def all_coats(
    rows: Iterable[RowWork], papers: Papers, habit: Habit, left: CoatsLeft | None = None
) -> tuple[tuple[Coat, ...], tuple[Unreckoned, ...]]:
    """Return every coat of some rows, with one charge for each pad, and what is not reckoned."""
    left = left or CoatsLeft()
    coats: list[Coat] = []
    unreckoned: list[Unreckoned] = []
    for row in rows:
        some_coats, some_unreckoned = left.of(row.work, papers.products, habit.own)
        coats += _later(some_coats, row.begins_s)
        unreckoned += some_unreckoned
    return with_pads(coats, habit.since_s, papers.products), tuple(dict.fromkeys(unreckoned))


def _later(coats: Iterable[Coat], by_s: float) -> Iterable[Coat]:
    """Return coats that begin so many seconds later."""
    return (coat._replace(after_s=coat.after_s + by_s) for coat in coats) if by_s else coats


def jobs_under_way(found: Iterable[Standing]) -> frozenset[str]:
    """Return the jobs of which a piece is begun and not finished: one jar and pad serve them."""
    begun = (one for one in found if one.progress is not None and not one.progress.finished)
    return frozenset(map(job_of, begun))


def job_of(standing: Standing) -> str:
    """Return the name of the job that a piece is of."""
    return standing.ref.partition("/")[0]


def _as_one(members: Sequence[tuple[Standing, PieceWork]]) -> RowWork:
    standings = tuple(standing for standing, _ in members)
    work = members[0][1]
    if len(members) == 1:
        return RowWork(work, standings)
    refs = in_words(one.ref for _, one in members)
    area_m2 = sum(one.area_m2 for _, one in members)
    return RowWork(replace(work, ref=refs, area_m2=area_m2, pieces=len(members)), standings)


def _work(standing: Standing, *, whole: bool) -> PieceWork:
    steps = standing.steps
    left = frozenset(step.key for step in (steps if whole else to_do(steps, standing.progress)))
    piece = standing.piece
    return PieceWork(standing.ref, piece.area_m2, piece.made_of, steps, left)
