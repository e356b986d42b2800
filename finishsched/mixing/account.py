"""One account of a coat: of what is used, what the pad keeps, what is lost, what lies there.

Whoever asks how much a coat took, or how thick it lies, asks here: due, need, log, film, drying.
Shares of loss and what a pad holds are columns of the table of verbs.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from finishsched.mixing.amount import Range, pad_charge_ml, used_amount
from finishsched.model.product import Product, RagHabit
from finishsched.model.stock import SAME_STRENGTH
from finishsched.model.verbs import Verb

TOLD_WITHIN = 0.1
"""Amounts are told in two digits: this near to what was told, a dry pad had the difference."""
PAD_KEEPS_S = 7 * 86400.0
"""How long a pad in a closed box stays charged between two uses (common practice: days to weeks;
a week is our assumption)."""
OILY_CLOTH_KEEPS_S = 4 * 3600.0
"""The same where rags heat by themselves: such a pad or cloth is put out safe with them at the end
of the evening, and is never shut in a box (NFPA safety tip sheet on oily rags; four hours for an
evening are our assumption)."""


class CoatAccount(NamedTuple):
    """Where what was used for one coat went; all in the unit of what was used, ml or g."""

    used: float
    in_pad: float
    lost: float
    """On the way: into the cloth, the air as mist, the brush."""
    laid: float
    """On the work, wet."""
    soaked: float = 0.0
    """Into bare wood, of what was more than the coat's own amount."""


class Used(NamedTuple):
    """What the journal says of one coat that was laid."""

    amount_ml: Range | None = None
    """All that was taken for it but what a dry pad kept; None when nobody said."""
    weighed: bool = False
    cut_g_per_l: float | None = None
    """Of the batch that it was taken from."""
    thinned_percent: float | None = None
    shared_by: int = 1
    """How many coats one weighing was spread over: together they tell as much as one."""
    in_pad_ml: float = 0.0
    """What a dry pad kept of all that was taken."""
    words: str = ""
    """The amount as people read it, and what of it a dry pad kept."""


def account_of(
    used: float,
    scheduled: float,
    verb: Verb,
    *,
    by_mass: bool = False,
    soaks: float = 0.0,
    charged: bool = False,
) -> CoatAccount:
    """Return where ``used`` went, of a coat for which ``scheduled`` is to be laid.

    Of what is used beyond the coat's own amount a dry pad takes its charge before the coat grows
    thicker. Then bare wood drinks, and only what is more than that lies on it. Whoever takes just
    what the schedule and the charge come to has laid the schedule's coat. The laid amount never
    falls as more is used.

    Source: our assumption; nobody can see into a pad.

    Args:
        used: ml, or g where ``by_mass``; 0 or more.
        scheduled: in the same unit; 0 or more.
        verb: how it is laid; its row says what is lost and what its pad holds.
        by_mass: True where both are weights, of which no pad is known to hold any.
        soaks: what bare wood drinks at most, in the same unit; 0 or more.
        charged: True for a pad that has its charge already, and takes none.

    """
    expected = used_amount(scheduled, 1.0, 1, verb)
    in_pad = 0.0 if by_mass or charged else kept_by_dry_pad(used, expected, verb)
    reaches = (used - in_pad) * (1 - verb.does.lost_share)
    soaked = min(soaks, max(0.0, reaches - scheduled))
    return CoatAccount(used, in_pad, used - in_pad - reaches, reaches - soaked, soaked)


def is_as_told(amount: float, told: float) -> bool:
    """Tell whether an amount is one that was told: both in one unit, 0 or more."""
    return told * (1 - TOLD_WITHIN) <= amount <= told * (1 + TOLD_WITHIN)


def kept_by_dry_pad(used_ml: float, takes_ml: float, verb: Verb) -> float:
    """Return what a dry pad kept of what was used, in ml.

    Source: our assumption; nobody can see into a pad.

    Args:
        used_ml: ml, 0 or more.
        takes_ml: ml that the coats themselves take, 0 or more.
        verb: how it is laid; its row says what its pad holds.

    """
    held_ml, over_ml = pad_charge_ml(verb), max(0.0, used_ml - takes_ml)
    as_told = used_ml <= (takes_ml + held_ml) * (1 + TOLD_WITHIN)
    return over_ml if held_ml and as_told else min(over_ml, held_ml)


def cut_as_laid(
    step_cut_g_per_l: float | None, sitting_cuts_g_per_l: Iterable[float], jar_g_per_l: float | None
) -> float | None:
    """Return how strong a coat was laid out of a jar, in g/l; None where no cut is known.

    Coats of one step that grow weaker come from one jar of the strongest, let down at the bench;
    from any other jar a coat is as strong as the jar.

    Source: our assumption.

    Args:
        step_cut_g_per_l: what the step states, g of flakes per litre of alcohol, above 0; or None.
        sitting_cuts_g_per_l: of all coats of that step, in the same unit, above 0.
        jar_g_per_l: the jar's, in the same unit, above 0; or None.

    """
    if jar_g_per_l is None or step_cut_g_per_l is None:
        return step_cut_g_per_l if jar_g_per_l is None else jar_g_per_l
    strongest = max(sitting_cuts_g_per_l, default=step_cut_g_per_l)
    is_the_jar_of_the_sitting = abs(jar_g_per_l - strongest) <= SAME_STRENGTH * strongest
    return step_cut_g_per_l if is_the_jar_of_the_sitting else jar_g_per_l


def charges_a_pad(since_last_s: float | None, product: Product | None = None) -> bool:
    """Tell whether a coat charges a fresh pad.

    ``since_last_s`` is the time since the last coat of ``product`` laid in that way on any piece,
    None for the first.
    """
    return since_last_s is None or since_last_s > pad_keeps_s(product)


def pad_keeps_s(product: Product | None) -> float:
    """Return how long a pad or cloth stays charged between two uses, in seconds."""
    heats = product is not None and product.rags is RagHabit.SELF_HEATING
    return OILY_CLOTH_KEEPS_S if heats else PAD_KEEPS_S
