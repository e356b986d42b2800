"""What the journal says about a coat that came out wrong, as the ranking of causes takes it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from finishsched.checking.defects.evidence import Evidence
from finishsched.checking.defects.worked_with import SPIRITS
from finishsched.checking.layers.bare import BARE
from finishsched.checking.layers.matter import matter_of
from finishsched.factors import DAY_S
from finishsched.film.species import is_pattern, wants_filling
from finishsched.journal.events import Event, StepDone
from finishsched.journal.shelf import shelf
from finishsched.mixing.keeping import life_of
from finishsched.model.doing import Abrades
from finishsched.model.grades import is_steel
from finishsched.model.job import Piece
from finishsched.model.kinds import CHEMICALS
from finishsched.model.product import Mechanism, Product, ProductKind
from finishsched.model.schedule import StageName
from finishsched.model.step import Step
from finishsched.model.stock import Batch
from finishsched.model.verbs import LAYS_COATS, Verb, washes
from finishsched.model.woods import Degree, Oil, Wood, woods_of
from finishsched.workshop.base.shown import tell_in
from finishsched.workshop.defects.air_then import dust_near, with_air
from finishsched.workshop.defects.paper_then import with_dust, with_paper
from finishsched.workshop.defects.story import (
    Done,
    Story,
    amount_share,
    colours,
    covered,
    is_of,
    least,
    most,
    products_of,
    redried,
    rested,
    share_of_wait,
    story_of,
    until_next,
    waited,
    wetted_by,
)
from finishsched.workshop.standing.standing import Standing

if TYPE_CHECKING:
    from finishsched.workshop.base.workshop import Workshop

SLOW_OILS = ("oil.raw", "oil.mineral")
HOT_GLUE = "glue.hide"
_AMBER = re.compile(r"\b(?:orange|amber|garnet|ruby|button|seed|lemon|tinted)\b", re.IGNORECASE)
"""Flakes of these names have a colour of their own; oil and what dries as oil always has."""


def evidence_of(
    workshop: Workshop, standing: Standing, step: Step | None, at: datetime
) -> Evidence:
    """Return what the journal knows about the last coat up to ``step`` (None: any) by ``at``."""
    story = story_of(workshop, standing, step, at)
    found = replace(
        _of_wood(standing.piece),
        tell=tell_in(workshop.papers.shop.units),
        laid=_laid(story),
        two_part=any(p.mechanism is Mechanism.TWO_PART for p in _used(story)),
        taped=any(step.verb is Verb.STRIP_TAPE for step, _ in story.done),
        hot_glue=any(matter_of(p) == HOT_GLUE for p in _used(story)),
    )
    if not story.done:
        return found
    found = _with_film(with_paper(_with_below(found, story), story), story)
    found = _with_work(found, story)
    return _with_coat(found, story, story.in_question) if story.in_question else found


def _laid(story: Story) -> bool | None:
    """Return whether anything was laid; None where paper came on a film that was there before."""
    if any(step.verb.lays for step, _ in story.done):
        return True
    older = any(step.verb.does.abrades is Abrades.FILM for step, _ in story.done)
    return None if older else False


def _used(story: Story) -> list[Product]:
    """Return what was laid or used in any step that is done."""
    named = (story.product(step) for step, _ in story.done)
    return [product for product in named if product is not None]


def _of_wood(piece: Piece) -> Evidence:
    """Return what is known of a piece before anything was laid on it."""
    woods = woods_of(piece.made_of)
    if not woods:
        return Evidence(open_pores=wants_filling(piece.made_of), veneer_mm=piece.veneer_mm)
    return Evidence(
        open_pores=wants_filling(piece.made_of),
        oily_wood=_some(woods, "wood.oily", lambda wood: wood.oil is not Oil.NONE),
        resinous_wood=_some(woods, "wood.resinous", lambda wood: wood.resinous),
        tannin_wood=_some(woods, "wood.tannin", lambda wood: wood.tannin is not Degree.NO),
        blotching_wood=any(map(BARE["wood.blotching"], woods)),
        pale_wood=any(wood.is_pale for wood in woods),
        patterned=is_pattern(piece.made_of),
        veneer_mm=piece.veneer_mm,
    )


def _some(woods: Sequence[Wood], much: str, little: Callable[[Wood], bool]) -> bool | None:
    """Return whether a wood is of a kind of bare wood; None where it has but a little of it."""
    if any(map(BARE[much], woods)):
        return True
    return None if any(map(little, woods)) else False


def _with_work(found: Evidence, story: Story) -> Evidence:
    """Add what was done after the last coat, with alcohol, powder and wax, and the wood's water."""
    after = story.after_coats
    spirit = next((one for one in reversed(after) if one.step.verb is Verb.SPIRIT_OFF), None)
    layers = story.layers
    glued = [one for one in story.done if one.step.verb in (Verb.GLUE_UP, Verb.STRIP_TAPE)]
    told = (one.event.what for one in story.done)
    return replace(
        found,
        spirited=spirit is not None,
        spirit_share=amount_share(story, spirit) if spirit else None,
        spirit_waited_share=waited(story, spirit) if spirit else None,
        rubbed=any(step.verb is Verb.RUB_OUT for step, _ in after),
        powder_used=any(is_of(story, step, ProductKind.POWDER) for step, _ in after),
        waxed=any(is_of(story, step, ProductKind.WAX) for step, _ in after),
        pumiced_now=bool(layers) and is_of(story, layers[-1].step, ProductKind.POWDER),
        glue_share=least(until_next(story, one) for one in glued),
        moisture_percent=most(w.moisture_percent for w in told if isinstance(w, StepDone)),
        days_since_work=_days(story.at - story.done[-1].event.at),
    )


