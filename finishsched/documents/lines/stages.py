"""Where in the work each step stands, when the lines have no headings."""

from __future__ import annotations

from collections.abc import Sequence

from finishsched.documents.lines.said import SaidItem, SaidRounds, SaidStep
from finishsched.model.schedule import StageName, Verb


def staged(items: Sequence[SaidItem]) -> list[tuple[StageName, list[SaidItem]]]:
    """Return the items in stages: by what is said, else by the order of the usual work.

    A stage that was left is never come back to: what follows it stays where the work then is.
    """
    found: list[tuple[StageName, list[SaidItem]]] = []
    for position, item in enumerate(items):
        stage = _said(item) or _usual(items, position)
        left = {name for name, _ in found[:-1]}
        if stage in left:
            stage = found[-1][0]
        if not found or found[-1][0] is not stage:
            found.append((stage, []))
        found[-1][1].append(item)
    return found


def _said(item: SaidItem) -> StageName | None:
    steps = item.steps if isinstance(item, SaidRounds) else [item]
    return next((step.stage for step in steps if step.stage is not None), None)


def _usual(items: Sequence[SaidItem], position: int) -> StageName:
    """Return the stage by the trade's order of work (common practice, no source)."""
    verbs = _verbs(items[position])
    coats_after = any(_lays(item) for item in items[position + 1 :])
    coats_before = any(_lays(item) for item in items[:position])
    if not coats_before and not _lays(items[position]):
        return StageName.FILL if Verb.FILL in verbs else StageName.PREPARE
    if _lays(items[position]):
        return _stage_of_coats(items, position, coats_before=coats_before, coats_after=coats_after)
    at_the_end = StageName.BODY if coats_after else StageName.LEVEL
    if Verb.REST in verbs and coats_after:
        return at_the_end
    return next((verb.does.stage for verb in verbs if verb.does.stage is not None), at_the_end)


def _stage_of_coats(
    items: Sequence[SaidItem], position: int, *, coats_before: bool, coats_after: bool
) -> StageName:
    item = items[position]
    if isinstance(item, SaidRounds):
        return StageName.BODY
    if not coats_before and item.coats == 1 and coats_after:
        return StageName.SEAL
    thins = "thin_to" in item.values or item.thin_by is not None
    if thins and coats_before and not coats_after:
        return StageName.POLISH
    return StageName.BODY


def _verbs(item: SaidItem) -> list[Verb]:
    steps = item.steps if isinstance(item, SaidRounds) else [item]
    return [step.verb for step in steps if step.verb is not None]


def _lays(item: SaidItem) -> bool:
    steps = item.steps if isinstance(item, SaidRounds) else [item]
    return any(_step_lays(step) for step in steps)


def _step_lays(step: SaidStep) -> bool:
    return step.verb is not None and step.verb.lays_coats
