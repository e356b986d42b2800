"""The mixing view: a cut and a volume in, what to weigh out, and the batch logged with one key."""

from dataclasses import replace
from types import SimpleNamespace

import pytest
from textual.widgets import Input, Static

from finishsched.bench.app import BenchApp
from finishsched.bench.asking.door import ShopDoor
from finishsched.bench.typed import mixing
from finishsched.bench.typed.mixing import MixingBench, of_the_step
from finishsched.bench.typed.reading import FormFaultError
from finishsched.factors import G_PER_L_IN_A_POUND_CUT as LB
from finishsched.journal.faults import JournalFaultError
from finishsched.mixing.cut import DISSOLVED_G_PER_ML, mix_for_volume
from finishsched.mixing.measure import on_tools
from finishsched.model.settings import Settings
from finishsched.model.shop import ShownUnits, Tools
from finishsched.model.stock import next_jar

from fakes import NOW, Clocks, FakePiece  # isort: skip
from real_shop import advised_on  # isort: skip
from finishsched.workshop.base.answers import MixLine
from finishsched.workshop.stock.shop_stock import shop_stock
from finishsched.workshop.views.views import piece_view


@pytest.fixture
def shop(demo):
    """Return the demo shop, open."""
    return demo


def _app(shop):
    return BenchApp(ShopDoor(shop), now=lambda: NOW, monotonic=lambda: 0.0, settings=Settings())


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
        live = str(screen.query_one("#live", Static).content)
        assert "47.5 g of flakes; weigh 160.5 g of alcohol: the better way here" in live
        screen.query_one("#name", Input).value = "jar 9"
        await pilot.press("enter")
        await pilot.pause()
        assert pilot.app.screen is not screen
    batch = shop_stock(shop, NOW).find("jar 9").batch
    # What 47.5 g in 160.5 g of 95 %vol alcohol really give, not the 2 lb and 237 ml asked for.
    tooled = on_tools(
        mix_for_volume(2 * LB, 237.0, shop.papers.shop.alcohol), shop.papers.shop.tools
    )
    assert batch.cut_g_per_l == pytest.approx(tooled.weighed.g_per_l)
    assert batch.cut_g_per_l != pytest.approx(2 * LB, rel=1e-5)
    drawn_g = batch.made_ml / (1000 / batch.cut_g_per_l + 1 / DISSOLVED_G_PER_ML)
    assert drawn_g == pytest.approx(47.5)


async def test_a_bare_number_is_told_and_nothing_is_logged(shop):
    """The view says which units would do, and keeps what was typed."""
    before = len(shop_stock(shop, NOW).batches)
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
    assert len(shop_stock(shop, NOW).batches) == before


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
        list(mixing.mixing_lines({"cut": "2", "makes": "3"}, MixingBench(), ()))
    with pytest.raises(FormFaultError, match="a name"):
        mixing.mixed_entry({"cut": "2 lb", "makes": "1 l", "name": " "}, "", MixingBench())
    with pytest.raises(FormFaultError, match="which flakes"):
        mixing.mixed_entry({"cut": "2 lb", "makes": "1 l", "name": "jar 7"}, "", MixingBench())


def test_drawn_figures_fit_a_narrow_card_and_cautions_are_there():
    """No line of drawn figures is wider than a card at 60 columns; the data sheet comes first."""
    values = {"cut": "2 lb", "makes": "987 ml"}
    lines = list(mixing.mixing_lines(values, MixingBench(tools=Tools(scale_g=0.5)), ()))
    assert max(len(line) for line in lines[:6]) <= 44
    assert any("no flame" in line and "data sheet" in line for line in lines)


async def test_a_step_without_a_cut_asks_which_flakes(shop):
    """The view then has a field for the flakes, and logs with it."""
    async with _app(shop).run_test(size=(80, 24)) as pilot:
        pilot.app.choosing.choose("games-panel/panel")
        await pilot.press("m")
        await pilot.pause()
        screen = pilot.app.screen
        screen.query_one("#product", Input).value = "shellac-garnet"
        screen.query_one("#makes", Input).value = "100 ml"
        screen.query_one("#name", Input).value = "jar 8"
        await pilot.press("enter")
        await pilot.pause()
    assert shop_stock(shop, NOW).find("jar 8").batch.product == "shellac-garnet"


async def test_a_journal_that_fails_is_told_and_the_bench_goes_on(shop, monkeypatch):
    """When the shelf cannot be read the view does not open, and nothing crashes."""

    def failing(_shop, _now):
        raise JournalFaultError("the disk would not read", "check the disk")

    monkeypatch.setattr("finishsched.workshop.stock.shop_stock.shop_stock", failing)
    async with _app(shop).run_test(size=(80, 24)) as pilot:
        board = pilot.app.screen
        await pilot.press("m")
        await pilot.pause()
        assert pilot.app.screen is board


def test_the_next_jar_is_one_that_is_free():
    """Names that are taken are passed over."""
    assert next_jar(()) == "jar 1"
    assert next_jar(("jar 1", "jar 2", "tin")) == "jar 3"


