"""Change one thing of a document without an editor: the rest of its text stays to the byte."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from pathlib import Path
from typing import Any

from finishsched.documents import library
from finishsched.documents.codec import Reading, UnreadableError
from finishsched.documents.decode import dump, load, read
from finishsched.documents.document import AnyModel
from finishsched.documents.editing.edit import edited
from finishsched.documents.faults import DocumentFaultsError, Fault
from finishsched.documents.formats.job import JOB, PIECE
from finishsched.documents.formats.schedule import SCHEDULE
from finishsched.documents.formats.settings import SETTINGS
from finishsched.documents.formats.shop import SHOP
from finishsched.documents.formats.steps import STEP, STEP_IN_ROUNDS
from finishsched.documents.nodes import Fields, Text
from finishsched.documents.old_words import OLD_WORDS
from finishsched.documents.parsing import parse
from finishsched.documents.records import Draft, Key, Member, Record
from finishsched.documents.wording import did_you_mean
from finishsched.model.job import Job
from finishsched.model.lubricants import LUBRICANT_WORDS
from finishsched.model.schedule import Rounds, Schedule, Stage, StepPlan, Verb
from finishsched.workshop.base.documents import Papers, document_paths
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.place import SHOP_FILE
from finishsched.workshop.base.typed_days import read_typed_day
from finishsched.workshop.base.typed_spans import in_calendar_days
from finishsched.workshop.begin.face_words import read_faces, sizes_as_typed
from finishsched.workshop.begin.plain_words import in_words, readings_of
from finishsched.workshop.begin.typed_units import as_typed, in_typed_units
from finishsched.workshop.begin.written import Written, text_at

_FOR_GOOD = ("piece", "job", "schedule", "stages", "pieces", "settings", "steps")
"""Keys that are no single value, or by which others know the thing."""
_OF_DAYS = ("away", "extra")


@dataclass(frozen=True, slots=True)
class Target:
    """What is changed: a part of a document, and how a new part becomes a new document."""

    path: str
    """Of the document within the shop."""
    noun: str
    record: Record[Any]
    part: Any
    put_back: Callable[[Any], AnyModel]
    shipped: str | None = None
    """The text of a shipped schedule that the shop has no own copy of yet."""

    @property
    def keys(self) -> tuple[str, ...]:
        """What can be changed here."""
        fixed = _FOR_GOOD if self.record is not PIECE else ("piece",)
        return tuple(name for name in self.record.names if name not in fixed)


def target_of(papers: Papers, folder: Path, what: str, key: str = "") -> Target:
    """Return what a person names: ``shop``, a job, a piece, a schedule, or ``schedule/stage/step``.

    A piece and its job of one name are the piece, as ``begin`` makes them, and the job for a
    ``key`` that only the job has.

    Raises:
        RefusedError: when there is none of that name.

    """
    name = what.strip()
    if name == "shop":
        return Target(SHOP_FILE, "the shop", SHOP, papers.shop, lambda shop: shop)
    found = [*_pieces(papers, folder, name), *_jobs(papers, folder, name)]
    found += _schedule(papers, folder, name)
    if [each.record for each in found] == [PIECE, JOB]:
        piece, job = found
        found = [job if key in job.keys and key not in piece.keys else piece]
    if len(found) == 1:
        return found[0]
    if found:
        nouns = ", ".join(each.noun for each in found)
        raise RefusedError(f"{name!r} is several: {nouns}", "write job/piece for a piece")
    refs = [ref for ref, _, _ in papers.pieces()]
    known = ["shop", *refs, *(job.id for job in papers.jobs), *papers.schedules]
    raise RefusedError(
        f"there is nothing called {name!r:.60}", did_you_mean(name, known, "see due")
    )


def _pieces(papers: Papers, folder: Path, name: str) -> Iterator[Target]:
    entries = [(job, piece) for job in papers.jobs for piece in job.pieces]
    for job, piece in entries:
        ids = {piece.id, *(one.id for one in piece.each())}
        refs = {f"{job.id}/{id_}" for id_ in ids}
        if name in ids | refs or name.lower() == piece.title.lower():
            file, what = _file(folder, "job", job.id), f"the piece {job.id}/{piece.id}"
            yield Target(file, what, PIECE, piece, partial(_with_piece, job, piece.id))


def _with_piece(job: Job, old: str, new: Any) -> Job:
    """Return the job with ``new`` in the place of the piece ``old``."""
    pieces = (new if piece.id == old else piece for piece in job.pieces)
    return replace(job, pieces=tuple(pieces))


def _jobs(papers: Papers, folder: Path, name: str) -> Iterator[Target]:
    for job in papers.jobs:
        if name == job.id or name.lower() == job.title.lower():
            yield Target(_file(folder, "job", job.id), f"the job {job.id}", JOB, job, lambda j: j)


def _schedule(papers: Papers, folder: Path, name: str) -> Iterator[Target]:
    own, _, step = name.partition("/")
    schedule = papers.schedules.get(own)
    if schedule is None:
        return
    path = _file(folder, "schedule", own)
    shipped = None if (folder / path).is_file() else library.schedule_text(own)
    if not step:
        yield Target(path, f"the schedule {own}", SCHEDULE, schedule, lambda s: s, shipped)
        return
    steps = {f"{stage.name.value}/{plan.id}": plan for stage in schedule.stages
             for plan in stage.step_plans()}  # fmt: skip
    if step not in steps:
        raise RefusedError(f"{own} has no step {step!r:.60}", did_you_mean(step, steps))
    plan, stage_name = steps[step], step.partition("/")[0]
    record = STEP_IN_ROUNDS if _is_in_rounds(schedule, plan) else STEP

    def put_back(new: StepPlan) -> Schedule:
        return _with_step(schedule, stage_name, plan.id, new)

    yield Target(path, f"the step {name}", record, plan, put_back, shipped)


def _is_in_rounds(schedule: Schedule, plan: StepPlan) -> bool:
    groups = (item for stage in schedule.stages for item in stage.steps if isinstance(item, Rounds))
    return any(plan in group.steps for group in groups)


def _with_step(schedule: Schedule, stage_name: str, id_: str, new: StepPlan) -> Schedule:
    def changed(item: StepPlan | Rounds) -> StepPlan | Rounds:
        if isinstance(item, Rounds):
            return replace(item, steps=tuple(new if s.id == id_ else s for s in item.steps))
        return new if item.id == id_ else item

    def stage_with(stage: Stage) -> Stage:
        if stage.name.value != stage_name:
            return stage
        return replace(stage, steps=tuple(changed(item) for item in stage.steps))

    return replace(schedule, stages=tuple(stage_with(stage) for stage in schedule.stages))


def _file(folder: Path, kind: str, id_: str) -> str:
    """Return the document of a job or schedule: by its name, else by what stands in it."""
    plain = f"{kind}s/{id_}.yaml"
    if (folder / plain).is_file():
        return plain
    for path in document_paths(folder):
        if path.parent.name != f"{kind}s":
            continue
        try:
            if getattr(load(path, kind).model, "id", None) == id_:
                return path.relative_to(folder).as_posix()
        except DocumentFaultsError:
            continue
    return plain


def values_now(papers: Papers, folder: Path, what: str) -> dict[str, str]:
    """Return each key of ``what`` that can be changed, with what it says; empty for as usual."""
    target = target_of(papers, folder, what)
    written = target.record.write(target.part)
    document = _root(folder, target)
    found = {}
    # A step has one verb: the others are no values that it lacks.
    verbs = {verb.value for verb in Verb} if target.record in (STEP, STEP_IN_ROUNDS) else set()
    for key in target.keys:
        if key in verbs and not (isinstance(written, Fields) and written.get(key)):
            continue
        node = written.get(key) if isinstance(written, Fields) else None
        node = node or document.get(key)
        member = next(member for member in target.record.members if key in member.names)
        found[key] = in_words(member, key, node) if node is not None else ""
    return found


def says_of(papers: Papers, folder: Path, what: str, key: str) -> str:
    """Return what to write for ``key`` of ``what``, in a few words; empty where nothing says it."""
    members = target_of(papers, folder, what, key).record.members
    member = next((member for member in members if key in member.names), None)
    return member.says if isinstance(member, Key) else ""


def _root(folder: Path, target: Target) -> Fields:
    """Return what stands in the shop's document: what it says is told, be it as usual too."""
    text = text_at(folder, target.path) if target.record is SHOP else None
    root = parse(text.encode("utf-8"), target.path) if text is not None else None
    return root if isinstance(root, Fields) else Fields([])


