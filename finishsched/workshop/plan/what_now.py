"""The one answer to what to do now, by the plan as it stands and the hands that are here.

Every face asks here: the command line, the large letters, the line beside the pieces. What cannot
be done now is told as well, with why and until when.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from typing import TYPE_CHECKING, NamedTuple

from finishsched.factors import DAY_MIN
from finishsched.journal.progress import StepStatus
from finishsched.model.names import NaturalKey, natural
from finishsched.model.step import Step
from finishsched.planning.hours import instant_of, minute_of, windows_of
from finishsched.planning.window import Window
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.as_it_stands import plan_as_it_stands
from finishsched.workshop.plan.assumed import in_its_window
from finishsched.workshop.plan.beside_work import Beside, BesideWork
from finishsched.workshop.plan.blocks import in_blocks
from finishsched.workshop.plan.dust_and_wet import Apart, DustAndWet
from finishsched.workshop.plan.hands_and_hours import NOBODY, Place, able, place_of
from finishsched.workshop.plan.mixes_ahead import shared_mix
from finishsched.workshop.plan.step_in_shop import activity_key
from finishsched.workshop.plan.work_left import Work, work_of
from finishsched.workshop.standing.beside import holding
from finishsched.workshop.standing.sitting import sitting_around
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.together import rows_of
from finishsched.workshop.standing.where import cure_room, standings

if TYPE_CHECKING:
    from finishsched.planning.problem import Placed
    from finishsched.workshop.plan.pots import PlannedMix

FEW_MIN = 10
LOOK_AHEAD_DAYS = 21
NO_BESIDE = Beside()


@dataclass(frozen=True, slots=True)
class Suggestion:
    """One thing to do."""

    ref: str
    step: Step
    person: str
    start: datetime
    """When it can begin: now, or when its wait is likely over."""
    minutes: int
    planned_at: datetime | None
    """When the plan as it stands has it; None where that has it not."""
    check_first: bool
    """True where a dry check comes first."""
    beside: Beside = NO_BESIDE
    """The minutes of getting ready before it and of clearing up after it."""
    hours_end: datetime | None = None
    """When the hours of that person end; None while nobody is here."""
    only_check: bool = False
    """True where the dry check of ``step`` is all there is to do: at most a rest follows."""
    then_rests: bool = False
    """True where a rest begins by itself after it: after that dry check, or once it is begun."""
    title: str = ""
    """What is called so: a piece, or those that stand in one row."""
    refs: tuple[str, ...] = ()
    """The pieces that it is about: of a block all of them."""
    why_from: str = ""
    """Where it can be begun only at ``start`` for dust or wet film: what keeps it till then."""

    def words(self, step: str) -> str:
        """Say what it is, the step in the words given."""
        if self.only_check:
            return (
                f"the dry check of {step}" if self.then_rests else f"the last dry check, of {step}"
            )
        if self.then_rests:
            return f"begin it; {step} runs by itself"
        return f"dry check, then {step}" if self.check_first else step

    @property
    def whole_min(self) -> int:
        """The minutes that it takes with getting ready and clearing up."""
        return self.beside.get_ready_min + self.minutes + self.beside.clear_up_min

    @property
    def planned_later(self) -> datetime | None:
        """When the plan has it, where that is in later hours; what is ready needs not wait."""
        if self.planned_at is None or self.hours_end is None or self.planned_at < self.hours_end:
            return None
        return self.planned_at

    @property
    def fits(self) -> bool:
        """True where it is over, cleared up and all, before the hours are."""
        takes = timedelta(minutes=self.whole_min)
        return self.hours_end is None or self.start + takes <= self.hours_end


class HeldBy(StrEnum):
    """What keeps a thing from being begun now."""

    WAIT = "wait"
    BESIDE = "worked beside it"
    DUST = "dust and wet apart"
    HANDS = "hands"
    HOURS = "hours"
    SITTING = "sitting"


class Held(NamedTuple):
    """One thing that cannot be begun now."""

    ref: str
    step: Step
    by: HeldBy
    why: str
    until: datetime | None
    """When it can, as far as that is known."""
    title: str = ""
    refs: tuple[str, ...] = ()
    """The pieces that it is about: of a block all of them."""


@dataclass(frozen=True, slots=True)
class WhatNow:
    """What to do now, and what if only few minutes are left."""

    hands: tuple[str, ...]
    """Who is here, by the hours."""
    until: datetime | None
    """When the last of them goes."""
    next_hours: datetime | None
    """While nobody is here: when somebody is again."""
    best: Suggestion | None
    if_few: Suggestion | None
    """What fits in ten minutes, where the best does not."""
    too_long: Suggestion | None = None
    """Where nothing can be begun for want of time: what would come first in longer hours."""
    held: tuple[Held, ...] = ()
    """What cannot be begun within the time, the first to come free first."""
    soon: tuple[Held, ...] = ()
    """What dust or wet film still keeps from being begun, and no longer than that time."""
    one_mix: PlannedMix | None = None
    """Where the plan has the step of the best and others done from one mix: that one."""


def what_now(workshop: Workshop, now: datetime, minutes: int = 15) -> WhatNow:
    """Return what to do within ``minutes``: what the plan as it stands has first goes first.

    The plan is the one that was shown, made anew where something was logged or written since, or
    the first one where none was shown, so that its word and this one are the same.
    """
    place = place_of(workshop, now)
    here = dict(_here(place))
    finder = _Finder(workshop, place, minutes, here, plan_as_it_stands(workshop, now))
    offers = list(finder.all())
    found = sorted((each for each in offers if isinstance(each, Suggestion)), key=_first)
    held = [each for each in offers if isinstance(each, Held)]
    fit = [suggestion for suggestion in found if suggestion.fits]
    best = fit[0] if fit else None
    few = next((s for s in fit if _ends_within(s, now, FEW_MIN)), None)
    return WhatNow(
        hands=tuple(here),
        until=max((instant_of(window.end_min) for window in here.values()), default=None),
        next_hours=None if here else _next_hours(place),
        best=best,
        one_mix=shared_mix(workshop, best.step, best.refs or (best.ref,), now) if best else None,
        if_few=few if few is not best else None,
        too_long=found[0] if found and best is None else None,
        soon=tuple(
            Held(each.ref, each.step, HeldBy.DUST, each.why_from, each.start, each.title, each.refs)
            for each in found
            if each.why_from
        ),
        held=tuple(sorted([*held, *_too_long(found, place)], key=_comes_free)),
    )


def _too_long(found: Iterable[Suggestion], place: Place) -> Iterator[Held]:
    """Give what is not over before the hours are, until the next hours."""
    for one in found:
        if not one.fits:
            why = f"it takes {one.whole_min} min, longer than is left of these hours"
            yield Held(
                one.ref, one.step, HeldBy.HOURS, why, _next_hours(place), one.title, one.refs
            )


def _comes_free(held: Held) -> tuple[float, str]:
    return held.until.timestamp() if held.until else math.inf, held.ref


def _first(suggestion: Suggestion) -> tuple[float, bool, float, NaturalKey]:
    """Order by the plan; where it says nothing, what waits for a dry check goes first."""
    planned = suggestion.planned_at.timestamp() if suggestion.planned_at else math.inf
    return (
        planned,
        not suggestion.check_first,
        suggestion.start.timestamp(),
        natural(suggestion.ref),
    )


def _ends_within(suggestion: Suggestion, now: datetime, minutes: int) -> bool:
    end = suggestion.start + timedelta(minutes=suggestion.whole_min)
    return end <= now + timedelta(minutes=minutes)


def _here(place: Place) -> Iterator[tuple[str, Window]]:
    """Give each of the people whose hours it is, and those hours."""
    at = minute_of(place.now)
    for name in place.people:
        for window in windows_of(place.hours(name), place.zone, at - DAY_MIN, at + DAY_MIN):
            if window.start_min <= at < window.end_min:
                yield name, window


def _next_hours(place: Place) -> datetime | None:
    at = minute_of(place.now)
    ends = at + LOOK_AHEAD_DAYS * DAY_MIN
    starts = [
        window.start_min
        for name in place.people
        for window in windows_of(place.hours(name), place.zone, at, ends)
        if window.start_min > at
    ]
    return instant_of(min(starts)) if starts else None


class _Finder:
    """Finds everything that can be begun soon, and why the rest cannot."""

    def __init__(
        self,
        workshop: Workshop,
        place: Place,
        minutes: int,
        here: Mapping[str, Window],
        planned: Mapping[str, Placed],
    ) -> None:
        self._workshop = workshop
        self._place = place
        self._now = place.now
        self._by = place.now + timedelta(minutes=minutes)
        self._here = here
        self._people = tuple(here) or tuple(workshop.papers.shop.people) or (NOBODY,)
        self._planned = planned
        self._beside = BesideWork(workshop, here, planned)
        self._air = DustAndWet(place, standings(workshop))

    def all(self) -> Iterator[Suggestion | Held]:
        """Give one answer for each piece, or block of pieces, that has something left to do."""
        known = {standing.ref: standing for standing in standings(self._workshop)}
        works = {ref: work for ref, one in known.items() if (work := work_of(one)) is not None}
        rows = rows_of(list(known.values()), self._workshop.book(), self._now)
        blocks = list(in_blocks(works, rows, self._workshop.papers.shop))
        self._beside.know(blocks)
        for work in blocks:
            standing = max((known[ref] for ref in work.refs), key=_laid_at)
            found = self._next_of(standing)
            if found is not None:
                yield self._answer(work, standing, found)

    def _answer(
        self, work: Work, standing: Standing, found: tuple[Step, datetime, bool, bool]
    ) -> Suggestion | Held:
        """Offer the next work on a piece or a block, or say what holds it."""
        step, start, check_first, only_check = found
        rest = _rest_after(standing) if only_check else None
        then_rests = rest is not None or (step.verb.does.rests and not only_check)
        held = self._held(standing, step, start, only_check=only_check)
        if held is not None:
            return held._replace(ref=work.ref, title=work.title, refs=work.refs)
        apart = None if only_check else self._apart(standing.ref, step, start)
        if apart is not None:
            start = apart.until
        key = activity_key(work.ref, rest or step)
        placed = self._planned.get(key)
        later = self._held_for_its_sitting(work, step, placed)
        if later is not None:
            return later
        offers = [
            Suggestion(
                work.ref,
                step,
                person,
                max(start, self._now),
                1 if only_check else self._minutes(work, standing, step, placed),
                instant_of(placed.start_min) if placed else None,
                check_first,
                NO_BESIDE if only_check else self._beside.of(key, step, person),
                self._ends(person),
                only_check,
                then_rests,
                work.title,
                work.refs,
                apart.why if apart is not None else "",
            )
            for person in self._able(step, placed)
        ]
        if not offers:
            why = f"nobody here does {step.verb.value}"
            return Held(work.ref, step, HeldBy.HANDS, why, None, work.title, work.refs)
        return next((offer for offer in offers if offer.fits), offers[0])

    def _minutes(self, work: Work, standing: Standing, step: Step, placed: Placed | None) -> int:
        """Return how long it takes, with mending where the plan has some and it is due by now."""
        own = max(1, work.hands_on_min(step))
        room = cure_room(self._workshop)
        if placed is None or in_its_window(room, standing, step, self._now):
            return own
        return max(own, placed.end_min - placed.start_min)

    def _held(
        self, standing: Standing, step: Step, start: datetime, *, only_check: bool
    ) -> Held | None:
        if start > self._by:
            before = standing.laid.step.title if standing.laid else "the step before"
            why = f"the wait after {before} runs"
            return Held(standing.ref, step, HeldBy.WAIT, why, start)
        lines = [] if only_check else holding(step, standing.steps, standing.beside)
        if lines:
            why = f"it waits for {lines[0].ref}, {lines[0].title}"
            return Held(standing.ref, step, HeldBy.BESIDE, why, None)
        apart = None if only_check else self._apart(standing.ref, step, start)
        if apart is not None and apart.until > self._by:
            return Held(standing.ref, step, HeldBy.DUST, apart.why, apart.until)
        return None

    def _apart(self, ref: str, step: Step, start: datetime) -> Apart | None:
        return self._air.holds(ref, step, max(start, self._now))

    def _held_for_its_sitting(self, work: Work, step: Step, placed: Placed | None) -> Held | None:
        """Hold the first coat of a sitting that the plan has in later hours, in one go."""
        run = sitting_around(work.steps, step)
        begins_a_sitting = len(run) > 1 and run[0] == step
        if placed is None or not self._here or not begins_a_sitting:
            return None
        at = instant_of(placed.start_min)
        if at < max(instant_of(window.end_min) for window in self._here.values()):
            return None
        why = f"its {len(run)} coats wait for hours in which they go in one sitting,"
        return Held(work.ref, step, HeldBy.SITTING, why, at, work.title, work.refs)

    def _able(self, step: Step, placed: Placed | None) -> list[str]:
        """Return whose hands can do it, those that the plan has for it first."""
        planned_by = placed.by if placed is not None else None
        found = able(self._workshop.papers.shop, self._people, step.verb)
        return sorted(found, key=lambda name: name != planned_by)

    def _ends(self, person: str) -> datetime | None:
        window = self._here.get(person)
        return instant_of(window.end_min) if window else None

    def _next_of(self, standing: Standing) -> tuple[Step, datetime, bool, bool] | None:
        """Return the next work, when it can begin, and whether a dry check comes first, or last.

        A rest wants nobody: it begins by itself, and only its dry check is somebody's.
        """
        progress = standing.progress
        if standing.step is None:
            return None
        if progress is None or standing.laid is None:
            return standing.step, self._now, False, False
        likely = cure_room(self._workshop).clock(standing.laid, self._now).likely_at
        following = _after(standing, progress.statuses)
        if following is None or following.verb.does.rests:
            return standing.laid.step, likely, True, True
        return following, likely, True, False


def _rest_after(standing: Standing) -> Step | None:
    """Return the rest that begins by itself after the dry check of a piece; None for none."""
    progress = standing.progress
    return _after(standing, progress.statuses) if progress is not None else None


def _after(standing: Standing, statuses: Iterable[StepStatus]) -> Step | None:
    pairs = zip(standing.steps, statuses, strict=True)
    return next((step for step, status in pairs if status is StepStatus.TO_DO), None)


def _laid_at(standing: Standing) -> float:
    return standing.laid.at.timestamp() if standing.laid is not None else 0.0
