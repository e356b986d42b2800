"""The working evening on the command line: five coats on five parts in three commands."""

from __future__ import annotations

import shlex
import shutil
from datetime import timedelta

import pytest

from finishsched.workshop.base.workshop import Workshop

JOB = """\
job: chest
title: A chest
pieces:
  - piece: leaf
    title: Leaf
    schedule: padded
    count: 5
    species: walnut
    faces:
      - {face: face, length: 400 mm, width: 300 mm}
"""


PADDED = """\
schedule: padded
title: A sitting
source: common practice
stages:
  - stage: body
    steps:
      - pad: thin ovals
        product: shellac-dewaxed-blonde
        cut: 1.5 lb
        coats: 6
        amount: 15 ml/m2
        hands_on: 1 min
        wait:
          between: {earliest: 5 min, likely: 15 min}
          after: {earliest: 8 h, likely: 12 h}
        dry_check: glides; before paper a thumbnail leaves no mark
      - level: flat
        grade: P400
        hands_on: 3 min
"""


@pytest.fixture(scope="module")
def begun(tmp_path_factory):
    """Return where the shop is kept as it was begun, by the first test that asks for it."""
    return tmp_path_factory.mktemp("begun") / "shop"


@pytest.fixture
def chest(cli, demo_folder, begun):
    """Give a shop with five leaves that stand before a sitting of six coats."""
    first = not begun.exists()
    cli.cwd = shutil.copytree(demo_folder if first else begun, cli.cwd / "shop")
    if first:
        (cli.cwd / "jobs" / "chest.yaml").write_text(JOB)
        (cli.cwd / "schedules" / "padded.yaml").write_text(PADDED)
        assert cli("log", "leaf", "start", "--at", "yesterday 18:00").status == 0
        shutil.copytree(cli.cwd, begun)
    return cli


def test_an_evening_of_five_coats_on_five_parts_is_one_command(chest):
    """Twenty-five coats and the going on between them in one line, and one undo of all."""
    began = chest("log", "leaf", "entries", "--json").json["entries"]
    times = ("--from", "yesterday 18:30", "--every", "6 min")
    sitting = ("log", "leaf", "done", "--coats", "5", *times)
    trial = chest(*sitting, "--dry-run", "--json").json
    assert (trial["dry_run"], len(trial["events"])) == (True, 45)
    assert chest("log", "leaf", "entries", "--json").json["entries"] == began
    told = chest(*sitting, "--used", "25 ml")
    assert told.status == 0, told.err
    assert told.out.startswith("chest/leaf-1 to 5: ")
    rows = chest("due", "leaf", "--json").json["rows"]
    assert [(row["name"], row["title"]) for row in rows] == [("chest/leaf", "5 x Leaf")]
    back = chest("log", "leaf", "undo")
    assert back.status == 0
    assert chest("log", "leaf", "entries", "--json").json["entries"] == began


def test_what_cannot_be_of_some_is_of_none(chest):
    """Each refusal says which pieces it is about, once."""
    assert chest("log", "leaf-2", "done").status == 0
    ran = chest("log", "leaf-1,leaf-2,leaf-9", "ready")
    assert (ran.status, ran.out) == (2, "")
    assert "no piece 'leaf-9'" in ran.err
    ran = chest("log", "leaf-1,leaf-3,leaf-2", "ready")
    assert ran.status == 2
    assert "chest/leaf-1, chest/leaf-3: " in ran.err


def test_what_mends_a_refusal_of_several_can_be_typed_as_it_stands(chest):
    """The remedy names the pieces as the command takes them, not a PIECE to be put in."""
    chest("log", "leaf", "undo")
    said = chest("log", "leaf", "done").err
    assert "not begun; finishsched log 'chest/leaf-1 to 5' start" in said
    command = shlex.split(said.partition("finishsched ")[2])
    assert chest(*command).status == 0
    assert chest("log", "leaf", "done").status == 0


NAMES = ("chest", "leaf-1,leaf-2,leaf-3,leaf-4,leaf-5", "leaf-*", "chest/leaf-[1-4],leaf-5")


@pytest.mark.parametrize(
    "command",
    [
        ("air",),
        ("cautions",),
        ("rags", "--of"),
        ("need",),
        ("sheet",),
        ("film",),
        ("due",),
        ("plan", "--drop"),
        ("log", "--dry-run", "--json"),
    ],
    ids=lambda words: words[0],
)
@pytest.mark.parametrize("name", NAMES)
def test_every_command_takes_several_by_any_name_of_them(chest, command, name):
    """The name of those alike, a job, a list, a pattern: each says the same of them."""
    words = ("done",) if command[0] == "log" else ()
    wanted = chest(command[0], *command[1:], "leaf", *words)
    said = chest(command[0], *command[1:], name, *words)
    assert (said.status, wanted.status) == (0, 0), said.err
    if command[0] not in ("need", "log"):
        assert said.out.replace(name, "leaf") == wanted.out.replace(name, "leaf")


