"""The bench sheet: every step, ticked as logged, as page and as text, neutral to what it holds."""

from __future__ import annotations

import re
from datetime import UTC, datetime

import pytest
from reader_of_pages import Page

from finishsched.cli.work.sheet_words import sheet_data, sheet_text
from finishsched.journal.progress import StepStatus
from finishsched.reports.sheet import sheet_page
from finishsched.safety.cautions import DEFERRAL
from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.demo.demo import make_demo
from finishsched.workshop.demo.starter import make_shop
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.papers.bench_sheet import Tick, bench_sheet
from finishsched.workshop.papers.handbook import topics
from finishsched.workshop.standing.where import find, standings

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
HARM = '<script>alert(1)</script> & "q" \x1b[31m\u202e {{ 7*7 }} </td>'
HARM_AS_TEXT = '<script>alert(1)</script> & "q" [31m {{ 7*7 }} </td>'
IN_YAML = '"<script>alert(1)</script> & \\"q\\" {{ 7*7 }} </td>"'
JOB = """\
job: lost
title: Lost
pieces:
  - piece: one
    title: One
    schedule: no-such
    faces:
      - {face: top, area: 0.1 m2}
"""
TWO = """\
schedule: two
title: Two steps
source: common practice
stages:
  - stage: body
    steps:
      - pad: thin ovals
        product: shellac-dewaxed-blonde
        cut: 2 lb
        thin_to: 1 lb
        coats: 3
        amount: 15 ml/m2
        hands_on: 2 min
        wait:
          between: {earliest: 5 min, likely: 15 min, latest: 40 min}
          after: {earliest: 8 h, likely: 12 h, latest: 24 h, next_by: 3 days}
        dry_check: a thumbnail leaves no dent
      - level: flat block
        grade: P400
        lubricant: soapy water
        hands_on: 4 min
        cautions: [mind the seams]
        wait: {earliest: 1 h, likely: 2 h, latest: 3 h}
        dry_check: nothing cool to the cheek
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """Return the demo shop, with a hostile hand, a hostile reason and a hostile title."""
    folder = tmp_path_factory.mktemp("sheet") / "shop"
    make_demo(folder, NOW)
    job = folder / "jobs" / "tea-chest.yaml"
    text = job.read_text("utf-8")
    assert "title: Sunburst lid\n" in text
    job.write_text(text.replace("title: Sunburst lid\n", f"title: {IN_YAML}\n"), "utf-8")
    with Workshop.open(folder, NOW) as workshop:
        log_entry(workshop, Entry(What.READY, "tea-chest/lid"), NOW)
        log_entry(workshop, Entry(What.DONE, "tea-chest/lid", by=HARM), NOW)
        log_entry(workshop, Entry(What.SKIPPED, "letter-box/slope", text=HARM), NOW)
    return folder


@pytest.fixture
def shop(folder):
    """Return the shop, open."""
    with Workshop.open(folder, NOW) as workshop:
        yield workshop


def _refs(shop):
    return [standing.ref for standing in standings(shop)]


def _lines(sheet):
    return [line for step in sheet.steps for line in step.lines]


def test_every_step_has_one_box_in_order(shop):
    """Each piece of the shop, begun or not, shows all its steps once, by their numbers."""
    for standing in standings(shop):
        sheet = bench_sheet(shop, standing.ref, NOW)
        assert [line.key for line in _lines(sheet)] == [step.key for step in standing.steps]
        assert [line.number for line in _lines(sheet)] == list(range(1, len(standing.steps) + 1))
        assert all(step.topic in topics() for step in sheet.steps)


def test_boxes_are_ticked_as_the_journal_has_it(shop):
    """What is done is ticked with its time, what is left out is struck, the rest is open."""
    ticks = {
        StepStatus.TO_DO: Tick.OPEN, StepStatus.WAITING: Tick.DONE, StepStatus.OVER: Tick.DONE,
        StepStatus.SKIPPED: Tick.SKIPPED,
    }  # fmt: skip
    seen = set()
    for standing in standings(shop):
        done = standing.progress.done if standing.progress else ()
        at = {step.key: event.at for step, event in done}
        lines = _lines(bench_sheet(shop, standing.ref, NOW))
        for step, line in zip(standing.steps, lines, strict=True):
            status = standing.progress.status_of(step) if standing.progress else StepStatus.TO_DO
            assert line.tick is ticks[status]
            assert line.at == at.get(step.key)
            assert (line.note == "dry check still to make") == (status is StepStatus.WAITING)
            seen.add(status)
    assert seen == set(StepStatus)


def test_waits_and_checks_are_those_of_the_schedule(tmp_path):
    """In a shop that has learnt nothing a sheet says the schedule's waits, as shops differ."""
    make_shop(tmp_path / "new")
    (tmp_path / "new/schedules/two.yaml").write_text(TWO, "utf-8")
    (tmp_path / "new/jobs/lost.yaml").write_text(JOB.replace("no-such", "two"), "utf-8")
    with Workshop.open(tmp_path / "new", NOW) as workshop:
        sheet = bench_sheet(workshop, "lost/one", NOW)
    pad, level = sheet.steps
    assert pad.waits == (
        "after coats 1 to 2: 5 min to 40 min, likely 15 min",
        "after coat 3: 7 h 05 to 1 d, likely 12 h 00; the next step within 3 d",
    )
    assert pad.dry_check == "a thumbnail leaves no dent"
    ((label, mix),) = pad.mixes
    assert (label, mix[:44]) == ("mix", "Dewaxed blonde shellac flakes, 2-lb cut: 2.8")
    assert [line.note.partition(" from")[2] for line in pad.lines] == [
        "", " the jar and 0.4 ml alcohol", " the jar and 0.8 ml alcohol",
    ]  # fmt: skip
    assert (level.title, level.grade, level.wet_with) == ("level", "P400", "soapy water")
    assert level.minds == ("mind the seams",)
    assert level.waits == ("1 h 00 to 3 h 23, likely 2 h 00",)


