"""Earlier entries on the bench: taken back with what hangs on them, told otherwise, moved; rows."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from fakes import MINUTE, NOW, Clocks, WatchedBench, said
from real_shop import bench_on, make_chest, shown
from textual.pilot import Pilot

from finishsched.bench.screens.choice import ChoiceCard
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.standing.where import find, standings

SIZES = [(80, 24), (60, 20), (40, 12)]
JOB = """
job: chest
title: A chest of drawers
pieces:
  - {piece: front, title: Front, count: 3, schedule: simple, faces: [{face: out, area: 0.03 m2}]}
  - {piece: lid, title: Lid, schedule: simple, faces: [{face: out, area: 0.3 m2}]}
  - {piece: body, title: Body, schedule: simple, faces: [{face: out, area: 0.3 m2}]}
"""


@pytest.fixture
def chest(tmp_path: Path) -> Path:
    """Return a shop with three drawer fronts, a lid and a body."""
    return make_chest(tmp_path, JOB)


class Evening:
    """A pair of hands on the bench of that shop."""

    def __init__(self, app: WatchedBench, pilot: Pilot[None], clocks: Clocks, shop: Workshop):
        self.app, self.pilot, self.clocks, self.shop = app, pilot, clocks, shop

    async def press(self, *keys: str) -> None:
        """Press keys, eight minutes apart."""
        for key in keys:
            self.clocks.forward(8 * MINUTE)
            await self.pilot.press(key)
            await self.pilot.pause()

    async def work(self, piece: str, *keys: str) -> None:
        """Choose a piece, then press keys."""
        self.app.action_choose(piece)
        await self.press(*keys)

    async def take(self, *words: str) -> None:
        """Tap on the line of a card that has these words, one card after the other."""
        for word in words:
            card = self.app.screen
            assert isinstance(card, ChoiceCard)
            sign = next(sign for sign, choice in card.choices if word in choice.text)
            await self.press(sign)

    def kinds(self, ref: str) -> list[str]:
        """Return what counts of a piece."""
        return [event.what.kind for event in self.shop.book().live(ref)]


@asynccontextmanager
async def evening(chest: Path, size: tuple[int, int] = (80, 24)) -> AsyncIterator[Evening]:
    """Open the bench on the shop, on a screen of so many columns and rows."""
    clocks = Clocks()
    with Workshop.open(chest, NOW) as shop:
        app = bench_on(shop, clocks)
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            yield Evening(app, pilot, clocks, shop)


async def test_an_early_coat_is_taken_back_with_what_hangs_on_it(chest: Path) -> None:
    """The card tells first what goes with it; a note on the piece stays."""
    async with evening(chest) as hands:
        await hands.work("chest/lid", "space", "y", "space", "c", "2", "space", "space")
        await hands.press("t", "h", "i", "enter")
        await hands.press("z")
        await hands.take("pad coat 1 of 3")
        assert "on it  done: 3, pad coat 2 of 3" in shown(hands.app)
        await hands.take("Take it back, with what hangs on it")
        assert hands.kinds("chest/lid") == ["piece-started", "step-done", "note"]
        told = "taken back: Lid, done: 2, pad coat 1 of 3"
        assert any(told in line for line in said(hands.app))


async def test_a_wrong_time_amount_and_hand_are_told_otherwise(chest: Path) -> None:
    """The clock runs from the time told last; what was left blank stays as it was."""
    async with evening(chest) as hands:
        await hands.work("chest/lid", "space", "y", "space", "space", "z")
        laid_at = find(hands.shop, "chest/lid").laid.at  # type: ignore[union-attr]
        await hands.take("pad coat 1 of 3", "Tell it otherwise")
        at = (laid_at - 3 * MINUTE).astimezone(hands.shop.zone)
        for field, value in (("when", f"{at:%H:%M}"), ("by", "Rui"), ("amount", "4 ml")):
            hands.app.screen.query_one(f"#{field}").value = value  # type: ignore[attr-defined]
        await hands.press("enter")
        (coat,) = [e for e in hands.shop.book().live("chest/lid") if "pad" in str(e.what)]
        assert coat.at == laid_at - 3 * MINUTE
        assert (coat.what.by, coat.what.amount_ml) == ("Rui", 4.0)  # type: ignore[union-attr]


async def test_nothing_told_otherwise_is_asked_again(chest: Path) -> None:
    """A form left blank says what it wants, and nothing is logged."""
    async with evening(chest) as hands:
        await hands.work("chest/lid", "space", "y", "space", "z")
        await hands.take("sand P240", "Tell it otherwise")
        await hands.press("enter")
        assert "write what was otherwise" in shown(hands.app)
        assert hands.kinds("chest/lid") == ["piece-started", "step-done"]


async def test_an_entry_on_the_wrong_piece_is_moved_to_the_right_one(chest: Path) -> None:
    """It is taken back here and made there; what has later work on it is not offered for it."""
    async with evening(chest) as hands:
        await hands.work("chest/body", "space", "y")
        await hands.work("chest/lid", "space", "y", "space", "space", "z")
        await hands.take("sand P240")
        assert "meant for another" not in shown(hands.app)
        await hands.press("escape", "u", "z")
        await hands.take("sand P240", "meant for another", "Body")
        assert hands.kinds("chest/lid") == ["piece-started"]
        assert hands.kinds("chest/body") == ["piece-started", "step-done"]


async def test_what_was_given_to_several_goes_from_all_of_them(chest: Path) -> None:
    """One tap takes an early entry of three fronts back from three, the rest told once."""
    async with evening(chest) as hands:
        await hands.work("chest/front-1", "space", "y", "space", "space", "z")
        await hands.take("sand P240")
        assert shown(hands.app).count("done: 2, pad coat 1 of 3") == 1
        await hands.take("Take it back, with what hangs on it")
        fronts = [f"chest/front-{number}" for number in (1, 2, 3)]
        assert [hands.kinds(ref) for ref in fronts] == [["piece-started"]] * 3


@pytest.mark.parametrize("size", SIZES)
async def test_different_pieces_are_joined_and_parted(chest: Path, size: tuple[int, int]) -> None:
    """They are one row and one entry for the evening; the same key parts them."""
    async with evening(chest, size) as hands:
        for ref in ("chest/lid", "chest/body", "chest/front-1"):
            await hands.work(ref, "space", "y")
        await hands.work("chest/lid", "i", "b", "c", "c", "space")
        assert "3 x Front and Lid" in _titles(hands.app)
        joined = hands.app.desk.refs_of(hands.app.choosing.large)
        await hands.press("space")
        assert all(hands.kinds(ref)[-1] == "step-done" for ref in joined)
        await hands.press("i")
        assert {"Lid", "Body", "3 x Front"} <= set(_titles(hands.app))


async def test_a_defect_of_one_of_several(chest: Path) -> None:
    """Which one is asked first; that one stands apart, the others are one row still."""
    async with evening(chest) as hands:
        await hands.work("chest/front-1", "space", "y", "space", "space", "d")
        await hands.take("Front 1", "blush")
        await hands.press("enter")
        assert hands.kinds("chest/front-1")[-1] == "defect"
        assert "2 x Front" in _titles(hands.app)


def _titles(app: WatchedBench) -> list[str]:
    return [piece.title for piece in app.desk.view.pieces]


@pytest.mark.parametrize("size", [(80, 24), (40, 12)])
async def test_a_wait_and_a_step_of_its_own_are_given_by_a_key(
    chest: Path, size: tuple[int, int]
) -> None:
    """What begins with a verb is a step; all else is a wait, and says how long it is."""
    clocks = Clocks()
    with Workshop.open(chest, NOW) as shop:
        app = bench_on(shop, clocks)
        async with app.run_test(size=size) as pilot:
            hands = Evening(app, pilot, clocks, shop)
            await pilot.pause()
            await hands.work("chest/lid", "space", "y")
            own = (("patch glued", "overnight", "soon"), ("sand it", "", "tomorrow 8:00"))
            for text, long, faulty in own:
                await pilot.press("y")
                card = app.screen
                for value in (faulty, long):
                    card.query_one("#text").value = text  # type: ignore[attr-defined]
                    card.query_one("#long").value = value  # type: ignore[attr-defined]
                    await pilot.press("enter")
                    await pilot.pause()
                    assert (app.screen is card) is (value == faulty)
            beside = [one for one in standings(shop) if one.of == "chest/lid"]
            assert [one.piece.title for one in beside] == ["Lid: patch glued", "Lid: sand it"]
