"""Every key of the bench, pressed."""

import pytest
from fakes import HOUR, MINUTE, NOW, Clocks, FakeDoor, FakePiece, bench, said, six_pieces
from real_shop import shown, until
from textual import events
from textual.widgets import Input

from finishsched.bench import in_order
from finishsched.bench.parts.work import WHY_EARLY
from finishsched.bench.screens.board import Board
from finishsched.bench.screens.choice import Choice, ChoiceCard
from finishsched.bench.screens.dry_check import DryCheckCard
from finishsched.bench.screens.form import FormCard
from finishsched.bench.screens.key_card import KeyCard
from finishsched.bench.screens.page import Page
from finishsched.bench.screens.question import QuestionCard
from finishsched.journal.faults import JournalFaultError
from finishsched.workshop.base.entries import Entry, RefusedError, What

LID, CASE, TRAY = "tea-box/lid", "tea-box/case", "tea-box/tray"


def one(**facts: object) -> FakeDoor:
    """Return a shop with one piece."""
    return FakeDoor([FakePiece("a/a", "A box", **facts)])  # type: ignore[arg-type]


async def type_in(pilot: object, **fields: str) -> None:
    """Fill fields of the open form, and hand it in."""
    for name, text in fields.items():
        pilot.app.screen.query_one(f"#{name}", Input).value = text  # type: ignore[attr-defined]
    await pilot.press("enter")  # type: ignore[attr-defined]
    await pilot.pause()  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("pressed", "chosen"),
    [
        (["down"], CASE),
        (["j", "j"], TRAY),
        (["j", "k"], LID),
        (["down", "up", "up"], LID),
        (["j", "j", "g"], LID),
        (["j", "home"], LID),
        (["j"] * 9, "frame/frame"),
    ],
)
async def test_choosing(pressed: list[str], chosen: str) -> None:
    """Arrow keys and letters choose a piece, and stop at both ends."""
    app = bench()
    async with app.run_test() as pilot:
        await pilot.press(*pressed)
        assert app.choosing.large == chosen


@pytest.mark.parametrize("key", ["space", "enter"])
async def test_next_thing_logs_a_step_done(key: str) -> None:
    """On a piece to do, one key logs the step done and says how to take it back."""
    door = one()
    app = bench(door)
    async with app.run_test() as pilot:
        await pilot.press(key)
        assert door.entries == [Entry(What.DONE, "a/a", step="body/pad:2.1")]
        assert said(app) == ["logged: A box, pad coat 1 of 6 at 18:42; u takes it back"]


async def test_double_press_logs_once() -> None:
    """A second press within a second and a half, or a key held down, is a slip."""
    door, clocks = FakeDoor([FakePiece("a/a", "A box"), FakePiece("a/b", "B box")]), Clocks()
    app = bench(door, clocks)
    async with app.run_test() as pilot:
        await pilot.press("space", "space")
        clocks.monotonic_s += 1.4
        await pilot.press("space")
        assert isinstance(app.screen, Board)
        assert len(door.entries) == 1
        clocks.monotonic_s += 1.6
        await pilot.press("space")
        assert isinstance(app.screen, DryCheckCard)


async def test_presses_that_a_busy_bench_answers_at_once_are_not_taken_for_one() -> None:
    """It counts when a key was pressed, and not when a bench with much to do came to it."""
    door = FakeDoor([FakePiece("a/a", "A box")])
    app = bench(door)
    async with app.run_test() as pilot:
        for ago_s in (4.0, 2.0):
            press = events.Key("space", " ")
            press.time = in_order.monotonic() - ago_s
            app.post_message(press)
        await until(pilot, lambda: isinstance(app.screen, DryCheckCard))
        assert [entry.what for entry in door.entries] == [What.DONE]


async def test_a_press_is_held_against_the_letters_that_stood_there_when_it_was_made() -> None:
    """One that came before they went on to another piece is for none, however late it is heard."""
    door, clocks = FakeDoor([FakePiece("a/a", "A box"), FakePiece("a/b", "B box")]), Clocks()
    app = bench(door, clocks)
    async with app.run_test() as pilot:
        clocks.monotonic_s += 1.2
        app.choosing._changed_s = clocks.monotonic_s - 1.1
        press = events.Key("space", " ")
        press.time = in_order.monotonic() - 0.5
        app.post_message(press)
        await until(pilot, lambda: said(app))
        assert "press again if it is meant" in said(app)[0]
        assert not door.entries


async def test_double_press_is_by_piece() -> None:
    """Two presses on two pieces are two entries."""
    door = FakeDoor([FakePiece("a/a", "A box"), FakePiece("a/b", "B box")])
    app = bench(door)
    async with app.run_test() as pilot:
        await pilot.press("space")
        app.choosing.choose("a/b")
        await pilot.press("space")
        assert [entry.piece for entry in door.entries] == ["a/a", "a/b"]


