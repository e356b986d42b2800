"""What the first piece of a job says of the next one: its wood, how thick its veneer is, its look.

Pieces of one job are mostly of one wood and are to look alike, so nobody is asked it anew.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from finishsched.model.job import Piece
from finishsched.model.shop import ShownUnits
from finishsched.units import LENGTH, show
from finishsched.workshop.base.documents import Papers

_CALLED = {"wood": "its wood", "veneer": "its veneer", "sheen": "its look"}


def offered_by_job(papers: Papers, answers: Mapping[str, str]) -> dict[str, str]:
    """Return, by the question's key, what the job's first piece offers where it is left open.

    Nothing for a job of its own. A veneer goes with its wood: of another wood nothing is known.
    """
    name = answers.get("job", "").strip()
    job = papers.job_called(name) if name else None
    if job is None or not job.pieces:
        return {}
    is_open = {key for key in _CALLED if not answers.get(key, "").strip()}
    said = _said_of(job.pieces[0], papers.shop.units)
    if "wood" not in is_open and _plain(answers["wood"]) != _plain(said["wood"]):
        is_open.discard("veneer")
    return {key: said[key] for key in _CALLED if key in is_open and said[key]}


def with_its_job(papers: Papers, answers: Mapping[str, str]) -> dict[str, str]:
    """Return the answers, with what the job's first piece offers where they are open."""
    return {**answers, **offered_by_job(papers, answers)}


def offer_words(papers: Papers, answers: Mapping[str, str]) -> Iterable[str]:
    """Say what was taken from the job's first piece, with that piece; nothing where nothing was."""
    offered = offered_by_job(papers, answers)
    job = papers.job_called(answers.get("job", "").strip()) if offered else None
    if job is not None:
        told = ", ".join(f"{_CALLED[key]} {text}" for key, text in offered.items())
        yield f"as of {job.pieces[0].title}, which is of the same job: {told}; change it if not"


def _said_of(piece: Piece, units: ShownUnits) -> Mapping[str, str]:
    veneer_mm, unit = piece.veneer_mm, units.either("mm", "mil")
    return {
        "wood": piece.species,
        "veneer": "" if veneer_mm is None else show(veneer_mm, LENGTH, unit, digits=4),
        "sheen": piece.sheen,
    }


def _plain(text: str) -> str:
    return " ".join(text.lower().split())
