"""A shop in one file, and back: whole, or refused with nothing left behind."""

from __future__ import annotations

import hashlib
import json
import os
import sys
import zipfile
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.keeping.backups import LIST, back_up
from finishsched.workshop.keeping.restoring import cannot_be_named, leads_out, rehearse, restore
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.views.views import due_answer, piece_view

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)


@pytest.fixture
def kept(workshop, folder, tmp_path_factory):
    """Return a backup of a shop in the middle of its work, made while the shop is open."""
    log_entry(workshop, Entry(What.START, "lid"), NOW)
    log_entry(workshop, Entry(What.DONE, "lid"), NOW)
    (folder / "pictures").mkdir()
    (folder / "pictures" / "lid.jpg").write_bytes(b"\xff\xd8 not really")
    (folder / ".hidden").write_text("mine")
    out = tmp_path_factory.mktemp("kept") / "shop.zip"
    back_up(folder, out, "test", NOW, UTC)
    return out


def rebuilt(kept, names):
    """Return the backup with some of its members changed; None leaves one out."""
    out = kept.with_name("changed.zip")
    with zipfile.ZipFile(kept) as old, zipfile.ZipFile(out, "w") as new:
        members = {name: old.read(name) for name in old.namelist()}
        for name, data in {**members, **names}.items():
            if data is not None:
                new.writestr(name, data)
    return out


def listed(kept, **changes):
    """Return the backup's list with some of it changed."""
    with zipfile.ZipFile(kept) as archive:
        return json.dumps({**json.loads(archive.read(LIST)), **changes}).encode()


def test_the_shop_comes_back(kept, folder, tmp_path_factory):
    """Documents, pictures and the journal are as they were; what is hidden stays at home."""
    new = tmp_path_factory.mktemp("new") / "shop"
    restore(kept, new)
    with Workshop.open(new, NOW) as again:
        assert piece_view(again, "lid", NOW).steps_done == 1
        assert [event.what for event in again.every_event()]
    assert (new / "pictures" / "lid.jpg").read_bytes() == b"\xff\xd8 not really"
    assert (new / "shop.yaml").read_text() == (folder / "shop.yaml").read_text()
    assert not (new / ".hidden").exists()


def test_a_backup_is_never_written_over(kept, folder):
    """A file of that name is left as it is, whatever it is."""
    before = kept.read_bytes()
    with pytest.raises(RefusedError, match="there already"):
        back_up(folder, kept, "test", NOW, UTC)
    assert kept.read_bytes() == before


def test_a_folder_with_something_in_it_is_left_alone(kept, tmp_path_factory):
    """Restoring into a folder that is in use is refused, and nothing in it changes."""
    used = tmp_path_factory.mktemp("used")
    (used / "letter.txt").write_text("dear")
    with pytest.raises(RefusedError, match="not empty"):
        restore(kept, used)
    assert [path.name for path in used.iterdir()] == ["letter.txt"]


@pytest.mark.parametrize(
    ("names", "says"),
    [
        ({LIST: None}, "backup.json"),
        ({LIST: b"[]"}, "another program"),
        ({LIST: b'{"format": "finishsched backup", "version": 9}'}, "later release"),
    ],
)
def test_what_is_no_backup_of_ours_is_refused(kept, names, says, tmp_path_factory):
    """Another program's file, or a later release's, leaves no folder, and says what is wrong."""
    place = tmp_path_factory.mktemp("place")
    with pytest.raises(RefusedError, match=says):
        restore(rebuilt(kept, names), place / "shop")
    assert list(place.iterdir()) == []


@pytest.mark.parametrize(
    ("names", "says"),
    [
        ({"shop.yaml": b"shop: Other\n"}, "shop.yaml: it is not what was kept"),
        ({"shop.yaml": None}, "shop.yaml: it is not there"),
        ({"journal.jsonl": b"{}\n"}, "journal.jsonl: it is not what was kept"),
        ({LIST: b"{"}, "sum of every file"),
    ],
)
def test_what_is_sound_of_a_changed_backup_comes_back(kept, names, says, tmp_path_factory):
    """A member that was changed or is missing is told, and all others are there."""
    place = tmp_path_factory.mktemp("place")
    changed = rebuilt(kept, names)
    assert rehearse(changed).lost == restore(changed, place / "shop").lost
    done = rehearse(changed)
    assert any(says in line for line in done.lost)
    assert (place / "shop" / "pictures" / "lid.jpg").read_bytes() == b"\xff\xd8 not really"
    with Workshop.open(place / "shop", NOW) as again:
        due_answer(again, NOW)