@pytest.mark.parametrize(
    "command",
    [
        ("air", "leaf-1,leef,liid"),
        ("cautions", "leaf-1,leef,liid"),
        ("rags", "--of", "leaf-1,leef,liid"),
        ("need", "leaf-1,leef,liid"),
        ("sheet", "leaf-1,leef,liid"),
        ("film", "leaf-1,leef,liid"),
        ("defect", "leaf-1,leef,liid", "blush"),
        ("plan", "--drop", "leaf-1,leef,liid"),
        ("record", "leaf-1,leef,liid", "--text"),
        ("log", "leaf-1,leef,liid", "done"),
    ],
    ids=lambda words: words[0],
)
def test_every_name_that_stands_for_nothing_is_told(chest, command):
    """All of them at once, and nothing is said of the one that there is."""
    ran = chest(*command)
    assert (ran.status, ran.out) == (2, "")
    assert "no piece 'leef'" in ran.err
    assert "no piece 'liid'" in ran.err


def test_a_picture_of_several_is_attached_to_each_and_taken_back_as_one(chest):
    """A trial says whose it would be and writes nothing; of a name too many it is nobody's."""
    picture = chest.cwd / "leaves.png"
    picture.write_bytes(b"\x89PNG\r\n\x1a\n")
    began = chest("log", "leaf", "entries", "--json").json["entries"]
    attach = ("--picture", "leaves.png")
    assert chest("record", "leaf", *attach, "--dry-run").out == (
        "chest/leaf-1 to 5: would log picture: leaves.png\n"
    )
    assert chest("record", "leaf-1,leef", *attach).status == 2
    assert chest("log", "leaf", "entries", "--json").json["entries"] == began
    assert len(chest("record", "leaf", *attach, "--json").json["events"]) == 5
    assert chest("log", "leaf", "undo").status == 0
    assert chest("log", "leaf", "entries", "--json").json["entries"] == began
    assert chest("record", "leaf", "--dry-run").status == 2


def test_cautions_of_several_are_said_once_and_read_for_all(chest):
    """What is the same for five leaves stands once; a trial reads none of them."""
    ben = ("cautions", "leaf", "--by", "Ben")
    said = chest(*ben).out
    assert said.count("mind: Flammable") == 1
    assert said.startswith("chest/leaf-1 to 5\n")
    assert chest(*ben, "--read", "--dry-run").out.endswith("nothing was logged\n")
    assert chest(*ben).out == said
    assert chest(*ben, "--read").status == 0
    assert "mind:" not in chest(*ben).out
    assert chest(*ben, "--dry-run").status == 2


def test_what_is_needed_next_is_one_batch_for_all(chest):
    """The mix told after an entry about five leaves is for all under way, of it theirs at once."""
    said = " ".join(chest("log", "leaf", "done").out.split())
    assert said.count("mix:") == 1
    assert "on 8 pieces, 0.93 m2; this one takes 10 ml" in said


def test_the_jar_that_was_told_to_be_mixed_is_logged_as_told(chest):
    """Log says with a mix how its jar is logged, once; that done, the jar is named for the coat."""
    told = " ".join(chest("log", "leaf", "done").out.split())
    assert told.count("once mixed, log the jar: finishsched ") == 1
    command = told.partition("log the jar: finishsched ")[2].partition(" mind: ")[0]
    assert chest(*shlex.split(command)).status == 0
    again = " ".join(chest("log", "leaf", "undo").out.split())
    assert f"from {shlex.split(command)[2]}" in again
    assert "once mixed" not in again


def test_an_undo_says_of_when_it_was_so_that_the_coat_can_be_logged_again_for_then(chest):
    """As it was told, its option logs the coat of the same minute; one of now says nothing."""
    for at, typed in (("17:40", "17:40"), ("yesterday 18:30", "2026-11-24 18:30")):
        assert chest("log", "leaf", "done", "--at", at).status == 0
        told = " ".join(chest("log", "leaf", "undo").out.split())
        option = f"--at {shlex.quote(typed)}"
        assert f"logged again it is of now, unless with {option}" in told
        assert chest("log", "leaf", "done", *shlex.split(option)).status == 0
        entry = chest("log", "leaf-1", "entries", "--json").json["entries"][-1]
        assert entry["at"].partition("T")[2].startswith("17:40" if at == typed else "18:30")
        chest("log", "leaf", "undo")
    chest("log", "leaf", "done")
    assert "it was of" not in chest("log", "leaf", "undo").out