def test_a_wait_that_differs_by_coat_is_told_by_coat(shop):
    """The first coat, those between and the last each have their wait, and say which they are."""
    pads = [s for s in bench_sheet(shop, "tea-chest/lid", NOW).steps if s.title == "pad, 8 coats"]
    beginnings = [
        re.match("after coats? [0-9]+( to [0-9]+)?: ", words)[0] for words in pads[0].waits
    ]
    assert beginnings == ["after coat 1: ", "after coats 2 to 7: ", "after coat 8: "]


def test_what_lives_long_enough_is_mixed_once(shop):
    """No strength is mixed twice on a sheet: weaker coats are let down, later ones take from it."""
    mixed = 0
    for standing in standings(shop):
        texts = [
            text
            for step in bench_sheet(shop, standing.ref, NOW).steps
            for label, text in step.mixes
            if label == "mix" and " cut: " in text
        ]
        titles = [text.partition(": ")[0] for text in texts]
        assert len(set(titles)) == len(titles)
        mixed += len(titles)
    assert mixed


def test_cautions_stand_once_at_the_top_with_the_deferral(shop):
    """No caution is said twice, every one of every step is there, the gravest kind first."""
    for ref in _refs(shop):
        sheet = bench_sheet(shop, ref, NOW)
        texts = [text for _, several in sheet.dangers for text in several]
        assert len(texts) == len(set(texts))
        assert sheet.deferral == DEFERRAL
        for said in ("\n".join(sheet_text(sheet, 80)), Page(sheet_page(sheet)).text):
            plain = " ".join(said.split())
            assert DEFERRAL in plain
            assert all(text in plain for text in texts)
        standing = find(shop, ref)
        own = {text for step in standing.steps for text in step.cautions}
        for sheet_of_step in (standing.sheet, standing.next_sheet):
            for caution in sheet_of_step.cautions if sheet_of_step else ():
                assert " ".join(caution.text.split()) in texts or caution.text in own


