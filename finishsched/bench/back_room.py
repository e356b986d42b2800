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
from typing import TYPE_CHECKING, Any, TypeVar

from textual.message import Message

from finishsched.journal.faults import JournalFaultError

if TYPE_CHECKING:
    from finishsched.workshop.workshop import Workshop

Answer = TypeVar("Answer")
LEAVE_S = 0.5
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
        self._asked: dict[str, Callable[[Workshop], Callable[[], None]]] = {}
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

        def answer(workshop: Workshop) -> Callable[[], None]:
            found = question(workshop)
            return lambda: answered(found)

        def job(workshop: Workshop) -> Callable[[], None]:
            try:
                return answer(workshop)
            except Exception as error:  # noqa: BLE001  # told on the bench, which goes on
                words = _in_words(error)
                return lambda: failed(words)

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

    def _work(self) -> None:
        workshop: Workshop | None = None
        while (job := self._next()) is not None:
            try:
                workshop = workshop or self._open()
                workshop.changed()
            except (JournalFaultError, OSError):
                continue  # the bench itself meets the same fault, and tells it
            deliver = job(workshop)
            if self._is_open:
                self._tell(Answered(deliver))
        if workshop is not None:
            workshop.close()

    def _open(self) -> Workshop:
        from finishsched.workshop.workshop import Workshop  # noqa: PLC0415  # loaded already

        return Workshop.open(self._folder, self._now())

    def _next(self) -> Callable[[Workshop], Callable[[], None]] | None:
        with self._has_more:
            while self._is_open and not self._asked:
                self._has_more.wait()
            if not self._is_open:
                return None
            return self._asked.pop(next(iter(self._asked)))


def _in_words(error: Exception) -> str:
    message, remedy = getattr(error, "message", ""), getattr(error, "remedy", "")
    return f"{message}; {remedy}" if message and remedy else f"{error}"


def all_of(*questions: Callable[[Workshop], Any]) -> Callable[[Workshop], None]:
    """Return one question that asks all, for what is only to be made ready."""

    def ask(workshop: Workshop) -> None:
        for question in questions:
            question(workshop)

    return ask
