"""An entry works out what it needs, once: no mix for a shop whose jar alone is asked for."""

from datetime import timedelta

import pytest

from finishsched.factors import G_PER_L_IN_A_POUND_CUT
from finishsched.workshop.amounts import amounts
from finishsched.workshop.amounts.as_told import as_told
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.log.log import log_entry, remarks_on
from finishsched.workshop.standing.of_waits import MOST_KEPT, OfWaits
from finishsched.workshop.standing.where import cure_room, find
from finishsched.workshop.stock.shelf_entries import Mixed
from finishsched.workshop.stock.shop_stock import log_stock
from finishsched.workshop.views.views import bench_view


@pytest.fixture
def coated(workshop, at):
    """Return the shop with the lid's first coat found dry, its pad charged, no jar on the shelf."""
    for minutes, what in ((0, What.START), (5, What.DONE), (10, What.DONE), (130, What.READY)):
        log_entry(workshop, Entry(what, "lid"), at(minutes))
    return workshop


@pytest.fixture
def reckoned(monkeypatch):
    """Return the calls that went through the coats of all that is under way, as they come."""
    found = []
    usual = amounts.job_coats

    def watched(*args):
        found.append(args)
        return usual(*args)

    monkeypatch.setattr(amounts, "job_coats", watched)
    return found


def test_a_coat_logged_by_one_key_reckons_no_mix(coated, at, reckoned):
    """Neither the entry nor what is remarked on it goes through all coats; the view does, once."""
    event = log_entry(coated, Entry(What.DONE, "lid"), at(132))
    remarks_on(coated, event, at(132))
    assert reckoned == []
    bench_view(coated, at(132))
    assert len(reckoned) == 1


@pytest.mark.parametrize("held_ml", [0.0, 0.5, 200.0])
def test_the_jar_alone_is_the_jar_of_the_sheet(coated, at, held_ml):
    """Asked for by itself a coat's jar is that of its sheet, from none, too little and enough."""
    if held_ml:
        strength = 2 * G_PER_L_IN_A_POUND_CUT
        jar = Mixed("jar 1", held_ml, strength, product="shellac-dewaxed-blonde", at=at(131))
        log_stock(coated, jar, at(131))
    lid = find(coated, "lid")
    alone = as_told(coated, at(132)).jar_name(lid, lid.step)
    assert alone == as_told(coated, at(132)).sheet(lid, lid.step).jar_name
    assert alone == ("jar 1" if held_ml == 200.0 else "")


def test_a_wait_is_asked_of_once_until_what_it_rests_on_is_another(coated, at):
    """The same wait has the same answer without asking, another its own, and all anew if told."""
    log_entry(coated, Entry(What.DONE, "lid"), at(132))
    laid = find(coated, "lid").laid
    other = laid._replace(at=laid.at + timedelta(hours=1))
    asked = []
    known = OfWaits(lambda one: asked.append(one) or one.at)
    assert (known.of(laid), known.of(other), known.of(laid)) == (laid.at, other.at, laid.at)
    assert asked == [laid, other]
    known.forget()
    assert known.of(laid) == laid.at
    assert asked == [laid, other, laid]


def test_waits_that_nobody_asks_of_again_are_not_kept_for_ever(coated, at):
    """A plan asks of thousands of waits that are none yet: no more than so many are kept."""
    log_entry(coated, Entry(What.DONE, "lid"), at(132))
    room, laid = cure_room(coated), find(coated, "lid").laid
    law = room.law(laid)
    later = (laid._replace(at=laid.at + timedelta(minutes=turn)) for turn in range(2 * MOST_KEPT))
    assert all(room.law(one) == law for one in later)
    assert len(room._laws._known) <= MOST_KEPT
