"""Put a step into a schedule, take one out or move one: the rest of its text stays to the byte.

A step keeps its name, since the journal knows it by that: where a step of the same verb comes
before another or goes, the other gets its name written out.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from finishsched.documents.decode import dump, read
from finishsched.documents.editing.edit import edited
from finishsched.documents.faults import DocumentFaultsError, Fault
from finishsched.documents.lines.read import read_lines
from finishsched.documents.lines.said import Assumed, Doubt
from finishsched.documents.lines.write import lines_of
from finishsched.documents.wording import did_you_mean
from finishsched.model.schedule import Rounds, Schedule, Stage, StageName, StepPlan
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.begin.changing import Target, target_of
from finishsched.workshop.begin.own_lines import context_of
from finishsched.workshop.begin.written import Written, text_at
from finishsched.workshop.defects.checks import check_drafts

Item = StepPlan | Rounds
WAYS = ("up", "down", "first", "last")
"""Where a step may be moved without naming another."""
_ADDED = "added"
"""What the line of a new step is called in its faults."""


@dataclass(frozen=True, slots=True)
class _Spot:
    """Where a step stands: its stage, its item there, and its place in that if it is rounds."""

    stage: int
    item: int
    inner: int | None = None


@dataclass(frozen=True, slots=True)
class Added:
    """What a line became as steps of a schedule, before anything is written."""

    written: Written | None
    """None while the line has faults."""
    faults: tuple[Fault, ...]
    doubts: tuple[Doubt, ...]
    assumed: tuple[Assumed, ...]
    findings: tuple[Fault, ...] = ()
    """What the checker says of the schedule that it did not say before."""


def draft_added(
    papers: Papers,
    folder: Path,
    where: str,
    line: str,
    answers: Mapping[str, str],
    now: datetime,
    *,
    before: bool = False,
) -> Added:
    """Return the schedule with the step that ``line`` says, in the words of a notebook.

    ``where`` is a step, as schedule/stage/step, which the new one comes after, or before; or a
    stage, as schedule/stage, at the end of which it comes, or at its beginning.

    Raises:
        RefusedError: for a name that there is not, or several steps within rounds.

    """
    target, rest = _schedule_of(papers, folder, where)
    schedule: Schedule = target.part
    schedule, at = _made_room(schedule, rest, before=before)
    said = _said(
        _until(schedule, at), schedule.stages[at.stage].name, line, papers, folder, answers
    )
    if said.items is None:
        return Added(None, said.faults, said.doubts, said.assumed)
    added = _with_items(schedule, at, _named_anew(said.items, schedule.stages[at.stage]))
    told = f"add to {target.noun}: {line.strip()}"
    written = _written(folder, target, added, told)
    findings = _new_findings(folder, written, target, now)
    return Added(written, (), said.doubts, said.assumed, findings)


def draft_removed(papers: Papers, folder: Path, what: str) -> Written:
    """Return the schedule without a step; a stage or rounds that it leaves empty go with it.

    Raises:
        RefusedError: for a name that there is not, and for the only step.

    """
    target, rest = _schedule_of(papers, folder, what)
    left = _without(target.part, _spot(target.part, rest))
    if not left.stages:
        raise RefusedError(f"{target.noun} has no other step", "add one before this one goes")
    return _written(folder, target, left, f"take {rest} out of {target.noun}")


def draft_moved(papers: Papers, folder: Path, what: str, where: str) -> Written:
    """Return the schedule with a step elsewhere.

    ``where`` is up, down, first or last within its stage or rounds, or 'after STAGE/STEP' or
    'before STAGE/STEP'.

    Raises:
        RefusedError: for a name that there is not, or no other place.

    """
    target, rest = _schedule_of(papers, folder, what)
    schedule: Schedule = target.part
    spot = _spot(schedule, rest)
    step = _steps_beside(schedule, spot)[_index(spot)]
    way, _, other = where.strip().partition(" ")
    if way in WAYS and not other:
        moved = _moved_within(schedule, spot, way)
    elif way in ("after", "before") and other.strip() != rest:
        beside = other.strip()
        _spot(schedule, beside)  # tells a wrong name while the step is still there
        left = _without(schedule, spot)
        at = _spot(left, beside)
        if left.stages[at.stage].name is not schedule.stages[spot.stage].name:
            (step,) = _named_anew([step], left.stages[at.stage])
        moved = _with_items(left, _behind(at, before=way == "before"), [step])
    else:
        raise RefusedError(
            f"{where!r:.60} is no place for a step",
            "write up, down, first, last, 'after STAGE/STEP' or 'before STAGE/STEP'",
        )
    return _written(folder, target, moved, f"move {rest} of {target.noun} {where.strip()}")


def step_names(schedule: Schedule) -> list[str]:
    """Return every step as stage/step, in order, those in rounds once."""
    return [f"{stage.name.value}/{plan.id}" for stage in schedule.stages
            for plan in stage.step_plans()]  # fmt: skip


def _schedule_of(papers: Papers, folder: Path, what: str) -> tuple[Target, str]:
    own, _, rest = what.strip().partition("/")
    if own not in papers.schedules:
        raise RefusedError(
            f"there is no schedule {own!r:.60}", did_you_mean(own, list(papers.schedules))
        )
    return target_of(papers, folder, own), rest


def _spot(schedule: Schedule, name: str) -> _Spot:
    for i, stage in enumerate(schedule.stages):
        for j, item in enumerate(stage.steps):
            inner = item.steps if isinstance(item, Rounds) else (item,)
            for k, plan in enumerate(inner):
                if f"{stage.name.value}/{plan.id}" == name:
                    return _Spot(i, j, k if isinstance(item, Rounds) else None)
    raise RefusedError(
        f"{schedule.id} has no step {name!r:.60}", did_you_mean(name, step_names(schedule))
    )


def _made_room(schedule: Schedule, name: str, *, before: bool) -> tuple[Schedule, _Spot]:
    """Return where a new step comes, with its stage made where the schedule has none yet."""
    stages = [stage.name.value for stage in schedule.stages]
    if name in stages:
        at = stages.index(name)
        return schedule, _Spot(at, 0 if before else len(schedule.stages[at].steps))
    every = [stage.value for stage in StageName]
    if name in every:
        # A stage comes where the work has it, after every stage that stands before it there.
        before_it = every[: every.index(name)]
        at = sum(stage in before_it for stage in stages)
        empty = Stage(StageName(name), ())
        made = (*schedule.stages[:at], empty, *schedule.stages[at:])
        return replace(schedule, stages=made), _Spot(at, 0)
    return schedule, _behind(_spot(schedule, name), before=before)


def _behind(spot: _Spot, *, before: bool) -> _Spot:
    """Return the place behind a step, or its own where what is new comes before it."""
    on = 0 if before else 1
    if spot.inner is None:
        return replace(spot, item=spot.item + on)
    return replace(spot, inner=spot.inner + on)


def _index(spot: _Spot) -> int:
    """Return the place of a step among those that it stands beside."""
    return spot.item if spot.inner is None else spot.inner


def _steps_beside(schedule: Schedule, spot: _Spot) -> Sequence[Item]:
    """Return the steps among which one stands: those of its stage, or of its rounds."""
    steps = schedule.stages[spot.stage].steps
    if spot.inner is None:
        return steps
    rounds = steps[spot.item]
    assert isinstance(rounds, Rounds)  # noqa: S101  # what has a place within is rounds
    return rounds.steps


def _with_steps(schedule: Schedule, spot: _Spot, steps: Sequence[Item]) -> Schedule:
    """Return the schedule with other steps in a stage or in rounds; none is left empty."""
    stage = schedule.stages[spot.stage]
    if spot.inner is not None:
        steps = _with_rounds_of(stage, spot, steps)
    kept = (replace(stage, steps=tuple(steps)),) if steps else ()
    stages = (*schedule.stages[: spot.stage], *kept, *schedule.stages[spot.stage + 1 :])
    return replace(schedule, stages=stages)


def _with_rounds_of(stage: Stage, spot: _Spot, steps: Sequence[Item]) -> Sequence[Item]:
    """Return the steps of a stage with other ones in its rounds, which are left out when empty."""
    rounds = stage.steps[spot.item]
    assert isinstance(rounds, Rounds)  # noqa: S101  # what has a place within is rounds
    plain = tuple(step for step in steps if isinstance(step, StepPlan))
    kept = (replace(rounds, steps=plain),) if plain else ()
    return (*stage.steps[: spot.item], *kept, *stage.steps[spot.item + 1 :])


def _without(schedule: Schedule, spot: _Spot) -> Schedule:
    """Return the schedule without a step."""
    steps = list(_steps_beside(schedule, spot))
    del steps[_index(spot)]
    return _with_steps(schedule, spot, steps)


def _with_items(schedule: Schedule, spot: _Spot, items: Sequence[Item]) -> Schedule:
    """Return the schedule with new steps before a place.

    Raises:
        RefusedError: for rounds that would stand within rounds.

    """
    if spot.inner is not None and any(isinstance(item, Rounds) for item in items):
        raise RefusedError("rounds do not stand within rounds", "add a line for each grade")
    steps = list(_steps_beside(schedule, spot))
    at = _index(spot)
    steps[at:at] = items
    return _with_steps(schedule, spot, steps)


def _moved_within(schedule: Schedule, spot: _Spot, way: str) -> Schedule:
    """Return the schedule with a step further up or down among those that it stands beside.

    Raises:
        RefusedError: where it cannot go further.

    """
    steps = list(_steps_beside(schedule, spot))
    at = _index(spot)
    to = {"up": at - 1, "down": at + 1, "first": 0, "last": len(steps) - 1}[way]
    if not 0 <= to < len(steps):
        raise RefusedError(
            f"it cannot go further {way} here", "name another step: 'after STAGE/STEP'"
        )
    steps.insert(to, steps.pop(at))
    return _with_steps(schedule, spot, steps)


def _until(schedule: Schedule, spot: _Spot) -> Schedule:
    """Return the schedule up to where a new step comes: what that may carry on from."""
    stage = schedule.stages[spot.stage]
    steps = stage.steps[: spot.item]
    if spot.inner is not None:
        steps = (*steps, *_steps_beside(schedule, spot)[: spot.inner])
    stages = (*schedule.stages[: spot.stage], replace(stage, steps=steps))
    return replace(schedule, stages=tuple(stage for stage in stages if stage.steps))


@dataclass(frozen=True, slots=True)
class _Said:
    items: tuple[Item, ...] | None
    faults: tuple[Fault, ...]
    doubts: tuple[Doubt, ...]
    assumed: tuple[Assumed, ...]


def _said(
    before: Schedule,
    stage: StageName,
    line: str,
    papers: Papers,
    folder: Path,
    answers: Mapping[str, str],
) -> _Said:
    """Read a line as going on from the steps before it, which are read with it and dropped."""
    lines = _steps_in_lines(before)
    context = context_of(papers, folder, _at_line(answers, len(lines) + 2))
    text = "\n".join([*lines, f"{stage.value}:", f"  {' '.join(line.split())}"])
    own = len(lines) + 2
    found = read_lines(text, _ADDED, context, before.id)
    if any(0 < fault.line < own for fault in found.faults):
        # What stands there already cannot be said in lines: the new step carries nothing on.
        own, lines = 2, []
        context = replace(context, answers=_at_line(answers, own))
        found = read_lines("\n".join(text.split("\n")[-2:]), _ADDED, context, before.id)
    doubts = tuple(
        replace(d, key=d.key.partition(":")[2] or d.key)
        for d in found.doubts
        if d.place.line == own
    )
    assumed = tuple(each for each in found.assumed if each.line == own)
    schedule = found.schedule
    if schedule is None:
        faults = tuple(replace(f, line=1, column=max(1, f.column - 2)) for f in found.faults)
        return _Said(None, faults, doubts, assumed)
    kept = next((s.steps for s in before.stages if s.name is stage), ()) if lines else ()
    items = next(s.steps for s in reversed(schedule.stages) if s.name is stage)
    return _Said(tuple(items[len(kept) :]), (), doubts, assumed)


def _at_line(answers: Mapping[str, str], line: int) -> dict[str, str]:
    """Return answers by the keys of their doubts, which begin with the line but for 'grades'."""
    return {key if key == "grades" else f"{line}:{key}": word for key, word in answers.items()}


def _steps_in_lines(schedule: Schedule) -> list[str]:
    return lines_of(schedule).partition("\n\n")[2].splitlines() if schedule.stages else []


def _named_anew(items: Sequence[Item], stage: Stage) -> list[Item]:
    """Return steps with names that the stage has not yet: their own where they can keep them."""
    taken = {plan.id for plan in stage.step_plans()}

    def named(plan: StepPlan) -> StepPlan:
        plain = plan.verb.value.replace(" ", "-")
        names = [plan.id, plain, *(f"{plain}-{n}" for n in range(2, len(taken) + 3))]
        free = next(name for name in names if name not in taken)
        taken.add(free)
        return replace(plan, id=free)

    return [
        replace(item, steps=tuple(map(named, item.steps)))
        if isinstance(item, Rounds)
        else named(item)
        for item in items
    ]


def _written(folder: Path, target: Target, schedule: Schedule, told: str) -> Written:
    before = text_at(folder, target.path)
    text = before if before is not None else target.shipped or ""
    read(dump(schedule).encode("utf-8"), target.path)  # tells what cannot be
    return Written(target.path, told, before, edited(text, target.path, schedule))


def _new_findings(
    folder: Path, written: Written, target: Target, now: datetime
) -> tuple[Fault, ...]:
    def found(text: str) -> tuple[Fault, ...]:
        try:
            document = read(text.encode("utf-8"), written.path, "schedule")
        except DocumentFaultsError:
            return ()
        return check_drafts([document], folder, now)

    known = {(f.rule, f.message) for f in found(written.before or target.shipped or "")}
    return tuple(f for f in found(written.after) if (f.rule, f.message) not in known)
