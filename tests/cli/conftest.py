"""Run the command line in this process, at an instant and in a place of our choosing."""

from __future__ import annotations

import json
import os
import shutil
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import pytest

from finishsched.cli.run import run
from finishsched.cli.surroundings import Surroundings
from finishsched.workshop.demo.demo import make_demo

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)


@dataclass
class Ran:
    """How a command ended."""

    status: int
    out: str
    err: str

    @property
    def json(self):
        """Standard output as JSON; fails when it is anything but one object."""
        return json.loads(self.out)

    @property
    def err_lines(self):
        """Standard error by lines."""
        return self.err.splitlines()


@dataclass
class Caller:
    """Calls the command line."""

    capsys: pytest.CaptureFixture[str]
    cwd: Path
    now: datetime = NOW
    typed: list[str] | None = None
    """What a person types at the terminal, line by line; None where there is no terminal."""

    def _ask(self, asked: str) -> str:
        """Type the next line; an empty one is a bare enter."""
        if not self.typed:
            raise EOFError(asked)
        return self.typed.pop(0)

    def __call__(self, *arguments: str) -> Ran:
        """Run the command line on ``arguments``."""
        self.capsys.readouterr()
        world = Surroundings(
            now=lambda: self.now,
            cwd=self.cwd,
            variables={
                "FINISHSCHED_DATA": str(self.cwd / "data"),
                "FINISHSCHED_SETTINGS": str(self.cwd / "settings.yaml"),
            },
            at_terminal=self.typed is not None,
            ask=self._ask if self.typed is not None else None,
        )
        before = Path.cwd()
        os.chdir(self.cwd)
        try:
            status = run(arguments, world)
        finally:
            os.chdir(before)
        captured = self.capsys.readouterr()
        return Ran(status, captured.out, captured.err)


@pytest.fixture(autouse=True)
def _little_search(little_search):
    """Look for plans a little only: what they are like is tested elsewhere."""


@pytest.fixture
def cli(capsys, tmp_path):
    """Return a caller in an empty folder with no shop."""
    return Caller(capsys, tmp_path)


@pytest.fixture(scope="session")
def demo_folder(tmp_path_factory):
    """Return the demo shop as it stands at the tests' instant, never written to."""
    folder = tmp_path_factory.mktemp("demo") / "shop"
    make_demo(folder, NOW)
    return folder


@pytest.fixture
def shop(cli, demo_folder):
    """Return a caller inside a demo shop of its own."""
    cli.cwd = shutil.copytree(demo_folder, cli.cwd / "shop")
    return cli


ROW = """\
shop: Short Row
time_zone: Europe/Lisbon
people: [Nell, Tam]
hours: [Mon-Fri 18:00-22:00, Sat 9:00-13:00]
units: {temperature: degC}
"""
PIECES = """\
job: box
title: A box
due: 2027-01-31
pieces:
  - {piece: lid, title: The lid, schedule: wiped-oil, faces: [{face: top, area: 0.1 m2}]}
  - {piece: tray, title: The tray, schedule: tung-oil, faces: [{face: all, area: 0.1 m2}]}
"""


@pytest.fixture
def row(cli):
    """Return a caller inside a shop of two oiled pieces, of which a plan is soon made."""
    (cli.cwd / "jobs").mkdir()
    (cli.cwd / "shop.yaml").write_text(ROW, "utf-8")
    (cli.cwd / "jobs" / "box.yaml").write_text(PIECES, "utf-8")
    return cli


@pytest.fixture
def empty(cli):
    """Return a caller in a shop that has no job yet."""
    from finishsched.workshop.demo.starter import make_shop

    make_shop(cli.cwd / "own", example=False)
    cli.cwd = cli.cwd / "own"
    return cli
