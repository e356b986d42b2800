"""``cost``: hours as timed, material at the shop's prices, and a quote that keeps its promises."""

from __future__ import annotations

import pytest


@pytest.fixture
def priced(shop):
    """Return the demo shop with a price for an hour."""
    path = shop.cwd / "shop.yaml"
    path.write_text(path.read_text() + "hour: 45 EUR\n")
    return shop


def test_what_somebody_timed_stands_in_the_place_of_the_schedule(priced):
    """Twelve minutes told are twelve minutes in the body's hours, and told apart."""
    before = {row["kind"]: row for row in priced("cost", "lid", "--json").json["hours"]}
    priced("log", "lid", "ready")
    priced("log", "lid", "done", "--took", "12 min")
    after = {row["kind"]: row for row in priced("cost", "lid", "--json").json["hours"]}
    assert after["body"]["timed_minutes"] == 12
    assert after["body"]["minutes"] == pytest.approx(before["body"]["minutes"] + 12)
    assert after["prepare"] == before["prepare"]
    assert "12 min" in priced("log", "lid", "entries").out


def test_hands_and_material_add_up_and_what_has_no_price_is_named(priced):
    """45 EUR an hour and the cheapest pack of flakes, 62 EUR the kilogram."""
    found = priced("cost", "lid", "--json").json
    flakes = next(m for m in found["material"] if m["product"] == "shellac-dewaxed-blonde")
    assert flakes["cost"] == pytest.approx(flakes["amount"] * 62 / 1000)
    assert found["in_all"] == pytest.approx(found["minutes"] / 60 * 45 + found["material_cost"])
    assert "Clear water-based pore filler" in found["not_priced"]
    assert "without a price" in priced("cost", "lid").out


def test_a_quote_has_its_range_and_grows_with_the_area(priced):
    """Twice the area is dearer, and less than twice as dear: a part of each step is fixed."""
    one = priced("cost", "lid", "--like", "0.2 m2", "--json").json["quote"]
    two = priced("cost", "lid", "--like", "0.4 m2", "--json").json["quote"]
    for quote in (one, two):
        for figure in (quote["hours"], quote["material"], quote["in_all"]):
            assert 0 < figure["low"] <= figure["likely"] <= figure["high"]
    assert one["hours"]["likely"] < two["hours"]["likely"] < 2 * one["hours"]["likely"]
    assert two["material"]["likely"] == pytest.approx(2 * one["material"]["likely"])
    assert "our assumption" in priced("cost", "lid", "--like", "0.2 m2").out


def test_time_belongs_to_what_was_done(priced):
    """A note takes no time, and an hour needs a price before anything is added up."""
    assert "belong to 'done'" in priced("log", "lid", "note", "x", "--took", "3 min").err


def test_without_a_price_of_an_hour_nothing_is_added_up(shop):
    """The hours stand by themselves, and it says what would be written where."""
    assert shop("cost", "lid", "--json").json["in_all"] is None
    assert "hour: 45 EUR" in shop("cost", "lid").out


def test_time_can_be_told_afterwards(priced):
    """A step logged last night is timed by amending it; the first telling stays in the journal."""
    priced("log", "lid", "ready")
    priced("log", "lid", "done")
    priced("log", "lid", "amend", "--took", "9 min")
    rows = {row["kind"]: row for row in priced("cost", "lid", "--json").json["hours"]}
    assert rows["body"]["timed_minutes"] == 9
