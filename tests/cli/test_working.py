"""Long work says that it goes on, to somebody who looks, and to nobody else."""

from __future__ import annotations

import io
import time

from finishsched.cli import working


class Terminal(io.StringIO):
    """A standard error that somebody looks at."""

    def isatty(self) -> bool:
        """Say so."""
        return True


def told(monkeypatch, stream: io.StringIO, seconds: float) -> str:
    """Return what is said while something takes a while."""
    monkeypatch.setattr("sys.stderr", stream)
    monkeypatch.setattr(working, "_PATIENCE_S", 0.02)
    monkeypatch.setattr(working, "_BEAT_S", 0.02)
    with working.working("keeping the shop"):
        time.sleep(seconds)
    return stream.getvalue()


def test_long_work_is_told_at_a_terminal_and_the_line_is_gone_after(monkeypatch):
    """With what it is about; the last thing written is the empty line."""
    said = told(monkeypatch, Terminal(), 0.2)
    assert "keeping the shop: 0 s" in said
    assert said.endswith(" \r")


def test_short_work_says_nothing_and_no_terminal_is_told_anything(monkeypatch):
    """Silent before a second is over, and always where nobody looks."""
    assert told(monkeypatch, Terminal(), 0.0) == ""
    assert told(monkeypatch, io.StringIO(), 0.1) == ""
