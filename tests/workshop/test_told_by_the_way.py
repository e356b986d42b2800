"""What papers and plans say by the way, and a wait that runs while other air is asked about."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from finishsched.model.recipe import Weighed
from finishsched.model.shop import Air, ShownUnits
from finishsched.model.stock import Batch
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.demo.demo import make_demo
from finishsched.workshop.papers.batch_words import batch_words
from finishsched.workshop.papers.conditions import NOT_TOUCHED, Condition, Line, text_lines
from finishsched.workshop.plan.answers import MadeAnew
from finishsched.workshop.plan.sentences import made_anew_words
from finishsched.workshop.plan.waits_ahead import WaitsAhead
from finishsched.workshop.standing.waits import waits_of
from finishsched.workshop.standing.where import cure_room, find

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
LID = "tea-chest/lid"


def test_a_plan_made_anew_says_what_moved_and_what_that_gains():
    """So many of so many near starts, or none; an hour sooner, or later, or less mending alone."""
    moved = made_anew_words(MadeAnew(near_moved=2, near=5, saves_min=60, less_late_min=0))
    assert moved == (
        "the plan is made anew: 2 of the 5 starts of the next 7 days moved; "
        "against holding on to it: all finished 1 h 00 sooner"
    )
    later = made_anew_words(MadeAnew(near_moved=2, near=5, saves_min=-90, less_late_min=120))
    assert later.endswith("2 h 00 less late, but all finished 1 h 30 later")
    still = made_anew_words(MadeAnew(near_moved=0, near=5, saves_min=0, less_late_min=0))
    assert "nothing of the next 7 days moved" in still
    assert "less mending" in still


def test_a_batch_is_told_with_its_lots_and_with_what_it_was_made_of():
    """Each where there is any; a part that has no document goes by its own name."""
    bare = Batch("jar 3", "toner", NOW, 100.0, 40.0)
    assert batch_words(bare, {}, ShownUnits()) == "jar 3"
    mixed = Batch(
        "jar 3", "toner", NOW, 100.0, 40.0,
        lots=("a1", "b2"), parts=(Weighed("red", 2.5, None), Weighed("spirit", None, 98.0)),
    )  # fmt: skip
    told = batch_words(mixed, {}, ShownUnits())
    assert told.startswith("jar 3 (lots a1, b2), made of 2.5 g red, 98 ml spirit")


@pytest.mark.parametrize("left_alone", [False, True])
def test_a_condition_report_warns_of_what_is_left_for_a_conservator(left_alone):
    """Only where something is to be left alone; that safety defers stands there always."""
    leave = (Line(NOW, "flaking gilding", "the rail", ""),) if left_alone else ()
    report = Condition("a/b", "B", (), (), (), leave, (), (), "Shop", UTC, NOW)
    lines = list(text_lines(report))
    assert any(NOT_TOUCHED in line for line in lines) is left_alone
    assert len(lines[-1]) > 40


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    """Return the demo shop, where a coat dries on a lid."""
    folder = tmp_path_factory.mktemp("by-the-way") / "shop"
    make_demo(folder, NOW)
    with Workshop.open(folder, NOW) as workshop:
        yield workshop


@pytest.mark.parametrize(("degrees_c", "sooner"), [(30.0, True), (8.0, False)])
def test_a_wait_that_runs_ends_by_the_air_that_is_asked_about(shop, degrees_c, sooner):
    """Warm air ends sooner what is still to dry, cold air later; what is past stays as it was."""
    standing = find(shop, LID)
    laid = list(waits_of(standing.piece, standing.steps, shop.book().live(LID)).values())[-1]
    now = laid.at + timedelta(minutes=1)
    room = cure_room(shop)
    foreseen = WaitsAhead(room, now).running(laid)
    asked = WaitsAhead(room, now, Air(degrees_c, 50.0)).running(laid)
    assert (asked.likely_min < foreseen.likely_min) is sooner
    assert (asked.latest_min < foreseen.latest_min) is sooner
    over = laid.at + timedelta(days=30)
    assert WaitsAhead(room, over, Air(degrees_c, 50.0)).running(laid) == WaitsAhead(
        room, over
    ).running(laid)
