"""The bench's eye on the plan: it follows what is logged, and a better one is looked for.

All the work is done in the back room. A better plan is only ever offered.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from time import sleep
from typing import TYPE_CHECKING, Protocol

from finishsched.bench.asking.back_room import BackRoom

if TYPE_CHECKING:
    from textual.timer import Timer

    from finishsched.workshop.base.workshop import Workshop
    from finishsched.workshop.plan.answers import Better, PlanAnswer
    from finishsched.workshop.plan.better import PlanSearch, Sought
    from finishsched.workshop.plan.change_sentences import Changed
    from finishsched.workshop.plan.follow import Followed, Mark

REST_S = 0.01
"""How long a search rests after each of its short rounds, for the screen to have its turn."""
AGAIN_S = 0.5
"""How long a search rests that was told to stop, and how often the solver is listened to."""


class Host(Protocol):
    """What the watch needs of the bench."""

    def plan_follows(self, answer: PlanAnswer, moved: str) -> None:
        """Take the plan that was made anew, and a line on what moved in it."""

    def offer_changed(self) -> None:
        """Show what is offered now, and whether more is looked for."""

    def late_follows(self, late_min: Mapping[str, int]) -> None:
        """Take by how much the plan has pieces after their due dates."""

    def call_later_in(self, seconds: float, call: Callable[[], None]) -> Timer:
        """Have something called in a while."""


class PlanWatch:
    """Has the plan made anew when something was logged, then looks once for a better one."""

    def __init__(
        self, back: BackRoom, host: Host, now: Callable[[], datetime], quiet_s: float
    ) -> None:
        """``quiet_s`` is how long nothing must have been logged before a search begins."""
        self._back = back
        self._host = host
        self._now = now
        self._quiet_s = quiet_s
        self.offer: Better | None = None
        self.changed: tuple[str, ...] = ()
        """What the last change of the plan was, piece by piece."""
        self.changed_at: datetime | None = None
        self._seen = (-1, -1)
        self._mark: Mark | None = None
        self._last: PlanAnswer | None = None
        self._search: PlanSearch | None = None
        self._timer: Timer | None = None
        self.is_looking = False
        """True while a better plan is looked for."""

    def follow(self, taken: int, heard: int) -> None:
        """Have the plan made anew, unless nothing was taken here or heard of since last time."""
        if (taken, heard) == self._seen:
            return
        if taken != self._seen[0]:
            self._end_search()
        self._seen = (taken, heard)
        self._back.ask("follow", self._question(), self._followed, self._unfollowed)

    def planned(self, answer: PlanAnswer, changed: Changed) -> None:
        """Take a plan that was made for another reason; what moved in it is a change as well."""
        self._take(answer, changed)
        if changed.sentences or answer.taken:
            self._search_in(self._quiet_s)

    def look_now(self) -> None:
        """Begin the search that is to come; somebody wants to see what it finds."""
        if self._search is None and self._timer is not None:
            self._end_search()
            self._begin_search()

    def close(self) -> None:
        """End every search."""
        self._end_search()

    # The plan that follows.

    def _question(self) -> Callable[[Workshop], Followed]:
        now, since, search = self._now(), self._mark, self._search
        offered = self.offer.plan if self.offer is not None else None
        known = self._last.plan if self._last is not None else None

        def ask(workshop: Workshop) -> Followed:
            from finishsched.workshop.plan.follow import follow_plan  # noqa: PLC0415  # dear

            end = search.cancel if search is not None else _nothing
            return follow_plan(workshop, now, since, known=known, offered=offered, changed=end)

        return ask

    def _followed(self, found: Followed) -> None:
        self._mark = found.mark
        if found.answer is not None:
            self._take(found.answer, found.changed)
            self._host.plan_follows(found.answer, found.changed.line)
        if found.answer is not None or (self._search is None and self._timer is None):
            self._search_in(self._quiet_s)

    def _unfollowed(self, _: str) -> None:
        """Say nothing: the plan's own screen tells the fault."""

    def _take(self, answer: PlanAnswer, changed: Changed) -> None:
        """Keep what a plan changed, and what is better than it."""
        self._last = answer
        if changed.sentences:
            self.changed, self.changed_at = changed.sentences, answer.now
        self._offer(answer.better)

    def _offer(self, better: Better | None) -> None:
        if better != self.offer:
            self.offer = better
            self._host.offer_changed()

    # The search.

    def _end_search(self) -> None:
        if self._timer is not None:
            self._timer.stop()
        if self._search is not None:
            self._search.cancel()
        self._timer = self._search = None
        self._say_looking(is_looking=False)

    def _search_in(self, seconds: float) -> None:
        self._end_search()
        self._timer = self._host.call_later_in(seconds, self._begin_search)

    def _begin_search(self) -> None:
        from finishsched.workshop.plan.better import PlanSearch  # noqa: PLC0415  # dear, and late

        offered = self.offer.plan if self.offer is not None else None
        self._search = PlanSearch(self._now(), offered)
        self._say_looking(is_looking=True)
        self._look(self._search)

    def _look(self, search: PlanSearch) -> None:
        self._timer = None

        def sought(found: Sought) -> None:
            self._sought(search, found)

        def failed(_: str) -> None:
            if search is self._search:
                self._end_search()

        question = self._kindly(search)
        self._back.ask("search", question, sought, failed)

    def _kindly(self, search: PlanSearch) -> Callable[[Workshop], Sought]:
        """Have it look on, with a rest in each round, so that keys are answered as ever."""

        def must_stop() -> bool:
            sleep(REST_S)
            return self._back.is_wanted

        return lambda workshop: search.go_on(workshop, must_stop)

    def _sought(self, search: PlanSearch, found: Sought) -> None:
        if search is not self._search:
            return
        if found.late_min is not None:
            self._host.late_follows(found.late_min)
        if not search.cancelled:
            self._offer(found.better)
        if found.is_over:
            self._say_looking(is_looking=False)
        else:
            self._timer = self._host.call_later_in(AGAIN_S, lambda: self._look(search))

    def _say_looking(self, *, is_looking: bool) -> None:
        if is_looking is not self.is_looking:
            self.is_looking = is_looking
            self._host.offer_changed()


def _nothing() -> None:
    """Do nothing."""
