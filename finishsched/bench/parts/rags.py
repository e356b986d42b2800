"""Rags that can heat by themselves: where they went, and taking that back."""

from __future__ import annotations

from finishsched.bench import words
from finishsched.bench.asking.desk import Desk, Refusal, refusal_of
from finishsched.bench.host import REMARK_S, Doings, Host
from finishsched.bench.parts.beside import Beside
from finishsched.bench.parts.entries import Entries
from finishsched.journal.events import RagsDealtWith
from finishsched.refusals import RefusalError


class Rags:
    """Asks where the rags went, logs it, and takes it back."""

    def __init__(self, host: Host, desk: Desk, entries: Entries, beside: Beside) -> None:
        self._host = host
        self._desk = desk
        self._entries = entries
        self._beside = beside
        self.doings: Doings = {"rags": self.ask}

    def ask(self) -> None:
        """Ask where the rags went."""
        from finishsched.bench.pages import rags_pages  # noqa: PLC0415

        workshop = self._host.open_shop()
        if workshop is None:
            return

        def answered(answer: str) -> None:
            if answer == rags_pages.OTHER:
                self._host.open_card(rags_pages.where_form())
            else:
                self.log(answer)

        found = self._host.asked(lambda: rags_pages.rags_card(workshop, self._host.now()))
        if found is not None:
            self._host.open_card(found, answered)

    def log(self, where: str) -> Refusal | None:
        """Log where the rags went; return why not, when it was refused."""
        from finishsched.workshop.safety.rags import rags_dealt_with  # noqa: PLC0415

        workshop = self._desk.workshop
        if workshop is None:
            return None
        try:
            event = rags_dealt_with(workshop, where, self._host.now())
        except RefusalError as error:
            refusal = refusal_of(error)
            self._host.say_refused(refusal)
            return refusal
        undo = self._host.key_for("undo")
        tail = f"; {undo} takes it back" if undo else ""
        self._beside.rags_are_gone()
        self._entries.written(event, f"logged: rags {words.plain(where)}{tail}")
        return None

    def undo(self, ref: str) -> bool:
        """Take back where the rags went, if that is what was logged last; tell whether it was."""
        from finishsched.workshop.safety.rags import rags_undone  # noqa: PLC0415

        workshop = self._desk.workshop
        if workshop is None:
            return False
        logged = self._entries.logged
        last = self._host.asked(lambda: logged.rags_to_undo(workshop.book(), ref))
        if last is None or not isinstance(last.what, RagsDealtWith):
            return False
        undone = self._host.asked(lambda: rags_undone(workshop, self._host.now(), only=last.id))
        if undone is not None:
            said = f"undone: rags {words.plain(last.what.where)}; the reminder is back"
            self._entries.written(undone, said, seconds=REMARK_S)
        return True
