"""Waiting until a bench has drawn what it was told, however slow or busy the machine is.

A pilot's own pause goes on as soon as the processor looks idle, which a stalled machine does too.
"""

from __future__ import annotations

import asyncio
import time
from typing import TYPE_CHECKING

from textual.pilot import Pilot

if TYPE_CHECKING:
    from textual.app import App
    from textual.message_pump import MessagePump

_LONGEST_S = 20.0
_ROUND_S = 0.002
_SURE_AFTER = 3
"""One round's answer may hand on to the next; no chain of the bench rests in between."""

_usual_pause = Pilot.pause
_usual_press = Pilot.press


async def at_once(_min_s: float = 0.0, _max_s: float = 0.0) -> None:
    """Stand in for waiting until the processor looks idle: what follows here knows better."""
    await asyncio.sleep(0)


async def pause(pilot: Pilot[object], delay: float | None = None) -> None:
    """Stand in for ``Pilot.pause``: also wait until nothing is queued, laid out or painted."""
    await _usual_pause(pilot, delay)
    await _rest(pilot)


async def press(pilot: Pilot[object], *keys: str) -> None:
    """Stand in for ``Pilot.press``: also wait until what each key set going is done."""
    for key in keys:
        await _usual_press(pilot, key)
        await _rest(pilot)


async def _rest(pilot: Pilot[object]) -> None:
    until, rounds = time.monotonic() + _LONGEST_S, 0
    while rounds < _SURE_AFTER and time.monotonic() < until and not pilot.app._exit:
        await pilot._wait_for_screen()
        await asyncio.sleep(_ROUND_S)
        rounds = rounds + 1 if _is_at_rest(pilot.app) else 0


def _is_at_rest(app: App[object]) -> bool:
    screen = app.screen
    owes_paint = (
        screen._layout_required
        or screen._scroll_required
        or screen._repaint_required
        or screen._recompose_required
        or screen._dirty_widgets
        or screen._callbacks
    )
    pumps: list[MessagePump] = [app]
    for each in app.screen_stack:
        pumps += each.walk_children(with_self=True)
    owes_work = any(pump._next_callbacks or not pump._message_queue.empty() for pump in pumps)
    moves = not (app.animator._complete_event.is_set() and app.animator._idle_event.is_set())
    in_order = getattr(app, "_in_order", None)
    owes_key = in_order is not None and in_order.is_busy
    return not (owes_paint or owes_work or owes_key or moves)
