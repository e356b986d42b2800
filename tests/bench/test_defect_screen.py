"""A defect on the bench: named with one key, explained, and put right with one digit."""

import pytest
from fakes import NOW, Clocks, FakeDoor, FakePiece, bench, said
from real_shop import advised_on, shown
from textual.widgets import Input

from finishsched.bench.screens.board import Board
from finishsched.bench.screens.choice import ChoiceCard
from finishsched.bench.screens.form import FormCard
from finishsched.checking.defects.seen import Seen
from finishsched.workshop.base.entries import What
from finishsched.workshop.defects.defects import defect_answer
from finishsched.workshop.views.views import piece_view

LID = "tea-chest/lid"


async def log_blush(pilot) -> None:
    """Say that the chosen piece blushed."""
    await pilot.press("d", "1", "enter")
    await pilot.pause()


async def test_every_defect_has_a_key():
    """The list holds all the trade's words; a digit or two first letters and a digit take each."""
    door = FakeDoor([FakePiece("a/a", "A box")])
    app = bench(door)
    async with app.run_test() as pilot:
        for seen in Seen:
            await pilot.press("d")
            assert [choice.answer for _, choice in app.screen.choices] == [*Seen]
            if seen not in list(Seen)[:9]:
                await pilot.press(*seen.value[:2])
            signs = {choice.answer: sign for sign, choice in app.screen.choices}
            await pilot.press(signs[seen])
            assert app.screen.query_one("#text", Input).value == seen.value
            await pilot.press("escape")


@pytest.mark.parametrize("typed", ["there is a mark", "White spots, 2 of them", "sagging", "q"])
async def test_letters_begin_words_and_take_no_line(typed):
    """Who types what is seen straight onto the list finds all of it in the entry."""
    door = FakeDoor([FakePiece("a/a", "A box")])
    app = bench(door)
    async with app.run_test() as pilot:
        await pilot.press("d", *("space" if sign == " " else sign for sign in typed))
        if typed == "q":
            assert isinstance(app.screen, Board)
            return
        assert app.screen.query_one("#text", Input).value == typed
        await pilot.press("enter")
        await pilot.pause()
        assert (door.entries[0].text, door.entries[0].seen) == (typed, "")


async def test_the_kind_stands_in_the_form_and_is_handed_in():
    """One key names it, the place is typed behind it, and both are in the entry."""
    door = FakeDoor([FakePiece("a/a", "A box")])
    app = bench(door)
    async with app.run_test() as pilot:
        await pilot.press("d", "4")
        assert isinstance(app.screen, FormCard)
        await pilot.press(*" rim", "enter")
        await pilot.pause()
        entry = door.entries[0]
        assert (entry.what, entry.text, entry.seen) == (What.DEFECT, "sag rim", "sag")


async def test_ones_own_words_need_words():
    """Something else begins empty, and an empty one is not taken."""
    door = FakeDoor([FakePiece("a/a", "A box")])
    app = bench(door)
    async with app.run_test() as pilot:
        await pilot.press("d", "enter", "enter")
        assert door.entries == []
        assert "what you see" in shown(app)
        await pilot.press("escape")
        assert isinstance(app.screen, Board)


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_it_says_why_and_what_to_look_at(demo, size):
    """After the entry the likeliest cause, what to look at and the first way are on the screen."""
    app = advised_on(demo, Clocks(), alone=True)
    app.choosing.choose(LID)
    async with app.run_test(size=size) as pilot:
        await log_blush(pilot)
        assert isinstance(app.screen, ChoiceCard)
        found = defect_answer(demo, LID, "", NOW)
        text = " ".join(shown(app).replace("│", " ").split())
        top = found.diagnosis.causes[0]
        assert top.odds in text
        assert " ".join(top.cause.words.split()[:4]) in text
        assert found.options[0].rework.title.split(",")[0] in text
        every = " ".join(paragraph.text for paragraph in app.screen.after)
        assert all(ranked.cause.look in every for ranked in found.diagnosis.worth_a_look)
        assert "data sheet" in every


async def test_a_digit_takes_a_way_and_undo_takes_it_back(demo):
    """Its steps come first at once; one undo brings the work back as it was."""
    app = advised_on(demo, Clocks(), alone=True)
    app.choosing.choose(LID)
    before = piece_view(demo, LID, NOW)
    async with app.run_test() as pilot:
        await log_blush(pilot)
        await pilot.press("2")
        await pilot.pause()
        assert isinstance(app.screen, Board)
        taken = piece_view(demo, LID, NOW)
        assert taken.steps_in_all > before.steps_in_all
        assert any("its steps come first now" in text for text in said(app))
        await pilot.press("u")
        assert piece_view(demo, LID, NOW).steps_in_all == before.steps_in_all


async def test_nothing_is_taken_without_its_digit(demo):
    """The keys that go back, and digits that stand for nothing, enter no rework."""
    app = advised_on(demo, Clocks(), alone=True)
    app.choosing.choose(LID)
    before = piece_view(demo, LID, NOW).steps_in_all
    async with app.run_test() as pilot:
        for key in ("9", "escape", "space", "q"):
            if not isinstance(app.screen, ChoiceCard):
                await log_blush(pilot)
            assert isinstance(app.screen, ChoiceCard), key
            await pilot.press(key)
            await pilot.pause()
            assert piece_view(demo, LID, NOW).steps_in_all == before, key


async def test_words_of_ones_own_are_logged_and_not_explained(demo):
    """What has no name in the trade is kept as it was written, and the bench goes on."""
    app = advised_on(demo, Clocks(), alone=True)
    app.choosing.choose(LID)
    async with app.run_test() as pilot:
        await pilot.press("d", *"odd mood", "enter")
        await pilot.pause()
        assert isinstance(app.screen, Board)
        assert "odd mood" in piece_view(demo, LID, NOW).log[0].text
