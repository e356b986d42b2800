"""Rows and large letters: neither moves under the finger."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from fakes import HOUR, NOW, Clocks, FakeDoor, FakePiece, WatchedBench, bench, six_pieces
from hypothesis import given
from hypothesis import strategies as st
from textual.pilot import Pilot

from finishsched.bench.parts.choosing import SETTLE_S, Act, Choosing, moves
from finishsched.workshop.base.entries import What


@given(st.lists(st.integers(0, 20), unique=True, max_size=9), st.randoms())
def test_marked_are_those_that_left_their_place(refs: list[int], random: Any) -> None:
    """All rows without a mark stand in the order in which they stood, whatever moved."""
    before = [str(ref) for ref in refs]
    after = [*before]
    random.shuffle(after)
    marked = moves(before, after)
    kept = [ref for ref in after if ref not in marked]
    assert kept == [ref for ref in before if ref not in marked]
    assert bool(marked) is (before != after)


def test_one_that_moved_is_the_only_one_marked() -> None:
    """A row that went down past three others is marked; those three are not."""
    assert moves("abcd", "bcda") == {"a": "↓"}
    assert moves("abcd", "dabc") == {"d": "↑"}


def two() -> FakeDoor:
    """Return a door to two pieces that are to be coated."""
    return FakeDoor([FakePiece("a/a", "A"), FakePiece("a/b", "B")])


async def coat_and_wait(app: WatchedBench, pilot: Pilot[None], clocks: Clocks) -> None:
    """Log a coat, and let the letters go on to the next piece by themselves."""
    await pilot.press("space")
    clocks.forward(HOUR / 360)
    app.beat()


class Finger:
    """A host with a clock of its own."""

    def __init__(self) -> None:
        self.at_s = 0.0
        self.host: Any = SimpleNamespace(
            monotonic_s=lambda: self.at_s, pressed_s=lambda: self.at_s, cards=list
        )


def test_rows_stand_still_until_nothing_was_pressed_for_some_seconds() -> None:
    """A coat goes to the piece that is shown, however often the order would change meanwhile."""
    finger, door = Finger(), two()
    choosing = Choosing(finger.host)
    choosing.follow(door.bench_view(NOW), "")
    choosing.choose("a/a")
    door.pieces["a/a"].laid_at = NOW
    choosing.pressed(Act.ENTERED)
    finger.at_s += SETTLE_S / 2
    choosing.follow(door.bench_view(NOW), "")
    assert (choosing.rows, choosing.large) == (("a/a", "a/b"), "a/a")
    finger.at_s += SETTLE_S
    choosing.follow(door.bench_view(NOW), "")
    assert (choosing.rows, choosing.large) == (("a/b", "a/a"), "a/b")
    assert choosing.moved
    assert choosing.is_sudden


def test_what_is_in_hand_stays_large() -> None:
    """A piece that somebody chose and has still to work on is not left, however long it takes."""
    finger, door = Finger(), FakeDoor(six_pieces())
    choosing = Choosing(finger.host)
    choosing.follow(door.bench_view(NOW), "")
    choosing.choose("tea-box/case")
    finger.at_s += 3600.0
    choosing.follow(door.bench_view(NOW), "")
    assert choosing.large == "tea-box/case"


async def test_a_press_just_after_the_letters_changed_is_asked_again() -> None:
    """It was meant for what was there; the next press is for what is there."""
    door, clocks = two(), Clocks()
    app = bench(door, clocks)
    async with app.run_test() as pilot:
        await pilot.press("space")
        clocks.forward(HOUR / 60)
        app.beat()
        assert app.choosing.large == "a/b"
        await pilot.press("space")
        assert [entry.piece for entry in door.entries] == ["a/a"]
        clocks.forward(HOUR / 600)
        await pilot.press("space")
        assert [(e.piece, e.what) for e in door.entries][-1] == ("a/b", What.DONE)


async def test_what_was_just_logged_is_taken_back_though_the_letters_went_on() -> None:
    """The message said that the key takes it back; another piece stands large by then."""
    door, clocks = two(), Clocks()
    app = bench(door, clocks)
    async with app.run_test() as pilot:
        await coat_and_wait(app, pilot, clocks)
        assert app.choosing.large == "a/b"
        await pilot.press("u")
        assert [(e.piece, e.what) for e in door.entries][-1] == ("a/a", What.UNDO)
        assert app.choosing.large == "a/a"


async def test_who_chooses_another_piece_takes_back_what_was_logged_on_it() -> None:
    """Chosen by hand, it is meant; so is what stands large a minute after the entry."""
    for choose in (True, False):
        door, clocks = two(), Clocks()
        app = bench(door, clocks)
        async with app.run_test() as pilot:
            await coat_and_wait(app, pilot, clocks)
            if choose:
                app.choosing.choose("a/b")
            else:
                clocks.forward(HOUR / 30)
            await pilot.press("u")
            assert [(e.piece, e.what) for e in door.entries][-1] == ("a/b", What.UNDO)
