"""From a schedule's steps to the ledger's works: what each coat lays and each abrasive meets."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from finishsched.film.abrading import Stroke, usual_reach
from finishsched.film.face import FaceLine, FaceState, begin_face, run_face
from finishsched.film.learning import NO_METHODS, Methods, method_of
from finishsched.film.ledger import Filled, Gauged, Ground, Laid, Work
from finishsched.film.solids import carries_film, density_g_per_ml, solids_of
from finishsched.film.species import (
    MEASURED_SHARE,
    SEAM_UM,
    is_pattern,
    pores_hollow_um,
)
from finishsched.film.stakes import stakes_of
from finishsched.film.zones import backing_of, is_light, zones_of
from finishsched.mixing.account import Used as Used  # noqa: PLC0414  # a part of the terms
from finishsched.mixing.amount import NOTHING, Range
from finishsched.mixing.bare_wood import first_into_wood, soaks_of
from finishsched.model.doing import Abrades, Lays
from finishsched.model.film import BareGrades, Reach
from finishsched.model.grades import Grade, UnknownGradeError, grade_of, powder_in
from finishsched.model.job import Piece
from finishsched.model.lubricants import is_wet
from finishsched.model.product import Mechanism, Product, ProductKind
from finishsched.model.reason import Reason
from finishsched.model.said import Quantity, Said, said
from finishsched.model.schedule import Verb
from finishsched.model.shop import Alcohol
from finishsched.model.step import Step

FILLER_LEAVES = Range(0.08, 0.20, 0.40)
"""Share of a hollow left by one filling with what shrinks as it dries (our assumption)."""
EPOXY_LEAVES = Range(0.02, 0.06, 0.15)
"""The same for a two-part filler, whose own shrinking is small beside what the squeegee leaves (our
assumption)."""

OIL_STAYS = Range(0.0, 0.05, 0.20)
"""Share of an oil, wiped off again, that stays as film; the wood has the rest (our assumption)."""

STRIPPED = Reason("the film is taken off: none is counted on", (), "our assumption")


@dataclass(frozen=True, slots=True)
class Terms:
    """By what a schedule is reckoned: products, the shop's habits and what it learned."""

    products: Mapping[str, Product]
    alcohol: Alcohol = field(default_factory=Alcohol)
    bare_grades: BareGrades = BareGrades.FEPA
    methods: Methods = field(default_factory=lambda: NO_METHODS)
    used: Mapping[str, Used] = field(default_factory=lambda: MappingProxyType({}))
    """By the step's key."""


@dataclass(frozen=True, slots=True)
class Reckoned:
    """One step as the ledger sees it, and where its figures come from."""

    step: Step
    work: Work
    reason: Reason | None = None
    notes: tuple[str, ...] = ()
    """What had to be assumed."""


def ground_of(
    piece: Piece,
    steps: Iterable[Step],
    products: Mapping[str, Product],
    over: ProductKind | None = None,
) -> Ground:
    """Return what the work on ``piece`` begins on: its hollows, its thirst, its veneer.

    ``over`` is the kind of an old finish: it drinks nothing, and its film has filled what hollows
    it ever filled (our assumption).
    """
    steps = tuple(steps)
    veneer_um = piece.veneer_mm * 1000 if piece.veneer_mm else None
    if over is not None:
        relief_um = NOTHING if piece.relief_um is None else _hollow_um(piece)
        return Ground(relief_um, NOTHING, veneer_um, over.row.old_film_um or NOTHING)
    return Ground(_hollow_um(piece), _thirst_um(piece, steps, products), veneer_um)


def works_of(piece: Piece, steps: Iterable[Step], terms: Terms) -> tuple[Reckoned, ...]:
    """Return every step of ``piece`` as the ledger sees it, in the order of the work."""
    steps = tuple(steps)
    glued = max((n for n, step in enumerate(steps) if step.verb.does.lays is Lays.GLUE), default=-1)
    found = []
    filled = burnt = False
    for number, step in enumerate(steps):
        reckoned = work_of(step, piece, terms)
        # What is melted in is taken flush where it stands, and not over the face.
        if burnt and step.verb.abrades and step.reach is Reach.FLUSH:
            reckoned = Reckoned(step, None)
        burnt = step.verb is Verb.BURN_IN or (burnt and not step.verb.abrades)
        if step.verb.does.lays is not Lays.NOTHING:
            filled = step.verb.does.lays is Lays.FILLER
        if filled:
            reckoned = _down_to_wood(reckoned)
        # What is sanded before a veneer is laid is the core, not the face that shows.
        under_glue = number < glued and isinstance(reckoned.work, Stroke)
        found.append(Reckoned(step, None) if under_glue else reckoned)
    return tuple(found)


