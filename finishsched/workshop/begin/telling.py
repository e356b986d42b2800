"""What a person says is done of a piece: sanded to P220, sealed, 3 coats since yesterday."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from itertools import takewhile

from finishsched.documents.lines.names import kinds_of, names_of_products
from finishsched.documents.lines.words import NUMBERS, WORDS
from finishsched.model.film import BareGrades
from finishsched.model.grades import Grade, UnknownGradeError, grade_of
from finishsched.model.schedule import StageName, Verb
from finishsched.model.step import Step, steps_of
from finishsched.model.stock import SAME_STRENGTH
from finishsched.units import CUT, read, show
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.wall_clock import WallTimeError, read_wall_day, read_wall_time
from finishsched.workshop.base.workshop import Workshop

NOTHING = ("", "nothing", "none", "no")
_REMEDY = (
    "write for example: sanded to P220; filled and levelled; sealed, 3 coats of shellac since "
    "yesterday; or a step's number"
)
_SPOKEN = {
    **dict.fromkeys(("night", "last night", "yesterday evening"), "yesterday 20:00"),
    "yesterday morning": "yesterday 10:00",
    "this morning": "today 9:00",
}
"""Times of day as they are spoken of (our assumption); of 'last night' 'last' is read as 'since'
is."""
_MOST_WORDS = 3
"""Of a time: 3 days ago."""
_DRY = ("dry", "ready", "cured")
_SINCE = re.compile(
    r"^(?P<what>.*?)[\s,]*\b(?:since|at|on|ended|last)\b\s+(?P<when>.+)$", re.IGNORECASE
)
_SANDED = re.compile(r"(?:sanded|sand)(?:\s+(?:up\s+)?to)?(?:\s+(?P<grade>.+))?", re.IGNORECASE)
_COATS = re.compile(
    rf"(?P<count>\d+|{'|'.join(word for word in NUMBERS if word.isalpha())})"
    r"\s+(?:more\s+)?coats?(?:\s+(?:of\s+)?(?P<what>.+))?",
    re.IGNORECASE,
)
_AGO = re.compile(
    rf"(?P<count>\d{{1,3}}|{'|'.join(word for word in NUMBERS if word.isalpha())})\s+days?\s+ago"
)
_STEP = re.compile(r"(?:(?:up\s+)?to\s+)?step\s+(?P<number>\d+)|(?P<bare>\d+)", re.IGNORECASE)
_CUT = re.compile(r"(?P<cut>[\d./]+\s*(?:lbs?|%|g/l)(?:\s*w/v)?)(?:\s+cut)?\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Joined:
    """What a telling means for one piece."""

    last: Step | None
    """The last step that is done; None for nothing."""
    at: datetime
    """When it was done."""
    dry: bool
    """True where its wait is over too."""
    known: Mapping[int, datetime] = field(default_factory=dict)
    """When other steps were done, by their numbers, where that was said."""


def read_telling(text: str, steps: Sequence[Step], now: datetime, workshop: Workshop) -> Joined:
    """Return what a person says is done of ``steps``, the steps of the piece's schedule.

    Raises:
        RefusedError: for what cannot be made out, or what the schedule has no step for.

    """
    words = " ".join(text.split())
    if words.lower() in NOTHING:
        return Joined(None, now, dry=False)
    said = [part for part in re.split(r"\s*(?:,|;|\band\b)\s*", words) if part]
    dry = any(part.lower() in _DRY for part in said)
    telling = _Telling(steps, workshop)
    known: dict[int, datetime] = {}
    for part in said:
        if part.lower() in _DRY:
            continue
        at = _take(telling, part, now, workshop)
        if at is not None:
            known[telling.done] = at
    if not telling.done:
        raise RefusedError(f"{words!r:.60} says nothing that is done", _REMEDY)
    _in_order(known)
    return Joined(steps[telling.done - 1], known.get(telling.done, now), dry, known)


def _take(telling: _Telling, part: str, now: datetime, workshop: Workshop) -> datetime | None:
    """Take one thing that is done, and return when it was, where that is said.

    A day may stand at its end without a word before it: ``sealed yesterday``.
    """
    if (found := _SINCE.match(part)) is not None:
        telling.take(found["what"])
        return _instant(found["when"], now, workshop)
    try:
        telling.take(part)
    except RefusedError:
        ended = _time_at_the_end(part, now, workshop)
        if ended is None:
            raise
        telling.take(ended[0])
        return ended[1]
    return None


def _time_at_the_end(part: str, now: datetime, workshop: Workshop) -> tuple[str, datetime] | None:
    """Return what comes before a time and the time; None where no time stands at the end."""
    words = part.split()
    for count in range(min(_MOST_WORDS, len(words) - 1), 0, -1):
        with suppress(RefusedError):
            return " ".join(words[:-count]), _instant(" ".join(words[-count:]), now, workshop)
    return None


def telling_fault(workshop: Workshop, answers: Mapping[str, str], now: datetime) -> str:
    """Return what is wrong with what a new piece is said to have behind it; empty for nothing.

    ``answers`` are those to the questions of a piece, ``done`` and ``schedule`` among them.
    """
    schedule = workshop.papers.schedules.get(answers.get("schedule", "").strip())
    if schedule is None:
        return ""
    try:
        read_telling(answers.get("done", ""), steps_of(schedule), now, workshop)
    except RefusedError as fault:
        return str(fault)
    return ""


def _in_order(known: Mapping[int, datetime]) -> None:
    times = [known[number] for number in sorted(known)]
    if times != sorted(times):
        raise RefusedError("what was done later has an earlier time", "set the times in order")


class _Telling:
    """Takes one thing that is done after the other."""

    def __init__(self, steps: Sequence[Step], workshop: Workshop) -> None:
        self._steps = steps
        self._papers = workshop.papers
        self._bare_grades = workshop.papers.shop.film.bare_grades
        self.done = 0
        """The number of the last step that is done."""

    def take(self, part: str) -> None:
        """Take one thing, such as ``sanded to P220``."""
        self.done = max(self.done, self._last_of(part).number)

    def _last_of(self, part: str) -> Step:
        if (sanded := _SANDED.fullmatch(part)) is not None:
            return self._sanded(sanded["grade"])
        if part.lower() in ("filled", "fill", "pores filled"):
            return _end_of(StageName.FILL, "filled", self._steps)
        if part.lower() in ("sealed", "seal"):
            return _end_of(StageName.SEAL, "sealed", self._steps)
        if (coats := _COATS.fullmatch(part)) is not None:
            return self._coat(coats["count"], coats["what"])
        if (numbered := _STEP.fullmatch(part)) is not None:
            return _numbered(int(numbered["number"] or numbered["bare"]), self._steps)
        by_key = [step for step in self._steps if step.key == part]
        return by_key[0] if by_key else self._by_verb(part)

    def _by_verb(self, part: str, grade: str | None = None) -> Step:
        """Return the last of the next steps that do this: levelled, stained, glued."""
        verb, rest = _verb_of(part)
        if verb is None:
            raise RefusedError(f"{part!r:.60} is nothing that can be told", _REMEDY)
        wanted = _grade(grade or rest, self._bare_grades) if grade or rest else None
        later = self._steps[self.done :]
        found = next((at for at, step in enumerate(later) if step.verb is verb), None)
        if found is None:
            raise RefusedError(
                f"this schedule has no step {verb.value!r} that could be done next", _REMEDY
            )
        run = list(takewhile(lambda step: step.verb is verb, later[found:]))
        last = run[-1]
        if wanted is not None:
            at_grade = [s for s in run if s.grade and self._is_of(s.grade, wanted)]
            if not at_grade:
                grades = ", ".join(dict.fromkeys(step.grade for step in run if step.grade))
                raise RefusedError(
                    f"this schedule has no {verb.value} {wanted.name} there", f"it has {grades}"
                )
            last = at_grade[-1]
        return _with_dusting(last, self._steps)

    def _is_of(self, grade: str, wanted: Grade) -> bool:
        return _grade(grade, self._bare_grades).name == wanted.name

    def _sanded(self, grade: str | None) -> Step:
        if any(step.verb.lays_coats for step in self._steps[: self.done]):
            return self._by_verb(Verb.LEVEL.value, grade)
        return _with_dusting(_sanded_to(grade, self._steps, self._bare_grades), self._steps)

    def _coat(self, count: str, what: str | None) -> Step:
        number = int(NUMBERS.get(count.lower(), count))
        coats = [s for s in self._steps if s.verb.lays_coats and s.stage is not StageName.SEAL]
        if any(step.number <= self.done for step in coats):
            coats = [step for step in coats if step.number > self.done]
        if not 1 <= number <= len(coats):
            raise RefusedError(
                f"this schedule has no coat {number}", f"it has {len(coats)} of them"
            )
        if what:
            self._agree(what, coats[number - 1])
        return coats[number - 1]

    def _agree(self, what: str, step: Step) -> None:
        """Refuse coats of something else than the schedule lays there."""
        cut = _CUT.match(what)
        name = (what[cut.end() :] if cut else what).strip().lower()
        products = self._papers.products
        product = products.get(step.product or "")
        if name:
            meant = names_of_products(products).ids.get(name)
            fits = product is not None and product.kind in kinds_of(meant, products)
            if not fits or (meant in products and meant != step.product):
                lays = product.title if product else step.verb.value
                raise RefusedError(f"this schedule lays {lays} there, not {name:.40}", _REMEDY)
        if cut is not None and step.cut_g_per_l is not None:
            said = read(f"{cut['cut']} w/v" if cut["cut"].endswith("%") else cut["cut"], CUT)
            if abs(said - step.cut_g_per_l) > SAME_STRENGTH * step.cut_g_per_l:
                has = show(step.cut_g_per_l, CUT, "lb")
                raise RefusedError(f"this schedule has a {has} cut there", "leave the cut out")


def _verb_of(part: str) -> tuple[Verb | None, str]:
    """Return what is done by the longest words of the trade at the beginning, and what follows."""
    said = part.lower()
    word = max((w for w in WORDS if f"{said} ".startswith(f"{w} ")), key=len, default="")
    verb = WORDS[word].verb if word else None
    return verb, re.sub(r"^(?:up\s+)?to\s+", "", part[len(word) :].strip(), flags=re.IGNORECASE)


def _numbered(number: int, steps: Sequence[Step]) -> Step:
    if not 1 <= number <= len(steps):
        raise RefusedError(f"there is no step {number}", f"steps go from 1 to {len(steps)}")
    return steps[number - 1]


def _instant(text: str, now: datetime, workshop: Workshop) -> datetime:
    said = text.strip().lower()
    try:
        if said == "now":
            return now
        if (ago := _AGO.fullmatch(said)) is not None:
            days = int(NUMBERS.get(ago["count"], ago["count"]))
            text = f"{now.astimezone(workshop.zone).date() - timedelta(days=days)}"
        return read_wall_time(_SPOKEN.get(said, text), now, workshop.zone)
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
    """Return the last step of a stage that lays something: what is levelled since is said."""
    within = [step for step in steps if step.stage is stage]
    if not within:
        names = dict.fromkeys(step.stage.value for step in steps)
        raise RefusedError(
            f"this schedule has no step by which it is {word}", f"its stages are {', '.join(names)}"
        )
    return next((step for step in reversed(within) if step.verb.lays), within[-1])
