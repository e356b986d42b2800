"""Steps go in, out and elsewhere in a schedule's text, and the rest of it stays to the byte."""

from __future__ import annotations

import difflib
from collections import Counter
from datetime import UTC, datetime

import pytest

from finishsched.documents import library
from finishsched.documents.decode import read
from finishsched.documents.faults import DocumentFaultsError
from finishsched.model.schedule import Verb
from finishsched.workshop.base.documents import read_papers
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.begin.stepping import (
    draft_added,
    draft_moved,
    draft_removed,
    step_names,
)
from finishsched.workshop.begin.written import put, text_at
from finishsched.workshop.demo.starter import make_shop

_EMPTIED = ("- rounds: ", "- stage: ", "steps:")
"""Lines that go with the last step under them."""
NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
OWN = """\
# The way of this shop, as it was shown to me.
schedule: own
title: Own   # never renamed
source: common practice
stages:
- stage: prepare
  steps:
  - sand: with the grain   # until the scratch is even
    grade: P220
    lubricant: dry
  # Dust is what shows at the end.
  - tack off: vacuum
- stage: body
  steps:
  - rounds: 2
    steps:
    - pad: thin ovals
      product: shellac-dewaxed-blonde
      cut: 2 lb
      # Longer in a cold room.
      wait: {earliest: 2 h, likely: 3 h}
      dry_check: no dent
    - level: flat block
      grade: [P400, P600]
      lubricant: dry
  - level: felt block
    grade: P1000
    lubricant: dry
# The end.
"""


@pytest.fixture
def shop(tmp_path):
    """Return a shop with every shipped schedule, and one of its own as a person writes it."""
    folder = tmp_path / "shop"
    make_shop(folder)
    (folder / "schedules" / "own.yaml").write_text(OWN)
    return folder


def lines_that_differ(before: str, after: str) -> tuple[list[str], list[str]]:
    """Return the lines that went and those that came, in order."""
    moves = list(difflib.ndiff(before.splitlines(), after.splitlines()))
    return [m[2:] for m in moves if m[:2] == "- "], [m[2:] for m in moves if m[:2] == "+ "]


def added(folder, where, line, **options):
    """Return what a line becomes at a place, its doubts settled by what is usual."""
    return draft_added(read_papers(folder), folder, where, line, {}, NOW, **options)


@pytest.mark.parametrize("name", library.schedule_names())
def test_a_step_that_goes_takes_its_own_lines_and_no_others(shop, name):
    """Every third step of every shipped schedule; what comes is at most the name of another."""
    papers, text = read_papers(shop), library.schedule_text(name)
    for step in step_names(library.shipped_schedule(name).model)[::3]:
        written = draft_removed(papers, shop, f"{name}/{step}")
        gone, come = lines_that_differ(text, written.after)
        verb = step.partition("/")[2].rstrip("-0123456789").replace("-", " ")
        assert all(line.strip().startswith(("mark: ", "id: ")) for line in come)
        assert gone
        if verb in {each.value for each in Verb}:
            assert verb in " ".join(gone)
        assert step not in step_names(read(written.after.encode(), name).model)


@pytest.mark.parametrize("name", library.schedule_names())
def test_a_step_that_moves_takes_its_comments_along(shop, name):
    """Whatever line went came again, however far in; no comment is lost, and each step is there."""
    papers, text = read_papers(shop), library.schedule_text(name)
    names = step_names(library.shipped_schedule(name).model)
    for step, other in zip(names[::4], reversed(names), strict=False):
        if step == other:
            continue
        try:
            written = draft_moved(papers, shop, f"{name}/{step}", f"after {other}")
        except DocumentFaultsError:
            continue  # a value for each round has no place where there are other rounds
        before, after = (Counter(map(str.strip, each.splitlines()))
                         for each in (text, written.after))  # fmt: skip
        assert all(line.startswith(("mark: ", "id: ")) for line in after - before)
        assert not [line for line in before - after if not line.startswith(_EMPTIED)]
        moved = step_names(read(written.after.encode(), name).model)
        assert len(moved) == len(names)


