"""Laws of reckoning material: coats, stock and jars."""

import dataclasses

import pytest
from hypothesis import given
from hypothesis import strategies as st
from need_cases import (
    GALLON_ML,
    POUND,
    PRODUCTS,
    a_pad,
    a_piece,
    a_varnish,
    areas,
    close,
    coats_on,
    likely_of,
    pieces,
)

from finishsched.mixing.amount import (
    BARE_WOOD_TAKES_ML_PER_M2,
    Pores,
    Range,
    pores_of,
    used_amount,
    used_range,
)
from finishsched.mixing.bare_wood import soaks_of
from finishsched.mixing.learnt_use import LARGEST_RATIO, SPREAD_SD, By, Seen, factor
from finishsched.mixing.let_down import jar_cut
from finishsched.mixing.need import (
    LoggedUse,
    coats_of,
    jar_share,
    own_uses,
    with_pads,
)
from finishsched.mixing.supply import supply
from finishsched.model.schedule import (
    Spread,
    StepPlan,
    Verb,
    Wait,
    Waits,
)
from finishsched.model.shop import Shop


@given(st.lists(pieces, max_size=4))
def test_need_is_additive_over_pieces(several):
    """What pieces take together is what they take one by one, before jars and packs."""
    together = likely_of(*several)
    for mixture, amount in together.items():
        single = sum(likely_of(piece).get(mixture, 0.0) for piece in several)
        assert amount == pytest.approx(single, **close)
    assert together.keys() == {mixture for piece in several for mixture in likely_of(piece)}


@given(pieces, st.floats(1, 10))
def test_more_area_never_needs_less(piece, times):
    """A larger piece takes no less of anything, at the low end, likely, and at the high end."""
    larger = dataclasses.replace(piece, area_m2=piece.area_m2 * times)
    for small, large in zip(coats_on(piece), coats_on(larger), strict=True):
        for end in ("low", "likely", "high"):
            assert getattr(large.amount, end) >= getattr(small.amount, end)


@given(pieces, st.data())
def test_what_is_done_and_what_is_left_make_the_whole(piece, data):
    """Wherever the work stands, the coats done and the coats left are the whole piece's."""
    keys = [step.key for step in piece.steps]
    done = frozenset(keys[: data.draw(st.integers(0, len(keys)))])
    parts = [dataclasses.replace(piece, left=some) for some in (done, piece.left - done)]
    whole, apart = likely_of(piece), [likely_of(part) for part in parts]
    for mixture, amount in whole.items():
        assert sum(p.get(mixture, 0.0) for p in apart) == pytest.approx(amount, **close)


@given(pieces)
def test_ranges_are_in_order(piece):
    """Low is no more than likely, and that no more than high, for every coat."""
    for coat in coats_on(piece):
        assert 0 < coat.amount.low <= coat.amount.likely <= coat.amount.high


def test_a_coat_takes_its_area_loss_and_pad():
    """By hand: 15 ml/m2 on 0.1 m2, 10 % lost, 10 ml for the pad before the first of two coats."""
    first, last = with_pads(coats_on(a_piece(a_pad(), a_pad("more"), done=(1, 2))))
    assert first.amount.likely == pytest.approx(15 * 0.1 / 0.9 + 10)
    assert last.amount.likely == pytest.approx(15 * 0.1 / 0.9)
    assert (first.pad_ml, last.pad_ml) == (10, 0)


def test_one_pad_serves_every_piece_of_a_product():
    """Five panels in rotation charge one pad, as one piece of their area does."""
    five = with_pads(coats_on(*(a_piece(a_pad(), area_m2=0.1) for _ in range(5))))
    one = with_pads(coats_on(a_piece(a_pad(), area_m2=0.5)))
    assert sum(coat.pad_ml for coat in five) == 10
    together = sum(coat.amount.likely for coat in five)
    assert together == pytest.approx(sum(coat.amount.likely for coat in one))


def test_a_pad_that_lay_for_a_fortnight_is_made_anew():
    """In a closed box a pad stays soft for about a week; after a longer rest a fresh one is due."""
    waits = Waits(after=Wait(7 * 86400.0, 14 * 86400.0))
    coats = with_pads(coats_on(a_piece(a_pad(coats=1, waits=waits), a_pad("later", coats=1))))
    assert [coat.pad_ml for coat in coats] == [10, 10]


