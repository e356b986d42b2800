"""What a part may ask of the bench it belongs to."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Protocol, TypeAlias, TypeVar

if TYPE_CHECKING:
    from textual.screen import ModalScreen
    from textual.timer import Timer

    from finishsched.bench.asking.desk import Refusal
    from finishsched.workshop.base.answers import PieceView
    from finishsched.workshop.base.workshop import Workshop

Answer = TypeVar("Answer")
Doings: TypeAlias = Mapping[str, Callable[[], None]]
"""What keys do, by the ids that the table of keys has for them."""

TOAST_S = 6.0
REMARK_S = 12.0


class Host(Protocol):
    """The bench as its parts see it."""

    def now(self) -> datetime:
        """Return what time it is."""

    def monotonic_s(self) -> float:
        """Return seconds that only go forward."""

    def pressed_s(self) -> float:
        """Return when what is answered now was pressed, on the same clock."""

    def large_piece(self) -> PieceView | None:
        """Return the piece that is shown large, which is the one that keys act on."""

    def key_for(self, id_: str) -> str:
        """Return the first key in force for an id; empty for none."""

    def do(self, id_: str) -> None:
        """Do what the key of the board with this id does."""

    def say(
        self, text: str, *, seconds: float = TOAST_S, title: str = "", warns: bool = False
    ) -> None:
        """Say something for a few seconds; a user's own words may be in it."""

    def open_card(
        self, card: ModalScreen[str], answered: Callable[[str], None] | None = None
    ) -> None:
        """Open a card over the board; ``answered`` is told what it answers, if anything."""

    def repaint(self) -> None:
        """Show everything as it now stands."""

    def take_view(self) -> None:
        """Have everything follow what the desk has now."""

    def call_after_refresh(self, callback: Callable[[], None]) -> bool:
        """Have something called once what is owed is drawn."""

    def call_in(self, seconds: float, call: Callable[[], None]) -> Timer:
        """Have something called in a while."""

    def open_shop(self) -> Workshop | None:
        """Return the open shop, or None once it is said that there is none."""

    def cards(self) -> Sequence[object]:
        """Return what lies over the board, the lowest first."""

    def say_refused(self, refusal: Refusal) -> None:
        """Say why something was not taken."""

    def asked(self, question: Callable[[], Answer]) -> Answer | None:
        """Return an answer of the shop, or None once its refusal is told."""
