"""What the journal says of amounts: what each coat took, and what that teaches of the next.

Film, need and due all ask here, so that one weighing moves them all alike.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

from finishsched.film.solids import density_g_per_ml
from finishsched.journal.events import BottleWeighed, Event, PieceStarted, StepDone
from finishsched.journal.progress import Book, this_life
from finishsched.journal.shelf import Shelf, shelf
from finishsched.mixing.account import Used, account_of
from finishsched.mixing.amount import Range, pad_charge_ml
from finishsched.mixing.learnt_use import By
from finishsched.mixing.let_down import as_laid
from finishsched.mixing.need import LoggedUse, OwnUses, own_uses
from finishsched.model.shop import Shop
from finishsched.model.step import Step
from finishsched.model.stock import Batch
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.base.shown import shown_of
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.pads import Pads, pads_of
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.where import teachers


class Habits(NamedTuple):
    """What a coat is reckoned by beside its schedule: what coats take here, how the pads are."""

    own: OwnUses
    pads: Pads


@dataclass(slots=True)
class _Kept:
    """Habits by one state of the journal, kept until an entry is written."""

    seq: int = -1
    habits: Habits | None = None


class Ledger(NamedTuple):
    """By what amounts that were logged are read."""

    book: Book
    papers: Papers
    things: Shelf
    pads: Pads


def habits_of(workshop: Workshop, book: Book | None = None) -> Habits:
    """Return what coats take here and how the pads are, by the pieces that still teach."""
    book = book or workshop.book()
    kept = workshop.held(_Kept, _Kept)
    if kept.habits is None or kept.seq != book.last_seq:
        found = teachers(workshop, book)
        kept.habits = _habits_among(found, book, workshop.papers)
        kept.seq = book.last_seq
    return kept.habits


def _habits_among(found: Iterable[Standing], book: Book, papers: Papers) -> Habits:
    """Return the same by the pieces ``found`` alone."""
    found = tuple(found)
    ledger = Ledger(book, papers, shelf(book), pads_of(found, papers.products))
    return Habits(own_uses(logged_uses(found, ledger)), ledger.pads)


def logged_uses(found: Iterable[Standing], ledger: Ledger) -> Iterator[LoggedUse]:
    """Give every amount that was logged or weighed; the first coat into wood teaches no factor."""
    for standing in found:
        if standing.progress is None:
            continue
        weighed = {key: own for key, own in _weighed(standing, ledger).items() if own.weighed}
        for step in standing.steps:
            own = weighed.get(step.key)
            if own is not None and own.amount_ml is not None:
                weighing = _use(step, standing, own.amount_ml.likely, by_mass=False, charged=True)
                yield weighing._replace(by=By.WEIGHED, shared_by=own.shared_by)
        for event in ledger.book.told(standing.ref, StepDone):
            yield from _told_uses(event, standing, ledger, weighed)


def used_of(standing: Standing, ledger: Ledger) -> dict[str, Used]:
    """Return what the journal says of each coat, by the step's key; a weighing goes first."""
    if standing.progress is None:
        return {}
    found = {
        step.key: _used(step, event, event.what, standing, ledger)
        for step, event in standing.progress.done
        if isinstance(event.what, StepDone) and step.verb.lays_coats
    }
    for event in _weighings(standing, ledger.book):
        if isinstance(event.what, BottleWeighed):
            _weigh(event.what, standing, found, ledger)
    return found


def coats_before(standing: Standing, key: str, coats: int) -> tuple[Step, ...]:
    """Return the ``coats`` coats laid one after the other that end with the step ``key``.

    Fewer where so many were not laid with the same product in the same way, nothing between.
    """
    if standing.progress is None:
        return ()
    done = [step for step, _ in standing.progress.done]
    keys = [step.key for step in done]
    if key not in keys:
        return ()
    last = done[keys.index(key)]
    found: list[Step] = []
    for step in reversed(done[: keys.index(key) + 1]):
        alike = (step.product, step.verb) == (last.product, last.verb)
        if not alike or not step.verb.lays_coats or len(found) == coats:
            break
        found.append(step)
    return tuple(reversed(found))


def _weighings(standing: Standing, book: Book) -> tuple[Event, ...]:
    return this_life(book.told(standing.ref, PieceStarted, BottleWeighed))


def _weighed(standing: Standing, ledger: Ledger) -> dict[str, Used]:
    """Return what each coat took, where any bottle was weighed."""
    weighings = _weighings(standing, ledger.book)
    any_is = any(isinstance(event.what, BottleWeighed) for event in weighings)
    return used_of(standing, ledger) if any_is else {}


def _told_uses(
    event: Event, standing: Standing, ledger: Ledger, weighed: Container[str]
) -> Iterator[LoggedUse]:
    """Give what an entry says of its coat, in each unit; a weighing has said it better."""
    done = event.what
    if not isinstance(done, StepDone) or done.reckoned or not (done.amount_ml or done.amount_g):
        return
    step = standing.step_of(event, done.step)
    if step is None or step.product is None or step.key in weighed:
        return
    charged = ledger.pads.is_charged(step, event.at, event.seq)
    for amount, by_mass in ((_ml_of(done, step, ledger), False), (done.amount_g, True)):
        if amount:
            yield _use(step, standing, amount, by_mass=by_mass, charged=charged)


