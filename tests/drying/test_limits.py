"""What is said before a coat, and when nothing is."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.drying.course import Course, Readings
from finishsched.drying.figures import Phase
from finishsched.drying.forecast import HOUR_S, Reading
from finishsched.drying.laws import SCHEDULE_AIR, law_for
from finishsched.drying.limits import CoatAhead, Limit, heavy_film, warnings_before
from finishsched.model.product import Mechanism, ProductKind
from finishsched.model.schedule import Verb
from finishsched.model.shop import Air


def _coat(mechanism=Mechanism.SOLVENT, film=1.0, **given):
    law = law_for(mechanism, Phase.RECOAT, SCHEDULE_AIR).laid(film)
    return CoatAhead(law, **{"verb": Verb.PAD, "kind": ProductKind.FLAKES, **given})


def _codes(*args):
    return [warning.code for warning in warnings_before(*args)]


def test_a_good_day_needs_no_warning():
    """At 20 degC and 50 % a normal padded coat on dry wood is fine."""
    assert _codes(_coat(surface_c=20.0, moisture_percent=9.0), Air(20, 50)) == []


@pytest.mark.parametrize(
    ("coat", "air", "code"),
    [
        (_coat(Mechanism.COALESCING, kind=None, verb=Verb.BRUSH), Air(8, 50), Limit.DOES_NOT_DRY),
        (_coat(Mechanism.COALESCING, kind=None), Air(20, 100), Limit.DOES_NOT_DRY),
        (_coat(surface_c=12.0), Air(20, 50), Limit.DEW_POINT),
        (_coat(verb=Verb.SPRAY), Air(20, 60), Limit.BLUSH),
        (_coat(Mechanism.OXIDISING, kind=ProductKind.OIL), Air(20, 88), Limit.HUMID_AIR),
        (_coat(), Air(14, 50), Limit.COLD_ROOM),
        (_coat(surface_c=16.0), Air(20, 40), Limit.COLD_PIECE),
        (_coat(moisture_percent=12.0), Air(20, 50), Limit.WET_PIECE),
        (_coat(film=2.0), Air(20, 50), Limit.HEAVY_FILM),
    ],
)
def test_each_limit_is_named_with_a_remedy(coat, air, code):
    """Each limit, when passed, is told in one sentence and with what to do."""
    found = {warning.code: warning for warning in warnings_before(coat, air)}
    assert code in found
    assert found[code].text.endswith(".")
    assert found[code].what_to_do.endswith(".")


@pytest.mark.parametrize("first_on_wood", [False, True])
@pytest.mark.parametrize(("film", "times"), [(2.0, "4.0"), (3.0, "9.0")])
def test_a_heavy_film_is_told_how_much_longer_it_takes(film, times, first_on_wood):
    """Solvent leaves a film in the square of its thickness (published for solvents).

    What bare wood does to it, it does to a normal film too.
    """
    law = law_for(Mechanism.SOLVENT, Phase.CURE, SCHEDULE_AIR)
    law = law.laid(film, first_on_wood=first_on_wood)
    told = heavy_film(law).text
    assert told == f"A film {film} times the normal one takes about {times} times as long."


def test_the_edge_of_the_dew_point():
    """3 K above the dew point is enough, less is not (ISO 8502-4, as cited in guides)."""
    air = Air(16.0, 71.0)  # a guide's example: dew point 10.75 degC
    assert Limit.DEW_POINT not in _codes(_coat(surface_c=13.8), air)
    assert Limit.DEW_POINT in _codes(_coat(surface_c=13.7), air)
    below = warnings_before(_coat(surface_c=9.0), air)[0]
    assert "below the dew point" in below.text


def test_oil_and_wax_do_not_blush():
    """Only films of alcohol and lacquer turn white in damp air."""
    damp = Air(20.0, 84.0)
    assert Limit.BLUSH in _codes(_coat(), damp)
    assert Limit.BLUSH not in _codes(_coat(kind=ProductKind.WAX), damp)
    assert Limit.BLUSH not in _codes(_coat(Mechanism.OXIDISING, kind=ProductKind.OIL), damp)
    assert Limit.BLUSH not in _codes(_coat(verb=Verb.RUB_OUT), damp)


def _night(temperature_c, humidity_percent):
    night = [Reading(8 * HOUR_S, temperature_c, humidity_percent)]
    return Course(Readings.of(night), Air(20.0, 50.0), lambda _: 0.0)


def test_a_humid_night_ahead():
    """Air above 85 % within 12 hours is told, the night after is not yet."""
    assert Limit.BAD_NIGHT in _codes(_coat(), Air(20, 50), _night(12, 95), 0.0)
    assert _codes(_coat(), Air(20, 50), _night(12, 95), -5 * HOUR_S) == []
    assert _codes(_coat(), Air(20, 50), _night(18, 60), 0.0) == []


def test_a_cold_night_ahead_for_a_waterborne_coat():
    """A night below 10 degC stops a waterborne film, and the words say why."""
    coat = _coat(Mechanism.COALESCING, kind=ProductKind.WATERBORNE)
    (warning,) = warnings_before(coat, Air(20, 50), _night(7, 60), 0.0)
    assert warning.code is Limit.BAD_NIGHT
    assert "does not coalesce" in warning.text


def test_the_gravest_first():
    """Warnings come in the order of what can spoil the film first."""
    coat = _coat(Mechanism.COALESCING, film=2.0, surface_c=5.0, moisture_percent=20.0)
    codes = _codes(coat, Air(9, 90))
    order = list(Limit)
    assert len(codes) >= 5
    assert codes == sorted(codes, key=order.index)


@given(
    st.sampled_from(Mechanism),
    st.sampled_from(Verb),
    st.none() | st.sampled_from(ProductKind),
    st.builds(Air, st.floats(-40, 60), st.floats(0, 100)),
    st.none() | st.floats(-40, 60),
)
def test_no_air_is_too_odd(mechanism, verb, kind, air, surface_c):
    """Whatever was read, there is an answer."""
    coat = CoatAhead(law_for(mechanism, Phase.RECOAT), verb, kind, surface_c)
    assert len(warnings_before(coat, air)) <= len(Limit)
