"""Defects of a piece: what likely made them, and the rework that enters its work."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from itertools import chain

from finishsched.checking.defects.asking import Question, tells_apart
from finishsched.checking.defects.ending import WIPE_WET
from finishsched.checking.defects.evidence import Evidence
from finishsched.checking.defects.options import undoes
from finishsched.checking.defects.ranking import Diagnosis, diagnose
from finishsched.checking.defects.rework import Rework, rework_steps
from finishsched.checking.defects.seen import Seen
from finishsched.checking.defects.told import perhaps_seen, to_choose_from, understood
from finishsched.journal import events
from finishsched.journal.events import Event, NewEvent, random_id
from finishsched.journal.progress import Book
from finishsched.model.plain import canonical_json, text_hash
from finishsched.model.step import Step
from finishsched.safety.cautions import DEFERRAL
from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.base.places import Place
from finishsched.workshop.base.spans import span
from finishsched.workshop.base.words import one_line
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.defects.layered import layers_against
from finishsched.workshop.defects.looking import look, mended, seen_of
from finishsched.workshop.defects.ways import held_step, way_named, ways
from finishsched.workshop.standing.beside import name_beside
from finishsched.workshop.standing.one_go import in_one_go
from finishsched.workshop.standing.several import of_each
from finishsched.workshop.standing.standing import Standing
from finishsched.workshop.standing.where import find

STILL_WET = 0.15
"""Share of its drying below which a cloth still takes a coat off (our assumption)."""


@dataclass(frozen=True, slots=True)
class Option:
    """One way to put it right, as it would enter the work now."""

    number: int
    """From 1: how a person chooses it."""
    rework: Rework
    steps: tuple[Step, ...]
    hands_on_min: float
    waits_s: float
    """The likely waits of all its steps together, by the book."""
    held: Step | None = None
    """The step of the piece that it comes before; None for the end of the work."""

    @property
    def held_words(self) -> str:
        """Say what of the piece goes on meanwhile; nothing where it enters the piece's work."""
        if not self.rework.beside:
            return ""
        if self.held is None:
            return "on that spot alone, with a clock of its own; nothing of the piece waits for it"
        held = f"step {self.held.number}, {self.held.title}"
        return f"on that spot alone, with a clock of its own; {held}, waits for it"

    @property
    def words(self) -> str:
        """Return its steps in a line, equal ones counted."""
        return ", ".join(dict.fromkeys(map(_short, self.steps)))

    @property
    def time_words(self) -> str:
        """Return how long it takes, in words."""
        spans = [
            f"{span(seconds, up=True)} of {what}"
            for seconds, what in ((self.hands_on_min * 60, "work"), (self.waits_s, "waits"))
            if seconds
        ]
        return ", ".join(spans)


@dataclass(frozen=True, slots=True)
class DefectAnswer:
    """What was seen on a piece, why that may be, and what can be done."""

    ref: str
    seen: Seen
    event: Event | None
    """The entry that says so; None when it is only asked about."""
    step: Step | None
    """Where it was seen, or thought to come from."""
    evidence: Evidence
    diagnosis: Diagnosis
    options: tuple[Option, ...]
    place: Place | None = None
    """Where on the piece it is; None for all of it."""
    layers: tuple[str, ...] = ()
    """What the table of layers says against the work as it was logged, the newest first."""
    said: str = ""
    """In the words of whoever saw it; empty where it is only named, or read off its entry."""
    asks: Question | None = None
    """What would tell the likeliest causes apart, where none is clear."""
    or_else: tuple[Seen, ...] = ()
    """What else the words may mean, the likeliest first, where they do not surely mean one."""
    deferral: str = DEFERRAL

    @property
    def beyond(self) -> str:
        """Say so where no way takes away what most likely made it; else nothing."""
        if any(undoes(self.diagnosis, option.rework) for option in self.options):
            return ""
        made = "takes away what most likely made it: show it to a restorer"
        if not self.options:
            return f"nothing that the work bears {made}, and lay nothing more on it"
        return f"none of these {made} before more is laid on it"


