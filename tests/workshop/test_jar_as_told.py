"""A coat logged without its jar is taken from the one that due names, and as much as due says."""

from datetime import timedelta

import pytest
from conftest import NOW

from finishsched.mixing.cut import G_PER_L_IN_A_POUND_CUT
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entries, log_entry, remarks_on
from finishsched.workshop.log.sitting import Sat, log_sitting
from finishsched.workshop.papers.records import record_of
from finishsched.workshop.stock.shelf_entries import Counted, DropTested, Mixed
from finishsched.workshop.stock.shop_stock import log_stock, shop_stock
from finishsched.workshop.views.row_views import row_views
from finishsched.workshop.views.views import due_answer, piece_view

BLONDE = "shellac-dewaxed-blonde"
TWO_LB = 2 * G_PER_L_IN_A_POUND_CUT
DAY = timedelta(days=1)
ROW = """\
job: row
title: A row
pieces:
  - piece: panel
    title: Panel
    schedule: two-coats
    count: 3
    faces:
      - {face: top, area: 0.08 m2}
"""
MINUTES_APART = """\
schedule: minutes-apart
title: Coats minutes apart
source: common practice
stages:
  - stage: body
    steps:
      - pad: thin ovals
        product: shellac-dewaxed-blonde
        cut: 2 lb
        coats: 6
        amount: 15 ml/m2
        wait: {earliest: 5 min, likely: 10 min}
        dry_check: it glides
"""


@pytest.fixture
def jar(workshop):
    """Return the shop with the lid at its first coat, and a jar mixed ten days ago that serves."""
    log_stock(workshop, Mixed("jar 1", 250.0, TWO_LB, product=BLONDE, at=NOW - 10 * DAY), NOW)
    for what in (What.START, What.DONE):
        log_entry(workshop, Entry(what, "lid"), NOW)
    return workshop


def left_ml(workshop, name="jar 1", now=NOW):
    """Return what stock says of a jar."""
    return shop_stock(workshop, now).find(name).batch.left_ml


def test_it_draws_what_due_told_from_the_jar_that_due_told(jar):
    """Stock falls by just what due says the coat takes, marked as reckoned; an undo brings it."""
    sheet = piece_view(jar, "lid", NOW).sheet
    assert sheet.jar_name == "jar 1"
    event = log_entry(jar, Entry(What.DONE, "lid"), NOW)
    assert (event.what.batch, event.what.jar_told, event.what.reckoned) == ("jar 1", True, True)
    assert event.what.amount_ml == pytest.approx(sheet.coats_ml[0])
    assert left_ml(jar) == pytest.approx(250 - sheet.coats_ml[0])
    assert "of jar 1 (reckoned)" in piece_view(jar, "lid", NOW).log[0].text
    assert "jar 1 (reckoned)" in [line.out_of for line in record_of(jar, "lid", NOW).work]
    log_entry(jar, Entry(What.UNDO, "lid"), NOW)
    assert left_ml(jar) == 250


def test_a_named_amount_or_a_named_jar_wins(jar):
    """What was said is kept as it was said; only what nobody said is taken as told."""
    log_stock(jar, Mixed("jar 2", 250.0, TWO_LB, product=BLONDE, at=NOW - DAY), NOW)
    used = log_entry(jar, Entry(What.DONE, "lid", amount_ml=5.0), NOW).what
    assert (used.batch, used.amount_ml, used.reckoned) == ("jar 1", 5.0, False)
    log_entry(jar, Entry(What.UNDO, "lid"), NOW)
    named = log_entry(jar, Entry(What.DONE, "lid", batch="jar 2"), NOW).what
    assert (named.batch, named.jar_told, named.reckoned) == ("jar 2", False, True)
    amended = Entry(What.AMEND, "lid", batch="jar 1")
    log_entry(jar, amended, NOW)
    assert left_ml(jar, "jar 2") == 250


