"""What the table of layers says of a piece as it was really laid, at the times that were logged."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from itertools import pairwise

from finishsched.checking.cases import ScheduleCase
from finishsched.checking.layers.stack import verdicts
from finishsched.model.schedule import Wait
from finishsched.model.step import Step, steps_of
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.standing.standing import Standing

MOST_TOLD = 3


def layers_against(
    papers: Papers, standing: Standing, upto: Step | None, at: datetime
) -> tuple[str, ...]:
    """Return what speaks against the layers of a piece laid by ``at``, up to a step, newest first.

    Each in a sentence with what mends it; none where the table has nothing against them.
    """
    if standing.schedule is None or standing.progress is None:
        return ()
    case = ScheduleCase(
        standing.schedule, papers.products, papers.shop, tuple(_as_laid(standing, upto, at))
    )
    told = [f"{found.message}; {found.pair.mend}" for found in verdicts(case)]
    return tuple(dict.fromkeys(reversed(told)))[:MOST_TOLD]


def _as_laid(standing: Standing, upto: Step | None, at: datetime) -> Iterator[Step]:
    """Give the steps that were done, each with the wait that it really had."""
    assert standing.schedule is not None  # noqa: S101
    known = {step.key for step in steps_of(standing.schedule)}
    last = upto.number if upto is not None else len(standing.steps)
    done = [
        (step, event.at)
        for step, event in (standing.progress.done if standing.progress else ())
        if event.at <= at and step.number <= last and (step.is_rework or step.key in known)
    ]
    for (step, laid_at), (_, next_at) in pairwise([*done, (None, at)]):
        if step is not None:
            waited_s = max(0.0, (next_at - laid_at).total_seconds())
            yield replace(step, wait=Wait(waited_s, waited_s))
