"""Keys are taken in order: each once all that the one before set off is done.

What is typed on while a form opens goes into that form, and what is typed while one is handed in
goes to what lies beneath it: nothing is swallowed, and nothing goes where it was not meant.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Awaitable, Callable
from time import monotonic
from typing import TYPE_CHECKING, Any, TypeAlias

from textual import events

if TYPE_CHECKING:
    from textual.app import App
    from textual.screen import Screen
    from textual.timer import Timer
    from textual.widget import Widget

Typed: TypeAlias = events.Key | events.Paste
Do: TypeAlias = Callable[[events.Event], Awaitable[None]]

ROUNDS = 3
"""A key goes up from what has the focus, what it hands in does so after it, and then the offer."""
LONGEST_S = 2.0
"""Nothing is held back longer, whatever is at work meanwhile."""
LOOK_S = 0.05
"""How often it is looked whether what a key went through is still there to answer."""


class Passed(events.Event, bubble=True):
    """Follows a key through every queue that it goes through, and what it sets off after it."""

    def __init__(self, number: int) -> None:
        super().__init__()
        self.number = number


class InOrder:
    """Holds keys back while the one before is at work."""

    def __init__(self, app: App[Any], is_taken: Callable[[events.Key], bool]) -> None:
        """``is_taken`` tells of a key, whose turn it is, that somebody took it already."""
        self._app = app
        self._is_taken = is_taken
        self._held: deque[Typed] = deque()
        self._rounds_left = 0
        self._number = 0
        self._last_key = ""
        self._answered: Screen[object] | None = None
        """What lay on top when the last key was taken."""
        self._asked: tuple[Screen[object], Widget] | None = None
        """Through what the key before is followed, and on which screen: either may close."""
        self._patience: Timer | None = None
        self._begun_s = 0.0
        """When the key was taken that is at work, by the machine's clock."""
        self._pressed_at_s: float | None = None
        """When what was taken last was pressed, by the machine's clock; None where nobody did."""

    @property
    def is_busy(self) -> bool:
        """Tell whether a key is at work still, or one is held back behind it."""
        return bool(self._rounds_left or self._held)

    @property
    def waited_s(self) -> float:
        """How long ago that was pressed which is answered now: a busy bench takes it later."""
        return 0.0 if self._pressed_at_s is None else max(0.0, monotonic() - self._pressed_at_s)

    def answer(self, at_s: float | None) -> None:
        """Take note that what was pressed ``at_s`` is answered now; None for this moment."""
        self._pressed_at_s = at_s

    async def take(self, event: events.Event, do: Do) -> None:
        """Have a key done in its turn by ``do``, and anything else at once."""
        if isinstance(event, Passed):
            await self._pass(event, do)
        elif not isinstance(event, Typed) or event.is_forwarded:
            if isinstance(event, events.MouseDown):
                self.answer(event.time)
            await do(event)
        elif self._rounds_left:
            self._held.append(event)
        else:
            await self._take(event, do)

    async def _pass(self, message: Passed, do: Do) -> None:
        """Go round once more, or take the keys that were pressed meanwhile."""
        if message.number != self._number:
            return
        self._rounds_left -= 1
        if self._rounds_left > 0:
            self._go_round()
            return
        self._done()
        while self._held and not self._rounds_left:
            event = self._held.popleft()
            if not self._is_bounce(event):
                await self._take(event, do)

    async def _take(self, event: Typed, do: Do) -> None:
        if isinstance(event, events.Key) and self._is_taken(event):
            return
        if not self._app.screen_stack:  # none is left while the app closes
            await do(event)
            return
        field = self._app.focused
        # Asked of the field itself: that of many lines is dear to load, and seldom there.
        types = field is not None and field.check_consume_key("a", "a")
        self._last_key = event.key if isinstance(event, events.Key) else ""
        self._answered = self._app.screen
        self.answer(event.time)
        # Letters in a field are in order by themselves.
        if types and (isinstance(event, events.Paste) or event.is_printable):
            await do(event)
            return
        self._rounds_left = ROUNDS
        await do(event)
        self._go_round()
        self._begun_s = monotonic()
        self._patience = self._app.set_interval(LOOK_S, self._look)

    def _go_round(self) -> None:
        self._number += 1
        if self._app.screen_stack:
            self._asked = self._app.screen, self._app.focused or self._app.screen
            self._asked[1].post_message(Passed(self._number))

    def _done(self) -> None:
        self._rounds_left = 0
        if self._patience is not None:
            self._patience.stop()
            self._patience = None

    def _look(self) -> None:
        """Ask what lies on top now where that went away through which the key was followed."""
        if not self._rounds_left:
            return
        if monotonic() - self._begun_s > LONGEST_S:
            self._give_up()
        elif self._is_gone():
            self._rounds_left = ROUNDS
            self._go_round()

    def _is_gone(self) -> bool:
        if self._asked is None:
            return True
        screen, asked = self._asked
        return screen not in self._app.screen_stack or not asked.is_running

    def _give_up(self) -> None:
        self._rounds_left = 1
        self._number += 1
        self._app.post_message(Passed(self._number))

    def _is_bounce(self, event: Typed) -> bool:
        """Tell whether it is the key that closed what was on top, pressed once more meanwhile."""
        closed = self._answered is not None and self._answered not in self._app.screen_stack
        typed = isinstance(event, events.Key) and event.key == self._last_key
        return closed and typed
