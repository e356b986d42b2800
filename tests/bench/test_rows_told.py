"""What a row of several pieces is told with: figures that are for all of them, and agree."""

from __future__ import annotations

from pathlib import Path

import pytest
from fakes import MINUTE, NOW, Clocks, said
from real_shop import bench_on, make_chest

from finishsched.mixing.cut import G_PER_L_IN_A_POUND_CUT
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entries
from finishsched.workshop.stock.needs import job_need
from finishsched.workshop.stock.shelf_entries import Mixed
from finishsched.workshop.stock.shop_stock import log_stock
from finishsched.workshop.views.row_views import RowView, row_views
from finishsched.workshop.views.views import due_answer

JOB = """
job: chest
title: A chest of drawers
pieces:
  - {piece: front, title: Front, count: 12, schedule: simple, faces: [{face: out, area: 0.03 m2}]}
  - {piece: top, title: Top, schedule: simple, faces: [{face: out, area: 0.3 m2}]}
"""


@pytest.fixture
def chest(tmp_path: Path) -> Path:
    """Return a shop with twelve drawer fronts and a top, sanded and at their first coat."""
    folder = make_chest(tmp_path, JOB)
    with Workshop.open(folder, NOW) as shop:
        for what in (What.START, What.DONE):
            log_entries(shop, Entry(what, "all"), NOW)
    return folder


def _rows(shop: Workshop) -> dict[str, RowView]:
    due = due_answer(shop, NOW)
    found = row_views(shop, (*due.at_hand, *due.coming), NOW)
    return {row.view.title: row for row in found}


def test_a_mix_counts_a_coat_on_each_piece_alike(chest: Path) -> None:
    """Three coats on thirteen pieces are 39, in the row of twelve and in need alike."""
    with Workshop.open(chest, NOW) as shop:
        for row in _rows(shop).values():
            assert row.view.sheet is not None
            assert "for 39 coats on 13 pieces, 0.66 m2" in row.view.sheet.mix_makes
            after = 39 - len(row.each)
            assert f"the rest is for the {after} coats after it" in row.view.sheet.mix_makes
        (supplied,) = job_need(shop, "all", NOW).supply.mixtures
        assert supplied.need.coats == 39


def test_the_coat_after_takes_as_long_as_the_one_in_hand(chest: Path) -> None:
    """What comes next is told for all pieces of a row too: each is picked up and put down."""
    with Workshop.open(chest, NOW) as shop:
        (now,) = [row for row in _rows(shop).values() if len(row.each) == 12]
        log_entries(shop, Entry(What.DONE, "front"), NOW)
        (then,) = [row for row in _rows(shop).values() if len(row.each) == 12]
        assert now.view.sheet is not None
        assert then.view.next_sheet is not None
        assert then.view.next_sheet.hands_on_min == pytest.approx(now.view.sheet.hands_on_min)


async def test_an_undo_of_a_row_tells_no_amount_of_one_piece(chest: Path) -> None:
    """What the first of twelve took of the jar is not what was taken back."""
    clocks = Clocks()
    with Workshop.open(chest, NOW) as shop:
        cut_g_per_l = 1.5 * G_PER_L_IN_A_POUND_CUT
        log_stock(shop, Mixed("jar 1", 250.0, cut_g_per_l, product="shellac-dewaxed-blonde"), NOW)
        app = bench_on(shop, clocks)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            app.choosing.choose("chest/front-1")
            await pilot.press("space")
            await pilot.pause()
            clocks.forward(MINUTE)
            assert "logged: 12 x Front, pad coat 1 of 3" in said(app)[-1]
            await pilot.press("u")
            await pilot.pause()
            undone = said(app)[-1]
            assert undone.startswith("undone: 12 x Front, done: 2, pad coat 1 of 3, of jar 1")
            assert "ml" not in undone
