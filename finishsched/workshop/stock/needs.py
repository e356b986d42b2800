"""What a job takes, less what the shop has: the calculators fed from papers, journal and shelf."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from finishsched.mixing.consumables import Consumable, consumables_of
from finishsched.mixing.need import Coat, Unreckoned
from finishsched.mixing.supply import Supply, supply
from finishsched.model.job import Face
from finishsched.model.names import in_words
from finishsched.model.product import Product
from finishsched.model.ranges import Range
from finishsched.model.shop import Shop, ShownUnits
from finishsched.model.stock import Lot
from finishsched.near import nearest
from finishsched.workshop.amounts.coats import Habit
from finishsched.workshop.amounts.job_coats import (
    RowWork,
    all_coats,
    by_rows,
    job_of,
    jobs_under_way,
)
from finishsched.workshop.amounts.uses import habits_of
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.shown import Shown, shown_of
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.beside import to_do
from finishsched.workshop.standing.several import choose
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.together import alike_title
from finishsched.workshop.standing.where import named_among
from finishsched.workshop.stock.assumed import assumptions
from finishsched.workshop.stock.shop_stock import shop_stock
from finishsched.workshop.stock.stock import StockAnswer
from finishsched.workshop.stock.supplies import (
    NOTHING,
    Shelved,
    called,
    missing,
    own_life,
    supplies_of,
    wetted_from,
)


@dataclass(frozen=True, slots=True)
class NeedQuestion:
    """What somebody asks: a job, some of its pieces, all of the work or what is left."""

    job: str
    pieces: tuple[str, ...] = ()
    """By their own name or ``job/piece``; none for all."""
    whole: bool = False
    """True to reckon pieces already begun from their first step."""


@dataclass(frozen=True, slots=True)
class PieceScope:
    """One piece, and which part of its work is reckoned."""

    ref: str
    title: str
    scope: str
    """``whole``, ``from step 8 of 41`` or ``finished``."""
    area_m2: float
    faces: tuple[Face, ...]


@dataclass(frozen=True, slots=True)
class NeedAnswer:
    """What a job takes, coat by coat, and where that is to come from."""

    job: str
    title: str
    units: ShownUnits
    shown: Shown
    """How amounts are told: in those units, and no finer than the scale reads."""
    shop: Shop
    pieces: tuple[PieceScope, ...]
    coats: tuple[Coat, ...]
    unreckoned: tuple[Unreckoned, ...]
    supply: Supply
    products: Mapping[str, Product]
    assumptions: tuple[str, ...]
    consumables: tuple[Consumable, ...]
    """Papers, pads, cloths, tape, and what wets them."""
    to_buy: Mapping[str, Range]
    """Of these, by name, what the shelf does not hold; nothing missing is not listed."""
    notices: tuple[str, ...]
    """What could not be reckoned, and why."""

    def title_of(self, product: str) -> str:
        """Return a product's title, or its id where no document tells."""
        found = self.products.get(product)
        return found.title if found else product


def job_need(
    workshop: Workshop,
    job: str,
    now: datetime,
    pieces: tuple[str, ...] = (),
    *,
    whole: bool = False,
) -> NeedAnswer:
    """Return what ``job`` takes, less what stands on the shelf at ``now``.

    Of ``pieces`` only, where some are named; pieces begun are reckoned from their step in
    hand, or from their first when ``whole``.

    Raises:
        RefusedError: for a job or piece that there is not.
        DocumentFaultsError: when the job's document has faults.

    """
    question = NeedQuestion(job, pieces, whole)
    stock, habits = shop_stock(workshop, now), habits_of(workshop)
    habit = Habit(habits.own, habits.pads.since_s(now))
    known = named_among(workshop, job)
    found = _need_answer(question, known, workshop.papers, habit, stock, now)
    usable = [row.lot for row in stock.lots if row.usable]
    return _from_the_drawer(found, (*supplies_of(workshop), *wetted_from(workshop, usable)), usable)


def _from_the_drawer(need: NeedAnswer, shelf: Sequence[Shelved], lots: Iterable[Lot]) -> NeedAnswer:
    """Return the answer with papers and cloths by the shop's own counts, less what it has."""
    consumables = tuple(own_life(need.consumables, shelf))
    left = {one.name: one.left for one in shelf}
    taken = {one.product: one.in_stock for one in need.supply.materials if not one.by_mass}
    for product, had in _untouched(lots, left).items():
        left[product] = Range(had, had, had)
    wanted = ((one, left.get(called(one.name), NOTHING)) for one in consumables)
    to_buy = {
        one.name: missing(one.amount, _less_taken(there, taken.get(one.name, 0.0)))
        for one, there in wanted
    }
    short = {name: amount for name, amount in to_buy.items() if amount.likely > 0}
    return replace(need, consumables=consumables, to_buy=short)


def _untouched(lots: Iterable[Lot], known: Container[str]) -> dict[str, float]:
    """Return how many ml of each product stand there, of which no work took any to wet paper."""
    found: dict[str, float] = {}
    for lot in lots:
        if lot.left_ml is not None and lot.product not in known:
            found[lot.product] = found.get(lot.product, 0.0) + lot.left_ml
    return found


