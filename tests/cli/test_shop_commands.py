"""``new``, ``demo``, ``due``, ``log``, ``air``, ``check``, ``schedules`` as commands."""

import subprocess
import sys
from datetime import timedelta

import pytest

from finishsched.cli.program import COMMANDS


def test_new_makes_a_shop_that_checks_clean(cli):
    """The folder has what it should, and its documents have no faults."""
    assert cli("new", "bench", "--json").json["dir"].endswith("/bench")
    made = cli.cwd / "bench"
    assert {p.name for p in made.iterdir()} == {
        "shop.yaml",
        "jobs",
        "schedules",
        "products",
        "journal.db",
        ".schemas",
        ".gitignore",
    }
    assert "journal.db" in (made / ".gitignore").read_text()
    cli.cwd = made
    assert cli("check").status == 0
    assert {item["piece"] for item in cli("due", "--json").json["now"]} == {
        "first-box/lid",
        "first-box/body",
    }


def test_new_never_writes_over_anything(cli):
    """A folder with something in it is left as it is."""
    (cli.cwd / "bench").mkdir()
    (cli.cwd / "bench/letter.txt").write_text("mine")
    ran = cli("new", "bench")
    assert (ran.status, len(ran.err_lines)) == (2, 1)
    assert [p.name for p in (cli.cwd / "bench").iterdir()] == ["letter.txt"]
    assert (cli.cwd / "bench/letter.txt").read_text() == "mine"


@pytest.mark.parametrize("hour", range(0, 24, 3))
def test_the_demo_is_in_the_middle_of_work_at_any_hour(cli, hour):
    """Whenever it is opened: a dry check due, hands wanted, clocks running, a piece not begun."""
    cli.now = cli.now.replace(hour=hour)
    assert cli("demo", "--out", "shop").status == 0
    cli.cwd = cli.cwd / "shop"
    due = cli("due", "--json").json
    states = [item["state"] for item in due["now"]]
    assert {"check", "to do", "not begun"} <= set(states)
    assert {"drying", "nearly"} & {item["state"] for item in due["next"]}
    assert len(due["clocks"]) >= 3
    assert cli("check").status == 0


def test_due_answers_in_the_promised_keys(shop):
    """now, next and clocks, with instants in UTC and the range in order."""
    due = shop("due", "--json").json
    assert due.keys() >= {"now", "next", "clocks"}
    for clock in due["clocks"]:
        assert clock["ready_earliest"] <= clock["ready_likely"] <= clock["ready_latest"]
        assert clock["ready_likely"].endswith("Z")
    hands = next(item for item in due["now"] if item["state"] == "to do")
    assert hands["how"]
    assert hands["mix"]
    assert hands["cautions"]
    assert "data sheet" in hands["deferral"]


def test_a_coat_logged_from_the_command_line_starts_its_clock(shop):
    """done: the entry comes back, and the cure clock runs from it."""
    ran = shop(
        "log", "slope", "done", "--by", "Nell", "--batch", "jar 4", "--used", "2 ml", "--json"
    )
    assert ran.status == 0
    event = ran.json["event"]
    assert (event["kind"], event["piece"]) == ("step-done", "letter-box/slope")
    assert (event["by"], event["batch"], event["amount_ml"]) == ("Nell", "jar 4", 2.0)
    assert event["at"] == "2026-11-25T18:00:00Z"
    assert "letter-box/slope" in {clock["piece"] for clock in shop("due", "--json").json["clocks"]}


def test_a_dry_check_is_said_ready_or_not(shop):
    """'not ready' in two words extends the wait; 'ready' ends it."""
    step = shop("due", "--json").json["now"][0]["step_number"]
    assert shop("log", "tea-chest/lid", "not", "ready", "still", "drags").status == 0
    assert shop("due", "--json").json["clocks"][0]["not_yet"] in (0, 1)
    assert shop("log", "tea-chest/lid", str(step), "ready").status == 0
    lid = next(i for i in shop("due", "--json").json["now"] if i["piece"] == "tea-chest/lid")
    assert (lid["state"], lid["step_number"]) == ("to do", step + 1)
    assert shop("log", "tea-chest/lid", "undo").status == 0


