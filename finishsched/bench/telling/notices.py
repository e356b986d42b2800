"""What somebody should know until they dismiss it, and within a day not twice."""

from __future__ import annotations

from finishsched.workshop.base.notice import Notice
from finishsched.workshop.views.notices import NOBODY_LOOKED
from finishsched.workshop.views.told_today import ToldToday

MOST_OWN = 50


class Notices:
    """The bench's own notices and the shop's, the newest first; dismissed ones stay listed."""

    def __init__(self, told: ToldToday) -> None:
        self._told = told
        self._own: list[str] = []
        self._shop: tuple[Notice, ...] = ()
        self._dismissed: set[str] = set()
        self._spoke_of_absence = told.was_told(NOBODY_LOOKED)

    def add(self, text: str) -> None:
        """Put a notice of the bench's own on top; one that says the same comes up again."""
        if text in self._own:
            self._own.remove(text)
        self._own.insert(0, text)
        self._dismissed.discard(text)
        del self._own[MOST_OWN:]

    def add_once_a_day(self, text: str) -> None:
        """Put up a notice unless somebody dismissed it within the last day."""
        self.add(text)
        if self._told.was_told(_mark(Notice(text))):
            self._dismissed.add(text)

    def withdraw(self, text: str) -> None:
        """Dismiss the notice ``text``, which no longer holds."""
        self._dismissed.add(text)

    def put_in_place_of(self, before: str, now: str) -> str:
        """Put ``now`` on top and take ``before`` down, which no longer holds; return ``now``."""
        self.withdraw(before)
        self.add(now)
        return now

    def reword(self, text: str, now: str) -> None:
        """Say ``now`` in the place of ``text``; dismissed, it stays so."""
        if text not in self._own:
            return
        self._own = [now if each == text else each for each in self._own]
        if text in self._dismissed:
            self._dismissed.add(now)

    def take_from_shop(self, notices: tuple[Notice, ...]) -> None:
        """Take the shop's notices as they now are; one that went and came back shows again."""
        before = {notice.mark for notice in self._shop}
        for mark in before - {notice.mark for notice in notices}:
            self._told.forget(_mark(Notice(mark)))
        for gone in set(self._shop) - set(notices):
            self._dismissed.discard(gone.text)
        for notice in notices:
            if notice not in self._shop and self._is_old_news(notice):
                self._dismissed.add(notice.text)
        self._shop = notices

    @property
    def every(self) -> tuple[str, ...]:
        """All of them, dismissed or not."""
        return tuple(dict.fromkeys((*self._own, *(notice.text for notice in self._shop))))

    @property
    def open(self) -> tuple[str, ...]:
        """Those that nobody dismissed."""
        return tuple(text for text in self.every if text not in self._dismissed)

    def dismiss_first(self) -> None:
        """Dismiss the one that shows, for a day, or until it grew worse."""
        if self.open:
            first = self.open[0]
            notice = next((one for one in self._shop if one.text == first), Notice(first))
            self._told.tell(_mark(notice), notice.gravity)
            self._dismissed.add(first)

    def _is_old_news(self, notice: Notice) -> bool:
        """Tell whether it was dismissed within the day; of an absence, whether it was said."""
        if notice.mark != NOBODY_LOOKED:
            return self._told.was_told(_mark(notice), notice.gravity)
        if not self._spoke_of_absence:
            self._told.tell(NOBODY_LOOKED)
        return self._spoke_of_absence


def _mark(notice: Notice) -> str:
    return f"dismissed: {notice.mark}"
