"""The checker in the shop: documents at their places, pieces as they are worked."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from finishsched.journal import source
from finishsched.journal.events import NewEvent
from finishsched.journal.payloads import Noted
from finishsched.journal.store import Journal
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.place import JOURNAL_FILE
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.defects.checks import check_files, check_folder, piece_findings
from finishsched.workshop.demo.demo import make_demo
from finishsched.workshop.standing.where import standings

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)


@pytest.fixture
def folder(tmp_path):
    """Return the folder of the demo shop."""
    made = tmp_path / "row"
    make_demo(made, NOW)
    return made


def edit(file, old, new):
    """Write ``new`` in the place of ``old``."""
    text = file.read_text("utf-8")
    assert old in text
    file.write_text(text.replace(old, new), "utf-8")


def test_a_piece_is_judged_with_its_schedule_and_its_job(folder):
    """What the job accepts is silent; what it does not is told of, the gravest first."""
    with Workshop.open(folder, NOW) as workshop:
        assert all(piece_findings(workshop, s.ref, NOW) == () for s in standings(workshop))
    edit(folder / "jobs/letter-box.yaml", "rule: one-face", "rule: pores-unfilled")
    edit(folder / "jobs/letter-box.yaml", "veneer: 0.9 mm", "veneer: 0.2 mm")
    with Workshop.open(folder, NOW) as workshop:
        found = piece_findings(workshop, "slope", NOW)
    assert [finding.code for finding in found] == [
        "veneer-through",
        "one-face",
    ]


def test_a_running_piece_is_judged_by_the_schedule_it_began_with(folder):
    """Editing the document changes nothing for it until that is adopted."""
    text = folder / "schedules/french-polish-with-oil.yaml"
    from finishsched.documents.library import schedule_text

    spoilt = schedule_text("french-polish-with-oil").replace("cut: [1.5 lb,", "cut: [5 lb,")
    text.write_text(spoilt, "utf-8")
    with Workshop.open(folder, NOW) as workshop:
        assert piece_findings(workshop, "slope", NOW) == ()
    assert "pad-too-heavy" in {fault.rule for fault in check_folder(folder, NOW)}


def test_an_unknown_piece_is_refused(folder):
    """As every answer about a piece refuses it."""
    with Workshop.open(folder, NOW) as workshop, pytest.raises(RefusedError):
        piece_findings(workshop, "sloop")


def test_a_jar_on_the_shelf_grows_old(folder):
    """The journal's own jars count: two years on, whatever is left of them is past its life."""
    assert check_folder(folder, NOW) == ()
    later = NOW + timedelta(days=730)
    told = {fault.rule for fault in check_folder(folder, later)}
    assert {"past-its-life", "due-too-soon"} <= told


def test_a_shop_without_a_journal_gets_none(folder):
    """A check looks and never writes."""
    (folder / JOURNAL_FILE).unlink()
    before = sorted(path.name for path in folder.iterdir())
    assert check_folder(folder, NOW) == ()
    assert sorted(path.name for path in folder.iterdir()) == before


def test_a_check_reads_no_more_of_a_journal_than_it_judges_by(folder, monkeypatch):
    """Jars are read, the notes of a lifetime are not."""
    events = [NewEvent(NOW, "tea-chest/lid", Noted(text=f"note {n}")) for n in range(1000)]
    with Journal.open(folder / JOURNAL_FILE) as journal:
        journal.append_all(lambda _: events, NOW)
    read = []
    as_read = source.from_row
    monkeypatch.setattr(source, "from_row", lambda row: read.append(row[5]) or as_read(row))
    check_folder(folder, NOW)
    assert "batch-mixed" in read
    assert "note" not in read


def test_a_damaged_journal_stops_no_check(folder):
    """The documents are judged all the same, as if nothing had begun."""
    (folder / JOURNAL_FILE).write_bytes(b"no journal")
    assert check_folder(folder, NOW) == ()


def test_the_same_whether_named_or_found(folder):
    """Naming every document tells what checking the whole shop tells."""
    edit(folder / "shop.yaml", "temperature: 19 degC, h", "temperature: 9 degC, h")
    edit(folder / "jobs/tea-chest.yaml", "veneer: 0.6 mm", "veneer: 0.2 mm")
    whole = check_folder(folder, NOW)
    assert {fault.rule for fault in whole} == {
        "room-too-cold",
        "veneer-through",
    }
    paths = sorted((folder / "jobs").glob("*.yaml"))
    named = check_files([*paths, folder / "shop.yaml"], None, NOW)
    assert {(f.line, f.column, f.rule) for f in named} == {
        (f.line, f.column, f.rule) for f in whole
    }


def test_the_page_of_a_finding_is_its_place(folder):
    """A rule's path leads to the line where the value stands, in rounds too."""
    (folder / "schedules/mine.yaml").write_text(
        "schedule: mine\ntitle: Mine\nsource: common practice\nstages:\n  - stage: prepare\n"
        "    steps:\n      - rounds: 2\n        steps:\n          - sand: block\n"
        "            grade: [P120, P400]\n          - tack off: vacuum\n",
        "utf-8",
    )
    (fault,) = check_folder(folder, NOW)
    assert (fault.file, fault.line, fault.column, fault.rule) == (
        "schedules/mine.yaml", 10, 20, "grade-skipped",
    )  # fmt: skip
    assert fault.severity == "error"