def test_a_wait_cut_short_on_purpose_is_told_as_that(shop):
    """'early' ends the wait with its reason; it teaches nothing, and the record says so."""
    before = shop("pace", "--json").json
    assert shop("log", "tea-chest/lid", "early").status == 2
    said = shop("log", "tea-chest/lid", "early", "no other evening", "--json").json["event"]
    assert (said["kind"], said["note"]) == ("went-early", "no other evening")
    lid = next(i for i in shop("due", "--json").json["now"] if i["piece"] == "tea-chest/lid")
    assert (lid["state"], lid["step_number"]) == ("to do", 30)
    assert shop("pace", "--json").json == before
    assert shop("record", "tea-chest/lid", "--out", "lid.html").status == 0
    record = (shop.cwd / "lid.txt").read_text()
    assert "went on early 18:00, no other evening" in " ".join(record.split())
    assert "went on early: 29" in " ".join(record.split())
    assert "went on early" in shop("log", "lid", "undo").out
    lid = next(i for i in shop("due", "--json").json["now"] if i["piece"] == "tea-chest/lid")
    assert lid["state"] == "check"


@pytest.mark.parametrize(
    ("words", "kind", "field", "value"),
    [
        (["now", "skipped", "flat", "already"], "step-skipped", "reason", "flat already"),
        (["note", "smells", "of", "oil"], "note", "text", "smells of oil"),
        (["now", "defect", "a ridge"], "defect", "text", "a ridge"),
    ],
)
def test_words_after_the_entry_are_its_text(shop, words, kind, field, value):
    """Reason, note and defect are what follows, with or without quotes."""
    event = shop("log", "slope", *words, "--json").json["event"]
    assert (event["kind"], event[field]) == (kind, value)


def test_a_time_of_day_is_the_last_one_that_passed(shop):
    """Logged at 23:50 just after midnight, a coat was laid yesterday."""
    shop.now = shop.now.replace(hour=0, minute=20) + timedelta(days=1)
    document = shop.cwd / "shop.yaml"
    document.write_text(document.read_text() + "time_zone: Europe/Lisbon\n")
    logged = shop("log", "slope", "done", "--at", "23:50", "--json")
    assert logged.json["event"]["at"] == "2026-11-25T23:50:00Z"
    assert "taken as 2026-11-25 23:50" in logged.err


def test_air_with_values_needs_no_shop(cli):
    """Dew point and the rest from two values, in the promised keys."""
    air = cli("air", "--temperature", "16 degC", "--humidity", "71 %", "--json").json
    assert air.keys() >= {
        "dew_point_c",
        "wet_bulb_c",
        "emc_percent",
        "surface_c",
        "blush_risk",
        "blush_margin_c",
    }
    assert air["dew_point_c"] == pytest.approx(10.75, abs=0.05)
    assert air["blush_risk"] in ("none", "possible", "likely")


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (["air", "--temperature", "99degC"],
         "--temperature: 99 degC is no air to work in; a reading is from -10 to 60 degC"),
        (["air", "--temperature", "180 F"],
         "--temperature: 180 degF is no air to work in; a reading is from 14 to 140 degF"),
        (["air", "--temperature", "500 degF"], "it may be -40 up to 212 degF"),
        (["air", "--temperature", "60 degF", "--add", "--surface", "190 degF"],
         "--surface: 190 degF is no floor or work in a shop; a reading is from -4 to 176 degF"),
        (["log", "slope", "done", "--temperature", "180 degF"], "from 14 to 140 degF"),
    ],
)  # fmt: skip
def test_limits_are_told_in_the_unit_that_was_typed(shop, asked, said):
    """In Fahrenheit for who writes Fahrenheit, whatever the shop has; the journal is untouched."""
    before = shop("export", "--journal", "before.jsonl").status
    ran = shop(*asked, "--humidity", "50 %")
    assert (before, ran.status, ran.out) == (0, 2, "")
    assert said in ran.err
    shop("export", "--journal", "after.jsonl")
    entries = [(shop.cwd / f"{name}.jsonl").read_text() for name in ("before", "after")]
    assert entries[0] == entries[1]


def test_air_add_is_the_shops_air_from_then_on(shop):
    """A logged reading is what air says next."""
    assert shop("air", "--temperature", "15 degC", "--humidity", "62 %", "--add").status == 0
    assert shop("air", "--json").json["temperature_c"] == 15.0


