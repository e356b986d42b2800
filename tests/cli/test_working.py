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


def told(monkeypatch, stream: io.StringIO, patience_s: float, *, heard: bool) -> str:
    """Return what is said while something takes as long as it takes to hear of it, or no time."""
    monkeypatch.setattr("sys.stderr", stream)
    monkeypatch.setattr(working, "_PATIENCE_S", patience_s)
    monkeypatch.setattr(working, "_BEAT_S", 0.02)
    with working.working("keeping the shop"):
        for _ in range(3000):
            if not heard or stream.getvalue():
                break
            time.sleep(0.01)
    return stream.getvalue()


def test_long_work_is_told_at_a_terminal_and_the_line_is_gone_after(monkeypatch):
    """With what it is about; the last thing written is the empty line."""
    said = told(monkeypatch, Terminal(), 0.02, heard=True)
    assert "keeping the shop: 0 s" in said
    assert said.endswith(" \r")


def test_short_work_says_nothing_and_no_terminal_is_told_anything(monkeypatch):
    """Silent before a second is over, and always where nobody looks."""
    assert told(monkeypatch, Terminal(), 60.0, heard=False) == ""
    assert told(monkeypatch, io.StringIO(), 0.0, heard=False) == ""
