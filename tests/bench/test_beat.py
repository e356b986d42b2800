"""What one beat of the second looks at."""

from dataclasses import replace

import pytest
from fakes import HOUR, MINUTE, NOW, Clocks, FakeDoor, FakePiece, bench, six_pieces

from finishsched.bench.telling import beat


def test_clocks_stand_at_the_instant_given() -> None:
    """A clock shown later is the same clock at another instant, never one that was counted down."""
    view = FakeDoor(six_pieces()).bench_view(NOW)
    later = beat.at(view, NOW + 90 * MINUTE)
    for before, after in zip(view.pieces, later.pieces, strict=True):
        if before.clock is not None:
            assert after.clock == replace(before.clock, now=NOW + 90 * MINUTE)


def test_a_view_is_stale_once_a_wait_passes_one_of_its_instants() -> None:
    """The workshop is asked again exactly when a state may have changed, or after a minute."""
    door = FakeDoor([FakePiece("a/a", "A", laid_at=NOW - 2 * HOUR + 10 * MINUTE / 60)])
    view = door.bench_view(NOW)
    assert not beat.is_stale(view, NOW, NOW + 9 * MINUTE / 60)
    assert beat.is_stale(view, NOW, NOW + 10 * MINUTE / 60)
    assert beat.is_stale(view, NOW, NOW + MINUTE)
    assert beat.is_stale(view, NOW, NOW - MINUTE)


@pytest.mark.parametrize(
    ("wall", "awake_s", "said"),
    [
        (MINUTE / 60, 1.0, ""),
        (30 * MINUTE / 60, 1.0, ""),
        (460 * MINUTE, 1.0, "7 h 40 went by that the bench did not see: the machine slept, or its"),
        (-HOUR, 1.0, "The machine's clock was set back by 1 h 00"),
        (2 * HOUR, 7200.0, "Nobody looked for 2 h 00: the bench stood still."),
    ],
)
def test_gaps(wall: object, awake_s: float, said: str) -> None:
    """Sleep, a clock set back and a stopped bench are told apart, as far as they can be."""
    watch = beat.GapWatch(NOW, 100.0)
    notice = watch.look(NOW + wall, 100.0 + awake_s)  # type: ignore[operator]
    assert notice.startswith(said)
    assert bool(notice) == bool(said)


def test_a_gap_is_told_once() -> None:
    """The beat after a gap is an ordinary one."""
    watch = beat.GapWatch(NOW, 0.0)
    assert watch.look(NOW + HOUR, 1.0)
    assert watch.look(NOW + HOUR + MINUTE / 60, 2.0) == ""


def test_a_clock_is_drawn_again_when_the_eye_would_see_it_go_on() -> None:
    """Within five seconds of one minute nothing is drawn again; a new minute is shown at once."""
    second = MINUTE / 60
    at = NOW.replace(second=50)
    assert not beat.is_seen(at, at + 4 * second)
    assert beat.is_seen(at, at + 5 * second)
    assert beat.is_seen(at + 9 * second, at + 10 * second)
    assert beat.is_seen(at, at - 10 * second)


async def test_a_second_asks_nothing_and_draws_nothing() -> None:
    """A beat a second after the last hands the board the very facts that it had."""
    clocks = Clocks()
    app = bench(clocks=clocks)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        app.beat()
        before = app.facts
        clocks.forward(MINUTE / 60)
        app.beat()
        assert app.facts is before
