"""A thread with a workshop of its own, for what takes longer than a pressed key may wait.

What is asked for is a function of an open workshop; its answer comes back as a message to the app,
so that nothing on the screen is ever touched from another thread. The thread is a daemon: leaving
the bench waits for no plan.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from threading import Condition, Thread
from typing import TYPE_CHECKING, TypeVar

from textual.message import Message

from finishsched.bench.lasting import CHANGED_MEANWHILE

if TYPE_CHECKING:
    from finishsched.workshop.base.workshop import Workshop

Answer = TypeVar("Answer")
LEAVE_S = 0.2
"""For how long closing waits for the answer in the making; a workshop is read, never half kept."""


class Answered(Message):
    """Something that was asked for is at hand; the app calls ``deliver``."""

    def __init__(self, deliver: Callable[[], None]) -> None:
        super().__init__()
        self.deliver = deliver


class BackRoom:
    """Answers one question after the other; a question of the same name takes the old one's place.

    ``tell`` must be safe to call from another thread, as Textual's ``post_message`` is.
    """

    def __init__(
        self, folder: Path, now: Callable[[], datetime], tell: Callable[[Answered], object]
    ) -> None:
        self._folder = folder
        self._now = now
        self._tell = tell
        self._asked: dict[str, Callable[[], Callable[[], None]]] = {}
        self._workshop: Workshop | None = None
        self._has_more = Condition()
        self._is_open = True
        self._thread = Thread(target=self._work, name="back room", daemon=True)
        self._thread.start()

    def ask(
        self,
        name: str,
        question: Callable[[Workshop], Answer],
        answered: Callable[[Answer], None],
        failed: Callable[[str], None],
    ) -> None:
        """Have ``answered`` called with what ``question`` returns, or ``failed`` with words."""

        def job() -> Callable[[], None]:
            try:
                found = question(self._ready())
            except Exception as error:  # noqa: BLE001  # told on the bench, which goes on
                words = CHANGED_MEANWHILE if isinstance(error, ImportError) else str(error)
                return lambda: failed(words)
            return lambda: answered(found)

        with self._has_more:
            self._asked.pop(name, None)
            self._asked[name] = job
            self._has_more.notify()

    def close(self) -> None:
        """Take no more questions; give the one in hand a moment to end."""
        with self._has_more:
            self._is_open = False
            self._asked.clear()
            self._has_more.notify()
        self._thread.join(LEAVE_S)

    @property
    def closing(self) -> bool:
        """True once nobody waits for an answer any more: a long search should end."""
        return not self._is_open

    @property
    def is_wanted(self) -> bool:
        """True once another question waits, or nobody does: a search should make way."""
        return bool(self._asked) or not self._is_open

    def _work(self) -> None:
        while (job := self._next()) is not None:
            deliver = job()
            if self._is_open:
                self._tell(Answered(deliver))
        if self._workshop is not None:
            self._workshop.close()

    def _ready(self) -> Workshop:
        """Return the workshop as its folder now is, opened by this thread and for it alone."""
        from finishsched.workshop.base.workshop import Workshop  # noqa: PLC0415  # loaded already

        self._workshop = self._workshop or Workshop.open(self._folder, self._now())
        self._workshop.changed()
        return self._workshop

    def _next(self) -> Callable[[], Callable[[], None]] | None:
        with self._has_more:
            while self._is_open and not self._asked:
                self._has_more.wait()
            if not self._is_open:
                return None
            return self._asked.pop(next(iter(self._asked)))
