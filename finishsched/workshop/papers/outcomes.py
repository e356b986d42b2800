"""What the dry checks of each step found, in words: for the record of a piece."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, tzinfo

from finishsched.journal import events
from finishsched.journal.events import Event
from finishsched.workshop.base.words import verdict_of


def outcomes_of(live: Sequence[Event], zone: tzinfo) -> dict[str, list[str]]:
    """Return by step what its dry checks found; a step done again begins anew."""
    found: dict[str, list[str]] = {}
    done_on: dict[str, date] = {}
    for event in live:
        what = event.what
        if isinstance(what, events.PieceStarted):
            found.clear()
        elif isinstance(what, events.StepDone):
            found.pop(what.step, None)
            done_on[what.step] = event.at.astimezone(zone).date()
        elif isinstance(what, events.DryReady | events.DryNotYet):
            verdict, at = verdict_of(what), event.at.astimezone(zone)
            same_day = done_on.get(what.step) == at.date()
            said = f"{verdict} {at:%H:%M}" if same_day else f"{verdict} {at:%Y-%m-%d %H:%M}"
            found.setdefault(what.step, []).append(f"{said}, {what.note}" if what.note else said)
    return found