def _with_coat(found: Evidence, story: Story, coat: Done) -> Evidence:
    """Add what is known of the coat itself, the air it had, and the waits round it."""
    step, event = coat
    product = _from_jar(story, event) or story.product(step)
    laid = story.waits.get(step.key)
    earlier = story.coats[:-1]
    known = with_dust(with_air(found, story, step, event), story, coat)
    return replace(
        _with_batch(known, story, coat),
        verb=step.verb,
        kind=product.kind if product else None,
        slow_oil=matter_of(product) in SLOW_OILS if product else None,
        dried_share=share_of_wait(story, laid, story.at),
        rested_share=rested(story),
        waited_share=waited(story, coat),
        soonest_share=least(waited(story, one) for one in earlier),
        most_amount_share=most(amount_share(story, one) for one in earlier),
        found_ready=_found_ready(story, coat),
        dry_checks_failed=len(laid.not_yet_at) if laid else None,
        days_since_coat=_days(story.at - event.at),
        dust_near=dust_near(story, coat),
        amber=_is_amber(product) if product else None,
    )


def _days(time: timedelta) -> float:
    return time.total_seconds() / DAY_S


def _is_amber(product: Product) -> bool:
    return product.mechanism is Mechanism.OXIDISING or bool(_AMBER.search(product.title))


def _found_ready(story: Story, coat: Done) -> bool:
    """Tell whether a dry check of a coat or of a rest found it ready, or work went on after it."""
    after = story.after(coat)
    rested = [step for step, _ in after if step.verb is Verb.REST]
    waits = (story.waits.get(step.key) for step in (coat.step, *rested))
    is_ready = any(laid is not None and laid.ready_at is not None for laid in waits)
    return is_ready or len(after) > len(rested)


def _with_batch(found: Evidence, story: Story, coat: Done) -> Evidence:
    step, event = coat
    batch = _jar_of(story, event)
    return replace(
        found,
        amount_share=amount_share(story, coat),
        cut_g_per_l=batch.cut_g_per_l if batch and batch.cut_g_per_l else step.cut_g_per_l,
        thinned_percent=(batch.thinned_percent if batch else None) or step.thinned_percent,
        batch_age_share=_age_share(story, batch, event.at) if batch else None,
    )


def _jar_of(story: Story, event: Event) -> Batch | None:
    """Return the jar that a coat was laid from, where that was logged."""
    what = event.what
    named = what.batch if isinstance(what, StepDone) else ""
    thing = shelf(story.workshop.book()).find(named) if named else None
    return thing if isinstance(thing, Batch) else None


def _from_jar(story: Story, event: Event) -> Product | None:
    """Return what was really laid: what is in the jar, whatever the schedule has."""
    batch = _jar_of(story, event)
    return story.workshop.papers.products.get(batch.product) if batch else None


def _age_share(story: Story, batch: Batch, at: datetime) -> float | None:
    life = life_of(story.workshop.papers.products.get(batch.product), mixed=True)
    if not life.typical_s:
        return None
    return max(0.0, (at - batch.mixed_at).total_seconds()) / life.typical_s


def _with_film(found: Evidence, story: Story) -> Evidence:
    coats = story.coats
    if not coats:
        return replace(found, coats=0)
    day_before = coats[-1].event.at - timedelta(days=1)
    return replace(
        found,
        coats=len(coats),
        coats_since_level=_coats_under_paper(story),
        coats_in_a_day=sum(1 for _, event in coats if event.at > day_before),
        film_um=_film_um(story),
        sealed=any(_seals(step, story.product(step)) for step, _ in coats),
    )


