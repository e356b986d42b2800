"""Choose a schedule that fits: ranked, with reasons, by this shop's own hours, air and shelf."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime

from finishsched.checking.cases import ScheduleCase
from finishsched.checking.rule import Severity
from finishsched.documents import library
from finishsched.mixing.need import PieceWork, coats_of
from finishsched.mixing.supply import Supply, supply
from finishsched.model.job import Face, Job, Piece
from finishsched.model.product import Product
from finishsched.model.schedule import Schedule
from finishsched.model.shop import Shop
from finishsched.model.step import steps_of
from finishsched.model.woods_described import in_full
from finishsched.safety.contents import parts_of_product
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.begin.fitting import (
    A_REMARK,
    ADVICE_WEIGHS,
    Reason,
    finish_of,
    last_film,
    reasons,
)
from finishsched.workshop.begin.offers import Offer, Takes, Wanted
from finishsched.workshop.defects.checks import findings_on
from finishsched.workshop.plan.hands_and_hours import WhatIf
from finishsched.workshop.plan.plans import Asked, plan_answer

ASKED_PIECE = "asked"
"""What the piece is called in the plan that is tried."""
FEW_PIECES = 4
"""In a shop with no more pieces than these every schedule is tried in the plan: that takes an
eighth of a second each (measured here), and nobody asks why within two seconds."""
MOST_PLANNED = 5
"""So many of the best are tried in a busier shop: the others are told without dates."""


def papers_without_a_shop() -> Papers:
    """Return what is shipped, for a choice where no shop is."""
    return Papers(Shop(""), (), library.shipped_schedules(), library.shipped_products(), ())


def offers(
    wanted: Wanted,
    papers: Papers,
    workshop: Workshop | None,
    now: datetime,
    tell: Callable[[str], None] = lambda _: None,
) -> tuple[Offer, ...]:
    """Return every schedule that finishes wood, the best first.

    What the checker refuses on such a piece comes last. Dates are by the real plan of the shop,
    with the piece beside all that is open: for all that fit in a shop with few pieces, else for the
    best few; without a shop there are none. ``tell`` is told how far it has come.
    """
    wanted = _described(wanted, papers)
    found = []
    for number, schedule in enumerate(papers.schedules.values(), start=1):
        tell(f"weighing schedule {number} of {len(papers.schedules)}")
        offer = _offer(schedule, wanted, papers, workshop)
        if offer is not None:
            found.append(offer)
    found.sort(key=_rank)
    if workshop is not None:
        likely = [offer for offer in found if not offer.refused and offer.points > 0]
        is_quiet = sum(1 for _ in workshop.papers.pieces_in_hand()) <= FEW_PIECES
        tried = likely if is_quiet else likely[:MOST_PLANNED]
        best = []
        for number, offer in enumerate(tried, start=1):
            tell(f"trying {number} of {len(tried)} in the plan")
            best.append(_planned(offer, wanted, workshop, now))
        rest = [offer for offer in found if offer not in tried]
        # What was not tried in the plan may be late too: it stays behind what was.
        found = [*sorted(best, key=_rank), *rest]
    return tuple(found)


def best_offers(wanted: Wanted, papers: Papers, count: int) -> tuple[Offer, ...]:
    """Return the few best schedules that nothing refuses, without dates, film or material.

    Only as many are held against the rules as it takes: the rest fit less anyway.
    """
    wanted = _described(wanted, papers)
    found: list[Offer] = []
    ranked = []
    for schedule in papers.schedules.values():
        case = ScheduleCase(schedule, papers.products, papers.shop)
        if last_film(case) is not None and schedule.over is wanted.over:
            points = sum(reason.weight for reason in reasons(case, wanted))
            ranked.append((-points, _hands_on_min(case, wanted), schedule.id))
    for _, _, name in sorted(ranked):
        offer = _offer(papers.schedules[name], wanted, papers, None, with_figures=False)
        if offer is not None and not offer.refused:
            found.append(offer)
        if len(found) == count:
            break
    return tuple(sorted(found, key=_rank))


def _described(wanted: Wanted, papers: Papers) -> Wanted:
    """Return what is wanted with the shop's own woods described."""
    return replace(wanted, described=in_full(wanted.species, papers.shop.woods))


def offer_of(
    name: str, wanted: Wanted, papers: Papers, now: datetime | None = None
) -> Offer | None:
    """Return one schedule as it fits, without plan, film or material; None where it is no finish.

    One that ``papers`` have not is none either. Begun ``now``, a due date before its earliest waits
    are over speaks against it.
    """
    schedule = papers.schedules.get(name)
    if schedule is None:
        return None
    return _offer(schedule, _described(wanted, papers), papers, None, now, with_figures=False)


def _rank(offer: Offer) -> tuple[bool, bool, bool, float, float]:
    """Put refused ones last, then misfits, then late ones; then by what fits, then by the work."""
    misfit, late = offer.points <= 0, bool(offer.late_days)
    return bool(offer.refused), misfit, late, -offer.points, offer.takes.hands_on_min


