"""The spots of a piece that are mended beside it, as the ledger of its face takes them.

How deep a dent or a hole was nobody said: the film that drops lay there is counted from the face
round it, so that less is said to be left after the next levelling than there is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from finishsched.checking.defects.seen import Seen, seen_in
from finishsched.film.abrading import Stroke
from finishsched.film.face import FaceLine, FaceState, FaceWork, Loss, taken_in
from finishsched.film.learning import Methods
from finishsched.film.spots import FilledUp, LetIn, OnSpot, Spotted
from finishsched.film.works import Reckoned, ground_of, work_there
from finishsched.film.zones import Zone, patch_of, spot_of
from finishsched.journal.events import DefectSeen, Event, ReworkTaken
from finishsched.journal.progress import Book, StepStatus
from finishsched.mixing.amount import NOTHING, Range
from finishsched.model.product import Product
from finishsched.model.schedule import Verb
from finishsched.workshop.amounts.uses import Ledger
from finishsched.workshop.film.facts import Reading, SpotWork, done_by, terms_of
from finishsched.workshop.film.shown import SpotTold
from finishsched.workshop.standing.beside import name_beside, taken_beside
from finishsched.workshop.standing.standing import Standing

THROUGH = (Seen.FILM_THROUGH, Seen.COLOUR_THROUGH, Seen.VENEER_THROUGH)
"""What is seen where nothing of the film is left."""


@dataclass(frozen=True, slots=True)
class _Spot:
    """One spot: its piece, its line of work, and the entry that began it."""

    piece: Standing
    line: Standing
    taken: Event
    zone: Zone
    seen: Seen | None


def spot_works(
    piece: Standing, lines: Iterable[Standing], ledger: Ledger, known: Methods
) -> Iterator[Reading]:
    """Give what is done on every spot of ``piece``, and is still to do; ``lines`` are of the shop.

    What is to be done comes before the step of the piece that waits for it. A wait or a step of the
    maker's own is on no spot.
    """
    by_ref = {line.ref: line for line in lines if line.of == piece.ref}
    for event in taken_beside(ledger.book.work(piece.ref)) if by_ref else ():
        assert isinstance(event.what, ReworkTaken)  # noqa: S101
        line = by_ref.get(event.what.beside)
        if line is not None and event.what.seen:
            yield from _works(_spot(piece, line, event, ledger.book), ledger, known)


def _spot(piece: Standing, line: Standing, event: Event, book: Book) -> _Spot:
    taken = event.what
    assert isinstance(taken, ReworkTaken)  # noqa: S101
    defects = (one.what for one in book.live(piece.ref) if one.id == taken.defect_id)
    where = next((what.where for what in defects if isinstance(what, DefectSeen)), "")
    zone_of = patch_of if line.bare else spot_of
    zone = zone_of(piece.piece, taken.number, line.piece.area_m2, where)
    return _Spot(piece, line, event, zone, seen_in(taken.seen))


def _works(spot: _Spot, ledger: Ledger, known: Methods) -> Iterator[Reading]:
    terms = terms_of(spot.line, ledger, known)
    begun = Spotted(spot.zone, spot.seen in THROUGH, veneer_gone=spot.seen is Seen.VENEER_THROUGH)
    yield _told(spot, spot.taken, begun, f"{spot.zone.name} begun")
    progress = spot.line.progress
    assert progress is not None  # noqa: S101
    done = {step.key: event for step, event in progress.done}
    for step, status in zip(spot.line.steps, progress.statuses, strict=True):
        work = _work(spot, work_there(step, spot.line.piece, terms), terms.products)
        if work is None or status is StepStatus.SKIPPED:
            continue
        title = f"{spot.zone.name}: {step.title}"
        event = done.get(step.key)
        yield _told(spot, event, work, title) if event else _ahead(spot, work, title)


def _work(spot: _Spot, reckoned: Reckoned, products: Mapping[str, Product]) -> FaceWork:
    """Return what a step does there; None where it leaves film and wood as they are."""
    step = reckoned.step
    if spot.line.bare and step.verb is Verb.GLUE_UP:
        return LetIn(spot.zone, ground_of(spot.piece.piece, spot.piece.steps, products))
    if step.verb is Verb.BURN_IN:
        return OnSpot(spot.zone.name, FilledUp())
    return OnSpot(spot.zone.name, reckoned.work) if reckoned.work is not None else None


def _told(spot: _Spot, event: Event, work: FaceWork, title: str) -> Reading:
    told = SpotWork(work, title)
    return Reading(event.at, 0.0, done_by(spot.piece, event.at), spot.zone.name, told)


def _ahead(spot: _Spot, work: FaceWork, title: str) -> Reading:
    """Return work to come: before the step that waits for it, and after all that was done."""
    steps, progress = spot.piece.steps, spot.piece.progress
    held = next((at for at, step in enumerate(steps) if step.key == spot.line.holds), len(steps))
    statuses = progress.statuses if progress else ()
    past = (at for at, status in enumerate(statuses) if status is not StepStatus.TO_DO)
    after = max((held - 1, *past))
    return Reading(spot.taken.at, 0.0, after, spot.zone.name, SpotWork(work, title, ahead=True))


def spots_told(ref: str, now: FaceState, paper: FaceLine | None) -> Iterator[SpotTold]:
    """Give what lies at every spot of ``ref`` now, and what ``paper``, the next on all of it, does.

    Nothing where there is no spot.
    """
    steps = now.steps_um() if any(part.zone.is_mended for part in now.parts) else {}
    for part in now.parts:
        name = part.zone.name
        if not part.zone.is_mended or not name[-1].isdigit():
            continue
        yield SpotTold(
            name,
            name_beside(ref, int(name.rpartition(" ")[2])),
            part.zone.beside,
            part.state.film_um,
            part.left_um,
            steps[name],
            _title(paper),
            _takes(name, paper),
            _loss(name, paper),
        )


def _title(paper: FaceLine | None) -> str:
    stroke = paper.work if paper else None
    if not isinstance(stroke, Stroke):
        return ""
    return f"{stroke.reach.value if stroke.reach else 'sand'} {stroke.grade.name}"


def _takes(name: str, paper: FaceLine | None) -> Range:
    return taken_in(name, paper) if paper else NOTHING


def _loss(name: str, paper: FaceLine | None) -> Loss | None:
    lost = paper.lost if paper else ()
    here = ((loss, dict(loss.by_zone).get(name, 0.0)) for loss in lost)
    found = [replace(loss, zone=name, odds=odds, zone_odds=odds) for loss, odds in here if odds]
    return max(found, key=lambda loss: loss.odds, default=None)
