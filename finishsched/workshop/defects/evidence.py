"""What the journal says about a coat that came out wrong, as the ranking of causes takes it."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from itertools import pairwise
from typing import TYPE_CHECKING, TypeAlias

from finishsched.checking.defects.evidence import Evidence
from finishsched.drying.air import FILM_COOLING, air_answer
from finishsched.drying.forecast import HOUR_S, Reading
from finishsched.film.species import is_pattern, wants_filling
from finishsched.journal.events import Event, StepDone
from finishsched.journal.shelf import shelf
from finishsched.mixing.keeping import life_of
from finishsched.model.grades import UnknownGradeError, grade_of, is_steel
from finishsched.model.lubricants import is_wet
from finishsched.model.product import Mechanism, Product, ProductKind
from finishsched.model.schedule import StageName
from finishsched.model.step import Step
from finishsched.model.stock import Batch
from finishsched.model.verbs import ABRADES, LAYS_COATS, Verb
from finishsched.model.woods import woods_of
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.waits import Laid, waits_of, wets
from finishsched.workshop.standing.where import cure_room, standings

if TYPE_CHECKING:
    from finishsched.workshop.base.workshop import Workshop

Done: TypeAlias = tuple[Step, Event]

KNOWN_FOR_S = 12 * HOUR_S
"""A reading tells of the air this long after it; later, nothing is known (our assumption)."""
DUST_BEFORE, DUST_AFTER = timedelta(minutes=30), timedelta(hours=1)
"""Sanding this near to a coat may dust it (our assumption)."""
OILS = (ProductKind.OIL, ProductKind.LUBRICANT)
SPIRITS = "mineral-spirits"


@dataclass(frozen=True, slots=True)
class Story:
    """What was done to one piece until a defect was seen, cut where it is looked at."""

    workshop: Workshop
    standing: Standing
    at: datetime
    done: tuple[Done, ...]
    """What was done by then, in the order of the work."""
    in_hand: Step | None
    waits: dict[str, Laid]

    @property
    def coats(self) -> list[Done]:
        """The coats of finish among it."""
        return [pair for pair in self.done if pair[0].verb.lays_coats]

    @property
    def last_wet(self) -> Done | None:
        """The last coat, or the flashing off after it: what the defect came from, or after."""
        wet = [p for p in self.done if p[0].verb.lays_coats or p[0].verb is Verb.SPIRIT_OFF]
        return wet[-1] if wet else None

    def before(self, pair: Done) -> tuple[Done, ...]:
        """Return what was done before ``pair``."""
        return self.done[: self.done.index(pair)]

    def since(self, verbs: Iterable[Verb], among: Sequence[Done]) -> tuple[Done, ...]:
        """Return what of ``among`` was done after the last step of these verbs, or all of it."""
        wanted = tuple(verbs)
        places = [i for i, (step, _) in enumerate(among) if step.verb in wanted]
        return tuple(among[places[-1] + 1 :]) if places else tuple(among)

    def product(self, step: Step) -> Product | None:
        """Return what a step lays or uses."""
        return self.workshop.papers.products.get(step.product or "")


def evidence_of(
    workshop: Workshop, standing: Standing, step: Step | None, at: datetime
) -> Evidence:
    """Return what the journal knows about the last coat up to ``step`` (None: any) by ``at``."""
    story = _story(workshop, standing, step, at)
    piece = standing.piece
    woods = woods_of(piece.made_of)
    found = Evidence(
        doing=story.in_hand.verb if story.in_hand else None,
        open_pores=wants_filling(piece.made_of),
        oily_wood=any(wood.oily for wood in woods) if woods else None,
        patterned=is_pattern(piece.made_of) if piece.made_of else None,
        veneer_mm=piece.veneer_mm,
    )
    if not story.done:
        return found
    found = _with_film(_with_paper(_with_below(found, story), story), story)
    return _with_coat(found, story, story.last_wet) if story.last_wet else found


def _story(workshop: Workshop, standing: Standing, step: Step | None, at: datetime) -> Story:
    progress = standing.progress
    last = step.number if step is not None else len(standing.steps)
    pairs = progress.done if progress is not None else ()
    done = tuple((s, e) for s, e in pairs if e.at <= at and s.number <= last)
    live = [event for event in workshop.book().live(standing.ref) if event.at <= at]
    waits = waits_of(standing.piece, standing.steps, live)
    return Story(workshop, standing, at, done, step or standing.step, waits)


def _with_coat(found: Evidence, story: Story, wet: Done) -> Evidence:
    """Add what is known of the coat itself, the air it had, and the waits round it."""
    step, event = wet
    coat = story.coats[-1] if story.coats else wet
    product = story.product(coat[0])
    laid = story.waits.get(step.key)
    found = replace(
        found,
        verb=step.verb,
        kind=product.kind if product else None,
        dried_share=_share(story, laid, story.at),
        waited_share=_waited(story, wet),
        dry_checks_failed=len(laid.not_yet_at) if laid else None,
        days_since_coat=(story.at - coat[1].at).total_seconds() / 86400,
        dust_near=_dust_near(story, coat),
        tacked=_tacked(story, coat),
    )
    return _with_batch(_with_air(found, story, step, event), story, coat)


def _with_air(found: Evidence, story: Story, step: Step, event: Event) -> Evidence:
    air = _air_at(story.workshop, event.at)
    if air is None:
        return found
    how = step.verb.value if step.verb.value in FILM_COOLING else "pad"
    answer = air_answer(
        min(60.0, max(-10.0, air.temperature_c)), max(1.0, air.humidity_percent), how
    )
    until = [air, *_readings(story.workshop, event.at, story.at)]
    return replace(
        found,
        temperature_c=air.temperature_c,
        humidity_percent=air.humidity_percent,
        dew_margin_k=answer.blush_margin_k,
        movement_m_per_s=air.movement_m_per_s,
        worst_humidity_percent=max(one.humidity_percent for one in until),
        coldest_c=min(one.temperature_c for one in until),
    )


def _with_batch(found: Evidence, story: Story, coat: Done) -> Evidence:
    step, event = coat
    what = event.what
    assert isinstance(what, StepDone)  # noqa: S101
    thing = shelf(story.workshop.book()).find(what.batch) if what.batch else None
    batch = thing if isinstance(thing, Batch) else None
    told = what.amount_ml is not None and not what.reckoned
    weighed = told and step.spread is not None and step.spread.ml_per_m2
    standing, room = story.standing, cure_room(story.workshop)
    laid = Laid(standing.piece, step, standing.steps, what, event.at, seq=event.seq)
    ratio = room.film_ratio(laid) if weighed else None
    return replace(
        found,
        amount_share=ratio,
        cut_g_per_l=batch.cut_g_per_l if batch and batch.cut_g_per_l else step.cut_g_per_l,
        thinned_percent=(batch.thinned_percent if batch else None) or step.thinned_percent,
        batch_age_share=_age_share(story, batch, event.at) if batch else None,
    )


def _age_share(story: Story, batch: Batch, at: datetime) -> float | None:
    life = life_of(story.workshop.papers.products.get(batch.product), mixed=True)
    if not life.typical_s:
        return None
    return max(0.0, (at - batch.mixed_at).total_seconds()) / life.typical_s


def _with_film(found: Evidence, story: Story) -> Evidence:
    coats = story.coats
    if not coats:
        return replace(found, coats=0)
    day = coats[-1][1].at - timedelta(days=1)
    return replace(
        found,
        coats=len(coats),
        coats_since_level=_coats_under_paper(story),
        coats_in_a_day=sum(1 for _, event in coats if event.at > day),
        film_um=_film_um(story),
        sealed=any(_seals(step, story.product(step)) for step, _ in coats),
    )


def _film_um(story: Story) -> float:
    """Return the likely film over the high spots, as the ledger of film has it now."""
    from finishsched.workshop.film.films import film_answer  # noqa: PLC0415  # dear

    return film_answer(story.workshop, story.standing.ref, story.at).now.film_um.likely


def _coats_under_paper(story: Story) -> int:
    """Return how many coats the paper meets that is now, or was last, on the film."""
    done = list(story.done)
    while done and not done[-1][0].verb.lays_coats:
        done.pop()
    return sum(1 for step, _ in story.since((Verb.LEVEL,), done) if step.verb.lays_coats)


def _seals(step: Step, product: Product | None) -> bool:
    return product is not None and product.waxy is False and step.stage is StageName.SEAL


def _with_below(found: Evidence, story: Story) -> Evidence:
    """Add what lies under the coat, and what came on the piece that does not belong there."""
    coat = story.coats[-1] if story.coats else None
    below = story.before(coat) if coat else story.done
    own = coat[0].product if coat else None
    products = [story.product(step) for step, _ in below if step.product != own]
    laid = [product for product in products if product is not None]
    wetted = [pair for pair in story.done if wets(pair[0], _products(story))]
    redried = [_redried(story, pair) for pair in wetted]
    shares = [share for share in redried if share is not None]
    green = [share for share in _left_green(story) if share is not None]
    lately = any(wets(pair[0], _products(story)) for pair in _between_coats(story))
    return replace(
        _with_oil(found, story),
        oxidising_below=any(
            p.mechanism is Mechanism.OXIDISING and p.kind is not ProductKind.FILLER for p in laid
        ),
        waxy_below=any(p.waxy or p.kind is ProductKind.WAX for p in laid),
        stained=any(p.kind is ProductKind.STAIN for p in laid),
        filled=any(step.verb is Verb.FILL for step, _ in story.done),
        water_used=lately or any(share < 1 for share in shares),
        redried_share=min(shares) if shares else None,
        green_below_share=min(green) if green else None,
        steel_wool=any(is_steel(step.grade or "") for step, _ in story.done),
    )


def _left_green(story: Story) -> Iterator[float | None]:
    """Give how dry each layer was when something else came over it: every earlier one counts."""
    layers = [pair for pair in story.done if pair[0].verb.lays]
    for (below, _), (above, event) in pairwise(layers):
        if below.product != above.product:
            yield _share(story, story.waits.get(below.key), event.at)


def _with_oil(found: Evidence, story: Story) -> Evidence:
    """Add whether oil or spirits were used, and cleaned off after."""
    products = _products(story)

    def oils(step: Step) -> bool:
        named = (products.get(name or "") for name in (step.lubricant, step.product))
        used = [product for product in named if product is not None]
        return any(p.kind is ProductKind.LUBRICANT for p in used) or (
            step.lubricant is not None and any(p.kind in OILS for p in used)
        )

    def cleans(step: Step) -> bool:
        thins = story.product(step)
        if step.verb is Verb.TACK_OFF:
            return thins is not None and thins.kind is ProductKind.THINNER
        return step.verb is Verb.SPIRIT_OFF

    last_oil = max((i for i, (s, _) in enumerate(story.done) if oils(s)), default=-1)
    last_clean = max((i for i, (s, _) in enumerate(story.done) if cleans(s)), default=-1)
    wet = [p for p in _between_coats(story) if SPIRITS in (p[0].lubricant, p[0].product)]
    gone = _redried(story, wet[-1]) if wet else None
    left = None if not wet or (gone is not None and gone >= 1) else True
    return replace(
        found,
        oil_used=last_oil >= 0,
        cleaned=last_clean > last_oil if last_oil >= 0 else None,
        # Spirits that had their time to go say nothing, for or against.
        spirits_used=left if wet else False,
    )


def _with_paper(found: Evidence, story: Story) -> Evidence:
    """Add what the abrasives say, the one in hand among them."""
    rubbed = [step for step, _ in story.done if step.verb in ABRADES]
    hand = story.in_hand
    if hand is not None and hand.verb in ABRADES and hand not in rubbed:
        rubbed.append(hand)
    film = [step for step in rubbed if step.verb is not Verb.SAND]
    since = {step.key for step, _ in story.since((*LAYS_COATS,), story.done)}
    on_film = [step for step in film if step.key in since or step == hand]
    grains = list(_grains(story, on_film or [s for s in rubbed if s.verb is Verb.SAND]))
    last = list(_grains(story, rubbed[-1:]))
    return replace(
        found,
        grade_um=last[0] if last else None,
        grade_jump=max((a / b for a, b in pairwise(grains)), default=None),
        lubricated=is_wet(film[-1].lubricant) if film else None,
        levellings=sum(1 for step, _ in story.done if step.verb is Verb.LEVEL),
        wood_sandings=sum(1 for step, _ in story.done if step.verb is Verb.SAND),
    )


def _grains(story: Story, steps: Iterable[Step]) -> Iterator[float]:
    bare = story.workshop.papers.shop.film.bare_grades
    for step in steps:
        if step.grade:
            try:
                yield grade_of(step.grade, bare).grain_um
            except UnknownGradeError:
                continue


def _between_coats(story: Story) -> tuple[Done, ...]:
    """Return what was done between the last coat and the one before it; all when there is none."""
    coats = story.coats
    if not coats:
        return story.done
    before = story.before(coats[-1])
    return story.since(LAYS_COATS, before)


def _tacked(story: Story, coat: Done) -> bool | None:
    between = story.since(LAYS_COATS, story.before(coat))
    dusty = [i for i, (step, _) in enumerate(between) if step.verb in ABRADES]
    if not dusty:
        return None
    if is_wet(between[dusty[-1]][0].lubricant):
        return None
    return any(step.verb is Verb.TACK_OFF for step, _ in between[dusty[-1] + 1 :])


def _dust_near(story: Story, coat: Done) -> bool:
    """Tell whether any piece of the shop was sanded dry about the time of the coat."""
    begin, end = coat[1].at - DUST_BEFORE, min(story.at, coat[1].at + DUST_AFTER)
    for other in standings(story.workshop):
        for step, event in other.progress.done if other.progress else ():
            dry = step.verb.cuts and not is_wet(step.lubricant)
            own_before = other.ref == story.standing.ref and event.at <= coat[1].at
            if dry and not own_before and begin <= event.at <= end:
                return True
    return False


def _waited(story: Story, wet: Done) -> float | None:
    """Return how much of the film's own wait before a coat was taken; None where there is none."""
    earlier = [
        story.waits[step.key]
        for step, _ in story.before(wet)
        if step.key in story.waits and not wets(step, _products(story))
    ]
    return _share(story, earlier[-1], wet[1].at) if earlier else None


def _redried(story: Story, pair: Done) -> float | None:
    """Return how much of the wait after a wetted step went by before the next coat."""
    coats = [event.at for step, event in story.coats if step.number > pair[0].number]
    return _share(story, story.waits.get(pair[0].key), coats[0] if coats else story.at)


def _share(story: Story, laid: Laid | None, until: datetime) -> float | None:
    return cure_room(story.workshop).dried_share(laid, until) if laid is not None else None


def _air_at(workshop: Workshop, at: datetime) -> Reading | None:
    """Return the air at an instant, where it was read not long before."""
    course, at_s = cure_room(workshop).course, at.timestamp()
    known = [reading.at_s for reading in course.readings]
    index = bisect_right(known, at_s) - 1
    if index < 0 or at_s - known[index] > KNOWN_FOR_S:
        return None
    return course.at(at_s)


def _readings(workshop: Workshop, begin: datetime, end: datetime) -> list[Reading]:
    begin_s, end_s = begin.timestamp(), end.timestamp()
    return [one for one in cure_room(workshop).course.readings if begin_s < one.at_s <= end_s]


def _products(story: Story) -> dict[str, Product]:
    return dict(story.workshop.papers.products)
