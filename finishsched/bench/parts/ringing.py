"""Ringing: the bell, the flash and the user's own command, when something is due."""

from __future__ import annotations

import os
from collections.abc import Callable
from typing import TYPE_CHECKING, Protocol

from finishsched.bench.telling.alerts import Alerts, Memory, run_command
from finishsched.bench.telling.notices import Notices

if TYPE_CHECKING:
    from finishsched.model.settings import Settings
    from finishsched.workshop.base.answers import BenchView


class Sounds(Protocol):
    """What can be heard or seen of a call."""

    def bell(self) -> None:
        """Ring the terminal's bell."""

    def flash(self) -> None:
        """Turn the top line's colours round for a moment."""

    def in_background(self, work: Callable[[], str], told: Callable[[str], None]) -> None:
        """Have something done beside the bench, and ``told`` called with what it says."""


class Ringing:
    """Calls somebody to the bench; a look that is quiet puts the notices up all the same."""

    def __init__(
        self, sounds: Sounds, notices: Notices, settings: Settings, memory: Memory
    ) -> None:
        self._sounds = sounds
        self._notices = notices
        self._settings = settings
        self._alerts = Alerts(settings.quiet, memory)
        self._has_failed = False

    def look(self, view: BenchView) -> None:
        """Put up what is new, take down what no longer holds, and call if there is a reason."""
        told = self._alerts.look(view)
        for text in told.withdraw:
            self._notices.withdraw(text)
        for text, now in told.reword:
            self._notices.reword(text, now)
        for text in told.add:
            self._notices.add_once_a_day(text)
        if told.sound:
            self._call(told.sound)

    def _call(self, text: str) -> None:
        if self._settings.bell:
            self._sounds.bell()
        if self._settings.flash:
            self._sounds.flash()
        if self._settings.notify:
            command = self._settings.notify
            self._sounds.in_background(
                lambda: run_command(command, text, os.environ), self._command_ended
            )

    def _command_ended(self, failure: str) -> None:
        """Tell its first failure; later ones would say the same."""
        if failure and not self._has_failed:
            self._has_failed = True
            self._notices.add(failure)
