"""What the table of layers says of a piece as it was really laid, at the times that were logged."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import datetime
from itertools import pairwise

from finishsched.checking.cases import PieceCase, ScheduleCase
from finishsched.checking.defects.catalogue import RULES_ASKED
from finishsched.checking.layers.stack import Verdict, verdicts
from finishsched.checking.registry import RULES
from finishsched.checking.rule import Found, Rule
from finishsched.model.schedule import Wait
from finishsched.model.step import Step, steps_of
from finishsched.workshop.base.documents import Papers
from finishsched.workshop.standing.standing import Standing

MOST_TOLD = 3
"""More sentences are not read at the bench."""
APART = ("filler", "glue", "wax")
"""Layers whose fault shows otherwise than that of a film, an oil or a colour."""
LAYER_RULES = frozenset({"too-soon-over"})
"""What is told apart by its layers."""


def layers_against(
    papers: Papers, standing: Standing, upto: Step | None, at: datetime
) -> tuple[str, ...]:
    """Return what speaks against the layers of a piece laid by ``at``, up to a step, newest first.

    Each in a sentence with what mends it; none where the table has nothing against them.
    """
    case = _case_as_laid(papers, standing, upto, at)
    if case is None:
        return ()
    told = [f"{found.message}; {found.pair.mend}" for found in verdicts(case)]
    return tuple(dict.fromkeys(reversed(told)))[:MOST_TOLD]


def wrongs_of(
    papers: Papers, standing: Standing, upto: Step | None, at: datetime
) -> Mapping[str, str] | None:
    """Return what the checker finds in a piece's work as it was logged by ``at``, by its rule.

    Only the rules are asked that speak for a cause of some defect. What the table of layers tells
    is named apart where it is about filler, glue or wax: ``too-soon-over filler``.
    """
    case = _case_as_laid(papers, standing, upto, at)
    if case is None:
        return None
    piece = PieceCase(standing.piece, case)
    found: dict[str, str] = {}
    for verdict in verdicts(case):
        found.setdefault(_code(verdict), verdict.message)
    for code in sorted(RULES_ASKED & RULES.keys() - found.keys() - LAYER_RULES):
        first = next(_found(RULES[code], piece), None)
        if first is not None:
            found[code] = first.message
    return found


def _found(rule: Rule, piece: PieceCase) -> Iterator[Found]:
    if rule.on_schedule is not None:
        yield from rule.on_schedule(piece.schedule)
    if rule.on_piece is not None:
        yield from rule.on_piece(piece)


def _code(verdict: Verdict) -> str:
    above = verdict.above.kind
    for matter in (verdict.below.matter.partition(".")[0], above.value if above else ""):
        if matter in APART:
            return f"{verdict.pair.rule} {matter}"
    return verdict.pair.rule


def _case_as_laid(
    papers: Papers, standing: Standing, upto: Step | None, at: datetime
) -> ScheduleCase | None:
    """Return a piece's work as it was really laid by ``at``; None where it is not begun."""
    if standing.schedule is None or standing.progress is None:
        return None
    steps = tuple(_as_laid(standing, upto, at))
    return ScheduleCase(standing.schedule, papers.products, papers.shop, steps)


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
