"""What a person types into the forms."""

from datetime import UTC, datetime

import pytest
from fakes import NOW, ZONE

from finishsched.bench.typed import reading


def test_amounts_by_volume_or_mass() -> None:
    """An amount is millilitres or grams by its unit, and nothing when left blank."""
    assert reading.read_amount("15 ml") == (15.0, None)
    assert reading.read_amount("12 g") == (None, 12.0)
    assert reading.read_amount(" ") == (None, None)


@pytest.mark.parametrize("text", ["15", "15 min", "some"])
def test_an_amount_without_a_fitting_unit_is_refused(text: str) -> None:
    """A bare number is refused with units that would do."""
    with pytest.raises(reading.FormFaultError, match="; write"):
        reading.read_amount(text)


def test_wall_time_is_the_last_one_gone_by() -> None:
    """A time of day a little ahead of now is a slip, and refused with both dates."""
    assert reading.read_wall_time("18:30", NOW, ZONE) == datetime(2026, 11, 25, 17, 30, tzinfo=UTC)
    with pytest.raises(reading.FormFaultError, match="write 'yesterday 19:00'"):
        reading.read_wall_time("19:00", NOW, ZONE)
    assert reading.read_wall_time("", NOW, ZONE) is None


@pytest.mark.parametrize("text", ["25:00", "12:60", "noon", "7"])
def test_no_time_of_day(text: str) -> None:
    """What is no time of day is refused with the way to write it."""
    with pytest.raises(reading.FormFaultError, match="18:30"):
        reading.read_wall_time(text, NOW, ZONE)


def test_air() -> None:
    """A reading is taken in any unit of its kind; 66.2 degF is 19 degC."""
    air = reading.read_air("66.2 degF", "55 %", "", NOW)
    assert air.temperature_c == pytest.approx(19.0)
    assert air.humidity_percent == pytest.approx(55.0)
    assert air.at == NOW


@pytest.mark.parametrize(("temperature", "humidity"), [("90 degC", "55 %"), ("19 degC", "0 %")])
def test_air_that_no_room_has_is_refused(temperature: str, humidity: str) -> None:
    """A slip of the hand that no room's air could be is refused with the range."""
    with pytest.raises(reading.FormFaultError, match="; a reading is from"):
        reading.read_air(temperature, humidity, "", NOW)


def test_air_without_units_is_refused() -> None:
    """A bare number is refused with the units that would do."""
    with pytest.raises(reading.FormFaultError, match=r"temperature.*degC.*humidity.*55 %"):
        reading.read_air("19", "55", "", NOW)


def test_the_air_of_a_coat():
    """Both values with their units, or nothing at all."""
    assert reading.read_coat_air("") is None
    assert reading.read_coat_air("66.2 degF, 55 %").temperature_c == pytest.approx(19.0)
    for text in ("19", "19 degC", "19 degC 55 %", "19, 55"):
        with pytest.raises(reading.FormFaultError, match="; write"):
            reading.read_coat_air(text)