def _down_to_wood(reckoned: Reckoned) -> Reckoned:
    """Return an abrading over filler: sanding goes on until the wood is clear, and no further.

    The scratches of the grade before went before the filler came.
    """
    work = reckoned.work
    if isinstance(work, Stroke) and work.reach is None:
        return replace(reckoned, work=replace(work, reach=Reach.CUT_BACK))
    return reckoned


def ledger_of(
    piece: Piece, steps: Iterable[Step], terms: Terms, over: ProductKind | None = None
) -> tuple[tuple[Reckoned, FaceLine], ...]:
    """Return the ledger of a schedule's steps on ``piece``, each with the line that it makes.

    ``over`` is the kind of finish that was there before the first of them.
    """
    steps = tuple(steps)
    reckoned = works_of(piece, steps, terms)
    works = [one.work for one in reckoned]
    start = start_of(piece, steps, terms.products, over)
    lines = run_face(works, start, stakes_of(works, steps, terms.products, piece))
    return tuple(zip(reckoned, lines, strict=True))


def start_of(
    piece: Piece,
    steps: Iterable[Step],
    products: Mapping[str, Product],
    over: ProductKind | None = None,
) -> FaceState:
    """Return the face of ``piece`` before any work on it, bare or with an old finish ``over``."""
    return begin_face(zones_of(piece), ground_of(piece, steps, products, over))


def work_of(step: Step, piece: Piece, terms: Terms) -> Reckoned:
    """Return one step as the ledger of a face sees it; what is done on one spot is none of it."""
    if step.on_a_spot:
        return Reckoned(step, None, notes=(f"step {step.number} is on one spot: no film counted",))
    return work_there(step, piece, terms)


def work_there(step: Step, piece: Piece, terms: Terms) -> Reckoned:
    """Return one step as the ledger sees it where it is done, on a face or on one spot."""
    product = terms.products.get(step.product or "")
    if step.strips:
        return Reckoned(step, Gauged(NOTHING), STRIPPED)
    if step.verb.lays_coats:
        return _coat(step, piece, product, terms)
    if step.verb.does.lays is Lays.FILLER:
        return _fill(step, piece, product)
    if step.verb.abrades:
        return _abrading(step, product, terms)
    return Reckoned(step, None)


def _stroke_of(step: Step, grade: Grade) -> Stroke:
    """Return the abrading that ``step`` is, with ``grade``."""
    reach = step.reach or usual_reach(step.verb, step.stage)
    words = f"{step.how} {step.tool}"
    rubs = step.verb.does.abrades is Abrades.SHINE
    wet = is_wet(step.lubricant)
    return Stroke(grade, reach, wet, rubs, backing_of(words), is_light(words))


def _hollow_um(piece: Piece) -> Range:
    if piece.relief_um is not None:
        return MEASURED_SHARE.times(piece.relief_um)
    pores = pores_hollow_um(piece.made_of)
    return pores + SEAM_UM if is_pattern(piece.made_of) else pores


def _thirst_um(piece: Piece, steps: tuple[Step, ...], products: Mapping[str, Product]) -> Range:
    first = first_into_wood(steps, products)
    return soaks_of(first, steps, piece.made_of, products) if first is not None else NOTHING


def _coat(step: Step, piece: Piece, product: Product | None, terms: Terms) -> Reckoned:
    usual = step.verb.does.coat
    if product is None or usual is None or not carries_film(product.kind):
        return Reckoned(step, None)
    used = terms.used.get(step.key, Used())
    method = method_of(terms.methods, (product.id, step.verb))
    solids, solids_note = solids_of(
        product,
        used.cut_g_per_l or step.cut_g_per_l,
        step.thinned_percent if used.thinned_percent is None else used.thinned_percent,
    )
    wet_um, inputs, note = _wet_um(step, piece, product, used, terms, usual.usual_wet_um)
    stays = OIL_STAYS if product.kind is ProductKind.OIL else Range(1.0, 1.0, 1.0)
    if method.film.readings:
        wet_um = _as_gauged(wet_um, method.film.range)
        inputs += (f"film found over film reckoned {method.film.range.likely:.2f}, by gauge",)
    work = Laid(
        wet_um=wet_um,
        solids=_product(solids, stays),
        uneven=usual.uneven,
        hollows=usual.hollows_take,
    )
    reason = Reason(
        "film = (laid - what bare wood drinks) x volume solids",
        (*inputs, f"volume solids {100 * solids.likely:.1f} %"),
        "coverage of coatings texts; amounts from the journal or the schedule",
    )
    return Reckoned(step, work, reason, tuple(filter(None, (note, solids_note))))


