"""Laws of reckoning material: coats, stock and jars."""

import dataclasses
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.mixing.amount import (
    BARE_WOOD_TAKES_ML_PER_M2,
    Pores,
    Range,
    pores_of,
    used_amount,
    used_range,
)
from finishsched.mixing.cut import DISSOLVED_G_PER_ML
from finishsched.mixing.learnt_use import SPREAD_SD, factor
from finishsched.mixing.need import (
    LoggedUse,
    PieceWork,
    coats_of,
    jar_share,
    needs_of,
    own_uses,
    with_pads,
)
from finishsched.mixing.supply import supply, surely_keeps_s
from finishsched.model.product import Product, ProductKind
from finishsched.model.schedule import (
    Schedule,
    Spread,
    Stage,
    StageName,
    StepPlan,
    Verb,
    Wait,
    Waits,
)
from finishsched.model.shop import Shop
from finishsched.model.step import steps_of
from finishsched.model.stock import Batch, Lot

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


def _pad(id_="pad", coats=2, **more):
    more = {"cut_g_per_l": (2 * POUND,), "spread": Spread(ml_per_m2=15.0)} | more
    return StepPlan(id_, Verb.PAD, "ovals", product="flakes", coats=(coats,), **more)


def _varnish(id_="varnish", **more):
    return StepPlan(
        id_, Verb.BRUSH, "flow on", product="varnish", spread=Spread(ml_per_m2=80.0), **more
    )


GLUED = StepPlan("glue", Verb.GLUE_UP, "roll", product="glue", spread=Spread(g_per_m2=150.0))
SANDED = StepPlan("sand", Verb.SAND, "with the grain")


def _piece(*plans, ref="job/lid", area_m2=0.1, species="cherry", done=()):
    steps = steps_of(Schedule("s", "S", (Stage(StageName.BODY, tuple(plans)),)))
    left = frozenset(step.key for step in steps if step.number not in done)
    return PieceWork(ref, area_m2, species, steps, left)


def _coats(*pieces, own=None):
    return [coat for piece in pieces for coat in coats_of(piece, PRODUCTS, own or {})[0]]


def _likely(*pieces):
    return {need.mixture: need.amount.likely for need in needs_of(_coats(*pieces))}


