"""Windows that close run over the room's air, show in what is due, and warn before they close."""

from __future__ import annotations

import pytest

from finishsched.model.shop import Air
from finishsched.workshop.air.reading_entries import add_air
from finishsched.workshop.base.answers import State, WindowKind
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.stock.shelf_entries import Counted, Mixed
from finishsched.workshop.stock.shop_stock import log_stock
from finishsched.workshop.views.views import due_answer, piece_view

DAY = 24 * 60
GLUE = """\
schedule: glued
title: Glued
source: common practice
stages:
  - stage: prepare
    steps:
      - glue up: spread thin, and clamp
        product: pva-glue
        amount: 150 g/m2
        hands_on: 5 min
        wait: {earliest: 1 h, likely: 2 h}
        dry_check: squeeze-out is hard
"""


def _log(workshop, now, *words, piece="lid", **given):
    for word in words:
        log_entry(workshop, Entry(What(word), piece, **given), now)


def _mix(workshop, at, **given):
    entry = Mixed(name="pot 1", makes_ml=50.0, product="two-part-epoxy", **given)
    log_stock(workshop, entry, at)


def test_the_limit_for_the_next_coat_runs_as_a_clock(workshop, at):
    """Three days after the last coat the window closes; it opens with the coat, and says why."""
    _log(workshop, at(0), "start", "done", "done")
    _log(workshop, at(120), "ready", "done")
    (window,) = due_answer(workshop, at(121)).windows
    assert (window.kind, window.name, window.state) == (WindowKind.RECOAT, "box/lid", "open")
    assert window.closes_at == at(120 + 3 * DAY)
    assert [due_answer(workshop, at(120 + d * DAY)).windows[0].state for d in (2.5, 3)] == [
        "closing",
        "closed",
    ]
    assert any("rubbed dull" in reason for reason in window.why)


def test_a_pot_life_is_the_data_sheets_at_its_own_temperature(workshop, at):
    """At 22 degC, for which the half hour holds, it is half an hour; then it stays an hour."""
    add_air(workshop, Air(22.0, 50.0), at(0))
    _mix(workshop, at(0))
    (window,) = due_answer(workshop, at(0)).windows
    assert (window.kind, window.name) == (WindowKind.POT, "pot 1")
    assert (window.closes_at - at(0)).total_seconds() == pytest.approx(30 * 60, abs=1)
    assert [due_answer(workshop, at(minute)).windows[0].state for minute in (20, 24, 40)] == [
        "open",
        "closing",
        "closed",
    ]
    assert due_answer(workshop, at(95)).windows == ()


def test_a_pot_life_halves_for_each_ten_degrees_more(workshop, at):
    """At 32 degC the half hour of 22 degC is about a quarter (UFGS 09971, within a tenth)."""
    add_air(workshop, Air(32.0, 50.0), at(0))
    _mix(workshop, at(0))
    (window,) = due_answer(workshop, at(0)).windows
    assert (window.closes_at - at(0)).total_seconds() == pytest.approx(15 * 60, rel=0.1)


def test_what_is_used_up_has_no_pot_life(workshop, at):
    """A mix of which nothing is left needs no clock."""
    _mix(workshop, at(0))
    log_stock(workshop, Counted(name="pot 1", left_ml=0.0), at(5))
    assert due_answer(workshop, at(6)).windows == ()


def test_spread_glue_stays_open_for_its_time(folder, at):
    """PVA is open for minutes (common practice), and its clock runs from the glue-up."""
    (folder / "schedules/two-coats.yaml").write_text(GLUE.replace("glued", "two-coats"))
    with Workshop.open(folder, at(0)) as workshop:
        _log(workshop, at(0), "start", "done")
        window = next(w for w in due_answer(workshop, at(1)).windows if w.kind is WindowKind.OPEN)
        assert 5 * 60 <= (window.closes_at - at(0)).total_seconds() <= 10 * 60
        assert not [w for w in due_answer(workshop, at(90)).windows if w.kind is WindowKind.OPEN]


def test_a_coat_inside_anothers_window_is_told(workshop, at):
    """Work that would last until another's window has closed says which one to see to first."""
    add_air(workshop, Air(22.0, 50.0), at(0))
    _log(workshop, at(0), "start", "done")
    _mix(workshop, at(0))
    early, late = piece_view(workshop, "lid", at(1)), due_answer(workshop, at(20)).at_hand
    assert early.state is State.TO_DO
    warned = next(view for view in late if view.ref == "box/lid").warnings
    assert any(text.startswith("Pot life of pot 1 closes in 10 min") for text in warned)
    calm = next(
        view for view in due_answer(workshop, at(1)).at_hand if view.ref == "box/lid"
    ).warnings
    assert not any("Pot life" in text for text in calm)


def test_a_two_part_mix_needs_no_strength_and_others_do(workshop, at):
    """Epoxy is mixed by its parts; flakes without a cut are refused."""
    _mix(workshop, at(0))
    with pytest.raises(ValueError, match="mixed to a strength"):
        log_stock(
            workshop, Mixed(name="jar", makes_ml=50.0, product="shellac-dewaxed-blonde"), at(1)
        )


@pytest.mark.parametrize(
    ("moisture", "warned"), [(9.0, False), (14.0, True)]
)  # 20 degC and 50 %: 9.2 %, USDA Wood Handbook, table 4-2
def test_wood_wetter_than_the_room_is_told_before_the_coat(workshop, at, moisture, warned):
    """The moisture logged with the step before speaks against the coat, for three days."""
    _log(workshop, at(0), "start")
    _log(workshop, at(0), "done", moisture_percent=moisture)
    found = [text for text in piece_view(workshop, "lid", at(1)).warnings if "moisture" in text]
    assert bool(found) is warned
    assert not [t for t in piece_view(workshop, "lid", at(4 * DAY)).warnings if "moisture" in t]


def test_a_cold_floor_is_told_before_the_coat(workshop, at):
    """A surface eight degrees below the room warns, on the sheet and among the reasons, once."""
    add_air(workshop, Air(20.0, 50.0), at(0), surface_c=12.0)
    _log(workshop, at(0), "start", "done")
    view = piece_view(workshop, "lid", at(1))
    assert sum("8 K colder than the room" in text for text in view.warnings) == 1
    assert sum("8 K colder than the room" in reason for reason in view.why) == 1
    assert not piece_view(workshop, "lid", at(13 * 60)).warnings


def test_a_heavy_coat_is_told_while_it_dries(workshop, at):
    """Twice the schedule's amount on the piece is told with how much longer it takes.

    What a pad may keep, 10 ml, is no coat.
    """
    _log(workshop, at(0), "start", "done")
    _log(workshop, at(0), "done", amount_ml=15.0)
    (warning,) = piece_view(workshop, "lid", at(1)).warnings
    assert "times the normal one takes about" in warning
    assert "two thin coats" in warning


@pytest.mark.parametrize("percent", [-1.0, 61.0])
def test_a_moisture_that_no_wood_has_is_refused(workshop, at, percent):
    """A slip of the pen is told with the range."""
    _log(workshop, at(0), "start")
    with pytest.raises(ValueError, match="from 0 to 60 %"):
        _log(workshop, at(0), "done", moisture_percent=percent)
