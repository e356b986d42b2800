"""``compare``: strips side by side, the best judged first, and the one chosen for a piece."""

from __future__ import annotations

import pytest

BOARD = """\
job: oak-board
title: Oak board
board: yes
pieces:
- piece: strip-1
  title: Strip 1
  schedule: wiped-oil
  species: oak
  faces: [{face: strip, area: 0.02 m2}]
- piece: strip-2
  title: Strip 2
  schedule: waxed-shellac
  species: oak
  faces: [{face: strip, area: 0.02 m2}]
"""


@pytest.fixture
def board(shop):
    """Return the demo shop with a sample board on which two strips are begun and read."""
    (shop.cwd / "jobs" / "board.yaml").write_text(BOARD)
    shop("log", "oak-board", "start")
    shop("log", "oak-board", "done")
    shop("log", "strip-1", "--reading", "judged 5: dull")
    shop("log", "strip-2", "--reading", "judged 8 of 10: warm, no blotch")
    shop("log", "strip-2", "--reading", "gloss 60: 30")
    return shop


def test_the_one_board_is_found_and_the_best_judged_comes_first(board):
    """What was read stands under its name; what no strip has stands nowhere."""
    told = board("compare", "--json").json["pieces"]
    assert [row["title"] for row in told] == ["Strip 2", "Strip 1"]
    assert told[0]["points"] == 8
    assert told[0]["readings"]["judged"] == "8 of 10: warm, no blotch"
    assert told[0]["readings"]["gloss at 60 deg"] == "30 at 60 degrees, satin"
    assert all(row["work_min"] > 0 for row in told)
    out = board("compare", "oak-board").out
    assert "Wax over thin shellac (1.5 lb/gal)" in " ".join(out.split())
    assert "defects" not in out


def test_the_chosen_strip_gives_its_schedule_to_a_piece_and_nothing_else(board):
    """One line of one document changes; it can be taken back as any change."""
    path = board.cwd / "jobs" / "tea-chest.yaml"
    before = path.read_text()
    said = board("compare", "oak-board", "--choose", "strip-2", "--for", "lid")
    assert "takes the schedule of strip-2" in said.out
    # The lid is at work, and what was begun goes on until somebody says otherwise.
    assert "finishsched log lid adopt" in said.out
    changed = [new for old, new in zip(before.splitlines(), path.read_text().splitlines(),
                                       strict=True) if old != new]  # fmt: skip
    assert changed == ["    schedule: waxed-shellac"]
    board("change", "--undo")
    assert path.read_text() == before


def test_what_cannot_be_compared_or_chosen_is_refused(board):
    """One piece alone, a strip that there is not, a strip for nobody."""
    assert "name several" in board("compare", "lid").err
    told = board("compare", "oak-board", "--choose", "strip-9", "--for", "lid").err
    assert "strip-1" in told
    assert "go together" in board("compare", "oak-board", "--choose", "strip-1").err


def test_a_board_is_made_in_one_line_and_taken_back(shop):
    """Each schedule has a strip of the wood named; check has no fault to find in it."""
    path = shop.cwd / "jobs" / "oak-board.yaml"
    said = shop("begin", "Oak board", "--board", "waxed-shellac, Wiped oil", "--wood", "oak")
    assert "2 strips" in said.out
    assert path.read_text().count("schedule: wiped-oil") == 1
    assert not [line for line in shop("check").out.splitlines() if "oak-board" in line]
    shop("begin", "--undo")
    assert not path.exists()


def test_a_board_that_cannot_be_made_writes_nothing(shop):
    """Too few strips, a schedule that there is not, what says nothing of a board."""
    before = sorted(shop.cwd.rglob("*.yaml"))
    assert "with commas" in shop("begin", "B", "--board", "wiped-oil").err
    assert "no schedule 'nix'" in shop("begin", "B", "--board", "nix, wiped-oil").err
    assert "--alike" in shop("begin", "B", "--board", "wiped-oil, tung-oil", "--alike", "2").err
    assert sorted(shop.cwd.rglob("*.yaml")) == before


def test_the_sheet_has_a_column_a_strip_and_comes_first(board):
    """Self-contained, with room for the eye, and the deferral that every paper has."""
    board("compare", "oak-board", "--out", "b.html")
    page = (board.cwd / "b.html").read_text("utf-8")
    assert page.count("<th>Strip") == 2
    assert "local codes come first" in page
