"""Everything that README.md and the tour in the handbook show is true."""

import re
import shlex
import time
from datetime import UTC, datetime
from pathlib import Path

import pytest

from finishsched.cli.program import COMMANDS
from finishsched.cli.run import run
from finishsched.cli.surroundings import Surroundings
from finishsched.documents.decode import read
from finishsched.documents.library import shipped_products
from finishsched.documents.references import unknown_names
from finishsched.model.step import steps_of
from finishsched.workshop.papers.handbook import topics

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text("utf-8")
PAGES = ROOT / "finishsched/workshop/papers/pages"
TOUR = [PAGES / f"{topic}.md" for topic in topics() if topic.startswith("tour-")]
SHOWN = "\n".join([README, *(page.read_text("utf-8") for page in TOUR)])
NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
IN_A_SHOP = (
    "due", "log", "check", "need", "film", "plan", "defect", "rags", "store", "cautions", "pace",
    "record", "backup", "sheet",
)  # fmt: skip
FAULTY = """\
schedule: mine
title: Mine
source: common practice
stages:
  - stage: bodi
    steps:
      - pad: thin ovals
        wait: {earliest: 30, likely: 2 h}
"""


def _blocks(language):
    return re.findall(rf"```{language}\n(.*?)```", SHOWN, re.DOTALL)


@pytest.fixture
def call(tmp_path, monkeypatch, capsys):
    """Return a caller of one command line, in the demo shop where it needs a shop."""
    monkeypatch.setenv("TZ", "UTC")
    time.tzset()
    shop = tmp_path / "row"

    def call_one(arguments):
        place = shop if arguments[0] in IN_A_SHOP else tmp_path
        monkeypatch.chdir(place)
        world = Surroundings(
            now=lambda: NOW, cwd=place, variables={"FINISHSCHED_DATA": "none"}, at_terminal=False
        )
        run(arguments, world)
        said = capsys.readouterr()
        lines = [line for line in said.err.splitlines() if not line.startswith("notice:")]
        return said.out.splitlines() + lines

    monkeypatch.chdir(tmp_path)
    call_one(["demo", "--out", "row"])
    (shop / "schedules/mine.yaml").write_text(FAULTY)
    yield call_one
    monkeypatch.undo()
    time.tzset()


def test_every_command_shown_says_what_is_shown(call):
    """Each console block is run in its order; a line of three dots stands for any lines."""
    blocks = _blocks("console")
    assert len(blocks) >= 25
    for block in blocks:
        command, *shown = block.splitlines()
        assert command.startswith("$ finishsched ")
        said = call(shlex.split(command)[2:])
        if shown and shown[-1] == "...":
            shown, said = shown[:-1], said[: len(shown) - 1]
        assert said == shown, command


def test_the_schedule_shown_is_a_good_one():
    """The YAML in the tour loads, and its products are shipped."""
    (text,) = _blocks("yaml")
    document = read(text.encode(), "tour-shop.md")
    assert unknown_names([document], shipped_products(), {}) == []
    assert len(steps_of(document.model)) == 21


def test_the_two_commands():
    """One runs the demo and one the tests, each a single line that makes its own venv."""
    demo, tests = (block.strip() for block in _blocks("sh"))
    for command, end in ((demo, "finishsched demo"), (tests, "-m pytest")):
        assert "\n" not in command
        assert command.startswith("python3 -m venv .venv && .venv/bin/pip install ")
        assert command.endswith(end)


def test_links_lead_somewhere():
    """Every file that is linked, the picture of the bench among them, is there."""
    links = re.findall(r"\]\(([^)]+)\)", README)
    assert any(link.endswith(".svg") for link in links)
    for link in links:
        assert (ROOT / link).is_file(), link


def test_every_command_is_named():
    """README names each command of the program."""
    for name in COMMANDS:
        assert re.search(rf"`?(finishsched )?{name}\b", README), name
