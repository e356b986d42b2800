"""What the bench costs: its first paint beside an empty app's, an entry, and sitting idle.

    python tests/speed/measure_bench.py
    python tests/speed/measure_bench.py FOLDER      # the shop in FOLDER, such as a long journal's

Processor time, not time on the wall, so that a busy machine tells much the same; in a terminal of
80 by 24. An entry is timed until the terminal is sent something that says ``drying``, on the thread
that draws: the plan that follows it is made beside. The program's bytecode is made first, as it is
where the program is installed.
"""

from __future__ import annotations

import compileall
import os
import pty
import re
import select
import struct
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

import finishsched
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.demo.demo import make_demo
from finishsched.workshop.demo.starter import make_shop
from finishsched.workshop.keeping.notebook import import_notebook

RUNS = 5
CLOCKS, PIECES = 40, 100
STEPS_TO_A_CLOCK = 9
"""Of the schedule below: its ninth step is the first that has to dry."""
IDLE_S, TURN_S, LONGEST_TURNS = 30.0, 4.0, 20
TICKS = os.sysconf("SC_CLK_TCK")
EMPTY_APP = """
from textual.app import App
from textual.widgets import Label
class Empty(App):
    def compose(self):
        yield Label("PAINTED")
Empty().run()
"""
PICTURE, LIVE = rb"as it stood|reading the shop", rb"\d deg[CF]"
"""What only the picture that was kept shows, and what only the board of now does."""
JOB = """\
job: many
title: Many boxes
pieces:
"""
PIECE = (
    "  - {{piece: b{0}, title: Box {0}, schedule: padded-shellac-closed-pored, species: maple,"
    " faces: [{{face: top, length: 300 mm, width: 200 mm}}]}}\n"
)


class Terminal:
    """A program on a terminal of its own."""

    def __init__(self, command: Sequence[str]) -> None:
        self.child, self.end = pty.fork()
        if self.child == 0:
            import fcntl  # POSIX alone has terminals such as this
            import termios

            fcntl.ioctl(0, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
            os.environ.update(TERM="xterm-256color", COLUMNS="80", LINES="24")
            os.execv(command[0], list(command))

    def cpu_s(self, *, draws: bool = False) -> float:
        """Return what the program, or only its thread that draws, has used of a processor."""
        if draws:
            nanoseconds = Path(f"/proc/{self.child}/task/{self.child}/schedstat").read_text("utf-8")
            return int(nanoseconds.split()[0]) / 1e9
        fields = Path(f"/proc/{self.child}/stat").read_text("utf-8").rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / TICKS

    def settle(self) -> None:
        """Wait until the program does next to nothing: its plan is made."""
        for _ in range(LONGEST_TURNS):
            begun = self.cpu_s()
            self.read(TURN_S)
            if self.cpu_s() - begun < TURN_S / 20:
                return

    def read(self, most_s: float, until: bytes = b"") -> bytes:
        """Read what is sent for so long, or until it says something."""
        seen, ends = b"", time.monotonic() + most_s
        while (wait_s := ends - time.monotonic()) > 0:
            if select.select([self.end], [], [], wait_s)[0]:
                seen += os.read(self.end, 65_536)
                if until and re.search(until, seen):
                    break
        return seen


@contextmanager
def terminal(command: Sequence[str]) -> Iterator[Terminal]:
    """Give a program on a terminal, which is ended afterwards."""
    made = Terminal(command)
    try:
        yield made
    finally:
        os.kill(made.child, 9)
        os.waitpid(made.child, 0)
        os.close(made.end)


def paint_s(command: Sequence[str], mark: bytes) -> float:
    """Return the least processor time until a mark is shown."""
    found = []
    for _ in range(RUNS):
        with terminal(command) as shown:
            shown.read(60.0, mark)
            found.append(shown.cpu_s())
    return min(found)


def drying_shop(folder: Path, pieces: int, *, running: int) -> None:
    """Make a shop of so many pieces that are begun, of which so many have a clock that runs."""
    now = datetime.now(UTC)
    make_shop(folder, example=False)
    named = "".join(map(PIECE.format, range(pieces)))
    (folder / "jobs" / "many.yaml").write_text(JOB + named, "utf-8")
    with Workshop.open(folder, now) as workshop:
        local = now.astimezone(workshop.zone)
        rows = [
            f"many/b{number},{local - timedelta(minutes=60 - 5 * turn):%Y-%m-%d,%H:%M},done"
            for number in range(pieces)
            for turn in range(STEPS_TO_A_CLOCK if number < running else STEPS_TO_A_CLOCK - 1)
        ]
        import_notebook(workshop, "piece,date,time,entry\n" + "\n".join(rows), now)


def entry_s(shop: Path) -> list[float]:
    """Return the processor time from the key that logs to its showing, the least first."""
    found = []
    with terminal(bench(shop)) as shown:
        for _ in range(RUNS):
            shown.settle()
            begun = shown.cpu_s(draws=True)
            os.write(shown.end, b" ")
            shown.read(5.0, b"drying")
            found.append(shown.cpu_s(draws=True) - begun)
            shown.settle()
            os.write(shown.end, b"u")
    return sorted(found)


def idle(shop: Path) -> tuple[float, float]:
    """Return the share of a processor in percent, and bytes a second, of a bench left alone."""
    with terminal(bench(shop)) as shown:
        shown.settle()
        begun = shown.cpu_s()
        sent = len(shown.read(IDLE_S))
        return 100 * (shown.cpu_s() - begun) / IDLE_S, sent / IDLE_S


def bench(shop: Path) -> list[str]:
    """Return the command that opens the bench of a shop."""
    return [sys.executable, "-m", "finishsched", "--shop", str(shop)]


def main(named: str | None) -> None:
    """Measure and print."""
    compileall.compile_dir(Path(finishsched.__file__).parent, quiet=2)
    with tempfile.TemporaryDirectory() as made:
        place = Path(made)
        os.environ["FINISHSCHED_CACHE"] = str(place / "cache")
        os.environ["FINISHSCHED_DATA"] = str(place / "data")
        shop = Path(named) if named else place / "demo"
        if not named:
            make_demo(shop, datetime.now(UTC))
        with terminal(bench(shop)) as first:
            first.settle()  # it keeps its picture, its plan, and what its documents say
        empty_s = paint_s([sys.executable, "-c", EMPTY_APP], b"PAINTED")
        print(f"empty app to first paint        {1000 * empty_s:6.0f} ms")
        for name, mark in (("kept picture", PICTURE), ("board of now", LIVE)):
            found_s = paint_s(bench(shop), mark)
            print(f"{name:<31} {1000 * found_s:6.0f} ms {found_s / empty_s:6.2f} times")
        drying_shop(place / "many", PIECES, running=CLOCKS)
        each_ms = ", ".join(f"{1000 * one_s:.0f}" for one_s in entry_s(place / "many"))
        print(f"an entry among {PIECES} pieces       {each_ms} ms")
        drying_shop(place / "clocks", CLOCKS, running=CLOCKS)
        percent, rate = idle(place / "clocks")
        print(
            f"idle with {CLOCKS} clocks             {percent:6.2f} % of a core {rate:6.0f} bytes/s"
        )


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else None)
