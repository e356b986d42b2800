"""A sample board: strips of one wood side by side, a schedule each; and the one that is taken."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from itertools import chain
from pathlib import Path

from finishsched.model.job import Job, Piece
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.words import one_line
from finishsched.workshop.begin.changing import draft_change
from finishsched.workshop.begin.face_words import read_faces
from finishsched.workshop.begin.piece import Answers, PieceDraft, schedule_named, written_job
from finishsched.workshop.begin.questions import Question, name_of
from finishsched.workshop.begin.read_answers import read_veneer
from finishsched.workshop.begin.written import Written

USUAL_STRIP = "100 x 60 mm"
"""A strip that a hand covers, large enough for a meter's foot (our assumption)."""
MOST_STRIPS = 12
BOARD_QUESTIONS = (
    Question("title", "What is the board called?", "Oak board", "Sample board"),
    Question("wood", "Which wood is it of?", "the wood of the piece, sanded as the piece will be"),
    Question("veneer", "How thick is the veneer?", "0.6 mm; left open where it is solid wood"),
    Question("faces", "How large is a strip?", "100 x 60 mm", USUAL_STRIP),
    Question(
        "schedules",
        "Which schedules, a strip each?",
        "waxed-shellac, wiped-oil; for another cut, one kept again with it",
    ),
)
_BY_KEY = {question.key: question for question in BOARD_QUESTIONS}


def draft_board(papers: Papers, folder: Path, answers: Mapping[str, str]) -> PieceDraft:
    """Return the document of a sample board that ``answers`` make, without writing it.

    An answer that is missing or empty takes the usual one, or is left open.
    """
    reader = Answers(answers, _BY_KEY)
    title = one_line(reader.text("title"))
    faces = reader.read("faces", read_faces)
    veneer_mm = reader.read("veneer", read_veneer)
    schedules = reader.read("schedules", lambda text: _schedules(text, papers))
    if not reader.text("schedules"):
        reader.faults["schedules"] = "no schedule is named; write two or more, with commas"
    if reader.faults or faces is None or schedules is None:
        return PieceDraft(dict(reader.faults), None, (), ())
    wood = one_line(reader.text("wood"))
    like = Piece("", "", "", faces, species=wood, veneer_mm=veneer_mm)
    strips = tuple(
        _strip(papers.schedules[schedule].title, schedule, number, like)
        for number, schedule in enumerate(schedules, start=1)
    )
    board = Job(name_of(title, papers.titles), title, strips, board=True)
    refs = tuple(f"{board.id}/{strip.id}" for strip in strips)
    return PieceDraft({}, written_job(folder, board, refs, papers.shop.units), refs, ())


def taken_for(papers: Papers, folder: Path, strip: str, target: str) -> Written:
    """Return the document of a piece with the schedule of a strip in it, without writing it.

    Raises:
        RefusedError: for a strip that runs through several schedules, or an unknown name.
        DocumentFaultsError: where the document would not read.

    """
    every = chain(papers.pieces_in_hand(), papers.pieces_at_rest((strip,)))
    found = next((piece for ref, _, piece in every if strip == ref), None)
    if found is None:
        raise RefusedError(f"there is no strip {strip!r:.60}", "see finishsched compare")
    if len(found.schedules) > 1:
        raise RefusedError(
            f"{strip} runs through several schedules: {', '.join(found.schedules)}",
            f"write them as 'schedules:' of {target} in its document",
        )
    return draft_change(papers, folder, target, "schedule", found.schedules[0])


def _schedules(text: str, papers: Papers) -> tuple[str, ...]:
    named = [one.strip() for one in re.split(r"[,;]", text) if one.strip()]
    if not 2 <= len(named) <= MOST_STRIPS:
        raise RefusedError(
            f"{len(named)} on a board", f"name 2 to {MOST_STRIPS} schedules, with commas"
        )
    return tuple(schedule_named(one, papers) for one in named)


def _strip(title: str, schedule: str, number: int, like: Piece) -> Piece:
    return replace(like, id=f"strip-{number}", title=f"Strip {number}, {title}", schedule=schedule)
