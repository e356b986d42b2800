"""Pieces alike are one block to the plan: one set-up, one end, and apart while one is out."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entries
from finishsched.workshop.plan.changes import Grave, piece_changes
from finishsched.workshop.plan.hands_and_hours import WhatIf
from finishsched.workshop.plan.plans import Asked, plan_answer
from finishsched.workshop.plan.what_now import what_now

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
SHOP = """\
shop: Test bench
time_zone: Europe/Lisbon
people: [Ada]
hours: ["Mon-Sun 18:00-22:30"]
usual_air: {temperature: 20 degC, humidity: 50 %}
set_up:
  - {for: sand, before: 5 min, after: 7 min}
  - {for: pad, before: 10 min, after: 10 min}
"""
SCHEDULE = """\
schedule: sanded
title: Sanded and padded
source: common practice
stages:
  - stage: prepare
    steps:
      - {sand: with the grain, grade: P240, lubricant: dry, hands_on: 2 min + 5 min/m2}
  - stage: body
    steps:
      - pad: thin ovals
        product: shellac-dewaxed-blonde
        cut: 2 lb
        coats: 3
        amount: 15 ml/m2
        hands_on: 1 min
        wait:
          between: {earliest: 5 min, likely: 8 min}
          after: {earliest: 8 h, likely: 12 h}
        dry_check: glides; before paper a thumbnail leaves no mark
"""
JOB = """\
job: chest
title: A chest
pieces:
  - piece: front
    title: Drawer front
    schedule: sanded
    count: 12
    faces:
      - {face: face, length: 400 mm, width: 150 mm}
"""
ASKED = Asked(insight=False)


def opened(folder: Path, shop: str = SHOP) -> Workshop:
    """Return a shop with twelve drawer fronts, open."""
    for name, text in (
        ("shop.yaml", shop),
        ("jobs/chest.yaml", JOB),
        ("schedules/sanded.yaml", SCHEDULE),
    ):
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_text(text, "utf-8")
    return Workshop.open(folder, NOW)


@pytest.fixture
def chest(tmp_path):
    """Give such a shop."""
    with opened(tmp_path) as workshop:
        yield workshop


def log(workshop, pieces, word, minute=0):
    """Log an entry so many minutes after the beginning."""
    log_entries(workshop, Entry(What(word), pieces), NOW + timedelta(minutes=minute))


def planned(workshop, minute=0):
    """Return the plan so many minutes after the beginning."""
    return plan_answer(workshop, NOW + timedelta(minutes=minute), ASKED)


def blocks(answer):
    """Return how many pieces each row of a plan is about, by its name."""
    return {piece.ref: len(piece.refs) for piece in answer.pieces}


def test_twelve_fronts_take_one_set_up_and_end_together(chest):
    """One activity a step, of twelve times the hands-on minutes, and getting ready once for it."""
    answer = planned(chest)
    assert blocks(answer) == {"chest/front": 12}
    assert [piece.title for piece in answer.pieces] == ["12 x Drawer front"]
    sanding, *coats = answer.steps
    # Twelve times 2 min + 5 min/m2 on 0.06 m2, and twelve times a minute.
    assert sanding.end - sanding.start == timedelta(minutes=28)
    assert [coat.end - coat.start for coat in coats] == 3 * [timedelta(minutes=12)]
    assert sanding.start - NOW >= timedelta(minutes=5)
    # Round and round: when the twelfth is coated the first has waited its eight minutes.
    assert coats[1].start == coats[0].end
    assert coats[2].start == coats[1].end
    assert len({piece.finish for piece in answer.pieces}) == 1


def test_one_taken_out_is_planned_by_itself_and_comes_back(chest):
    """While it is behind it has its own step; the entry that brings it there has it in again."""
    log(chest, "front", "start")
    log(chest, "front", "done", 30)
    log(chest, "front", "done", 50)
    log(chest, "front-3", "not ready", 56)
    apart = planned(chest, 60)
    assert blocks(apart) == {"chest/front": 11, "chest/front-3": 1}
    log(chest, "front", "go on", 62)
    log(chest, "front-3", "go on", 70)
    assert blocks(planned(chest, 71)) == {"chest/front": 12}


def test_what_now_names_the_block(chest):
    """Twelve to sand are one suggestion, with the minutes of all of them."""
    best = what_now(chest, NOW).best
    assert best is not None
    assert (best.ref, best.title, best.minutes) == ("chest/front", "12 x Drawer front", 28)


def test_no_more_on_the_rack_than_it_holds(tmp_path):
    """A rack of five takes twelve fronts in blocks of five, five and two."""
    rack = "stores:\n  - {store: rack, capacity: 5, for: [pad], held: wait}\n"
    with opened(tmp_path, SHOP + rack) as workshop:
        answer = planned(workshop)
        assert sorted(blocks(answer).values()) == [2, 5, 5]
        uses = {use.amount for a in answer.problem.activities for use in a.uses}
        assert uses == {2, 5}
        assert "5 x Drawer front" in {piece.title for piece in answer.pieces}


def test_what_if_one_of_them_were_due_sooner(chest):
    """A question about one piece sets that one apart, and touches nothing."""
    soon = WhatIf(due={"front-3": date(2026, 11, 27)})
    answer = plan_answer(chest, NOW, Asked(what_if=soon, insight=False))
    assert blocks(answer) == {"chest/front-1 and 2, chest/front-4 to 12": 11, "chest/front-3": 1}
    assert blocks(planned(chest)) == {"chest/front": 12}


def test_the_plan_goes_on_when_the_block_is_logged(chest):
    """With what it said done as it said, nothing moves."""
    first = plan_answer(chest, NOW, Asked(insight=False, keep=True))
    log(chest, "front", "start", 1)
    minute = int((first.steps[0].end - NOW).total_seconds() // 60)
    log(chest, "front", "done", minute)
    then = planned(chest, minute)
    assert [step.start for step in then.steps] == [step.start for step in first.steps[1:]]


def test_what_is_joined_or_parted_is_no_new_work_to_the_plan(tmp_path: Path) -> None:
    """A row has another name then, and what was promised of its pieces holds on."""
    keep = Asked(insight=False, keep=True)
    with opened(tmp_path) as shop:
        job = tmp_path / "jobs/chest.yaml"
        lid = "  - {piece: lid, title: Lid, schedule: sanded, faces: [{face: top, area: 0.1 m2}]}\n"
        job.write_text(JOB + lid)
        shop.changed()
        log_entries(shop, Entry(What.START, "all"), NOW)
        apart = plan_answer(shop, NOW, keep)
        log_entries(shop, Entry(What.JOIN, "all"), NOW)
        joined = plan_answer(shop, NOW, keep)
        log_entries(shop, Entry(What.PART, "chest/lid"), NOW)
        again = plan_answer(shop, NOW, keep)
    assert len({step.ref for step in apart.steps}) == 2
    assert len({step.ref for step in joined.steps}) == 1
    for answer in (joined, again):
        assert Grave.NEW not in {change.what for change in piece_changes(answer)}
    assert again.steps[-1].end - apart.steps[-1].end < timedelta(hours=1)