plans = st.builds(
    lambda kinds: tuple(
        dataclasses.replace(plan, id=f"{plan.id}-{number}") for number, plan in enumerate(kinds)
    ),
    st.lists(
        st.one_of(
            st.builds(
                lambda coats, cut, thin: _pad(
                    coats=coats,
                    cut_g_per_l=(cut * POUND,),
                    thin_to_g_per_l=thin * cut * POUND if coats > 1 else None,
                ),
                st.integers(1, 8),
                st.sampled_from([0.5, 1.0, 1.5, 2.0, 3.0]),
                st.sampled_from([0.25, 0.5, 1.0]),
            ),
            st.builds(
                lambda coats, percent: _varnish(coats=(coats,), thinned_percent=(percent,)),
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
    lambda some, area, wood, ref: _piece(*some, ref=ref, area_m2=area, species=wood),
    plans,
    areas,
    woods,
    st.sampled_from(["job/a", "job/b", "job/c"]),
)


@given(st.lists(pieces, max_size=4))
def test_need_is_additive_over_pieces(several):
    """What pieces take together is what they take one by one, before jars and packs."""
    together = _likely(*several)
    for mixture, amount in together.items():
        single = sum(_likely(piece).get(mixture, 0.0) for piece in several)
        assert amount == pytest.approx(single, **close)
    assert together.keys() == {mixture for piece in several for mixture in _likely(piece)}


@given(pieces, st.floats(1, 10))
def test_more_area_never_needs_less(piece, times):
    """A larger piece takes no less of anything, at the low end, likely, and at the high end."""
    larger = dataclasses.replace(piece, area_m2=piece.area_m2 * times)
    for small, large in zip(_coats(piece), _coats(larger), strict=True):
        for end in ("low", "likely", "high"):
            assert getattr(large.amount, end) >= getattr(small.amount, end)


@given(pieces, st.data())
def test_what_is_done_and_what_is_left_make_the_whole(piece, data):
    """Wherever the work stands, the coats done and the coats left are the whole piece's."""
    keys = [step.key for step in piece.steps]
    done = frozenset(keys[: data.draw(st.integers(0, len(keys)))])
    parts = [dataclasses.replace(piece, left=some) for some in (done, piece.left - done)]
    whole, apart = _likely(piece), [_likely(part) for part in parts]
    for mixture, amount in whole.items():
        assert sum(p.get(mixture, 0.0) for p in apart) == pytest.approx(amount, **close)


@given(pieces)
def test_ranges_are_in_order(piece):
    """Low is no more than likely, and that no more than high, for every coat."""
    for coat in _coats(piece):
        assert 0 < coat.amount.low <= coat.amount.likely <= coat.amount.high


def test_a_coat_takes_its_area_loss_and_pad():
    """By hand: 15 ml/m2 on 0.1 m2, 10 % lost, 10 ml for the pad before the first of two coats."""
    first, last = with_pads(_coats(_piece(_pad(), _pad("more"), done=(1, 2))))
    assert first.amount.likely == pytest.approx(15 * 0.1 / 0.9 + 10)
    assert last.amount.likely == pytest.approx(15 * 0.1 / 0.9)
    assert (first.pad_ml, last.pad_ml) == (10, 0)


def test_one_pad_serves_every_piece_of_a_product():
    """Five panels in rotation charge one pad, as one piece of their area does."""
    five = with_pads(_coats(*(_piece(_pad(), area_m2=0.1) for _ in range(5))))
    one = with_pads(_coats(_piece(_pad(), area_m2=0.5)))
    assert sum(coat.pad_ml for coat in five) == 10
    together = sum(coat.amount.likely for coat in five)
    assert together == pytest.approx(sum(coat.amount.likely for coat in one))


def test_a_pad_that_lay_for_a_fortnight_is_made_anew():
    """In a closed box a pad stays soft for about a week; after a longer rest a fresh one is due."""
    waits = Waits(after=Wait(7 * 86400.0, 14 * 86400.0))
    coats = with_pads(_coats(_piece(_pad(coats=1, waits=waits), _pad("later", coats=1))))
    assert [coat.pad_ml for coat in coats] == [10, 10]


def test_the_first_coat_into_bare_wood_may_take_more():
    """At the most: open pores more than closed ones, filled wood as closed, an oil nothing.

    Likely it takes what its schedule says, as due tells it and as film and jar count it.
    """
    filler = StepPlan("fill", Verb.FILL, "across", product="oil", spread=Spread(ml_per_m2=80.0))
    oiled = StepPlan("oil", Verb.WIPE, "flood", product="oil", spread=Spread(ml_per_m2=30.0))
    took = {
        name: _coats(piece)[-2].into_wood
        for name, piece in {
            "walnut": _piece(_pad(), species="black walnut"),
            "cherry": _piece(_pad(), species="Cherry"),
            "mixed": _piece(_pad(), species="maple with oak lines"),
            "unheard": _piece(_pad(), species="unheard-of wood"),
            "filled": _piece(filler, _pad(), species="walnut"),
            "oiled": _piece(oiled, _pad(), species="walnut"),
        }.items()
    }
    assert took == {
        "walnut": Pores.OPEN,
        "cherry": Pores.CLOSED,
        "mixed": Pores.OPEN,
        "unheard": Pores.UNKNOWN,
        "filled": Pores.CLOSED,
        "oiled": None,
    }
    first, second = _coats(_piece(_pad(coats=2), area_m2=1.0, species="oak"))
    used = used_range(factor((), SPREAD_SD).range.times(15), 1.0, Verb.PAD)
    drunk = BARE_WOOD_TAKES_ML_PER_M2[Pores.OPEN].likely
    assert first.amount == Range(used.low, used.likely, used.high + drunk)
    assert second.into_wood is None


def test_pores_by_words_not_letters():
    """A wood is known by whole words: a soak is no oak."""
    assert pores_of("soaked wood") is Pores.UNKNOWN


def test_a_gallon_covers_what_coatings_texts_print():
    """65 % solids at 5 mil dry cover 208.5 sq ft a gallon (worked value in coatings texts)."""
    wet_ml_per_m2 = 5 * 25.4 / 0.65
    area_m2 = 208.5 * 0.09290304
    assert used_amount(wet_ml_per_m2, area_m2, 1, Verb.FILL) == pytest.approx(GALLON_ML, rel=1e-3)


@given(st.floats(0.1, 100), areas, st.sampled_from(list(Verb)))
def test_the_range_has_the_plain_amount_for_its_likely_value(per_m2, area_m2, verb):
    """The sheet on the bench and the need of a job reckon one coat alike."""
    found = used_range(Range(per_m2, per_m2, per_m2), area_m2, verb)
    assert found.likely == pytest.approx(used_amount(per_m2, area_m2, 1, verb))


def test_coats_that_grow_weaker_come_out_of_one_jar():
    """Jar and let-down alcohol make the coat's volume, and the flakes are the coat's own."""
    coats = _coats(_piece(_pad(coats=5, thin_to_g_per_l=POUND, cut_g_per_l=(2 * POUND,))))
    assert {coat.mixture.cut_g_per_l for coat in coats} == {2 * POUND}
    for coat in coats:
        assert coat.from_jar.likely + coat.let_down_ml == pytest.approx(coat.amount.likely)
    assert coats[0].let_down_ml == pytest.approx(0)
    assert coats[-1].let_down_ml > 0


def test_a_jar_let_down_agrees_with_a_printed_reducing_table():
    """Letting 3 lb down to 1 lb takes the printed parts of alcohol, as far as they are rounded."""
    # 1 1/2 parts: Fine Woodworking magazine, Shellac Conversion Ratios; its rounding is 8 %.
    share = jar_share(1 * POUND, 3 * POUND)
    assert (1 - share) / share == pytest.approx(1.5, rel=0.08)


def test_flakes_and_alcohol_agree_with_printed_yields():
    """A coat that takes 1.3 gal of a 3-lb cut wants 3 lb of flakes and 1 gal of alcohol."""
    # Fine Woodworking magazine, Shellac Conversion Ratios: 3 lb and 1 gal make 1.3 gal.
    ml_per_m2 = 1.3 * GALLON_ML / 10 * (1 - Verb.BRUSH.does.lost_share)
    brushed = StepPlan(
        "brush",
        Verb.BRUSH,
        "with the grain",
        product="flakes",
        cut_g_per_l=(3 * POUND,),
        spread=Spread(ml_per_m2=ml_per_m2),
    )
    sealed = _pad("seal", coats=1, cut_g_per_l=(POUND,))
    coats = _coats(_piece(sealed, brushed, area_m2=10.0, done=(1,)))
    (made,) = supply(coats, PRODUCTS, Shop("s")).mixtures
    assert made.parts.flakes_g == pytest.approx(3 * 453.59237, rel=2e-3)
    assert made.parts.alcohol_ml == pytest.approx(GALLON_ML, rel=2e-3)


def test_the_shops_own_entries_move_the_schedules_figure():
    """Each entry moves the figure some of the way and narrows it; another product learns none."""
    entries = [
        LoggedUse(
            "flakes", Verb.PAD, by_mass=False, per_m2=ml / 0.9, scheduled_per_m2=15, area_m2=10
        )
        for ml in (19.0, 20.0, 21.0, 20.0)
    ]
    before = _coats(_piece(_pad(coats=3), area_m2=0.5))[1]
    few, many = (
        _coats(_piece(_pad(coats=3), area_m2=0.5), own=own_uses(entries[:count]))[1]
        for count in (1, 4)
    )
    assert many.own.entries == 4
    assert before.amount.likely < few.amount.likely < many.amount.likely < 20 * 0.5 / 0.9
    widths = [coat.amount.high / coat.amount.low for coat in (before, few, many)]
    assert widths == sorted(widths, reverse=True)
    own = own_uses(entries)
    other = _coats(_piece(_varnish(), area_m2=0.5), own=own)
    assert other[0].own is None


def test_own_entries_serve_a_step_that_states_no_amount():
    """A step without an amount is told as not reckoned, until the shop's own entries know it."""
    spirited = StepPlan("off", Verb.SPIRIT_OFF, "straight", product="spirit")
    coats, unreckoned = coats_of(_piece(spirited), PRODUCTS, {})
    assert not coats
    assert [(one.product, one.verb) for one in unreckoned] == [("spirit", Verb.SPIRIT_OFF)]
    own = own_uses([LoggedUse("spirit", Verb.SPIRIT_OFF, by_mass=False, per_m2=8.0)] * 3)
    coats, unreckoned = coats_of(_piece(spirited), PRODUCTS, own)
    assert not unreckoned
    assert coats[0].amount.likely == pytest.approx(0.8)


def _batch(left_ml, cut=2 * POUND, name="jar", **more):
    return Batch(name, "flakes", MADE, left_ml, left_ml, cut, **more)


@given(pieces, st.floats(0, 400), st.floats(0, 400))
def test_batches_reduce_the_need_one_to_one_and_never_below_zero(piece, one_ml, other_ml):
    """Every millilitre on the shelf saves one, down to nothing; other cuts save none."""
    batches = [_batch(one_ml), _batch(other_ml, cut=POUND, name="weak")]
    held = {2 * POUND: one_ml, POUND: other_ml}
    coats = _coats(piece)
    for with_stock, without in zip(
        supply(coats, PRODUCTS, Shop("s"), batches).mixtures,
        supply(coats, PRODUCTS, Shop("s")).mixtures,
        strict=True,
    ):
        stock_ml = held.get(with_stock.need.mixture.cut_g_per_l, 0.0)
        assert with_stock.to_make == pytest.approx(max(0.0, without.to_make - stock_ml), **close)


@given(pieces, st.floats(0.01, 400), st.floats(0.01, 400))
def test_lots_reduce_what_is_bought_one_to_one_and_never_below_zero(piece, flakes_g, varnish_ml):
    """What stands on the shelf as bought is not bought again."""
    lots = [
        Lot("a", "flakes", MADE, flakes_g, flakes_g),
        Lot("b", "varnish", MADE, had_ml=varnish_ml, left_ml=varnish_ml),
    ]
    held = {"flakes": flakes_g, "varnish": varnish_ml}
    coats = _coats(piece)
    found = supply(coats, PRODUCTS, Shop("s"), lots=lots)
    for material in found.materials:
        wanted = material.amount - held.get(material.product, 0.0)
        assert material.to_buy == pytest.approx(max(0.0, wanted), **close)
    bought = {one.material.product for one in found.purchases}
    assert bought == {one.product for one in found.materials if one.to_buy > 0}


def test_a_lot_is_never_counted_twice():
    """A lot that serves by weight and by volume gives in all no more than it holds."""
    by_volume = StepPlan("f", Verb.FILL, "", product="glue", spread=Spread(ml_per_m2=100.0))
    dense = {**PRODUCTS, "glue": dataclasses.replace(GLUE, density_g_per_ml=1.25)}
    coats, _ = coats_of(_piece(GLUED, by_volume, area_m2=1.0), dense, {})
    found = supply(coats, dense, Shop("s"), lots=[Lot("tub", "glue", MADE, 200.0, 200.0)])
    taken_g = sum(one.in_stock * (1 if one.by_mass else 1.25) for one in found.materials)
    assert taken_g == pytest.approx(200.0)


def test_a_lot_serves_what_is_used_as_bought():
    """Varnish used from the tin counts the tin on the shelf as its stock."""
    lot = Lot("tin", "varnish", MADE, had_ml=500.0, left_ml=3.0)
    found = supply(_coats(_piece(_varnish(), species="oak")), PRODUCTS, Shop("s"), lots=[lot])
    (made,) = found.mixtures
    assert made.in_stock == pytest.approx(3.0)
    assert made.to_make == pytest.approx(made.need.amount.likely - 3.0)
    assert not found.batches


jar_lists = st.lists(st.sampled_from([30.0, 100.0, 250.0, 473.176, 500.0]), max_size=4).map(tuple)


@given(st.lists(pieces, min_size=1, max_size=3), jar_lists, st.floats(0, 200))
def test_batches_cover_what_is_to_be_mixed_and_fit_their_jars(several, jars_ml, stock_ml):
    """For each mixture the jars hold together what is missing, and none more than itself.

    A full jar may want the last step of the scale.
    """
    shop = Shop("s", jars_ml=jars_ml)
    found = supply(_coats(*several), PRODUCTS, shop, [_batch(stock_ml)])
    for batch in found.batches:
        assert batch.makes_ml > 0
        assert (batch.jar_ml is None) == (not jars_ml)
        assert batch.jar_ml is None or batch.makes_ml <= batch.jar_ml + 1e-9
    for made in found.mixtures:
        mixture = made.need.mixture
        mixed = sum(b.makes_ml for b in found.batches if b.mixture == mixture)
        is_mixed = mixture.cut_g_per_l is not None or mixture.thinned_percent is not None
        jars = [b for b in found.batches if b.mixture == mixture and jars_ml]
        cut_g_per_l = mixture.cut_g_per_l or 1000.0
        step_ml = shop.tools.scale_g * (1000 / cut_g_per_l + 1 / DISSOLVED_G_PER_ML)
        least_ml = made.to_make - 2 * step_ml * len(jars) if is_mixed else 0.0
        assert mixed >= least_ml * (1 - 1e-9)
        assert is_mixed or mixed == 0


def test_a_batch_is_used_up_within_its_life():
    """With four months between two coats of one cut, each coat has its own fresh jar."""
    month_s = 30 * 86400.0
    waits = Waits(after=Wait(month_s, 4 * month_s))
    piece = _piece(_pad(coats=1, waits=waits), _pad("later", coats=1, waits=waits))
    found = supply(_coats(piece), PRODUCTS, Shop("s"))
    life_s = surely_keeps_s(found.batches[0].mixture, PRODUCTS)
    assert life_s == pytest.approx(3 * month_s)
    assert [batch.after_s for batch in found.batches] == [0.0, 4 * month_s]
    soon = _piece(_pad(coats=1), _pad("later", coats=1))
    assert len(supply(_coats(soon), PRODUCTS, Shop("s")).batches) == 1
