"""From the answers about a piece to what is wanted of its finish."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from datetime import date

from finishsched.documents.codec import BadValueError
from finishsched.documents.formats.schedule import OVER
from finishsched.model.job import Face
from finishsched.model.kinds import ProductKind
from finishsched.units import LENGTH, UnitFaultError, read
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.begin.choosing import best_offers
from finishsched.workshop.begin.face_words import read_faces
from finishsched.workshop.begin.finishes import Wear, read_wear
from finishsched.workshop.begin.fitting import LOOKS
from finishsched.workshop.begin.offers import Offer, Wanted
from finishsched.workshop.begin.questions import BY_KEY


def offers_for(workshop: Workshop, answers: Mapping[str, str], count: int = 1) -> tuple[Offer, ...]:
    """Return the few best schedules for a piece as far as it is described, without the plan."""
    return best_offers(wanted_of(answers), workshop.papers, count)


def wanted_of(answers: Mapping[str, str]) -> Wanted:
    """Return what is wanted; an answer that cannot be read says nothing here."""
    faces = _faces(answers.get("faces", "").strip() or BY_KEY["faces"].usual)
    sheen = answers.get("sheen", "").strip().lower()
    wear: frozenset[Wear] = frozenset()
    with suppress(RefusedError):
        wear = read_wear(answers.get("wear", ""))
    due = None
    with suppress(ValueError):
        due = date.fromisoformat(answers.get("due", "").strip())
    return Wanted(
        area_m2=sum(face.area_m2 for face in faces) or 0.1,
        species=answers.get("wood", "").strip(),
        veneer_mm=_veneer(answers.get("veneer", "").strip()),
        sheen=sheen if sheen in LOOKS else "",
        wear=wear,
        over=_over(answers.get("over", "").strip().lower()),
        due=due,
        faces=faces if answers.get("faces", "").strip() else (),
    )


def _faces(text: str) -> tuple[Face, ...]:
    try:
        return read_faces(text)
    except RefusedError:
        return ()


def _over(text: str) -> ProductKind | None:
    try:
        return OVER.from_text(text) if text else None
    except BadValueError:
        return None


def _veneer(text: str) -> float | None:
    try:
        return read(text, LENGTH) if text else None
    except (UnitFaultError, BadValueError):
        return None