def test_the_first_coat_into_bare_wood_may_take_more():
    """At the most: open pores more than closed ones, filled wood as closed, an oil nothing.

    Likely it takes what its schedule says, as due tells it and as film and jar count it.
    """
    filler = StepPlan("fill", Verb.FILL, "across", product="oil", spread=Spread(ml_per_m2=80.0))
    oiled = StepPlan("oil", Verb.WIPE, "flood", product="oil", spread=Spread(ml_per_m2=30.0))
    took = {
        name: coats_on(piece)[-2].into_wood
        for name, piece in {
            "walnut": a_piece(a_pad(), species="black walnut"),
            "cherry": a_piece(a_pad(), species="Cherry"),
            "mixed": a_piece(a_pad(), species="maple with oak lines"),
            "unheard": a_piece(a_pad(), species="unheard-of wood"),
            "filled": a_piece(filler, a_pad(), species="walnut"),
            "oiled": a_piece(oiled, a_pad(), species="walnut"),
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
    first, second = coats_on(a_piece(a_pad(coats=2), area_m2=1.0, species="oak"))
    used = used_range(factor((), SPREAD_SD).range.times(15), 1.0, Verb.PAD)
    drunk = BARE_WOOD_TAKES_ML_PER_M2[Pores.OPEN].likely
    assert first.amount == Range(used.low, used.likely, used.high + drunk)
    assert second.into_wood is None


def test_wood_drinks_of_the_first_coat_and_of_no_later_one():
    """Open pores as reckoned for need; film drinks nothing, and filler leaves pores closed."""
    filler = StepPlan("fill", Verb.FILL, "across", product="oil", spread=Spread(ml_per_m2=80.0))
    steps = a_piece(a_pad(coats=2)).steps
    filled = a_piece(filler, a_pad()).steps
    drinks = [soaks_of(step, steps, "oak", PRODUCTS) for step in steps]
    assert drinks == [BARE_WOOD_TAKES_ML_PER_M2[Pores.OPEN], Range(0.0, 0.0, 0.0)]
    assert soaks_of(filled[1], filled, "oak", PRODUCTS) == BARE_WOOD_TAKES_ML_PER_M2[Pores.CLOSED]


def test_every_coat_of_a_sitting_comes_out_of_the_jar_of_its_strongest():
    """Coats that grow weaker are let down from it; another step has its own jar."""
    weaker = a_pad(coats=3, thin_to_g_per_l=POUND, cut_g_per_l=(2 * POUND,))
    steps = a_piece(weaker, a_pad("later", coats=1, cut_g_per_l=(POUND,))).steps
    assert [jar_cut(step, steps) for step in steps] == [2 * POUND] * 3 + [POUND]


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
    coats = coats_on(a_piece(a_pad(coats=5, thin_to_g_per_l=POUND, cut_g_per_l=(2 * POUND,))))
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
    sealed = a_pad("seal", coats=1, cut_g_per_l=(POUND,))
    coats = coats_on(a_piece(sealed, brushed, area_m2=10.0, done=(1,)))
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
    before = coats_on(a_piece(a_pad(coats=3), area_m2=0.5))[1]
    few, many = (
        coats_on(a_piece(a_pad(coats=3), area_m2=0.5), own=own_uses(entries[:count]))[1]
        for count in (1, 4)
    )
    assert many.own.entries == 4
    assert before.amount.likely < few.amount.likely < many.amount.likely < 20 * 0.5 / 0.9
    widths = [coat.amount.high / coat.amount.low for coat in (before, few, many)]
    assert widths == sorted(widths, reverse=True)
    own = own_uses(entries)
    other = coats_on(a_piece(a_varnish(), area_m2=0.5), own=own)
    assert other[0].own is None


def test_own_entries_serve_a_step_that_states_no_amount():
    """A step without an amount is told as not reckoned, until the shop's own entries know it."""
    spirited = StepPlan("off", Verb.SPIRIT_OFF, "straight", product="spirit")
    coats, unreckoned = coats_of(a_piece(spirited), PRODUCTS, {})
    assert not coats
    assert [(one.product, one.verb) for one in unreckoned] == [("spirit", Verb.SPIRIT_OFF)]
    own = own_uses([LoggedUse("spirit", Verb.SPIRIT_OFF, by_mass=False, per_m2=8.0)] * 3)
    coats, unreckoned = coats_of(a_piece(spirited), PRODUCTS, own)
    assert not unreckoned
    assert coats[0].amount.likely == pytest.approx(0.8)
    assert not coats[0].mixture.by_mass
    weighed = own_uses([LoggedUse("spirit", Verb.SPIRIT_OFF, by_mass=True, per_m2=6.0)] * 3)
    (coat,), _ = coats_of(a_piece(spirited), PRODUCTS, weighed)
    assert (coat.mixture.by_mass, coat.amount.likely) == (True, pytest.approx(0.6))


def test_a_factor_counts_the_readings_that_it_goes_by():
    """Two that can be, and not the one that is out by more than any hand."""
    brushed = ("varnish", Verb.BRUSH)
    seen = [Seen(brushed, ratio, By.LOGGED, 0.35) for ratio in (1.1, 0.9, 2 * LARGEST_RATIO)]
    assert factor(seen, SPREAD_SD).readings == 2
    assert factor((), SPREAD_SD).readings == 0


def test_flakes_without_a_cut_are_told_as_not_reckoned():
    """How much flakes go into an amount of shellac, nobody can say who knows no cut."""
    _, unreckoned = coats_of(a_piece(a_pad(cut_g_per_l=())), PRODUCTS, {})
    assert {one.why for one in unreckoned} == {"the schedule states no cut"}
