"""Which piece is shown large, and in what order the rows stand: neither moves under the finger.

The order follows the view only once nothing was pressed for some seconds. The large letters then go
on to what there is to do, unless somebody chose the piece to read on it, or still has it in hand.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from enum import Enum, auto

from finishsched.bench.host import Doings, Host
from finishsched.workshop.base.answers import BenchView, PieceView

SETTLE_S = 4.0
"""Rows stand still for so long after a key or a tap (our assumption, as are those below)."""
READ_S = 60.0
"""A piece that was chosen stays large for so long after the last key."""
MARKED_S = 12.0
"""For how long a row shows that it was moved."""
TAKEN_BACK_S = 60.0
"""So long after an entry the key that takes back is about it, though other letters stand large."""
SUDDEN_S = 1.0
"""A press so soon after the large letters changed by themselves was meant for what was there."""


class Act(Enum):
    """What was pressed last."""

    NOTHING = auto()
    LOOKED = auto()
    ENTERED = auto()


class Choosing:
    """Keeps both."""

    def __init__(self, host: Host) -> None:
        self._host = host
        self.large = ""
        """The piece shown large, on which the keys act."""
        self.rows: tuple[str, ...] = ()
        self.moved: Mapping[str, str] = {}
        """By row that went to another place of late: a mark of where it went."""
        self._last = Act.NOTHING
        self._pressed_s = float("-inf")
        self._moved_s = float("-inf")
        self._changed_s = float("-inf")
        self._best = ""
        self._went_on_from = ""
        self.doings: Doings = {
            "up": lambda: self._go_to(self._next_to(-1)),
            "down": lambda: self._go_to(self._next_to(1)),
            "down-or-first": lambda: self._go_to(self._next_round()),
            "first": lambda: self._go_to(self._best),
        }

    def pressed(self, act: Act = Act.LOOKED) -> None:
        """Take note that somebody pressed or tapped something."""
        self._last = act
        self._pressed_s = self._host.monotonic_s()
        if act is Act.ENTERED:
            self._went_on_from = ""

    def choose(self, ref: str) -> None:
        """Show the piece ``ref`` large."""
        self.pressed()
        self.large = ref
        self._went_on_from = ""

    @property
    def entered_last(self) -> str:
        """The piece whose entry was the last thing done; the large letters may have gone on."""
        is_fresh = self._host.monotonic_s() - self._changed_s < TAKEN_BACK_S
        return self._went_on_from if self._went_on_from and is_fresh else self.large

    def _go_to(self, ref: str) -> None:
        if ref:
            self.choose(ref)
            self._host.repaint()

    def _next_to(self, step: int) -> str:
        """Return the piece ``step`` rows further on, or the last one there is."""
        if self.large not in self.rows:
            return ""
        place = self.rows.index(self.large) + step
        return self.rows[min(max(place, 0), len(self.rows) - 1)]

    def _next_round(self) -> str:
        """Return the next piece, after the last the first."""
        if self.large not in self.rows:
            return ""
        return self.rows[(self.rows.index(self.large) + 1) % len(self.rows)]

    @property
    def is_sudden(self) -> bool:
        """True for a press before the large letters changed by themselves, or right after."""
        return self._host.pressed_s() - self._changed_s < SUDDEN_S

    def follow(self, view: BenchView, best: str, later: AbstractSet[str] = frozenset()) -> None:
        """Follow a view; ``best`` is the piece with the next thing to do, where one is known.

        Those left for ``later`` stand below all that wants hands now, as ``due`` tells them.
        """
        order = _later_below(view.pieces, later)
        self._best = best or (order[0] if order else "")
        if best in order:
            order = (best, *(ref for ref in order if ref != best))
        self._take_rows(order)
        pieces = {piece.ref: piece for piece in view.pieces}
        if self.large not in pieces:
            self.large = order[0] if order else ""
        elif self._may_go_on(pieces[self.large]) and self.large != order[0]:
            self._went_on_from = self.large if self._last is Act.ENTERED else ""
            self.large = order[0]
            self._last = Act.NOTHING
            self._changed_s = self._host.monotonic_s()

    def in_order(self, view: BenchView) -> tuple[PieceView, ...]:
        """Return the pieces as the rows stand."""
        pieces = {piece.ref: piece for piece in view.pieces}
        return tuple(pieces[ref] for ref in self.rows if ref in pieces)

    def _may_go_on(self, piece: PieceView) -> bool:
        """Tell whether the large letters may leave ``piece`` by themselves."""
        if self._host.cards() or (self._last is not Act.NOTHING and piece.state.wants_hands):
            return False
        stays_s = READ_S if self._last is Act.LOOKED else SETTLE_S
        return self._quiet_s >= stays_s

    def _take_rows(self, order: tuple[str, ...]) -> None:
        now_s = self._host.monotonic_s()
        if now_s - self._moved_s >= MARKED_S:
            self.moved = {}
        if order == self.rows:
            return
        if self.rows and (self._quiet_s < SETTLE_S or self._host.cards()):
            stay = [ref for ref in self.rows if ref in order]
            self.rows = (*stay, *(ref for ref in order if ref not in self.rows))
            return
        self.moved = moves(self.rows, order)
        self._moved_s = now_s
        self.rows = order

    @property
    def _quiet_s(self) -> float:
        return self._host.monotonic_s() - self._pressed_s


def _longest(runs: Sequence[list[str]]) -> list[str]:
    return max(runs, key=len) if runs else []


def moves(before: Sequence[str], after: Sequence[str]) -> Mapping[str, str]:
    """Return a mark for each row that left its place among the others: ``↑`` or ``↓``.

    Those are as few as explain the new order: all but the longest run that kept its order.
    """
    places = {ref: place for place, ref in enumerate(before)}
    common = [ref for ref in after if ref in places]
    runs: list[list[str]] = []
    for ref in common:
        fitting = [run for run in runs if places[run[-1]] < places[ref]]
        runs.append([*_longest(fitting), ref])
    kept = set(_longest(runs))
    old = [ref for ref in before if ref in set(common)]
    return {
        ref: "↑" if common.index(ref) < old.index(ref) else "↓" for ref in common if ref not in kept
    }


def _later_below(pieces: Sequence[PieceView], later: AbstractSet[str]) -> tuple[str, ...]:
    """Return the names in their order, with those left for later after what wants hands now."""
    now = [one.ref for one in pieces if one.state.wants_hands and one.ref not in later]
    left = [one.ref for one in pieces if one.state.wants_hands and one.ref in later]
    rest = [one.ref for one in pieces if not one.state.wants_hands]
    return (*now, *left, *rest) if left else tuple(one.ref for one in pieces)
