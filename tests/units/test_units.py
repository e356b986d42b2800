"""Quantities in and out."""

import os
import subprocess
import sys
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched import unit_table, units
from finishsched.units import UnitFaultError, convert, plain_number, read, show

MEASURES = [value for value in vars(units).values() if isinstance(value, units.Measure)]


@pytest.mark.parametrize(
    ("text", "measure", "kept"),
    [
        ("2 lb", units.CUT, 239.652855),
        ("2 lb/gal", units.CUT, 239.652855),
        ("240 g/L", units.CUT, 240.0),
        ("20 %w/v", units.CUT, 200.0),
        ("1.5 lb/impgal", units.CUT, 149.664559),
        ("1 qt", units.VOLUME, 946.352946),
        ("1½ cup", units.VOLUME, 354.882355),
        ("1 1/2 cup", units.VOLUME, 354.882355),
        ("12 fl oz", units.VOLUME, 354.882355),
        ("12 fl. oz.", units.VOLUME, 354.882355),
        ("2 imp gal", units.VOLUME, 9092.18),
        ("1 pint", units.VOLUME, 473.176473),
        ("0.5 L", units.VOLUME, 500.0),
        ("1 oz", units.MASS, 28.349523),
        ("1 lb 2 oz", units.MASS, 510.291416),
        ("68 degF", units.TEMPERATURE, 20.0),
        ("68 °F", units.TEMPERATURE, 20.0),
        ("20 C", units.TEMPERATURE, 20.0),
        ("-5 degC", units.TEMPERATURE, -5.0),
        ("95 %vol", units.STRENGTH, 95.0),
        ("95 % vol", units.STRENGTH, 95.0),
        ("190 proof", units.STRENGTH, 95.0),
        ("55 %", units.HUMIDITY, 55.0),
        ("5 %", units.SHARE, 5.0),
        ("90 min", units.DURATION, 5400.0),
        ("1 h 30 min", units.DURATION, 5400.0),
        ("1h30min", units.DURATION, 5400.0),
        ("overnight", units.DURATION, 43200.0),
        ("none", units.DURATION, 0.0),
        ("8 1/2 in", units.LENGTH, 215.9),
        ("0.6mm", units.LENGTH, 0.6),
        ("1 mil", units.FILM, 25.4),
        ("180 sq in", units.AREA, 0.1161288),
        ("1 sqft", units.AREA, 0.09290304),
        ("8 min/m2", units.PACE, 8.0),
        ("15 ml/m²", units.SPREAD, 15.0),
        ("150 g/m2", units.SPREAD_MASS, 150.0),
        ("810 kg/m3", units.DENSITY, 0.81),
    ],
)
def test_what_people_write_is_read(text, measure, kept):
    """Every spelling that the trade uses comes to the same kept figure."""
    assert read(text, measure) == pytest.approx(kept, rel=1e-6, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "measure", "message", "remedy"),
    [
        ("30", units.DURATION, "'30' has no unit", "30 min"),
        ("2", units.CUT, "has no unit", "2 lb"),
        ("250", units.VOLUME, "has no unit", "250 ml"),
        ("1.5 ozz", units.MASS, "no unit 'ozz'", "did you mean 'oz'"),
        ("12 oz", units.VOLUME, "an ounce is a weight", "floz"),
        ("95 %", units.STRENGTH, "not a strength", "95 %vol"),
        ("3 g", units.VOLUME, "not a volume", "250 ml"),
        ("1,5 g", units.MASS, "comma", "point"),
        ("", units.MASS, "not a mass", "30 g"),
        ("nan g", units.MASS, "not a mass", "30 g"),
        ("inf g", units.MASS, "not a mass", "30 g"),
        ("1e999 g", units.MASS, "outside", "more than 0"),
        ("-3 g", units.MASS, "outside", "more than 0"),
        ("0 g", units.MASS, "outside", "more than 0"),
        ("500 degC", units.TEMPERATURE, "outside", "-40 up to 100 degC"),
        ("250 proof", units.STRENGTH, "outside", "up to 100"),
        ("101 %", units.HUMIDITY, "outside", "0 up to 100 %"),
        ("3/0 mm", units.LENGTH, "no number", "1 1/2"),
        ("2 lb 3 lb", units.CUT, "more than one", "one value"),
        ("1 ml; rm", units.VOLUME, "not a volume", "250 ml"),
        ("9" * 200 + " g", units.MASS, "too long", "30 g"),
    ],
)
def test_faults_say_what_is_wrong_and_what_would_be_right(text, measure, message, remedy):
    """A quantity that cannot be read gets one helpful line."""
    with pytest.raises(UnitFaultError) as caught:
        read(text, measure)
    assert message in caught.value.message
    assert remedy in caught.value.remedy


