"""What the tests of the bench share."""

import shutil
from collections.abc import Iterator
from pathlib import Path
from time import monotonic
from typing import Any

import at_rest
import pytest
from fakes import NOW
from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet
from textual.pilot import Pilot

from finishsched.bench.app import BenchApp
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.demo.demo import make_demo


@pytest.fixture(scope="session")
def demo_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the demo shop as it stands at the tests' instant, never written to."""
    folder = tmp_path_factory.mktemp("demo") / "row"
    make_demo(folder, NOW)
    return folder


@pytest.fixture
def demo(demo_folder: Path, tmp_path: Path) -> Iterator[Workshop]:
    """Return a copy of it, open."""
    shutil.copytree(demo_folder, tmp_path / "row")
    with Workshop.open(tmp_path / "row", NOW) as opened:
        yield opened


@pytest.fixture(autouse=True)
def _patience(monkeypatch: pytest.MonkeyPatch) -> None:
    """Have every pilot wait for the bench itself, never for a machine that looks idle."""
    monkeypatch.setattr(Pilot, "pause", at_rest.pause)
    monkeypatch.setattr(Pilot, "press", at_rest.press)
    for module in ("textual.app", "textual.pilot"):
        monkeypatch.setattr(f"{module}.wait_for_idle", at_rest.at_once)


@pytest.fixture(autouse=True)
def _presses_wait_for_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Have keys answered when they were pressed by the clocks of the test, however busy it is."""
    begun_s = monotonic()
    monkeypatch.setattr("finishsched.bench.in_order.monotonic", lambda: begun_s)


@pytest.fixture(autouse=True)
def _what_is_said_stays(monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep what the bench says on the screen for as long as a test takes to read it."""
    usual = BenchApp.notify

    def lasting(app: BenchApp, message: str, **more: Any) -> None:
        usual(app, message, **{**more, "timeout": 86400.0})

    monkeypatch.setattr(BenchApp, "notify", lasting)


@pytest.fixture(autouse=True, scope="session")
def _styles_parsed_once() -> Iterator[None]:
    """Share what a sheet of styles says among all benches: each would parse the same text anew."""
    known: dict[Any, list[RuleSet]] = {}
    usual = Stylesheet._parse_rules

    def shared(sheet: Stylesheet, *text: Any, **more: Any) -> list[RuleSet]:
        key = (text, tuple(more.items()), tuple(sheet._variables.items()))
        if key not in known:
            known[key] = usual(sheet, *text, **more)
        return known[key]

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(Stylesheet, "_parse_rules", shared)
        yield


@pytest.fixture(autouse=True)
def _all_colours(monkeypatch: pytest.MonkeyPatch) -> None:
    """Draw with every colour, whatever the terminal that runs the tests has."""
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("COLORTERM", "truecolor")


@pytest.fixture(autouse=True)
def _little_search(little_search: None) -> None:
    """Look for plans a little only: what they are like is tested elsewhere."""


@pytest.fixture(autouse=True)
def _no_deadline(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let no bench of a test end the process that runs the tests, whatever signal it is told of."""
    monkeypatch.setattr("finishsched.bench.leaving.begin_deadline", lambda _status: None)


@pytest.fixture(autouse=True)
def _a_usual_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """Draw as on a terminal of all colours and signs, whatever runs the tests."""
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("COLORTERM", "truecolor")
    monkeypatch.delenv("FINISHSCHED_PLAIN", raising=False)
