"""A plan in words, for people and as JSON values."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import timedelta
from itertools import groupby
from typing import TYPE_CHECKING, Any

from finishsched.cli.plan.change_words import change_lines, changed_data
from finishsched.cli.plan.mix_words import mix_data
from finishsched.journal.events import utc_text
from finishsched.numerals import counted
from finishsched.planning.hours import instant_of
from finishsched.workshop.base.spans import span, today, weekday_of
from finishsched.workshop.plan.answers import PlanAnswer, PlannedPiece, PlannedStep
from finishsched.workshop.plan.pots import mix_words
from finishsched.workshop.plan.sentences import (
    date_words,
    gain_words,
    made_anew_words,
    piece_words,
    promises,
    when_words,
)

if TYPE_CHECKING:
    from finishsched.planning.looking import HowFar

_WIDEST_NAME = 25
"""So that a row of a what-if stays within 80 signs."""


def plan_data(plan: PlanAnswer) -> dict[str, Any]:
    """Return a plan as JSON values."""
    return {
        "steps": [_step_data(step) for step in plan.steps],
        "finish": utc_text(plan.finish),
        "late_minutes": plan.late_min,
        "lower_bound": utc_text(plan.lower_bound),
        "proven": plan.proven,
        "pieces": [_piece_data(piece) for piece in plan.pieces],
        "faults": [
            {
                "kind": fault.kind.value,
                "keys": list(fault.keys),
                "minutes": fault.minutes,
                "message": fault.sentence,
                "remedy": fault.remedy,
                "left_out": list(fault.left_out),
            }
            for fault in plan.faults
        ],
        "changes": [
            {
                "kind": change.kind.value,
                "key": change.key,
                "minutes": change.minutes,
                "was": _minute_text(change.was_min),
                "is": _minute_text(change.is_min),
                "person": change.by,
            }
            for change in plan.changes
        ],
        "changed": changed_data(plan),
        "decides": list(plan.decides),
        "helps": [
            {"what": each.what, "saves_min": each.saves_min, "less_late_min": each.less_late_min}
            for each in plan.helps
        ],
        "made_anew": None
        if plan.made_anew is None
        else {
            "near_moved": plan.made_anew.near_moved,
            "near": plan.made_anew.near,
            "saves_minutes": plan.made_anew.saves_min,
            "less_late_minutes": plan.made_anew.less_late_min,
        },
        "better": None
        if plan.better is None
        else {"saves_min": plan.better.saves_min, "less_late_min": plan.better.less_late_min},
        "mixes": [mix_data(mix) for mix in plan.mixes],
        "notes": list(plan.notes),
    }


def _minute_text(minute: int | None) -> str | None:
    return None if minute is None else utc_text(instant_of(minute))


def _step_data(step: PlannedStep) -> dict[str, Any]:
    return {
        "piece": step.ref,
        "pieces": list(step.refs),
        "step": step.step.key,
        "number": step.step.number,
        "title": step.step.title,
        "person": step.person or None,
        "start": utc_text(step.start),
        "end": utc_text(step.end),
        "ready_earliest": utc_text(step.ready_earliest),
        "ready_likely": utc_text(step.ready_likely),
        "first_ready_likely": utc_text(step.first_ready),
        "ready_latest": utc_text(step.ready_latest),
        "held_back_by": step.held_back_by,
        "held_back_kind": step.held_by.value,
        "mend_minutes": step.mend_min,
        "window_missed_minutes": step.late_min,
        "next_window_missed_minutes": step.next_late_min,
        "under_way": step.under_way,
        "clear_up_minutes": step.clear_up_min,
    }


def _piece_data(piece: PlannedPiece) -> dict[str, Any]:
    return {
        "piece": piece.ref,
        "pieces": list(piece.refs),
        "due": piece.due.isoformat() if piece.due else None,
        "due_at": utc_text(piece.due_at) if piece.due_at else None,
        "finish": utc_text(piece.finish) if piece.finish else None,
        "finish_latest": utc_text(piece.finish_latest) if piece.finish_latest else None,
        "late_minutes": piece.late_min,
        "late_odds": piece.late_odds,
        "late_draws": piece.late_draws if piece.late_odds is not None else 0,
        "slack_minutes": piece.slack_min,
    }


def plan_lines(plan: PlanAnswer, days: int | None, *, why: bool, looked: str = "") -> Iterator[str]:
    """Say the coming days of work (all of it for None), then the pieces, then what to know.

    ``looked`` says what came of looking for a better plan, where that was asked for.
    """
    if not plan.steps and not plan.pieces:
        yield "nothing to plan: no piece is open"
        yield from _notes(plan)
        return
    yield from _head(plan)
    if looked:
        yield looked
    if plan.made_anew is not None:
        yield made_anew_words(plan.made_anew)
    yield from change_lines(plan)
    yield from _day_lines(plan, days, why=why)
    yield "pieces"
    for piece in sorted(plan.pieces, key=_by_finish):
        yield f"  {piece_words(piece, plan)}"
    yield from _know(plan, why=why)


def _by_finish(piece: PlannedPiece) -> tuple[bool, float, str]:
    return piece.finish is None, piece.finish.timestamp() if piece.finish else 0.0, piece.ref


def _head(plan: PlanAnswer) -> Iterator[str]:
    out = any(fault.left_out for fault in plan.faults)
    all_ = "what can be planned is" if out else "all"
    when = f"{all_} finished {when_words(plan.finish, plan)}"
    yield f"{when if plan.steps else 'nothing is planned'}; {promises(plan)}"
    for fault in plan.faults:
        yield f"  ! {fault.sentence}; {fault.remedy}"
        if fault.left_out:
            yield f"    not planned: {counted(len(fault.left_out), 'step')}; the rest is"


def _day_lines(plan: PlanAnswer, days: int | None, *, why: bool = False) -> Iterator[str]:
    """Say the hands-on work day by day: ``days`` days that have any, or all.

    A day on which only rests begin is said where it lies between, and counts for none.
    """

    def day_of(step: PlannedStep) -> str:
        return date_words(step.start, plan)

    groups = [(day, list(those)) for day, those in groupby(plan.steps, day_of)]
    wide = max((len(name) for name in plan.people), default=0) if len(plan.people) > 1 else 0
    mixes = {mix.keys[0]: mix for mix in plan.mixes if mix.is_shared}
    told = 0
    for day, those in groups:
        seconds = _work_s(those)
        told += seconds > 0
        if days is not None and told > days:
            break
        yield f"{day}  {f'{span(seconds)} of work' if seconds else 'only waits'}"
        for step in those:
            yield f"  {step_words(step, plan, wide)}"
            if step.key in mixes:
                yield f"      {mix_words(mixes[step.key], plan.zone)}"
            if step.clear_up_words:
                yield f"      {step.clear_up_words}"
            if why and step.held_back_by:
                yield f"      held back by: {step.held_back_by}"
            yield from (f"      {line}" for line in _mishaps(step))
    more = sum(_work_s(those) > 0 for _, those in groups) - (days or 0)
    if days is not None and more > 0:
        of_days = counted(more, "more day")
        yield f"and {of_days} with work; plan --all lists {'it' if more == 1 else 'them'}"


def _work_s(steps: Iterable[PlannedStep]) -> float:
    return sum((step.end - step.start).total_seconds() for step in steps if step.person)


def step_words(step: PlannedStep, plan: PlanAnswer, wide: int = 0) -> str:
    """Return one line: when, whose hands, which piece, which step, and when it is ready."""
    start = step.start.astimezone(plan.zone)
    end = step.end.astimezone(plan.zone)
    times = f"{start:%H:%M}-{end:%H:%M}" if end > start else f"{start:%H:%M}      "
    who = f"{step.person or '-':<{wide}}  " if wide else ""
    which = f"{step.step.number} {step.step.title}"
    words = step.ready_words(plan.zone)
    ready = f", ready {words}" if words else ""
    going = " (taken to be under way)" if step.under_way else ""
    return f"{times}  {who}{step.ref}  {which}{ready}{going}"


def _mishaps(step: PlannedStep) -> Iterator[str]:
    if step.broken_off:
        again = f": {step.mend_min} min to begin again, first" if step.mend_min else ""
        yield f"! the sitting is broken off before it{again}"
    elif step.late_min and step.hard:
        late = span(step.late_min * 60)
        yield f"! {late} too late: what was mixed or glued before it has to be done again"
    elif step.late_min:
        yield (
            f"! its window closed {span(step.late_min * 60)} before: {step.mend_min} min to rub "
            "the film dull and wipe it clean, first"
        )
    if step.next_late_min:
        yield f"! opens a window that closes {span(step.next_late_min * 60)} before the next coat"


def _know(plan: PlanAnswer, *, why: bool) -> Iterator[str]:
    if plan.better is not None:
        gain = gain_words(plan.better.saves_min, plan.better.less_late_min)
        yield f"a better plan was found: {gain}"
        yield "  nothing was moved; plan --take goes on by it"
    if plan.helps:
        yield "what would help" if plan.better is None else "what would help beyond that"
        for each in plan.helps:
            yield f"  {each.what}: {gain_words(each.saves_min, each.less_late_min)}"
    slow = [p for p in plan.pieces if p.finish and p.finish_latest and p.late_latest_min]
    if slow:
        names = ", ".join(f"{p.ref} by {span(p.late_latest_min * 60)}" for p in slow)
        yield f"if every wait is as slow as it may be, late: {names}"
    if why:
        yield "what decides the end, the last first"
        for line in plan.decides:
            yield f"  {line}"
        yield "if every wait is as slow as it may be"
        for piece in sorted(plan.pieces, key=_by_finish):
            if piece.finish_latest is not None:
                yield f"  {piece.ref}: finished {when_words(piece.finish_latest, plan)}"
        yield from _bound(plan)
    yield from _notes(plan)


def _notes(plan: PlanAnswer) -> Iterator[str]:
    for note in plan.notes:
        yield f"note: {note}"


def _bound(plan: PlanAnswer) -> Iterator[str]:
    if plan.proven:
        yield "no plan in these hours finishes sooner (proven)"
        return
    yield f"no plan in these hours finishes before {when_words(plan.lower_bound, plan)}"


def side_by_side(
    now: PlanAnswer, other: PlanAnswer, looked_s: float | None = None, *, offered: bool = False
) -> Iterator[str]:
    """Say for each piece when it is finished as things are, and when as asked.

    ``offered`` says that things as they are go by a better plan than the one that is kept.
    """
    known = {piece.ref: piece for piece in now.pieces}
    asked = {piece.ref: piece for piece in other.pieces}
    wide = min(_WIDEST_NAME, max([12, *(len(ref) for ref in (*known, *asked))]))
    yield _row("", wide, "as it is", "as asked")
    for ref in dict.fromkeys([*known, *asked]):
        one, two = known.get(ref), asked.get(ref)
        if len(ref) > wide:
            yield ref
        name = "" if len(ref) > wide else ref
        yield _row(name, wide, _cell(one, now), _cell(two, other), _moved(one, two))
        late = [_late(piece) for piece in (one, two)]
        if any(late):
            yield _row("", wide, *late)
    yield _row("all finished", wide, when_words(now.finish, now), when_words(other.finish, other))
    in_all = [f"{span(plan.late_min * 60) if plan.late_min else 'none'}" for plan in (now, other)]
    yield _row("late in all", wide, *in_all)
    for fault in other.faults:
        if fault not in now.faults:
            yield f"! {fault.sentence}; {fault.remedy}"
    if looked_s is not None:
        proven = "; no plan finishes sooner (proven)" if other.proven else ""
        yield f"looked for {looked_s:g} s each: as asked this is the best plan found{proven}"
    if offered:
        yield "as it is goes by the better plan that was found; plan --take goes on by it"
    yield "nothing was changed"


def looked_words(plan: PlanAnswer, looked_s: float, *, taken: bool) -> str:
    """Say what came of looking for a better plan for so many seconds."""
    found = "no better plan was found"
    if plan.better is not None:
        found = "a better plan was found; it stands below"
    elif taken:
        found = "this is the best plan found"
    used = f"{looked_s:g} s"
    if plan.looked is not None and plan.looked.seconds < looked_s - 1:
        used = f"{plan.looked.seconds:.0f} s of {looked_s:g}"
    if plan.looked is not None and plan.looked.cut_short:
        used += " and was stopped"
    if plan.looked is not None and plan.looked.proven:
        return f"looked for {used}: {found}, and no plan is better kept or sooner done (proven)"
    return f"looked for {used}: {found}; whether there is a better one is not proven"


def so_far_words(so_far: HowFar, looked_s: float) -> str:
    """Say in one line how far a look for a better plan has come, and that it may be stopped."""
    best, least = so_far.best, so_far.bound
    late = f"{span(best.late_min * 60)} late" if best.late_min else "nothing late"
    if best.late_min:
        late += f" (at least {span(least.late_min * 60)})" if least.late_min else ""
    over = max(0, best.finish_min - least.finish_min)
    end = (
        f"ends {span(over * 60)} after the earliest thinkable"
        if over
        else "ends as early as can be"
    )
    return f"{so_far.seconds:.0f} of {looked_s:g} s: {late}, {end}; ctrl-c keeps the best so far"


def _late(piece: PlannedPiece | None) -> str:
    return f"{span(piece.late_min * 60)} late" if piece is not None and piece.late_min else ""


def _row(name: str, wide: int, one: str, two: str, more: str = "") -> str:
    return f"{name:<{wide}}  {one:<17}  {two:<16}  {more}".rstrip()


def _cell(piece: PlannedPiece | None, plan: PlanAnswer) -> str:
    if piece is None:
        return "-"
    return "not planned" if piece.finish is None else when_words(piece.finish, plan)


def _moved(one: PlannedPiece | None, other: PlannedPiece | None) -> str:
    if one is None or other is None or one.finish is None or other.finish is None:
        return ""
    moved: timedelta = other.finish - one.finish
    seconds = abs(moved.total_seconds())
    if seconds < 60:
        return ""
    return f"{span(seconds)} {'later' if moved > timedelta() else 'sooner'}"


def week_lines(plan: PlanAnswer, shop: str) -> Iterable[str]:
    """Say the seven days from today, with a box to tick before each step."""
    local = plan.now.astimezone(plan.zone)
    yield f"{shop}: the week from {today(plan.now, plan.zone)}"
    for number in range(7):
        day = local.date() + timedelta(days=number)
        those = [step for step in plan.steps if step.start.astimezone(plan.zone).date() == day]
        yield ""
        yield weekday_of(day, local.date())
        if not those:
            yield "  no work"
        wide = max((len(name) for name in plan.people), default=0) if len(plan.people) > 1 else 0
        for step in those:
            yield f"  [ ] {step_words(step, plan, wide)}"
