"""A change is placed in the text of a document, and everything else stays to the byte."""

from __future__ import annotations

import difflib
import re
from dataclasses import replace
from datetime import date

import pytest
import yaml
from drawn_models import jobs, lines, schedules, settings_, shops
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from finishsched.documents import library
from finishsched.documents.decode import dump, read
from finishsched.documents.editing.edit import edited
from finishsched.documents.faults import DocumentFaultsError
from finishsched.model.job import Face

LEAN = settings(
    max_examples=12, deadline=None,
    # Whole documents shrink for minutes; the failing text itself is short enough to read.
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)  # fmt: skip


@st.composite
def written(draw, models, most: int = 4):
    """Draw a model with a text for it, in which comments stand, each with a number of its own."""
    model = draw(models)
    text = dump(model)
    for number in range(draw(st.integers(0, most))):
        written_lines = text.split("\n")
        position = draw(st.integers(0, len(written_lines) - 1))
        if draw(st.booleans()):
            written_lines.insert(position, f"{' ' * draw(st.integers(0, 6))}# note{number}.")
        else:
            written_lines[position] += f"  # note{number}."
        candidate = "\n".join(written_lines)
        try:
            if read(candidate.encode(), "x").model == model:
                text = candidate
        except DocumentFaultsError:
            continue
    ends = draw(st.sampled_from(["\n", "\n", "\r\n"]))
    return model, text.replace("\n", ends)


def notes_in(text: str) -> list[str]:
    """Return the comments that ``written`` put in."""
    return re.findall(r"# note\d+\.", text)


def differing_lines(text: str, after: str) -> tuple[set[int], set[int]]:
    """Return the numbers of the lines that went, and of those that came."""
    matcher = difflib.SequenceMatcher(None, text.split("\n"), after.split("\n"), autojunk=False)
    gone: set[int] = set()
    come: set[int] = set()
    for tag, a0, a1, b0, b1 in matcher.get_opcodes():
        if tag != "equal":
            gone |= set(range(a0, a1))
            come |= set(range(b0, b1))
    return gone, come


def lines_of(text: str, piece: int, *keys: str) -> set[int]:
    """Return the numbers of the lines on which keys of a piece stand, read by the YAML library."""
    pieces = next(v for k, v in yaml.compose(text).value if k.value == "pieces")
    found: set[int] = set()
    for key, value in pieces.value[piece].value:
        if key.value in keys:
            found |= set(range(key.start_mark.line, value.end_mark.line + 1))
    return found


@LEAN
@given(st.data(), st.sampled_from([jobs, schedules, shops, settings_]))
def test_any_model_can_be_made_of_any_text_of_its_kind(data, models):
    """Whatever is changed, and however much of it at once, the text reads as what was meant."""
    _, text = data.draw(written(models))
    wanted = data.draw(models)
    assert read(edited(text, "x", wanted).encode(), "x").model == wanted


@LEAN
@given(written(jobs), lines, st.dates(date(1, 1, 1)), st.integers(0, 2))
def test_a_change_of_one_piece_keeps_every_comment_and_every_other_line(drawn, title, due, which):
    """A due date, a title and another face go in; only lines of those values are other."""
    job, text = drawn
    number = which % len(job.pieces)
    piece = job.pieces[number]
    face = Face("one more", stated_area_m2=0.5)
    changed = replace(piece, title=title, due=due, faces=(*piece.faces, face))
    pieces = (*job.pieces[:number], changed, *job.pieces[number + 1 :])
    after = edited(text, "x", replace(job, pieces=pieces))
    assert notes_in(after) == notes_in(text)
    # Title and due date may stand on several lines.
    gone, come = differing_lines(text, after)
    assert gone <= lines_of(text, number, "title", "due")
    assert come <= lines_of(after, number, "title", "due", "faces")
    assert [line for line in text.split("\n") if "face:" in line] == [
        line for line in after.split("\n") if "face:" in line and "one more" not in line
    ]


@LEAN
@given(written(schedules), st.data())
def test_taking_out_keeps_what_is_left_to_the_byte(drawn, data):
    """One stage, or two keys, go; no line comes, and none moves but where a list's sign moves."""
    schedule, text = drawn
    stage = data.draw(st.integers(0, len(schedule.stages) - 1))
    tree = {key.value: (key, value) for key, value in yaml.compose(text).value}
    if len(schedule.stages) == 1:
        wanted = replace(schedule, notes="", suits="")
        taken = [tree[key] for key in ("notes", "suits") if key in tree]
    else:
        wanted = replace(schedule, stages=schedule.stages[:stage] + schedule.stages[stage + 1 :])
        node = tree["stages"][1].value[stage]
        taken = [(node, node)]
    after = edited(text, "x", wanted)
    gone, come = differing_lines(text, after)
    assert not come
    for begin, end in taken:
        gone -= set(range(begin.start_mark.line, end.end_mark.line + 1))
    assert not gone


@pytest.mark.parametrize("name", library.schedule_names())
def test_a_shipped_schedule_takes_a_wait_and_a_grade_with_its_comments(name):
    """In the schedules as people write them only the lines of what is changed are other."""
    text = library.schedule_text(name)
    schedule = library.shipped_schedule(name).model
    stage = schedule.stages[-1]
    first = stage.steps[0]
    wait = replace(first.waits.after, earliest_s=61.0, likely_s=7200.0, latest_s=None)
    step = replace(first, waits=replace(first.waits, after=wait), cautions=("mind the cat",))
    stages = (*schedule.stages[:-1], replace(stage, steps=(step, *stage.steps[1:])))
    after = edited(text, name, replace(schedule, stages=stages))
    gone, come = differing_lines(text, after)
    assert len(gone) + len(come) <= 8
    assert [line for line in text.split("\n") if line.strip().startswith("#")] == [
        line for line in after.split("\n") if line.strip().startswith("#")
    ]


def test_what_is_not_changed_is_the_same_text():
    """A model that the text reads as already gives the text itself."""
    text = library.schedule_text("tung-oil")
    assert edited(text, "x", library.shipped_schedule("tung-oil").model) is text


PLAIN = """\ufeff# Of the box.
job: box   # its name
title: 'A box'
pieces:
- piece: lid    # flush with its key
  title: Lid
  schedule: tung-oil
  # due: 2026-12-01
  faces: [{face: top, length: 8 1/2 in, width: 100 mm},   # bought so
    {face: edge, area: 1 sqft}]
- {piece: tray, title: Tray, schedule: tung-oil, faces: [{face: all, area: 0.1 m2}]}
# The end.
"""


def test_a_hand_written_text_keeps_its_ways():
    """Lists flush with their key, brackets over lines, inches and a byte order mark stay."""
    job = read(PLAIN.encode(), "x").model
    lid, tray = job.pieces
    lid = replace(lid, due=date(2026, 12, 3), faces=(lid.faces[0], replace(lid.faces[1], count=2)))
    tray = replace(tray, sheen="gloss")
    after = edited(PLAIN, "x", replace(job, title="The box", pieces=(lid, tray)))
    assert after == PLAIN.replace("'A box'", "The box").replace(
        "  schedule: tung-oil\n", "  schedule: tung-oil\n  due: 2026-12-03\n"
    ).replace("area: 1 sqft", "area: 1 sqft, count: 2").replace(
        "schedule: tung-oil, faces", "schedule: tung-oil, sheen: gloss, faces"
    )
