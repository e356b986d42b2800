"""Long work says that it goes on, to somebody who looks, and to nobody else."""

from __future__ import annotations

import io
import re
import time

import click
import pytest

from finishsched.cli import outgoing, working
from finishsched.cli.commands import COMMANDS


class Terminal(io.StringIO):
    """A standard error that somebody looks at."""

    def isatty(self) -> bool:
        """Say so."""
        return True


def until(is_so) -> None:
    """Wait until something is so; what never is so fails where it is asked for."""
    for _ in range(12_000):
        if is_so():
            return
        time.sleep(0.01)


def told(monkeypatch, stream: io.StringIO, patience_s: float, *, heard: bool) -> str:
    """Return what is said while something takes as long as it takes to hear of it, or no time."""
    monkeypatch.setattr("sys.stderr", stream)
    monkeypatch.setattr(working, "_PATIENCE_S", patience_s)
    monkeypatch.setattr(working, "_BEAT_S", 0.02)
    with working.working("keeping the shop"):
        until(lambda: not heard or stream.getvalue())
    return stream.getvalue()


def test_long_work_is_told_at_a_terminal_and_the_line_is_gone_after(monkeypatch):
    """With what it is about; the last thing written is the empty line."""
    said = told(monkeypatch, Terminal(), 0.02, heard=True)
    assert re.search(r"keeping the shop: \d+ s", said)
    assert said.endswith(" \r")


def test_short_work_says_nothing_and_no_terminal_is_told_anything(monkeypatch):
    """Silent before a second is over, and always where nobody looks."""
    assert told(monkeypatch, Terminal(), 60.0, heard=False) == ""
    assert told(monkeypatch, io.StringIO(), 0.0, heard=False) == ""


def test_what_is_said_meanwhile_stands_on_a_line_of_its_own(monkeypatch):
    """The line is wiped before an answer, so that no word of either is lost in the other."""
    both = Terminal()
    monkeypatch.setattr("sys.stderr", both)
    monkeypatch.setattr("sys.stdout", both)
    monkeypatch.setattr(working, "_PATIENCE_S", 0.02)
    monkeypatch.setattr(working, "_BEAT_S", 0.02)
    with working.working("keeping the shop"):
        working.so_far("half of it")
        until(lambda: "half of it" in both.getvalue())
        outgoing.say("kept")
    drawn, _, after = both.getvalue().partition("kept\n")
    assert "half of it" in drawn
    assert drawn.endswith(" \r")
    assert after == "" or after.endswith(" \r")


@pytest.mark.parametrize("where", [["-q", "due"], ["due", "-q"]])
def test_quiet_holds_before_and_after_a_command(shop, where):
    """Neither a notice nor progress is said; without it there is a notice to say."""
    (shop.cwd / "settings.yaml").write_text("settings: bench\ntheme: pink\n")
    assert any("pink" in line for line in shop("due").err_lines)
    assert shop(*where).err_lines == []


@pytest.mark.parametrize("where", [["--verbose", "due"], ["due", "--verbose"]])
def test_verbose_holds_before_and_after_a_command(shop, where):
    """The shop and the settings that are worked with are told, and a shop that is named."""
    said = shop(*where).err
    assert f"shop: {shop.cwd}\n" in said
    assert "settings: " in said
    assert shop("new", "other").status == 0
    assert f"shop: {shop.cwd / 'other'}\n" in shop(*where, "--shop", "other").err


def test_every_command_but_the_quick_ones_says_that_it_works():
    """None is left silent, but for those that open a screen, follow a file or only reckon."""
    for name in COMMANDS:
        command = click.Command(name, callback=lambda: None)
        before = command.callback
        working.tell_of(name, command)
        assert (command.callback is before) == (name in working.SILENT), name
    assert set(working.SLOW) | working.SILENT <= set(COMMANDS)