def test_a_backup_cut_short_gives_back_what_came_before_the_cut(kept, tmp_path):
    """Without the list at its end a zip file still gives each member before it."""
    whole = kept.read_bytes()
    kept.write_bytes(whole[: whole.rindex(b"PK\x03\x04") + 10])
    done = restore(kept, tmp_path / "shop")
    assert done.lost == ["backup.json: the end of the file is missing"]
    with Workshop.open(tmp_path / "shop", NOW) as again:
        assert piece_view(again, "lid", NOW).steps_done == 1


def test_a_whole_backup_passes_its_rehearsal(kept):
    """Every file and entry would come back, and nothing is left of the trial."""
    done = rehearse(kept)
    assert done.lost == []
    assert done.entries == 2
    assert [path.name for path in kept.parent.iterdir()] == [kept.name]


@pytest.mark.parametrize("name", ["../escaped.yaml", "/etc/escaped", "a/../../b", "a//b"])
def test_no_name_leads_out_of_the_folder(kept, name, tmp_path_factory):
    """A backup that was made to write elsewhere is refused before a file is written."""
    place = tmp_path_factory.mktemp("place")
    with zipfile.ZipFile(kept) as archive:
        sums = json.loads(archive.read(LIST))["sha256"]
    harm = {name: b"x", LIST: listed(kept, sha256={**sums, name: "0" * 64})}
    with pytest.raises(RefusedError, match="leads out"):
        restore(rebuilt(kept, harm), place / "shop")
    assert list(place.iterdir()) == []


@pytest.mark.parametrize("name", [".plan.json", ".told.json", "jobs/.a.yaml", "Journal.DB"])
def test_what_no_backup_holds_is_not_brought_in(kept, name, tmp_path_factory):
    """A file of the program's own, or one that is hidden, is told and stays outside."""
    data = b"{}"
    with zipfile.ZipFile(kept) as archive:
        sums = json.loads(archive.read(LIST))["sha256"] | {name: hashlib.sha256(data).hexdigest()}
    bad = rebuilt(kept, {name: data, LIST: listed(kept, sha256=sums)})
    done = restore(bad, tmp_path_factory.mktemp("new") / "shop")
    assert done.lost == [f"{name}: it is no file that a backup holds"]
    assert not (done.folder / name).exists()


@pytest.mark.parametrize("name", ["a\\..\\b", "c:evil", "a\nb"])
def test_what_parts_names_on_windows_leads_out_there_only(name):
    """A name with signs that Windows gives a meaning is refused there, and plain elsewhere."""
    assert leads_out(name, windows=True)
    assert not leads_out(name, windows=False)


@pytest.mark.parametrize(
    "name", ["pictures/NUL.jpg", "jobs/com1.yaml", "a./b", "b /c", "what?.jpg"]
)
def test_what_no_file_can_be_called_on_windows_is_told_there_only(name):
    """A name of a device, or one that Windows cannot end so, is lost there and kept elsewhere."""
    assert cannot_be_named(name, windows=True)
    assert not cannot_be_named(name, windows=False)
    assert not cannot_be_named("pictures/console.jpg", windows=True)


