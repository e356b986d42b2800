"""Readings, condition, sample boards and costs on the bench: a few keys each, at any size."""

import pytest
from fakes import Clocks, said
from real_shop import advised_on, shown

from finishsched.bench.screens.board import Board
from finishsched.bench.screens.choice import ChoiceCard
from finishsched.bench.screens.form import FormCard
from finishsched.journal.events import SurfaceRead

SIZES = [(40, 12), (80, 24)]
SLOPE = "letter-box/slope"


def read_of(workshop, ref=SLOPE):
    """Return what was read of a piece and stands, in short."""
    live = [event.what for event in workshop.book().live(ref)]
    return sorted(
        (what.measure, what.numbers, what.angle_deg, what.grade, what.zone)
        for what in live
        if isinstance(what, SurfaceRead)
    )


def sign_of(app, answer):
    """Return the key of a line of the card that shows."""
    return next(sign for sign, choice in app.screen.choices if choice.answer == answer)


async def choose(app, pilot, *answers):
    """Press the key of each line, card after card."""
    for answer in answers:
        assert isinstance(app.screen, ChoiceCard)
        await pilot.press(sign_of(app, answer))
        await pilot.pause()


@pytest.mark.parametrize("size", SIZES)
async def test_gloss_at_two_angles_is_one_form(demo, size):
    """What was read stands in the journal, and the last of it is told beside the sheen wanted."""
    app = advised_on(demo, Clocks(), alone=True)
    app.choosing.choose(SLOPE)
    async with app.run_test(size=size) as pilot:
        await pilot.press("v")
        await choose(app, pilot, "gloss")
        assert isinstance(app.screen, FormCard)
        await pilot.press("enter")
        assert "write what was read" in shown(app)
        await pilot.press(*"42", "down", *"18", "enter")
        await pilot.pause()
        assert isinstance(app.screen, Board)
        assert read_of(demo) == [
            ("gloss", (18.0,), 20, "", "field"),
            ("gloss", (42.0,), 60, "", "field"),
        ]
        await pilot.press("v")
        await choose(app, pilot, "so far")
        assert "duller" in shown(app)


async def test_a_grade_is_chosen_and_taken_back(demo):
    """Five keys log a thumbnail at a place; the key for undo takes it back."""
    app = advised_on(demo, Clocks(), alone=True)
    app.choosing.choose(SLOPE)
    async with app.run_test() as pilot:
        await pilot.press("v")
        await choose(app, pilot, "thumbnail", "no mark")
        await pilot.press("down", *"top edge", "enter")
        await pilot.pause()
        assert read_of(demo) == [("thumbnail", (), None, "no mark", "edges")]
        assert "takes it back" in said(app)[-1]
        await pilot.press("u")
        await pilot.pause()
        assert read_of(demo) == []


async def test_all_faults_of_a_reading_are_told_together(demo):
    """A gloss beyond every scale and a time that is none: both, with all that was typed kept."""
    app = advised_on(demo, Clocks(), alone=True)
    app.choosing.choose(SLOPE)
    async with app.run_test(size=(100, 40)) as pilot:
        await pilot.press("v")
        await choose(app, pilot, "gloss")
        await pilot.press(*"4200", "down", "down", "down", "down", *"noonish", "enter")
        text = " ".join(shown(app).split())
        assert "4200" in text
        assert "noonish" in text.partition("!")[2]
        assert read_of(demo) == []


@pytest.mark.parametrize("size", SIZES)
async def test_an_old_piece_is_described_before_it_is_begun(demo, size):
    """Found, tried and left alone make the report, which a key writes as a page."""
    app = advised_on(demo, Clocks(), alone=True)
    ref = SLOPE
    app.choosing.choose(ref)
    async with app.run_test(size=size) as pilot:
        await pilot.press("v")
        await choose(app, pilot, "condition")
        assert any("nothing is written down" in text for text in said(app))
        await pilot.press("v")
        await choose(app, pilot, "found", "flaking")
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press("v")
        await choose(app, pilot, "swab", "alcohol: ")
        await pilot.press("end", *"sticky", "enter")
        await pilot.pause()
        await pilot.press("v")
        await choose(app, pilot, "condition")
        await choose(app, pilot, "print")
        page = (demo.folder / f"condition-{ref.replace('/', '-')}.html").read_text("utf-8")
        assert "flaking" in page
        assert "alcohol: sticky" in page
        assert "conservator" in page


async def test_what_it_cost_says_whose_hours_they_are(demo):
    """Hours by kind of work, and what one more like it would take."""
    app = advised_on(demo, Clocks(), alone=True)
    app.choosing.choose(SLOPE)
    async with app.run_test(size=(80, 40)) as pilot:
        await pilot.press("v")
        await choose(app, pilot, "cost")
        text = shown(app)
        assert "prepare" in text
        assert "a like piece" in text


@pytest.mark.parametrize("size", SIZES)
async def test_a_board_is_made_and_a_strip_taken_for_a_piece(demo, size):
    """From no board to a schedule in a piece's document, without an editor."""
    app = advised_on(demo, Clocks(), alone=True)
    app.choosing.choose(SLOPE)
    async with app.run_test(size=size) as pilot:
        await pilot.press("v")
        await choose(app, pilot, "board")
        for _ in range(4):
            await pilot.press("down")
        await pilot.press(*"wiped-oil, waxed-shellac", "enter")
        await pilot.pause()
        await choose(app, pilot, "nothing")
        assert "board: yes" in (demo.folder / "jobs" / "sample-board.yaml").read_text("utf-8")
        app.choosing.choose("sample-board/strip-1")
        await pilot.press("v")
        await choose(app, pilot, "compare", "sample-board/strip-2", "letter-box/box")
        text = (demo.folder / "jobs" / "letter-box.yaml").read_text("utf-8")
        assert "schedule: waxed-shellac" in text