def _offer(
    schedule: Schedule,
    wanted: Wanted,
    papers: Papers,
    workshop: Workshop | None,
    now: datetime | None = None,
    *,
    with_figures: bool = True,
) -> Offer | None:
    """Return a schedule as it is offered; without ``with_figures`` not what it takes."""
    case = ScheduleCase(schedule, papers.products, papers.shop)
    if last_film(case) is None:
        return None  # it glues or fills: no finish by itself
    if schedule.over is not wanted.over:
        return None  # it renews what is there, or strips nobody's old finish
    # Both sides of a panel: a rule asks whether veneer is worked on one side alone.
    sides = Face("side", stated_area_m2=wanted.area_m2 / 2, count=2)
    piece = Piece(
        ASKED_PIECE, wanted.title, schedule.id, wanted.faces or (sides,),
        species=wanted.species, described=wanted.described,
        veneer_mm=wanted.veneer_mm, sheen=wanted.sheen, inlays=wanted.inlays, due=wanted.due,
    )  # fmt: skip
    job = Job("asked", "Asked", (piece,), due=None)
    book = workshop.book() if workshop else None
    findings = findings_on(papers, piece, job, case, book, now)
    found = list(reasons(case, wanted))
    found += [
        Reason(f.message, ADVICE_WEIGHS.get(f.code, A_REMARK))
        for f in findings
        if f.severity is Severity.ADVICE
    ]
    finish = finish_of(case)
    return Offer(
        schedule=schedule,
        fits=tuple(r.says for r in found if r.weight > 0),
        against=tuple(r.says for r in found if r.weight <= 0),
        refused=tuple(f.message for f in findings if f.severity is Severity.ERROR),
        late_days=0,
        points=1.0 + sum(reason.weight for reason in found),
        takes=_takes(case, piece, papers) if with_figures else Takes(_hands_on_min(case, wanted)),
        comes_off=finish.comes_off if finish else "",
    )


def _hands_on_min(case: ScheduleCase, wanted: Wanted) -> float:
    return sum(step.hands_on.minutes(wanted.area_m2) for step in steps_of(case.schedule))


def _takes(case: ScheduleCase, piece: Piece, papers: Papers) -> Takes:
    steps = steps_of(case.schedule)
    area_m2 = piece.area_m2
    ledger = case.ledger_on(piece)
    work = PieceWork("asked", area_m2, piece.made_of, steps, frozenset(s.key for s in steps))
    coats, _ = coats_of(work, papers.products, {})
    found = supply(coats, papers.products, papers.shop)
    material = tuple(
        (each.product, each.amount, "g" if each.by_mass else "ml") for each in found.materials
    )
    return Takes(
        hands_on_min=sum(step.hands_on.minutes(area_m2) for step in steps),
        waits_s=sum(step.wait.likely_s for step in steps if step.wait),
        film_um=ledger[-1][1].after.film_um if ledger else None,
        solvent_ml=_solvent_ml(found, papers),
        material=material,
        cost=_cost(found),
    )


def _solvent_ml(found: Supply, papers: Papers) -> float:
    """Return the solvent that leaves all that is laid, by volume: what goes on comes off again."""
    methanol = papers.shop.alcohol.methanol_percent
    total = 0.0
    for each in found.materials:
        product: Product | None = papers.products.get(each.product)
        if product is None:
            continue
        ml, grams = (None, each.amount) if each.by_mass else (each.amount, None)
        parts = parts_of_product(product, ml=ml, grams=grams, methanol_percent=methanol)
        total += sum(part.ml for part in parts)
    return total


def _cost(found: Supply) -> tuple[float, str] | None:
    """Return what all its material would cost in packs; None where a price is missing."""
    prices = [each.cost for each in found.purchases]
    known = [price for price in prices if price is not None]
    if not known or len(known) < len(prices):
        return None
    return sum(price.amount for price in known), known[0].currency


def _planned(offer: Offer, wanted: Wanted, workshop: Workshop, now: datetime) -> Offer:
    """Return the offer with when it would be finished, beside all that is open in the shop."""
    what_if = WhatIf(pieces=((ASKED_PIECE, offer.schedule.id, wanted.area_m2),))
    try:
        answer = plan_answer(workshop, now, Asked(what_if=what_if, insight=False))
    except RefusedError:
        return offer
    ref = f"what-if/{ASKED_PIECE}"
    own = [step for step in answer.steps if step.ref == ref]
    days = {step.start.astimezone(answer.zone).date() for step in own if step.person}
    finish = next((piece.finish for piece in answer.pieces if piece.ref == ref), None)
    late_days = _late_days(finish, wanted.due, workshop)
    takes = replace(offer.takes, evenings=len(days), finish=finish)
    return replace(offer, takes=takes, late_days=late_days)


def _late_days(finish: datetime | None, due: date | None, workshop: Workshop) -> int:
    if finish is None or due is None:
        return 0
    return max(0, (finish.astimezone(workshop.zone).date() - due).days)
