"""What somebody should know until they dismiss it."""

from __future__ import annotations


class Notices:
    """The bench's own notices and the shop's, the newest first; dismissed ones stay listed."""

    def __init__(self) -> None:
        self._own: list[str] = []
        self._shop: tuple[str, ...] = ()
        self._dismissed: set[str] = set()

    def add(self, text: str) -> None:
        """Put a notice of the bench's own on top; one that says the same comes up again."""
        if text in self._own:
            self._own.remove(text)
        self._own.insert(0, text)
        self._dismissed.discard(text)
        del self._own[50:]

    def withdraw(self, text: str) -> None:
        """Dismiss the notice ``text``, which no longer holds."""
        self._dismissed.add(text)

    def take_from_shop(self, notices: tuple[str, ...]) -> None:
        """Take the shop's notices as they now are; one that went and came back shows again."""
        gone = set(self._shop) - set(notices)
        self._dismissed -= gone
        self._shop = notices

    @property
    def every(self) -> tuple[str, ...]:
        """All of them, dismissed or not."""
        return tuple(dict.fromkeys((*self._own, *self._shop)))

    @property
    def open(self) -> tuple[str, ...]:
        """Those that nobody dismissed."""
        return tuple(text for text in self.every if text not in self._dismissed)

    def dismiss_first(self) -> None:
        """Dismiss the one that shows."""
        if self.open:
            self._dismissed.add(self.open[0])
