"""From the answers to a document: a new job, or one more piece in a job that there is."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import TypeVar

from finishsched.documents.decode import dump
from finishsched.documents.editing.edit import edited
from finishsched.documents.wording import did_you_mean
from finishsched.model.job import Job, Piece
from finishsched.model.shop import ShownUnits
from finishsched.refusals import RefusalError
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.typed_days import read_typed_day
from finishsched.workshop.base.words import one_line
from finishsched.workshop.begin.face_words import read_faces, sizes_as_typed
from finishsched.workshop.begin.finishes import read_wear
from finishsched.workshop.begin.from_job import offer_words, with_its_job
from finishsched.workshop.begin.inlay_words import read_inlays
from finishsched.workshop.begin.questions import Question, name_of, questions_for
from finishsched.workshop.begin.read_answers import read_sheen, read_veneer
from finishsched.workshop.begin.typed_units import as_typed, in_typed_units
from finishsched.workshop.begin.written import Written, text_at

Value = TypeVar("Value")
MOST_ALIKE = 60
_HEAD = """# {title}: change what is not so, here or with finishsched change.
# yaml-language-server: $schema=../.schemas/job.json
"""


def _left_open(units: ShownUnits) -> Mapping[str, str]:
    """Return what stands in a new document for each question that was left open."""
    return {
        "species": "# species: cherry",
        "veneer": units.either("# veneer: 0.6 mm", "# veneer: 24 mil"),
        "sheen": "# sheen: gloss",
        "due": "# due: 2026-12-18",
    }


@dataclass(frozen=True, slots=True)
class PieceDraft:
    """What would be written of the answers, or what is wrong with them."""

    faults: Mapping[str, str]
    """By the question's key: what is wrong, and what would be right."""
    written: Written | None
    refs: tuple[str, ...]
    """The new pieces, as ``job/piece``."""
    assumed: tuple[str, ...]
    """What nobody said."""


def draft_piece(
    papers: Papers, folder: Path, answers: Mapping[str, str], today: date
) -> PieceDraft:
    """Return the document that ``answers`` to the questions make ``today``, without writing it.

    An answer that is missing or empty takes the usual one, or is left open.
    """
    said, answers = answers, with_its_job(papers, answers)
    reader = Answers(answers, _asked_by_key(papers))
    title = one_line(reader.text("title"))
    part, whole = _part_and_whole(title)
    job = _job_named(papers, reader.text("job"), whole)
    faces = reader.read("faces", read_faces)
    alike = reader.read("alike", _alike) or 1
    due = reader.read("due", lambda text: read_typed_day(text, today, ahead=True))
    if job.due is None and not job.pieces and due is not None:
        job, due = replace(job, due=due), None
    schedule = reader.read("schedule", lambda text: schedule_named(text, papers)) or ""
    sheen = reader.read("sheen", read_sheen) or ""
    reader.read("wear", read_wear)
    veneer_mm = reader.read("veneer", read_veneer)
    inlays = reader.read("inlay", lambda text: read_inlays(text, papers.shop.woods)) or ()
    if not reader.text("schedule"):
        reader.faults["schedule"] = "no schedule is chosen; finishsched choose ranks those that fit"
    if reader.faults or faces is None:
        return PieceDraft(dict(reader.faults), None, (), ())
    taken = [*(each.id for each in job.each_piece()), *(each.id for each in job.pieces)]
    piece = Piece(
        id=name_of(part, taken), title=title, schedule=schedule, faces=faces,
        species=one_line(reader.text("wood")), veneer_mm=veneer_mm, inlays=inlays, sheen=sheen,
        due=due,
        notes=_notes(reader.text("wear")), count=alike,
    )  # fmt: skip
    document = replace(job, pieces=(*job.pieces, piece))
    refs = tuple(f"{job.id}/{each.id}" for each in piece.each())
    written = written_job(folder, document, refs, papers.shop.units)
    typed = {**as_typed("; ".join(answers.values())), **sizes_as_typed(reader.text("faces"))}
    after = in_typed_units(written, typed, document)
    return PieceDraft({}, replace(written, after=after), refs, tuple(_assumed(papers, said)))


def _asked_by_key(papers: Papers) -> Mapping[str, Question]:
    """Return each question by its key, in the units that the shop is asked in."""
    return {question.key: question for question in questions_for(papers.shop.units)}


