"""Every command that is asked about a piece finished long ago answers, though no board has it."""

from __future__ import annotations

import shutil
from datetime import timedelta

import pytest

OLD = """\
job: old
title: An old box
pieces:
  - {piece: lid, title: The old lid, schedule: wiped-oil, species: maple,
     faces: [{face: top, length: 30 cm, width: 20 cm}]}
"""


@pytest.fixture(scope="module")
def finished(tmp_path_factory):
    """Return where the first test that asks leaves the shop for the others, never written to."""
    return tmp_path_factory.mktemp("finished") / "row"


@pytest.fixture
def old(row, finished):
    """Return a shop with a piece that was finished two years ago, and two that are not begun."""
    if not finished.is_dir():
        finish_one(row)
        shutil.copytree(row.cwd, finished)
    shutil.copytree(finished, row.cwd, dirs_exist_ok=True)
    return row


def finish_one(row):
    """Log a piece from its first step to its last, two years ago."""
    (row.cwd / "jobs" / "old.yaml").write_text(OLD, "utf-8")
    began = row.now - timedelta(days=900)
    row("log", "old/lid", "start", "--at", f"{began:%Y-%m-%d %H:%M}")
    for number in range(1, 200):
        day = f"{began + timedelta(days=number):%Y-%m-%d %H:%M}"
        done = row("log", "old/lid", "done", "--at", day)
        row("log", "old/lid", "ready", "--at", day)
        if done.status:
            break
    row("rags", "flat outdoors")


@pytest.mark.parametrize(
    "words",
    [
        "due old/lid", "due old", "log old/lid note lent", "log old/lid defect dull",
        "log old/lid undo", "log old/lid entries", "log lid undo --dry-run", "film old/lid",
        "defect old/lid dull", "cost old/lid", "cost old", "condition old/lid", "record old/lid",
        "record old", "compare old/lid box/lid", "sheet old/lid", "rags old/lid", "need old",
        "need all", "stock", "plan --without old/lid", "cautions old/lid", "vent old/lid",
        "pace", "again old/lid", "join old/lid", "check old/lid", "export --tables out",
        "log old/* note together", "log old/lid,box/lid note both",
    ],
)  # fmt: skip
def test_what_was_finished_long_ago_is_answered_for(old, words):
    """By whatever name, with an answer or a refusal in words: never with a fault of our own."""
    assert "old" not in old("due").out
    found = old(*words.split())
    assert found.status in (0, 1, 2), found.err
    assert "unknown" not in found.err
    assert "no piece" not in found.err


def test_an_entry_about_it_says_where_it_stands(old):
    """What is logged of it is told with the piece's own state, and it stays off the board."""
    noted = old("log", "old/lid", "note", "lent", "to", "a", "show")
    assert "finished" in noted.out
    assert old("due").out.count("old/lid") == 0
    assert "lent to a show" in old("log", "old/lid", "entries").out


def test_what_is_taken_up_again_stands_on_the_board(old):
    """A piece whose last step is taken back is due again."""
    assert old("log", "old/lid", "undo").status == 0
    assert "old/lid" in old("due").out


def test_rags_that_nobody_dealt_with_are_asked_after_for_ever(old):
    """Nobody is let off by waiting: a piece stays in sight until it is told where its rags went."""
    old("rags", "--undo")
    assert "old/lid: finishsched rags" in " ".join(old("due").out.split())
    old("rags", "flat outdoors")
    assert "old/lid" not in old("due").out