@pytest.mark.parametrize(
    ("becomes", "said"),
    [
        (Counted("jar 1", left_ml=0.0), "'jar 1' is empty"),
        (Counted("jar 1", left_ml=6.0), "'jar 1' holds 6 ml, which is too little"),
        (DropTested("jar 1", None), "'jar 1' failed its drop on glass"),
    ],
)  # fmt: skip
def test_a_jar_that_does_not_serve_gives_nothing_and_that_is_told(jar, becomes, said):
    """Due names no such jar, so nothing is drawn from it; whoever logs the coat hears why."""
    log_stock(jar, becomes, NOW)
    before = left_ml(jar)
    assert piece_view(jar, "lid", NOW).sheet.jar == ""
    event = log_entry(jar, Entry(What.DONE, "lid"), NOW)
    assert (event.what.batch, event.what.amount_ml) == ("", None)
    assert left_ml(jar) == before
    (remark,) = remarks_on(jar, event, NOW)
    assert said in remark


def test_a_jar_past_its_life_gives_nothing_and_that_is_told(jar):
    """Two years later the same jar is no longer told, and no longer drawn from."""
    later = NOW + 730 * DAY
    event = log_entry(jar, Entry(What.DONE, "lid"), later)
    assert event.what.batch == ""
    (remark,) = remarks_on(jar, event, later)
    assert "'jar 1' is past its life" in remark


def test_without_any_jar_nothing_is_said(workshop):
    """Who keeps no jars on the shelf hears nothing of them."""
    for what in (What.START, What.DONE):
        log_entry(workshop, Entry(what, "lid"), NOW)
    event = log_entry(workshop, Entry(What.DONE, "lid"), NOW)
    assert remarks_on(workshop, event, NOW) == ()


def test_a_row_takes_together_what_due_told_for_the_row(folder):
    """Three panels logged in one go: one pad's charge, one jar, the row's own amount in all."""
    (folder / "jobs/row.yaml").write_text(ROW)
    with Workshop.open(folder, NOW) as workshop:
        log_stock(workshop, Mixed("jar 1", 250.0, TWO_LB, product=BLONDE), NOW)
        for what in (What.START, What.DONE):
            log_entries(workshop, Entry(what, "row/panel"), NOW)
        (row,) = (
            one for one in row_views(workshop, due_answer(workshop, NOW).at_hand, NOW)
            if one.row.name == "row/panel"
        )  # fmt: skip
        taken = log_entries(workshop, Entry(What.DONE, "row/panel"), NOW).events
        assert {event.what.batch for event in taken} == {"jar 1"}
        assert 250 - left_ml(workshop) == pytest.approx(row.view.sheet.takes.amount.likely)


def test_a_sitting_goes_on_with_the_next_jar_when_one_is_empty(folder):
    """Five coats told afterwards take the old jar first, then the next, each coat from one jar."""
    (folder / "schedules/minutes-apart.yaml").write_text(MINUTES_APART)
    text = (folder / "jobs/box.yaml").read_text().replace("two-coats", "minutes-apart")
    (folder / "jobs/box.yaml").write_text(text)
    now = NOW + timedelta(hours=2)
    with Workshop.open(folder, NOW) as workshop:
        log_stock(workshop, Mixed("old", 14.0, TWO_LB, product=BLONDE, at=NOW - DAY), NOW)
        log_stock(workshop, Mixed("new", 100.0, TWO_LB, product=BLONDE), NOW)
        log_entry(workshop, Entry(What.START, "lid"), NOW)
        told = piece_view(workshop, "lid", NOW).sheet
        taken = log_sitting(
            workshop, Entry(What.DONE, "lid"), Sat(5, every_s=600.0), now
        ).events  # fmt: skip
        coats = [event.what for event in taken if event.what.kind == "step-done"]
        assert [coat.batch for coat in coats] == ["old", "old", "new", "new", "new"]
        assert [coat.amount_ml for coat in coats] == pytest.approx(list(told.coats_ml[:5]))
