"""Products, steps and pieces for tests of what is needed."""

import dataclasses
from datetime import UTC, datetime

from hypothesis import strategies as st

from finishsched.mixing.need import (
    PieceWork,
    coats_of,
    needs_of,
)
from finishsched.model.product import Product, ProductKind
from finishsched.model.schedule import (
    Schedule,
    Spread,
    Stage,
    StageName,
    StepPlan,
    Verb,
)
from finishsched.model.step import steps_of

POUND = 453.59237 / 3.785411784
GALLON_ML = 3785.411784
MADE = datetime(2026, 11, 1, tzinfo=UTC)

FLAKES = Product("flakes", "Flakes", ProductKind.FLAKES, thinner="spirit", keeps_s=6 * 30 * 86400.0)
SPIRIT = Product("spirit", "Spirit", ProductKind.ALCOHOL)
VARNISH = Product("varnish", "Varnish", ProductKind.VARNISH, thinner="turps")
OIL = Product("oil", "Oil", ProductKind.OIL)
GLUE = Product("glue", "Glue", ProductKind.GLUE)
PRODUCTS = {product.id: product for product in (FLAKES, SPIRIT, VARNISH, OIL, GLUE)}

close = {"rel": 1e-9, "abs": 1e-6}


def a_pad(id_="pad", coats=2, **more):
    """Return a step that pads shellac."""
    more = {"cut_g_per_l": (2 * POUND,), "spread": Spread(ml_per_m2=15.0)} | more
    return StepPlan(id_, Verb.PAD, "ovals", product="flakes", coats=(coats,), **more)


def a_varnish(id_="varnish", **more):
    """Return a step that brushes varnish."""
    return StepPlan(
        id_, Verb.BRUSH, "flow on", product="varnish", spread=Spread(ml_per_m2=80.0), **more
    )


GLUED = StepPlan("glue", Verb.GLUE_UP, "roll", product="glue", spread=Spread(g_per_m2=150.0))
SANDED = StepPlan("sand", Verb.SAND, "with the grain")


def a_piece(*plans, ref="job/lid", area_m2=0.1, species="cherry", done=()):
    """Return a piece to work on, of which some steps may be done."""
    steps = steps_of(Schedule("s", "S", (Stage(StageName.BODY, tuple(plans)),)))
    left = frozenset(step.key for step in steps if step.number not in done)
    return PieceWork(ref, area_m2, species, steps, left)


def coats_on(*pieces, own=None):
    """Return the coats that pieces take."""
    return [coat for piece in pieces for coat in coats_of(piece, PRODUCTS, own or {})[0]]


def likely_of(*pieces):
    """Return how much of each mixture pieces likely take."""
    return {need.mixture: need.amount.likely for need in needs_of(coats_on(*pieces))}


plans = st.builds(
    lambda kinds: tuple(
        dataclasses.replace(plan, id=f"{plan.id}-{number}") for number, plan in enumerate(kinds)
    ),
    st.lists(
        st.one_of(
            st.builds(
                lambda coats, cut, thin: a_pad(
                    coats=coats,
                    cut_g_per_l=(cut * POUND,),
                    thin_to_g_per_l=thin * cut * POUND if coats > 1 else None,
                ),
                st.integers(1, 8),
                st.sampled_from([0.5, 1.0, 1.5, 2.0, 3.0]),
                st.sampled_from([0.25, 0.5, 1.0]),
            ),
            st.builds(
                lambda coats, percent: a_varnish(coats=(coats,), thinned_percent=(percent,)),
                st.integers(1, 4),
                st.sampled_from([0.0, 10.0, 25.0, 50.0]),
            ),
            st.sampled_from([GLUED, SANDED]),
        ),
        min_size=1,
        max_size=5,
    ),
)
areas = st.floats(0.001, 5)
woods = st.sampled_from(["walnut", "cherry", "", "holly and bog oak"])
pieces = st.builds(
    lambda some, area, wood, ref: a_piece(*some, ref=ref, area_m2=area, species=wood),
    plans,
    areas,
    woods,
    st.sampled_from(["job/a", "job/b", "job/c"]),
)