def test_a_line_of_a_notebook_becomes_a_step_and_nothing_else_is_touched(shop):
    """It carries on from the steps before it, and stands at the place that was named."""
    found = added(shop, "own/body/pad", "pad 1 lb, 2 coats, 20 min between, 4 h after the last")
    assert found.written is not None
    gone, come = lines_that_differ(OWN, found.written.after)
    assert gone == []
    assert come[0].startswith("    - pad: ")
    assert "product: shellac-dewaxed-blonde" in found.written.after.split("Longer")[1]
    names = step_names(read(found.written.after.encode(), "own").model)
    assert names[2:5] == ["body/pad", "body/pad-2", "body/level"]


def test_a_step_before_another_of_its_verb_leaves_that_its_name(shop):
    """The journal knows a step by its name: only that is written out, at the other's place."""
    found = added(shop, "own/body/level-2", "level 800 dry", before=True)
    gone, come = lines_that_differ(OWN, found.written.after)
    assert gone == []
    assert [line for line in come if "mark:" in line] == ["    mark: level-3", "    mark: level-2"]


def test_a_stage_that_is_not_there_yet_is_made_where_the_work_has_it(shop):
    """A fill comes after preparing and before the body; at a stage that is there, at its end."""
    filled = added(shop, "own/fill", "fill water-based-filler, 1 coat, overnight").written
    gone, come = lines_that_differ(OWN, filled.after)
    assert gone == []
    assert come[0] == "- stage: fill"
    text = filled.after
    assert text.index("stage: prepare") < text.index("stage: fill") < text.index("stage: body")
    at_end = added(shop, "own/prepare", "wash with water").written
    assert at_end is None or at_end.after.index("tack off") < at_end.after.index("stage: body")


def test_what_moves_keeps_its_comment_and_line_ends(shop):
    """With the line ends of another system too, and out of rounds as well as into them."""
    (shop / "schedules/own.yaml").write_bytes(OWN.replace("\n", "\r\n").encode())
    written = draft_moved(read_papers(shop), shop, "own/body/pad", "last")
    assert "\n" not in written.after.replace("\r\n", "")
    assert "      # Longer in a cold room.\r\n" in written.after
    out = draft_moved(read_papers(shop), shop, "own/body/pad", "before body/level-2")
    assert "    # Longer in a cold room.\r\n    wait:" in out.after
    put(shop, out, NOW)
    assert text_at(shop, "schedules/own.yaml") == out.after


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (lambda p, f: draft_removed(p, f, "own/body/pat"), "did you mean 'body/pad'"),
        (lambda p, f: draft_removed(p, f, "onw/body/pad"), "own, padded"),
        (lambda p, f: draft_moved(p, f, "own/body/pad", "up"), "further up"),
        (lambda p, f: draft_moved(p, f, "own/body/pad", "sideways"), "no place for a step"),
        (lambda p, f: draft_moved(p, f, "own/body/pad", "after body/pad"), "no place for a step"),
        (lambda p, f: draft_moved(p, f, "own/body/pad", "after body/pat"), "did you mean"),
        (lambda p, f: draft_added(p, f, "own/body/pad", "sand 120, 180", {}, NOW), "within rounds"),
    ],
)
def test_what_cannot_be_says_what_would_be(shop, change, told):
    """A wrong name gives the nearest one, and a wrong place the places that there are."""
    with pytest.raises(RefusedError, match=told):
        change(read_papers(shop), shop)


def test_the_only_step_stays(shop):
    """A schedule without a step is none."""
    (shop / "schedules/own.yaml").write_text(
        "schedule: own\ntitle: Own\nsource: own\nstages:\n- stage: cure\n  steps:\n"
        "  - rest: on pins\n    wait: {earliest: 1 h, likely: 2 h}\n    dry_check: no dent\n"
    )
    with pytest.raises(RefusedError, match="no other step"):
        draft_removed(read_papers(shop), shop, "own/cure/rest")


def test_a_line_that_cannot_be_read_is_told_at_its_sign(shop):
    """With its place in the line as it was typed, and nothing is drafted."""
    found = added(shop, "own/body/pad", "pad 1 lb, repeat")
    assert found.written is None
    assert [(f.line, f.column) for f in found.faults] == [(1, 11)]


def test_what_the_checker_says_anew_is_told(shop):
    """A coarse paper after a fine one is told with the step that brings it, and only then."""
    found = added(shop, "own/body/level-2", "level 400 dry")
    assert any(f.rule == "grade-reversed" for f in found.findings)
