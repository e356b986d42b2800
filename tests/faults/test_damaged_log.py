"""What the disk changes in the log beside a journal is told, and no entry goes without a word."""

from __future__ import annotations

import random
import shutil
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest

from finishsched.cli.run import run
from finishsched.cli.surroundings import Surroundings
from finishsched.journal import log_beside
from finishsched.journal.events import NewEvent, Noted
from finishsched.journal.files import log_of
from finishsched.journal.store import Journal

NOW = datetime(2026, 3, 1, 8, 30, tzinfo=UTC)
FRAME = 24 + 4096


@pytest.fixture(scope="module")
def killed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a shop as a kill leaves it: ten notes in the file, thirty in the log alone."""
    folder = tmp_path_factory.mktemp("whole")
    (folder / "shop.yaml").write_text("shop: Here\n", "utf-8")
    with Journal.open(folder / "journal.db") as journal:
        write(journal, range(1, 11))
    with Journal.open(folder / "journal.db") as journal:
        write(journal, range(11, 41))
        left = shutil.copytree(folder, folder.with_name("killed"))
    (left / "journal.db-shm").unlink()
    return left


def write(journal: Journal, numbers: range) -> None:
    """Enter one note after the other, each on the disk before the next."""
    for number in numbers:
        journal.append(lambda _book, n=number: NewEvent(NOW, "box/lid", Noted(f"note {n}")), NOW)


def flipped(killed: Path, place: Path, at: int, bit: int = 0) -> Path:
    """Return a copy of the shop in which one bit of the log turned."""
    shop = shutil.copytree(killed, place)
    log = log_of(shop / "journal.db")
    data = bytearray(log.read_bytes())
    data[at] ^= 1 << bit
    log.write_bytes(data)
    return shop


def read(shop: Path) -> tuple[list[str], tuple[str, ...]]:
    """Return the notes as commands read them, and what is told to be lost."""
    with Journal.open_or_look(shop / "journal.db") as journal:
        found = [event.what.text for event in journal.events() if isinstance(event.what, Noted)]
        return found, journal.lost


NOTES = [f"note {number}" for number in range(1, 41)]


def test_the_log_of_a_killed_program_is_no_damage(killed: Path, tmp_path: Path) -> None:
    """All entries are read, nothing is told, and the log goes when the journal is closed."""
    shop = shutil.copytree(killed, tmp_path / "shop")
    assert read(shop) == (NOTES, ())
    assert not log_of(shop / "journal.db").exists()


def test_what_was_cut_short_as_it_was_written_is_no_damage(killed: Path, tmp_path: Path) -> None:
    """Of an entry that never came to its end nobody was told that it is written."""
    shop = shutil.copytree(killed, tmp_path / "shop")
    log = log_of(shop / "journal.db")
    data = log.read_bytes()
    log.write_bytes(data[: len(data) - FRAME // 2])
    found, lost = read(shop)
    assert (found, lost) == (NOTES[:-1], ())


def test_every_flip_in_the_log_is_told_and_hides_nothing(
    killed: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One bit, in the fields of the heads too: it is told, and no entry goes without a word."""
    monkeypatch.setattr(log_beside, "_AGAIN_S", 0.0)
    chance = random.Random(7)  # noqa: S311  # repeatable
    length = log_of(killed / "journal.db").stat().st_size
    places = [chance.randrange(length) for _ in range(8)]
    heads = [8, 24, 32, 36, 40, 48, length - 2 * FRAME + 4096]
    for number, at in enumerate(places + heads):
        shop = flipped(killed, tmp_path / f"{number}", at, chance.randrange(8))
        found, lost = read(shop)
        assert lost, at
        assert "journal.db-wal is damaged" in lost[0]
        named = {n for n in range(1, 41) if any(f"entry {n} " in text for text in lost)}
        assert {f"note {n}" for n in range(1, 41) if n not in named} <= set(found), at
        assert log_of(shop / "journal.db").exists(), "what is not read is not written over"


