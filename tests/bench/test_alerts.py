"""Sound, flash and the user's own command: once for each thing, never in the quiet, none lost."""

from __future__ import annotations

import sys
from datetime import timedelta
from pathlib import Path

import pytest
from fakes import HOUR, MINUTE, NOW, ZONE, Clocks, FakeDoor, FakePiece, bench
from real_shop import PATIENCE_S, until
from test_board import drawn

from finishsched.bench.telling.alerts import Alerts, is_quiet, run_command
from finishsched.bench.telling.notices import Notices
from finishsched.bench.widgets.top_line import TopLine
from finishsched.model.settings import Quiet
from finishsched.workshop.base.answers import Window, WindowKind
from finishsched.workshop.base.notice import Notice
from finishsched.workshop.views.notices import NOBODY_LOOKED
from finishsched.workshop.views.told_today import ToldToday

NIGHT = Quiet(22 * 60, 7 * 60)


def heard_in(quiet: Quiet | None = None) -> Alerts:
    """Return alerts that remember nothing from before."""
    return Alerts(quiet, ToldToday(None, lambda: NOW))


def absence(span: str) -> Notice:
    """Return the notice that nobody looked."""
    return Notice(f"{NOBODY_LOOKED} {span}", about=NOBODY_LOOKED)


def test_what_several_have_in_common_is_said_once() -> None:
    """Five that come due are one sentence; one fewer words it anew, one more puts it up again."""
    parts = [FakePiece(f"a/{name}", name, laid_at=NOW - 5 * HOUR) for name in "ABCDE"]
    door, heard = FakeDoor(parts), heard_in()
    told = heard.look(door.bench_view(NOW))
    five = "A, B, C and 2 more likely dry; make the dry check"
    assert told.add == (five,)
    assert told.sound == "A, B, C and 2 more likely dry"
    parts[0].laid_at = None
    fewer = heard.look(door.bench_view(NOW))
    assert not fewer.sound
    assert not fewer.add
    four = "B, C, D and E likely dry; make the dry check"
    assert fewer.reword == ((five, four),)
    parts[0].laid_at = NOW - 6 * HOUR
    again = heard.look(door.bench_view(NOW))
    assert again.sound == "A likely dry since 16:42"
    assert again.withdraw == (four,)


def test_a_bench_opened_again_says_nothing_twice_within_a_day(tmp_path: Path) -> None:
    """Neither rings it again nor shows what was dismissed; after a day it does both."""
    clocks = Clocks()
    door = FakeDoor([FakePiece("a/a", "Lid", laid_at=NOW - 5 * HOUR)], ("a fault",))

    def opened() -> tuple[Alerts, Notices]:
        told = ToldToday(tmp_path, lambda: clocks.wall)
        return Alerts(None, told), Notices(told)

    heard, notices = opened()
    assert heard.look(door.bench_view(NOW)).sound
    notices.take_from_shop((Notice("a fault"), absence("8 h 00")))
    notices.dismiss_first()
    clocks.forward(2 * HOUR)
    heard, notices = opened()
    assert not heard.look(door.bench_view(clocks.wall)).sound
    notices.take_from_shop((Notice("a fault"), absence("7 h 50")))
    assert notices.open == ()
    clocks.forward(24 * HOUR)
    heard, notices = opened()
    assert heard.look(door.bench_view(clocks.wall)).sound
    notices.take_from_shop((Notice("a fault"),))
    assert notices.open == ("a fault",)


def epoxy(left: timedelta) -> Window:
    """Return the pot life of half an hour of a mix with ``left`` to go."""
    return Window(
        WindowKind.POT, "pot 3", "epoxy", NOW + left - HOUR / 2, NOW + left, NOW
    )  # fmt: skip


def test_rings_once_for_each_wait() -> None:
    """A wait rings once; a new wait, or one begun again by 'not yet', rings again."""
    piece = FakePiece("a/a", "A", laid_at=NOW - 5 * HOUR)
    door, heard = FakeDoor([piece]), heard_in()
    assert heard.look(door.bench_view(NOW)).sound.startswith("A likely dry since")
    assert not heard.look(door.bench_view(NOW + MINUTE)).sound
    piece.not_yet.append(NOW)
    assert not heard.look(door.bench_view(NOW + MINUTE)).sound
    assert heard.look(door.bench_view(NOW + 2 * HOUR)).sound
    assert not heard.look(door.bench_view(NOW + 40 * HOUR)).sound


def test_a_window_rings_before_it_closes_and_when_it_has() -> None:
    """In its last quarter a pot life is told, and once more when it is over."""
    door, heard = FakeDoor([]), heard_in()
    door.windows = (epoxy(10 * MINUTE),)
    assert not heard.look(door.bench_view(NOW)).sound
    assert heard.look(door.bench_view(NOW + 3 * MINUTE)).sound == "pot 3: pot life closes 18:52"
    assert not heard.look(door.bench_view(NOW + 4 * MINUTE)).sound
    over = heard.look(door.bench_view(NOW + 11 * MINUTE))
    assert over.sound == "pot 3: pot life closed 18:52"
    assert over.withdraw == ("pot 3: pot life closes 18:52",)


