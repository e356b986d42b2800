"""Defects: what is seen, what likely made it, and a way to put it right."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from finishsched.bench import words
from finishsched.bench.asking.desk import Desk
from finishsched.bench.host import TOAST_S, Doings, Host
from finishsched.bench.parts.entries import Entries
from finishsched.bench.parts.rows import ALL, Rows
from finishsched.workshop.base.entries import Entry, RefusedError, What

if TYPE_CHECKING:
    from finishsched.checking.defects.seen import Seen


class Defects:
    """Writes a defect down, explains it, and enters the way that is taken."""

    def __init__(self, host: Host, desk: Desk, entries: Entries, rows: Rows) -> None:
        self._host = host
        self._desk = desk
        self._entries = entries
        self._rows = rows
        self.doings: Doings = {"defect": self.ask}

    def ask(self) -> None:
        """Ask on which piece, where several stand as one, then what is seen, then where."""
        piece = self._host.large_piece()
        if piece is None:
            return
        refs = self._desk.refs_of(piece.ref)
        if len(refs) == 1:
            self._ask_what(refs)
            return

        def answered(ref: str) -> None:
            self._ask_what(refs if ref == ALL else (ref,))

        self._rows.ask_which(piece, "it has the defect", answered, all_too=True)

    def _ask_what(self, refs: Sequence[str]) -> None:
        from finishsched.bench.pages import defect_pages  # noqa: PLC0415
        from finishsched.bench.screens import forms  # noqa: PLC0415
        from finishsched.bench.screens.narrowing import OWN  # noqa: PLC0415

        title = self._desk.title_of(refs)

        def answered(answer: str) -> None:
            is_own, units = answer.startswith(OWN), self._desk.view.units
            seen, text = ("", answer.removeprefix(OWN)) if is_own else (answer, answer)
            self._host.open_card(forms.defect_form(refs, title, seen, text, units))

        self._host.open_card(defect_pages.seen_card(title), answered)

    def ask_which(self, entry: Entry, go_on: Callable[[Entry], None]) -> None:
        """Ask which defect somebody's own words mean, where they may mean several."""
        from finishsched.bench.pages import defect_pages  # noqa: PLC0415
        from finishsched.workshop.defects.defects import seen_choices  # noqa: PLC0415

        workshop, refs = self._desk.workshop, entry.piece.split(",")
        choices: Sequence[Seen] = ()
        if workshop is not None:
            try:
                choices = seen_choices(workshop, refs[0], entry.text, self._host.now())
            except RefusedError:
                choices = ()
        if not choices:
            go_on(entry)
            return

        def answered(answer: str) -> None:
            go_on(entry if answer == defect_pages.OTHER else replace(entry, seen=answer))

        card = defect_pages.which_card(self._desk.title_of(refs), choices)
        self._host.open_card(card, answered)

    def explain(self, refs: Sequence[str], *, asks: bool = True) -> None:
        """Say what likely made the defect just logged, and offer ways to put it right.

        Of several pieces it is told as of the first; a way that is taken is taken for all. With
        ``asks`` it also asks what would tell the causes apart: an answer is noted, and heard.
        """
        from finishsched.bench.pages import defect_pages  # noqa: PLC0415
        from finishsched.workshop.defects.defects import (  # noqa: PLC0415
            defect_answer,
            take_reworks,
        )

        workshop, now = self._desk.workshop, self._host.now()
        if workshop is None:
            return
        try:
            found = [defect_answer(workshop, ref, "", now) for ref in refs]
        except RefusedError:
            return  # in nobody's words but the finisher's own: logged, and nothing to rank

        def answered(answer: str) -> None:
            if not answer.isdigit():
                self._note(refs, answer)
                return
            number = int(answer)
            taken = self._host.asked(
                lambda: take_reworks(workshop, found, number, self._host.now())
            )
            if taken is not None:
                rework = found[0].options[number - 1].rework
                comes = "beside it, with a clock of its own" if rework.beside else "come first now"
                said = f"entered: {words.plain(rework.title)}; its steps {comes}"
                self._entries.written(taken, said, seconds=TOAST_S)

        card = defect_pages.defect_card(found[0], self._desk.title_of(refs), asks=asks)
        self._host.open_card(card, answered)

    def _note(self, refs: Sequence[str], answer: str) -> None:
        """Note what somebody answered, and say anew what likely made it, once."""
        entry = Entry(What.NOTE, ",".join(refs), text=answer)
        said = f"noted: {self._desk.title_of(refs)}, {answer}"
        if self._entries.hand_in(entry, said, widens=False) is None:
            self.explain(refs, asks=False)
