"""From the answers about a piece to what is wanted of its finish."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import replace
from datetime import date, datetime
from typing import Any

from finishsched.model.job import Face, Inlay
from finishsched.model.woods_described import OwnWood
from finishsched.refusals import RefusalError
from finishsched.workshop.base.typed_days import read_typed_day
from finishsched.workshop.base.words import one_line
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.begin.choosing import best_offers, offer_of
from finishsched.workshop.begin.from_job import with_its_job
from finishsched.workshop.begin.inlay_words import read_inlays
from finishsched.workshop.begin.offers import Offer, Wanted
from finishsched.workshop.begin.questions import BY_KEY
from finishsched.workshop.begin.read_answers import READERS


def offers_for(workshop: Workshop, answers: Mapping[str, str], count: int = 1) -> tuple[Offer, ...]:
    """Return the few best schedules for a piece as far as it is described, without the plan."""
    return best_offers(_wanted(workshop, answers), workshop.papers, count)


def speaks(workshop: Workshop, answers: Mapping[str, str], now: datetime) -> tuple[str, ...]:
    """Return what speaks for and against the schedule that a piece is to have, as described.

    Begun ``now`` it may be too late for the day on which it, or its job, is due.
    """
    named = answers.get("schedule", "").strip()
    wanted = replace(_wanted(workshop, answers), due=_due(workshop, answers, now))
    offer = offer_of(named, wanted, workshop.papers, now)
    if offer is None:
        return ()
    refused = [f"check refuses this: {says}" for says in offer.refused]
    return (*refused, *(f"against it: {says}" for says in offer.against),
            *(f"for it: {says}" for says in offer.fits))  # fmt: skip


def _due(workshop: Workshop, answers: Mapping[str, str], now: datetime) -> date | None:
    """Return the day that was typed, else that of the job which was named."""
    today, job = now.astimezone(workshop.zone).date(), answers.get("job", "").strip()
    if text := answers.get("due", "").strip():
        with suppress(RefusalError):
            return read_typed_day(text, today, ahead=True)
    found = workshop.papers.job_called(job) if job else None
    return found.due if found is not None else None


def _wanted(workshop: Workshop, answers: Mapping[str, str]) -> Wanted:
    return wanted_of(with_its_job(workshop.papers, answers), workshop.papers.shop.woods)


def wanted_of(answers: Mapping[str, str], own: tuple[OwnWood, ...] = ()) -> Wanted:
    """Return what is wanted, but for the day; an answer that cannot be read says nothing here.

    Woods of the shop's ``own`` may be let in too.
    """
    said = {key: text.strip() for key, text in answers.items()}
    faces: tuple[Face, ...] = _taken("faces", said.get("faces") or BY_KEY["faces"].usual) or ()
    return Wanted(
        area_m2=sum(face.area_m2 for face in faces) or 0.1,
        species=said.get("wood", ""),
        veneer_mm=_taken("veneer", said.get("veneer")),
        sheen=_taken("sheen", said.get("sheen")) or "",
        wear=_taken("wear", said.get("wear")) or frozenset(),
        over=_taken("over", said.get("over")),
        faces=faces if said.get("faces") else (),
        inlays=_let_in(said.get("inlay"), own),
        title=one_line(said.get("title", "")) or Wanted().title,
    )


def _let_in(text: str | None, own: tuple[OwnWood, ...]) -> tuple[Inlay, ...]:
    with suppress(RefusalError):
        return read_inlays(text, own) if text else ()
    return ()


def _taken(key: str, text: str | None) -> Any:
    """Return what an answer says; None where it is open, or cannot be read."""
    if not text:
        return None
    with suppress(RefusalError):
        return READERS[key](text)
    return None
