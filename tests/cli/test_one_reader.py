"""The same words are taken, or refused in the same words, at every door where people type."""

from datetime import UTC, datetime

import pytest

from finishsched.bench import reading
from finishsched.cli.faults import CommandError, Words
from finishsched.cli.mixing.mixing_words import volume_or_mass
from finishsched.refusals import RefusalError
from finishsched.workshop.base import typed
from finishsched.workshop.base.entries import Entry
from finishsched.workshop.keeping.notebook import _RowReader

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)

AMOUNTS = {
    "15 ml": (15.0, None),
    "0.5 floz": (14.786764781, None),
    "1 1/2 floz": (44.360294343, None),
    "2 cups": (473.176473, None),
    "12 g": (None, 12.0),
    "0.25 lb": (None, 113.3980925),
    "1 oz": "could be a weight or a volume; write floz for fluid ounces, or g for weight",
    "2 ounces": "could be a weight or a volume",
    "15": "has no unit; write for example 15 ml, 0.5 floz or 12 g",
    "15 m2": "is no amount of material",
    "-3 ml": "is outside what a volume can be",
    "some": "is no",
}
AIRS = {
    ("19 degC", "55 %"): (19.0, 55.0),
    ("66.2 degF", "55 %"): (19.0, 55.0),
    ("200 degF", "55 %"): "200 degF is no air to work in; a reading is from 14 to 140 degF",
    ("93 degC", "55 %"): "93 degC is no air to work in; a reading is from -10 to 60 degC",
    ("19 degC", "0 %"): "0 % is no humidity of room air; a reading is from 1 to 100 %",
    ("19", "55 %"): "'19' has no unit",
}


def command_amount(text):
    """Return an amount by the command line."""
    words = Words()
    found = volume_or_mass(words, "--used", text)
    words.settle()
    return found


def command_air(temperature, humidity):
    """Return the air by the command line."""
    from finishsched.cli.air.air_read import read_air

    words = Words()
    found = read_air(words, temperature, humidity)
    words.settle()
    return found


def row(**cells):
    """Return the entry of one row of a notebook."""
    reader = _RowReader({"entry": "done", "piece": "box/lid", **cells}, NOW, UTC)
    entry = reader.entry()
    if reader.faults:
        raise RefusalError(reader.faults[0])
    assert isinstance(entry, Entry)
    return entry


def row_amount(text):
    """Return an amount by the notebook."""
    entry = row(used=text)
    return entry.amount_ml, entry.amount_g


def row_air(temperature, humidity):
    """Return the air by the notebook."""
    air = row(temperature=temperature, humidity=humidity).air
    return air.temperature_c, air.humidity_percent


def form_air(temperature, humidity):
    """Return the air by the bench's form."""
    air = reading.read_air(temperature, humidity, "", NOW)
    return air.temperature_c, air.humidity_percent


def beside_a_coat(temperature, humidity):
    """Return the air written beside a coat."""
    air = typed.read_air(f"{temperature}, {humidity}")
    return air.temperature_c, air.humidity_percent


def said(door, *words):
    """Return what a door makes of words: the figures, or the one line of its refusal."""
    try:
        return door(*words)
    except (RefusalError, CommandError) as refusal:
        return str(refusal)


@pytest.mark.parametrize(("text", "expected"), AMOUNTS.items())
def test_an_amount_is_one_thing_at_every_door(text, expected):
    """Command line, bench and notebook read an amount alike, or refuse it in the same words."""
    doors = [
        said(command_amount, text),
        said(reading.read_amount, text),
        said(row_amount, text),
    ]
    _alike(doors, expected)


@pytest.mark.parametrize(("texts", "expected"), AIRS.items())
def test_the_air_is_one_thing_at_every_door(texts, expected):
    """Command line, bench, coat and notebook read the air alike, and have the same limits."""
    doors = [
        said(command_air, *texts),
        said(form_air, *texts),
        said(row_air, *texts),
        said(beside_a_coat, *texts),
    ]
    _alike(doors, expected)


def _alike(doors, expected):
    for answer in doors:
        if isinstance(expected, str):
            assert expected in answer
        else:
            assert answer == pytest.approx(expected)
    if isinstance(expected, str):
        # The name of the option or field comes first, and the rest is the same to the letter.
        assert len({answer[answer.index(expected) :] for answer in doors}) == 1
