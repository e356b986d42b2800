"""What is done beside the next work: getting ready before it, and clearing up after it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from datetime import datetime
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from finishsched.journal.events import StepDone
from finishsched.model.room import preparing_for
from finishsched.model.schedule import Verb
from finishsched.model.step import Step
from finishsched.planning.hours import instant_of
from finishsched.planning.window import Window
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.clearing_up import clears_min
from finishsched.workshop.plan.step_in_shop import activity_key
from finishsched.workshop.plan.work_left import Work
from finishsched.workshop.standing.where import standings

if TYPE_CHECKING:
    from finishsched.planning.problem import Placed


class Beside(NamedTuple):
    """The minutes beside one work."""

    get_ready_min: int = 0
    """Of getting ready; none for who has just done the same."""
    clear_up_min: int = 0
    """Of clearing up, if nothing came after it in these hours: so much is to be kept free."""
    clears_min: int = 0
    """Of clearing up right after it, by the plan as it stands: none where more of it follows."""


class BesideWork:
    """Knows what those who are here have just done, and what they are to do in these hours."""

    def __init__(
        self, workshop: Workshop, here: Mapping[str, Window], planned: Mapping[str, Placed]
    ) -> None:
        """Know who is here.

        Args:
            workshop: says what was done, and what its work takes beside itself.
            here: the hours that it is now, by person.
            planned: the plan as it stands, by key.

        """
        self._workshop = workshop
        self._here = here
        self._planned = planned
        self._verbs: dict[str, Verb] = {}
        """What all that is left is, by key."""

    def know(self, works: Iterable[Work]) -> None:
        """Know what is left to do."""
        for work in works:
            for step in work.left:
                self._verbs[activity_key(work.ref, step)] = step.verb

    def of(self, key: str, step: Step, person: str) -> Beside:
        """Return the minutes beside a step.

        Args:
            key: its key in the plan.
            step: what is done.
            person: whose hands do it.

        """
        own = preparing_for(step.verb, self._workshop.papers.shop.set_up)
        is_ready = self._last_verbs.get(person) is step.verb
        at_once_min, at_end_min = math.ceil(own.after_s / 60), math.ceil(own.at_end_s / 60)
        then = self._kinds_after(key, person)
        return Beside(
            0 if is_ready else math.ceil(own.before_s / 60),
            math.ceil(own.clearing_s / 60),
            clears_min(step.verb.value, then, at_once_min, at_end_min),
        )

    def _kinds_after(self, key: str, person: str) -> list[str]:
        """Return the kinds of what else one person is to do before these hours end, in order."""
        window = self._here.get(person)
        if window is None:
            return []
        others = []
        for each in self._planned.values():
            takes_hands = each.by == person and each.end_min > each.start_min
            is_open = each.key in self._verbs and each.key != key
            if takes_hands and is_open and each.start_min < window.end_min:
                others.append(each)
        others.sort(key=lambda each: each.start_min)
        return [self._verbs[each.key].value for each in others]

    @cached_property
    def _last_verbs(self) -> Mapping[str, Verb]:
        """What each of those here did last in these hours, by the entries."""
        last: dict[str, tuple[datetime, Verb]] = {}
        book = self._workshop.book()
        for standing in standings(self._workshop):
            verbs = {step.key: step.verb for step in standing.steps}
            for event in book.told(standing.ref, StepDone):
                what = event.what
                if not isinstance(what, StepDone) or what.step not in verbs:
                    continue
                window = self._here.get(what.by)
                if window is None or event.at < instant_of(window.start_min):
                    continue
                if what.by not in last or last[what.by][0] <= event.at:
                    last[what.by] = (event.at, verbs[what.step])
        return {name: verb for name, (_, verb) in last.items()}
