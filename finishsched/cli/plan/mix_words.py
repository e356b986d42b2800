"""The mixes of a plan as JSON values, for every command that tells them."""

from __future__ import annotations

from typing import Any

from finishsched.journal.events import utc_text
from finishsched.workshop.plan.pots import PlannedMix


def mix_data(mix: PlannedMix) -> dict[str, Any]:
    """Return one mix of what does not keep as JSON values."""
    return {
        "product": mix.product,
        "title": mix.title,
        "thinned_percent": mix.thinned_percent,
        "pieces": list(mix.refs),
        "steps": list(mix.keys),
        "begun": utc_text(mix.begun),
        "done": utc_text(mix.done),
        "good_until": utc_text(mix.good_until),
        "amount_g" if mix.by_mass else "amount_ml": mix.amount,
    }
