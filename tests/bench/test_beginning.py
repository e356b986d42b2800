"""From nothing to the first clock on the bench, and changes without an editor."""

from __future__ import annotations

from datetime import timedelta

import pytest
from fakes import Clocks, WatchedBench, said
from real_shop import until
from textual.widgets import Input, Static, TextArea

from finishsched.bench.asking.door import ShopDoor
from finishsched.bench.screens.card import Body
from finishsched.bench.screens.choice import ChoiceCard, ChoiceRow
from finishsched.bench.screens.form import FormCard
from finishsched.bench.screens.lines import LinesCard
from finishsched.bench.welcome import DEMO, NEW, NEW_US, OPEN, WelcomeApp
from finishsched.documents.decode import load
from finishsched.documents.library import schedule_text
from finishsched.model.settings import Settings
from finishsched.model.shop import ShownUnits
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.begin.boards import BOARD_QUESTIONS
from finishsched.workshop.begin.changing import says_of
from finishsched.workshop.begin.questions import questions_for
from finishsched.workshop.demo.starter import make_shop
from finishsched.workshop.standing.where import find


@pytest.fixture
def shop(tmp_path):
    """Return an open shop that has no piece yet."""
    make_shop(tmp_path / "shop", example=False)
    clocks = Clocks()
    with Workshop.open(tmp_path / "shop", clocks.wall) as workshop:
        yield workshop


def on_bench(shop: Workshop, clocks: Clocks, *, first: bool = False) -> WatchedBench:
    """Return the bench on a shop."""
    return WatchedBench(
        ShopDoor(shop), now=lambda: clocks.wall, monotonic=lambda: clocks.monotonic_s,
        settings=Settings(), begin_first=first,
    )  # fmt: skip


async def shown(pilot, kind):
    """Wait until a card of a kind lies on top."""
    await until(pilot, lambda: isinstance(pilot.app.screen, kind))
    return pilot.app.screen


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (40, 12)])
async def test_down_goes_to_the_next_field_however_low_the_screen(shop: Workshop, size) -> None:
    """What is typed after ↓ stands in the next field, and that field is in sight."""
    app = on_bench(shop, Clocks(), first=True)
    async with app.run_test(size=size) as pilot:
        form = await shown(pilot, FormCard)
        fields = list(form.query(Input))
        await until(pilot, lambda: app.focused is fields[0])
        for field in fields[1:]:
            await pilot.press("down")
            await until(pilot, lambda: app.focused is field)  # noqa: B023  # awaited at once
            await pilot.press("x")
            assert field.value.endswith("x")
            assert form.query_one(Body).region.contains_region(field.region)
        assert fields[0].value == "A piece"


async def test_a_fault_stands_by_its_field_until_that_says_something_else(shop: Workshop) -> None:
    """The field is in sight with what is wrong with it, and what was wrong goes as it is mended."""
    app = on_bench(shop, Clocks(), first=True)
    async with app.run_test(size=(80, 24)) as pilot:
        form = await shown(pilot, FormCard)
        faces = form.query_one("#faces", Input)
        faces.value = "two of 9 x 6"
        schedule = form.query_one("#schedule", Input)
        schedule.value = "french"
        schedule.focus()
        await until(pilot, lambda: form.query_one(Body).region.contains_region(schedule.region))
        await pilot.press("enter")
        await until(pilot, lambda: app.focused is faces)
        await pilot.pause()
        assert "9 x 6 in" in form.faults["faces"]
        assert "'french-polish-with-oil'" not in form.faults["faces"]
        assert "did you mean french-polish-with-oil or" in form.faults["schedule"]
        place = form.query_one("#fault-faces", Static)
        await until(pilot, lambda: form.query_one(Body).region.contains_region(place.region))
        assert form.query_one(Body).region.contains_region(faces.region)
        await pilot.press("9")
        await pilot.pause()
        assert list(form.faults) == ["schedule"]
        assert not form.refused


def test_a_value_that_is_changed_says_how_it_is_written(shop: Workshop) -> None:
    """Whoever writes hours down for the first time has an example of them in the field."""
    assert "Mon-Thu 18:30-21:30" in says_of(shop.papers, shop.folder, "shop", "hours")


