"""A wait or a step that one piece has and no schedule says: it runs beside the piece's own work."""

from __future__ import annotations

from datetime import datetime

from finishsched.checking.defects.rework import Holds, Rework, joined_at
from finishsched.journal import events
from finishsched.journal.progress import Book
from finishsched.model.plain import canonical_json, text_hash
from finishsched.model.schedule import HandsOn, StageName, StepPlan, Verb, Wait, Waits
from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.standing.beside import name_beside, to_do
from finishsched.workshop.standing.standing import Standing

OWN_STEP, OWN_WAIT = "extra", "wait"
LOOK_AGAIN = "the time is over; look and feel before anything else touches it"


def own_step(
    entry: Entry, standing: Standing, text: str, book: Book, at: datetime
) -> tuple[events.ReworkTaken, str]:
    """Return what the journal keeps of a wait or step that somebody gives a piece.

    Raises:
        RefusedError: when it does not say how long, or an extra step not what is done.

    """
    plan = _wait(entry, text, at) if entry.what is What.WAIT else _step(entry, text)
    stage = standing.step.stage if standing.step else StageName.POLISH
    name = OWN_WAIT if entry.what is What.WAIT else OWN_STEP
    rework = Rework(name, text, stage, (plan,), Holds.TOUCH)
    kept = canonical_json(rework)
    held = joined_at(to_do(standing.steps, standing.progress), rework.holds)
    number = book.reworks_of(standing.ref) + 1
    taken = events.ReworkTaken(
        rework_hash=text_hash(kept),
        number=number,
        option=name,
        title=text,
        before=held.key if held else "",
        by=entry.by,
        beside=name_beside(standing.ref, number),
    )
    return taken, kept


def _wait(entry: Entry, text: str, at: datetime) -> StepPlan:
    span_s = entry.span_s
    if entry.until is not None:
        span_s = (entry.until - at).total_seconds()
    if span_s is None or span_s <= 0:
        raise RefusedError(
            "a wait says how long it is",
            "write for example --for '20 min', or --until 'tomorrow 8:00'",
        )
    return StepPlan(
        OWN_WAIT,
        Verb.REST,
        text,
        waits=Waits(Wait(span_s, span_s, span_s)),
        dry_check=LOOK_AGAIN,
    )


def kind_of_own(text: str) -> What:
    """Return what somebody means who gives a piece something of its own, in words.

    An extra step where the text begins with what is done, else a wait.
    """
    return What.WAIT if _verb(text) is None else What.EXTRA


def _verb(text: str) -> Verb | None:
    words = f"{text.lower()} "
    return next((verb for verb in _LONGEST_FIRST if words.startswith(f"{verb.value} ")), None)


def _step(entry: Entry, text: str) -> StepPlan:
    verb = _verb(text)
    if verb is None:
        raise RefusedError(
            f"{text!r:.60} does not begin with what is done",
            f"begin with one of {', '.join(sorted(_LONGEST_FIRST))}",
        )
    minutes = entry.span_s / 60 if entry.span_s else USUAL_MIN
    return StepPlan(OWN_STEP, verb, text, hands_on=HandsOn(minutes))


USUAL_MIN = 10.0
"""Of a step whose time nobody said (our assumption)."""
_LONGEST_FIRST = sorted(
    (verb for verb in Verb if not verb.does.must_dry and not verb.does.uses),
    key=lambda verb: -len(verb.value),
)
"""What can be done by the way: what leaves nothing wet, and takes nothing from the shelf."""
