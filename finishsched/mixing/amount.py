"""How much of a material a coat takes, over what it leaves on the surface."""

from __future__ import annotations

from finishsched.model.schedule import Verb

LOSS_SHARE = {
    Verb.PAD: 0.10,
    Verb.WIPE: 0.10,
    Verb.SPIRIT_OFF: 0.10,
    Verb.BRUSH: 0.15,
    Verb.SPRAY: 0.50,
}
"""Share of what is used that never reaches the surface. Brush 10-15 %, conventional spray up to
50 %: coatings texts. Pad and cloth 5-10 %: our assumption."""

PAD_HOLDS_ML = {Verb.PAD: 10.0, Verb.WIPE: 5.0, Verb.SPIRIT_OFF: 5.0}
"""What stays in the pad or cloth at the end: our assumption."""


def used_amount(laid_per_m2: float, area_m2: float, coats: int, verb: Verb) -> float:
    """Return what is used to lay ``laid_per_m2`` on ``area_m2`` in ``coats`` coats.

    In the unit of ``laid_per_m2`` without its area (ml or g), losses counted, the pad's own
    charge not. Additive over areas and coats.
    """
    return laid_per_m2 * area_m2 * coats / (1 - LOSS_SHARE.get(verb, 0.0))


def pad_charge_ml(verb: Verb) -> float:
    """Return what the pad or cloth holds at the end of a sitting, in millilitres."""
    return PAD_HOLDS_ML.get(verb, 0.0)