class Answers:
    """Reads each answer, keeping every fault by its question."""

    def __init__(self, answers: Mapping[str, str], questions: Mapping[str, Question]) -> None:
        self._answers = answers
        self._questions = questions
        self.faults: dict[str, str] = {}

    def text(self, key: str) -> str:
        """Return what was answered, else what is usual."""
        return self._answers.get(key, "").strip() or self._questions[key].usual

    def read(self, key: str, reader: Callable[[str], Value]) -> Value | None:
        """Return the value of an answer; None for one that is open or at fault."""
        text = self.text(key)
        if not text:
            return None
        try:
            return reader(text)
        except RefusalError as fault:
            self.faults[key] = f"{fault.message}; {fault.remedy}"
            return None


def _alike(text: str) -> int:
    if text.isdecimal() and 1 <= int(text) <= MOST_ALIKE:
        return int(text)
    raise RefusedError(f"{text!r:.40} is no number of pieces", f"write 1 to {MOST_ALIKE}")


def schedule_named(text: str, papers: Papers) -> str:
    """Return the id of the schedule that a person names, by its id or title.

    Raises:
        RefusedError: where there is none of that name.

    """
    name = "-".join(text.lower().split())
    if name in papers.schedules:
        return name
    known = list(papers.schedules)
    by_title = [s.id for s in papers.schedules.values() if s.title.lower() == text.lower()]
    if by_title:
        return by_title[0]
    raise RefusedError(
        f"there is no schedule {text!r:.60}", did_you_mean(name, known, "see finishsched schedules")
    )


def _notes(wear: str) -> str:
    return f"Will live through: {one_line(wear)}." if wear else ""


def _job_named(papers: Papers, text: str, title: str) -> Job:
    """Return the job that a person names, by its id or title, or a new one of that name."""
    found = papers.job_called(text) if text else None
    if found is not None:
        return found
    named = one_line(text) or title
    return Job(id=name_of(named, papers.titles, "job"), title=named, pieces=())


def _part_and_whole(title: str) -> tuple[str, str]:
    """Return what a piece is and what it belongs to: the lid, and the tea box that it is of."""
    found = re.fullmatch(r"(.+?) (?:of|for) (?:the |a |an |my )?(.+)", title, re.IGNORECASE)
    return (found[1], found[2][0].upper() + found[2][1:]) if found else (title, title)


def written_job(folder: Path, job: Job, refs: tuple[str, ...], units: ShownUnits) -> Written:
    """Return the document of a job, new or changed, without writing it; ``refs`` are its new."""
    path = next(iter(_paths(folder, job.id)), f"jobs/{job.id}.yaml")
    before = text_at(folder, path)
    what = f"begin {', '.join(refs)}"
    if before is None:
        head = _HEAD.format(title=one_line(job.title))
        remarks = dict(_left_open(units))
        if job.due is not None:
            del remarks["due"]  # it is all its pieces'
        text = f"{head}\n{_with_open_lines(dump(job), remarks)}"
        return Written(path, what, None, text, refs)
    return Written(path, what, before, edited(before, path, job), refs)


def _paths(folder: Path, job: str) -> list[str]:
    """Return the document of a job as it is called in the folder, where there is one."""
    names = (f"jobs/{job}.yaml", f"jobs/{job}.yml")
    return [name for name in names if (folder / name).is_file()]


def _with_open_lines(text: str, remarks: Mapping[str, str]) -> str:
    """Put a remark in for each key of a piece that was left open, above its faces."""
    lines: list[str] = []
    written: set[str] = set()
    for line in text.splitlines():
        key = line.strip().removeprefix("- ").partition(":")[0]
        if key == "piece":
            written = set()
        if key == "faces" and not line.strip().startswith("- {"):
            margin = line[: len(line) - len(line.lstrip())]
            lines += [margin + remark for name, remark in remarks.items() if name not in written]
        written.add(key)
        lines.append(line)
    return "\n".join(lines) + "\n"


def _assumed(papers: Papers, answers: Mapping[str, str]) -> Iterator[str]:
    usual = _asked_by_key(papers)["faces"].usual
    if answers.get("faces", "").strip() in ("", usual):
        yield f"its faces are taken to be {usual} together (our assumption): measure them"
    yield from offer_words(papers, answers)
