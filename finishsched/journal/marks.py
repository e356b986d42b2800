"""What the entries of one piece say about each of its steps; every reading of progress begins here.

A rest needs nobody to begin it. After a coat it runs from that coat, and its dry check is the only
one of the two; after anything else it runs from when that was over. Somebody may still say that it
began at another time, or leave it out: then the coat's own dry check counts again.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime

from finishsched.journal.events import (
    DryNotYet,
    DryReady,
    Event,
    PieceStarted,
    ReworkTaken,
    StepDone,
    StepSkipped,
)
from finishsched.model.step import Step


@dataclass(slots=True)
class Mark:
    """What the entries so far say about one step."""

    done: Event | None = None
    """The entry that counts; of a rest that began by itself, one made of what it began with."""
    by_itself: bool = False
    """True for a rest that nobody said had begun."""
    ready: Event | None = None
    over: bool = False
    """True where its wait needs no dry check of its own any more: a rest or a rework took over."""
    not_yet: list[Event] = field(default_factory=list)

    @property
    def awaits_check(self) -> bool:
        """True while a dry check can say something about it."""
        return self.done is not None and self.ready is None and not self.over

    @property
    def begun_at(self) -> datetime | None:
        """When its wait began; None for a step left out."""
        return self.done.at if self.done else None

    def ended(self, step: Step) -> Event | None:
        """Return the entry with which the step, its wait and all, was over; None before."""
        return self.done if step.wait is None or (self.over and not self.ready) else self.ready


def marks_of(live: Iterable[Event], steps: tuple[Step, ...]) -> dict[str, Mark]:
    """Return what the ``live`` entries of a piece, in the order of writing, say by step key."""
    marking = _Marking(steps)
    for event in live:
        marking.take(event)
    return marking.marks


class _Marking:
    def __init__(self, steps: tuple[Step, ...]) -> None:
        self.marks: dict[str, Mark] = {}
        self._steps = steps
        self._rests = [at for at, step in enumerate(steps) if step.verb.does.rests]
        self._started: Event | None = None

    def take(self, event: Event) -> None:
        match event.what:
            case PieceStarted():
                self.marks.clear()
                self._started = event
            case StepDone(step=key):
                self.marks[key] = Mark(done=event)
            case StepSkipped(step=key):
                self._skip(key)
            case DryReady(step=key):
                self._ready(key, event)
            case DryNotYet(step=key) if key in self.marks and self.marks[key].awaits_check:
                self.marks[key].not_yet.append(event)
            case ReworkTaken():
                self._rework(event, event.what)
            case _:
                return
        if self._rests:
            self._begin_rests()

    def _skip(self, key: str) -> None:
        mark = self.marks.get(key)
        if mark is not None and mark.by_itself:
            self.marks[key] = Mark()
            before = self._before(next(at for at in self._rests if self._steps[at].key == key))
            if before is not None and before.key in self.marks:
                self.marks[before.key].over = False
        self.marks.setdefault(key, Mark())

    def _ready(self, key: str, event: Event) -> None:
        mark = self.marks.get(key)
        # A journal of before may hold the check of a coat whose rest has begun meanwhile.
        if mark is not None and mark.done is not None and mark.ready is None:
            mark.ready = event

    def _rework(self, event: Event, taken: ReworkTaken) -> None:
        """Begin the rest that a rework begins with; it takes the place of the wait before it."""
        if (waiting := self.marks.get(taken.ends_wait)) is not None and waiting.awaits_check:
            waiting.over = True
        theirs = f"rework-{taken.number}/"
        at = next((n for n, step in enumerate(self._steps) if step.key.startswith(theirs)), None)
        if at is None or not self._steps[at].verb.does.rests:
            return
        before = self._before(at)
        if before is not None and before.key in self.marks:
            self.marks[before.key].over = True
        self.marks[self._steps[at].key] = _by_itself(self._steps[at], event)

    def _begin_rests(self) -> None:
        for at in self._rests:
            rest = self._steps[at]
            if rest.key in self.marks:
                continue
            before = self._before(at)
            if _opens_a_rework(rest, before):
                continue
            if before is None:
                if self._started is not None:
                    self.marks[rest.key] = _by_itself(rest, self._started)
                continue
            mark = self.marks.get(before.key)
            if mark is None:
                continue
            coat = before.leaves_film_wet
            began = mark.done if coat else mark.ended(before)
            if began is not None:
                mark.over = mark.over or coat
                self.marks[rest.key] = _by_itself(rest, began)

    def _before(self, at: int) -> Step | None:
        """Return the last step before number ``at`` that was not left out."""
        for number in range(at - 1, -1, -1):
            step = self._steps[number]
            mark = self.marks.get(step.key)
            if mark is None or mark.done is not None:
                return step
        return None


def _opens_a_rework(rest: Step, before: Step | None) -> bool:
    """Tell whether a rest is the first step of a rework: it begins when that is taken, or later."""
    if not rest.is_rework:
        return False
    rework = rest.key.partition("/")[0]
    return before is None or before.key.partition("/")[0] != rework


def _by_itself(rest: Step, began: Event) -> Mark:
    return Mark(done=replace(began, what=StepDone(step=rest.key)), by_itself=True)
