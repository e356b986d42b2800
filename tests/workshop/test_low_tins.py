"""When a tin is low: by what a coat takes of it, however the tin and the coat are measured."""

from __future__ import annotations

import pytest

from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.stock.shelf_entries import Bought, Counted
from finishsched.workshop.stock.shop_stock import log_stock, shop_stock
from finishsched.workshop.stock.stock import CoatNeed, StockState

from .conftest import JOB, NOW

OILED = """\
schedule: oiled
title: Oiled
source: common practice
stages:
  - stage: body
    steps:
      - wipe: thin
        product: wiping-varnish
        amount: 20 ml/m2
"""


@pytest.mark.parametrize(
    ("had", "left", "unit"), [("amount_ml", "left_ml", "ml"), ("amount_g", "left_g", "g")]
)
def test_a_tin_is_low_by_what_a_coat_takes_of_it_as_both_are_measured(folder, had, left, unit):
    """More than a tenth is left and less than a coat, by volume or by weight, and told so."""
    (folder / "schedules" / "oiled.yaml").write_text(OILED.replace("ml/m2", f"{unit}/m2"))
    (folder / "jobs" / "box.yaml").write_text(JOB.replace("two-coats", "oiled"))
    with Workshop.open(folder, NOW) as shop:
        log_entry(shop, Entry(What.START, "lid"), NOW)
        log_stock(shop, Bought("wiping-varnish", name="tin", **{had: 20.0}), NOW)
        log_stock(shop, Counted("tin", **{left: 2.5}), NOW)
        row = shop_stock(shop, NOW).find("tin")
        assert row.state is StockState.LOW
        assert f" {unit}" in row.why[-1]
        log_stock(shop, Counted("tin", **{left: 15.0}), NOW)
        assert shop_stock(shop, NOW).find("tin").state is StockState.GOOD


OWN_OIL = """\
product: own-oil
title: An oil of our own
kind: oil
density: 0.9 g/ml
hazards: []
rags: self-heating
sources: {density: label, hazards: label, rags: label}
"""


@pytest.mark.parametrize("scheduled", ["20 ml/m2", "20 g/m2"])
@pytest.mark.parametrize(("had", "left"), [("amount_ml", "left_ml"), ("amount_g", "left_g")])
def test_a_tin_is_low_however_it_and_the_coat_are_measured(folder, scheduled, had, left):
    """By the density that its document states: a tin on the scale serves coats in millilitres."""
    (folder / "products").mkdir()
    (folder / "products" / "own-oil.yaml").write_text(OWN_OIL)
    oiled = OILED.replace("wiping-varnish", "own-oil").replace("20 ml/m2", scheduled)
    (folder / "schedules" / "oiled.yaml").write_text(oiled)
    (folder / "jobs" / "box.yaml").write_text(JOB.replace("two-coats", "oiled"))
    with Workshop.open(folder, NOW) as shop:
        log_entry(shop, Entry(What.START, "lid"), NOW)
        log_stock(shop, Bought("own-oil", name="tin", **{had: 15.0}), NOW)
        for amount, state in ((1.7, StockState.LOW), (14.0, StockState.GOOD)):
            log_stock(shop, Counted("tin", **{left: amount}), NOW)
            assert shop_stock(shop, NOW).find("tin").state is state


def test_a_coat_by_volume_is_weighed_by_the_density_of_what_it_is_of():
    """By hand: 10 ml at 0.9 g/ml are 9 g, 9 g are 10 ml, and without a density neither is known."""
    by_volume, by_mass = CoatNeed("oil", None, None, ml=10.0), CoatNeed("oil", None, None, g=9.0)
    for coat in (by_volume, by_mass):
        assert coat.as_kept(0.9, by_mass=True) == pytest.approx(9.0)
        assert coat.as_kept(0.9, by_mass=False) == pytest.approx(10.0)
    assert by_volume.as_kept(None, by_mass=True) == 0.0
    assert by_volume.as_kept(None, by_mass=False) == 10.0
