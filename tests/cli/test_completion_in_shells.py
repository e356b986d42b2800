"""The shells themselves complete what finishsched knows, each where it is installed."""

from __future__ import annotations

import os
import pty
import select
import shlex
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest

from finishsched.cli.begin.completion import script_for
from finishsched.workshop.demo.starter import make_shop

PROGRAM = Path(sys.executable).with_name("finishsched")
PATIENCE_S = 120.0
"""For a shell on a machine that is busy with everything else; it is no measure of anything."""
ASKED = [
    ("finishsched comple", "completion"),
    ("finishsched due --js", "--json"),
    ("finishsched film li", "lid"),
    ("finishsched log li", "lid"),
    ("finishsched record first-b", "first-box"),
    ("finishsched schedules tung", "tung-oil"),
    ("finishsched stock --product pum", "pumice"),
    ("finishsched defect lid orange", "orange peel"),
    ("finishsched help vap", "vapour"),
    ("finishsched change tung-oil/body/th", "tung-oil/body/thin-oil"),
]
"""A command, an option, a piece, a job, a schedule, a product, a defect, a page, a step."""


def installed(shell: str) -> pytest.MarkDecorator:
    """Skip where a shell or the installed program is not there, and say which."""
    there = shutil.which(shell) and PROGRAM.is_file()
    reason = f"{shell} or the finishsched script is not installed"
    return pytest.mark.skipif(not there, reason=reason)


@pytest.fixture(scope="module")
def home(tmp_path_factory):
    """Return a folder with a shop, and the script of each shell beside it, never written to."""
    folder = tmp_path_factory.mktemp("home")
    make_shop(folder / "shop")
    for shell in ("bash", "zsh", "fish"):
        (folder / f"finishsched.{shell}").write_text(script_for(shell))
    return folder


def surroundings(home: Path) -> dict[str, str]:
    """Return the variables of a user who has nothing else."""
    path = f"{PROGRAM.parent}:{os.environ['PATH']}"
    return {"HOME": str(home), "PATH": path, "LANG": "C.UTF-8", "TERM": "dumb"}


def run(home: Path, command: list[str]) -> str:
    """Return what a shell prints for a script of ours."""
    done = subprocess.run(
        command, cwd=home / "shop", env=surroundings(home), capture_output=True, text=True,
        timeout=PATIENCE_S, check=False,
    )  # fmt: skip
    return done.stdout


def words_of(line: str) -> list[str]:
    """Return a line by words, as a shell parts it."""
    return line.split(" ")


@installed("bash")
@pytest.mark.parametrize(("typed", "wanted"), ASKED)
def test_bash_completes(home, typed, wanted):
    """Its own function is called as bash calls it, with the words and the one at the cursor."""
    words = words_of(typed)
    asked = (
        f"source {home}/finishsched.bash; COMP_WORDS=({' '.join(map(shlex.quote, words))}); "
        f"COMP_CWORD={len(words) - 1}; _finishsched_completion finishsched; "
        'printf "%s\\n" "${COMPREPLY[@]}"'
    )
    found = run(home, ["bash", "--norc", "-c", asked]).splitlines()
    assert wanted in found


@installed("fish")
@pytest.mark.parametrize(("typed", "wanted"), ASKED)
def test_fish_completes(home, typed, wanted):
    """By its own 'complete -C', which is what a tab does."""
    asked = f"source {home}/finishsched.fish; complete -C {shlex.quote(typed)}"
    said = run(home, ["fish", "--no-config", "-c", asked])
    found = [line.split("\t")[0] for line in said.splitlines()]
    assert wanted in [name.replace("\\ ", " ").strip("'\"") for name in found]


@installed("zsh")
@pytest.mark.parametrize(("typed", "wanted"), ASKED)
def test_zsh_completes(home, typed, wanted):
    """In a terminal of its own, with the tab key."""
    shown = keys_in_zsh(home, typed, wanted)
    assert wanted in shown.replace("\\ ", " ")


def keys_in_zsh(home: Path, typed: str, wanted: str) -> str:
    """Return what zsh draws after a line and a tab, until what is wanted is there."""
    process, terminal = pty.fork()
    if process == 0:
        os.chdir(home / "shop")
        os.execvpe("zsh", ["zsh", "-f", "-i"], surroundings(home))  # noqa: S606
    try:
        ready = "print -n ready-; print now"
        os.write(
            terminal,
            f"PS1='> '; unsetopt beep; autoload -U compinit && compinit -u -D; "
            f"source {home}/finishsched.zsh; {ready}\n".encode(),
        )
        read_until(terminal, "ready-now")
        os.write(terminal, f"{typed}\t".encode())
        return read_until(terminal, wanted)
    finally:
        os.kill(process, 9)
        os.waitpid(process, 0)
        os.close(terminal)


def read_until(terminal: int, wanted: str) -> str:
    """Return what a terminal shows, as soon as what is wanted is in it, or all of it in the end."""
    shown, ends = "", time.monotonic() + PATIENCE_S
    while wanted not in shown.replace("\\ ", " ") and time.monotonic() < ends:
        if select.select([terminal], [], [], 1.0)[0]:
            shown += os.read(terminal, 4096).decode("utf-8", "replace")
    return shown
