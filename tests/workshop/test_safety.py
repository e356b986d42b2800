"""Rags, cautions and storage by the journal."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.safety.cautions_today import (
    all_cautions_today,
    cautions_read,
    cautions_today,
    cautions_unread,
)
from finishsched.workshop.safety.rags import open_rags, rags_dealt_with, rags_undone
from finishsched.workshop.safety.storage import storage_answer
from finishsched.workshop.stock.shelf_entries import Bought, Mixed
from finishsched.workshop.stock.shop_stock import log_stock

from .conftest import JOB, NOW, SHOP

OILED = """\
schedule: oiled
title: Oiled
source: common practice
stages:
  - stage: body
    steps:
      - wipe: thin
        product: wiping-varnish
        coats: 2
        amount: 20 ml/m2
        wait: {earliest: 1 h, likely: 2 h}
        dry_check: no smear
"""


@pytest.fixture
def oiled(folder):
    """Return a shop whose pieces are wiped with varnish, the lid begun."""
    (folder / "schedules/oiled.yaml").write_text(OILED)
    (folder / "jobs/box.yaml").write_text(JOB.replace("two-coats", "oiled"))
    with Workshop.open(folder, NOW) as shop:
        log_entry(shop, Entry(What.START, "lid"), NOW)
        yield shop


def test_no_oil_no_reminder(workshop):
    """Shellac's rags burn but do not heat by themselves: nothing is open."""
    assert open_rags(workshop, NOW).rags == ()
    assert open_rags(workshop, NOW).line == ""


def test_oil_leaves_a_reminder_until_someone_says_where_the_rags_went(oiled, at):
    """Open from the coat on, closed by the entry, open again by the next coat."""
    log_entry(oiled, Entry(What.DONE, "lid"), at(1))
    found = open_rags(oiled, at(5))
    (rags,) = found.rags
    assert (rags.product, rags.refs, rags.since) == ("wiping-varnish", ("box/lid",), at(1))
    assert "under water in a closed metal can" in rags.words
    assert "rags 'flat outdoors'" in found.line
    rags_dealt_with(oiled, "flat \x1b[2Joutdoors\n", at(6), by="Ada")
    assert open_rags(oiled, at(7)).rags == ()
    assert open_rags(oiled, at(7)).last.what.where == "flat [2Joutdoors"
    log_entry(oiled, Entry(What.READY, "lid"), at(120))
    log_entry(oiled, Entry(What.DONE, "lid"), at(121))
    assert open_rags(oiled, at(122)).rags[0].since == at(121)


def test_rags_put_away_with_the_last_stroke_are_closed(oiled, at):
    """An entry at the very time of the coat speaks of that coat's rags too."""
    log_entry(oiled, Entry(What.DONE, "lid"), at(1))
    rags_dealt_with(oiled, "flat outdoors", at(1))
    assert open_rags(oiled, at(2)).rags == ()


def test_two_pieces_share_one_reminder(oiled, at):
    """One line for a product, with every piece, from the first use on."""
    log_entry(oiled, Entry(What.START, "body"), at(0))
    log_entry(oiled, Entry(What.DONE, "lid"), at(1))
    log_entry(oiled, Entry(What.DONE, "body"), at(3))
    (rags,) = open_rags(oiled, at(5)).rags
    assert (rags.refs, rags.since) == (("box/lid", "box/body"), at(1))


def test_where_the_rags_went_can_be_taken_back(oiled, at):
    """The undo opens the reminder again; there is nothing to undo after it."""
    log_entry(oiled, Entry(What.DONE, "lid"), at(1))
    rags_dealt_with(oiled, "flat outdoors", at(2))
    rags_undone(oiled, at(3))
    assert open_rags(oiled, at(4)).rags
    with pytest.raises(RefusedError, match="no entry about rags"):
        rags_undone(oiled, at(5))


def test_an_undone_coat_leaves_no_rags(oiled, at):
    """What was not done used nothing."""
    log_entry(oiled, Entry(What.DONE, "lid"), at(1))
    log_entry(oiled, Entry(What.UNDO, "lid"), at(2))
    assert open_rags(oiled, at(3)).rags == ()


def test_the_reminder_lasts_until_somebody_says_where_the_rags_went(oiled, at):
    """Nobody is let off by waiting: only an entry ends it."""
    log_entry(oiled, Entry(What.DONE, "lid"), at(1))
    assert open_rags(oiled, at(1) + timedelta(days=2)).rags
    assert open_rags(oiled, at(1) + timedelta(days=40)).rags
    away = at(1) + timedelta(days=40)
    rags_dealt_with(oiled, "flat outdoors", away, at=away)
    assert not open_rags(oiled, at(1) + timedelta(days=41)).rags


@pytest.mark.parametrize(
    ("where", "minutes"), [("", 0), ("  \x07 ", 0), ("outdoors", 99), ("lid", 0), ("box", 0)]
)
def test_rags_that_cannot_be_are_refused(oiled, at, where, minutes):
    """Nowhere is no place, nor is a piece or a job, and the time to come is not yet."""
    before = oiled.book().last_seq
    with pytest.raises(RefusedError):
        rags_dealt_with(oiled, where, NOW, at=at(minutes))
    assert oiled.book().last_seq == before