def defect_answer(
    workshop: Workshop,
    piece: str,
    seen: str,
    now: datetime,
    step: str | None = None,
    *,
    where: str = "",
    area_m2: float | None = None,
) -> DefectAnswer:
    """Return the likely causes of what is seen, and the ways to put it right, best first.

    ``seen`` is any of its names, or what it looks like, or both with a colon between; empty for
    the newest defect logged that no rework was taken for. ``step`` is a number or a key; None for
    where it was logged, else the step in hand. ``where`` is its place on the piece, and ``area_m2``
    how large it is; else what was logged of it. What is seen on a spot that is being mended is seen
    on its piece.

    Raises:
        RefusedError: for an unknown piece, defect or step, or a piece that is not begun.

    """
    looked = look(workshop, piece, seen, now, step, where, area_m2)
    standing, event = looked.standing, looked.event
    found = seen_of(standing, seen, event, looked.known)
    diagnosis = diagnose(found, looked.evidence)
    dried_share = looked.evidence.dried_share
    wet = dried_share is not None and dried_share < STILL_WET
    found_ways = ways(workshop, standing, diagnosis, looked.place, wet=wet)
    options = tuple(_option(n, rework, standing) for n, rework in enumerate(found_ways, start=1))
    return DefectAnswer(
        standing.ref,
        found,
        event,
        looked.step,
        looked.evidence,
        diagnosis,
        options,
        looked.place,
        layers_against(workshop.papers, standing, looked.step, looked.at),
        "" if one_line(seen) == found.value else one_line(seen),
        tells_apart(diagnosis, looked.evidence),
        perhaps_seen(one_line(seen), looked.known)[1:] if seen else (),
    )


def seen_choices(
    workshop: Workshop, piece: str, seen: str, now: datetime, step: str | None = None
) -> tuple[Seen, ...]:
    """Return the few defects that words may tell of, for whoever said them to choose from.

    None where they surely tell of one, or of nothing that is known.

    Raises:
        RefusedError: as ``defect_answer`` does, but for words.

    """
    looked = look(workshop, piece, seen, now, step, "", None)
    if understood(one_line(seen), looked.known) is not None:
        return ()
    return to_choose_from(one_line(seen), looked.known)


def take_rework(
    workshop: Workshop,
    answer: DefectAnswer,
    option: int,
    now: datetime,
    by: str = "",
) -> tuple[Event, ...]:
    """Enter one of the ways of ``answer`` into the piece's work, and the defect where it was not.

    Its steps come before all that was still to do. A wait that runs is taken over by a rework that
    begins with a rest of its own, or wipes the wet coat off; any other waits for its dry check.
    What was done stays as it was, and an undo takes the rework out again.

    Raises:
        RefusedError: when there is no such way, or another process was first with one; the
            journal is as it was.
        JournalFaultError: when it cannot be kept; the journal is as it was.

    """
    return take_reworks(workshop, (answer,), option, now, by)


def take_reworks(
    workshop: Workshop,
    answers: Sequence[DefectAnswer],
    option: int,
    now: datetime,
    by: str = "",
) -> tuple[Event, ...]:
    """Enter the same way into the work of several pieces, or of none; ``option`` as of the first.

    Raises:
        RefusedError: as ``take_rework`` does; of several pieces with every refusal and its piece.
        JournalFaultError: when it cannot be kept; the journal is as it was.

    """
    names = {one.number: one.rework.option for one in answers[0].options}
    if option not in names:
        raise RefusedError(
            f"no way {option} to put it right", f"there are 1 to {len(names)}; see them first"
        )
    hands = workshop.papers.shop.hands_named(one_line(by))

    def build(book: Book) -> tuple[NewEvent, ...]:
        # Read inside the write lock: another process may have logged since the answer was shown.
        new = of_each(answers, lambda one: _entered(workshop, one, names[option], book, now, hands))
        # What one piece needs has no mark: an undo takes its rework out, and leaves the defect.
        every = tuple(chain.from_iterable(new))
        return in_one_go(every) if len(answers) > 1 else every

    return workshop.append_all(build, now)


