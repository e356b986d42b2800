"""The first picture: what the board showed last, with no figure of then, and no key taken on it."""

import os
import pty
import select
import termios
import tty
from contextlib import suppress
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from real_shop import PATIENCE_S

from finishsched.bench import first_picture
from finishsched.bench.app import BenchApp
from finishsched.bench.asking.door import ShopDoor
from finishsched.bench.at_terminal import _going_on_from_the_picture, at_terminal
from finishsched.bench.first_picture import OTHER_SCREEN, Kept, drawn, keep, kept, without_figures
from finishsched.bench.lasting import CHANGED_MEANWHILE
from finishsched.documents import cache_folder
from finishsched.model.settings import Settings

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
PICTURE = Kept("Thistle Row", "Wed 25 Nov 18:00", (" top 18:00", "? check  Lid  ·· min", "▀█ 0:14"))


@pytest.fixture(autouse=True)
def cache(tmp_path, monkeypatch):
    """Keep pictures in a folder of the test's own."""
    monkeypatch.setenv("FINISHSCHED_CACHE", str(tmp_path / "cache"))
    cache_folder.cache_folder.cache_clear()
    yield tmp_path / "cache"
    cache_folder.cache_folder.cache_clear()


@given(st.text())
def test_no_figure_is_left_in_a_line(text):
    """Neither a digit of any script nor a sign of large letters and bars can be read on it."""
    line = without_figures(text)
    assert len(line) == len(text)
    assert not any(sign.isnumeric() or "\u2500" <= sign <= "\u259f" for sign in line)
    assert all(sign.isprintable() for sign in line)


def test_a_picture_is_shown_with_when_it_was(tmp_path):
    """The top line says of when it is and that it has no clocks; the rows are masked and dim."""
    keep(tmp_path, 80, PICTURE)
    found = kept(tmp_path, 80, 3)
    assert found == PICTURE
    shown = drawn(found, tmp_path, 80)
    assert "Thistle Row: as it stood Wed 25 Nov 18:00, without its clocks; reading" in shown
    assert "? check  Lid" in shown
    assert "0:14" not in shown
    assert shown.index("\x1b[2m") < shown.index("check")


def test_without_a_picture_only_the_reading_is_told(tmp_path):
    """A shop that was never shown, another size and garbage all begin with one line."""
    assert kept(tmp_path, 80, 3) is None
    keep(tmp_path, 80, PICTURE)
    assert kept(tmp_path, 60, 3) is None
    next((cache_folder.cache_folder() / "pictures").iterdir()).write_text('["a", 3]')
    assert kept(tmp_path, 80, 3) is None
    assert f" {tmp_path.name}: reading the shop" in drawn(None, tmp_path, 80)


@pytest.fixture
def terminal(monkeypatch):
    """Return the far end of a terminal, and the screen of a process at its near end."""
    far, near = pty.openpty()
    tty.setcbreak(far)
    monkeypatch.setattr(first_picture.signal, "signal", lambda *_: None)
    yield far, near, first_picture._Screen(near, near, termios.tcgetattr(near))
    os.close(far)
    os.close(near)


def test_keys_on_the_picture_are_not_taken(terminal, tmp_path, monkeypatch):
    """What is pressed while it shows is neither seen nor left for the bench, which may differ."""
    far, near, screen = terminal
    monkeypatch.setattr(first_picture.os, "get_terminal_size", lambda _: (80, 24))
    before = termios.tcgetattr(near)
    screen.show(tmp_path)
    assert OTHER_SCREEN.encode() in _all_until(far, OTHER_SCREEN.encode())
    assert not termios.tcgetattr(near)[3] & termios.ECHO
    os.write(far, b"   ")
    assert select.select([near], [], [], PATIENCE_S)[0]
    assert screen.hand_over()
    assert termios.tcgetattr(near) == before
    os.write(far, b"x\n")
    assert os.read(near, 100) == b"x\n"
    screen.take_back()
    os.set_blocking(far, False)
    with suppress(BlockingIOError):
        assert b"1049l" not in os.read(far, 1000)


def test_what_takes_long_before_the_bench_is_told_in_the_top_line(terminal, monkeypatch):
    """Over what stood there, no longer than the screen is wide, and below it nothing changes."""
    far, _, screen = terminal
    monkeypatch.setattr(first_picture.os, "get_terminal_size", lambda _: (40, 24))
    screen.tell("finding the finished pieces anew, once: 40 % of 9000")
    told = _all_until(far, b"\x1b[0m").decode()
    assert told == "\x1b[1;1H\x1b[7m finding the finished pieces anew, once:\x1b[0m"


def _all_until(terminal, last):
    """Return what was written to a terminal, which may come late and in pieces, until the last."""
    came = b""
    while last not in came and select.select([terminal], [], [], PATIENCE_S)[0]:
        came += os.read(terminal, 65536)
    return came


def test_a_bench_that_never_opens_leaves_the_terminal_as_it_was(terminal, tmp_path, monkeypatch):
    """Where the shop cannot be opened, the usual screen, the cursor and the keys come back."""
    far, near, screen = terminal
    monkeypatch.setattr(first_picture.os, "get_terminal_size", lambda _: (80, 24))
    before = termios.tcgetattr(near)
    screen.show(tmp_path)
    screen.take_back()
    came = _all_until(far, b"\x1b[?1049l")
    assert came.endswith(b"\x1b[0m\x1b[?25h\x1b[?1049l")
    assert termios.tcgetattr(near) == before


def test_the_bench_goes_on_from_it_without_clearing():
    """The screen is not cleared where a picture is on it, and is when the bench comes back."""
    written = []

    class Usual:
        def write(self, data):
            written.append(data)

    driver = _going_on_from_the_picture(Usual)()
    for data in (OTHER_SCREEN, "a board", OTHER_SCREEN):
        driver.write(data)
    assert written == ["a board", OTHER_SCREEN]


async def test_the_board_keeps_its_picture(demo):
    """What the board shows is kept for this shop and size, with no figure in it."""
    app = BenchApp(ShopDoor(demo), now=lambda: NOW, settings=Settings(), surface=at_terminal)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        app.beat()
        await pilot.pause()
    found = kept(demo.folder, 80, 24)
    assert found is not None
    assert found.shop in "".join(found.lines)
    assert not any(sign.isnumeric() for line in found.lines for sign in line)


async def test_a_program_that_was_changed_says_so(demo):
    """A key whose module does not fit any more tells to come back, and the bench goes on."""
    app = BenchApp(ShopDoor(demo), now=lambda: NOW, settings=Settings(), surface=at_terminal)

    def gone():
        raise ImportError("cannot import name 'x'")

    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        app._doings["handbook"] = gone
        await pilot.press("h")
        assert CHANGED_MEANWHILE in [one.message for one in app._notifications]
        await pilot.press("down")
        assert app.is_running
