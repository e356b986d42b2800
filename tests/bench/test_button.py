"""One button runs a whole evening: one press, or two."""

from __future__ import annotations

from collections.abc import Callable

from fakes import BETWEEN_WAIT, HOUR, MINUTE, NOW, Clocks, FakeDoor, FakePiece, WatchedBench, bench
from textual.pilot import Pilot

from finishsched.workshop.base.entries import What


class Later:
    """A timer that goes off when the test says so."""

    def __init__(self, call: Callable[[], None]) -> None:
        self.call = call
        self.stopped = False

    def stop(self) -> None:
        """Never go off."""
        self.stopped = True


class Foot:
    """A foot on a switch that sends f9."""

    def __init__(self, app: WatchedBench, pilot: Pilot[None], clocks: Clocks) -> None:
        self._pilot = pilot
        self._clocks = clocks
        self._timers: list[Later] = []
        app.call_in = self._keep  # type: ignore[method-assign]

    def _keep(self, _: float, call: Callable[[], None]) -> Later:
        self._timers.append(Later(call))
        return self._timers[-1]

    async def once(self) -> None:
        """Press once, and let it become sure that no second press comes."""
        self._clocks.forward(10 * MINUTE)
        await self._pilot.press("f9")
        self._timers.pop().call()
        await self._pilot.pause()

    async def held(self) -> None:
        """Hold the switch down, so that it repeats."""
        self._clocks.forward(10 * MINUTE)
        await self._pilot.press("f9", "f9", "f9")
        assert self._timers.pop().stopped


async def test_a_sitting_with_one_button() -> None:
    """Begun, two coats on each of two parts, one left for a round, and over: with f9 alone."""
    parts = [FakePiece(f"a/{n}", n, coat=7, coats=8, between=BETWEEN_WAIT) for n in "xy"]
    door, clocks = FakeDoor(parts), Clocks()
    app = bench(door, clocks, button="f9")
    async with app.run_test() as pilot:
        foot = Foot(app, pilot, clocks)
        for _ in range(4):
            await foot.once()
        assert [e.what for e in door.entries] == [What.DONE, What.DONE]
        await foot.held()
        assert door.entries[-1].what is What.NOT_READY
        await foot.once()
        await foot.once()
        gone_on = [e.piece for e in door.entries if e.what is What.GO_ON]
        assert gone_on == ["a/y", "a/x"]
        assert not app.cards()


async def test_the_button_elsewhere() -> None:
    """On the board two presses take the next piece; in the dry check one says ready."""
    pieces = [FakePiece("a/x", "X", laid_at=NOW - 5 * HOUR), FakePiece("a/y", "Y")]
    door, clocks = FakeDoor(pieces), Clocks()
    app = bench(door, clocks, button="f9")
    async with app.run_test() as pilot:
        foot = Foot(app, pilot, clocks)
        await foot.once()
        await foot.once()
        assert [e.what for e in door.entries] == [What.READY]
        large = app.choosing.large
        await foot.held()
        assert app.choosing.large != large