def _entered(
    workshop: Workshop, answer: DefectAnswer, option: str, book: Book, now: datetime, hands: str
) -> tuple[NewEvent, ...]:
    """Return the entries with which a rework enters a piece's work, as that is now."""
    standing = find(workshop, answer.ref, book)
    seen = _seen_now(answer, standing, book, now, hands) if answer.event is None else None
    defect_id = seen.id if seen else answer.event.id if answer.event else ""
    if defect_id in mended(book.live(answer.ref)):
        raise RefusedError(
            f"a way was taken for that {answer.seen.value} already",
            "log it again if it is seen again",
        )
    rework = way_named(workshop, standing, option, answer.diagnosis, answer.place)
    if rework is None or standing.progress is None:
        raise RefusedError("the piece has changed since", "look at the defect again")
    taken, text = _taken(rework, standing, book)
    taken = replace(taken, seen=answer.seen.value, defect_id=defect_id, by=hands)
    entered = NewEvent(now, standing.ref, taken, ((taken.rework_hash, text),))
    return (seen, entered) if seen else (entered,)


def _seen_now(
    answer: DefectAnswer, standing: Standing, book: Book, now: datetime, by: str
) -> NewEvent:
    """Return the entry of a defect that is not logged yet, with an id that a rework can name."""
    from finishsched.workshop.standing.ledger import new_event  # noqa: PLC0415  # dear, and only to log

    key = answer.step.key if answer.step else None
    place = answer.place
    entry = Entry(
        What.DEFECT,
        answer.ref,
        key,
        answer.said or answer.seen.value,
        seen=answer.seen.value,
        by=by,
        where=place.where if place else "",
        area_m2=place.area_m2 if place else None,
    )
    return replace(new_event(entry, standing, None, book, now), id=random_id())


def _short(step: Step) -> str:
    name = step.key.partition("/")[2].partition(":")[0]
    if name in _NAMED:
        return _NAMED[name]
    return f"{step.verb.value} {step.coats} coats" if step.coats > 1 else step.title


_NAMED = {
    "strip": "take off",
    "clean": "wash",
    "wipe-wet": "wipe off wet",
    "seal": "seal",
    "spot-touch-in": "touch in",
    "spot-colour": "colour",
    "spot-patch-in": "let in a patch",
    "spot-glue-down": "glue down",
    "key": "rub dull",
    "spirit-off-again": "spirit off again",
}


def _option(number: int, rework: Rework, standing: Standing) -> Option:
    steps = rework_steps(rework, number)
    area_m2 = rework.area_m2 or standing.piece.area_m2
    waits_s = sum(step.wait.likely_s for step in steps if step.wait is not None)
    hands_min = sum(step.hands_on.minutes(area_m2) for step in steps)
    return Option(number, rework, steps, hands_min, waits_s, held_step(standing, rework))


def _taken(rework: Rework, standing: Standing, book: Book) -> tuple[events.ReworkTaken, str]:
    """Return what the journal keeps of a rework, and the text of its steps."""
    progress = standing.progress
    assert progress is not None  # noqa: S101
    text = canonical_json(rework)
    held = held_step(standing, rework)
    # A coat that is wiped off wet has nothing left to wait for.
    ends = rework.plans[0].verb.does.rests or rework.option == WIPE_WET
    waits = progress.current if progress.waiting and ends and not rework.beside else None
    number = book.reworks_of(standing.ref) + 1
    taken = events.ReworkTaken(
        rework_hash=text_hash(text),
        number=number,
        option=rework.option,
        title=rework.title,
        before=held.key if held else "",
        ends_wait=waits.key if waits is not None else "",
        beside=name_beside(standing.ref, number) if rework.beside else "",
    )
    return taken, text