def _film_um(story: Story) -> float:
    """Return the likely film over the high spots, as the ledger of film has it now."""
    from finishsched.workshop.film.films import film_now  # noqa: PLC0415  # dear

    return film_now(story.workshop, story.standing.ref).film_um.likely


def _coats_under_paper(story: Story) -> int:
    """Return how many coats the paper meets that is now, or was last, on the film."""
    done = list(story.done)
    while done and not done[-1].step.verb.lays_coats:
        done.pop()
    return sum(1 for step, _ in story.since((Verb.LEVEL,), done) if step.verb.lays_coats)


def _seals(step: Step, product: Product | None) -> bool:
    return product is not None and product.waxy is False and step.stage is StageName.SEAL


def _with_below(found: Evidence, story: Story) -> Evidence:
    """Add what lies under the coat, and what came on the piece that does not belong there."""
    coat = story.coats[-1] if story.coats else None
    below = story.before(coat) if coat else story.done
    own = coat.step.product if coat else None
    others = [step for step, _ in below if step.product != own]
    laid = [product for product in map(story.product, others) if product is not None]
    films = [step for step in others if step.verb.lays_coats and _is_film(story.product(step))]
    wetted = [one for one in story.done if wetted_by(story, one.step)]
    redried_share = least(redried(story, one) for one in wetted)
    lately = any(wetted_by(story, step) for step, _ in _between_coats(story))
    return replace(
        _with_oil(found, story),
        oxidising_below=any(
            p.mechanism is Mechanism.OXIDISING and p.kind is not ProductKind.FILLER for p in laid
        ),
        film_below=bool(films),
        covered=any(step.verb.lays for step in others),
        waxy_below=any(p.waxy or p.kind is ProductKind.WAX for p in laid)
        or any(step.verb is Verb.WAX for step, _ in below),
        bleached=any(p.kind in CHEMICALS for p in _used(story))
        or any(step.verb is Verb.BLEACH for step, _ in story.done),
        stained=any(colours(story, step) for step, _ in story.done),
        filled=any(step.verb is Verb.FILL for step, _ in story.done),
        filler_share=least(_share_filled(story)),
        pumiced=any(
            step.verb is Verb.FILL and is_of(story, step, ProductKind.POWDER)
            for step, _ in story.done
        ),
        water_used=lately or (redried_share is not None and redried_share < 1),
        redried_share=redried_share,
        green_below_share=least(_left_green(story)),
        steel_wool=any(is_steel(step.grade or "") for step, _ in story.done),
    )


def _is_film(product: Product | None) -> bool:
    return product is not None and product.kind.row.is_film


def _left_green(story: Story) -> Iterator[float | None]:
    """Give how dry each layer was when another came over it, fillers left out."""
    return (share for step, share in covered(story) if step.verb is not Verb.FILL)


def _share_filled(story: Story) -> Iterator[float | None]:
    return (share for step, share in covered(story) if step.verb is Verb.FILL)


def _with_oil(found: Evidence, story: Story) -> Evidence:
    """Add whether oil or spirits were used, and cleaned off after."""
    products = products_of(story)

    def oils(step: Step) -> bool:
        named = (products.get(name or "") for name in (step.lubricant, step.product))
        used = [product for product in named if product is not None]
        return any(p.kind is ProductKind.LUBRICANT for p in used) or (
            step.lubricant is not None and any(p.kind.row.oils for p in used)
        )

    last_oil = max((i for i, (s, _) in enumerate(story.done) if oils(s)), default=-1)
    washed = (i for i, (s, _) in enumerate(story.done) if washes(s.verb, story.product(s)))
    last_clean = max(washed, default=-1)
    between = _between_coats(story)
    wet = [one for one in between if SPIRITS in (one.step.lubricant, one.step.product)]
    gone = redried(story, wet[-1]) if wet else None
    left = None if not wet or (gone is not None and gone >= 1) else True
    return replace(
        found,
        oil_used=last_oil >= 0,
        cleaned=last_clean > last_oil if last_oil >= 0 else None,
        # Spirits that had their time to go say nothing, for or against.
        spirits_used=left if wet else False,
    )


def _between_coats(story: Story) -> tuple[Done, ...]:
    """Return what was done between the last coat and the one before it; all when there is none."""
    coats = story.coats
    if not coats:
        return story.done
    before = story.before(coats[-1])
    return story.since(LAYS_COATS, before)
