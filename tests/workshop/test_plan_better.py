"""A better plan than the one that is shown: what it moves is told, and nothing else is credited."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from finishsched.documents.formats.hours import read_extra
from finishsched.planning.hours import minute_of
from finishsched.planning.replan import ChangeKind
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.hands_and_hours import WhatIf
from finishsched.workshop.plan.memory import Remembered, remember
from finishsched.workshop.plan.plans import Asked, plan_answer

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
WEEK_MIN = 7 * 24 * 60
HOURS = """\
hours: [Mon-Thu 18:30-21:30, "Sat 9:00-12:30, 13:30-17:00"]
rooms:
  - {room: shed, settle: 20 min}
"""
WIPES = """\
schedule: two-coats
title: Two wiped coats
source: common practice
stages:
  - stage: body
    steps:
      - wipe: thin
        product: wiping-varnish
        coats: 2
        amount: 25 ml/m2
        hands_on: 10 min
        wait: {earliest: 3 h, likely: 4 h, latest: 6 h}
        dry_check: no tack
"""


@pytest.fixture
def idle(folder):
    """Return a shop that was shown a plan with an idle week before it."""
    (folder / "shop.yaml").write_text((folder / "shop.yaml").read_text() + HOURS)
    with Workshop.open(folder, NOW) as opened:
        plan = plan_answer(opened, NOW, Asked(insight=False)).plan
        late = tuple(
            replace(each, start_min=each.start_min + WEEK_MIN, end_min=each.end_min + WEEK_MIN)
            for each in plan.placed
        )
        shown = Remembered(replace(plan, placed=late), minute_of(NOW), opened.book().last_seq)
        assert remember(folder, shown)
        yield opened


def test_what_taking_it_moves_is_told(idle):
    """All that goes a week sooner is among the changes from the plan shown last."""
    kept = plan_answer(idle, NOW, Asked(better=True))
    assert kept.changes == ()
    assert kept.better is not None
    taken = plan_answer(idle, NOW, Asked(better=True, take_better=True))
    assert {c.key for c in taken.changes} == {s.key for s in kept.steps}
    assert {c.kind for c in taken.changes} == {ChangeKind.SOONER}


def test_nothing_helps_that_only_makes_up_for_the_plan(idle):
    """An idle week is no reason to work an hour more: planning anew brings all of it."""
    assert plan_answer(idle, NOW, Asked()).helps == ()


def test_slow_waits_never_bring_anything_forward(idle):
    """If every wait is as slow as it may be, no piece is finished before it likely is."""
    pieces = plan_answer(idle, NOW, Asked()).pieces
    assert {piece.finish_latest >= piece.finish for piece in pieces} == {True}


def test_its_own_steps_decide_where_nothing_else_does(idle):
    """The lid alone would end no sooner: its own steps are told, and no other piece's."""
    told = plan_answer(idle, NOW, Asked(better=True, take_better=True)).decides
    assert told
    assert len({line.partition(":")[0] for line in told}) == 1


def test_a_full_rack_is_named_where_it_decides(folder):
    """Two pieces that need the only place one after the other: the end says which store it was."""
    text = (folder / "shop.yaml").read_text()
    rack = "stores:\n  - {store: rack, capacity: 1, for: wipe, held: wait}\n"
    (folder / "shop.yaml").write_text(text + HOURS + rack)
    (folder / "schedules" / "two-coats.yaml").write_text(WIPES)
    with Workshop.open(folder, NOW) as shop:
        told = plan_answer(shop, NOW, Asked()).decides
    assert any("with no place in rack" in line for line in told)


def test_a_fortnight_away_decides_and_nothing_before_it(folder):
    """The cure ends while nobody is there: what came before it would have to be a week sooner."""
    text = (folder / "shop.yaml").read_text()
    (folder / "shop.yaml").write_text(text + HOURS + "away: [2026-11-26 to 2026-12-09]\n")
    with Workshop.open(folder, NOW) as shop:
        told = plan_answer(shop, NOW, Asked()).decides
    assert told[-1].endswith("; no hours of Ada from Wed 25 Nov to Thu 10 Dec")


TRIED = {"one more hour on Wed 25 Nov": WhatIf(extras=(read_extra("2026-11-25 20:20-21:20"),))}
"""What is done about each line that the shop below shows."""


def test_what_would_help_brings_what_is_said_to_whoever_does_it(folder):
    """Each line, done, ends all as much sooner, and is as much less late, within a tenth."""
    short = "hours: [Mon-Thu 18:30-20:20]\nrooms: [{room: shed, settle: 20 min}]\n"
    (folder / "shop.yaml").write_text((folder / "shop.yaml").read_text() + short)
    job = folder / "jobs" / "box.yaml"
    job.write_text(job.read_text().replace("2026-12-20", "2026-11-26"))
    with Workshop.open(folder, NOW) as shop:
        plan = plan_answer(shop, NOW, Asked(keep=True, better=True))
        assert {each.what for each in plan.helps} <= TRIED.keys()
        assert plan.helps
        for each in plan.helps:
            done = plan_answer(shop, NOW, Asked(what_if=TRIED[each.what], better=True))
            for was, is_, said in (
                (plan.score.finish_min, done.score.finish_min, each.saves_min),
                (plan.score.late_min, done.score.late_min, each.less_late_min),
            ):
                assert was - is_ == pytest.approx(said, rel=0.1, abs=1)
