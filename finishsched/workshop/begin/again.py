"""Use it again: the schedule as it was really done, and a job as a template for the next."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path
from statistics import median

from finishsched.documents.decode import dump
from finishsched.documents.editing.edit import edited
from finishsched.journal import events
from finishsched.journal.events import Event
from finishsched.journal.progress import Book, StepStatus
from finishsched.journal.shelf import shelf
from finishsched.model.job import Job
from finishsched.model.schedule import Rounds, Schedule, Spread, Stage, StepPlan, Wait, Waits
from finishsched.model.step import Step
from finishsched.numerals import counted
from finishsched.workshop.amounts.uses import Ledger, habits_of, used_of
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.begin.questions import name_of
from finishsched.workshop.begin.written import Written, text_at
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.where import find

_HEAD = "# {lessons}\n# yaml-language-server: $schema=../.schemas/schedule.json\n\n"


@dataclass(slots=True)
class _AsDone:
    """What the journal says of one step as written, over its coats and rounds."""

    coats: dict[int, int] = field(default_factory=lambda: defaultdict(int))
    """By round, how many were done."""
    waits: dict[str, list[float]] = field(default_factory=lambda: defaultdict(list))
    """By when it was waited, in s; those told afterwards are none."""
    ml_per_m2: list[float] = field(default_factory=list)
    g_per_m2: list[float] = field(default_factory=list)

    @property
    def waits_told(self) -> int:
        """How many waits were told."""
        return sum(len(took_s) for took_s in self.waits.values())


def draft_again(workshop: Workshop, name: str, called: str) -> Written:
    """Return the document of what is to be used again, without writing it.

    A job gives a new job with the same pieces, and no date; a finished piece gives its schedule as
    it was done: medians with their ranges where the journal has them, the written figure elsewhere.

    Raises:
        RefusedError: for what there is not, or a piece that is not finished.

    """
    papers = workshop.papers
    job = papers.job_called(name)
    pieces = [piece.id for _, _, piece in papers.pieces_in_hand()]
    pieces += [piece.id for piece in job.each_piece()] if job is not None else []
    if job is not None and name not in pieces:
        return _job_again(workshop, job, called)
    standing = find(workshop, name)
    if standing.schedule is None or standing.progress is None or not standing.progress.finished:
        raise RefusedError(
            f"{standing.ref} is not finished", "use it again when every step is over"
        )
    new = name_of(called or f"{standing.schedule.id} as done", papers.schedules, "schedule")
    book = workshop.book()
    laid_ml = _laid_ml(standing, workshop, book)
    schedule, lessons = _as_done(standing, book.live(standing.ref), laid_ml, new)
    text = f"{_HEAD.format(lessons=lessons)}{dump(schedule)}"
    return Written(f"schedules/{new}.yaml", f"keep {standing.ref} as done as {new}", None, text)


def _laid_ml(standing: Standing, workshop: Workshop, book: Book) -> dict[str, float]:
    """Return by step key what somebody told, or weighed, of each coat, as far as it was laid.

    What the pad kept and what was lost on the way comes on top of what a schedule asks for, and
    what nobody told is the schedule's own.
    """
    ledger = Ledger(book, workshop.papers, shelf(book), habits_of(workshop, book).pads)
    lost = {step.key: step.verb.does.lost_share for step in standing.steps}
    return {
        key: used.amount_ml.likely * (1 - lost[key])
        for key, used in used_of(standing, ledger).items()
        if used.amount_ml is not None
    }


def _as_done(
    standing: Standing, live: tuple[Event, ...], laid_ml: Mapping[str, float], new: str
) -> tuple[Schedule, str]:
    """Return the schedule of a finished piece as it was done, called ``new``, and its lessons."""
    schedule = standing.schedule
    assert schedule is not None  # noqa: S101  # a finished piece has one
    found = _gathered(standing, live, laid_ml)
    stages = []
    for stage in schedule.stages:
        items = [_item(item, stage, found) for item in stage.steps]
        kept = tuple(item for item in items if item is not None)
        if kept:
            stages.append(Stage(stage.name, kept))
    lessons = _lessons(standing, live, found)
    done = replace(
        schedule, id=new, title=f"{schedule.title}, as done on {standing.piece.title}",
        stages=tuple(stages), notes=lessons,
        source=f"as done on {standing.ref}; where nothing was logged, {schedule.source}",
    )  # fmt: skip
    return done, lessons


def _gathered(
    standing: Standing, live: tuple[Event, ...], laid_ml: Mapping[str, float]
) -> Mapping[str, _AsDone]:
    assert standing.progress is not None  # noqa: S101
    found: dict[str, _AsDone] = defaultdict(_AsDone)
    area_m2 = standing.piece.area_m2
    laid: dict[str, datetime] = {}
    steps = {step.key: step for step in standing.steps}
    for step, status in zip(standing.steps, standing.progress.statuses, strict=True):
        if status is not StepStatus.SKIPPED and not step.is_rework:
            found[_written(step)].coats[step.round] += 1
    for event in live:
        what = event.what
        about = steps.get(getattr(what, "step", "") or "")
        if about is None or about.is_rework:
            continue
        own = found[_written(about)]
        if isinstance(what, events.StepDone):
            laid[about.key] = event.at
            told_ml, told_g = (0, 0) if what.reckoned else (what.amount_ml, what.amount_g)
            ml = laid_ml.get(about.key) if about.verb.lays_coats else told_ml
            if ml and area_m2 and not told_g:
                own.ml_per_m2.append(ml / area_m2)
            elif told_g and area_m2:
                own.g_per_m2.append(told_g / area_m2)
        elif isinstance(what, events.DryReady) and about.key in laid and not what.told:
            own.waits[_when(about)].append((event.at - laid[about.key]).total_seconds())
    return found


def _written(step: Step) -> str:
    """Return the step as written that a step as done is of: its stage and id."""
    return step.key.rpartition(":")[0]


def _when(step: Step) -> str:
    if step.coat >= step.coats:
        return "after"
    return "first" if step.coat == 1 else "between"


def _item(
    item: StepPlan | Rounds, stage: Stage, found: Mapping[str, _AsDone]
) -> StepPlan | Rounds | None:
    if isinstance(item, StepPlan):
        own = found.get(f"{stage.name.value}/{item.id}")
        return _plan(item, own, 1) if own is not None and own.coats else None
    done = {
        round_
        for plan in item.steps
        for round_ in found.get(f"{stage.name.value}/{plan.id}", _AsDone()).coats
    }
    if not done:
        return None
    rounds = max(done)
    plans = [
        _plan(_first_rounds(plan, item.rounds, rounds), own, rounds)
        for plan in item.steps
        if (own := found.get(f"{stage.name.value}/{plan.id}")) is not None and own.coats
    ]
    # Rounds are two or more; of one that was done alone, its steps follow each other.
    return Rounds(rounds, tuple(plans)) if rounds > 1 else plans[0] if len(plans) == 1 else item


def _first_rounds(plan: StepPlan, were: int, are: int) -> StepPlan:
    """Return a step with the values of the rounds that were done."""
    if were == are:
        return plan

    def cut(values: tuple) -> tuple:  # type: ignore[type-arg]
        return values[:are] if len(values) == were else values

    return replace(
        plan, cut_g_per_l=cut(plan.cut_g_per_l), thinned_percent=cut(plan.thinned_percent),
        grade=cut(plan.grade), reach=cut(plan.reach), coats=cut(plan.coats),
    )  # fmt: skip


def _plan(plan: StepPlan, own: _AsDone, rounds: int) -> StepPlan:
    """Return a step with coats, amount and waits as they were."""
    coats = _coats(plan, own, rounds)
    if plan.thin_to_g_per_l is not None and max(coats) == 1:
        plan = replace(plan, thin_to_g_per_l=None)
    return replace(
        plan,
        coats=coats,
        spread=_spread(plan, own),
        waits=_waits(plan.waits, own.waits),
    )


def _coats(plan: StepPlan, own: _AsDone, rounds: int) -> tuple[int, ...]:
    """Return how many coats were laid in each round; once, where it was the same in all."""
    per_turn = [plan.cut_g_per_l, plan.grade, plan.thinned_percent, plan.reach]
    # Outside rounds lists are one for each coat: then the number of coats is not touched.
    if rounds == 1 and any(len(values) > 1 for values in per_turn):
        return plan.coats
    coats = tuple(own.coats.get(round_, 1) or 1 for round_ in range(1, rounds + 1))
    return coats[:1] if len(set(coats)) == 1 else coats


def _spread(plan: StepPlan, own: _AsDone) -> Spread | None:
    """Return how much was laid on a square metre, in the middle; as planned where none was told."""
    if own.ml_per_m2:
        return Spread(ml_per_m2=round(median(own.ml_per_m2), 1))
    if own.g_per_m2:
        return Spread(g_per_m2=round(median(own.g_per_m2), 1))
    return plan.spread


def _waits(written: Waits | None, own: Mapping[str, list[float]]) -> Waits | None:
    """Return the waits of a step as they were, those that are written."""
    if written is None:
        return None
    first = _wait(written.first, own.get("first"))
    between = _wait(written.between, own.get("between"))
    after = _wait(written.after, own.get("after"))
    assert after is not None  # noqa: S101  # every wait has one
    return Waits(after, first, between)


def _wait(written: Wait | None, took_s: list[float] | None) -> Wait | None:
    """Return a wait as it was: the median between the shortest and the longest, in minutes."""
    if written is None or not took_s:
        return written
    likely_s = _whole_minutes(median(took_s))
    next_by_s = written.next_by_s
    if next_by_s is not None and next_by_s < likely_s:
        next_by_s = None
    return Wait(
        _whole_minutes(min(took_s)),
        likely_s,
        _whole_minutes(max(took_s)),
        next_by_s,
    )


def _whole_minutes(seconds: float) -> float:
    """Return seconds to the nearest whole minute."""
    return round(seconds / 60) * 60.0


def _lessons(standing: Standing, live: tuple[Event, ...], found: Mapping[str, _AsDone]) -> str:
    """Return in one line what the doing taught."""
    assert standing.progress is not None  # noqa: S101
    waits = sum(own.waits_told for own in found.values())
    skipped = sum(status is StepStatus.SKIPPED for status in standing.progress.statuses)
    payloads = [event.what for event in live]
    defects = [what for what in payloads if isinstance(what, events.DefectSeen)]
    seen = [defect.seen or defect.text for defect in defects]
    reworks = sum(isinstance(what, events.ReworkTaken) for what in payloads)
    not_yet = sum(isinstance(what, events.DryNotYet) for what in payloads)
    days = (live[-1].at - live[0].at).days + 1 if live else 0
    told = [
        f"As done on {standing.ref} in {counted(days, 'day')}",
        f"waits from {waits} dry checks" if waits else "no wait was logged",
        f"{counted(not_yet, 'time')} not yet dry" if not_yet else "",
        f"{counted(skipped, 'step')} left out" if skipped else "",
        f"seen: {', '.join(dict.fromkeys(seen))}" if seen else "",
        f"{reworks} reworks" if reworks else "",
    ]
    return "; ".join(filter(None, told)) + "."


def _job_again(workshop: Workshop, job: Job, called: str) -> Written:
    """Return the same job for the next customer: its pieces and remarks, and no date."""
    new = name_of(called or job.title, workshop.papers.titles, "job")
    pieces = tuple(replace(piece, due=None) for piece in job.pieces)
    title = called or job.title
    again = replace(job, id=new, title=title, due=None, customer="", pieces=pieces)
    name = f"jobs/{new}.yaml"
    text = _text_of(workshop.folder, job)
    after = edited(text, name, again) if text else dump(again)
    refs = tuple(f"{new}/{piece.id}" for piece in again.each_piece())
    return Written(name, f"use {job.id} again as {new}", None, after, refs)


def _text_of(folder: Path, job: Job) -> str:
    """Return the document of a job as it stands; empty where there is none."""
    return text_at(folder, f"jobs/{job.id}.yaml") or text_at(folder, f"jobs/{job.id}.yml") or ""