async def test_a_piece_by_three_keys(shop: Workshop) -> None:
    """In a new shop the form is open: enter, the document is shown, one key writes it."""
    app = on_bench(shop, Clocks(), first=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await shown(pilot, FormCard)
        await pilot.press("enter")
        card = await shown(pilot, ChoiceCard)
        assert any("piece: a-piece" in paragraph.text for paragraph in card.after)
        assert not list((shop.folder / "jobs").glob("*.yaml"))
        await pilot.press("2")
        await until(pilot, lambda: app.choosing.large == "a-piece/a-piece")
        piece = app.desk.piece("a-piece/a-piece")
        assert piece.step.stage.value != "prepare"
    assert load(shop.folder / "jobs/a-piece.yaml").model.pieces[0].id == "a-piece"


async def test_every_fault_stands_in_the_form_and_what_was_typed_stays(shop: Workshop) -> None:
    """Nothing is written; leaving the form leaves the folder as it was."""
    app = on_bench(shop, Clocks())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("b")
        form = await shown(pilot, FormCard)
        form.query_one("#faces", Input).value = "3 mm"
        form.query_one("#due", Input).value = "soon"
        await pilot.press("enter")
        await pilot.pause()
        fault = str(form.query_one("#fault").content)
        assert "one side only" in fault
        assert "is not a date" in fault
        assert form.query_one("#due", Input).value == "soon"
        await pilot.press("escape")
        await pilot.pause()
    assert not list((shop.folder / "jobs").glob("*.yaml"))


async def test_a_date_is_changed_and_every_other_byte_stays(shop: Workshop) -> None:
    """Two keys choose what and which, a form asks the value, and the remarks are kept."""
    file = shop.folder / "shop.yaml"
    before = file.read_text("utf-8")
    app = on_bench(shop, Clocks())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("e")
        await shown(pilot, ChoiceCard)
        await pilot.press("1")

        def sign_of_people():
            choices = getattr(app.screen, "choices", ())
            return next((sign for sign, choice in choices if choice.answer == "people"), None)

        await until(pilot, sign_of_people)
        await pilot.press(sign_of_people())
        form = await shown(pilot, FormCard)
        form.query_one("#value", Input).value = "Ada; Ben"
        await pilot.press("enter")
        await until(pilot, lambda: any("people of shop" in words for words in said(app)))
    after = file.read_text("utf-8")
    assert load(file).model.people == ("Ada", "Ben")
    kept, added = before.splitlines(), after.splitlines()
    assert [line for line in added if line in kept] == kept
    assert [line for line in added if line not in kept] == ["people: [Ada, Ben]"]


@pytest.mark.parametrize(
    ("key", "wanted"), [("1", NEW), ("2", NEW_US), ("3", DEMO), ("4", OPEN), ("escape", "")]
)
async def test_the_welcome_offers_four_ways(tmp_path, key: str, wanted: str) -> None:
    """Begin here in either units, look round, open one used before; escape does nothing."""
    app = WelcomeApp(tmp_path / "here", [tmp_path / "old-shop"], Settings())
    async with app.run_test(size=(60, 20)) as pilot:
        await shown(pilot, ChoiceCard)
        await pilot.press(key)
        await until(pilot, lambda: not app.is_running)
    answer = app.return_value or ""
    assert answer.startswith(wanted)
    assert bool(answer) == bool(wanted)


async def test_lines_are_read_as_they_are_typed_and_kept_once_doubts_are_settled(shop) -> None:
    """What each line becomes stands below; a doubt is a list with one key for each answer."""
    app = on_bench(shop, Clocks())
    async with app.run_test(size=(80, 40)) as pilot:
        await pilot.press("e")
        card = await shown(pilot, ChoiceCard)
        await pilot.press(card.choices[-1][0])
        card = await shown(pilot, LinesCard)
        area = card.query_one("#lines", TextArea)
        area.text = "pad 6 coates 2 lb"
        await pilot.press("ctrl+s")
        await until(pilot, lambda: "coates" in str(card.query_one("#fault").content))
        area.text = "pad 3 coats 2 lb blonde shellac, 3 h\nrest 3 days\n"
        await until(pilot, lambda: "body/pad" in str(card.query_one("#becomes").content))
        await pilot.press("ctrl+s")
        await shown(pilot, ChoiceCard)
        await pilot.press("1")
        file = shop.folder / "schedules/my-own-way.yaml"
        await until(pilot, file.exists)
    kept = load(file).model
    assert [step.verb.value for step in kept.step_plans()] == ["pad", "rest"]


async def test_a_step_is_added_moved_and_taken_back_by_keys(shop: Workshop) -> None:
    """From the piece to its schedule, a stage, a step; a fault stays in the form with the line."""
    file = shop.folder / "schedules/own.yaml"
    text = schedule_text("tung-oil").replace("schedule: tung-oil", "schedule: own")
    file.write_text(text)
    (shop.folder / "jobs/box.yaml").write_text(
        "job: box\ntitle: Box\npieces:\n- {piece: lid, title: Lid, schedule: own, "
        "faces: [{face: top, area: 0.1 m2}]}\n"
    )
    shop.changed()
    app = on_bench(shop, Clocks())
    async with app.run_test(size=(80, 40)) as pilot:
        await until(pilot, lambda: app.choosing.large == "box/lid")

        async def choose(wanted: str):
            """Press the key of the line whose answer begins so."""

            def sign():
                choices = getattr(app.screen, "choices", ())
                return next((s for s, c in choices if c.answer.startswith(wanted)), None)

            await until(pilot, sign)
            await pilot.press(sign())

        async def choose_a_step():
            await until(pilot, lambda: not app.cards())
            await pilot.press("e")
            await choose("steps of own")
            await choose("prepare")
            await choose("own/prepare/sand")

        await choose_a_step()
        await choose("before")
        form = await shown(pilot, FormCard)
        form.query_one("#line", Input).value = "tack off, but"
        await pilot.press("enter")
        await until(pilot, lambda: "'but' says nothing" in str(form.query_one("#fault").content))
        form.query_one("#line", Input).value = "tack off"
        await pilot.press("enter")
        await until(pilot, lambda: file.read_text() != text)
        added = file.read_text()
        await choose_a_step()
        await choose("down")
        await until(pilot, lambda: file.read_text() != added)
        for wanted in (added, text):
            await until(pilot, lambda: not app.cards())
            await pilot.press("e")
            await choose("back")
            await until(pilot, lambda wanted=wanted: file.read_text() == wanted)


@pytest.mark.parametrize("size", [(60, 20), (40, 12)])
async def test_the_first_question_is_in_sight_on_a_small_screen(shop: Workshop, size) -> None:
    """What is typed at once goes into a field that can be seen."""
    app = on_bench(shop, Clocks(), first=True)
    async with app.run_test(size=size) as pilot:
        form = await shown(pilot, FormCard)
        first = form.query_one("#title", Input)
        await until(pilot, lambda: form.query_one(Body).scroll_y == 0 and first.region.height == 1)
        assert first.has_focus
        assert form.query_one(Body).region.contains_region(first.region)


async def test_what_is_done_already_is_part_of_the_form(shop: Workshop) -> None:
    """A fault of it is told below its field and all stays; read rightly it is logged as told."""
    app = on_bench(shop, Clocks(), first=True)
    async with app.run_test(size=(80, 24)) as pilot:
        form = await shown(pilot, FormCard)
        form.query_one("#wood", Input).value = "walnut"
        form.query_one("#schedule", Input).value = "padded-shellac-closed-pored"
        form.query_one("#due", Input).value = "soon"
        form.query_one("#done", Input).value = "sealed, 2 coats of oil"
        await pilot.press("enter")
        told = {f.id: str(f.content) for f in form.query(".-told")}
        assert set(told) == {"fault-due", "fault-done"}
        assert "not oil" in told["fault-done"]
        assert form.query_one("#wood", Input).value == "walnut"
        form.query_one("#due", Input).value = ""
        form.query_one("#done", Input).value = "sealed, 2 coats of shellac since yesterday"
        await pilot.press("enter")
        card = await shown(pilot, ChoiceCard)
        assert "2 coats of shellac" in card.choices[0][1].text
        await pilot.press(card.choices[0][0])
        await until(pilot, lambda: find(shop, "a-piece").progress is not None)
        step = find(shop, "a-piece").step
        assert step is not None
        assert (step.verb.value, step.coat) == ("pad", 2)


async def test_a_schedule_left_open_follows_the_answers(shop: Workshop) -> None:
    """Gloss on walnut gets one that fills its pores; of one that was named is told what speaks."""
    app = on_bench(shop, Clocks(), first=True)
    async with app.run_test(size=(80, 24)) as pilot:
        form = await shown(pilot, FormCard)
        assert form.query_one("#schedule", Input).value == ""
        form.query_one("#wood", Input).value = "walnut"
        form.query_one("#sheen", Input).value = "gloss"
        await pilot.press("enter")
        card = await shown(pilot, ChoiceCard)
        assert card.before[0].text == "by padded-shellac-open-pored"
        assert any("schedule: padded-shellac-open-pored" in one.text for one in card.after)
        await pilot.press("escape")
        await shown(pilot, FormCard)
        form.query_one("#schedule", Input).value = "waxed-shellac"
        await pilot.press("enter")
        card = await shown(pilot, ChoiceCard)
        assert any("pores of walnut open" in one.text for one in card.before)
        assert any("schedule: waxed-shellac" in one.text for one in card.after)


async def test_a_day_is_taken_as_people_write_it_and_told_of_where_it_is_too_soon(shop) -> None:
    """What check would refuse once it is written is told before, also of a job's own day."""
    app = on_bench(shop, Clocks(), first=True)
    async with app.run_test(size=(80, 24)) as pilot:
        form = await shown(pilot, FormCard)
        form.query_one("#job", Input).value = "Box"
        form.query_one("#due", Input).value = "tomorrow"
        form.query_one("#schedule", Input).value = "padded-shellac-pattern"
        await pilot.press("enter")
        card = await shown(pilot, ChoiceCard)
        tomorrow = shop.opened_at.date() + timedelta(days=1)
        assert any(one.text == f"due: {tomorrow}" for one in card.after)
        soon = f"is due on {tomorrow}, and the earliest waits alone last until"
        assert any(soon in one.text for one in card.before)
        await pilot.press("1")
        await until(pilot, lambda: find(shop, "a-piece"))
        await pilot.press("b")
        form = await shown(pilot, FormCard)
        form.query_one("#title", Input).value = "Lid"
        form.query_one("#job", Input).value = "Box"
        form.query_one("#schedule", Input).value = "padded-shellac-pattern"
        await pilot.press("enter")
        card = await shown(pilot, ChoiceCard)
        assert any(soon in one.text for one in card.before)


@pytest.mark.parametrize("units", [ShownUnits(), ShownUnits(length="in", area="sqft")])
async def test_what_a_field_may_hold_is_shown_whole(shop: Workshop, units: ShownUnits) -> None:
    """Nothing of an example is cut off at eighty columns, in millimetres and in inches."""
    app = on_bench(shop, Clocks(), first=True)
    async with app.run_test(size=(80, 24)) as pilot:
        form = await shown(pilot, FormCard)
        await pilot.pause()
        room = form.query_one("#inlay", Input).content_size.width
        told = [*questions_for(units), *BOARD_QUESTIONS]
        assert [one.key for one in told if len(one.meant) > room] == []


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (40, 12)])
async def test_what_there_is_to_do_is_in_sight_at_once(tmp_path, size) -> None:
    """On a low screen the words about it stand below the choices."""
    app = WelcomeApp(tmp_path, (), Settings())
    async with app.run_test(size=size) as pilot:
        card = await shown(pilot, ChoiceCard)
        await pilot.pause()
        body = card.query_one(Body).region
        for row in card.query(ChoiceRow):
            assert body.contains_region(row.region)


async def test_a_key_of_the_work_says_which_comes_first_where_there_is_no_piece(shop) -> None:
    """None is silent, and the plan says it too."""
    app = on_bench(shop, Clocks())
    async with app.run_test(size=(40, 12)) as pilot:
        for key in ("space", "l", "f", "d", "t"):
            app.clear_notifications()
            await pilot.press(key)
            await until(pilot, lambda: any("b begins one" in text for text in said(app)))