def draft_change(
    papers: Papers, folder: Path, what: str, key: str, value: str | None, today: date | None = None
) -> Written:
    """Return the document in which ``key`` of ``what`` is ``value``; None takes the key out.

    A day may be written as people do where it is known what day it is ``today``.

    Raises:
        RefusedError: for a name or key that there is not.
        DocumentFaultsError: for a value that cannot be.

    """
    key = key.strip().lower().replace(" ", "_")
    target = target_of(papers, folder, what, key)
    if key not in target.keys and target.record in (STEP, STEP_IN_ROUNDS):
        key = OLD_WORDS.get(key, key)
    if key not in target.keys:
        raise RefusedError(f"{target.noun} has no {key!r:.40}", did_you_mean(key, target.keys))
    _refuse_unknown(papers, target, key, value)
    if key == "due" and value and today is not None:
        value = read_typed_day(value, today, ahead=True).isoformat()
    if key in _OF_DAYS and target.record is SHOP and value and today is not None:
        value = ";".join(in_calendar_days(part, today) for part in value.split(";"))
    model = target.put_back(part_with(target.record, target.part, key, value, what))
    before = text_at(folder, target.path)
    text = before if before is not None else target.shipped or ""
    read(dump(model).encode("utf-8"), what)  # tells what is wrong where a change as a whole is
    told = f"change {key} of {target.noun}"
    written = Written(target.path, told, before, edited(text, target.path, model))
    typed = as_typed(value or "")
    if key == "faces" and value:
        typed = {**typed, **sizes_as_typed(value)}
    return replace(written, after=in_typed_units(written, typed, model))