@pytest.mark.parametrize(
    "entry",
    [
        ("air", "--temperature", "19 degC", "--humidity", "50 %", "--add"),
        ("defect", "leaf-1", "sag", "--take", "1"),
        ("stock", "--bought", "denatured-alcohol: 1 l"),
        ("pace", "shellac-dewaxed-blonde", "between", "--set", "1.2"),
        ("film", "leaf-1", "--gauge", "12 um"),
        ("join", "tray", "sanded"),
        ("log", "leaf", "done"),
    ],
    ids=lambda entry: entry[0],
)
def test_a_dry_run_says_what_would_be_and_logs_nothing(chest, entry):
    """Wherever something is logged: the same answer, and a journal that has nothing new."""
    chest("log", "leaf-1", "start")
    chest("log", "leaf-1", "done")
    with Workshop.open(chest.cwd, chest.now) as shop:
        before = shop.book().last_seq
    tried = chest(*entry, "--dry-run")
    assert tried.status == 0, tried.err
    assert chest(*entry, "--dry-run", "--json").json["dry_run"] is True
    with Workshop.open(chest.cwd, chest.now) as shop:
        assert shop.book().last_seq == before
    assert chest(*entry).status == 0
    with Workshop.open(chest.cwd, chest.now) as shop:
        assert shop.book().last_seq > before


def test_a_coat_of_a_sitting_that_goes_on_is_told_shortly(chest):
    """Its dry check was told at the first coat, and what was read today is named once a day."""
    first = chest("log", "leaf", "done").out
    assert "dry check:" in first
    chest.now += timedelta(minutes=8)
    again = chest("log", "leaf", "go on")
    assert "dry check:" not in again.out
    chest.now += timedelta(minutes=8)
    assert "what you read today" not in chest("log", "leaf", "go on").out


def test_that_nobody_looked_is_said_once_in_an_evening(chest):
    """The first command after an absence says it; no later one does, until a day has gone by."""
    began = chest.now + timedelta(days=3)
    with Workshop.open(chest.cwd, began) as shop:
        shop.mark_looked(began)
    said = []
    for minutes in (60, 80, 120, 25 * 60 + 1, 25 * 60 + 30):
        chest.now = began + timedelta(minutes=minutes)
        said.append("nobody looked" in chest("due").err)
    assert said == [True, False, False, True, False]
    assert "nobody looked" not in chest("log", "leaf-1", "done").err


def test_a_wait_of_five_rings_once_on_the_phone(chest):
    """Five leaves that dry together are one block of the calendar, and one is apart."""
    assert chest("log", "leaf", "done").status == 0
    assert chest("log", "leaf-3", "not ready").status == 0
    assert chest("plan", "--calendar", "plan.ics").status == 0
    text = (chest.cwd / "plan.ics").read_text()
    assert text.count("SUMMARY:Ready to check: 4 x Leaf: pad coat 1 of 6") == 1
    assert text.count("SUMMARY:Ready to check: Leaf 3: pad coat 1 of 6") == 1
    assert "Leaf 1" not in text


@pytest.mark.parametrize(
    ("minutes", "words", "told"),
    [
        (2, ("ready",), True),
        (5, ("ready",), False),
        (2, ("early", "the pad glides"), False),
    ],
)
def test_a_check_before_the_earliest_is_asked_about_once(chest, minutes, words, told):
    """Five leaves ready two minutes after a coat that wants five: one line, and what to do."""
    assert chest("log", "leaf", "done").status == 0
    chest.now += timedelta(minutes=minutes)
    ran = chest("log", "leaf", *words)
    assert ran.status == 0
    said = ran.out + ran.err
    assert said.count("sooner than 5 min, the earliest that its schedule has") == told


def test_a_row_whose_last_is_not_dry_is_told_once(chest):
    """Two of five leaves are likely dry, three nearly: one line by one name, as on the bench."""
    began = chest.now
    for piece, minute in (("leaf-1,leaf-2", 0), ("leaf-3 to 5", 6)):
        chest.now = began + timedelta(minutes=minute)
        assert chest("log", piece, "done").status == 0
    chest.now = began + timedelta(minutes=17)
    rows = [row["name"] for row in chest("due", "leaf", "--json").json["rows"]]
    assert rows == ["chest/leaf"]
    assert chest("due", "leaf").out.count("5 x Leaf") == 1


def test_due_and_the_sheet_tell_the_same_minutes_for_pieces_that_are_alike(chest):
    """Five leaves of a minute each are five minutes of work on both, not one and five."""
    (row,) = chest("due", "leaf", "--json").json["rows"]
    assert row["hands_on_minutes"] == 5.0
    assert "about 5 min a coat" in " ".join(chest("sheet", "leaf").out.split())
