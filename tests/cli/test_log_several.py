"""The working evening on the command line: five coats on five parts in three commands."""

from __future__ import annotations

import pytest

JOB = """\
job: chest
title: A chest
pieces:
  - piece: leaf
    title: Leaf
    schedule: padded
    count: 5
    species: walnut
    faces:
      - {face: face, length: 400 mm, width: 300 mm}
"""


PADDED = """\
schedule: padded
title: A sitting
source: common practice
stages:
  - stage: body
    steps:
      - pad: thin ovals
        product: shellac-dewaxed-blonde
        cut: 1.5 lb
        coats: 6
        amount: 15 ml/m2
        hands_on: 1 min
        wait:
          between: {earliest: 5 min, likely: 15 min}
          after: {earliest: 8 h, likely: 12 h}
        dry_check: glides; before paper a thumbnail leaves no mark
      - level: flat
        grade: P400
        hands_on: 3 min
"""


@pytest.fixture
def chest(shop):
    """Give a shop with five leaves that stand before a sitting of six coats."""
    (shop.cwd / "jobs" / "chest.yaml").write_text(JOB)
    (shop.cwd / "schedules" / "padded.yaml").write_text(PADDED)
    assert shop("log", "leaf", "start", "--at", "yesterday 18:00").status == 0
    return shop


def test_an_evening_of_five_coats_on_five_parts_is_one_command(chest):
    """Twenty-five coats and the going on between them in one line, and one undo of all."""
    began = chest("log", "leaf", "entries", "--json").json["entries"]
    times = ("--from", "yesterday 18:30", "--every", "6 min")
    sitting = ("log", "leaf", "done", "--coats", "5", *times)
    trial = chest(*sitting, "--dry-run", "--json").json
    assert (trial["dry_run"], len(trial["events"])) == (True, 45)
    assert chest("log", "leaf", "entries", "--json").json["entries"] == began
    told = chest(*sitting, "--used", "25 ml")
    assert told.status == 0, told.err
    assert told.out.startswith("chest/leaf-1 to 5: ")
    rows = chest("due", "leaf", "--json").json["rows"]
    assert [(row["name"], row["title"]) for row in rows] == [("chest/leaf", "5 x Leaf")]
    back = chest("log", "leaf", "undo")
    assert back.status == 0
    assert chest("log", "leaf", "entries", "--json").json["entries"] == began


def test_what_cannot_be_of_some_is_of_none(chest):
    """Each refusal says which pieces it is about, once."""
    assert chest("log", "leaf-2", "done").status == 0
    ran = chest("log", "leaf-1,leaf-2,leaf-9", "ready")
    assert (ran.status, ran.out) == (2, "")
    assert "no piece 'leaf-9'" in ran.err
    ran = chest("log", "leaf-1,leaf-3,leaf-2", "ready")
    assert ran.status == 2
    assert "chest/leaf-1, chest/leaf-3: " in ran.err
