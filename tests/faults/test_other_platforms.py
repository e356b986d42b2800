"""What other systems lack is never needed: everything loads without what POSIX alone has."""

from __future__ import annotations

import subprocess
import sys

WITHOUT_POSIX = """
import os, pkgutil, signal, sys, importlib
import platformdirs  # it chooses by the name of the system, which is not hidden here
for name in ("fcntl", "termios", "tty", "pty", "grp", "pwd", "resource"):
    sys.modules[name] = None
for name in (
    "killpg", "fork", "forkpty", "nice", "setsid", "mkfifo", "getpgid", "getuid", "geteuid",
    "getgid", "getlogin", "fchmod", "fchown", "chown", "statvfs", "uname", "ttyname",
    "tcgetpgrp", "sync",
    "O_DIRECTORY", "O_NOFOLLOW", "O_NONBLOCK", "O_SYNC", "register_at_fork", "sched_getaffinity",
):
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
for words in (
    ["due"], ["check"], ["log", "first-box/lid", "start"], ["log", "first-box/lid", "done"],
    ["backup", str(place / "a.zip")], ["backup", "--check", str(place / "a.zip")],
    ["restore", str(place / "a.zip"), str(place / "again")],
    ["export", "--journal", str(place / "l.jsonl")],
    ["record", "first-box/lid", "--out", str(place / "record.html")], ["need", "first-box"],
    ["sheet", "first-box/lid"], ["plan"],
):
    print("status", run(words, world), words[0])

from finishsched.bench.telling.alerts import run_command
ended = run_command([sys.executable, "-c", "import time; time.sleep(60)"], "x", os.environ, 0.2)
print("notify", ended)
"""


def test_everything_loads_and_works_without_posix():
    """Every module loads, and a shop is made, worked in, kept and told with nothing of POSIX."""
    done = subprocess.run(
        [sys.executable, "-c", WITHOUT_POSIX], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    statuses = [line.split()[1:] for line in done.stdout.splitlines() if line.startswith("status")]
    assert [one for one in statuses if one[0] == "0" or one == ["1", "plan"]] == statuses
    assert len(statuses) == 12
    assert "took longer than 0.2 s and was ended" in done.stdout
