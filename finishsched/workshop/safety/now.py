"""What protects the finisher at this moment, for the faces that say what to do now."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime
from typing import NamedTuple

from finishsched.workshop.base.answers import DueAnswer, PieceView
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.safety.cautions_today import caution_hash, read_today
from finishsched.workshop.safety.rags import RagsAnswer, open_rags
from finishsched.workshop.safety.vapour import before_coats, vapour_answer
from finishsched.workshop.safety.vapour_coat import CoatVapour


class SafetyNow(NamedTuple):
    """Open rags, the vapour, and the cautions that are still to be read today."""

    rags: RagsAnswer
    vapour_line: str
    """One quiet line; empty when there is nothing to say."""
    before: Mapping[str, tuple[str, ...]]
    """By piece whose next coat would pass a limit: what it would do to the air, what helps."""
    read: frozenset[str]
    """Hashes of the cautions that were read today."""

    def new_cautions(self, view: PieceView) -> Iterator[str]:
        """Give the cautions of a piece's step that were not read today."""
        for caution in view.sheet.cautions if view.sheet else ():
            if caution_hash(caution) not in self.read:
                yield caution.text


def safety_now(workshop: Workshop, due: DueAnswer, now: datetime) -> SafetyNow:
    """Return what a person should know of fire and air before the next step."""
    refs = [view.ref for view in due.at_hand if view.state.may_go_on]
    coats = before_coats(workshop, refs, now)
    return SafetyNow(
        rags=open_rags(workshop, now),
        vapour_line=vapour_answer(workshop, now).line,
        before={coat.ref: vapour_warnings(coat) for coat in coats if coat.passes},
        read=read_today(workshop, now),
    )


def vapour_warnings(coat: CoatVapour) -> tuple[str, ...]:
    """Return the warning before a coat that passes a limit, with what helps; else nothing."""
    if not coat.passes:
        return ()
    return (f"{coat.line}; {', or '.join(coat.helps)}", f"{coat.mind} {coat.deferral}")
