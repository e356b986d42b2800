"""A bench at rest says nothing to the terminal: what is drawn is what changed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from fakes import MINUTE, Clocks, bench

if TYPE_CHECKING:
    from textual.pilot import Pilot

SIZES = [(40, 12), (60, 20), (80, 24), (120, 40)]


async def rows_drawn_by_a_beat(
    pilot: Pilot[None], monkeypatch: pytest.MonkeyPatch
) -> dict[int, int]:
    """Return how often each row of the screen is drawn again by one beat."""
    drawn: dict[int, int] = {}
    compositor = pilot.app.screen._compositor
    usual = compositor.render_update

    def watched(*args: object, **named: object) -> object:
        regions = compositor._dirty_regions or {pilot.app.size.region}
        for region in regions:
            for row in range(region.y, region.bottom):
                drawn[row] = drawn.get(row, 0) + 1
        return usual(*args, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(compositor, "render_update", watched)
    pilot.app.beat()  # type: ignore[attr-defined]
    await pilot.pause()
    return drawn


@pytest.mark.parametrize("size", SIZES)
async def test_a_beat_that_changes_nothing_draws_nothing(
    size: tuple[int, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A beat at the same instant, which all but one in a minute look like, paints no row."""
    app = bench(clocks=Clocks())
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        assert await rows_drawn_by_a_beat(pilot, monkeypatch) == {}


@pytest.mark.parametrize("size", SIZES)
async def test_a_minute_draws_less_than_the_screen(
    size: tuple[int, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    """When a minute has passed the time is drawn, and rows without a time in them are not."""
    clocks = Clocks()
    app = bench(clocks=clocks)
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        clocks.forward(MINUTE)
        drawn = await rows_drawn_by_a_beat(pilot, monkeypatch)
        assert 0 in drawn
        assert len(drawn) < size[1] - 1
