"""Files that are written: never over what another wrote, by the umask, with nothing left behind."""

from __future__ import annotations

import os
import shutil
import stat
import sys
import time
from datetime import UTC, datetime

import pytest

from finishsched.cli.run import run
from finishsched.cli.surroundings import Surroundings
from finishsched.workshop.base.place import CHANGES_LOCK, FOLDERS, TOLD_FILE
from finishsched.workshop.base.write_whole import OLD_S, beside, write_chunks
from finishsched.workshop.demo.demo import make_demo

PAPERS = {
    "record": ("record", "tea-chest/lid", "--out"),
    "sheet": ("sheet", "tea-chest/lid", "--out"),
    "week": ("plan", "--week", "--out"),
    "labels": ("stock", "--labels", "--out"),
}
NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
on_posix = pytest.mark.skipif(os.name != "posix", reason="POSIX alone has these")


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """Return the demo's shop."""
    folder = tmp_path_factory.mktemp("demo") / "shop"
    make_demo(folder, NOW)
    return folder


def ran(folder, *words):
    """Run one command in ``folder`` and return its status."""
    variables = {"FINISHSCHED_DATA": str(folder)}
    return run(words, Surroundings(now=lambda: NOW, cwd=folder, variables=variables))


def test_no_paper_is_written_over_another_kind(demo, tmp_path, capsys):
    """Each paper is written anew over its own kind, never over another's, unless forced."""
    mine = tmp_path / "letter.html"
    for words in PAPERS.values():
        mine.write_text("dear")
        assert ran(demo, *words, str(mine)) == 2
        assert mine.read_text() == "dear"
        assert "--force" in capsys.readouterr().err
        assert ran(demo, *words, str(mine), "--force") == 0
        assert ran(demo, *words, str(mine)) == 0
    written = mine.read_bytes()
    assert ran(demo, *PAPERS["sheet"], str(mine)) == 2
    assert mine.read_bytes() == written
    (tmp_path / "cal.ics").write_text("dear")
    assert ran(demo, "plan", "--calendar", str(tmp_path / "cal.ics")) == 2
    assert (tmp_path / "cal.ics").read_text() == "dear"


def test_no_export_is_written_over_what_is_there_unless_forced(demo, tmp_path, capsys):
    """Both exports leave a file alone that they did not write, and write over it when forced."""
    for words, mine in (
        (("export", "--journal", str(tmp_path / "mine.jsonl")), tmp_path / "mine.jsonl"),
        (("export", "--tables", str(tmp_path)), tmp_path / "stock.csv"),
    ):
        mine.write_text("dear")
        assert ran(demo, *words) == 2
        assert mine.read_text() == "dear"
        assert "--force" in capsys.readouterr().err
        assert ran(demo, *words, "--force") == 0
        assert mine.read_text() != "dear"
    assert ran(demo, "export", "--tables", str(tmp_path)) == 0


@pytest.mark.parametrize(
    "words",
    [("export", "--journal"), ("sheet", "tea-chest/lid", "--out"), ("plan", "--calendar")],
)
def test_nothing_is_ever_written_over_a_journal(demo, words, capsys):
    """The journal of a shop is no place for any other file, whatever is forced."""
    journal = demo / "journal.db"
    before = journal.read_bytes()
    assert ran(demo, *words, str(journal), "--force") == 2
    assert "journal" in capsys.readouterr().err
    assert journal.read_bytes() == before


@on_posix
def test_what_is_written_is_as_private_as_the_umask_asks(demo, tmp_path):
    """Under a umask of 077 nobody else can read a backup, a record, an export, a restored shop."""
    before = os.umask(0o077)
    try:
        assert ran(demo, "backup", str(tmp_path / "a.zip")) == 0
        assert ran(demo, "record", "tea-chest/lid", "--out", str(tmp_path / "a.html")) == 0
        assert ran(demo, "export", "--journal", str(tmp_path / "a.jsonl")) == 0
        assert ran(demo, "restore", str(tmp_path / "a.zip"), str(tmp_path / "new")) == 0
    finally:
        os.umask(before)
    for path in tmp_path.rglob("*"):
        assert stat.S_IMODE(path.stat().st_mode) & 0o077 == 0, path