def test_check_tells_every_fault_with_its_place(shop):
    """Exit 1; each fault a line FILE:LINE:COLUMN, the same in JSON."""
    bad = shop.cwd / "schedules/bad.yaml"
    bad.write_text(
        "schedule: bad\ntitel: x\nstages:\n  - stage: bodi\n    steps:\n      - pad: x\n"
        "        wait: {earliest: 30, likely: 2 h}\n"
    )
    ran = shop("check", "schedules/bad.yaml")
    assert ran.status == 1
    lines = ran.out.splitlines()
    assert len(lines) >= 4
    assert all(line.startswith("schedules/bad.yaml:") for line in lines)
    assert any(":2:1: " in line and "title" in line for line in lines)
    findings = shop("check", "schedules/bad.yaml", "--json").json["findings"]
    assert len(findings) == len(lines)
    assert findings[0].keys() >= {"file", "line", "column", "rule", "severity", "message"}


def test_check_without_a_shop_knows_the_shipped_names(cli):
    """A schedule of its own in an empty folder may use shipped products, and no others."""
    text = cli("schedules", "padded-shellac-closed-pored").out
    (cli.cwd / "mine.yaml").write_text(text)
    assert cli("check", "mine.yaml").status == 0
    (cli.cwd / "mine.yaml").write_text(
        text.replace("shellac-dewaxed-blonde", "shelac-dewaxed-blonde")
    )
    ran = cli("check", "mine.yaml")
    assert ran.status == 1
    assert "shellac-dewaxed-blonde" in ran.out


def test_schedules_lists_and_prints(cli):
    """At least eight to choose from, each one printed with its comments."""
    listed = cli("schedules", "--json").json["schedules"]
    assert len(listed) >= 8
    assert cli("schedules", listed[0]["schedule"]).out.startswith("#")


def test_settings_with_faults_are_told(shop):
    """A misspelt key in the settings is a fault with its place, and nothing opens."""
    (shop.cwd / "settings.yaml").write_text("settings: bench\nbel: yes\n")
    ran = shop("bench")
    assert ran.status == 2
    assert "settings.yaml:2:1: " in ran.err
    assert "bell" in ran.err


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["due"], "there is no shop here"),
        (["log", "lid", "done"], "there is no shop here"),
        (["bench"], "there is no shop here"),
        ([], "there is no shop here"),
        (["check"], "no file and no shop"),
        (["air"], "no values and no shop"),
        (["--shop", "nowhere", "due"], "holds no shop.yaml"),
        (["due", "--shop", "nowhere"], "holds no shop.yaml"),
        (["duee"], "did you mean 'due'?"),
        (["new"], "Missing argument"),
        (["schedules", "paded-shellac-pattern"], "did you mean 'padded-shellac-pattern'?"),
        (["check", "--schema", "jobs"], "write one of"),
        (["air", "--temperature", "20"], "has no unit"),
        (["air", "--temperature", "20 degC", "--humidity", "0 %"], "no humidity of room air"),
        (["air", "--add"], "--add needs a reading"),
    ],
)
def test_wrong_use_outside_a_shop(cli, arguments, said):
    """Exit 2, no traceback, and a line that helps."""
    ran = cli(*arguments)
    assert ran.status == 2
    assert said in ran.err
    assert "Traceback" not in ran.err


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["log", "lid"], "the entry is missing"),
        (["log", "lid", "gone"], "'gone' is no entry"),
        (["log", "lid", "gone"], "not ready, early, skipped"),
        (["log", "lid", "3", "gone"], "'gone' is no entry"),
        (["log", "done", "lid"], "the piece comes before what was done: finishsched log lid done"),
        (["log", "lod", "done"], "did you mean 'lid'?"),
        (["log", "lid", "done"], "wait has not ended"),
        (["log", "lid", "999", "ready"], "no step '999'"),
        (["log", "slope", "done", "--at", "teatime"], "is not a time"),
        (["log", "slope", "done", "--at", "2031-01-01 10:00"], "the time to come"),
        (["log", "slope", "done", "--used", "3"], "has no unit"),
        (["log", "slope", "done", "--temperature", "20 degC"], "needs both"),
        (["log", "slope", "skipped"], "reason without words"),
        (["bench"], "needs a terminal"),
    ],
)
def test_wrong_use_in_a_shop(shop, arguments, said):
    """Exit 2, a line that helps, and the journal is as it was."""
    before = shop("due", "--json").json
    ran = shop(*arguments)
    assert ran.status == 2
    assert said in ran.err
    assert "Traceback" not in ran.err
    assert shop("due", "--json").json["now"] == before["now"]


