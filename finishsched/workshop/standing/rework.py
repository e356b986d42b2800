"""The steps that a piece is really worked by: its schedule's, and every rework that was taken."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable

from finishsched.journal import events
from finishsched.journal.events import Event
from finishsched.model.plain import from_plain
from finishsched.model.schedule import Schedule
from finishsched.model.step import Step, steps_of


def worked_steps(
    schedule: Schedule | None, live: Iterable[Event], text_of: Callable[[str], str]
) -> tuple[Step, ...]:
    """Return the steps of ``schedule`` with those of every live rework where each was taken.

    ``text_of`` gives the snapshot that a hash names. A schedule adopted since changes its own
    steps only: what was taken up to put a defect right stays. What is worked beside the piece is
    none of its steps.
    """
    written = steps = steps_of(schedule) if schedule else ()
    begun: set[str] = set()
    for event in live:
        what = event.what
        if isinstance(what, events.PieceStarted):
            steps = written
            begun.clear()
        elif isinstance(what, events.StepDone | events.StepSkipped | events.DryReady):
            # A rest begins by itself; that it was found over tells that it had begun.
            begun.add(what.step)
        elif isinstance(what, events.ReworkTaken) and not what.beside:
            from finishsched.checking.defects.rework import (  # noqa: PLC0415  # where one was taken
                Rework,
                entered,
                rework_steps,
            )

            rework = from_plain(Rework, json.loads(text_of(what.rework_hash)))
            steps = entered(steps, rework_steps(rework, what.number), begun)
    return steps