def test_a_caution_is_new_once_a_day(oiled, at):
    """Reading it, or logging the step, sets it apart until the next day of the shop."""
    first = cautions_today(oiled, "lid", at(1))
    assert first.new
    assert not first.read
    cautions_read(oiled, first.new, at(2))
    assert cautions_today(oiled, "lid", at(3)).new == ()
    assert cautions_today(oiled, "lid", at(3)).read == first.new
    assert cautions_today(oiled, "lid", NOW + timedelta(days=1)).new == first.new
    cautions_unread(oiled, at(4))
    assert cautions_today(oiled, "lid", at(5)).new == first.new


def test_logging_a_step_reads_its_cautions(oiled, at):
    """Who has laid one coat is not told the same before the next, nor on another piece."""
    log_entry(oiled, Entry(What.DONE, "lid"), at(1))
    assert [one.new for one in all_cautions_today(oiled, at(2))] == [(), ()]
    log_entry(oiled, Entry(What.UNDO, "lid"), at(3))
    assert all(one.new for one in all_cautions_today(oiled, at(4)))


def test_what_one_has_read_another_has_not(oiled, at):
    """Ada's step was shown to Ada: Ben is told all of it, and what nobody was shown is not read."""
    shop = replace(oiled.papers.shop, people=("Ada", "Ben"))
    oiled._read.papers = replace(oiled.papers, shop=shop)
    log_entry(oiled, Entry(What.DONE, "lid", by="Ada"), at(1))
    assert cautions_today(oiled, "lid", at(2), "Ada").new == ()
    assert cautions_today(oiled, "lid", at(2), "Ben").new
    assert cautions_today(oiled, "lid", at(2)).new, "not read by everybody"
    log_entry(oiled, Entry(What.START, "body", by="Ada"), at(3))
    log_entry(oiled, Entry(What.DONE, "body", by="Ben"), at(4))
    assert cautions_today(oiled, "lid", at(5), "Ben").new, "it was Ada who was shown it"


def test_another_danger_is_still_told(workshop, at):
    """Cautions of sanding read this morning do not silence those of the alcohol."""
    log_entry(workshop, Entry(What.START, "lid"), NOW)
    log_entry(workshop, Entry(What.DONE, "lid"), at(1))
    told = [caution.text for caution in cautions_today(workshop, "lid", at(2)).new]
    assert any("Flammable vapour" in text for text in told)


def test_nothing_read_is_no_entry(oiled, at):
    """Neither reading nothing nor taking back nothing is written."""
    with pytest.raises(RefusedError):
        cautions_read(oiled, (), at(1))
    with pytest.raises(RefusedError):
        cautions_unread(oiled, at(1))


def test_what_burns_on_the_shelf_by_class(workshop, at):
    """A can of alcohol and a jar of cut are IB, mineral spirits II, oil and flakes do not count."""
    for entry in (
        Bought("denatured-alcohol", amount_ml=5000.0, name="can"),
        Bought("mineral-spirits", amount_g=780.0, name="tin"),
        Bought("tung-oil", amount_ml=1000.0, name="oil"),
        Bought("shellac-garnet", amount_g=500.0, name="bag"),
        Mixed("big jar", 1200.0, cut_g_per_l=240.0, lots=("bag", "can")),
    ):
        log_stock(workshop, entry, NOW)
    found = storage_answer(workshop, at(1))
    assert {one.name: one.flame_class.value for one in found.held} == {
        "can": "IB", "big jar": "IB", "tin": "II",
    }  # fmt: skip
    assert [one.name for one in found.held if one.too_big] == ["big jar"]
    assert found.over
    assert not found.stated


def test_the_document_says_how_much_may_stand_there(folder):
    """More than it allows is over; as much is not."""
    (folder / "shop.yaml").write_text(
        SHOP + "storage: [{place: steel, class: IB, most: 2 l}, {place: steel, most: 5 l}]\n"
    )
    with Workshop.open(folder, NOW) as shop:
        log_stock(shop, Bought("ethanol", amount_ml=2000.0, name="can"), NOW)
        assert not storage_answer(shop, NOW).over
        log_stock(shop, Bought("ethanol", amount_ml=100.0, name="flask"), NOW)
        assert storage_answer(shop, NOW).over


def test_rags_of_some_pieces_go_by_themselves(oiled, at):
    """Where the rags of one piece went says nothing of another's; an undo brings them back."""
    log_entry(oiled, Entry(What.START, "body"), at(1))
    for piece in ("lid", "body"):
        log_entry(oiled, Entry(What.DONE, piece), at(2))
    rags_dealt_with(oiled, "flat outdoors", at(6), pieces="lid")
    assert open_rags(oiled, at(7), "lid").rags == ()
    assert [one.refs for one in open_rags(oiled, at(7)).rags] == [("box/body",)]
    rags_undone(oiled, at(8))
    assert [one.refs for one in open_rags(oiled, at(9), "lid").rags] == [("box/lid",)]
    with pytest.raises(RefusedError, match="no piece 'lod'"):
        rags_dealt_with(oiled, "flat outdoors", at(9), pieces="lod")