def test_a_missing_file_is_one_line(cli):
    """Check on a file that is not there."""
    ran = cli("check", "nothing.yaml")
    assert ran.status == 1
    assert "nothing.yaml:1:1: cannot be read" in ran.out


@pytest.mark.parametrize("name", list(COMMANDS))
def test_every_command_has_help(cli, name):
    """--help of each command says what it does and lists --json."""
    ran = cli(name, "--help")
    assert ran.status == 0
    assert "--json" in ran.out
    assert "Usage: finishsched" in ran.out


def test_help_lists_every_command(cli):
    """The program's help has one line for each command."""
    out = cli("--help").out
    assert all(name in out for name in COMMANDS)


def test_a_fault_of_our_own_is_one_line_too(cli, monkeypatch):
    """An unforeseen exception ends in a line, an exit status of 3 and a file with the details."""
    # Of a calculator, modules that are loaded meanwhile would keep the broken one.
    monkeypatch.setattr("finishsched.cli.mixing.mix.command.callback", lambda **_: 1 / 0)
    ran = cli("mix", "--cut", "2 lb", "--makes", "1 l")
    assert (ran.status, len(ran.err_lines)) == (3, 1)
    assert "ZeroDivisionError" in (cli.cwd / "data/last-fault.txt").read_text()


def test_undo_says_what_it_took_back(shop):
    """The answer names the entry that no longer counts."""
    shop("log", "slope", "note", "drags")
    assert "undone note: drags" in shop("log", "slope", "undo").out


def test_words_after_undo_are_its_note(shop):
    """They are told, kept in the journal, and stand in its table of entries."""
    shop("log", "slope", "note", "drags")
    ran = shop("log", "slope", "undo", "it", "was", "the", "box")
    assert "undone note: drags (it was the box)" in ran.out
    shop("log", "slope", "note", "drags")
    event = shop("log", "slope", "undo", "wrong piece", "--json").json["event"]
    assert (event["kind"], event["note"]) == ("undo", "wrong piece")
    shop("export", "--tables", "out")
    assert "undo, wrong piece" in (shop.cwd / "out" / "entries.csv").read_text("utf-8")


def test_a_stripped_piece_begins_anew(shop):
    """Its first step is next, it says what to mind, and an undo is as if nothing had been."""
    before = shop("due").out
    ran = shop("log", "slope", "anew", "crazed, stripped to the wood")
    assert ran.status == 0
    said = " ".join(ran.out.split())
    assert "logged begun anew on" in said
    assert "crazed, stripped to the wood" in said
    assert "next: 1/" in said
    assert "mind: Begun anew" in said
    assert shop("log", "slope", "undo").status == 0
    assert shop("due").out == before
    assert "anew" in shop("log", "--help").out


def test_a_reader_that_leaves_is_no_answer_of_no():
    """Piped into something that reads one line, a command still ends with status 0."""
    command = f"{sys.executable} -m finishsched schedules; echo $? >&2"
    ran = subprocess.run(
        ["bash", "-c", f"({command}) | true"], capture_output=True, text=True, check=True
    )
    assert ran.stderr.split() == ["0"]


@pytest.mark.parametrize("word", ["undo", "done", "ready"])
def test_an_entry_typed_as_a_command_is_told_how_it_is_logged(shop, word):
    """Who types the word of an entry alone hears the command that takes it."""
    ran = shop(word, "lid")
    assert ran.status == 2
    assert f"finishsched log PIECE {word}" in ran.err


def test_a_step_logged_twice_is_refused_by_the_name_of_its_piece(shop):
    """Of several pieces at work the refusal says which one waits."""
    shop("log", "slope", "ready")
    assert shop("log", "slope", "done").status == 0
    ran = shop("log", "slope", "done")
    assert ran.status == 2
    assert "letter-box/slope" in ran.err


def test_what_is_finished_is_not_called_the_only_piece(shop):
    """Asked about a piece that has nothing left, due says so of that piece and of no other."""
    (shop.cwd / "jobs" / "dish.yaml").write_text(
        "job: dish\ntitle: Dish\npieces:\n  - {piece: dish, title: Dish, species: walnut, "
        "schedule: wiped-oil, faces: [{face: top, area: 0.1 m2}]}\n",
        "utf-8",
    )
    shop("log", "dish", "start")
    for number in range(1, 14):
        shop("log", "dish", "skipped", f"{number}", "done elsewhere")
    said = shop("due", "dish").out
    assert "nothing is due of dish: finished, or without a schedule" in said
    assert "no piece is begun" not in said