def test_nothing_sounds_in_the_quiet_and_nothing_is_lost() -> None:
    """What came in the night is told, and rung for, once the silence ends."""
    piece = FakePiece("a/a", "Lid", laid_at=NOW)
    door, heard = FakeDoor([piece]), heard_in(NIGHT)
    night = heard.look(door.bench_view(NOW + 5 * HOUR))
    assert night.sound == ""
    assert night.add == ("Lid likely dry since 22:42; make the dry check",)
    assert heard.look(door.bench_view(NOW + 11 * HOUR)).sound == ""
    morning = heard.look(door.bench_view(NOW + 12.5 * HOUR))
    assert morning.add == ("while quiet: Lid likely dry since 22:42",)
    assert morning.sound == "Lid likely dry since 22:42"
    assert heard.look(door.bench_view(NOW + 13 * HOUR)).sound == ""


@pytest.mark.parametrize(
    ("quiet", "hour", "is_so"),
    [
        (NIGHT, 23, True),
        (NIGHT, 3, True),
        (NIGHT, 7, False),
        (Quiet(12 * 60, 13 * 60), 12, True),
        (Quiet(12 * 60, 13 * 60), 13, False),
        (None, 3, False),
    ],
)
def test_the_hours_of_silence_are_the_shops(quiet: Quiet | None, hour: int, is_so: bool) -> None:  # noqa: FBT001
    """They go by the wall clock, may pass midnight, and end on the minute."""
    wall = NOW.astimezone(ZONE).replace(hour=hour, minute=0)
    assert is_quiet(quiet, wall, ZONE) is is_so


def test_the_command_gets_the_words_and_no_shell(tmp_path: Path) -> None:
    """What looks like a command or an option in a title arrives as plain words."""
    out = tmp_path / "said"
    code = f"import os, sys; open({str(out)!r}, 'w').write(repr((sys.argv[1:], os.environ['FINISHSCHED_TEXT'])))"  # noqa: E501
    text = "--help; $(touch /tmp/never) `id`\x1b[31m"
    assert run_command([sys.executable, "-c", code], text, {}, PATIENCE_S) == ""
    said = "finishsched: --help; $(touch /tmp/never) `id`[31m"
    assert out.read_text() == repr(([said], said))


@pytest.mark.parametrize(
    ("command", "fault"),
    [
        (["/no/such/command"], "cannot be run: /no/such/command: No such file"),
        ([sys.executable, "-c", "raise SystemExit(3)"], "failed with status 3"),
        ([sys.executable, "-c", "import time; time.sleep(30)"], "took longer than 0.2 s"),
        (["a\0b"], "cannot be run"),
    ],
)
def test_a_command_that_fails_is_told(command: list[str], fault: str) -> None:
    """A missing, a failing and a hanging command each come back as one sentence."""
    assert fault in run_command(command, "x", {}, 0.2 if "30" in command[-1] else PATIENCE_S)


async def test_ready_flashes_rings_and_runs_the_command(tmp_path: Path) -> None:
    """As the likely time passes: the bell, the top line reversed for a moment, the command."""
    out, clocks = tmp_path / "said", Clocks()
    code = f"import sys; open({str(out)!r}, 'a').write(sys.argv[1] + chr(10))"
    app = bench(
        FakeDoor([FakePiece("a/a", "Lid", laid_at=NOW)]),
        clocks,
        notify=(sys.executable, "-c", code),
    )
    async with app.run_test() as pilot:
        clocks.forward(4 * HOUR)
        app.beat()
        assert app.query_one(TopLine).has_class("-flash")
        await app.workers.wait_for_complete()
        await until(pilot, lambda: not app.query_one(TopLine).has_class("-flash"))
        app.beat()
        await app.workers.wait_for_complete()
    assert app.rings == 1
    assert out.read_text() == "finishsched: Lid likely dry since 22:42\n"


async def test_a_failing_command_is_told_once() -> None:
    """The first failure is a notice; the second says nothing new."""
    first, second = FakePiece("a/a", "A", laid_at=NOW), FakePiece("a/b", "B", laid_at=NOW + HOUR)
    clocks = Clocks()
    app = bench(FakeDoor([first, second]), clocks, notify=("/no/such/command",), flash=False)
    async with app.run_test() as pilot:
        for _ in range(2):
            clocks.forward(4 * HOUR)
            app.beat()
            await app.workers.wait_for_complete()
            await pilot.pause()
        assert sum("notify cannot be run" in text for text in app.notices.every) == 1
        assert app.rings == 2


async def test_in_silence_the_board_still_shows_it() -> None:
    """No bell, no flash; the banner stands there for whoever looks."""
    clocks = Clocks()
    app = bench(FakeDoor([FakePiece("a/a", "Lid", laid_at=NOW)]), clocks, quiet=NIGHT)
    async with app.run_test(size=(120, 40)) as pilot:
        clocks.forward(5 * HOUR)
        app.beat()
        await pilot.pause()
        assert "Lid likely dry since 22:42" in drawn(app, "notice")
        assert app.rings == 0
        assert not app.query_one(TopLine).has_class("-flash")
        clocks.forward(8 * HOUR)
        app.beat()
        await pilot.pause()
        assert app.rings == 1
        assert any(text.startswith("while quiet: Lid") for text in app.notices.every)
