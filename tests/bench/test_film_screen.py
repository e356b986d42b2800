"""The film on the bench: the drawing with its numbers, and the question before cutting through."""

import shutil

import pytest
from fakes import NOW, Clocks
from real_shop import advised_on, shown
from textual.widgets import Static

from finishsched.bench.screens.board import Board
from finishsched.bench.screens.film import FilmCard
from finishsched.bench.screens.question import QuestionCard
from finishsched.workshop.base.answers import State
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.film.before import before_levelling
from finishsched.workshop.film.films import film_answer
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.views.views import piece_view

LID = "tea-chest/lid"


def up_to_levelling(workshop: Workshop, grade: str = "") -> None:
    """Log the lid's coats until a levelling is in hand, or the one with this grade."""
    while True:
        piece = piece_view(workshop, LID, NOW)
        levels = piece.state is State.TO_DO and piece.step.verb.value == "level"
        if levels and grade in ("", piece.step.grade):
            return
        what = What.DONE if piece.state is State.TO_DO else What.READY
        log_entry(workshop, Entry(what, LID), NOW)


@pytest.fixture(scope="module")
def first_folder(demo_folder, tmp_path_factory):
    """Return the demo shop with its first levelling in hand, never written to."""
    folder = tmp_path_factory.mktemp("first") / "row"
    shutil.copytree(demo_folder, folder)
    with Workshop.open(folder, NOW) as workshop:
        up_to_levelling(workshop)
    return folder


@pytest.fixture(scope="module")
def wary_folder(first_folder, tmp_path_factory):
    """Return it with its last levelling in hand, asked about from odds of 0.01 % on."""
    folder = tmp_path_factory.mktemp("wary") / "row"
    shutil.copytree(first_folder, folder)
    with Workshop.open(folder, NOW) as workshop:
        up_to_levelling(workshop, "P2000")
    document = folder / "shop.yaml"
    text = document.read_text("utf-8") + "film: {cut_through_odds: 0.01 %}\n"
    document.write_text(text, "utf-8")
    return folder


@pytest.fixture
def first(first_folder, tmp_path):
    """Return a copy of the shop with its first levelling in hand, open."""
    shutil.copytree(first_folder, tmp_path / "row")
    with Workshop.open(tmp_path / "row", NOW) as opened:
        yield opened


@pytest.fixture
def wary(wary_folder, tmp_path):
    """Return a copy of the one with its last levelling in hand, open."""
    shutil.copytree(wary_folder, tmp_path / "row")
    with Workshop.open(tmp_path / "row", NOW) as opened:
        yield opened


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_the_section_is_drawn_with_its_numbers(demo, size):
    """Film, relief and veneer show with the likely figures, and the sentences say what follows."""
    app = advised_on(demo, Clocks(), alone=True)
    app.choosing.choose(LID)
    async with app.run_test(size=size) as pilot:
        await pilot.press("f")
        assert isinstance(app.screen, FilmCard)
        await pilot.pause()
        found, text = film_answer(demo, LID), shown(app)
        assert f"░ film {found.film_um.likely:.0f} um" in text
        assert f"to fill {found.relief_um.likely:.0f} um" in text
        assert f"▒ veneer {found.veneer_um.likely:.0f} um" in text
        assert "█ wood" in text
        said = " ".join(paragraph.text for paragraph in app.screen.paragraphs)
        assert "it shows the wood in places" in said
        assert "film at the end" in said
        await pilot.press("down", "escape")
        assert isinstance(app.screen, Board)


@pytest.mark.parametrize("size", [(40, 12), (60, 20), (80, 24)])
async def test_before_the_paper_touches_the_nearest_zone_comes_first(first, size):
    """With a levelling in hand the card begins with the nearest zone, and says where to stop."""
    app = advised_on(first, Clocks(), alone=True)
    app.choosing.choose(LID)
    async with app.run_test(size=size) as pilot:
        await pilot.press("f")
        await pilot.pause()
        bearing = film_answer(first, LID).paper.bearing
        text = " ".join(shown(app).replace("│", " ").split())
        # The scroll bar stands between the lines of the narrowest card.
        assert f"nearest {bearing.loss.stake.value} at" in text
        assert bearing.loss.zone in app.screen.first[0].text
        labels = [paragraph.margin for paragraph in app.screen.first]
        assert labels == ["nearest", "look", "stop", "bears", "papers"]


async def test_no_drawing_is_wider_than_the_card(demo):
    """On the smallest screen no row of the section wraps."""
    app = advised_on(demo, Clocks(), alone=True)
    app.choosing.choose(LID)
    async with app.run_test(size=(60, 20)) as pilot:
        await pilot.press("f")
        await pilot.pause()
        section = app.screen.query_one("#section")
        assert section.size.height == section.drawn.plain.count("\n") + 1
        assert max(map(len, section.drawn.plain.splitlines())) <= section.content_size.width


@pytest.mark.parametrize(("key", "logs"), [("y", True), ("n", False), ("escape", False)])
async def test_a_levelling_that_may_cut_through_is_confirmed(wary, key, logs):
    """Space asks first, with the odds; only a yes logs it, and no other key stands for one."""
    said = before_levelling(film_answer(wary, LID))
    assert said.needs_confirmation
    before = len(wary.every_event())
    app = advised_on(wary, Clocks(), alone=True)
    app.choosing.choose(LID)
    async with app.run_test() as pilot:
        await pilot.press("space")
        assert isinstance(app.screen, QuestionCard)
        asked = " ".join(str(one.render()) for one in app.screen.query(Static))
        assert "It goes through the film" in asked
        await pilot.press("space", "enter")
        assert isinstance(app.screen, QuestionCard)
        await pilot.press(key)
        await pilot.pause()
        assert isinstance(app.screen, Board)
        assert (len(wary.every_event()) > before) is logs


async def test_the_form_asks_too_and_keeps_what_was_typed(wary):
    """With a no the form is still there; with a yes it is handed in."""
    app = advised_on(wary, Clocks(), alone=True)
    app.choosing.choose(LID)
    before = len(wary.every_event())
    async with app.run_test() as pilot:
        await pilot.press("l")
        form = app.screen
        form.query_one("#note").value = "by the window"
        await pilot.press("enter")
        assert isinstance(app.screen, QuestionCard)
        await pilot.press("n")
        await pilot.pause()
        assert app.screen is form
        assert form.query_one("#note").value == "by the window"
        assert len(wary.every_event()) == before
        await pilot.press("enter")
        await pilot.press("y")
        await pilot.pause()
        assert isinstance(app.screen, Board)
        assert "by the window" in piece_view(wary, LID, NOW).log[0].text


async def test_a_safe_levelling_is_logged_without_a_question(first):
    """Within what the shop goes without asking, one key logs it."""
    assert not before_levelling(film_answer(first, LID)).needs_confirmation
    before = len(first.every_event())
    app = advised_on(first, Clocks(), alone=True)
    app.choosing.choose(LID)
    async with app.run_test() as pilot:
        await pilot.press("space")
        assert isinstance(app.screen, Board)
        assert len(first.every_event()) == before + 1
