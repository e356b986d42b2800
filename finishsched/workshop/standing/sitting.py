"""A sitting: coats minutes apart on one piece or several, round and round, in one go."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import NamedTuple

from finishsched.journal import events
from finishsched.journal.events import Event, NewEvent
from finishsched.model.step import Step
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.spans import span
from finishsched.workshop.standing.finding import following
from finishsched.workshop.standing.standing import Standing

SHORT_WAIT_S = 30 * 60.0
"""A wait that is likely no longer than this is spent going round, not away (our assumption)."""
ITS_OWN_CHECK = "make the dry check, and log ready or not ready"


class Rhythm(NamedTuple):
    """When the coats of a sitting were laid: told afterwards, so reckoned and not noted."""

    coats: int
    """On each piece."""
    last_at: datetime
    """When the last coat on the last piece was laid."""
    every_s: float
    """From one coat on a piece to the next on the same piece, in seconds."""

    def at(self, turn: int, place: int, pieces: int) -> datetime:
        """Return when coat ``turn`` (from 0) was laid on piece number ``place`` (from 0)."""
        after = (self.coats - 1 - turn) + (pieces - 1 - place) / pieces
        return self.last_at - timedelta(seconds=round(after * self.every_s))


def goes_on(step: Step, following_step: Step | None) -> bool:
    """Tell whether ``following_step`` is the next coat of the same sitting as ``step``.

    It is the same work with the same product, minutes later. Before paper, before a rest and after
    the last coat it is not: there the schedule means a dry check of its own.
    """
    if following_step is None or step.wait is None:
        return False
    same = (step.verb, step.product) == (following_step.verb, following_step.product)
    return same and step.verb.lays_coats and step.wait.likely_s <= SHORT_WAIT_S


def sitting_around(steps: tuple[Step, ...], step: Step) -> tuple[Step, ...]:
    """Return the coats minutes apart, of the steps of a piece, that a coat is one of."""
    # By its number: to compare whole steps takes many times as long.
    numbers = [each.number for each in steps]
    first = last = numbers.index(step.number)
    while first and goes_on(steps[first - 1], steps[first]):
        first -= 1
    while last + 1 < len(steps) and goes_on(steps[last], steps[last + 1]):
        last += 1
    return steps[first : last + 1]


class Sittings(NamedTuple):
    """The coats minutes apart that each step of a piece is one of, by the step's number."""

    left: dict[int, tuple[Step, ...]]
    """Of the steps that are left."""
    whole: dict[int, tuple[Step, ...]]
    """Of all its steps."""
    keys_left: frozenset[str]
    """The keys of those that are left."""


def sittings_of(left: tuple[Step, ...], steps: tuple[Step, ...]) -> Sittings:
    """Return the sittings of a piece, as `sitting_around` finds one, for whoever asks of all.

    Args:
        left: the steps that are left.
        steps: all of them.

    """
    keys_left = frozenset(step.key for step in left)
    return Sittings(_sittings_in(left), _sittings_in(steps), keys_left)


def _sittings_in(steps: tuple[Step, ...]) -> dict[int, tuple[Step, ...]]:
    """Return by the number of each of some steps the coats minutes apart that it is one of."""
    found: dict[int, tuple[Step, ...]] = {}
    run: list[Step] = []
    for step, after in zip(steps, (*steps[1:], None), strict=True):
        run.append(step)
        if not goes_on(step, after):
            whole = tuple(run)
            found.update({each.number: whole for each in whole})
            run.clear()
    return found


def coats_ahead(standing: Standing) -> tuple[Step, ...]:
    """Return the coats that can follow one another on a piece now, without a dry check between.

    None where the step in hand lays no coat, or its wait wants a dry check of its own.
    """
    step, progress = standing.step, standing.progress
    if step is None or progress is None:
        return ()
    steps = standing.steps
    if progress.waiting:
        after = following(steps, step)
        if after is None or not goes_on(step, after):
            return ()
        step = after
    if not step.verb.lays_coats:
        return ()
    found = [step]
    while goes_on(found[-1], following(steps, found[-1])):
        found.append(steps[found[-1].number])
    return tuple(found)


