"""Defects: what is seen, what likely made it, and a way to put it right."""

from __future__ import annotations

from finishsched.bench import words
from finishsched.bench.desk import Desk
from finishsched.bench.host import TOAST_S, Doings, Host
from finishsched.bench.parts.entries import Entries
from finishsched.workshop.base.entries import RefusedError


class Defects:
    """Writes a defect down, explains it, and enters the way that is taken."""

    def __init__(self, host: Host, desk: Desk, entries: Entries) -> None:
        self._host = host
        self._desk = desk
        self._entries = entries
        self.doings: Doings = {"defect": self.ask}

    def ask(self) -> None:
        """Ask what is seen on the piece shown large, then where."""
        from finishsched.bench import defect_pages  # noqa: PLC0415
        from finishsched.bench.screens import forms  # noqa: PLC0415

        piece = self._host.large_piece()
        if piece is None:
            return

        def answered(answer: str) -> None:
            seen = "" if answer == defect_pages.OTHER else answer
            self._host.open_card(forms.defect_form(piece, seen))

        self._host.open_card(defect_pages.seen_card(piece.title), answered)

    def explain(self, ref: str) -> None:
        """Say what likely made the defect just logged, and offer ways to put it right."""
        from finishsched.bench import defect_pages  # noqa: PLC0415
        from finishsched.workshop.defects.defects import defect_answer, take_rework  # noqa: PLC0415

        workshop, piece = self._desk.workshop, self._desk.piece(ref)
        if workshop is None or piece is None:
            return
        try:
            found = defect_answer(workshop, ref, "", self._host.now())
        except RefusedError:
            return  # in nobody's words but the finisher's own: logged, and nothing to rank

        def answered(answer: str) -> None:
            number = int(answer)
            now = self._host.now()
            taken = self._host.asked(lambda: take_rework(workshop, found, number, now))
            if taken is not None:
                title = words.plain(found.options[number - 1].rework.title)
                said = f"entered: {title}; its steps come first now"
                self._entries.written(taken, said, seconds=TOAST_S)

        self._host.open_card(defect_pages.defect_card(found, piece.title), answered)
