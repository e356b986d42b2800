"""Going on where the program was changed under the bench that runs."""

from __future__ import annotations

from collections.abc import Awaitable
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from textual.app import App

CHANGED_MEANWHILE = "finishsched was changed while this bench ran: leave it and come back."


async def lasting(app: App[Any], doing: Awaitable[bool]) -> bool:
    """Do what a key or a tap asks for; a program that was changed meanwhile says so.

    What keys open is loaded when it is needed; by then another version may be in its place.
    """
    try:
        return await doing
    except ImportError:
        app.notify(CHANGED_MEANWHILE, severity="warning", markup=False)
        return True