def next_laid(standing: Standing) -> Step | None:
    """Return the next step of a piece that lays a coat; None where none is left."""
    if standing.step is None:
        return None
    waits = standing.progress is not None and standing.progress.waiting
    left = standing.steps[standing.step.number - (0 if waits else 1) :]
    return next((step for step in left if step.verb.lays_coats), None)


def next_coats(standing: Standing, wanted: int = 1) -> tuple[Step, ...]:
    """Return the next ``wanted`` coats of a sitting on a piece.

    Raises:
        RefusedError: when it is not begun, when no coat is in hand, or not so many in one sitting.

    """
    ahead = coats_ahead(standing)
    if len(ahead) >= wanted:
        return ahead[:wanted]
    ref, step, progress = standing.ref, standing.step, standing.progress
    if progress is None:
        raise RefusedError(f"{ref} is not begun", f"finishsched log {ref} start")
    if step is None:
        raise RefusedError(f"{ref} is finished", "log a note or a defect, or undo")
    if not ahead and progress.waiting:
        raise RefusedError(
            f"step {step.number}, {step.title}, is done and has a dry check of its own",
            ITS_OWN_CHECK,
        )
    if not ahead:
        raise RefusedError(
            f"step {step.number}, {step.title}, lays no coat", "log it done by itself first"
        )
    last = ahead[-1]
    after = following(standing.steps, last)
    then = f"step {after.number}, {after.title}" if after else "the end"
    wait = f" after a wait of about {span(last.wait.likely_s)}" if last.wait else ""
    coats = "one coat" if len(ahead) == 1 else f"{len(ahead)} coats"
    raise RefusedError(
        f"{ref} has {coats} left in one sitting: then comes {then}{wait}",
        f"say --coats {len(ahead)}",
    )


def go_on_events(
    standing: Standing, coat: events.StepDone, at: datetime, *, wet: Step | None
) -> tuple[NewEvent, ...]:
    """Return the entries of one coat of a sitting, ``wet`` being the one below it that waits.

    That the next coat went on says that the one below had dried enough.
    """
    laid = NewEvent(at=at, piece=standing.ref, what=coat)
    if wet is None:
        return (laid,)
    glided = events.DryReady(step=wet.key, by=coat.by, told=coat.told, going_on=True)
    return NewEvent(at=at, piece=standing.ref, what=glided), laid


def too_early(coat: Event, live: Sequence[Event], steps: Mapping[str, Step]) -> str:
    """Return in words that a coat of a sitting came sooner than its schedule allows; else empty."""
    glided = [
        event.what.step
        for event in live
        if isinstance(event.what, events.DryReady)
        and event.what.going_on
        and not event.what.told
        and event.seq == coat.seq - 1
    ]
    below = [
        event
        for event in live
        if isinstance(event.what, events.StepDone) and event.what.step in glided
    ]
    wait = steps[glided[0]].wait if glided and glided[0] in steps else None
    if not below or wait is None:
        return ""
    passed_s = (coat.at - below[-1].at).total_seconds()
    if passed_s >= wait.earliest_s:
        return ""
    return (
        f"only {span(passed_s)} after the coat below it, and {span(wait.earliest_s)} is the "
        "earliest: look whether it drags"
    )


def wet_below(standing: Standing) -> Step | None:
    """Return the coat whose short wait runs, and ends with the next one; None for none."""
    progress = standing.progress
    return standing.step if progress is not None and progress.waiting else None


def shares(
    standings: Sequence[Standing], whole: float | None, charge: float = 0.0
) -> list[float | None]:
    """Return what of an amount goes on each piece: by its area, or evenly where none is known.

    ``charge`` is what a dry pad kept of it, which went into the pad with the first piece.
    """
    if whole is None:
        return [None] * len(standings)
    areas = [standing.piece.area_m2 for standing in standings]
    total = sum(areas)
    even = total <= 0 or max(areas) == min(areas)
    parts = [1 / len(areas) if even else area / total for area in areas]
    laid = [(whole - charge) * part for part in parts]
    return [laid[0] + charge, *laid[1:]]
