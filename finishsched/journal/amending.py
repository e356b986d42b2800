"""An entry as it is told otherwise later: the first telling stays in the journal."""

from __future__ import annotations

import dataclasses
from dataclasses import replace
from typing import Any

from finishsched.journal.events import Amended, Event, Payload, StepDone


def amended(event: Event, amendment: Event) -> Event:
    """Return ``event`` as ``amendment`` tells it; what an entry of its kind has not is passed over.

    An amount by weight takes the place of one by volume, and the other way round.
    """
    told = amendment.what
    if not isinstance(told, Amended):
        return event
    changes: dict[str, Any] = {"by": told.hands, "batch": told.batch, "took_min": told.took_min}
    changes = {name: value for name, value in changes.items() if value is not None}
    if told.amount_ml is not None or told.amount_g is not None:
        changes |= {"amount_ml": told.amount_ml, "amount_g": told.amount_g, "reckoned": False}
        changes |= {"mixed_ml": None, "let_down_ml": _let_down_ml(event.what, told)}
    if told.batch:
        changes |= {"jar_told": False}
    known = {field.name for field in dataclasses.fields(event.what)}
    what: Any = replace(event.what, **{k: v for k, v in changes.items() if k in known})
    return replace(event, at=told.at or event.at, what=what)


def _let_down_ml(done: Payload, told: Amended) -> float:
    """Return the alcohol in an amount told otherwise: as large a share of it as before."""
    if not isinstance(done, StepDone) or not done.amount_ml or not told.amount_ml:
        return 0.0
    return done.let_down_ml * told.amount_ml / done.amount_ml