def _refuse_unknown(papers: Papers, target: Target, key: str, value: str | None) -> None:
    """Refuse the name of a schedule or product that there is not."""
    of_piece, of_step = target.record is PIECE, target.record in (STEP, STEP_IN_ROUNDS)
    if of_piece and key == "schedule":
        known, noun = list(papers.schedules), "schedule"
    elif of_step and key in ("product", "lubricant"):
        words = LUBRICANT_WORDS if key == "lubricant" else ()
        known, noun = [*words, *papers.products], "product"
    else:
        return
    name = (value or "").strip()
    if name and name not in known:
        raise RefusedError(
            f"there is no {noun} {name!r:.40}", did_you_mean(name, known, "see schedules, or stock")
        )


def part_with(record: Record[Any], part: Any, key: str, value: str | None, name: str) -> Any:
    """Return a part of a document with another value for one of its keys, or without it.

    Raises:
        DocumentFaultsError: for a value that cannot be.

    """
    member = next(member for member in record.members if key in member.names)
    if value is None:
        return replace(part, **_without(member, record, key, name))
    if key == "faces" and not value.lstrip().startswith(("[", "{")):
        return replace(part, faces=read_faces(value))
    told: list[Fault] = []
    for node in readings_of(member, key, value, name):
        reading = Reading(name)
        draft = Draft(record.noun, Fields([(Text(key), node)]), reading)
        with suppress(UnreadableError):
            member.read(draft)
        # What a member misses beside the key is no fault here: only this one is written.
        faults = [fault for fault in reading.faults if fault.rule != "missing-key"]
        if not faults:
            return replace(part, **draft.values)
        told = told or faults
    raise DocumentFaultsError(told)


def _without(member: Member, record: Record[Any], key: str, name: str) -> Mapping[str, Any]:
    defaults = {
        field.name: field.default
        for field in dataclasses.fields(record.cls)
        if field.default is not dataclasses.MISSING
    }
    if not isinstance(member, Key):
        return {"people": (), "persons": ()}
    attribute = member.attribute or member.name
    if member.required or attribute not in defaults:
        raise RefusedError(f"{key!r} of {name} has to be there", "write another value")
    return {attribute: defaults[attribute]}


SETTING_KEYS = tuple(name for name in SETTINGS.names if name != "settings")
