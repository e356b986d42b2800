"""The one next thing for a piece: what to do, in a plain sentence, and what the key does."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, tzinfo
from enum import Enum, auto

from finishsched.bench import words
from finishsched.workshop.base.answers import Later, PieceView, State


class Doing(Enum):
    """What the key for the next thing sets off."""

    NOTHING = auto()
    WAIT = auto()
    """Something beside the piece comes first."""
    START = auto()
    LOG_DONE = auto()
    DRY_CHECK = auto()


@dataclass(frozen=True, slots=True)
class NextThing:
    """What the key for the next thing does, and a length of time worth showing large."""

    doing: Doing
    sentence: str
    big_time: str = ""
    time_label: str = ""


def next_thing(piece: PieceView, now: datetime, zone: tzinfo) -> NextThing:
    """Return the next thing for ``piece`` at ``now``."""
    if piece.state is State.FINISHED:
        return NextThing(Doing.NOTHING, "nothing left to do")
    if piece.state is State.NOT_BEGUN:
        first = f"; it opens with: {step_title(piece)}" if piece.step else ""
        return NextThing(Doing.START, f"begin it{first}")
    if piece.state is State.TO_DO:
        return _to_do(piece, now, zone)
    return _waiting(piece, now, zone)


def step_title(piece: PieceView) -> str:
    """Return the step in hand in a few words, or nothing."""
    return words.plain(piece.step.title) if piece.step else ""


def step_line(piece: PieceView) -> str:
    """Return where the piece is: ``pad coat 4 of 6, body, round 2 of 3``."""
    return f"{step_title(piece)}, {piece.step.place}" if piece.step else ""


def when(piece: PieceView, now: datetime, late_min: int = 0) -> str:
    """Return the short time that the list shows for a piece.

    A due date of another year has its year in the place of the word that goes before it. A piece
    that the plan has ``late_min`` after its date is told as that.
    """
    clock = piece.clock
    if piece.later is not None and piece.later.until is not None:
        return words.away(piece.later.until, now)
    if clock is None or piece.state is State.TO_DO:
        if not (piece.due and piece.step):
            return ""
        return words.late(late_min) if late_min > 0 else _due(piece.due, now.date())
    if piece.state is State.CLOSED and clock.next_by_at:
        return words.away(clock.next_by_at, now)
    return words.away(clock.likely_at, now)


def is_told_late(piece: PieceView, late_min: int) -> bool:
    """Tell whether ``when`` says of a piece that it is late."""
    has_until = piece.later is not None and piece.later.until is not None
    waits = piece.clock is not None and piece.state is not State.TO_DO
    return late_min > 0 and bool(piece.due and piece.step) and not (has_until or waits)


def _due(due: date, today: date) -> str:
    return f"due {words.day(due)}" if due.year == today.year else words.dated(due, today)


def _to_do(piece: PieceView, now: datetime, zone: tzinfo) -> NextThing:
    if piece.waits_for:
        first = words.plain(piece.waits_for[0].title)
        return NextThing(Doing.WAIT, f"press to go to what comes first: {first}")
    if piece.later is not None:
        return _left_for_later(piece, piece.later, now, zone)
    minutes = piece.sheet.hands_on_min if piece.sheet else 0.0
    big, label = (words.span(minutes * 60, up=True), "hands-on") if minutes else ("", "")
    clock = piece.clock
    if clock is not None and clock.next_by_at is not None and clock.next_by_at > now:
        label = f"{label}, window closes {words.wall(clock.next_by_at, now, zone)}".lstrip(", ")
    return NextThing(Doing.LOG_DONE, f"press when done: {step_title(piece)}", big, label)


def _left_for_later(piece: PieceView, later: Later, now: datetime, zone: tzinfo) -> NextThing:
    """Say why it is not for now; the key logs it all the same, if somebody does it."""
    sentence = f"{words.plain(later.why)}; press if you did {step_title(piece)} all the same"
    if later.until is None:
        return NextThing(Doing.LOG_DONE, sentence)
    big = words.span((later.until - now).total_seconds(), up=True)
    return NextThing(Doing.LOG_DONE, sentence, big, f"from {words.wall(later.until, now, zone)}")


def later_words(later: Later, now: datetime, zone: tzinfo) -> str:
    """Say why a step is left for later, and until when: ``not before 19:27: dust is settling``."""
    until = f"not before {words.wall(later.until, now, zone)}: " if later.until else ""
    return f"{until}{words.plain(later.why)}"


def _waiting(piece: PieceView, now: datetime, zone: tzinfo) -> NextThing:
    clock = piece.clock
    if clock is None:
        return NextThing(Doing.DRY_CHECK, "make the dry check")
    likely = words.wall(clock.likely_at, now, zone)
    if piece.state is State.CHECK:
        slow = "; even the slow end has passed" if clock.overdue else ""
        big, label = words.span(-clock.left_s), f"likely dry since {likely}"
        return NextThing(Doing.DRY_CHECK, f"make the dry check{slow}", big, label)
    if piece.state is State.CLOSED:
        closed_at = clock.next_by_at or clock.latest_at
        big = words.span((now - closed_at).total_seconds())
        label = f"window closed {words.wall(closed_at, now, zone)}"
        sentence = "make the dry check; a remedy comes before the next coat"
        return NextThing(Doing.DRY_CHECK, sentence, big, label)
    big, label = words.span(clock.left_s, up=True), f"likely dry {likely}"
    if piece.state is State.NEARLY:
        return NextThing(Doing.DRY_CHECK, f"look early, or wait until {likely}", big, label)
    earliest = words.wall(clock.earliest_at, now, zone)
    sentence = f"leave it alone until {earliest}; or check early"
    return NextThing(Doing.DRY_CHECK, sentence, big, label)
