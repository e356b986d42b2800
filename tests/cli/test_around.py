"""Settings, completion, version, help by groups, the man page, and one helper for near names."""

from __future__ import annotations

import shlex

import click
import pytest

from finishsched.cli.commands import COMMANDS, EVENING, GROUPS
from finishsched.cli.program import program
from finishsched.documents.decode import load
from finishsched.near import nearest


def context() -> click.Context:
    """Return the program's own context."""
    return click.Context(program, info_name="finishsched")


@pytest.mark.parametrize("name", COMMANDS)
def test_every_help_has_examples_that_the_command_takes(name):
    """Each example names this command, and its options and arguments are read without fault."""
    command = program.get_command(context(), name)
    assert "Examples:" in command.epilog
    for example in COMMANDS[name].examples:
        first, *words = shlex.split(example.partition(" <")[0].partition(" >")[0])
        assert first == name
        command.make_context(name, words, parent=context())


def test_help_is_grouped_with_those_of_every_evening_first(cli):
    """Every command stands once, under what a person wants."""
    out = cli("--help").out
    places = [out.index(f"{group.capitalize()}:") for group in GROUPS]
    assert places == sorted(places)
    assert [n for n, e in COMMANDS.items() if e.group == EVENING] == list(COMMANDS)[:6]
    for name in COMMANDS:
        assert sum(line.split()[:1] == [name] for line in out.splitlines()) == 1


def test_the_man_page_has_every_command_and_option(cli):
    """It is made of the same text; nothing in it is taken for a sign of man's own."""
    out = cli("help", "--man").out
    assert out.startswith(".TH FINISHSCHED 1")
    for name in COMMANDS:
        assert f"finishsched {name}" in out.replace("\\-", "-")
    known = (".TH", ".SH", ".SS", ".PP", ".TP", ".B", ".EX", ".EE")
    assert all(line.startswith(known) for line in out.splitlines() if line.startswith("."))


def test_the_version_says_what_a_report_needs(cli):
    """Python, what it is built on, and where things are; the first line is the version alone."""
    lines = cli("--version").out.splitlines()
    assert lines[0].startswith("finishsched ")
    said = "\n".join(lines)
    for word in ("Python", "click", "pyyaml", "settings", "shop"):
        assert word in said


def test_settings_say_where_each_comes_from(cli):
    """One is set and the others stay as usual; the file keeps the remarks that stand in it."""
    assert cli("settings", "theme", "light").status == 0
    file = cli.cwd / "settings.yaml"
    file.write_text(file.read_text("utf-8") + "bell: no  # the child sleeps\n", "utf-8")
    assert cli("settings", "quiet", "22:00 to 7:00").status == 0
    assert "!!" not in file.read_text("utf-8")
    assert "from 22:00, to 07:00" in cli("settings").out
    rows = {row["key"]: row for row in cli("settings", "--json").json["settings"]}
    assert rows["theme"]["value"] == "light"
    assert rows["theme"]["from"] == str(file)
    assert rows["flash"]["from"] == "as usual"
    found = load(file).model
    assert (found.quiet.from_min, found.quiet.to_min) == (22 * 60, 7 * 60)
    assert "# the child sleeps" in file.read_text("utf-8")
    assert cli("settings", "bell", "--out").status == 0
    assert load(file).model.bell
    assert cli("settings", "keys.next-thing", "f9").status == 0
    assert cli("settings", "notify", "say 'look here'").status == 0
    assert load(file).model.notify == ("say", "look here")


def test_a_wrong_setting_is_told_and_nothing_written(cli):
    """An unknown key with the near one, a wrong value with what would be right."""
    assert "did you mean 'theme'" in cli("settings", "them", "light").err
    assert cli("settings", "theme", "green").status == 2
    assert cli("settings", "keys.no-such-thing", "n").status == 2
    assert not (cli.cwd / "settings.yaml").exists()


def test_a_fault_in_the_settings_is_told_by_every_command(cli):
    """Not only by the bench; -q keeps it silent, and the answer stays on standard output."""
    (cli.cwd / "settings.yaml").write_text("settings: bench\ntheme: green\n", "utf-8")
    ran = cli("mix", "--cut", "2 lb", "--makes", "250 ml")
    assert ran.status == 0
    assert "settings.yaml:2:8" in ran.err
    assert cli("-q", "mix", "--cut", "2 lb", "--makes", "250 ml").err == ""