@pytest.mark.parametrize(
    ("shown", "words"),
    [
        (ShownUnits(mass="oz"), "1.68 oz of flakes; weigh 5.66 oz"),
        (ShownUnits(volume="floz"), "or measure 6.763 floz"),
        (ShownUnits(cut="g/L"), "238 to 242 g/L"),
    ],
)
def test_amounts_are_in_the_units_of_the_shop(shown, words):
    """A shop that weighs in ounces or measures in fluid ounces reads them, as its tools round."""
    bench = MixingBench(tools=Tools(scale_g=0.5), shown=shown)
    lines = list(mixing.mixing_lines({"cut": "2 lb", "makes": "237 ml"}, bench, ()))
    assert any(words in line for line in lines)
    assert "█" in "".join(lines[:6])


@pytest.mark.parametrize(
    ("unit", "makes"), [("ml", "250 ml"), ("l", "0.25 l"), ("floz", "8 floz"), ("cup", "1 cup")]
)
def test_what_is_asked_for_first_is_round_in_the_units_of_the_shop(unit, makes):
    """Who measures in ounces is not offered 8.45 of them, which is what 250 ml come to."""
    view = SimpleNamespace(units=ShownUnits(volume=unit, cut="lb/gal"))
    assert mixing.first_asked(None, view) == ("2 lb/gal", makes)


def test_where_measuring_is_better_it_is_what_is_shown_and_logged():
    """With coarse scales the alcohol is measured, and the cut is the one that measuring gives."""
    tools = Tools(scale_g=20.0, measure_ml=1.0, measure_error_percent=0.1)
    values = {"cut": "2 lb", "makes": "500 ml", "name": "jar 7"}
    bench = MixingBench(tools=tools)
    tooled = on_tools(mix_for_volume(2 * LB, 500.0, bench.alcohol), tools)
    assert not tooled.better_to_weigh
    lines = list(mixing.mixing_lines(values, bench, ()))
    assert any("; measure " in line and "the better way here" in line for line in lines)
    entry = mixing.mixed_entry(values, "shellac-garnet", bench)
    assert entry.cut_g_per_l == tooled.measured.g_per_l


async def test_letters_are_text_while_mixing(shop):
    """No key of the board works in a field: letters, digits and spaces are what is typed."""
    async with _app(shop).run_test(size=(80, 24)) as pilot:
        await pilot.press("m")
        await pilot.pause()
        screen = pilot.app.screen
        jar = screen.query_one("#name", Input)
        jar.focus()
        jar.value = ""
        await pilot.press(*"quad", "space", *"jmpfhrs1?")
        assert pilot.app.screen is screen
        assert jar.value == "quad jmpfhrs1?"


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_the_mixing_view_reads_without_colour(shop, size, monkeypatch):
    """With colours turned off the figures, the warnings and the ways are all in words and marks."""
    monkeypatch.setenv("NO_COLOR", "1")
    async with _app(shop).run_test(size=size) as pilot:
        await pilot.press("m")
        await pilot.pause()
        live = str(pilot.app.screen.query_one("#live", Static).content)
        assert "the better way here" in live
        assert "or measure" in live
        assert "! Flammable vapour" in live


async def test_remarks_on_a_batch_and_on_a_coat_are_told(shop):
    """What the workshop remarks on what was logged is said at once, and nothing is refused."""
    app = advised_on(shop, Clocks(), alone=True)
    async with app.run_test(size=(80, 24)) as pilot:
        app.choosing.choose("games-panel/panel")
        await pilot.press("m")
        await pilot.pause()
        app.screen.query_one("#product", Input).value = "shellac-waxy-orange"
        await pilot.press("enter")
        await pilot.pause()
        batch_said = [toast.message for toast in app._notifications]
        app.choosing.choose("letter-box/slope")
        await pilot.press("l")
        app.screen.query_one("#batch", Input).value = "jar 1"
        app.screen.query_one("#amount", Input).value = "3 l"
        await pilot.press("enter")
        await pilot.pause()
        coat_said = [toast.message for toast in app._notifications]
    assert any("no lot of shellac-waxy-orange is logged" in text for text in batch_said)
    assert any("'jar 1'" in text for text in coat_said)


def test_a_step_that_takes_no_flakes_says_what_it_is_mixed_of():
    """Nobody mixes a cut of shellac for a coat of oil because the form for one is open."""
    sheet = FakePiece("a/a", "A box").view(NOW).sheet
    thinned = sheet._replace(
        jar="",
        mix=(MixLine("0.37 floz", "Boiled linseed oil"), MixLine("0.16 floz", "Mineral spirits")),
        step=replace(sheet.step, cut_g_per_l=None),
    )
    said = of_the_step(thinned)
    assert said.endswith("mixed of 0.37 floz Boiled linseed oil and 0.16 floz Mineral spirits")
    of_flakes = replace(sheet.step, cut_g_per_l=240.0)
    assert of_the_step(sheet._replace(jar="", step=of_flakes)) == ""


async def test_a_jar_that_serves_is_named_before_another_is_mixed(shop):
    """Of a step whose jar stands there the form says so, and offers a jar full, not a thimble."""
    app = _app(shop)
    async with app.run_test(size=(60, 20)) as pilot:
        app.choosing.choose("tea-chest/lid")
        await pilot.pause()
        told = piece_view(shop, "tea-chest/lid", NOW).sheet
        await pilot.press("m")
        await pilot.pause()
        live = str(app.screen.query_one("#live", Static).content)
        makes = app.screen.query_one("#makes", Input).value
    assert told.jar_name
    assert live.startswith(f"{told.jar}, serves this step: nothing has to be mixed for it")
    assert makes == "250 ml"
