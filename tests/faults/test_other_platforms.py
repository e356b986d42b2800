"""What other systems lack is never needed: everything loads without what POSIX alone has."""

from __future__ import annotations

import subprocess
import sys

WITHOUT_POSIX = """
import os, pkgutil, signal, sys, importlib
for name in ("fcntl", "termios", "tty", "pty", "grp", "pwd", "resource"):
    sys.modules[name] = None
for name in ("killpg", "fork", "nice", "setsid", "mkfifo", "getpgid"):
    if hasattr(os, name):
        delattr(os, name)
for name in ("SIGKILL", "SIGHUP", "SIGALRM", "SIGUSR1", "SIGTSTP", "SIGCONT", "SIGWINCH"):
    if hasattr(signal, name):
        delattr(signal, name)
import finishsched
skipped = ("finishsched.__main__", "finishsched.planning.exact")
for found in pkgutil.walk_packages(finishsched.__path__, "finishsched."):
    if not found.name.startswith(skipped):
        importlib.import_module(found.name)

import asyncio
from finishsched.bench.leaving import leave_on_signals
async def begin():
    leave_on_signals(lambda: None)
asyncio.run(begin())

import tempfile
from pathlib import Path
from finishsched.cli.run import run
from finishsched.cli.surroundings import Surroundings
place = Path(tempfile.mkdtemp())
world = Surroundings(cwd=place, variables={"FINISHSCHED_DATA": str(place)})
print(run(["new", "shop"], world))
world = Surroundings(cwd=place / "shop", variables={"FINISHSCHED_DATA": str(place)})
print(run(["due"], world), run(["backup", str(place / "a.zip")], world))
"""


def test_everything_loads_and_works_without_posix():
    """Every module loads, a shop is made, looked at and backed up with nothing of POSIX's own."""
    done = subprocess.run(
        [sys.executable, "-c", WITHOUT_POSIX], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert "0 0" in done.stdout