def complete(cli, words: str) -> set[str]:
    """Return what bash would be offered after ``words``."""
    from click.shell_completion import BashComplete

    from finishsched.cli.surroundings import Surroundings

    variables = {"FINISHSCHED_DATA": str(cli.cwd / "data")}
    world = Surroundings(now=lambda: cli.now, cwd=cli.cwd, variables=variables)
    shell = BashComplete(program, {"obj": world}, "finishsched", "_FINISHSCHED_COMPLETE")
    *before, last = words.split(" ")
    return {item.value for item in shell.get_completions(before, last)}


def test_the_shell_completes_names_of_all_kinds(shop):
    """Commands, options, pieces, jobs, schedules, products, defects, pages and rules."""
    assert complete(shop, "che") == {"check"}
    assert "--cut" in complete(shop, "mix --")
    assert "slope" in complete(shop, "film s")
    assert complete(shop, "need tea") == {"tea-chest"}
    assert complete(shop, "schedules tung") == {"tung-oil"}
    assert "shellac-garnet" in complete(shop, "air --product shellac-g")
    assert "blush" in complete(shop, "defect slope bl")
    assert "spirit-off" in complete(shop, "help spirit")
    assert "no-tack-off" in complete(shop, "check --explain no-t")
    assert complete(shop, "completion z") == {"zsh"}


def test_completion_without_a_shop_is_quiet(cli):
    """Names of a shop are none; shipped schedules are there all the same."""
    assert complete(cli, "film l") == set()
    assert complete(cli, "schedules wiped") == {"wiped-oil"}


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_completion_prints_a_script_for_each_shell(cli, shell):
    """It asks the program by its own variable."""
    out = cli("completion", shell).out
    assert "_FINISHSCHED_COMPLETE" in out
    assert shell in out
    assert cli("completion", "tcsh").status == 2


@pytest.mark.parametrize(
    ("word", "choices", "near"),
    [
        ("padd", ["pad", "brush"], "pad"), ("TUNG OIL", ["tung-oil"], "tung-oil"),
        ("x" * 90, ["x" * 89], None), ("qqq", ["pad"], None),
    ],
)  # fmt: skip
def test_a_near_name_is_found_whatever_its_capitals_and_spaces(word, choices, near):
    """By the one helper that every room asks."""
    assert nearest(word, choices) == near


def test_change_writes_one_value_and_nothing_else(shop):
    """Of a piece, the shop, and a step; what it said before comes back with undo."""
    piece = shop.cwd / "jobs" / "tea-chest.yaml"
    before = piece.read_text("utf-8")
    ran = shop("change", "tea-chest", "due", "2026-12-20", "--json")
    assert ran.json["written"]
    assert str(load(piece).model.due) == "2026-12-20"
    assert shop("change", "--undo").status == 0
    assert piece.read_text("utf-8") == before
    assert shop("change", "shop", "hours", "Mon-Thu 18:30-21:30; Sat 9:00-12:30").status == 0
    assert len(load(shop.cwd / "shop.yaml").model.hours) == 2
    assert shop("change", "tung-oil/cure/rest", "tool", "nails").status == 0
    # A key by its old name is understood; what is written has the name of today.
    assert shop("change", "tung-oil/cure/rest", "with", "pins").status == 0
    own = (shop.cwd / "schedules/tung-oil.yaml").read_text("utf-8")
    assert "# Pure tung" in own
    assert "tool: pins" in own
    assert shop("check", "schedules/tung-oil.yaml").status == 0


@pytest.mark.parametrize("name", ["LID", "Tea-Chest/Lid", "tea chest lid", "tea-chest/lid"])
def test_a_piece_is_found_with_capitals_and_by_its_title(shop, name):
    """As people say it; the exact name goes before."""
    title = shop("film", "tea-chest/lid", "--json").json
    assert shop("film", name.replace("tea chest lid", "Lid"), "--json").json == title


def test_change_tells_what_it_cannot_write(shop):
    """Unknown things, keys and values that cannot be; nothing is written."""
    before = {file: file.read_bytes() for file in shop.cwd.glob("*/*.yaml")}
    assert "did you mean 'due'" in shop("change", "tea-chest", "du", "2026-12-20").err
    assert "is not a date" in shop("change", "tea-chest", "due", "soon").err
    assert shop("change", "no-such", "due", "2026-12-20").status == 2
    assert shop("change", "tung-oil/cure/rest", "coats", "none").status == 2
    assert "VALUE is missing" in shop("change", "tea-chest", "due").err
    assert before == {file: file.read_bytes() for file in shop.cwd.glob("*/*.yaml")}
