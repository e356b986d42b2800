"""Laws of blending, and plans against an exhaustive search on small shelves."""

from datetime import date, timedelta
from fractions import Fraction
from itertools import combinations, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishsched.factors import G_PER_L_IN_A_POUND_CUT as POUND
from finishsched.mixing.blend import STATED_ERROR, Jar, blend_all, blend_to
from finishsched.mixing.cut import DISSOLVED_G_PER_ML, reduce_from
from finishsched.mixing.pouring import contents, most_of, oldest_first
from finishsched.model.shop import Alcohol

TODAY = date(2026, 11, 25)
ALCOHOL = Alcohol()

cuts = st.sampled_from([0.5, 1, 1.5, 2, 2, 3, 4, 5]).map(lambda pounds: pounds * POUND)
jar_list = st.lists(
    st.builds(
        Jar,
        st.just("jar"),
        cuts,
        st.floats(1, 500),
        st.none(),
        st.just("shellac"),
        st.none() | st.integers(1, 300).map(lambda days: TODAY - timedelta(days=days)),
    ),
    min_size=1,
    max_size=6,
)
volumes = st.floats(5, 1500)


def _held(cut_g_per_l, volume_ml):
    """Return alcohol in ml and flakes in g."""
    alcohol_ml = volume_ml / (1 + cut_g_per_l / 1000 / DISSOLVED_G_PER_ML)
    return alcohol_ml, cut_g_per_l * alcohol_ml / 1000


def _poured(blend):
    parts = [_held(pour.jar.cut_g_per_l, pour.use_ml) for pour in blend.pours]
    return sum(alcohol for alcohol, _ in parts), sum(flakes for _, flakes in parts)


@given(jar_list)
def test_all_together_conserves_resin_and_alcohol(jars):
    """What jars make together holds what was in them, no more, no less."""
    blend = blend_all(jars, TODAY)
    alcohol_ml, flakes_g = _poured(blend)
    assert _held(blend.cut_g_per_l, blend.makes_ml) == pytest.approx((alcohol_ml, flakes_g))
    assert blend.makes_ml == pytest.approx(sum(jar.have_ml for jar in jars))
    weakest, strongest = (pick(jar.cut_g_per_l for jar in jars) for pick in (min, max))
    assert weakest * (1 - 1e-9) <= blend.cut_g_per_l <= strongest * (1 + 1e-9)


@given(jar_list, cuts, volumes, st.booleans())
def test_a_plan_conserves_and_reaches_its_target(jars, to, makes_ml, nothing_new):
    """Jars and additions make what is promised, and that is the target within the stated error."""
    blend = blend_to(jars, to, makes_ml, ALCOHOL, TODAY, nothing_new=nothing_new)
    alcohol_ml, flakes_g = _poured(blend)
    made = (alcohol_ml + blend.add_alcohol_ml, flakes_g + blend.add_flakes_g)
    assert _held(blend.cut_g_per_l, blend.makes_ml) == pytest.approx(made, rel=1e-9, abs=1e-9)
    if blend.cannot is None:
        assert blend.makes_ml == pytest.approx(makes_ml, rel=2 * STATED_ERROR)
        assert blend.cut_g_per_l == pytest.approx(to, rel=2 * STATED_ERROR)
    elif blend.makes_ml > 1e-6:
        assert blend.makes_ml < makes_ml
        assert blend.cut_g_per_l == pytest.approx(to, rel=1e-6)


@given(jar_list, cuts, volumes, st.booleans())
def test_no_jar_gives_more_than_it_holds(jars, to, makes_ml, nothing_new):
    """Of each jar between nothing and all of it is used, and the rest is left."""
    for pour in blend_to(jars, to, makes_ml, ALCOHOL, TODAY, nothing_new=nothing_new).pours:
        assert 0 <= pour.use_ml <= pour.jar.have_ml
        assert pour.use_ml + pour.left_ml == pytest.approx(pour.jar.have_ml)


