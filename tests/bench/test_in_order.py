"""Keys are taken in the order in which they are pressed, and what is typed is kept."""

from __future__ import annotations

from datetime import timedelta

import pytest
from fakes import NOW, Clocks, WatchedBench
from real_shop import until
from textual import events
from textual.widgets import Input

from finishsched.bench import in_order
from finishsched.bench.asking.door import ShopDoor
from finishsched.bench.parts.drafts import KEPT_FOR, Drafts
from finishsched.bench.screens.board import Board
from finishsched.bench.screens.form import FormCard
from finishsched.journal.events import AirRead
from finishsched.model.settings import Settings
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.demo.starter import make_shop

NAMED = {" ": "space", "\n": "enter", "%": "percent_sign", "↓": "down", "^": "escape"}
UNSEEN = "\n↓^"


@pytest.fixture
def shop(tmp_path):
    """Return an open shop with a box that is not begun."""
    make_shop(tmp_path / "shop", example=True)
    with Workshop.open(tmp_path / "shop", NOW) as workshop:
        yield workshop


def on_bench(shop: Workshop, clocks: Clocks) -> WatchedBench:
    """Return the bench on a shop."""
    return WatchedBench(
        ShopDoor(shop), now=lambda: clocks.wall, monotonic=lambda: clocks.monotonic_s,
        settings=Settings(),
    )  # fmt: skip


def hammer(app: WatchedBench, typed: str) -> None:
    """Press keys with nothing between them, as a hand or a paste does on a slow machine."""
    for sign in typed:
        app.post_message(events.Key(NAMED.get(sign, sign), None if sign in UNSEEN else sign))


def fields(app: WatchedBench) -> dict[str, str]:
    """Return what stands in the form on top; nothing where there is none."""
    return {one.id: one.value for one in app.screen.query(Input)}


async def test_what_is_typed_on_while_a_form_opens_goes_into_it(shop) -> None:
    """The key that opens it, the fields, enter, the next form: all in one burst, none lost."""
    app = on_bench(shop, Clocks())
    async with app.run_test(size=(80, 24)) as pilot:
        hammer(app, "a19 degC↓55 %\nthi there")
        await until(pilot, lambda: fields(app) == {"text": "hi there"})
    read = [event.what for event in shop.every_event() if isinstance(event.what, AirRead)]
    assert [(one.air.temperature_c, one.air.humidity_percent) for one in read] == [(19.0, 55.0)]


async def test_nothing_typed_into_a_form_is_taken_for_a_key_of_the_board(shop) -> None:
    """After the form before was left, the spaces of the next one open no dry check."""
    app = on_bench(shop, Clocks())
    async with app.run_test(size=(80, 24)) as pilot:
        hammer(app, "tx^a19 degC")
        await until(pilot, lambda: fields(app).get("temperature") == "19 degC")
        assert len(app.screen_stack) == 2


async def test_the_key_that_closed_a_card_is_no_second_one_on_the_board(shop) -> None:
    """A key that bounces closes what it closes, and opens nothing below it."""
    app = on_bench(shop, Clocks())
    async with app.run_test(size=(80, 24)) as pilot:
        hammer(app, "hqqt")
        await until(pilot, lambda: isinstance(app.screen, FormCard))
        assert app.is_running


async def test_a_form_that_was_left_opens_as_it_was(shop) -> None:
    """Esc says that what was typed is kept; the form opens with it, and says since when."""
    clocks = Clocks()
    app = on_bench(shop, clocks)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("a")
        await until(pilot, lambda: isinstance(app.screen, FormCard))
        await pilot.press(*"19", "escape")
        await until(pilot, lambda: isinstance(app.screen, Board))
        assert any("is kept" in one.message for one in app._notifications)
        await pilot.press("a")
        await until(pilot, lambda: fields(app).get("temperature") == "19")
        form = app.screen
        assert "as you left it at" in " ".join(str(one.render()) for one in form.query(".hint"))
        await pilot.press("backspace", "backspace", *"20 degC", "down", *"60", "percent_sign")
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, Board))
        await pilot.press("a")
        await until(pilot, lambda: isinstance(app.screen, FormCard))
        assert fields(app)["temperature"] == ""


async def test_a_form_in_which_nothing_was_typed_is_left_without_a_word(shop) -> None:
    """Looking into a form and closing it keeps nothing and says nothing."""
    app = on_bench(shop, Clocks())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("a")
        await until(pilot, lambda: isinstance(app.screen, FormCard))
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, Board))
        assert not any("is kept" in one.message for one in app._notifications)


def fields_of(field: Input) -> set[str]:
    """Return the names of the fields of the form that one stands in."""
    return {one.id for one in field.screen.query(Input)} if field.is_attached else set()


async def test_a_key_behind_one_whose_form_took_its_follower_along_is_not_kept_waiting(
    shop, monkeypatch
) -> None:
    """What is lost with a form that closes is asked of what lies on top then, and at once."""
    monkeypatch.setattr(in_order, "LONGEST_S", 1e9)
    usual, lost = Input.post_message, []

    def lose(field: Input, message) -> bool:
        if isinstance(message, in_order.Passed) and "temperature" in fields_of(field):
            lost.append(message)
            return False
        return usual(field, message)

    app = on_bench(shop, Clocks())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("a")
        await until(pilot, lambda: isinstance(app.screen, FormCard))
        monkeypatch.setattr(Input, "post_message", lose)
        hammer(app, "^t")
        await until(pilot, lambda: list(fields(app)) == ["text"])
    assert lost


class Saying:
    """A bench that only says, and has a clock."""

    def __init__(self) -> None:
        self.clock = NOW
        self.said: list[str] = []

    def now(self):
        """Return what time it is."""
        return self.clock

    def say(self, text: str) -> None:
        """Keep what is said."""
        self.said.append(text)


def test_a_draft_is_given_once_and_grows_old() -> None:
    """A reading that was typed long ago is not offered as one of now."""
    host = Saying()
    drafts = Drafts(host)
    for later, is_there in ((KEPT_FOR, True), (KEPT_FOR + timedelta(seconds=1), False)):
        drafts.keep("The air now", {"temperature": "19"})
        host.clock += later
        assert (drafts.take("The air now") is not None) is is_there
        assert drafts.take("The air now") is None
    assert len(host.said) == 2
