"""What a coat takes from its jar where nobody said how much: by its schedule, and marked so."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from finishsched.journal.events import StepDone
from finishsched.journal.shelf import Shelf
from finishsched.mixing.account import charges_a_pad
from finishsched.mixing.amount import pad_charge_ml, used_amount
from finishsched.mixing.need import jar_share
from finishsched.model.step import Step
from finishsched.model.stock import Batch
from finishsched.workshop.standing.standing import Standing


def reckoned(
    done: StepDone,
    standing: Standing,
    others: Iterable[Standing] | None,
    shelved: Shelf,
    at: datetime,
) -> StepDone:
    """Return the entry with what the coat likely took, where its jar is named and no amount.

    Where the schedule states no amount, or the jar is not on the shelf, it is as it was. One of
    ``others`` may have charged the pad already; with None it surely is.
    """
    thing = shelved.find(done.batch) if done.batch else None
    step = next((one for one in standing.steps if one.key == done.step), None)
    said = done.amount_ml is not None or done.amount_g is not None
    if thing is None or said or step is None or step.spread is None:
        return done
    area_m2 = standing.piece.area_m2
    if step.spread.g_per_m2 is not None:
        grams = used_amount(step.spread.g_per_m2, area_m2, 1, step.verb)
        return replace(done, amount_g=grams, reckoned=True)
    coat_ml = used_amount(step.spread.ml_per_m2 or 0.0, area_m2, 1, step.verb)
    if others is not None and charges_a_pad(_since_last_s(step, others, at)):
        coat_ml += pad_charge_ml(step.verb)
    return replace(done, amount_ml=coat_ml * _share(step, thing), reckoned=True)


def _share(step: Step, thing: object) -> float:
    """Return how much of a stronger jar goes into the coat, the rest of which is alcohol."""
    cut, jar = step.cut_g_per_l, thing.cut_g_per_l if isinstance(thing, Batch) else None
    return jar_share(cut, jar) if cut and jar and jar > cut else 1.0


def _since_last_s(step: Step, others: Iterable[Standing], at: datetime) -> float | None:
    """Return the time since the last coat of the same product laid in the same way anywhere."""
    laid = [
        event.at
        for standing in others
        if standing.progress is not None
        for one, event in standing.progress.done
        if (one.product, one.verb) == (step.product, step.verb) and event.at <= at
    ]
    return (at - max(laid)).total_seconds() if laid else None
