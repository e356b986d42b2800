"""Work that begins over a finish that is there: its wax, its film, what is offered for it."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from classics import MADE_UP, piece, schedule

from finishsched.checking.cases import ScheduleCase
from finishsched.checking.layers.stack import verdicts
from finishsched.documents.library import shipped_products, shipped_schedules
from finishsched.model.kinds import ProductKind
from finishsched.workshop.begin.choosing import offers, papers_without_a_shop
from finishsched.workshop.begin.offers import Wanted

NOW = datetime(2026, 11, 28, 18, 0, tzinfo=UTC)
PRODUCTS = {**shipped_products(), **MADE_UP}


def over(kind, text):
    """Return the work that ``text`` says, begun over an old finish of one kind."""
    mine = replace(schedule(text, "", tuple(shipped_products())), over=kind)
    return ScheduleCase(mine, PRODUCTS)


def told(kind, text):
    """Return which rules tell of it."""
    return {one.pair.rule for one in verdicts(over(kind, text))}


def test_an_old_finish_is_taken_for_waxed_until_it_is_washed():
    """Common practice: nothing holds on wax, and nobody knows when it was waxed last."""
    assert told(ProductKind.SHELLAC, "scuff P800; tack; pad shellac 1lb x6 15ml") == {
        "coat-over-wax"
    }
    washed = "wash spirits @1h; scuff P800; tack; pad shellac 1lb x6 15ml"
    assert told(ProductKind.SHELLAC, washed) == set()


def test_what_goes_on_an_old_film_is_judged_by_the_one_table():
    """Two-part clear over old varnish is as wrong as over new: its solvents lift it."""
    washed = "wash spirits @1h; scuff P320; tack; brush two-clear 80ml"
    assert "two-part-over-single" in told(ProductKind.VARNISH, washed)
    waterborne = "wash spirits @1h; scuff P320; tack; brush waterborne 80ml"
    assert told(ProductKind.VARNISH, waterborne) == set()


@pytest.mark.parametrize("name", ["refreshed-polish", "spot-on-a-polish"])
def test_the_old_film_is_counted_and_no_wood_is_taken(name):
    """A thin paper on an old polish takes film that is there, not the veneer below it."""
    case = ScheduleCase(shipped_schedules()[name], PRODUCTS)
    ledger = case.ledger_on(piece("walnut", "gloss", veneer=0.6))
    begun = ledger[0][1].before
    assert (begun.film_um.low, begun.film_um.high) == pytest.approx((10, 50), rel=0.3)
    assert ledger[-1][1].after.wood_um.likely == 0
    assert ledger[-1][1].after.film_um.likely > begun.film_um.likely


def test_only_an_old_finish_is_offered_what_renews_one():
    """Bare wood is offered no refreshing, and an old polish nothing that begins at bare wood."""
    papers = papers_without_a_shop()
    bare = {one.schedule.id for one in offers(Wanted(species="walnut"), papers, None, NOW)}
    old = Wanted(species="walnut", over=ProductKind.SHELLAC)
    renewed = {one.schedule.id for one in offers(old, papers, None, NOW)}
    assert renewed == {"refreshed-polish", "spot-on-a-polish"}
    assert not renewed & bare


def test_a_wood_that_bleeds_beside_a_pale_one_is_offered_the_mist():
    """Padauk beside maple: what a pad would carry across outweighs the trouble of a gun."""
    papers = papers_without_a_shop()
    wanted = Wanted(species="padauk and maple", veneer_mm=0.6, sheen="high gloss")
    ranked = [one.schedule.id for one in offers(wanted, papers, None, NOW)]
    assert ranked[0] == "padded-shellac-pattern-misted"
    plain = Wanted(species="walnut and maple", veneer_mm=0.6, sheen="high gloss")
    assert offers(plain, papers, None, NOW)[0].schedule.id == "padded-shellac-pattern"


def test_nobody_is_offered_a_colour_first_who_asked_for_none():
    """Glaze and toner stand behind what leaves cherry its own colour."""
    wanted = Wanted(species="cherry", sheen="satin")
    first = offers(wanted, papers_without_a_shop(), None, NOW)[0].schedule.id
    assert first not in ("glazed-and-varnished", "toned-shellac-under-varnish")