@pytest.mark.parametrize("columns", [40, 60, 80, 200])
def test_text_keeps_to_its_columns(shop, columns):
    """No line is wider than the terminal, nor than 80, and every box is there."""
    for ref in _refs(shop):
        sheet = bench_sheet(shop, ref, NOW)
        lines = list(sheet_text(sheet, columns))
        assert max(map(len, lines)) <= min(80, columns)
        boxes = [line for line in lines if re.match(r"  \[[ x-]\] +[0-9]+", line)]
        assert len(boxes) == len(_lines(sheet))


def test_an_open_box_leaves_room_to_write(shop):
    """Each step not done has lines for date, time, air and hand."""
    sheet = bench_sheet(shop, "tea-chest/tray", NOW)
    for line in (line for line in sheet_text(sheet, 80) if line.startswith("  [ ]")):
        assert "____-__-__ __:__" in line
        assert "____ degC ____ %" in line
        assert line.endswith("________")


def test_what_people_wrote_stays_text(shop):
    """Tags, braces and control signs come out as plain text, or not at all."""
    sheets = [bench_sheet(shop, ref, NOW) for ref in ("tea-chest/lid", "letter-box/slope")]
    for sheet in sheets:
        page, text = sheet_page(sheet), "\n".join(sheet_text(sheet, 80))
        assert HARM_AS_TEXT in Page(page).words
        assert "<script" not in page
        assert not re.search("[\x00-\x09\x0b-\x1f\u202e]", page + text)
    assert sheets[0].title == '<script>alert(1)</script> & "q" {{ 7*7 }} </td>'


def test_the_page_needs_nothing_beside_it(shop):
    """No address in it, nothing runs, nothing is fetched, and it may be printed on any paper."""
    page = sheet_page(bench_sheet(shop, "tea-chest/lid", NOW))
    seen = Page(page)
    assert seen.addresses == []
    assert not set(seen.tags) & {"script", "link", "img", "iframe", "object", "form", "base"}
    assert "url(" not in page
    assert "default-src 'none'" in page
    assert not re.search(r"@page\s*{[^}]*size", page)
    assert page.count("break-inside: avoid") >= 3


def test_the_page_ticks_as_the_text_does(shop):
    """The page has one box for each step, and as many ticks as steps that were done."""
    sheet = bench_sheet(shop, "tea-chest/lid", NOW)
    boxes = re.findall('<td class="box"><span>(.*?)</span>', sheet_page(sheet))
    wanted = [{Tick.DONE: "✓", Tick.OPEN: " ", Tick.SKIPPED: "-"}[x.tick] for x in _lines(sheet)]
    assert boxes == wanted
    assert "✓" in boxes


def test_as_json_it_holds_the_same(shop):
    """The values for programs have each step, each line and each caution of the sheet."""
    sheet = bench_sheet(shop, "tea-chest/lid", NOW)
    data = sheet_data(sheet, None)
    assert data["file"] is None
    assert [line["key"] for step in data["steps"] for line in step["lines"]] == [
        line.key for line in _lines(sheet)
    ]
    assert sum(line["done"] for step in data["steps"] for line in step["lines"]) == sum(
        line.tick is Tick.DONE for line in _lines(sheet)
    )
    assert data["deferral"] == DEFERRAL


def test_a_piece_without_a_schedule_is_refused(tmp_path):
    """A schedule that cannot be read gives no empty sheet, but says where to look."""
    make_shop(tmp_path / "new")
    (tmp_path / "new/jobs/lost.yaml").write_text(JOB, "utf-8")
    with Workshop.open(tmp_path / "new", NOW) as workshop:
        with pytest.raises(RefusedError, match="'no-such'"):
            bench_sheet(workshop, "lost/one", NOW)
        with pytest.raises(RefusedError, match="no piece 'lost/two'"):
            bench_sheet(workshop, "lost/two", NOW)