def _wet_um(
    step: Step, piece: Piece, product: Product, used: Used, terms: Terms, usual_um: Range
) -> tuple[Range, tuple[str | Said, ...], str]:
    """Return what reaches the surface, in um; from what; and what had to be assumed."""
    if used.amount_ml is not None:
        found = used.amount_ml.times(1 / piece.area_m2)
        how = "weighed" if used.weighed else "logged"
        words = used.words or Quantity(used.amount_ml.likely, "ml")
        return _product(found, _kept(step.verb)), (said("{} {}", how, words),), ""
    per_m2 = _scheduled_ml_per_m2(step, product, terms.alcohol)
    if per_m2 is None:
        what = f"no amount for {step.verb.value} {product.id}: a usual coat is taken"
        return usual_um, ("a usual coat, our assumption",), what
    spread = method_of(terms.methods, (product.id, step.verb)).spread
    own = f", x {spread.range.likely:.2f} by {spread.readings} amounts of this shop"
    laid = Quantity(per_m2, "ml/m2")
    inputs = (said("schedule {}{}", laid, own if spread.readings else ""),)
    return spread.range.times(per_m2), inputs, ""


def _as_gauged(wet_um: Range, film: Range) -> Range:
    """Return what is laid as gauges found it: moved to their middle, and never wider for it."""
    likely_um = wet_um.likely * film.likely
    if likely_um <= 0:
        return wet_um
    low = max(wet_um.low / wet_um.likely, film.low / film.likely)
    high = min(wet_um.high / wet_um.likely, film.high / film.likely)
    return Range(likely_um * low, likely_um, likely_um * high)


def _scheduled_ml_per_m2(step: Step, product: Product, alcohol: Alcohol) -> float | None:
    if step.spread is None:
        return None
    if step.spread.ml_per_m2 is not None:
        return step.spread.ml_per_m2
    density = density_g_per_ml(product, step.cut_g_per_l, alcohol)
    return (step.spread.g_per_m2 or 0.0) / density


def _kept(verb: Verb) -> Range:
    """Return which share of what is used reaches the surface."""
    does = verb.does
    return Range(1 - does.most_lost_share, 1 - does.lost_share, 1 - does.least_lost_share)


def _fill(step: Step, piece: Piece, product: Product | None) -> Reckoned:
    if piece.relief_um is not None:
        return Reckoned(step, None)
    two_part = product is not None and product.mechanism is Mechanism.TWO_PART
    left = EPOXY_LEAVES if two_part else FILLER_LEAVES
    seams = SEAM_UM if is_pattern(piece.made_of) else NOTHING
    reason = Reason(
        "each filling leaves a share of the pores open; seams and steps it leaves as they are",
        (f"share left {left.low:g} to {left.high:g}",),
        "our assumption",
    )
    return Reckoned(step, Filled(left, seams), reason)


def _abrading(step: Step, product: Product | None, terms: Terms) -> Reckoned:
    grade, note = _grade(step, product, terms.bare_grades)
    if grade is None:
        return Reckoned(step, None, notes=(note,) if note else ())
    stroke = _stroke_of(step, grade)
    reach = stroke.reach.value if stroke.reach else "until the scratch before is gone"
    reason = Reason(
        "what is taken is a share of the grain, and in levelling the ridges of the coats",
        (grade.words, reach, "wet" if stroke.wet else "dry"),
        f"{grade.source}; shares of the grain are our assumption",
    )
    return Reckoned(step, stroke, reason, (note,) if note else ())


def _grade(step: Step, product: Product | None, bare: BareGrades) -> tuple[Grade | None, str]:
    if step.grade:
        try:
            return grade_of(step.grade, bare), ""
        except UnknownGradeError as error:
            return None, f"step {step.number} is not reckoned: {error}"
    if product is not None and product.kind is ProductKind.POWDER:
        return powder_in(product.id), ""
    assumed = step.verb.does.grade
    if assumed:
        return grade_of(assumed), f"step {step.number} states no grade: {assumed} is taken"
    return None, ""


def _product(one: Range, other: Range) -> Range:
    return Range(one.low * other.low, one.likely * other.likely, one.high * other.high)
