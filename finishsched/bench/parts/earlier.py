"""Earlier entries: any of them is taken back with what hangs on it, or told otherwise."""

from __future__ import annotations

from typing import TYPE_CHECKING

from finishsched.bench.asking.desk import Desk
from finishsched.bench.host import Doings, Host
from finishsched.bench.parts.entries import Entries
from finishsched.workshop.base.answers import PieceView
from finishsched.workshop.base.entries import Entry, What

if TYPE_CHECKING:
    from finishsched.bench.screens.entry_cards import Chosen
    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.standing.earlier import Told


class Earlier:
    """Lists the entries of the piece shown large, and does what is chosen about one."""

    def __init__(self, host: Host, desk: Desk, entries: Entries) -> None:
        self._host = host
        self._desk = desk
        self._entries = entries
        self.doings: Doings = {"entries": self.ask}

    def ask(self) -> None:
        """List the entries of the piece shown large, the newest first."""
        piece = self._host.large_piece()
        if piece is not None:
            self._list(piece, 0)

    def _list(self, piece: PieceView, skipped: int) -> None:
        from finishsched.bench.screens import entry_cards as cards  # noqa: PLC0415
        from finishsched.workshop.standing.earlier import entries_of  # noqa: PLC0415
        from finishsched.workshop.standing.where import find  # noqa: PLC0415

        workshop, now = self._host.open_shop(), self._host.now()
        if workshop is None:
            return
        every = self._host.asked(lambda: entries_of(workshop, find(workshop, piece.ref)))
        if every is None:
            return
        told = [one for one in every if not one.goes_on]

        def answered(answer: str) -> None:
            if answer == cards.EARLIER:
                self._list(piece, skipped + cards.ON_A_CARD)
            else:
                self._ask_about(piece, next(one for one in told if str(one.number) == answer))

        zone = self._desk.view.zone
        card = cards.entries_card(piece.title, told, now, zone, skipped)
        self._host.open_card(card, answered)

    def _ask_about(self, piece: PieceView, told: Told) -> None:
        """Say what hangs on an entry, and ask what is to be done about it."""
        from finishsched.bench.screens import entry_cards as cards  # noqa: PLC0415

        workshop = self._host.open_shop()
        if workshop is None:
            return
        chosen = self._host.asked(lambda: self._chosen(workshop, piece, told))
        if chosen is None:
            return

        def answered(way: str) -> None:
            if way == cards.Way.BACK:
                undo, said = cards.taken_back(chosen)
                self._entries.hand_in(undo, said, can_undo=False, widens=False)
            elif way == cards.Way.OTHERWISE:
                form = cards.amend_form(chosen, self._desk.view, self._host.now)
                self._host.open_card(form)
            else:
                self._ask_where(chosen)

        card = cards.entry_card(chosen, self._host.now(), self._desk.view.zone)
        self._host.open_card(card, answered)

    def _chosen(self, workshop: Workshop, piece: PieceView, told: Told) -> Chosen:
        from finishsched.bench.screens.entry_cards import Chosen  # noqa: PLC0415
        from finishsched.workshop.standing.earlier import given_to, hanging_words  # noqa: PLC0415

        refs = given_to(workshop, self._desk.refs_of(piece.ref), told.number)
        hanging = hanging_words(workshop, refs, told.number)
        return Chosen(told, refs, self._desk.title_of(refs), hanging)

    def _ask_where(self, chosen: Chosen) -> None:
        """Ask for which piece an entry was meant, and move it there."""
        from finishsched.bench.screens.entry_cards import meant_card  # noqa: PLC0415

        others = [(one.ref, one.title) for one in self._desk.each if one.ref not in chosen.refs]

        def answered(ref: str) -> None:
            entry = Entry(What.AMEND, chosen.refs[0], number=chosen.told.number, to=ref)
            said = f"moved to {self._desk.title_of([ref])}: {chosen.told.words}"
            self._entries.hand_in(entry, said, can_undo=False, widens=False)

        self._host.open_card(meant_card(chosen.told, others), answered)
