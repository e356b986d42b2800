"""From the answers about a piece to what is wanted of its finish."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from typing import Any

from finishsched.model.job import Face
from finishsched.refusals import RefusalError
from finishsched.workshop.base.words import one_line
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.begin.choosing import best_offers, offer_of
from finishsched.workshop.begin.offers import Offer, Wanted
from finishsched.workshop.begin.questions import BY_KEY
from finishsched.workshop.begin.read_answers import READERS


def offers_for(workshop: Workshop, answers: Mapping[str, str], count: int = 1) -> tuple[Offer, ...]:
    """Return the few best schedules for a piece as far as it is described, without the plan."""
    return best_offers(wanted_of(answers), workshop.papers, count)


def speaks(workshop: Workshop, answers: Mapping[str, str]) -> tuple[str, ...]:
    """Return what speaks for and against the schedule that a piece is to have, as described."""
    offer = offer_of(answers.get("schedule", "").strip(), wanted_of(answers), workshop.papers)
    if offer is None:
        return ()
    refused = [f"check refuses this: {says}" for says in offer.refused]
    return (*refused, *(f"against it: {says}" for says in offer.against),
            *(f"for it: {says}" for says in offer.fits))  # fmt: skip


def wanted_of(answers: Mapping[str, str]) -> Wanted:
    """Return what is wanted; an answer that cannot be read says nothing here."""
    said = {key: text.strip() for key, text in answers.items()}
    faces: tuple[Face, ...] = _taken("faces", said.get("faces") or BY_KEY["faces"].usual) or ()
    return Wanted(
        area_m2=sum(face.area_m2 for face in faces) or 0.1,
        species=said.get("wood", ""),
        veneer_mm=_taken("veneer", said.get("veneer")),
        sheen=_taken("sheen", said.get("sheen")) or "",
        wear=_taken("wear", said.get("wear")) or frozenset(),
        over=_taken("over", said.get("over")),
        due=_taken("due", said.get("due")),
        faces=faces if said.get("faces") else (),
        title=one_line(said.get("title", "")) or Wanted().title,
    )


def _taken(key: str, text: str | None) -> Any:
    """Return what an answer says; None where it is open, or cannot be read."""
    if not text:
        return None
    with suppress(RefusalError):
        return READERS[key](text)
    return None
