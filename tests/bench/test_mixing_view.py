"""The mixing view: a cut and a volume in, what to weigh out, and the batch logged with one key."""

import pytest
from textual.widgets import Input, Static

from finishsched.bench import mixing
from finishsched.bench.app import BenchApp
from finishsched.bench.reading import FormFaultError
from finishsched.journal.faults import JournalFaultError
from finishsched.model.settings import Settings
from finishsched.model.shop import Alcohol, Tools
from finishsched.workshop.demo import make_demo
from finishsched.workshop.workshop import Workshop

from fakes import NOW  # isort: skip


@pytest.fixture
def shop(tmp_path):
    """Return the demo shop, open."""
    make_demo(tmp_path / "row", NOW)
    with Workshop.open(tmp_path / "row", NOW) as opened:
        yield opened


def _app(shop):
    return BenchApp(shop, now=lambda: NOW, monotonic=lambda: 0.0, settings=Settings())


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_typing_shows_what_to_weigh_and_enter_logs_the_batch(shop, size):
    """It opens on the step's cut, follows what is typed, and one key puts the jar on the shelf."""
    async with _app(shop).run_test(size=size) as pilot:
        await pilot.press("m")
        await pilot.pause()
        screen = pilot.app.screen
        screen.query_one("#cut", Input).value = "2 lb"
        screen.query_one("#makes", Input).value = "237 ml"
        await pilot.pause()
        assert "47.5 g of flakes + 160.5 g of alcohol" in str(
            screen.query_one("#live", Static).content
        )
        screen.query_one("#name", Input).value = "jar 9"
        await pilot.press("enter")
        await pilot.pause()
        assert pilot.app.screen is not screen
    row = shop.stock(NOW).find("jar 9")
    assert row.batch.made_ml == pytest.approx(237.0)


async def test_a_bare_number_is_told_and_nothing_is_logged(shop):
    """The view says which units would do, and keeps what was typed."""
    before = len(shop.stock(NOW).batches)
    async with _app(shop).run_test(size=(80, 24)) as pilot:
        await pilot.press("m")
        await pilot.pause()
        screen = pilot.app.screen
        screen.query_one("#makes", Input).value = "250"
        await pilot.pause()
        assert "write 250 ml" in str(screen.query_one("#live", Static).content)
        await pilot.press("enter")
        await pilot.pause()
        assert pilot.app.screen is screen
        await pilot.press("escape")
    assert len(shop.stock(NOW).batches) == before


async def test_a_name_that_is_taken_is_refused_in_words(shop):
    """What the workshop does not take is said on the view."""
    async with _app(shop).run_test(size=(80, 24)) as pilot:
        await pilot.press("m")
        await pilot.pause()
        screen = pilot.app.screen
        screen.query_one("#makes", Input).value = "100 ml"
        screen.query_one("#name", Input).value = "jar 1"
        await pilot.press("enter")
        await pilot.pause()
        assert pilot.app.screen is screen
        assert str(screen.query_one("#fault", Static).content).startswith("! ")


def test_both_faults_are_told_at_once():
    """A cut and a volume without units get a line that names both."""
    with pytest.raises(FormFaultError, match=r"cut: .*makes: "):
        list(mixing.mixing_lines({"cut": "2", "makes": "3"}, Alcohol(), Tools(), ()))
    with pytest.raises(FormFaultError, match="a name"):
        mixing.mixed_entry({"cut": "2 lb", "makes": "1 l", "name": " "}, "")
    with pytest.raises(FormFaultError, match="which flakes"):
        mixing.mixed_entry({"cut": "2 lb", "makes": "1 l", "name": "jar 7"}, "")


def test_drawn_figures_fit_a_narrow_card_and_cautions_are_there():
    """No line of drawn figures is wider than a card at 60 columns; the data sheet comes first."""
    values = {"cut": "2 lb", "makes": "987 ml"}
    lines = list(mixing.mixing_lines(values, Alcohol(), Tools(scale_g=0.5), ()))
    assert max(len(line) for line in lines[:6]) <= 44
    assert any("no flame" in line and "data sheet" in line for line in lines)


async def test_a_step_without_a_cut_asks_which_flakes(shop):
    """The view then has a field for the flakes, and logs with it."""
    async with _app(shop).run_test(size=(80, 24)) as pilot:
        pilot.app.chosen = "games-panel/panel"
        await pilot.press("m")
        await pilot.pause()
        screen = pilot.app.screen
        screen.query_one("#product", Input).value = "shellac-garnet"
        screen.query_one("#makes", Input).value = "100 ml"
        screen.query_one("#name", Input).value = "jar 8"
        await pilot.press("enter")
        await pilot.pause()
    assert shop.stock(NOW).find("jar 8").batch.product == "shellac-garnet"


async def test_a_journal_that_fails_is_told_and_the_bench_goes_on(shop, monkeypatch):
    """When the shelf cannot be read the view does not open, and nothing crashes."""

    def failing(_now):
        raise JournalFaultError("the disk would not read", "check the disk")

    monkeypatch.setattr(shop, "stock", failing)
    async with _app(shop).run_test(size=(80, 24)) as pilot:
        board = pilot.app.screen
        await pilot.press("m")
        await pilot.pause()
        assert pilot.app.screen is board


def test_the_next_jar_is_one_that_is_free():
    """Names that are taken are passed over."""
    assert mixing.next_jar(()) == "jar 1"
    assert mixing.next_jar(("jar 1", "jar 2", "tin")) == "jar 3"
