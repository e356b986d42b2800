"""Papers, cloths and tape: bought, drawn by the work that is logged, counted, and learnt from."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.model.ranges import Range
from finishsched.model.supplies import SupplyFaultError, read_supply, supply_named
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.demo.demo import make_demo
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.stock.needs import job_need
from finishsched.workshop.stock.shelf_entries import Bought, Counted, Supplied, TakenBack
from finishsched.workshop.stock.shop_stock import log_stock, shop_stock
from finishsched.workshop.stock.supplies import missing, supplies_of, wetted_from

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
LONG_AGO = NOW - timedelta(days=300)


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """Return the demo shop, in which sanding and padding is logged over some weeks."""
    folder = tmp_path_factory.mktemp("supplies") / "shop"
    make_demo(folder, NOW)
    return folder


@pytest.fixture
def told(folder, tmp_path):
    """Return what takes an entry, in a copy of that shop, and the shop."""
    import shutil

    shutil.copytree(folder, tmp_path / "shop")
    with Workshop.open(tmp_path / "shop", NOW) as workshop:

        def tell(name, amount, at=NOW, *, bought=True):
            supply = read_supply(name, amount)
            return log_stock(workshop, Supplied(supply, bought=bought, at=at), NOW)

        yield tell, workshop


def of(workshop, name):
    """Return one supply as it stands."""
    return next(one for one in supplies_of(workshop) if one.name == name)


def test_what_is_bought_today_is_whole(told):
    """No work was logged since: as many as were bought, twice bought added up."""
    tell, workshop = told
    tell("P240", "10 sheets")
    tell("240", "2")
    assert of(workshop, "P240").left.likely == 12
    assert of(workshop, "P240").left.low == 12


def test_work_that_is_logged_draws_on_it_within_a_range(told):
    """Cloths bought before all the work are fewer now, and nobody pretends to know exactly."""
    tell, workshop = told
    tell("cloths", "500", LONG_AGO)
    left = of(workshop, "cloth").left
    assert 0 < left.low <= left.likely <= left.high < 500


def test_a_second_count_tells_how_yours_last(told):
    """Twice as many used as reckoned: work to come takes twice as many too, in `need` as well."""
    tell, workshop = told
    plain = {one.name: one for one in job_need(workshop, "tea-chest", NOW).consumables}["cloth"]
    tell("cloth", "500", LONG_AGO)
    reckoned = 500 - of(workshop, "cloth").left.likely
    counted = round(500 - 2 * reckoned, 2)
    tell("cloth", f"{counted}", bought=False)
    found = of(workshop, "cloth")
    assert found.factor == pytest.approx(2.0, rel=1e-3)
    assert found.left.likely == counted
    own = {one.name: one for one in job_need(workshop, "tea-chest", NOW).consumables}["cloth"]
    assert own.amount.likely == pytest.approx(found.factor * plain.amount.likely)


def test_the_shopping_list_names_what_the_shelf_does_not_hold(told):
    """Ten sheets are enough; what was never bought is missing, as is what wets the paper."""
    tell, workshop = told
    before = job_need(workshop, "tea-chest", NOW).to_buy
    assert {"P600", "pad cover", "mineral-spirits"} <= before.keys()
    tell("P600", "10 sheets")
    assert "P600" not in job_need(workshop, "tea-chest", NOW).to_buy


def test_what_wets_the_paper_is_drawn_from_its_lot(told):
    """Oil bought before all the work is less by now, in a range; once it is counted, that holds."""
    _, workshop = told
    bought = Bought("mineral-oil", amount_ml=900.0, name="can", at=LONG_AGO)
    log_stock(workshop, bought, NOW)

    def can():
        lots = [row.lot for row in shop_stock(workshop, NOW).lots if row.lot.name == "can"]
        return wetted_from(workshop, lots)

    (left,) = (one.left for one in can())
    assert 0 < left.low < left.likely < left.high < 900
    log_stock(workshop, Counted("can", left_ml=700.0), NOW)
    assert can() == ()


def test_the_newest_entry_about_it_is_taken_back(told):
    """A count by mistake is undone by its name, however that is written."""
    tell, workshop = told
    tell("cloth", "20")
    tell("cloth", "2", bought=False)
    log_stock(workshop, TakenBack("cloths"), NOW)
    assert of(workshop, "cloth").left.likely == 20


@pytest.mark.parametrize(
    ("name", "amount", "says"),
    [("P240", "three", "counted in sheets"), ("tape", "2 rolls", "counted in m"),
     ("0000 wool", "3 sheets", "counted in pads"), ("cloth", "99999", "10000")],
)  # fmt: skip
def test_what_is_no_number_of_it_is_told(name, amount, says):
    """With what it is counted in."""
    with pytest.raises(SupplyFaultError, match=says):
        read_supply(name, amount)


@pytest.mark.parametrize("name", ["pumice", "rottenstone", "shellac-garnet", "jar 5"])
def test_products_and_jars_are_no_supplies(name):
    """They are weighed or measured, as ever; powders are products."""
    assert supply_named(name) is None


@given(st.text(max_size=30), st.text(max_size=30))
def test_any_words_are_read_or_refused(name, amount):
    """Nothing but a refusal ever comes of them."""
    try:
        found = read_supply(name, amount)
    except SupplyFaultError:
        return
    assert found is None or found.count >= 0


SANDED = """\
schedule: sanded
title: Sanded
source: common practice
stages:
  - stage: prepare
    steps:
      - sand: with the grain
        grade: P180
"""
JOB = """\
job: NAME
title: Some
pieces:
  - piece: one
    title: One
    schedule: sanded
    faces: [{face: top, area: 0.05 m2}]
  - piece: two
    title: Two
    schedule: sanded
    faces: [{face: top, area: 0.05 m2}]
"""


def test_an_evening_takes_what_need_counted_for_it_however_it_is_logged(tmp_path):
    """Four small pieces of two jobs, logged one by one, take the quarter sheet that need told."""
    for folder, name, text in (
        ("schedules", "sanded", SANDED),
        ("jobs", "a", JOB.replace("NAME", "a")),
        ("jobs", "b", JOB.replace("NAME", "b")),
    ):
        (tmp_path / folder).mkdir(exist_ok=True)
        (tmp_path / folder / f"{name}.yaml").write_text(text, "utf-8")
    (tmp_path / "shop.yaml").write_text("shop: Test\ntime_zone: Europe/Lisbon\n", "utf-8")
    with Workshop.open(tmp_path, NOW) as workshop:
        (needed,) = job_need(workshop, "all", NOW).consumables
        log_stock(workshop, Supplied(read_supply("P180", "3 sheets"), bought=True, at=NOW), NOW)
        refs = ("a/one", "a/two", "b/one", "b/two")
        for minute, ref in enumerate(refs, start=1):
            at = NOW + timedelta(minutes=minute)
            for what in (What.START, What.DONE):
                log_entry(workshop, Entry(what, ref), at)
        left = of(workshop, "P180").left
    assert needed.amount.likely == 0.25
    assert left.likely == pytest.approx(3 - needed.amount.likely)


def test_what_is_missing_runs_from_the_lucky_case_to_the_unlucky_one():
    """By hand: 8 to 14 sheets of 2 to 5: at the least 3 are bought, likely 7, at the most 12."""
    assert missing(Range(8.0, 10.0, 14.0), Range(2.0, 3.0, 5.0)) == Range(3.0, 7.0, 12.0)
    assert missing(Range(1.0, 2.0, 3.0), Range(2.0, 3.0, 5.0)) == Range(0.0, 0.0, 1.0)
