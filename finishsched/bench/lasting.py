"""An app that goes on where the program was changed under it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from textual.app import App

if TYPE_CHECKING:
    from textual.actions import ActionParseResult
    from textual.dom import DOMNode

CHANGED_MEANWHILE = "finishsched was changed while this bench ran: leave it and come back."


class Lasting(App[None]):
    """What keys open is loaded when it is needed; by then another version may be in its place."""

    async def run_action(
        self,
        action: str | ActionParseResult,
        default_namespace: DOMNode | None = None,
        namespaces: Mapping[str, DOMNode] | None = None,
    ) -> bool:
        """Do what a key or a tap asks for; a program that was changed meanwhile says so."""
        try:
            return await super().run_action(action, default_namespace, namespaces)
        except ImportError:
            self.notify(CHANGED_MEANWHILE, severity="warning", markup=False)
            return True
