"""The plan of the shop: who does what when, for every open piece."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from finishsched.journal import events
from finishsched.model.job import Face, Piece
from finishsched.model.shop import Air, Steady
from finishsched.model.step import steps_of
from finishsched.planning.faults import sound
from finishsched.planning.going_on.steady import (
    FIRMLY_STEADY,
    LOOSELY_STEADY,
    USUALLY_STEADY,
    Steadiness,
)
from finishsched.planning.held import held_back
from finishsched.planning.hours import instant_of, minute_of
from finishsched.planning.looking import HowFar, Looked, Looking
from finishsched.planning.plan_fault import Sound
from finishsched.planning.problem import Done, Lag, Placed, Plan, Problem
from finishsched.planning.replan import Replanned, better_than, changes, replan, worth_offering
from finishsched.planning.score import score
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.answers import Better, PlanAnswer
from finishsched.workshop.plan.blocks import in_blocks
from finishsched.workshop.plan.hands_and_hours import NOTHING_ELSE, WhatIf, place_of
from finishsched.workshop.plan.memory import Remembered, recall, remember
from finishsched.workshop.plan.problem_of_shop import problem_of
from finishsched.workshop.plan.reading import PlanReader
from finishsched.workshop.plan.regrouped import recalled
from finishsched.workshop.plan.work_left import ShopProblem, Work, work_of
from finishsched.workshop.standing.several import find_several
from finishsched.workshop.standing.together import Row, rows_of
from finishsched.workshop.standing.where import standings

STEADINESS = {
    Steady.LOOSELY: LOOSELY_STEADY,
    Steady.USUALLY: USUALLY_STEADY,
    Steady.FIRMLY: FIRMLY_STEADY,
}
LEAST_GRACE_MIN, IDLE_GRACE_MIN = 15, 120
"""Work that was planned for now is taken to be under way until it has had its time again, or a
quarter of an hour; a rest, which takes no hands, for two hours (our assumption)."""


@dataclass(frozen=True, slots=True)
class Asked:
    """How much a plan is asked for."""

    what_if: WhatIf = NOTHING_ELSE
    insight: bool = True
    """Also odds, what would help, and what if waits are slow."""
    better: bool = False
    """Look for a better plan."""
    rounds: int | None = None
    """For how long; None for as long as somebody waits."""
    stop: Callable[[], bool] | None = None
    look_s: float | None = None
    """For how long to look instead, with the solver where it is installed."""
    tell: Callable[[HowFar], None] | None = None
    """Is told now and then how far that has come."""
    keep: bool = False
    """Keep the plan as the one that is shown."""
    take_better: bool = False
    """Keep the better plan that is found, instead."""
    offered: Plan | None = None
    """A better plan that was found before: offered again, or taken, while it still is better."""


def plan_answer(workshop: Workshop, now: datetime, asked: Asked = Asked()) -> PlanAnswer:
    """Return the plan at ``now``: the one that was shown last, as far as that can be.

    Raises:
        RefusedError: for a piece or schedule that there is not.
        NoPlanError: when no plan comes out right.

    """
    last_seq = workshop.book().last_seq
    shop, whole = shop_sound(workshop, now, asked.what_if)
    shown = _shown(workshop, now, asked.what_if, shop.problem)
    found = replan(whole.problem, shown, steady=steadiness_of(workshop))
    better, taken = None, False
    looked: Looked | None = None
    if asked.offered is not None:
        better = _again(whole.problem, found, asked.offered)
    elif asked.look_s is not None:
        looked = Looking(whole.problem, found.plan, asked.look_s, tell=asked.tell).look()
        if worth_offering(whole.problem, found.plan, looked.plan):
            better = better_by(whole.problem, found.plan, looked.plan)
    elif asked.better:
        better = _better(whole.problem, found, asked)
    if better is not None and (asked.take_better or asked.what_if != NOTHING_ELSE):
        found = _taken(found, better, shown)
        better, taken = None, asked.take_better
    same = looked is not None and score(whole.problem, looked.plan) == found.score
    proven = looked is not None and looked.proven and same
    plan = found.plan
    if asked.keep and asked.what_if == NOTHING_ELSE:
        _keep(workshop, shop, plan, last_seq)
    reader = PlanReader(
        workshop, now, (shop, whole), plan, lambda air: _in_air(workshop, now, asked, air)
    )
    answer = reader.answer(found, better, insight=asked.insight)
    return replace(answer, proven=answer.proven or proven, taken=taken, looked=looked)


def steadiness_of(workshop: Workshop) -> Steadiness:
    """Return how firmly this shop holds on to a plan that was shown."""
    return STEADINESS[workshop.papers.shop.steady]


def _taken(found: Replanned, better: Better, shown: Plan | None) -> Replanned:
    """Return the better plan as the one to go on by, with what that moves of the one shown."""
    plan = held_back(found.problem, better.plan)
    moved = changes(shown, plan, found.problem) if shown is not None else ()
    return replace(found, plan=plan, score=better.score, changes=moved, kept=False, keeping=None)


def _keep(workshop: Workshop, shop: ShopProblem, plan: Plan, last_seq: int) -> None:
    """Keep a plan as the one that is shown, and with it what the one before has under way."""
    before, under_way = recalled(workshop, shop.problem), shop.under_way
    carried = [p for p in before.plan.placed if p.key in under_way] if before else []
    shown_min = min([shop.problem.now_min, *(placed.start_min for placed in carried)])
    whole = replace(plan, placed=(*carried, *plan.placed))
    remember(workshop.folder, Remembered(whole, shown_min, last_seq))


@dataclass(slots=True)
class _AsItIs:
    """The plan without any what-if, kept for the next one: several are asked one after another."""

    asked: tuple[int, datetime, Plan | None] | None = None
    plan: Plan | None = None


def _shown(workshop: Workshop, now: datetime, what_if: WhatIf, problem: Problem) -> Plan | None:
    """Return the plan to go on by: for a what-if, the one that is made without it."""
    remembered = recalled(workshop, problem)
    plan = remembered.plan if remembered else None
    if what_if == NOTHING_ELSE:
        return plan
    kept, asked = workshop.held(_AsItIs, _AsItIs), (workshop.book().last_seq, now, plan)
    if kept.asked != asked:
        as_it_is = shop_sound(workshop, now)[1].problem
        kept.plan = replan(as_it_is, plan, steady=steadiness_of(workshop)).plan
        kept.asked = asked
    return kept.plan


def shop_sound(
    workshop: Workshop, now: datetime, what_if: WhatIf = NOTHING_ELSE
) -> tuple[ShopProblem, Sound]:
    """Return the shop's problem, and what of it can be planned.

    Raises:
        RefusedError: for a piece or schedule that there is not.

    """
    found = {work.ref: work for work in _works(workshop, what_if)}
    works = in_blocks(found, _rows(workshop, found, now), workshop.papers.shop)
    shop = problem_of(works, place_of(workshop, now, what_if))
    running = _under_way(recall(workshop.folder), shop.problem, workshop, now)
    if running:
        shop = shop._replace(problem=replace(shop.problem, done=(*shop.problem.done, *running)))
    return shop, sound(shop.problem, shop.say)


def _works(workshop: Workshop, what_if: WhatIf) -> Iterator[Work]:
    known = [s.ref for s in standings(workshop)]
    dropped = {ref for name in what_if.drop for ref in _refs(workshop, name)}
    due = {ref: day for name, day in what_if.due.items() for ref in _refs(workshop, name)}
    other = {
        ref: schedule
        for name, schedule in what_if.schedules.items()
        for ref in _refs(workshop, name)
    }
    for standing in standings(workshop):
        work = work_of(standing)
        if work is None or standing.ref in dropped:
            continue
        if standing.ref in other:
            work = _on_schedule(work, other[standing.ref], workshop)
        yield _due_by(work._replace(due=due.get(work.ref, work.due)), what_if)
    for name, schedule, area_m2 in what_if.pieces:
        ref = f"what-if/{name}"
        if ref in known:
            raise RefusedError(f"there is a piece {ref} already", "call it something else")
        piece = Piece(name, name, schedule, (Face("all", stated_area_m2=area_m2),))
        steps = _steps(schedule, workshop)
        yield _due_by(Work(ref, name, piece, steps, steps), what_if)


def _rows(workshop: Workshop, found: Mapping[str, Work], now: datetime) -> tuple[Row, ...]:
    """Return the rows that pieces stand in; what there only would be stands by itself."""
    known = [standing for standing in standings(workshop) if standing.ref in found]
    there = {standing.ref for standing in known}
    alone = (Row((ref,), ref, work.title) for ref, work in found.items() if ref not in there)
    return (*rows_of(known, workshop.book(), now), *alone)


def _refs(workshop: Workshop, name: str) -> tuple[str, ...]:
    return tuple(standing.ref for standing in find_several(workshop, name))


def _due_by(work: Work, what_if: WhatIf) -> Work:
    if what_if.by is None:
        return work
    is_due_sooner = work.due is not None and work.due <= what_if.by
    return work if is_due_sooner else work._replace(due=what_if.by)


def _steps(schedule: str, workshop: Workshop) -> tuple:  # type: ignore[type-arg]
    found = workshop.papers.schedules.get(schedule)
    if found is None:
        from finishsched.near import nearest  # noqa: PLC0415  # only for a name that is wrong

        near = nearest(schedule, workshop.papers.schedules)
        remedy = f"did you mean {near!r}?" if near else "see finishsched schedules"
        raise RefusedError(f"no schedule {schedule!r}", remedy)
    return steps_of(found)


def _on_schedule(work: Work, schedule: str, workshop: Workshop) -> Work:
    """Return the piece on another schedule: from its beginning, or on from the same step if any."""
    steps = _steps(schedule, workshop)
    left = {step.key for step in work.left}
    passed = {step.key for step in work.steps} - left
    return work._replace(steps=steps, left=tuple(s for s in steps if s.key not in passed))


def _under_way(
    remembered: Remembered | None, problem: Problem, workshop: Workshop, now: datetime
) -> list[Done]:
    """Return the work that was planned for now, as running, unless the journal says otherwise.

    Nobody logs a beginning: what the plan shown had for this minute is taken to be going on, and
    a while longer when it has overrun. Hands that logged anything since do something else.
    """
    if remembered is None:
        return []
    now_min = minute_of(now, up=True)
    done = {each.key for each in problem.done}
    open_ = {a.key: a for a in problem.activities if a.key not in done}
    blocked = {lag.after for lag in problem.lags if lag.before not in done}
    found: list[Done] = []
    for placed in remembered.plan.placed:
        activity = open_.get(placed.key)
        if activity is None or placed.key in blocked or remembered.shown_min > placed.start_min:
            continue
        ran = placed.start_min < now_min <= placed.end_min + _grace_min(placed)
        if not ran or _too_soon(placed, problem.lags, problem.done):
            continue
        if not activity.by:
            found.append(Done(placed.key, placed.start_min, placed.end_min))
            continue
        if placed.start_min == placed.end_min:
            continue  # begun only when somebody has looked, and has logged it
        busy = {each.by for each in found}
        if (
            placed.by in activity.by
            and placed.by not in busy
            and not _logged_since(workshop, placed)
        ):
            end = max(placed.end_min, now_min + 1)
            found.append(Done(placed.key, placed.start_min, end, placed.by))
    return found


def _grace_min(placed: Placed) -> int:
    if placed.by is None:
        return IDLE_GRACE_MIN
    return max(LEAST_GRACE_MIN, placed.end_min - placed.start_min)


def _too_soon(placed: Placed, lags: Iterable[Lag], done: Iterable[Done]) -> bool:
    ends = {each.key: each.end_min for each in done}
    return any(
        lag.after == placed.key
        and lag.before in ends
        and ends[lag.before] + lag.least_min > placed.start_min
        for lag in lags
    )


def _logged_since(workshop: Workshop, placed: Placed) -> bool:
    """Tell whether the same hands logged some work since it was to begin."""
    book = workshop.book()
    began = instant_of(placed.start_min)
    return any(
        event.at >= began and isinstance(event.what, events.StepDone)
        for standing in standings(workshop)
        for event in book.newest(standing.ref, 3)
        if getattr(event.what, "by", "") in ("", placed.by)
    )


def _better(problem: Problem, found: Replanned, asked: Asked) -> Better | None:
    """Return a better plan, if one is soon found."""
    plan = better_than(problem, found.plan, rounds=asked.rounds, stop=asked.stop)
    return None if plan is None else better_by(problem, found.plan, plan)


def _again(problem: Problem, found: Replanned, offered: Plan) -> Better | None:
    """Return what was offered before as it can be carried out now, if it still is better."""
    plan = replan(problem, offered).plan
    return (
        better_by(problem, found.plan, plan) if worth_offering(problem, found.plan, plan) else None
    )


def better_by(problem: Problem, shown: Plan, plan: Plan) -> Better:
    """Return a plan that is offered in the place of the one shown, with what it gains."""
    now, other = score(problem, shown), score(problem, plan)
    saves, less_late = now.finish_min - other.finish_min, now.late_min - other.late_min
    return Better(plan, other, saves, less_late)


def _in_air(workshop: Workshop, now: datetime, asked: Asked, air: Air) -> Problem:
    """Return the same problem as if the room were so from now."""
    return shop_sound(workshop, now, replace(asked.what_if, air=air))[1].problem
