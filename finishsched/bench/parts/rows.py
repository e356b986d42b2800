"""Pieces that stand as one: one is taken out of them, others are joined to them for an evening."""

from __future__ import annotations

from collections.abc import Callable
from collections.abc import Set as AbstractSet

from finishsched.bench.asking.desk import Desk
from finishsched.bench.host import Doings, Host
from finishsched.bench.parts.choosing import Choosing
from finishsched.bench.parts.entries import Entries
from finishsched.model.names import listed, natural
from finishsched.workshop.base.answers import PieceView
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.standing.several import TOGETHER, find_several

ALL = "all"
"""What choosing all of those that stand as one answers."""

BOTH = 2


class Rows:
    """Says which pieces stand as one."""

    def __init__(self, host: Host, desk: Desk, choosing: Choosing, entries: Entries) -> None:
        self._host = host
        self._desk = desk
        self._choosing = choosing
        self._entries = entries
        self.doings: Doings = {"apart": self.take_one, "join": self.join_or_part}

    def ask_which(
        self, piece: PieceView, what: str, answered: Callable[[str], None], *, all_too: bool = False
    ) -> None:
        """Ask which one of those that stand as one, or with ``all_too`` whether it is all."""
        from finishsched.bench.screens.choice import Choice, ChoiceCard  # noqa: PLC0415

        refs = self._desk.refs_of(piece.ref)
        choices = [Choice(one.ref, one.title) for one in self._desk.each if one.ref in refs]
        choices.sort(key=lambda choice: natural(choice.answer))
        if all_too:
            every = "both of them" if len(refs) == BOTH else f"all {len(refs)} of them"
            choices.append(Choice(ALL, every))
        card = ChoiceCard(f"Which one of {piece.title}?", what, choices)
        self._host.open_card(card, answered)

    def take_one(self) -> None:
        """Take one out of those that stand as one, or put it back with them."""
        piece = self._host.large_piece()
        if piece is None:
            return
        if piece.ref in self._desk.apart:
            self._stand_apart(piece.ref)
        elif len(self._desk.refs_of(piece.ref)) == 1:
            self._host.say(f"{piece.title} stands by itself")
        else:
            self.ask_which(piece, "take it out", self._stand_apart)

    def join_or_part(self) -> None:
        """Join pieces to the one shown large for the evening, or part those that are joined."""
        piece = self._host.large_piece()
        workshop = self._host.open_shop()
        if piece is None or workshop is None:
            return
        if self._desk.is_joined(piece.ref):
            part = Entry(What.PART, ",".join(self._desk.refs_of(piece.ref)))
            self._entries.hand_in(part, f"parted: {piece.title}", can_undo=False, widens=False)
            return
        found = self._host.asked(lambda: find_several(workshop, f"{piece.ref},{TOGETHER}"))
        if found is not None:
            self._ask_with_whom(piece, {standing.ref for standing in found})

    def _ask_with_whom(self, piece: PieceView, agreeing: AbstractSet[str]) -> None:
        """Ask which of the pieces at the same step are worked together with one."""
        from finishsched.bench.screens.join_card import JoinCard  # noqa: PLC0415

        others = [
            one for one in self._desk.view.pieces if one.ref in agreeing and one.ref != piece.ref
        ]
        if not others:
            self._host.say(f"no other piece is at the step that {piece.title} is at")
            return
        card = JoinCard((piece, *sorted(others, key=lambda one: natural(one.ref))))
        self._host.open_card(card, lambda _: self._join(card.chosen))

    def _join(self, refs: tuple[str, ...]) -> None:
        titles = [self._desk.title_of(self._desk.refs_of(ref)) for ref in refs]
        every = [each for ref in refs for each in self._desk.refs_of(ref)]
        join = Entry(What.JOIN, ",".join(every))
        key = self._host.key_for("join")
        said = f"joined for the evening, {key} parts them: {listed(titles)}"
        if self._entries.hand_in(join, said, can_undo=False, widens=False) is None:
            self._choosing.choose(self._desk.first_of(every[0]))
            self._host.take_view()

    def _stand_apart(self, ref: str) -> None:
        self._desk.take_apart(ref, self._host.now())
        self._choosing.choose(self._desk.first_of(ref))
        self._host.take_view()
