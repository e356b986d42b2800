"""Out and in again by the command line: backup, restore, export, import, record."""

from __future__ import annotations

import csv

import pytest


def test_a_shop_goes_out_and_comes_back(shop):
    """A backup restored elsewhere gives the same answers, and neither command writes over."""
    assert shop("backup", "../kept.zip", "--json").json["files"] == 5
    assert shop("backup", "../kept.zip").status == 2
    assert shop("restore", "../kept.zip", "../again").status == 0
    assert shop("restore", "../kept.zip", "../again").status == 2
    before = shop("due", "--json").json["now"]
    assert shop("--shop", "../again", "due", "--json").json["now"] == before


def test_a_journal_goes_out_and_comes_back(shop):
    """Exported lines brought into a shop without a journal export to the same lines again."""
    assert shop("export", "--journal", "../a.jsonl").status == 0
    assert shop("import", "--journal", "../a.jsonl").status == 2
    for file in shop.cwd.glob("journal.db*"):
        file.unlink()
    assert shop("import", "--journal", "../a.jsonl", "--json").json["entries"] > 100
    assert shop("export", "--journal", "../b.jsonl").status == 0
    assert (shop.cwd / "../a.jsonl").read_text() == (shop.cwd / "../b.jsonl").read_text()


def test_a_changed_line_is_told_with_its_number(shop):
    """A line that was changed is named as FILE:LINE, and no journal is made."""
    shop("export", "--journal", "a.jsonl")
    text = (shop.cwd / "a.jsonl").read_text().replace('"by": "Nell"', '"by": "Nela"', 1)
    (shop.cwd / "a.jsonl").write_text(text)
    for file in shop.cwd.glob("journal.db*"):
        file.unlink()
    ran = shop("import", "--journal", "a.jsonl")
    assert ran.status == 2
    assert ran.err.startswith("a.jsonl:")
    assert not (shop.cwd / "journal.db").exists()


def test_tables_have_every_entry(shop):
    """Each table is a CSV file, and the one of entries has a row for each in the journal."""
    files = shop("export", "--tables", "out", "--json").json["files"]
    assert [file.rpartition("/")[2] for file in files] == [
        "pieces.csv", "coats.csv", "entries.csv", "air.csv", "stock.csv",
        "readings.csv",
    ]  # fmt: skip
    shop("export", "--journal", "a.jsonl")
    lines = (shop.cwd / "a.jsonl").read_text().split("\n")
    with (shop.cwd / "out" / "entries.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == sum(line.startswith('{"seq"') for line in lines)


def test_a_notebook_comes_in(shop):
    """Rows of a past notebook are entries of their pieces, and every fault is FILE:LINE."""
    rows = "date,time,piece,entry,text\n2026-11-20,18:00,tea-chest/tray,done,by candle light\n"
    (shop.cwd / "book.csv").write_text(rows)
    assert shop("import", "--notebook", "book.csv", "--json").json == {
        "entries": 2, "already_there": 0,
    }  # fmt: skip
    (shop.cwd / "book.csv").write_text(rows + "2026-11-21,18:00,nowhere,done,\n")
    ran = shop("import", "--notebook", "book.csv")
    assert ran.status == 2
    assert ran.err.startswith("book.csv:3: no piece 'nowhere'")


@pytest.mark.parametrize(
    "words",
    [
        ("export",),
        ("import",),
        ("import", "--journal", "a", "--notebook", "b"),
        ("import", "--notebook", "none.csv"),
        ("record",),
        ("record", "nobody"),
        ("record", "tea-chest/lid", "--out", "x.pdf"),
        ("record", "tea-chest/lid", "--out", "nowhere/x.html"),
        ("record", "--verify", "shop.yaml"),
        ("restore", "none.zip", "new"),
        ("backup", "nowhere/x.zip"),
    ],
)
def test_wrong_use_is_one_line(shop, words):
    """What cannot be done ends with status 2 and one line that says what would be right."""
    ran = shop(*words)
    assert ran.status == 2
    assert len(ran.err_lines) == 1


def test_a_record_is_written_and_verified(shop):
    """The page and its text are written beside each other, and a later change shows."""
    written = shop("record", "tea-chest/lid", "--out", "lid.html", "--json").json
    assert shop("record", "--verify", written["file"]).status == 0
    assert shop("record", "--verify", written["text"], "--json").json["whole"] is True
    page = shop.cwd / "lid.html"
    page.write_text(page.read_text().replace("Nell", "Nela", 1))
    assert shop("record", "--verify", "lid.html").status == 1


def test_the_text_can_be_kept_by_hand(shop):
    """What --text prints is sealed as it stands."""
    printed = shop("record", "tea-chest/lid", "--text").out
    (shop.cwd / "lid.txt").write_text(printed)
    assert shop("record", "--verify", "lid.txt").status == 0


def test_pictures_are_logged(shop):
    """A picture in the shop's folder becomes an entry, and is in the next record."""
    from PIL import Image

    Image.new("RGB", (40, 30), "tan").save(shop.cwd / "lid.png")
    ran = shop("record", "tea-chest/lid", "--picture", "lid.png", "--caption", "after filling")
    assert ran.out == "tea-chest/lid: logged picture: lid.png, after filling\n"
    shop("record", "tea-chest/lid", "--out", "r.html")
    assert 'alt="after filling"' in (shop.cwd / "r.html").read_text()


def test_a_picture_that_comes_with_a_note_is_called_by_it(shop):
    """Without a caption of its own it shows what the note says."""
    from PIL import Image

    Image.new("RGB", (40, 30), "tan").save(shop.cwd / "lid.png")
    assert shop("log", "lid", "note", "after filling", "--picture", "lid.png").status == 0
    shop("record", "tea-chest/lid", "--out", "r.html")
    assert 'alt="after filling"' in (shop.cwd / "r.html").read_text()


def test_a_journal_comes_into_a_new_shop(shop):
    """A shop just made takes an exported journal, and one with entries of its own does not."""
    shop("export", "--journal", "../a.jsonl")
    assert shop("new", "../fresh").status == 0
    assert shop("--shop", "../fresh", "import", "--journal", "../a.jsonl").status == 0
    refused = shop("--shop", "../fresh", "import", "--journal", "../a.jsonl")
    assert refused.status == 2
    assert "entries" in refused.err


def test_a_record_takes_no_other_file_away(shop):
    """A text of the record's own name that is no record is left alone; a record is made anew."""
    (shop.cwd / "lid.txt").write_text("my notes")
    assert shop("record", "tea-chest/lid", "--out", "lid.html").status == 2
    assert (shop.cwd / "lid.txt").read_text() == "my notes"
    assert not (shop.cwd / "lid.html").exists()
    assert shop("record", "tea-chest/lid", "--out", "chest-lid.html").status == 0
    assert shop("record", "tea-chest/lid", "--out", "chest-lid.html").status == 0


def test_tables_go_over_their_own_only(shop):
    """Written twice they are brought up to date; a file of another's is left, and said."""
    assert shop("export", "--tables", "out").status == 0
    assert shop("export", "--tables", "out").status == 0
    mine = shop.cwd / "mine" / "stock.csv"
    mine.parent.mkdir()
    mine.write_text("what,shelf\nwax,2\n")
    ran = shop("export", "--tables", "mine")
    assert ran.status == 2
    assert "stock.csv is there already, and is no table of finishsched" in ran.err
    assert "name another, or write over it with --force" in ran.err
    assert [path.name for path in mine.parent.iterdir()] == ["stock.csv"]
    assert mine.read_text() == "what,shelf\nwax,2\n"
