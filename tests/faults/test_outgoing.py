"""Words that leave the program: nothing that a terminal obeys, and nothing that cannot be sent."""

from __future__ import annotations

import io
import json
import re
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched import signs
from finishsched.cli import outgoing
from finishsched.cli.outgoing import clean, say, say_json, shown
from finishsched.cli.run import run
from finishsched.cli.surroundings import Surroundings
from finishsched.signs import is_plain
from finishsched.workshop.demo.demo import make_demo

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
CLIPBOARD = "\x1b]52;c;cm0gLXJm\x07"
BACKWARDS = "\u202efdp.exe"
EIGHT_BIT = "\x9b31m"


@given(st.text())
def test_no_sign_that_a_terminal_obeys_is_left(text):
    """Whatever somebody's text or a file's name holds, each sign that leaves is one to be seen."""
    assert clean(text).isprintable()
    assert clean(text) == text or not text.isprintable()


@given(st.text(), st.sampled_from(["ascii", "latin-1", "cp437", "cp1252", "koi8-r", "utf-8"]))
def test_every_encoding_takes_what_is_shown(text, encoding):
    """In any encoding a sign is there, or a plain one in its place."""
    stream = io.TextIOWrapper(io.BytesIO(), encoding=encoding)
    shown(clean(text), stream).encode(encoding)


def test_drawings_keep_their_columns():
    """A plain sign is as wide as the drawing sign that it stands for."""
    drawing = "│ ▁▂▃▄▅▆▇█ ░▒ ─┼─ ↑↓→← · –"
    assert len(shown(drawing, None)) == len(drawing)
    assert shown("20 °C × 1½ µm", io.TextIOWrapper(io.BytesIO(), "ascii")).isascii()


@pytest.mark.parametrize("kind", ["dumb", "linux"])
def test_plain_terminals_and_wishes_are_known(kind):
    """A terminal without drawing signs, or the variable, asks for plain ones; others do not."""
    assert is_plain({"TERM": kind})
    assert is_plain({"FINISHSCHED_PLAIN": "1", "TERM": "xterm-256color"})
    assert not is_plain({"TERM": "xterm-256color"})


def test_json_stays_json(capsys):
    """Escapes in JSON are JSON's own, so that the value comes back as it was."""
    data = {"name": CLIPBOARD + BACKWARDS + EIGHT_BIT + "\U000e0001ü"}
    say_json(data)
    printed = capsys.readouterr().out
    assert printed.rstrip("\n").isprintable()
    assert json.loads(printed) == data


def test_errors_are_cleaned_too(capsys):
    """What is told on standard error passes the same place."""
    say(f"no {CLIPBOARD}", err=True)
    assert "\x1b" not in capsys.readouterr().err


def ran(folder, *words):
    """Run one command in ``folder`` and return its status."""
    variables = {"FINISHSCHED_DATA": str(folder)}
    return run(words, Surroundings(now=lambda: NOW, cwd=folder, variables=variables))


@pytest.mark.skipif(sys.platform == "win32", reason="such names are none there")
def test_names_of_files_and_folders_reach_no_terminal_raw(tmp_path, capsys):
    """Through check, due, backup and a wrong path no escape and no turned direction gets out."""
    shop = tmp_path / f"shop{CLIPBOARD}{BACKWARDS}"
    assert ran(tmp_path, "new", str(shop)) == 0
    (shop / "jobs" / f"{CLIPBOARD}.yaml").write_text("job: 3\n")
    commands = (
        ("check",),
        ("due",),
        ("backup", str(tmp_path / f"{BACKWARDS}.zip")),
        ("restore", str(tmp_path / f"none{CLIPBOARD}.zip"), str(tmp_path / "x")),
        ("export", "--journal", f"{CLIPBOARD}/x"),
        (CLIPBOARD,),
    )
    for words in commands:
        assert ran(shop, *words) in (0, 1, 2)
        said = capsys.readouterr()
        assert (said.out + said.err).replace("\n", "").isprintable(), words


@pytest.mark.parametrize(
    ("encoding", "terminal"),
    [("cp1252", "xterm"), ("iso-8859-1", "xterm"), ("ascii", "dumb"), ("utf-8", "linux")],
)
def test_drawings_reach_any_terminal(encoding, terminal, demo_shop, monkeypatch):
    """The film's drawing and the bench sheet print in three encodings and on bare terminals."""
    monkeypatch.setenv("TERM", terminal)
    signs.fitting.cache_clear()
    for words in (("film", "tea-chest/lid"), ("sheet", "tea-chest/lid"), ("due",)):
        out = io.TextIOWrapper(io.BytesIO(), encoding)
        monkeypatch.setattr(sys, "stdout", out)
        assert ran(demo_shop, *words) == 0
        out.flush()
        said = out.buffer.getvalue().decode(encoding)
        assert said
        assert terminal == "xterm" or all(sign < "\u0100" or sign.isalpha() for sign in said)


@pytest.fixture(scope="module")
def demo_shop(tmp_path_factory):
    """Return the demo's shop."""
    folder = tmp_path_factory.mktemp("demo") / "shop"
    make_demo(folder, NOW)
    return folder


def test_the_table_of_plain_signs_is_plain():
    """Each stand-in is one sign that every encoding has."""
    assert all(len(plain) == 1 and plain.isascii() for plain in signs.PLAIN_SIGNS.values())


def test_nothing_else_in_the_command_line_prints():
    """Whatever a command says goes through the one place where words leave."""
    folder = Path(outgoing.__file__).parent
    printing = {
        path.relative_to(folder).as_posix()
        for path in folder.rglob("*.py")
        if re.search(r"click\.echo\(|(?<![\w.])print\(", path.read_text("utf-8"))
    }
    assert printing == {"outgoing.py"}