@on_posix
def test_an_own_file_keeps_who_may_read_it(tmp_path):
    """Written over, a file stays as private as somebody made it."""
    path = tmp_path / "a.html"
    write_chunks(path, [b"one"])
    path.chmod(0o600)
    write_chunks(path, [b"two"])
    assert path.read_bytes() == b"two"
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_what_killed_programs_left_is_swept_once_it_is_old(tmp_path):
    """A half made file or folder of an hour ago goes; one that may still be made stays."""
    path = tmp_path / "shop.zip"
    old, new, folder = beside(path), beside(path), beside(path)
    old.write_text("half")
    new.write_text("half")
    (folder / "jobs").mkdir(parents=True)
    now = time.time()  # the disk's own clock may stand otherwise
    hour_ago = now - OLD_S - 60
    os.utime(new, (now, now))
    os.utime(old, (hour_ago, hour_ago))
    os.utime(folder, (hour_ago, hour_ago))
    write_chunks(path, [b"whole"])
    assert sorted(tmp_path.iterdir()) == sorted([path, new])


def test_a_file_that_fails_half_way_is_not_there(tmp_path):
    """What stood there is as it was, and nothing half made is left."""
    path = tmp_path / "a.html"
    write_chunks(path, [b"one"])

    def failing():
        yield b"tw"
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        write_chunks(path, failing())
    assert [file.read_bytes() for file in tmp_path.iterdir()] == [b"one"]


@on_posix
@pytest.mark.parametrize(
    "words",
    [
        ("import", "--notebook", "pipe"),
        ("import", "--journal", "pipe"),
        ("restore", "pipe", "new"),
        ("backup", "--check", "pipe"),
        ("record", "--verify", "pipe"),
        ("check", "pipe"),
        ("air", "--import", "pipe"),
    ],
    ids=" ".join,
)
def test_a_pipe_is_never_waited_for(demo, tmp_path, words, capsys):
    """A pipe, or a device that never ends, in the place of a file is refused in one line."""
    os.mkfifo(tmp_path / "pipe")
    named = [str(tmp_path / word) if word in ("pipe", "new") else word for word in words]
    assert ran(demo, *named) in (1, 2)
    said = capsys.readouterr()
    assert (said.out + said.err).count("\n") <= 2
    if sys.platform == "linux":
        assert ran(
            demo, *[word.replace(str(tmp_path / "pipe"), "/dev/zero") for word in named]
        ) in (
            1,
            2,
        )


def test_what_a_killed_backup_left_is_swept_by_the_next(demo, tmp_path):
    """Its file has a name of that day, and the journal's lines lie beside it: both go."""
    left = [beside(tmp_path / name) for name in ("shop-2026-01-02.zip", "journal.jsonl", "a.db")]
    left.append(left[-1].with_name(f"{left[-1].name}-wal"))
    not_ours = tmp_path / ".notes.making"
    hour_ago = time.time() - OLD_S - 60
    for file in (*left, not_ours):
        file.write_text("half", "utf-8")
        os.utime(file, (hour_ago, hour_ago))
    assert ran(demo, "backup", str(tmp_path / "now.zip")) == 0
    assert [file.name for file in left if file.exists()] == []
    assert not_ours.exists()


def test_what_was_left_in_a_shop_is_swept_by_whoever_opens_it(demo, tmp_path):
    """A change that was cut short need never be made again: a look is enough, once it is old."""
    shop = tmp_path / "shop"
    shutil.copytree(demo, shop)
    left = [beside(shop / TOLD_FILE), *(beside(shop / name / "a.yaml") for name in FOLDERS)]
    left.append(shop / CHANGES_LOCK)
    new, now = beside(shop / "jobs" / "b.yaml"), time.time()
    hour_ago = now - OLD_S - 60
    for file in (*left, new):
        file.write_text("half", "utf-8")
    os.utime(new, (now, now))  # the disk's own clock may stand otherwise
    for file in left:
        os.utime(file, (hour_ago, hour_ago))
    assert ran(shop, "film", "tea-chest/lid") == 0
    assert [file.name for file in left if file.exists()] == []
    assert new.exists()
