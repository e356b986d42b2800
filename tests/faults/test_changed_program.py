"""A program that is changed, or fails, under the bench that runs: told in words, nothing lost."""

from __future__ import annotations

import sys
from datetime import UTC, datetime

import pytest
from real_shop import until
from textual.widgets import Input

from finishsched.bench import at_terminal
from finishsched.bench.app import BenchApp
from finishsched.bench.asking.door import ShopDoor
from finishsched.bench.lasting import CHANGED_MEANWHILE
from finishsched.model.settings import Settings
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.demo.demo import make_demo

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
LID = "tea-chest/lid"


@pytest.fixture
def shop(tmp_path):
    """Return the demo's shop, open."""
    make_demo(tmp_path / "shop", NOW)
    with Workshop.open(tmp_path / "shop", NOW) as workshop:
        yield workshop


def bench(shop):
    """Return a bench on the shop."""
    return BenchApp(ShopDoor(shop), now=lambda: NOW, settings=Settings())


def told(app):
    """Return what the bench said in passing."""
    return [one.message for one in app._notifications]


async def test_a_form_whose_module_is_gone_keeps_what_was_typed(shop, monkeypatch):
    """Saving fails in a sentence while the program is changed, and goes through once it is back."""
    before = len(shop.every_event())
    app = bench(shop)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("t", *"a run", "enter")
        await pilot.pause()
        assert len(shop.every_event()) == before + 1

        await pilot.press("t", *"a sag")
        with monkeypatch.context() as gone:
            gone.setitem(sys.modules, "finishsched.workshop.log.log", None)
            await pilot.press("enter")
            await pilot.pause()
        assert CHANGED_MEANWHILE in told(app)
        assert len(shop.every_event()) == before + 1
        assert app.screen.query(Input).first().value == "a sag"
        await pilot.press("enter")
        await pilot.pause()
        assert len(shop.every_event()) == before + 2


@pytest.mark.parametrize("ways", ["callback", "timer", "worker"])
async def test_whatever_runs_by_itself_says_so_too(shop, ways):
    """What a beat, a callback or a search needs and does not find leaves the bench running."""
    app = bench(shop)

    async def gone():
        raise ModuleNotFoundError("No module named 'finishsched.gone'")

    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        if ways == "callback":
            app.call_next(gone)
        elif ways == "timer":
            app.set_timer(0.01, gone)
        else:
            app.run_worker(gone())
        await until(pilot, lambda: CHANGED_MEANWHILE in told(app))
        await pilot.press("down")
        assert app.is_running


def test_another_fault_ends_the_bench_in_words(shop, monkeypatch, capsys):
    """The bench leaves its screen and hands the fault on, and prints no page of code."""

    class Failing(BenchApp):
        """A bench whose first beat goes wrong."""

        def run(self, **how):
            """Run without a terminal, and fail."""
            self.call_later(self.fail)
            super().run(headless=True, **how)

        def fail(self):
            """Go wrong."""
            raise ZeroDivisionError

    monkeypatch.setattr(at_terminal, "BenchApp", Failing)
    with pytest.raises(ZeroDivisionError):
        at_terminal.run(shop, Settings(), lambda: NOW, lambda: False)
    said = capsys.readouterr()
    assert "Traceback" not in said.out + said.err