COMES_AND_GOES = """
import sys
from pathlib import Path
from finishsched.journal.store import Journal
with Journal.open(Path(sys.argv[1])) as journal:
    print(len(journal.events()))
"""


def test_looking_at_the_log_lets_go_of_nothing(tmp_path: Path) -> None:
    """Of a journal that is open twice here, another program that leaves takes no log away."""
    path = tmp_path / "journal.db"

    def as_another_program() -> int:
        words = [sys.executable, "-c", COMES_AND_GOES, str(path)]
        return int(subprocess.run(words, check=True, capture_output=True).stdout)

    with Journal.open(path) as journal:
        write(journal, range(1, 4))
        with Journal.open(path) as twice:
            assert len(twice.events()) == 3
        assert as_another_program() == 3
        assert log_of(path).exists()
        write(journal, range(4, 5))
        assert as_another_program() == 4


FLIPS = """
import sys
from pathlib import Path
path = Path(sys.argv[1])
data = bytearray(path.read_bytes())
data[data.index(b"note 2") + 5] ^= 4
path.write_bytes(data)
"""


def test_reading_a_damaged_journal_lets_go_of_nothing(tmp_path: Path) -> None:
    """Where one that looks meets damage, what another writes here still has its log."""
    path = tmp_path / "journal.db"
    with Journal.open(path) as journal:
        write(journal, range(1, 4))
    # By another program, since closing the file here would let go of it as well.
    subprocess.run([sys.executable, "-c", FLIPS, str(path)], check=True)
    with Journal.open(path) as journal:
        write(journal, range(4, 5))
        with Journal.open_or_look(path) as looking:
            assert len(looking.events()) == 4
            assert looking.lost
        subprocess.run([sys.executable, "-c", COMES_AND_GOES, str(path)], check=True)
        assert log_of(path).exists()


def test_the_last_piece_counts_as_cut_short(killed: Path, tmp_path: Path) -> None:
    """A killed program leaves the like of it: the entries before it are all there."""
    length = log_of(killed / "journal.db").stat().st_size
    assert read(flipped(killed, tmp_path / "shop", length - 9)) == (NOTES[:-1], ())


def test_what_killed_programs_left_further_on_is_no_damage(killed: Path, tmp_path: Path) -> None:
    """A shorter entry was written over the beginning of one that was never told to be written."""
    shop = shutil.copytree(killed, tmp_path / "shop")
    log = log_of(shop / "journal.db")
    whole = log.read_bytes()
    torn = whole[:-FRAME] + whole[-FRAME : -FRAME + 24] + bytes(4096)
    log.write_bytes(torn)
    with Journal.open(shop / "journal.db") as journal:
        write(journal, range(99, 100))
        left = shutil.copytree(shop, tmp_path / "left")
    with log_of(left / "journal.db").open("ab") as file:
        file.write(torn[-3 * FRAME :])
    assert read(left) == ([*NOTES[:-1], "note 99"], ())


def test_nothing_is_logged_over_a_damaged_log(
    killed: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Commands that look go on, ``log`` names the way out, and that brings every entry back."""
    shop = flipped(killed, tmp_path / "shop", 32 + 20 * FRAME + 2000)
    world = Surroundings(now=lambda: NOW, cwd=shop, variables={"FINISHSCHED_DATA": str(tmp_path)})
    assert run(["check"], world) == 1
    assert "journal.db-wal is damaged" in "".join(capsys.readouterr())
    assert run(["air", "--add", "--temperature", "19 degC", "--humidity", "50 %"], world) == 2
    assert "finishsched restore" in "".join(capsys.readouterr())
    assert run(["restore", str(shop), str(tmp_path / "new")], world) == 1
    assert read(tmp_path / "new")[0] == NOTES
    assert read(tmp_path / "new")[1] == ()
