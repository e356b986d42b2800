"""The form of a coat: all that it asks can be typed, and it is told of all of the row."""

from __future__ import annotations

from pathlib import Path

from fakes import NOW, Clocks, said
from real_shop import bench_on, make_chest
from textual.widgets import Input

from finishsched.bench.screens.form import FormCard
from finishsched.journal.events import StepDone
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entries

JOB = """
job: chest
title: A chest
pieces:
  - {piece: front, title: Front, count: 4, schedule: simple, faces: [{face: out, area: 0.03 m2}]}
"""


async def test_a_coat_is_logged_with_its_air_and_told_of_the_whole_row(tmp_path: Path) -> None:
    """Every field is in sight and is reached by going down; a step without a coat has no such."""
    clocks = Clocks()
    with Workshop.open(make_chest(tmp_path, JOB), NOW) as shop:
        log_entries(shop, Entry(What.START, "all"), NOW)
        app = bench_on(shop, clocks)
        async with app.run_test(size=(80, 40)) as pilot:
            await pilot.pause()
            await pilot.press("l")
            assert isinstance(app.screen, FormCard)
            assert [one.id for one in app.screen.query(Input)] == ["when", "by", "note"]
            await pilot.press("enter")
            assert "logged: 4 x Front, sand P240" in said(app)[-1]
            await pilot.press("l")
            fields = list(app.screen.query(Input))
            assert all(field.region.height == 1 for field in fields)
            await pilot.press("down", "down", *"19 degC, 55 %", "down", "down", *"rui", "enter")
            assert "logged: 4 x Front, pad coat 1 of 3" in said(app)[-1]
            coats = [one.what for one in shop.every_event() if isinstance(one.what, StepDone)][-4:]
            assert {coat.by for coat in coats} == {"Rui"}
            assert {coat.air is not None for coat in coats} == {True}
