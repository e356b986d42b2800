"""What is worked out of waits, once for each."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

from finishsched.workshop.standing.waits import Laid

Found = TypeVar("Found")
MOST_KEPT = 2000
"""More than a large shop has; a plan asks of thousands that are none yet, and never again."""


class OfWaits(Generic[Found]):
    """Answers a question about waits; of the same one, what it answered before.

    A bench asks a dozen times for each of a hundred waits by what law it dries.
    """

    def __init__(self, ask: Callable[[Laid], Found]) -> None:
        self._ask = ask
        self._known: dict[int, tuple[Laid, Found]] = {}
        """By the identity of a wait, which is kept beside the answer and so stays its own."""

    def of(self, laid: Laid) -> Found:
        """Return the answer for a wait."""
        known = self._known.get(id(laid))
        if known is None:
            if len(self._known) >= MOST_KEPT:
                self.forget()
            known = self._known[id(laid)] = laid, self._ask(laid)
        return known[1]

    def forget(self) -> None:
        """Ask anew from now on: what the answers rest on is another."""
        self._known.clear()
