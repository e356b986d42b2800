"""What a person says is done of a piece: sanded to P220, sealed, 3 coats since yesterday."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from finishsched.model.film import BareGrades
from finishsched.model.grades import Grade, UnknownGradeError, grade_of
from finishsched.model.schedule import StageName, Verb
from finishsched.model.step import Step
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.wall_clock import WallTimeError, read_wall_day, read_wall_time
from finishsched.workshop.base.workshop import Workshop

NOTHING = ("", "nothing", "none", "no")
_REMEDY = (
    "write for example: sanded to P220; or: sanded, sealed, 3 coats since yesterday; or a step's "
    "number"
)
_DRY = ("dry", "ready", "cured")
_SINCE = re.compile(
    r"^(?P<what>.*?)[\s,]*\b(?:since|at|on|ended|last)\b\s+(?P<when>.+)$", re.IGNORECASE
)
_SANDED = re.compile(r"(?:sanded|sand)(?:\s+(?:up\s+)?to)?(?:\s+(?P<grade>.+))?", re.IGNORECASE)
_COATS = re.compile(r"(?P<count>\d+|one|two|three|four|five|six)\s+coats?", re.IGNORECASE)
_STEP = re.compile(r"(?:(?:up\s+)?to\s+)?step\s+(?P<number>\d+)|(?P<bare>\d+)", re.IGNORECASE)
_COUNTS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6}


@dataclass(frozen=True, slots=True)
class Joined:
    """What a telling means for one piece."""

    last: Step | None
    """The last step that is done; None for nothing."""
    at: datetime
    """When it was done."""
    dry: bool
    """True where its wait is over too."""


def read_telling(text: str, steps: Sequence[Step], now: datetime, workshop: Workshop) -> Joined:
    """Return what a person says is done of ``steps``, the steps of the piece's schedule.

    Raises:
        RefusedError: for what cannot be made out, or what the schedule has no step for.

    """
    words = " ".join(text.split())
    if words.lower() in NOTHING:
        return Joined(None, now, dry=False)
    found = _SINCE.match(words)
    at = _instant(found["when"], now, workshop) if found else now
    parts = re.split(r"\s*(?:,|;|\band\b)\s*", found["what"] if found else words)
    said = [part for part in parts if part]
    dry = any(part.lower() in ("dry", "ready", "cured") for part in said)
    bare_grades = workshop.papers.shop.film.bare_grades
    done = [part for part in said if part.lower() not in ("dry", "ready", "cured")]
    lasts = [_last_of(part, steps, bare_grades) for part in done]
    if not lasts:
        raise RefusedError(f"{words!r:.60} says nothing that is done", _REMEDY)
    last = max(lasts, key=lambda step: step.number)
    return Joined(last, at, dry)


def _instant(text: str, now: datetime, workshop: Workshop) -> datetime:
    try:
        if text.strip().lower() == "now":
            return now
        return read_wall_time(text, now, workshop.zone)
    except WallTimeError:
        pass
    try:
        day = read_wall_day(text, now, workshop.zone)
    except WallTimeError as fault:
        raise RefusedError(
            fault.message, "write yesterday, yesterday 18:30, or 2026-11-25"
        ) from None
    # A day without a time: the end of its afternoon, when most coats are laid (our assumption).
    return min(now, day + timedelta(hours=18)) if day < now - timedelta(hours=1) else day


def _last_of(part: str, steps: Sequence[Step], bare_grades: BareGrades) -> Step:
    if (sanded := _SANDED.fullmatch(part)) is not None:
        return _with_dusting(_sanded_to(sanded["grade"], steps, bare_grades), steps)
    if part.lower() in ("filled", "fill", "pores filled"):
        return _end_of(StageName.FILL, "filled", steps)
    if part.lower() in ("sealed", "seal"):
        return _end_of(StageName.SEAL, "sealed", steps)
    if (coats := _COATS.fullmatch(part)) is not None:
        return _coat(coats["count"], steps)
    if (numbered := _STEP.fullmatch(part)) is not None:
        number = int(numbered["number"] or numbered["bare"])
        if not 1 <= number <= len(steps):
            raise RefusedError(f"there is no step {number}", f"steps go from 1 to {len(steps)}")
        return steps[number - 1]
    by_key = [step for step in steps if step.key == part]
    if by_key:
        return by_key[0]
    raise RefusedError(f"{part!r:.60} is nothing that can be told", _REMEDY)


def _sanded_to(grade: str | None, steps: Sequence[Step], bare_grades: BareGrades) -> Step:
    bare = [step for step in steps if step.stage is StageName.PREPARE and step.verb is Verb.SAND]
    if not bare:
        raise RefusedError("this schedule has no sanding of bare wood", _REMEDY)
    if not grade:
        return bare[-1]
    wanted = _grade(grade, bare_grades)
    graded = [(step, _grade(step.grade, bare_grades)) for step in bare if step.grade]
    exact = [step for step, known in graded if known.name == wanted.name]
    if exact:
        return exact[-1]
    coarser = [step for step, known in graded if known.grain_um >= wanted.grain_um]
    if not coarser:
        raise RefusedError(
            f"{grade} is coarser than this schedule begins with, {bare[0].grade}",
            "log its sanding as you do it",
        )
    return coarser[-1]


def _grade(text: str, bare_grades: BareGrades) -> Grade:
    try:
        return grade_of(text, bare_grades)
    except UnknownGradeError as fault:
        raise RefusedError(fault.message, fault.remedy) from None


def _with_dusting(step: Step, steps: Sequence[Step]) -> Step:
    """Return the tacking off that follows a sanding, if one does: it was done too."""
    following = steps[step.number] if step.number < len(steps) else None
    return following if following is not None and following.verb is Verb.TACK_OFF else step


def _end_of(stage: StageName, word: str, steps: Sequence[Step]) -> Step:
    within = [step for step in steps if step.stage is stage]
    if not within:
        names = dict.fromkeys(step.stage.value for step in steps)
        raise RefusedError(
            f"this schedule has no step by which it is {word}", f"its stages are {', '.join(names)}"
        )
    return within[-1]


def _coat(count: str, steps: Sequence[Step]) -> Step:
    number = _COUNTS.get(count.lower()) or int(count)
    coats = [s for s in steps if s.verb.lays_coats and s.stage is not StageName.SEAL]
    if not 1 <= number <= len(coats):
        raise RefusedError(f"this schedule has no coat {number}", f"it has {len(coats)} of them")
    return coats[number - 1]