def test_names_that_are_one_where_letters_are_alike_lose_one_file_and_no_more(
    kept, tmp_path, monkeypatch
):
    """On a disk that takes lid.JPG for lid.jpg the second is told, and all others come back."""
    with zipfile.ZipFile(kept) as archive:
        sums = json.loads(archive.read(LIST))["sha256"]
    double, other = "pictures/LID.jpg", b"\xff\xd8 another"
    sums[double] = hashlib.sha256(other).hexdigest()
    both = rebuilt(kept, {double: other, LIST: listed(kept, sha256=sums)})
    open_ = Path.open

    def alike(path, mode="r", *more, **options):
        there = path.parent.iterdir() if "x" in mode else ()
        if any(one.name.casefold() == path.name.casefold() for one in there):
            raise FileExistsError(17, "File exists", str(path))
        return open_(path, mode, *more, **options)

    monkeypatch.setattr(Path, "open", alike)
    done = restore(both, tmp_path / "again")
    assert [line for line in done.lost if "same name" in line] == done.lost
    assert len(done.lost) == 1
    assert (tmp_path / "again" / "shop.yaml").is_file()


@pytest.mark.skipif(os.name != "posix", reason="such names are none elsewhere")
def test_pictures_with_odd_names_come_back(folder, tmp_path_factory):
    """What may stand in the name of a file here is kept and comes back."""
    names = ("Photo 12:30.jpg", "back\\slash.png", "two\nlines.png", "ü é.png")
    for name in names:
        (folder / name).write_bytes(b"x")
    place = tmp_path_factory.mktemp("odd")
    back_up(folder, place / "shop.zip", "test", NOW, UTC)
    restore(place / "shop.zip", place / "shop")
    assert all((place / "shop" / name).read_bytes() == b"x" for name in names)


@pytest.mark.skipif(sys.platform != "linux", reason="such names are none elsewhere")
def test_what_links_lead_to_is_kept(folder, tmp_path_factory):
    """Linked documents and a linked folder come back as files; a link to nowhere is told."""
    tmp_path = tmp_path_factory.mktemp("elsewhere")
    away = tmp_path / "away"
    (folder / "jobs").rename(away)
    (folder / "jobs").symlink_to(away)
    (tmp_path / "notes.txt").write_text("mine")
    (folder / "notes.txt").symlink_to(tmp_path / "notes.txt")
    (folder / "gone.txt").symlink_to(tmp_path / "nowhere")
    (folder / "round").symlink_to(folder)
    done = back_up(folder, tmp_path / "shop.zip", "test", NOW, UTC)
    assert sorted(left.partition(":")[0] for left in done.left_out) == ["gone.txt", "round"]
    restore(tmp_path / "shop.zip", tmp_path / "new")
    assert (tmp_path / "new" / "notes.txt").read_text() == "mine"
    assert sorted(path.name for path in (tmp_path / "new" / "jobs").iterdir()) == sorted(
        path.name for path in away.iterdir()
    )


@pytest.mark.skipif(os.name != "posix", reason="there are no pipes in folders elsewhere")
def test_a_pipe_is_left_out_and_told(folder, tmp_path):
    """What would be waited for for ever is not read."""
    os.mkfifo(folder / "pipe")
    done = back_up(folder, tmp_path / "shop.zip", "test", NOW, UTC)
    assert done.left_out == ("pipe: it is no plain file",)
    with pytest.raises(RefusedError, match="plain file"):
        restore(folder / "pipe", tmp_path / "new")


def test_a_zip_that_unfolds_without_end_is_refused(kept, tmp_path):
    """A thousand times its size is more than any backup: refused before it fills the disk."""
    with zipfile.ZipFile(tmp_path / "bomb.zip", "w", zipfile.ZIP_DEFLATED) as bomb:
        bomb.writestr("shop.yaml", b"0" * 80_000_000)
        bomb.writestr(LIST, listed(kept, sha256={"shop.yaml": "0" * 64}))
    with pytest.raises(RefusedError, match="200 times"):
        restore(tmp_path / "bomb.zip", tmp_path / "shop")
    with pytest.raises(RefusedError, match="more than 1 kB"):
        restore(kept, tmp_path / "shop", most_bytes=1024)
    assert not (tmp_path / "shop").exists()


