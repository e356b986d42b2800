"""The forms to begin a piece and to change one value; nothing is written by them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from datetime import datetime

from finishsched.bench.screens.form import Field, FormCard
from finishsched.bench.typed.beginning import BoardAsked, ChangeAsked, PieceAsked, StepAsked
from finishsched.bench.typed.reading import FormFaultError
from finishsched.documents.faults import DocumentFaultsError, Fault
from finishsched.refusals import RefusalError
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.begin.answers import offers_for
from finishsched.workshop.begin.boards import BOARD_QUESTIONS, draft_board
from finishsched.workshop.begin.changing import draft_change, says_of
from finishsched.workshop.begin.piece import draft_piece
from finishsched.workshop.begin.questions import BY_KEY, questions_for
from finishsched.workshop.begin.stepping import draft_added
from finishsched.workshop.begin.telling import telling_fault


def begin_form(workshop: Workshop, now: Callable[[], datetime]) -> FormCard:
    """Return the form for a new piece; enter takes it as it stands.

    A schedule that is left open is the best for the other answers; what is done already is read
    against it.
    """
    names = tuple(workshop.papers.schedules)
    fields = [
        Field(
            question.key,
            question.asks,
            question.meant,
            question.usual,
            names if question.key == "schedule" else (),
        )
        for question in questions_for(workshop.papers.shop.units)
    ]

    def read(typed: Mapping[str, str]) -> PieceAsked:
        values = dict(typed)
        if not values["schedule"].strip():
            best = offers_for(workshop, values)
            values["schedule"] = best[0].schedule.id if best else ""
        today = now().astimezone(workshop.zone).date()
        faults = dict(draft_piece(workshop.papers, workshop.folder, values, today).faults)
        if told := telling_fault(workshop, values, now()):
            faults["done"] = told
        if faults:
            raise FormFaultError(
                ". ".join(f"{BY_KEY[key].asks} {fault}" for key, fault in faults.items()), faults
            )
        return PieceAsked(values)

    return FormCard("Begin a piece: what stands here will do", fields, read)


def board_form(workshop: Workshop) -> FormCard:
    """Return the form for a sample board."""
    fields = [Field(one.key, one.asks, one.meant, one.usual) for one in BOARD_QUESTIONS]

    def read(values: Mapping[str, str]) -> BoardAsked:
        draft = draft_board(workshop.papers, workshop.folder, values)
        if draft.faults:
            asks = {one.key: one.asks for one in BOARD_QUESTIONS}
            told = (f"{asks[key]} {fault}" for key, fault in draft.faults.items())
            raise FormFaultError(". ".join(told))
        return BoardAsked(dict(values))

    return FormCard("A sample board: a strip for each schedule", fields, read)


def change_form(
    workshop: Workshop, what: str, key: str, value: str, now: Callable[[], datetime]
) -> FormCard:
    """Return the form for one value; left empty it is taken out of the document."""

    def read(values: Mapping[str, str]) -> ChangeAsked:
        text = values["value"].strip()
        asked = ChangeAsked(what, key, text or None)
        with _refused_in_form():
            today = now().astimezone(workshop.zone).date()
            draft_change(workshop.papers, workshop.folder, what, key, asked.value, today)
        return asked

    says = says_of(workshop.papers, workshop.folder, what, key)
    field = Field("value", key, f"{says}; left empty: as usual".removeprefix("; "), value)
    return FormCard(f"Change {key} of {what}", [field], read)


def step_form(
    workshop: Workshop, where: str, now: Callable[[], datetime], *, before: bool
) -> FormCard:
    """Return the form for a step in the words of a notebook; what cannot be read is told in it."""

    def read(values: Mapping[str, str]) -> StepAsked:
        line = values["line"].strip()
        with _refused_in_form():
            papers, folder = workshop.papers, workshop.folder
            found = draft_added(papers, folder, where, line, {}, now(), before=before)
        if found.faults:
            raise FormFaultError(_without_places(found.faults))
        return StepAsked(where, line, before)

    field = Field("line", "what is done", "wet sand 500, 3 h")
    place = "before" if before else "after"
    return FormCard(f"A step {place} {where}", [field], read)


@contextmanager
def _refused_in_form() -> Iterator[None]:
    """Tell what is refused as a fault of the form, where no line and column mean anything."""
    try:
        yield
    except DocumentFaultsError as error:
        raise FormFaultError(_without_places(error.faults)) from None
    except RefusalError as error:
        raise FormFaultError(str(error)) from None


def _without_places(faults: Iterable[Fault]) -> str:
    return ". ".join(fault.without_place for fault in faults)