@pytest.mark.parametrize(
    ("key", "what"), [("r", What.READY), ("n", What.NOT_READY), ("escape", None)]
)
async def test_dry_check(key: str, what: What | None) -> None:
    """The dry check has two answers, and a way back that logs nothing."""
    door = one(laid_at=NOW - 5 * HOUR)
    app = bench(door)
    async with app.run_test() as pilot:
        await pilot.press("space")
        assert isinstance(app.screen, DryCheckCard)
        await pilot.press(key)
        await pilot.pause()
        assert isinstance(app.screen, Board)
        assert [entry.what for entry in door.entries] == ([what] if what else [])


async def test_going_on_early_is_two_keys_and_says_why() -> None:
    """On the dry check's card, e and the digit of a reason; back from the reasons logs nothing."""
    for keys_pressed, logged in ((("e", "3"), True), (("e", "escape"), False)):
        door = one(laid_at=NOW - HOUR)
        app = bench(door)
        async with app.run_test() as pilot:
            await pilot.press("space", *keys_pressed)
            await pilot.pause()
            said = [(entry.what, entry.text) for entry in door.entries]
            assert said == ([(What.EARLY, WHY_EARLY[2])] if logged else [])


async def test_dry_check_before_the_earliest_time_warns_and_allows() -> None:
    """A check too early is warned of, and taken all the same."""
    door = one(laid_at=NOW - HOUR)
    app = bench(door)
    async with app.run_test() as pilot:
        await pilot.press("space")
        text = " ".join(str(w.render()) for w in app.screen.query("Static"))
        assert "before the earliest time, 19:42" in text
        await pilot.press("r")
        await pilot.pause()
        assert door.entries[0].what is What.READY


@pytest.mark.parametrize(("key", "begun"), [("y", True), ("n", False), ("escape", False)])
async def test_start_is_asked(key: str, begun: bool) -> None:  # noqa: FBT001
    """A piece not begun is begun only on a yes."""
    door = one(begun=False)
    app = bench(door)
    async with app.run_test() as pilot:
        await pilot.press("space")
        assert isinstance(app.screen, QuestionCard)
        await pilot.press(key)
        await pilot.pause()
        assert door.pieces["a/a"].begun is begun


@pytest.mark.parametrize(("ref", "has_record"), [("a/a", True), ("a/a+1", False)])
async def test_a_finished_piece_says_how_its_record_is_had(ref: str, has_record: bool) -> None:  # noqa: FBT001
    """What comes after the last step is told where steps stood; a repair has none of its own."""
    app = bench(FakeDoor([FakePiece(ref, "A box", coat=7)]))
    async with app.run_test(size=(80, 24)):
        assert (f"finishsched record {ref} writes" in shown(app)) is has_record


async def test_finished_piece_has_nothing_to_do() -> None:
    """The key for the next thing logs nothing on a finished piece."""
    door = one(coat=7)
    app = bench(door)
    async with app.run_test() as pilot:
        await pilot.press("space", "l")
        assert door.entries == []
        assert isinstance(app.screen, Board)


async def test_log_with_details() -> None:
    """The form hands in the amount, batch, person, time and note."""
    door = one()
    app = bench(door)
    async with app.run_test() as pilot:
        await pilot.press("l")
        await type_in(
            pilot, amount="15 ml", batch="jar 7", when="18:30", by="Ana", note="went on well"
        )
        entry = door.entries[0]
        assert (entry.amount_ml, entry.batch, entry.by) == (15.0, "jar 7", "Ana")
        assert entry.at == NOW - 12 * MINUTE
        assert entry.text == "went on well"
        assert isinstance(app.screen, Board)


async def test_log_details_of_a_wait_is_the_dry_check() -> None:
    """While a wait runs the form logs the outcome of the dry check."""
    door = one(laid_at=NOW - 5 * HOUR)
    app = bench(door)
    async with app.run_test() as pilot:
        await pilot.press("l")
        await type_in(pilot, outcome="perhaps")
        assert door.entries == []
        await type_in(pilot, outcome="not yet", when="18:00")
        assert door.entries[0].what is What.NOT_READY


async def test_form_keeps_what_was_typed_when_refused() -> None:
    """A refused entry leaves the form open, with the message and everything typed."""
    door = one()
    door.refusal = RefusedError("that is before the coat", "correct the time")
    app = bench(door)
    async with app.run_test() as pilot:
        await pilot.press("l")
        await type_in(pilot, batch="jar 7")
        assert isinstance(app.screen, FormCard)
        assert "correct the time" in str(app.screen.query_one("#fault").render())  # type: ignore[attr-defined]
        assert app.screen.query_one("#batch", Input).value == "jar 7"


