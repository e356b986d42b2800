"""A coat logged without its jar is taken from the one that due names, and as much as due says."""

from datetime import timedelta

import pytest
from conftest import NOW

from finishsched.documents.library import product_text
from finishsched.factors import G_PER_L_IN_A_POUND_CUT
from finishsched.mixing.amount import pad_charge_ml
from finishsched.model.verbs import Verb
from finishsched.workshop.amounts.amounts import amounts_of
from finishsched.workshop.amounts.one_jar import by_turns
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entries, log_entry, remarks_on
from finishsched.workshop.log.sitting import Sat, log_sitting
from finishsched.workshop.papers.records import record_of
from finishsched.workshop.stock.needs import job_need
from finishsched.workshop.stock.shelf_entries import Bought, Counted, DropTested, Mixed
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


def test_a_jar_that_serves_one_of_two_rows_is_told_so_to_the_second(workshop):
    """Either by itself has enough in it; the second reads how far it goes after the first.

    What the first takes is what the figures of its own sheet add up to.
    """
    for ref in ("lid", "body"):
        for what in (What.START, What.DONE):
            log_entry(workshop, Entry(what, ref), NOW)
    many_ml = 250.0
    log_stock(workshop, Mixed("jar 1", many_ml, TWO_LB, product=BLONDE, at=NOW), NOW)
    first, second = (
        one.view for one in row_views(workshop, due_answer(workshop, NOW).at_hand, NOW)
    )
    assert "enough" not in first.sheet.jar + second.sheet.jar
    need_ml = sum(first.sheet.coats_ml) + second.sheet.coats_ml[0]
    assert len(second.sheet.coats_ml) == 2
    log_stock(workshop, Counted("jar 1", left_ml=need_ml * 1.01, at=NOW), NOW)
    first, second = (
        one.view for one in row_views(workshop, due_answer(workshop, NOW).at_hand, NOW)
    )
    assert "enough" not in first.sheet.jar
    assert second.sheet.jar.endswith(f"left, enough for 1 of 2 coats after {first.title}")


def test_two_jars_to_be_mixed_are_not_called_the_same(workshop):
    """Who mixes both for the evening logs each as it was told: the second is no jar that is there.

    Rows that take from one jar are told one and the same command.
    """
    for ref in ("lid", "body"):
        for what in (What.START, What.DONE):
            log_entry(workshop, Entry(what, ref), NOW)
    rows = row_views(workshop, due_answer(workshop, NOW).at_hand, NOW)
    one, other = (row.view for row in rows)
    assert one.sheet.log_mix == other.sheet.log_mix
    jars = amounts_of(workshop, NOW).jars
    weaker = other.sheet._replace(log_mix=other.sheet.log_mix.replace("2 lb", "1 lb"))
    first, second = by_turns((one, other._replace(sheet=weaker)), jars)
    assert first.sheet.log_mix.startswith("stock --mixed 'jar 1' ")
    assert second.sheet.log_mix.startswith("stock --mixed 'jar 2' ")


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


OILED = """\
schedule: oiled
title: Oiled
source: common practice
stages:
  - stage: body
    steps:
      - wipe: flood and wipe off
        product: tung-oil
        coats: 2
        amount: 30 ml/m2
        hands_on: 5 min
        wait: {earliest: 1 day, likely: 2 days}
        dry_check: a white cloth comes up clean
"""


@pytest.fixture
def oiled(folder):
    """Return the shop with a row of three to be oiled, begun, and nothing on the shelf."""
    (folder / "schedules/oiled.yaml").write_text(OILED)
    (folder / "jobs/row.yaml").write_text(ROW.replace("two-coats", "oiled"))
    with Workshop.open(folder, NOW) as opened:
        log_entries(opened, Entry(What.START, "row"), NOW)
        yield opened


def _row_sheet(workshop):
    """Return what is told of the coat in hand of the row of three."""
    rows = row_views(workshop, due_answer(workshop, NOW).at_hand, NOW)
    return next(one.view.sheet for one in rows if len(one.row.refs) == 3)


