"""When the terminal goes, the bench goes: within seconds, whatever holds it up."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys

import pytest

PATIENCE_S = 300
"""For programs on a machine that is busy with everything else; it is no measure of anything."""
HELD_UP = """
import asyncio, queue
from finishsched.bench.leaving import leave_on_signals

async def main():
    leave_on_signals(lambda: print("asked", flush=True))
    print("ready", flush=True)
    queue.Queue(1).put(0) or queue.Queue(1).get()

asyncio.run(main())
"""
IN_ORDER = """
import asyncio
from finishsched.bench.leaving import leave_on_signals

async def main():
    done = asyncio.Event()
    leave_on_signals(done.set)
    print("ready", flush=True)
    await done.wait()
    print("in order", flush=True)

asyncio.run(main())
"""

TOLD_AND_HELD_UP = """
import asyncio, os, queue, signal
from finishsched.bench import leaving

async def main():
    leaving.LEAVE_S = 0.1
    leaving.leave_on_signals(lambda: None)
    os.kill(os.getpid(), signal.SIGTERM)
    queue.Queue(1).get()

asyncio.run(main())
"""

pytestmark = pytest.mark.skipif(os.name != "posix", reason="signals of POSIX")


def started(program):
    """Start a program that says when it is ready."""
    running = subprocess.Popen([sys.executable, "-c", program], stdout=subprocess.PIPE, text=True)
    assert running.stdout.readline() == "ready\n"
    return running


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_held_up_bench_goes_all_the_same(number):
    """With its main thread blocked for ever, a polite signal ends it all the same."""
    running = started(HELD_UP)
    running.send_signal(number)
    assert running.wait(timeout=PATIENCE_S) == 128 + number
    running.stdout.close()


def test_a_bench_that_is_not_held_up_leaves_in_order():
    """A polite signal ends it as its own key does, and nothing is cut short."""
    running = started(IN_ORDER)
    running.send_signal(signal.SIGTERM)
    assert running.communicate(timeout=PATIENCE_S)[0] == "in order\n"
    assert running.returncode == 0


@pytest.mark.skipif(shutil.which("faketime") is None, reason="no faketime to move the clock")
def test_a_moved_clock_does_not_hold_up_the_deadline():
    """Where every clock of the process was moved, a bench that is held up still ends."""
    moved = ["faketime", "2026-01-02 18:00:00", sys.executable, "-c", TOLD_AND_HELD_UP]
    assert subprocess.run(moved, timeout=PATIENCE_S, check=False).returncode == 128 + signal.SIGTERM