async def test_undo_says_what_it_undid() -> None:
    """Undo asks nothing, and names the entry it took back, and of when that was."""
    door, clocks = one(), Clocks()
    app = bench(door, clocks)
    async with app.run_test() as pilot:
        await pilot.press("space", "u")
        assert [entry.what for entry in door.entries] == [What.DONE, What.UNDO]
        assert said(app)[-1] == "undone: A box, done, of 18:42"


@pytest.mark.parametrize(("key", "what"), [("t", What.NOTE), ("s", What.SKIPPED)])
async def test_entries_in_words(key: str, what: What) -> None:
    """A note and a skip need words, and hand them in."""
    door = one()
    app = bench(door)
    async with app.run_test() as pilot:
        await pilot.press(key, "enter")
        assert door.entries == []
        await type_in(pilot, text="a dull spot")
        assert (door.entries[0].what, door.entries[0].text) == (what, "a dull spot")


async def test_letters_typed_into_a_form_set_nothing_off() -> None:
    """While typing, the single-letter keys and the space are text."""
    door = one()
    app = bench(door)
    async with app.run_test() as pilot:
        await pilot.press("t", *"quasi", "space", "d", "question_mark", "enter")
        await pilot.pause()
        assert [entry.text for entry in door.entries] == ["quasi d?"]


async def test_air_reading() -> None:
    """A reading needs its units; with them it is handed in and shown."""
    door = one()
    app = bench(door)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("a")
        await type_in(pilot, temperature="21", humidity="45 %")
        assert isinstance(app.screen, FormCard)
        assert "degC" in str(app.screen.query_one("#fault").render())  # type: ignore[attr-defined]
        await type_in(pilot, temperature="21 degC")
        await pilot.pause()
        assert door.air.answer.temperature_c == 21
        assert "21 degC · 45 %" in app.screen.query_one("#top").drawn.plain  # type: ignore[attr-defined]


@pytest.mark.parametrize("key", ["w", "n", "question_mark"])
async def test_pages_open_and_close(key: str) -> None:
    """Why, notices and help open over the board and close again."""
    app = bench()
    async with app.run_test() as pilot:
        await pilot.press(key)
        assert isinstance(app.screen, Page | KeyCard)
        await pilot.press("down", "escape")
        assert isinstance(app.screen, Board)


async def test_why_tells_reasons_and_instants() -> None:
    """Why gives the reasons as they came, and each instant of the clock."""
    app = bench()
    async with app.run_test() as pilot:
        await pilot.press("w")
        assert isinstance(app.screen, Page | KeyCard)
        text = "\n".join(f"{p.margin} {p.text}" for p in app.screen.paragraphs)
        assert "only the dry check ends the wait" in text
        assert "likely 17:42, since 1 h 00" in text


async def test_sheet_turns() -> None:
    """The page keys turn the sheet of the chosen piece."""
    app = bench()
    async with app.run_test(size=(60, 20)) as pilot:
        await pilot.pause()
        sheet = app.screen.query_one("#sheet")
        await pilot.press("pagedown")
        await pilot.pause()
        assert sheet.scroll_y > 0
        await pilot.press("pageup")
        await pilot.pause()
        assert sheet.scroll_y == 0


async def test_quit() -> None:
    """One key leaves."""
    app = bench()
    async with app.run_test() as pilot:
        await pilot.press("q")
    assert app.return_code == 0


@pytest.mark.parametrize(
    "refusal",
    [
        RefusedError("nothing was begun", "start it first"),
        JournalFaultError("no room is left", "make room on the disk"),
    ],
)
@pytest.mark.parametrize("key", ["space", "u"])
async def test_refusal_is_a_message(refusal: Exception, key: str) -> None:
    """A refused entry is told with its remedy, and the bench goes on."""
    door = FakeDoor(six_pieces()[1:2])
    door.refusal = refusal
    app = bench(door)
    async with app.run_test() as pilot:
        await pilot.press(key)
        assert said(app) == [str(refusal)]
        assert isinstance(app.screen, Board)


async def test_adopt_asks_first() -> None:
    """A new text of the schedule is adopted only on a yes."""
    door = one()
    app = bench(door)
    async with app.run_test() as pilot:
        await pilot.press("o", "n")
        assert door.entries == []
        await pilot.press("o", "y")
        await pilot.pause()
        assert [entry.what for entry in door.entries] == [What.ADOPT]


async def test_keys_pressed_faster_than_a_card_closes_are_no_second_answer() -> None:
    """A word typed into a list of one-letter answers takes one of them, and ends nothing."""
    app = bench(one())
    async with app.run_test() as pilot:
        card = ChoiceCard("What?", "take", [Choice(str(n), f"thing {n}") for n in range(4)])
        answers: list[str | None] = []
        app.push_screen(card, answers.append)
        await pilot.pause()
        for key in "212":
            card.post_message(events.Key(key, key))
        await until(pilot, lambda: answers)
        await pilot.pause()
        assert answers == ["1"]
        assert isinstance(app.screen, Board)
