"""An invented shop in the middle of its work.

Its past is worked out backwards from now, so that at any hour some clocks are running, one dry
check is due, and one piece wants hands. Nobody in it works between eleven and seven.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from finishsched.journal import events
from finishsched.journal.events import NewEvent
from finishsched.journal.store import Journal
from finishsched.model.job import Piece
from finishsched.model.plain import canonical_json, text_hash
from finishsched.model.schedule import Schedule
from finishsched.model.shop import Air
from finishsched.model.step import Step, steps_of
from finishsched.workshop.base.documents import Papers, read_papers
from finishsched.workshop.base.place import JOURNAL_FILE
from finishsched.workshop.demo.shelf import jar_for, shelf_entries
from finishsched.workshop.demo.starter import make_shop

EVENING_ENDS_H, MORNING_BEGINS_H = 23, 7
HANDS = ("Nell", "Tam")


@dataclass(frozen=True, slots=True)
class _Story:
    """How far a piece has come: its step in hand, and what was last done to it and when."""

    ref: str
    stage: str
    verb: str
    turn: int
    """Which of the steps of this verb in this stage, from 1."""
    laid: bool
    """True when the step is done and waits; False when it is to do."""
    share: float = 0.0
    """How much of its likely wait has gone by."""
    not_yet: bool = False
    note: str = ""


_STORIES = (
    _Story("tea-chest/lid", "body", "pad", 12, laid=True, share=1.04),
    _Story("tea-chest/body", "fill", "fill", 1, laid=True, share=0.62),
    _Story(
        "letter-box/slope",
        "body",
        "pad",
        4,
        laid=False,
        note="a drop of oil too many at the hinge edge",
    ),
    _Story("games-panel/frame", "body", "wipe", 1, laid=True, share=0.30),
    _Story("letter-box/box", "seal", "pad", 1, laid=True, share=0.91, not_yet=True),
)


def make_demo(folder: Path, now: datetime) -> None:
    """Make ``folder`` the demo shop as it stands at ``now``.

    Raises:
        RefusedError: when there is something in the folder already.

    """
    make_shop(folder, "demo")
    for document in (folder / "jobs").glob("*.yaml"):
        document.write_text(_dated(document.read_text("utf-8"), now), "utf-8")
    papers = read_papers(folder)
    found = [*_readings(now), *shelf_entries(papers, now), *_pasts(papers, now)]
    entries = sorted(found, key=lambda entry: entry.at)
    with Journal.open(folder / JOURNAL_FILE) as journal:
        journal.append_all(lambda _: entries, now)
        journal.look(now - timedelta(hours=1, minutes=10))


def _dated(text: str, now: datetime) -> str:
    """Put a date that lies ahead of ``now`` in place of each ``@DAY+n@``."""
    while "@DAY+" in text:
        before, _, rest = text.partition("@DAY+")
        days, _, after = rest.partition("@")
        text = f"{before}{(now + timedelta(days=int(days))).date().isoformat()}{after}"
    return text


def _readings(now: datetime) -> Iterator[NewEvent]:
    for hours, temperature_c, humidity_percent in (
        (50, 17.5, 58),
        (44, 18.0, 57),
        (26, 18.5, 55),
        (20, 19.0, 54),
        (3, 18.5, 57),
        (0.6, 19.0, 56),
    ):
        at = now - timedelta(hours=hours)
        air = Air(temperature_c, float(humidity_percent), 0.1, at)
        yield NewEvent(at=at, piece=None, what=events.AirRead(air=air, source="by hand"))


def _pasts(papers: Papers, now: datetime) -> Iterator[NewEvent]:
    pieces = {ref: piece for ref, _, piece in papers.pieces()}
    for number, story in enumerate(_STORIES):
        piece = pieces[story.ref]
        schedule = papers.schedule_of(piece)
        assert schedule is not None  # noqa: S101  # the shop is our own
        yield from _past(story, piece, schedule, now, HANDS[number % 2])


def _past(
    story: _Story, piece: Piece, schedule: Schedule, now: datetime, by: str
) -> Iterator[NewEvent]:
    steps = steps_of(schedule)
    current = _current(story, steps)
    before = [entry for step in steps[: current.number - 1] for entry in _passed(step, piece, by)]
    last = _last_entries(story, current, piece, by)
    at = _last_instant(story, current, now)
    timed: list[NewEvent] = []
    for gap, what in reversed([*before, *last]):
        timed.append(NewEvent(at=at, piece=story.ref, what=what))
        at = _awake(at - gap, now)
    yield _start(story.ref, piece, schedule, at)
    yield from reversed(timed)


def _current(story: _Story, steps: Sequence[Step]) -> Step:
    fitting = [s for s in steps if s.stage.value == story.stage and s.verb.value == story.verb]
    return fitting[story.turn - 1]


def _start(ref: str, piece: Piece, schedule: Schedule, at: datetime) -> NewEvent:
    texts = canonical_json(schedule), canonical_json(piece)
    what = events.PieceStarted(schedule.id, text_hash(texts[0]), text_hash(texts[1]))
    return NewEvent(at, ref, what, tuple((text_hash(text), text) for text in texts))


def _passed(step: Step, piece: Piece, by: str) -> Iterator[tuple[timedelta, events.Payload]]:
    """Give the entries of a step that is over, each with the time that it took."""
    work = timedelta(minutes=step.hands_on.minutes(piece.area_m2) + 3)
    yield work, _done(step, piece, by)
    if step.wait is not None:
        yield timedelta(seconds=step.wait.likely_s * 1.05), events.DryReady(step=step.key, by=by)


def _done(step: Step, piece: Piece, by: str) -> events.StepDone:
    used_ml = None
    batch = jar_for(step)
    if batch and step.spread is not None and step.spread.ml_per_m2 is not None:
        used_ml = round(step.spread.ml_per_m2 * piece.area_m2 * 1.15, 1)
    return events.StepDone(step=step.key, by=by, batch=batch, amount_ml=used_ml)


def _last_entries(
    story: _Story, step: Step, piece: Piece, by: str
) -> list[tuple[timedelta, events.Payload]]:
    found: list[tuple[timedelta, events.Payload]] = []
    if story.note:
        found.append((timedelta(minutes=2), events.Noted(text=story.note, by=by)))
    if story.laid:
        found.append(
            (timedelta(minutes=step.hands_on.minutes(piece.area_m2)), _done(step, piece, by))
        )
    if story.not_yet and step.wait is not None:
        wait = timedelta(seconds=step.wait.likely_s * story.share)
        found.append(
            (wait, events.DryNotYet(step=step.key, by=by, note="still cool at the corner"))
        )
    return found


def _last_instant(story: _Story, step: Step, now: datetime) -> datetime:
    if story.not_yet:
        return now - timedelta(minutes=4)
    if story.laid and step.wait is not None:
        return now - timedelta(seconds=step.wait.likely_s * story.share)
    return now - timedelta(minutes=25)


def _awake(at: datetime, now: datetime) -> datetime:
    """Move an instant of the past back out of the night, by the clock where ``now`` was read."""
    local = at.astimezone(now.astimezone().tzinfo)
    if MORNING_BEGINS_H <= local.hour < EVENING_ENDS_H:
        return at
    evening = local.replace(hour=EVENING_ENDS_H - 1, minute=(local.minute * 7) % 50)
    if local.hour < MORNING_BEGINS_H:
        evening -= timedelta(days=1)
    return evening.astimezone(at.tzinfo)
