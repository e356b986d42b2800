"""What a piece is worked with: the coats, papers and waits that its rework takes over."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import takewhile

from finishsched.checking.rules.rests import rubs_s
from finishsched.film.solids import solids_of
from finishsched.model.doing import Abrades, Lays
from finishsched.model.kinds import COLOURS, MELTING
from finishsched.model.lubricants import LUBRICANT_WORDS
from finishsched.model.product import Product, ProductKind
from finishsched.model.schedule import StageName, Verb, Wait
from finishsched.model.step import Step

SPIRITS = "mineral-spirits"
DAB_ML_PER_M2 = 60.0
"""A dab of a small brush, as a brushed coat (our assumption); ml to a m2, which is um wet."""
BLEACH, WATER = "oxalic-acid", "water"
GLUE = "cold-press-veneer-glue"


@dataclass(frozen=True, slots=True)
class WorkedWith:
    """What is at hand for one piece, at one place in its work."""

    stage: StageName = StageName.BODY
    coat: Step | None = None
    """A coat of the finish that the film is of: the last one laid, else the first to come."""
    dab: Step | None = None
    """Of its coats the strongest, which a spot is built up with."""
    dab_um: float = 0.0
    """Film that a dab of it leaves, likely; 0 where there is none."""
    between: Wait | None = None
    """The wait between two such coats."""
    after: Wait | None = None
    """The wait after the last of them, before paper comes to it."""
    to_gloss_s: float = 0.0
    to_satin_s: float = 0.0
    """What its film rests at the least before it is rubbed to gloss, or to satin."""
    level: Step | None = None
    """How the film is levelled."""
    sand: Step | None = None
    """How the bare wood is sanded, the finest grade."""
    stain: Step | None = None
    glaze: Step | None = None
    """A glaze that lies between the coats: it comes off with them."""
    stain_thinner: str | None = None
    """What takes its colour up again: its own thinner, else water or spirits by how it dries."""
    sheen: Step | None = None
    """What gives the finish its sheen at last; None where it stays as it was coated."""
    wax: Step | None = None
    cure: Wait | None = None
    """The last rest of the whole, which rubbing out and wax wait for."""
    filler: Step | None = None
    shellac: bool = False
    """True when alcohol softens the film again."""
    thinner: str | None = None
    melts: bool = False
    """True when its thinner takes the film off: shellac, spirit varnish, lacquer."""
    bleach: str | None = None
    """Oxalic acid, which takes iron and ink out of bare wood."""
    water: str | None = None
    sands: tuple[Step, ...] = ()
    """How the bare wood was sanded so far, grade by grade; else how it is to be."""
    seal: str | None = None
    """A product that seals under anything: dewaxed shellac."""
    spirits: str | None = None
    glue: str | None = None
    coats_laid: int = 0
    coats_next: int = 0
    """Coats of the same finish that the work still lays before paper comes to the film again."""
    bare: bool = False
    """True while no coat is laid, a seal among them."""
    wet: bool = False
    """True where the last coat is so wet yet that a cloth takes it off."""
    fresh: bool = False
    """True while the last coat has not had the rest that paper wants."""
    waxed: bool = False
    """True where wax lies on the film."""
    greased: bool = False
    """True where oil of the rubbing lies on it, which nothing washed off."""
    stained: bool = False
    """True where colour lies on the wood, and none is still to come."""
    levelled: bool = False
    """True once paper came to the film."""
    filler_laid: bool = False
    fills_ahead: bool = False
    oiled: bool = False
    """True when the finish is an oil, which goes into wood and not on a seal."""
    papers: tuple[Step, ...] = ()
    """What paper came to the film since its last coat, in its order."""
    sheen_ahead: bool = False
    """True where a coat or a rubbing out is still to come, which buries or takes out scratches."""
    again: str = ""
    """What is done otherwise when it is coated again, by what most likely made the defect."""
    colour_again: str = ""
    """The same of the colour on the wood."""
    thinned_again: float = 0.0
    """Share by which coats laid again are thinner, 0 to 1."""
    ended: tuple[Step, ...] = ()
    """What was done after the last coat of the whole: its cure, what gives the sheen, wax."""

    @property
    def nothing_lies(self) -> bool:
        """True where neither film nor filler lies on the wood."""
        return self.bare and not self.filler_laid


def worked_with(
    steps: Sequence[Step],
    current: Step | None,
    products: Mapping[str, Product],
    *,
    waiting: bool = False,
) -> WorkedWith:
    """Return what the piece is worked with at ``current`` (None: it is finished).

    ``waiting`` tells that the current step is done and only its wait is left.
    """
    place = current.number if current is not None else len(steps) + 1
    past = [step for step in steps if step.number <= place][::-1]
    ahead = [step for step in steps if step.number > place]
    near = [*past, *ahead]
    to_do = _to_do(past, ahead, current, waiting=waiting)
    done = _done(past, current, waiting=waiting)
    coat = _film_coat([step for step in near if _is_coat(step, products)])
    dab = _dab(steps, coat)
    product = products.get(coat.product or "") if coat else None
    waits = [step.wait for step in near if _same_finish(step, coat) and step.wait]
    after = max([*waits, *_sands_after(product)], key=_likely, default=None) if waits else None
    stain = _nearest(near, lambda step: _colours_wood(step, products))
    return WorkedWith(
        stage=_stage(current),
        coat=coat,
        dab=dab,
        dab_um=_dab_um(dab, products),
        between=min(waits, key=_likely, default=None),
        after=after,
        to_gloss_s=rubs_s(product, to_gloss=True) if product else 0.0,
        to_satin_s=rubs_s(product, to_gloss=False) if product else 0.0,
        level=_level([step for step in near if step.verb is Verb.LEVEL and step.grade]),
        sand=_nearest(near, lambda step: step.verb is Verb.SAND and step.grade is not None),
        stain=stain,
        glaze=_nearest(done, lambda step: step.verb is Verb.GLAZE and step.product is not None),
        stain_thinner=_takes_up(stain, products),
        sheen=_nearest(steps[::-1], _gives_sheen),
        wax=_nearest(steps[::-1], lambda step: step.verb is Verb.WAX),
        cure=_cure(steps),
        filler=next((step for step in near if step.verb is Verb.FILL and step.product), None),
        shellac=product is not None and product.kind.is_shellac,
        thinner=product.thinner if product and product.thinner in products else None,
        seal=_seal(product, products),
        spirits=SPIRITS if SPIRITS in products else None,
        glue=GLUE if GLUE in products else None,
        coats_laid=sum(_same_finish(step, coat) for step in past),
        coats_next=sum(_same_finish(step, coat) for step in takewhile(_leaves_film, to_do)),
        bare=not any(_is_coat(step, products) for step in done),
        fresh=_is_fresh(done, after, waiting=waiting),
        waxed=_is_waxed(done, products),
        greased=_is_greased(done),
        stained=_colours(done, products) and not _colours(to_do, products),
        fills_ahead=any(step.verb is Verb.FILL for step in to_do),
        levelled=any(step.verb.does.abrades is Abrades.FILM for step in done),
        filler_laid=any(step.verb is Verb.FILL for step in done),
        papers=_papers(done),
        sheen_ahead=any(step.verb.lays_coats or step.verb is Verb.RUB_OUT for step in to_do),
        oiled=product is not None and product.kind is ProductKind.OIL,
        ended=_ended(steps, done, products),
        melts=product is not None and product.kind in MELTING and product.thinner in products,
        bleach=BLEACH if BLEACH in products else None,
        water=WATER if WATER in products else None,
        sands=_sands(done) or _sands(steps[::-1]),
    )


def _sands(newest_first: Sequence[Step]) -> tuple[Step, ...]:
    """Return the sandings of the wood, in their order; a grade still to come is none to repeat."""
    own = (s for s in newest_first if s.verb is Verb.SAND and s.grade and not s.is_rework)
    return tuple(own)[::-1]


def _ended(
    steps: Sequence[Step], done: Sequence[Step], products: Mapping[str, Product]
) -> tuple[Step, ...]:
    """Return what of the end of the work is done, in its order: all after the last coat."""
    coats = [step.number for step in steps if _is_coat(step, products)]
    waxes = [step.number for step in steps if is_wax(step, products)]
    # Wax that is all the finish there is ends the work from its first coat on.
    last = max(coats, default=min(waxes, default=len(steps) + 1) - 1)
    return tuple(step for step in reversed(done) if step.number > last and not step.is_rework)


def _sands_after(product: Product | None) -> Iterator[Wait]:
    """Give what a product states before paper: the next coat of a pad comes far sooner."""
    dries = product.dries if product else None
    published_s = (dries.sand_s or dries.recoat_s) if dries else None
    if published_s is not None:
        yield Wait(published_s, published_s)


def _papers(done: Sequence[Step]) -> tuple[Step, ...]:
    """Return what paper came to the film since its last coat; the newest step of ``done`` first."""
    since = takewhile(lambda step: not step.verb.lays_coats, done)
    return tuple(s for s in since if s.verb is Verb.LEVEL and s.grade and not s.on_a_spot)[::-1]


def _takes_up(stain: Step | None, products: Mapping[str, Product]) -> str | None:
    product = products.get(stain.product or "") if stain else None
    if product is None:
        return None
    by_water = product.mechanism is not None and product.mechanism.is_by_water
    found = product.thinner or (WATER if by_water else SPIRITS)
    return found if found in products else None


def _colours(steps: Sequence[Step], products: Mapping[str, Product]) -> bool:
    laid = any(step.verb.does.lays is Lays.COLOUR for step in steps)
    return laid or any(_colours_wood(step, products) for step in steps)


def _colours_wood(step: Step, products: Mapping[str, Product]) -> bool:
    """Tell whether a step lays a stain or dye on the wood, by whatever tool."""
    product = products.get(step.product or "")
    stains = step.verb is Verb.STAIN or (product is not None and product.kind in COLOURS)
    return product is not None and stains and step.verb not in (Verb.TONE, Verb.GLAZE)


def _is_waxed(done: Sequence[Step], products: Mapping[str, Product]) -> bool:
    """Tell whether wax came on the film since it was last taken off; the newest step is first."""
    since = takewhile(lambda step: not step.strips, done)
    return any(is_wax(step, products) for step in since if not step.on_a_spot)


def _is_greased(done: Sequence[Step]) -> bool:
    """Tell whether oil wetted a rubbing since the last coat, and no spirits came over it."""
    since = takewhile(lambda s: not s.verb.lays_coats and s.product != SPIRITS, done)
    wets = (step.lubricant for step in since if step.verb.rubs_film)
    return any(wet not in (None, *LUBRICANT_WORDS, SPIRITS) for wet in wets)


def is_wax(step: Step, products: Mapping[str, Product]) -> bool:
    """Tell whether a step leaves wax on the face."""
    product = products.get(step.product or "")
    return step.verb is Verb.WAX or (product is not None and product.kind is ProductKind.WAX)


def _done(past: Sequence[Step], current: Step | None, *, waiting: bool) -> Sequence[Step]:
    """Return what of the steps up to the one in hand is done, the newest first."""
    return past if waiting or current is None else past[1:]


def _to_do(
    past: Sequence[Step], ahead: Sequence[Step], current: Step | None, *, waiting: bool
) -> Sequence[Step]:
    """Return what is left to do, in its order, the step in hand among it."""
    return ahead if waiting or current is None else [*past[:1], *ahead]


def _leaves_film(step: Step) -> bool:
    return step.verb.does.abrades is not Abrades.FILM


def _cure(steps: Sequence[Step]) -> Wait | None:
    rests = (step.wait for step in steps if step.verb.does.rests and step.wait)
    return max(rests, key=_likely, default=None)


def _nearest(steps: Sequence[Step], fits: Callable[[Step], bool]) -> Step | None:
    return next(filter(fits, steps), None)


def _is_coat(step: Step, products: Mapping[str, Product]) -> bool:
    product = products.get(step.product or "")
    return step.verb.lays_coats and product is not None and product.kind is not ProductKind.STAIN


def _film_coat(coats: Sequence[Step]) -> Step | None:
    """Return the nearest coat that builds film; a seal coat only where there is no other."""
    building = [step for step in coats if step.stage is not StageName.SEAL]
    return next(iter(building or coats), None)


def _level(levels: Sequence[Step]) -> Step | None:
    """Return the nearest levelling of the film; the scuffing of a seal only where there is none."""
    of_film = [step for step in levels if step.stage in (StageName.BODY, StageName.LEVEL)]
    return next(iter(of_film or levels), None)


def _same_finish(step: Step, coat: Step | None) -> bool:
    return coat is not None and step.verb is coat.verb and step.product == coat.product


def _dab(steps: Sequence[Step], coat: Step | None) -> Step | None:
    """Return the coat of the same finish that leaves most: the heaviest cut, the least thinned."""
    same = [step for step in steps if coat is not None and step.product == coat.product]
    coats = [step for step in same if step.verb.lays_coats]
    return max(
        coats, key=lambda s: (s.cut_g_per_l or 0.0, -(s.thinned_percent or 0.0)), default=None
    )


def _dab_um(dab: Step | None, products: Mapping[str, Product]) -> float:
    product = products.get(dab.product or "") if dab else None
    if dab is None or product is None:
        return 0.0
    solids, _ = solids_of(product, dab.cut_g_per_l, dab.thinned_percent)
    return DAB_ML_PER_M2 * solids.likely


def _is_fresh(done: Sequence[Step], after: Wait | None, *, waiting: bool) -> bool:
    """Tell whether a coat was done last, and had less than half of the rest before paper."""
    last = next(iter(done), None)
    if last is None or not last.verb.lays_coats:
        return False
    rested_s = 0.0 if last.wait is None else last.wait.likely_s
    return waiting or (after is not None and rested_s < after.likely_s / 2)


def _likely(wait: Wait) -> float:
    return wait.likely_s


def _stage(current: Step | None) -> StageName:
    """Return the stage that the rework belongs to: a rest in it is no cure of the whole."""
    if current is None or current.stage is StageName.CURE:
        return StageName.POLISH
    return current.stage


def _seal(product: Product | None, products: Mapping[str, Product]) -> str | None:
    if product is not None and product.kind is ProductKind.FLAKES and product.waxy is False:
        return product.id
    flakes = (p for p in products.values() if p.kind is ProductKind.FLAKES and p.waxy is False)
    return min((p.id for p in flakes), default=None)


def _gives_sheen(step: Step) -> bool:
    """Tell whether a step rubs the sheen on: with paper, wool or powder, not a bare cloth."""
    return step.verb is Verb.RUB_OUT and bool(step.grade or step.product)
