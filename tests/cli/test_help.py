"""``help`` and ``sheet`` as commands."""

from __future__ import annotations

import subprocess
import sys

import pytest

from finishsched.cli.program import COMMANDS, TOPICS
from finishsched.workshop.papers.handbook import GROUPS, page, topics


def test_bare_help_lists_every_topic_by_its_group(cli):
    """Each group is a heading, and each topic a line under it."""
    ran = cli("help")
    assert ran.status == 0
    lines = ran.out.splitlines()
    for group, names in GROUPS.items():
        begin = lines.index(group) + 1
        assert [line.split()[0] for line in lines[begin : begin + len(names)]] == list(names)
    assert max(map(len, lines)) <= 80


def test_a_topic_is_printed_as_a_page(cli):
    """Title, text, what to read next, and sources; no sign of markdown is left."""
    ran = cli("help", "pad")
    assert ran.status == 0
    assert ran.out.startswith("Pad: shellac with a cloth\n=====")
    assert "See also: pads, cuts" in ran.out
    assert "Sources: common practice." in ran.out
    assert "`" not in ran.out


def test_two_words_are_one_topic(cli):
    """A verb of two words is found as it is said, without a hyphen."""
    assert cli("help", "tack", "off").out == cli("help", "tack-off").out


def test_a_slip_is_one_line_with_the_nearest(cli):
    """An unknown topic ends with 2, one line on standard error, nothing on standard output."""
    ran = cli("help", "levling")
    assert (ran.status, ran.out) == (2, "")
    assert ran.err_lines == ["no topic 'levling' in the handbook; did you mean 'levelling'?"]


@pytest.mark.parametrize("name", [name for name in COMMANDS if name not in topics()])
def test_a_command_is_pointed_at(cli, name):
    """A command's name leads to its own help, and to the page about it where there is one."""
    out = cli("help", name).out
    assert f"finishsched {name} --help" in out
    assert ("to read more" in out) == (name in TOPICS)
    assert f"finishsched help {TOPICS.get(name, '')}".rstrip() in out or name not in TOPICS
    assert cli("help", name, "--json").json["topic"] == TOPICS.get(name)


def test_a_name_of_both_is_the_page_and_names_the_command(cli):
    """The air has a page and a command: the page is shown, and the command is named."""
    out = cli("help", "air").out
    assert out.startswith("Air: read it before the coat")
    assert out.rstrip().endswith("finishsched air --help")


def test_the_list_as_json(cli):
    """Every topic with its title and group."""
    found = cli("help", "--json").json["topics"]
    assert [one["topic"] for one in found] == list(topics())
    assert all(one["title"] and one["group"] in GROUPS for one in found)


def test_a_page_as_json(cli):
    """The page with its text as markdown, its links and its sources."""
    found = cli("help", "spirit", "off", "--json").json
    shown = page("spirit-off")
    assert found == {
        "topic": "spirit-off",
        "title": shown.title,
        "group": "the steps",
        "text": shown.text,
        "see_also": list(shown.see_also),
        "sources": shown.sources,
    }


def test_a_commands_own_help_names_its_page(cli):
    """The last line of a command's help says where to read more."""
    assert cli("film", "--help").out.rstrip().endswith("To read more: finishsched help film")
    assert "finishsched help lists the pages" in " ".join(cli("--help").out.split())


def test_help_needs_no_shop_and_loads_little():
    """The handbook is read without a shop, a database, a screen or a unit of measure."""
    heavy = {"pint", "yaml", "sqlite3", "textual", "jinja2", "rich"}
    code = (
        "import sys; from finishsched.cli.run import run; run(['help', 'rags']);"
        f"sys.exit(bool({heavy} & set(sys.modules)))"
    )
    subprocess.run([sys.executable, "-c", code], check=True, capture_output=True)


def test_a_sheet_as_text(shop):
    """The demo's lid has its steps, its ticks and room to write, in 80 columns."""
    ran = shop("sheet", "lid")
    assert ran.status == 0
    assert ran.out.startswith("Sunburst lid (tea-chest/lid)\n")
    assert "  [x]  28  coat 3 of 8" in ran.out
    assert "  [ ]  30  coat 5 of 8" in ran.out
    assert "The product's safety data sheet and local codes come first." in ran.out
    assert max(map(len, ran.out.splitlines())) <= 80


def test_a_sheet_tells_what_is_mixed_in_words(shop):
    """What goes into a jar, or comes out of one, stands behind its own word, and plain in JSON."""
    lines = shop("sheet", "lid").out.splitlines()
    words = {line.split(":")[0].strip() for line in lines if line.startswith(("  mix", "  take"))}
    assert words == {"mix", "take"}
    assert not [line for line in lines if "('" in line or line != line.rstrip()]
    mixes = [text for step in shop("sheet", "lid", "--json").json["steps"] for text in step["mix"]]
    assert mixes
    assert all(isinstance(text, str) for text in mixes)


def test_a_sheet_as_a_page(shop):
    """It is written whole where it is wanted, over an older sheet."""
    page_file = shop.cwd / "lid.html"
    ran = shop("sheet", "lid", "--out", "lid.html")
    assert (ran.status, ran.out) == (0, f"wrote {page_file}\n")
    assert page_file.read_text("utf-8").startswith("<!DOCTYPE html>")
    assert shop("sheet", "lid", "--out", "lid.html", "--json").json["file"] == str(page_file)


def test_a_sheet_as_json(shop):
    """One object with every step of the piece, and no file."""
    found = shop("sheet", "lid", "--json").json
    assert (found["piece"], found["file"]) == ("tea-chest/lid", None)
    assert sum(len(step["lines"]) for step in found["steps"]) == 69
    assert found["steps"][0]["topic"] == "sand"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("lidd",), "no piece 'lidd'; did you mean 'lid'?"),
        (("lid", "--out", "lid.pdf"), "--out: 'lid.pdf' is not a page"),
        (("lid", "--out", "no/where.html"), "--out: 'no/where.html' names no file in a folder"),
    ],
)
def test_a_sheet_that_cannot_be(shop, arguments, said):
    """A wrong piece or place is one line, and nothing is written."""
    before = sorted(path.name for path in shop.cwd.iterdir())
    ran = shop("sheet", *arguments)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err_lines[-1].startswith(said)
    assert sorted(path.name for path in shop.cwd.iterdir()) == before