@given(st.text(max_size=60), st.sampled_from(MEASURES))
def test_any_text_is_read_or_refused(text, measure):
    """No text makes anything but a figure within range, or a unit fault."""
    try:
        value = read(text, measure)
    except UnitFaultError:
        return
    assert measure.minimum <= value <= measure.maximum


@given(
    st.from_regex(r"[0-9./ e+-]{1,8} ?[a-zA-Z%/]{1,8}[23]?", fullmatch=True),
    st.sampled_from(MEASURES),
)
def test_near_quantities_are_read_or_refused(text, measure):
    """Texts that look like quantities never raise anything but a unit fault either."""
    with suppress(UnitFaultError):
        assert measure.minimum <= read(text, measure) <= measure.maximum


@pytest.mark.parametrize("measure", MEASURES, ids=lambda m: f"{m.name} {m.unit}")
def test_every_example_in_a_remedy_can_be_read(measure):
    """What a message tells people to write is itself right."""
    for example in measure.examples:
        read(example, measure)


@given(st.floats(0.01, 1e6), st.sampled_from(["ml", "floz", "cup", "qt", "gal", "impgal", "l"]))
def test_showing_and_reading_agree(volume_ml, unit):
    """A shown volume reads back to itself within its digits."""
    text = show(volume_ml, units.VOLUME, unit, digits=12)
    assert read(text, units.VOLUME) == pytest.approx(volume_ml, rel=1e-9)


@pytest.mark.parametrize(
    ("value", "digits", "text"),
    [
        (0.0, 3, "0"),
        (1000.0, 3, "1000"),
        (0.00123456, 3, "0.00123"),
        (33.814, 3, "33.8"),
        (2.0, 3, "2"),
        (123456.7, 2, "123457"),
        (-4.56, 2, "-4.6"),
    ],
)
def test_numbers_are_plain(value, digits, text):
    """Never an exponent, no idle zeros, whole digits never rounded away."""
    assert plain_number(value, digits) == text


def test_a_cut_shows_in_the_shops_unit():
    """Grams per litre and pounds per gallon are one cut."""
    assert show(239.65285, units.CUT, "lb/gal") == "2 lb/gal"
    assert convert(119.826427, units.CUT, "lb/gal") == pytest.approx(1.0)


def test_pint_leaves_numpy_alone(tmp_path):
    """Where numpy is installed pint would import it, for nothing that we use: ours does not."""
    (tmp_path / "numpy.py").write_text("raise SystemExit('numpy was imported')")
    code = "from finishsched import units; units.read('2 lb', units.CUT); import pint"
    path = os.pathsep.join([str(tmp_path), *sys.path])
    subprocess.run([sys.executable, "-c", code], check=True, env={**os.environ, "PYTHONPATH": path})


def test_a_plain_factor_is_plain_whatever_pint_makes_of_it(monkeypatch):
    """Where a release of pint misses a figure in its last bit, the figure is taken all the same."""
    for made, factor in (
        (1000.0000000000001, 1000.0),
        (9.999999999999999e-4, 1e-3),
        (119.82642731689663, 119.82642731689663),
    ):
        unit_table.factor.cache_clear()
        monkeypatch.setattr(unit_table, "convert", lambda *_, made=made: made)
        assert unit_table.factor("l", "ml") == factor
    unit_table.factor.cache_clear()
