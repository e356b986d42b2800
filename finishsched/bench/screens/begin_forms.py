"""The forms to begin a piece and to change one value; nothing is written by them."""

from __future__ import annotations

from collections.abc import Mapping

from finishsched.bench.screens.form import Field, FormCard
from finishsched.bench.typed.beginning import ChangeAsked, PieceAsked
from finishsched.bench.typed.reading import FormFaultError
from finishsched.documents.faults import DocumentFaultsError
from finishsched.refusals import RefusalError
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.begin.changing import draft_change
from finishsched.workshop.begin.piece import draft_piece
from finishsched.workshop.begin.questions import BY_KEY, QUESTIONS

_LATER = ("done",)
"""What is asked once the document is seen."""


def begin_form(workshop: Workshop, schedule: str) -> FormCard:
    """Return the form for a new piece; ``schedule`` is the one that fits as far as is known.

    Enter takes it as it stands.
    """
    names = tuple(workshop.papers.schedules)
    fields = [
        Field(
            question.key,
            question.asks,
            question.meant,
            schedule if question.key == "schedule" else question.usual,
            names if question.key == "schedule" else (),
        )
        for question in QUESTIONS
        if question.key not in _LATER
    ]

    def read(values: Mapping[str, str]) -> PieceAsked:
        draft = draft_piece(workshop.papers, workshop.folder, values)
        if draft.faults:
            told = (f"{BY_KEY[key].asks} {fault}" for key, fault in draft.faults.items())
            raise FormFaultError(". ".join(told))
        return PieceAsked(dict(values))

    return FormCard("Begin a piece: enter takes what stands here", fields, read)


def change_form(workshop: Workshop, what: str, key: str, value: str) -> FormCard:
    """Return the form for one value; left empty it is taken out of the document."""

    def read(values: Mapping[str, str]) -> ChangeAsked:
        text = values["value"].strip()
        asked = ChangeAsked(what, key, text or None)
        try:
            draft_change(workshop.papers, workshop.folder, what, key, asked.value)
        except DocumentFaultsError as error:
            raise FormFaultError(
                ". ".join(f"{f.message}; {f.remedy}" for f in error.faults)
            ) from None
        except RefusalError as error:
            raise FormFaultError(str(error)) from None
        return asked

    field = Field("value", key, "left empty: as usual", value)
    return FormCard(f"Change {key} of {what}", [field], read)