@settings(max_examples=60)
@given(jar_list.map(lambda jars: jars[:3]), cuts, volumes)
def test_no_plan_takes_less_new_material(jars, to, makes_ml):
    """Searched exhaustively in steps of a sixteenth, no pouring needs less of flakes or alcohol."""
    blend = blend_to(jars, to, makes_ml, ALCOHOL, TODAY)
    alcohol_ml, flakes_g = _held(to, makes_ml)
    held = [_held(jar.cut_g_per_l, jar.have_ml) for jar in jars]
    for shares in product([step / 16 for step in range(17)], repeat=len(jars)):
        new_ml = alcohol_ml - sum(s * full[0] for s, full in zip(shares, held, strict=True))
        new_g = flakes_g - sum(s * full[1] for s, full in zip(shares, held, strict=True))
        if new_ml >= 0 and new_g >= 0:
            assert blend.add_alcohol_ml <= new_ml + STATED_ERROR * alcohol_ml
            assert blend.add_flakes_g <= new_g + STATED_ERROR * flakes_g


def _corners(held, poured):
    """Give every corner of the ways to pour ``poured``: all jars but two are full or unused."""
    one, none = Fraction(1), Fraction(0)
    jars = range(len(held))
    for free in combinations(jars, min(2, len(held))):
        rest = [jar for jar in jars if jar not in free]
        for bounds in product((none, one), repeat=len(rest)):
            shares = dict(zip(rest, bounds, strict=True))
            left = [
                poured[part] - sum(share * held[jar][part] for jar, share in shares.items())
                for part in (0, 1)
            ]
            yield from _solved(held, free, left, shares)


def _solved(held, free, left, shares):
    if len(free) == 1:
        share = left[0] / held[free[0]][0]
        if share * held[free[0]][1] == left[1] and 0 <= share <= 1:
            yield {**shares, free[0]: share}
        return
    (a, c), (b, d) = held[free[0]], held[free[1]]
    determinant = a * d - b * c
    if determinant:
        first = (left[0] * d - b * left[1]) / determinant
        second = (a * left[1] - left[0] * c) / determinant
        if 0 <= first <= 1 and 0 <= second <= 1:
            yield {**shares, free[0]: first, free[1]: second}


@settings(max_examples=60)
@given(
    st.lists(
        st.tuples(st.integers(20, 900), st.integers(1, 300)),
        min_size=1,
        max_size=4,
        unique_by=lambda jar: jar[0],
    ),
    st.integers(20, 900),
    st.integers(5, 900),
)
def test_of_equal_plans_the_oldest_jar_goes_first(jars, to, makes_ml):
    """Among all corners of the equal plans, ours uses most of the first jar, then of the next."""
    held = [contents(float(cut), float(have_ml)) for cut, have_ml in jars]
    poured = most_of(held, contents(float(to), float(makes_ml)))
    shares = oldest_first(held, poured)
    assert (
        tuple(
            sum(share * full[part] for share, full in zip(shares, held, strict=True))
            for part in (0, 1)
        )
        == poured
    )
    corners = [tuple(found[jar] for jar in range(len(held))) for found in _corners(held, poured)]
    assert tuple(shares) == max(corners)


def test_the_older_of_two_like_jars_is_emptied_first():
    """Two jars of one cut: the older is used up before the younger is opened."""
    young = Jar("young", 2 * POUND, 100, mixed_on=TODAY - timedelta(days=5))
    old = Jar("old", 2 * POUND, 100, mixed_on=TODAY - timedelta(days=50))
    pours = blend_to([young, old], 2 * POUND, 150, ALCOHOL, TODAY).pours
    assert [pour.use_ml for pour in pours] == pytest.approx([50, 100])


def test_thinning_one_jar_is_reducing():
    """One strong jar and new alcohol are what reduce says."""
    reduced = reduce_from(3 * POUND, POUND, 100, ALCOHOL)
    blend = blend_to([Jar("a", 3 * POUND, 100)], POUND, reduced.makes_ml, ALCOHOL, TODAY)
    assert blend.add_alcohol_ml == pytest.approx(reduced.add_alcohol_ml)
    assert blend.add_alcohol_g == pytest.approx(reduced.add_alcohol_g)
    assert blend.add_flakes_g == 0