@pytest.mark.parametrize("packing", [zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA], ids=["bzip2", "lzma"])
def test_what_unfolds_to_any_size_at_once_is_not_unfolded(kept, packing, tmp_path):
    """Of packings that no backup of ours has, 300 bytes could fill the memory: they are told."""
    data = b"0" * 3_000_000
    with zipfile.ZipFile(kept) as archive:
        sums = json.loads(archive.read(LIST))["sha256"]
    sums["big.txt"] = hashlib.sha256(data).hexdigest()
    bad = rebuilt(kept, {LIST: listed(kept, sha256=sums)})
    with zipfile.ZipFile(bad, "a") as archive:
        archive.writestr("big.txt", data, packing)
    done = restore(bad, tmp_path / "shop")
    assert done.lost == ["big.txt: it is packed in a way that no backup is"]


def test_a_log_without_its_journal_is_told_and_kept(folder, tmp_path):
    """Where the journal is gone and its log is there, the log is in the backup, and it is said."""
    (folder / "journal.db-wal").write_bytes(b"entries")
    (folder / "journal.db").unlink(missing_ok=True)
    done = back_up(folder, tmp_path / "shop.zip", "test", NOW, UTC)
    assert "only its log" in done.lost[0]
    with zipfile.ZipFile(tmp_path / "shop.zip") as archive:
        assert archive.read("journal.damaged.db-wal") == b"entries"


def test_a_name_that_no_backup_can_hold_is_told(folder, tmp_path_factory):
    """A file whose name is no UTF-8 is named before anything is written."""
    (folder / os.fsdecode(b"\xff.jpg")).write_bytes(b"x")
    place = tmp_path_factory.mktemp("odd")
    with pytest.raises(RefusedError, match="another name"):
        back_up(folder, place / "shop.zip", "test", NOW, UTC)
    assert list(place.iterdir()) == []


def test_a_backup_does_not_hold_the_one_before(folder):
    """Backups kept in the shop's own folder do not grow by each other; other zips are kept."""
    with zipfile.ZipFile(folder / "plans.zip", "w") as other:
        other.writestr("plan.txt", "x")
    first = back_up(folder, folder / "one.zip", "test", NOW, UTC)
    second = back_up(folder, folder / "two.zip", "test", NOW, UTC)
    assert second.files == first.files
    with zipfile.ZipFile(folder / "two.zip") as archive:
        assert {"plans.zip", "shop.yaml"} <= set(archive.namelist())
        assert "one.zip" not in archive.namelist()


@settings(max_examples=60)
@given(data=st.data())
def test_no_damage_is_more_than_a_refusal(data, tmp_path_factory):
    """Whatever bytes of a backup are other than written, it comes back, or that is told."""
    place = tmp_path_factory.mktemp("damage")
    (place / "old").mkdir()
    (place / "old" / "shop.yaml").write_text("shop: Old bench\npeople: [Ada, Ben]\n" * 3)
    back_up(place / "old", place / "old.zip", "test", NOW, UTC)
    whole = bytearray((place / "old.zip").read_bytes())
    for _ in range(data.draw(st.integers(1, 3))):
        whole[data.draw(st.integers(0, len(whole) - 1))] = data.draw(st.integers(0, 255))
    (place / "bad.zip").write_bytes(whole)
    try:
        done = restore(place / "bad.zip", place / "new")
    except RefusedError:
        assert not (place / "new").exists()
    else:
        read = [(place / name / "shop.yaml").read_bytes() for name in ("old", "new")]
        assert read[0] == read[1] or done.lost


@pytest.mark.parametrize("sums", [3, [["shop.yaml"]], None, {"shop.yaml": 3}])
def test_a_list_of_another_shape_is_refused(kept, sums, tmp_path):
    """A list whose sums are no sums is told in words."""
    with pytest.raises(RefusedError, match="cannot be restored"):
        restore(rebuilt(kept, {LIST: listed(kept, sha256=sums)}), tmp_path / "shop")


def test_a_file_that_is_no_backup_is_refused(tmp_path):
    """Any other file, or none, is told in words."""
    (tmp_path / "x.zip").write_bytes(b"PK nonsense")
    for name in ("x.zip", "none.zip"):
        with pytest.raises(RefusedError, match="cannot be restored"):
            restore(tmp_path / name, tmp_path / "shop")