def test_what_is_laid_as_bought_is_drawn_from_the_oldest_lot_that_holds_it(oiled):
    """A coat of oil is told out of a can, and drawn from that can as it was told, in all."""
    for name, ml, days in (("dregs", 1.0, 9), ("can 1", 500.0, 5), ("can 2", 500.0, 1)):
        bought = Bought("tung-oil", amount_ml=ml, name=name, at=NOW - days * DAY)
        log_stock(oiled, bought, NOW)
    sheet = _row_sheet(oiled)
    assert (sheet.jar_name, sheet.as_bought) == ("can 1", True)
    assert sheet.jar == "can 1, 500 ml left"
    logged = [one.what for one in log_entries(oiled, Entry(What.DONE, "row"), NOW).events]
    assert {(one.batch, one.jar_told, one.reckoned) for one in logged} == {("can 1", True, True)}
    left = {row.lot.name: row.lot.left_ml for row in shop_stock(oiled, NOW).lots}
    assert left["can 1"] == pytest.approx(500 - sheet.coats_ml[0])
    assert (left["can 2"], left["dregs"]) == (500, 1)


def test_nothing_is_mixed_of_what_is_laid_as_bought(oiled):
    """Without a can on the shelf the amount is told as what is taken, never as a mix."""
    sheet = _row_sheet(oiled)
    assert sheet.mix_makes == sheet.taken
    assert "this one takes" not in sheet.mix_makes
    event = log_entries(oiled, Entry(What.DONE, "row"), NOW).events[0]
    assert event.what.batch == ""


def test_a_cloth_that_heats_by_itself_is_charged_anew_another_day(oiled):
    """It went out with the rags: no face counts on it the next evening, and need counts both."""
    need = job_need(oiled, "row", NOW)
    assert sum(coat.pad_ml for coat in need.coats) == 2 * pad_charge_ml(Verb.WIPE)
    assert any("for an evening, after which it is put out safe" in one for one in need.assumptions)
    assert _row_sheet(oiled).takes.pad_ml == pad_charge_ml(Verb.WIPE)
    assert "5 ml of it into the dry cloth" in _row_sheet(oiled).mix_makes
    log_entries(oiled, Entry(What.DONE, "row/panel-1"), NOW)
    hour = NOW + timedelta(hours=1)
    assert piece_view(oiled, "row/panel-2", hour).sheet.takes.pad_ml == 0
    next_day = piece_view(oiled, "row/panel-2", NOW + DAY).sheet.takes
    assert next_day.pad_ml + next_day.pad_first_ml == pad_charge_ml(Verb.WIPE)


WEIGHED = "density: 0.8 g/ml\nsources:\n  density: weighed here\n"


@pytest.mark.parametrize(("sources", "jar"), [("sources:\n", ""), (WEIGHED, "tin, 400 g left")])
def test_a_lot_that_is_weighed_gives_what_its_density_says(folder, sources, jar):
    """Of oil bought by weight a coat is drawn in grams, and where no density tells, none is."""
    shipped = product_text("tung-oil").replace("product: tung-oil", "product: my-oil")
    (folder / "products").mkdir()
    (folder / "products/my-oil.yaml").write_text(shipped.replace("sources:\n", sources))
    (folder / "schedules/oiled.yaml").write_text(OILED.replace("tung-oil", "my-oil"))
    (folder / "jobs/row.yaml").write_text(ROW.replace("two-coats", "oiled"))
    with Workshop.open(folder, NOW) as opened:
        log_entries(opened, Entry(What.START, "row"), NOW)
        log_stock(opened, Bought("my-oil", amount_g=400.0, name="tin", at=NOW - DAY), NOW)
        sheet = _row_sheet(opened)
        assert sheet.jar == jar
        log_entries(opened, Entry(What.DONE, "row"), NOW)
        (tin,) = shop_stock(opened, NOW).lots
        assert tin.lot.left_g == pytest.approx(400 - (0.8 * sheet.coats_ml[0] if jar else 0))
