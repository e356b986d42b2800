"""The dry check: the words of the test, its two answers, and going on without one."""

from __future__ import annotations

from datetime import datetime, tzinfo
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType

from finishsched.bench import bindings, keys, words
from finishsched.bench.screens.card import Body, Card, Foot, line
from finishsched.bench.widgets.answer import answer
from finishsched.bench.widgets.taps import TapLine, tap
from finishsched.workshop.base.answers import PieceView, State
from finishsched.workshop.base.entries import What


class DryCheckCard(Card):
    """Asks for the outcome of the dry check; answers with ``ready``, ``not ready`` or ``early``."""

    BINDINGS: ClassVar[list[BindingType]] = [bindings.binding(key) for key in keys.DRY_CHECK]

    ONCE, TWICE = "ready", "not_ready"

    def __init__(self, piece: PieceView, now: datetime, zone: tzinfo) -> None:
        super().__init__()
        self._piece = piece
        self._now = now
        self._zone = zone

    def compose(self) -> ComposeResult:
        """Lay out the words and the two answers."""
        force = bindings.in_force(active.binding for active in self.active_bindings.values())
        ready, not_yet, early, back = (bindings.first_key(force, key.id) for key in keys.DRY_CHECK)
        with Body():
            yield line(f"Dry check: {self._piece.title}", "bold")
            yield line(self._test_words(), classes="words")
            if warning := self._warning():
                yield line(warning, "bold $text-error")
            yield Foot(
                answer(ready, "READY", keys.DRY_CHECK[0], "ready"),
                answer(not_yet, "NOT YET", keys.DRY_CHECK[1], "not-ready"),
                TapLine(
                    [
                        tap(keys.DRY_CHECK[2], "go on early", early),
                        tap(keys.DRY_CHECK[3], "back, nothing logged", back),
                    ]
                ),
            )

    def action_ready(self) -> None:
        """Answer that the film passed."""
        self.dismiss(What.READY.value)

    def action_not_ready(self) -> None:
        """Answer that the film needs longer."""
        self.dismiss(What.NOT_READY.value)

    def action_early(self) -> None:
        """Answer that the work goes on although nobody found it ready."""
        self.dismiss(What.EARLY.value)

    def _test_words(self) -> str:
        step = self._piece.step
        return step.dry_check if step and step.dry_check else "Is it dry enough for the next step?"

    def _warning(self) -> str:
        clock = self._piece.clock
        if self._piece.state is not State.DRYING or clock is None:
            return ""
        earliest = words.wall(clock.earliest_at, self._now, self._zone)
        return f"! This is before the earliest time, {earliest}."