def _less_taken(left: Range, taken: float) -> Range:
    """Return what is left once the coats have had theirs."""
    return Range(*(max(0.0, end - taken) for end in (left.low, left.likely, left.high)))


def _need_answer(
    question: NeedQuestion,
    standings: Sequence[Standing],
    papers: Papers,
    habit: Habit,
    stock: StockAnswer,
    now: datetime,
) -> NeedAnswer:
    """Return what the job takes.

    Raises:
        RefusedError: for a job or a piece that there is not.
        DocumentFaultsError: when the job's document has faults.

    """
    chosen = _chosen(question, _of_job(question.job, standings, papers))
    readable = [standing for standing in chosen if standing.schedule is not None]
    rows = by_rows(readable, now, whole=question.whole)
    works = [row.work for row in rows]
    coats, unreckoned = all_coats(rows, papers, habit)
    batches = [row.batch for row in stock.batches if row.usable]
    lots = [row.lot for row in stock.lots if row.usable]
    told_up = shown_of(papers.shop).measured_up
    found = supply(coats, papers.products, papers.shop, batches, lots, told_up)
    return NeedAnswer(
        job=question.job,
        title=", ".join(dict.fromkeys(s.job.title for s in chosen if s.job)) or question.job,
        units=papers.shop.units,
        shown=shown_of(papers.shop),
        shop=papers.shop,
        pieces=tuple(map(_scope, rows)),
        coats=coats,
        unreckoned=unreckoned,
        supply=found,
        products=papers.products,
        assumptions=(
            *_mixed_alone(chosen, standings, coats),
            *assumptions(coats, unreckoned, found, papers, stock),
        ),
        consumables=consumables_of(works, papers.products),
        to_buy={},
        notices=tuple(_notices(chosen)),
    )


def _mixed_alone(
    chosen: Sequence[Standing], standings: Sequence[Standing], coats: Iterable[Coat]
) -> Iterator[str]:
    """Say that a jar is mixed for more than was asked about, where other jobs take from it too."""
    under_way = jobs_under_way(standings)
    asked = {job_of(one) for one in chosen}
    beside = [one for one in standings if job_of(one) in under_way - asked]
    mixed = {coat.mixture.product for coat in coats}
    shared = {
        job_of(one)
        for one in beside
        if mixed & {step.product for step in to_do(one.steps, one.progress)}
    }
    if asked & under_way and shared:
        alone, together = (in_words(sorted(jobs)) for jobs in (asked, asked & under_way | shared))
        yield (
            f"what is mixed and what the pad takes is told for {alone} alone; due has one jar "
            f"mixed and one pad charged for {together} together, as need all reckons it"
        )


def _of_job(name: str, standings: Sequence[Standing], papers: Papers) -> list[Standing]:
    if name not in papers.titles:
        _refuse_faulty(name, papers)
    found = [standing for standing in standings if job_of(standing) == name]
    if found:
        return found
    if not standings:
        raise RefusedError("the shop has no job yet", "finishsched begin begins a piece")
    return list(choose(standings, name).standings)


def _refuse_faulty(name: str, papers: Papers) -> None:
    """Refuse a job whose document could not be read, with every fault of it."""
    from finishsched.documents.faults import DocumentFaultsError  # noqa: PLC0415

    files = {f"jobs/{name}.yaml", f"jobs/{name}.yml"}
    faults = [fault for fault in papers.faults if fault.file in files]
    if faults:
        raise DocumentFaultsError(faults)


def _chosen(question: NeedQuestion, of_job: list[Standing]) -> list[Standing]:
    if not question.pieces:
        return of_job
    wanted = {name.removeprefix(f"{question.job}/") for name in question.pieces}
    known = {standing.ref.partition("/")[2]: standing for standing in of_job}
    alike = {standing.piece.alike for standing in of_job} - {""}
    unknown = sorted(wanted - known.keys() - alike)
    if unknown:
        near = nearest(unknown[0], known)
        remedy = f"did you mean {near!r}?" if near else f"there are {', '.join(known)}"
        names = " and ".join(repr(name) for name in unknown)
        raise RefusedError(f"no piece {names} in {question.job}", remedy)
    rows = wanted & alike
    return [one for name, one in known.items() if name in wanted or one.piece.alike in rows]


def _scope(row: RowWork) -> PieceScope:
    standing, work = row.members[0], row.work
    first = next((step for step in work.steps if step.key in work.left), None)
    if first is None:
        scope = "finished"
    elif len(work.left) == len(work.steps):
        scope = "whole"
    else:
        scope = f"from step {first.number} of {len(work.steps)}"
    piece = standing.piece
    title = piece.title
    if len(row.members) > 1:
        title = alike_title(len(row.members), title, standing.ref)
    return PieceScope(work.ref, title, scope, work.area_m2, piece.faces)


def _notices(chosen: Iterable[Standing]) -> Iterator[str]:
    for standing in chosen:
        if standing.schedule is None:
            yield (
                f"{standing.ref} is left out: its schedule {standing.piece.schedule!r} cannot be "
                "read; finishsched check tells why"
            )
        if standing.job is None:
            yield f"{standing.ref} is reckoned by the journal: its job's document is gone"