def _ml_of(done: StepDone, step: Step, ledger: Ledger) -> float | None:
    """Return the volume that was taken, worked out where it was weighed and is wanted so."""
    if done.amount_ml is not None or done.amount_g is None:
        return done.amount_ml
    if step.spread is None or step.spread.ml_per_m2 is None or not step.verb.lays_coats:
        return None
    density = _density(step, None, ledger.papers)
    return done.amount_g / density if density else None


def _use(
    step: Step, standing: Standing, amount: float, *, by_mass: bool, charged: bool
) -> LoggedUse:
    area_m2 = standing.piece.area_m2
    return LoggedUse(
        step.product or "",
        step.verb,
        by_mass=by_mass,
        per_m2=amount / area_m2,
        scheduled_per_m2=_scheduled(step, standing, by_mass=by_mass),
        area_m2=area_m2,
        pad_apart=charged,
    )


def _scheduled(step: Step, standing: Standing, *, by_mass: bool) -> float | None:
    """Return what a coat is to be; None for the first: what wood drank tells of no other coat."""
    soaking = next((one for one in standing.steps if one.verb.lays_coats), None)
    if step == soaking or step.spread is None:
        return None
    return step.spread.g_per_m2 if by_mass else step.spread.ml_per_m2


def _used(step: Step, event: Event, done: StepDone, standing: Standing, ledger: Ledger) -> Used:
    papers = ledger.papers
    thing = ledger.things.find(done.batch) if done.batch else None
    batch = thing if isinstance(thing, Batch) else None
    cut = as_laid(step, standing.steps, batch.cut_g_per_l) if batch else None
    thinned = batch.thinned_percent if batch else None
    amount_ml = None if done.reckoned else done.amount_ml
    if amount_ml is None and not done.reckoned and done.amount_g is not None:
        density = _density(step, cut, papers)
        amount_ml = done.amount_g / density if density else None
    if not amount_ml:
        return Used(None, cut_g_per_l=cut, thinned_percent=thinned)
    error = papers.shop.tools.measure_error_percent / 100
    around = Range(amount_ml * max(0.0, 1 - error), amount_ml, amount_ml * (1 + error))
    charged = ledger.pads.is_charged(step, event.at, event.seq)
    for_coat = _without_pad(around, step, standing, 1, charged=charged)
    in_pad_ml = amount_ml - for_coat.likely
    return Used(
        for_coat, cut_g_per_l=cut, thinned_percent=thinned, in_pad_ml=in_pad_ml,
        words=_used_words(amount_ml, in_pad_ml, charged=charged, step=step, shop=papers.shop),
    )  # fmt: skip


def _used_words(
    amount_ml: float, in_pad_ml: float, *, charged: bool, step: Step, shop: Shop
) -> str:
    """Say how much was used, and what became of it where a pad lays the coat."""
    shown = shown_of(shop)
    words = shown.volume(amount_ml, 3)
    if not pad_charge_ml(step.verb):
        return words
    if charged:
        return f"{words}, the pad having its charge"
    return f"{words}, of which the dry pad kept {shown.volume(in_pad_ml, 3)}"


def _without_pad(
    used_ml: Range, step: Step, standing: Standing, coats: int, *, charged: bool
) -> Range:
    """Return what went into so many coats of what was used for them: what the pad keeps is none."""
    spread, area_m2 = step.spread, standing.piece.area_m2
    if spread is None or not spread.ml_per_m2:
        return used_ml
    scheduled_ml = spread.ml_per_m2 * area_m2 * coats
    low, likely, high = (
        used - account_of(used, scheduled_ml, step.verb, charged=charged).in_pad
        for used in (used_ml.low, used_ml.likely, used_ml.high)
    )
    return Range(low, likely, high)


def _weigh(what: BottleWeighed, standing: Standing, found: dict[str, Used], ledger: Ledger) -> None:
    """Put a weighing in the place of what was logged, the same for each of its coats."""
    papers = ledger.papers
    steps = coats_before(standing, what.step, what.coats)
    charged = _was_charged(standing, steps[:1], ledger.pads)
    for step in steps:
        before = found.get(step.key, Used())
        density = _density(step, before.cut_g_per_l, papers)
        if density:
            net_ml = _net_g(what, papers.shop).times(1 / density)
            together_ml = _without_pad(net_ml, step, standing, len(steps), charged=charged)
            amount_ml = together_ml.times(1 / len(steps))
            found[step.key] = Used(
                amount_ml, weighed=True, cut_g_per_l=before.cut_g_per_l,
                thinned_percent=before.thinned_percent, shared_by=len(steps),
                words=shown_of(papers.shop).volume(amount_ml.likely, 3),
            )  # fmt: skip


def _was_charged(standing: Standing, first: Iterable[Step], pads: Pads) -> bool:
    """Tell whether the pad had its charge before the first of some coats."""
    done = standing.progress.done if standing.progress is not None else ()
    keys = {step.key for step in first}
    return any(
        pads.is_charged(step, event.at, event.seq) for step, event in done if step.key in keys
    )


def _net_g(what: BottleWeighed, shop: Shop) -> Range:
    net_g, step_g = what.before_g - what.after_g, shop.tools.scale_g
    return Range(max(0.0, net_g - step_g), net_g, net_g + step_g)


def _density(step: Step, cut_g_per_l: float | None, papers: Papers) -> float | None:
    product = papers.products.get(step.product or "")
    if product is None:
        return None
    return density_g_per_ml(product, cut_g_per_l or step.cut_g_per_l, papers.shop.alcohol)
