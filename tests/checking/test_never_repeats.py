"""No rework does again what made the defect: every cause against every way that is offered for it.

What a cause is stands in the signs that speak for it; what must not be done again, or has to come
first, follows from the sign. All of it is common practice, no source.
"""

from __future__ import annotations

import pytest

from finishsched.checking.defects.catalogue import CATALOGUE
from finishsched.checking.defects.causes import FAIR
from finishsched.checking.defects.options import rework_of
from finishsched.checking.defects.repairs import repairs_of
from finishsched.checking.defects.rework import rework_steps
from finishsched.checking.defects.signs import Sign
from finishsched.checking.defects.spot_state import SpotState
from finishsched.checking.defects.worked_with import worked_with
from finishsched.documents.library import shipped_products, shipped_schedules
from finishsched.model.doing import Wets
from finishsched.model.grades import grade_of
from finishsched.model.lubricants import WATERS, is_wet
from finishsched.model.product import ProductKind
from finishsched.model.schedule import Verb
from finishsched.model.step import steps_of

PRODUCTS = shipped_products()
WORKS = ("padded-shellac-open-pored", "wiping-varnish", "sprayed-lacquer-epoxy-fill")
SOFT = {Sign.NOT_DRY, Sign.TOO_SOON, Sign.YOUNG_FILM, Sign.STAYS_SOFT}
DIRTY = {Sign.OIL_USED, Sign.WAX_BELOW}
WATER = {Sign.WATER_UNDER, Sign.WET_WORK}
DUST = {Sign.NOT_TACKED, Sign.DUST_NEAR}
DAY_S = 24 * 3600
COARSEST_UM = 48.0
"""P320 is 46 um: what mends a place that paper went through is no coarser (our assumption)."""


def _means(name):
    """Return what a piece is worked with in the middle of its coats, the last one still soft."""
    steps = steps_of(shipped_schedules()[name])
    laid = [step for step in steps if step.verb.lays_coats]
    return worked_with(steps, laid[len(laid) // 2], PRODUCTS, waiting=True)


def _cleans(step):
    product = PRODUCTS.get(step.product or "")
    washes = product is not None and product.kind in (ProductKind.THINNER, ProductKind.ALCOHOL)
    return step.strips or (washes and step.verb in (Verb.TACK_OFF, Verb.SPIRIT_OFF))


def _first(steps, fits):
    return next((at for at, step in enumerate(steps) if fits(step)), len(steps))


def _bares(step):
    return step.verb.lays_coats or (step.verb.abrades and not step.strips)


def _soft(steps):
    at = _first(steps, _bares)
    hardens = any(s.verb in (Verb.REST, Verb.GLUE_UP) or s.strips for s in steps[:at])
    return at < len(steps) and not hardens


def _coats_over(steps, clears):
    at = _first(steps, lambda step: step.verb.lays_coats)
    return at < len(steps) and not any(map(clears, steps[:at]))


def _wet_again(steps):
    """Tell whether water comes on it again, but for a rinse that has a day to dry."""
    wet = [s for s in steps if s.verb.does.wets is Wets.WATER or s.lubricant in WATERS]
    rinsed = bool(wet) and wet[-1].verb is Verb.NEUTRALISE and wet[-1].wait.earliest_s >= DAY_S
    return bool(wet) and not (rinsed and {s.verb for s in wet[:-1]} <= {Verb.BLEACH})


def _rests(step):
    return step.verb is Verb.REST


def _lays(step):
    return step.verb.lays_coats


def _seals(step):
    product = PRODUCTS.get(step.product or "")
    return _lays(step) and product.kind is ProductKind.FLAKES and product.waxy is False


def _unsealed(steps):
    return any(not _seals(step) for step in list(filter(_lays, steps))[:1])


def _gone(step):
    return step.verb is Verb.REST or step.wait is not None or _cleans(step)


def _coarse(steps):
    papers = [s.grade for s in steps if s.grade and s.verb is Verb.LEVEL and not s.strips]
    return any(grade_of(one).grain_um > COARSEST_UM for one in papers)


def _dusty(steps):
    return any(
        step.verb.cuts
        and not is_wet(step.lubricant)
        and not step.strips
        and not any(s.verb in (Verb.TACK_OFF, Verb.FILL) or s.verb.cuts for s in steps[at + 1 :])
        for at, step in enumerate(steps)
    )


LAWS = (
    (SOFT, "works on soft film", _soft),
    (DIRTY, "coats over oil or wax", lambda steps: _coats_over(steps, _cleans)),
    ({Sign.SPIRITS_USED}, "coats over spirits", lambda steps: _coats_over(steps, _gone)),
    (WATER, "brings water again", _wet_again),
    ({Sign.GREEN_BELOW}, "coats over what is still green", lambda s: _coats_over(s, _rests)),
    ({Sign.OILY_WOOD}, "coats over the wood's oil, unsealed", _unsealed),
    (
        {Sign.SPIRITED},
        "flashes off with alcohol again, at once",
        lambda steps: steps[0].verb is Verb.SPIRIT_OFF,
    ),
    (
        {Sign.STEEL_WOOL},
        "takes steel wool again",
        lambda steps: any("wool" in (step.grade or "") for step in steps),
    ),
    (
        {Sign.THICK_FILM},
        "lays more film over too much of it",
        lambda steps: _coats_over(steps, lambda step: step.strips),
    ),
    ({Sign.COARSE}, "takes a coarse grade again", _coarse),
    (DUST, "leaves its dust", _dusty),
)
"""What speaks for a cause; what a way must then not do, in words; and whether it does."""

CASES = [(defect.seen, cause) for defect in CATALOGUE.values() for cause in defect.causes]


def _repeats(cause, steps):
    """Give what of a cause a way does again, in words."""
    signs = {sign for sign, weight in cause.speaks.items() if weight >= FAIR}
    return [words for told_by, words, does in LAWS if signs & told_by and does(steps)]


@pytest.mark.parametrize("name", WORKS)
def test_no_way_does_again_what_made_the_defect(name):
    """Every cause of the catalogue against its own ways, and against every repair of its spot."""
    used = _means(name)
    there = SpotState(coats=4, coats_ahead=2, levels_ahead=True)
    kind = PRODUCTS[used.coat.product].kind
    found = []
    for seen, cause in CASES:
        if cause.of and kind not in cause.of:
            continue
        own = [rework_of(way, used) for way in cause.reworks]
        spots = repairs_of(seen, used, there, 1e-4)
        for rework in (*filter(None, own), *spots):
            faults = _repeats(cause, rework_steps(rework, 1))
            found += [(seen.value, cause.id, rework.option, fault) for fault in faults]
    assert found == []


@pytest.mark.parametrize(
    ("way", "words"),
    [
        ("touch-in", "works on soft film"),
        ("level-coat", "coats over oil or wax"),
        ("level-coat", "lays more film over too much of it"),
        ("spirit-off", "flashes off with alcohol again, at once"),
    ],
)
def test_a_law_tells_a_way_that_breaks_it(way, words):
    """Each of them is broken by some way of the table, offered for another cause."""
    steps = rework_steps(rework_of(way, _means(WORKS[0])), 1)
    broken = {text for _, text, does in LAWS if does(steps[1:] if way == "spirit-off" else steps)}
    assert words in broken