@pytest.mark.parametrize(
    ("pounds", "to", "said"),
    [
        ((1, 2), 3, "every jar is weaker than a 3-lb cut, the nearest 2 lb; it takes flakes"),
        ((3, 4), 2, "every jar is stronger than a 2-lb cut, the nearest 3 lb; it takes alcohol"),
        ((1, 3), 2, "the jars alone make"),
    ],
)
def test_what_the_jars_alone_cannot_do_says_why(pounds, to, said):
    """With nothing new, the reason and the most: by hand 100 ml of 3-lb take 84.6 ml of 1-lb."""
    jars = [Jar(f"{cut}", cut * POUND, 100) for cut in pounds]
    blend = blend_to(jars, to * POUND, 500, ALCOHOL, TODAY, nothing_new=True)
    assert said in blend.cannot
    assert blend.add_alcohol_ml == blend.add_flakes_g == 0
    assert blend.makes_ml == pytest.approx(0 if pounds != (1, 3) else 184.6, abs=0.1)


def test_waxy_jars_stay_out_when_dewaxed_is_called_for():
    """A waxy jar is left out with its reason; what is not said is taken as dewaxed, and told."""
    jars = [Jar("amber", 2 * POUND, 100, waxy=True), Jar("blonde", 2 * POUND, 100)]
    blend = blend_to(jars, 2 * POUND, 150, ALCOHOL, TODAY, dewaxed=True)
    assert [pour.use_ml > 0 for pour in blend.pours] == [False, True]
    assert "amber is left out: it is waxy" in blend.warnings[0]
    assert any("blonde: not said" in warning for warning in blend.warnings)
    assert any("flakes must be dewaxed" in warning for warning in blend.warnings)


def test_waxy_into_dewaxed_and_strangers_warn():
    """Wax spreads through a blend; shellac and varnish do not mix; old jars are tested first."""
    jars = [
        Jar("amber", 2 * POUND, 100, waxy=True, mixed_on=TODAY - timedelta(days=200)),
        Jar("blonde", 2 * POUND, 100, waxy=False),
        Jar("gloss", 2 * POUND, 100, kind="varnish"),
    ]
    said = "\n".join(blend_all(jars, TODAY).warnings)
    assert "amber is waxy" in said
    assert "shellac and varnish do not mix" in said
    assert "amber is 7 months old: put a drop on glass" in said


def test_a_jar_past_its_longest_life_is_not_counted_on():
    """Older than 12 months is left out of a plan, with the test that would decide."""
    old = Jar("old", 2 * POUND, 100, mixed_on=TODAY - timedelta(days=400))
    blend = blend_to([old], 2 * POUND, 50, ALCOHOL, TODAY)
    assert blend.pours[0].use_ml == 0
    assert "left out" in blend.warnings[0]
    alone = blend_to([old], 2 * POUND, 50, ALCOHOL, TODAY, nothing_new=True)
    assert alone.cannot == "no jar is left to pour from"


@pytest.mark.parametrize("amount", [0.0, -1.0, float("nan"), float("inf")])
def test_nothing_and_nonsense_are_refused(amount):
    """No jars, and amounts that are none."""
    good = Jar("a", 200, 100)
    with pytest.raises(ValueError, match="more than zero"):
        blend_all([Jar("a", amount, 100)], TODAY)
    with pytest.raises(ValueError, match="more than zero"):
        blend_to([good], 200, amount, ALCOHOL, TODAY)
    with pytest.raises(ValueError, match="more than zero"):
        blend_to([good], amount, 200, ALCOHOL, TODAY)
    with pytest.raises(ValueError, match="at least one"):
        blend_all([], TODAY)


def test_a_drop_is_poured_and_warned_of_like_any_amount():
    """Half a millilitre of a very thin waxy shellac is blended, and its wax is told."""
    drops = [Jar("amber", 0.5, 0.5, waxy=True), Jar("blonde", 2 * POUND, 0.5, waxy=False)]
    blend = blend_to(drops, POUND, 0.9, ALCOHOL, TODAY)
    assert all(0 < pour.use_ml <= 0.5 for pour in blend.pours)
    assert any("amber is waxy" in warning for warning in blend.warnings)
    assert blend_to(drops[:1], 0.4, 0.5, ALCOHOL, TODAY).makes_ml == pytest.approx(0.5)
