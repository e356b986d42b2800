"""Turn a plan in minutes and keys into what people read."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import datetime, timedelta

from finishsched.model.shop import Air
from finishsched.planning.bounds import bound
from finishsched.planning.going_on.steady import near_starts
from finishsched.planning.hours import instant_of
from finishsched.planning.plan_fault import FaultKind, PlanFault, Sound
from finishsched.planning.problem import Placed, Plan, Problem
from finishsched.planning.quick import not_found
from finishsched.planning.quick.search import PLAIN_STARTS
from finishsched.planning.replan import MANY_STEPS, Replanned, usual_rounds
from finishsched.planning.score import goal_finishes
from finishsched.units import TEMPERATURE, show
from finishsched.workshop.base.spans import weekday_of
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.answers import (
    Better,
    MadeAnew,
    PlanAnswer,
    PlannedPiece,
    PlannedStep,
)
from finishsched.workshop.plan.clearing_up import clearing_up_min
from finishsched.workshop.plan.end import decides
from finishsched.workshop.plan.hands_and_hours import place_of
from finishsched.workshop.plan.held_back import ReasonWords
from finishsched.workshop.plan.insight import (
    Trial,
    helps,
    more_hands,
    more_room,
)
from finishsched.workshop.plan.odds import Outlook, missed_share, outlook
from finishsched.workshop.plan.pots import planned_mixes
from finishsched.workshop.plan.sentences import (
    not_found_words,
    past_due_words,
    searched_words,
)
from finishsched.workshop.plan.work_left import ShopProblem
from finishsched.workshop.standing.sitting import goes_on
from finishsched.workshop.standing.where import cure_room, standings
from finishsched.workshop.views.notices import document_faults

WARMER_C, WARMEST_C = 4.0, 26.0
"""By how much a room is tried warmer, and up to what (our assumption)."""


class PlanReader:
    """Turns a plan in minutes and keys into what people read."""

    def __init__(
        self,
        workshop: Workshop,
        now: datetime,
        seen: tuple[ShopProblem, Sound],
        plan: Plan,
        in_air: Callable[[Air], Problem],
    ) -> None:
        self._workshop = workshop
        self._in_air = in_air
        self._now = now
        self._shop, self._whole = seen
        self._plan = plan

    def answer(self, found: Replanned, better: Better | None, *, insight: bool) -> PlanAnswer:
        """Return the answer, with odds and what would help where ``insight`` is wanted."""
        problem, plan = self._whole.problem, self._plan
        seen = self._outlook() if insight else Outlook({}, {})
        least, under_way = bound(problem), self._shop.under_way
        trials = tuple(self._trials()) if insight else ()
        return PlanAnswer(
            now=self._now,
            zone=self._workshop.zone,
            people=tuple(hands.name for hands in problem.hands if hands.windows),
            problem=problem,
            plan=plan,
            score=found.score,
            steps=tuple(self._steps(found)),
            pieces=tuple(self._pieces(seen)),
            finish=instant_of(found.score.finish_min),
            lower_bound=instant_of(least.finish_min),
            proven=found.score.finish_min <= least.finish_min and not found.score.late_min,
            faults=tuple(self._faults()),
            made_anew=self._made_anew(found),
            changes=tuple(c for c in found.changes if c.key not in under_way),
            decides=decides(self._shop, plan, least, self._day) if insight else (),
            helps=helps(problem, plan, better.plan if better else None, trials),
            better=better,
            mixes=planned_mixes(self._workshop, self._shop._replace(problem=problem), plan.placed),
            notes=(*self._shop.notes, *self._searched(), *self._unread()),
        )

    def _faults(self) -> Iterator[PlanFault]:
        """Give the faults, a due date that is past with the days of the calendar since."""
        today_ = self._now.astimezone(self._workshop.zone).date()
        for fault in self._whole.faults:
            work = self._shop.works.get(fault.keys[0]) if fault.keys else None
            if fault.kind is FaultKind.PAST_DUE and work is not None and work.due is not None:
                yield replace(fault, sentence=past_due_words(work.ref, work.due, today_))
            else:
                yield fault

    def _outlook(self) -> Outlook:
        missed = missed_share(self._workshop, place_of(self._workshop, self._now))
        return outlook(self._shop, self._whole.problem, self._plan, missed)

    def _made_anew(self, found: Replanned) -> MadeAnew | None:
        """Return what moved near by, and what that gains, where more could have stayed."""
        keeping = found.keeping
        if keeping is None:
            return None
        was: dict[str, int | None] = {p.key: p.start_min for p in found.plan.placed}
        was |= {change.key: change.was_min for change in found.changes if change.is_min is not None}
        # What is new has not moved.
        shown = {key: minute for key, minute in was.items() if minute is not None}
        near = near_starts(found.problem, shown, found.plan)
        saves = keeping.finish_min - found.score.finish_min
        less_late = keeping.late_min - found.score.late_min
        return MadeAnew(near.moved, near.shown, saves, less_late)

    def _trials(self) -> Iterator[Trial]:
        """Give what could be changed about the shop."""
        problem = self._whole.problem
        yield from more_hands(problem, self._day)
        yield from more_room(problem, self._plan)
        if any(step.wait is not None for step in self._shop.steps.values()):
            air = cure_room(self._workshop).course.at(self._now.timestamp())
            warm = min(WARMEST_C, air.temperature_c + WARMER_C)
            if warm > air.temperature_c:
                asked = Air(warm, air.humidity_percent, air.movement_m_per_s)
                unit = self._workshop.papers.shop.units.temperature
                shown = show(warm, TEMPERATURE, unit, digits=2)
                yield Trial(f"the room at {shown}", self._in_air(asked))

    def _searched(self) -> Iterator[str]:
        """Say that little was looked for, where there are many steps, or that nothing was found."""
        steps = len(self._plan.placed)
        if steps > MANY_STEPS:
            rounds = usual_rounds(self._whole.problem)
            yield searched_words(steps, rounds if rounds > PLAIN_STARTS else None)
        no_place = not_found(self._whole.problem, self._plan)
        if no_place:
            yield not_found_words([self._shop.say(key) for key in no_place])

    def _unread(self) -> Iterator[str]:
        """Say what cannot be read, and so is not planned."""
        yield from (one.text for one in document_faults(self._workshop.papers.faults))
        for standing in standings(self._workshop):
            if standing.schedule is None:
                yield (
                    f"{standing.ref} is not planned: its schedule {standing.piece.schedule!r} "
                    "cannot be read; finishsched check tells why"
                )

    def _day(self, minute: int) -> str:
        zone = self._workshop.zone
        return weekday_of(
            instant_of(minute).astimezone(zone).date(), self._now.astimezone(zone).date()
        )

    def _steps(self, found: Replanned) -> Iterator[PlannedStep]:
        reasons = ReasonWords(self._shop, self._whole.problem, self._plan, found)
        late = {miss.after: miss for miss in self._plan.misses}
        opened = {
            miss.before: miss.late_min
            for miss in self._plan.misses
            if not goes_on(self._shop.steps[miss.before].step, self._shop.steps[miss.after].step)
        }
        minutes = {a.key: a.minutes for a in self._whole.problem.activities}
        clear_up = clearing_up_min(self._whole.problem, self._plan)
        under_way = self._shop.under_way
        running = {d.key: d for d in self._whole.problem.done if d.key in under_way}
        placed = [
            *(Placed(d.key, d.start_min, d.end_min, d.by) for d in running.values()),
            *self._plan.placed,
        ]
        for each in placed:
            meant = self._shop.steps[each.key]
            wait = meant.wait
            end = instant_of(each.end_min)
            ready = [
                end + timedelta(minutes=m)
                for m in (
                    (wait.earliest_min, wait.likely_min, wait.latest_min) if wait else (0,) * 3
                )
            ]
            miss = late.get(each.key)
            yield PlannedStep(
                key=each.key,
                ref=meant.ref,
                title=self._shop.works[meant.ref].title,
                step=meant.step,
                person=each.by or "",
                start=instant_of(each.start_min),
                end=end,
                ready_earliest=ready[0],
                ready_likely=ready[1],
                ready_latest=ready[2],
                held_by=each.held_by,
                held_back_by=reasons.of(each),
                mend_min=each.end_min - each.start_min - minutes[each.key]
                if each.key not in running
                else 0,
                late_min=miss.late_min if miss else 0,
                hard=bool(miss and miss.hard),
                broken_off=miss is not None
                and goes_on(self._shop.steps[miss.before].step, meant.step),
                under_way=each.key in running,
                next_late_min=opened.get(each.key, 0),
                refs=self._shop.works[meant.ref].refs,
                clear_up_min=clear_up.get(each.key, 0),
            )

    def _pieces(self, seen: Outlook) -> Iterator[PlannedPiece]:
        problem = self._whole.problem
        finishes = goal_finishes(problem, self._plan)
        left_out = (*self._whole.left_out, *self._plan.left_out)
        out = {self._shop.steps[key].ref for key in left_out}
        last = max(finishes.values(), default=0)
        for goal in problem.goals:
            work = self._shop.works[goal.key]
            finish = None if goal.key in out else finishes.get(goal.key)
            slow = seen.latest_min.get(goal.key)
            due = goal.due_min
            yield PlannedPiece(
                ref=goal.key,
                title=work.title,
                due=work.due,
                due_at=None if due is None else instant_of(due),
                finish=None if finish is None else instant_of(finish),
                finish_latest=None if slow is None else instant_of(slow),
                late_min=max(0, finish - due) if finish is not None and due is not None else 0,
                late_latest_min=max(0, slow - due) if slow is not None and due is not None else 0,
                late_odds=seen.late_odds.get(goal.key),
                late_draws=seen.draws,
                slack_min=None if finish is None else (last if due is None else due) - finish,
                refs=work.refs,
            )
