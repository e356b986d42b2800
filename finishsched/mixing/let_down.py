"""Coats that grow weaker one by one: from a jar of the strongest, let down at the bench."""

from __future__ import annotations

from collections.abc import Iterable

from finishsched.mixing.account import cut_as_laid
from finishsched.mixing.cut import DISSOLVED_G_PER_ML
from finishsched.model.step import Step


def jar_share(cut_g_per_l: float, jar_cut_g_per_l: float) -> float:
    """Return the share of a weaker cut that comes from the stronger jar; the rest is alcohol.

    Source: TT-S-300A, Shellac, Cut, 1977; the balance of masses and volumes, flakes adding volume
    at 1.20 g/ml.

    Args:
        cut_g_per_l: g of flakes per litre of alcohol, above 0.
        jar_cut_g_per_l: in the same unit, no less than ``cut_g_per_l`` for a share up to 1.

    """
    flakes_g_per_ml = cut_g_per_l / 1000 / (1 + cut_g_per_l / 1000 / DISSOLVED_G_PER_ML)
    in_jar = jar_cut_g_per_l / 1000 / (1 + jar_cut_g_per_l / 1000 / DISSOLVED_G_PER_ML)
    return flakes_g_per_ml / in_jar


def as_laid(step: Step, steps: Iterable[Step], jar_g_per_l: float | None) -> float | None:
    """Return how strong ``step`` was laid out of a jar, in g/l; None for no cut.

    Source: our assumption, as in ``account.cut_as_laid``.

    Args:
        step: the coat.
        steps: of its schedule, itself among them.
        jar_g_per_l: the jar's g of flakes per litre of alcohol, above 0; or None.

    """
    mine = sitting_of(step)
    cuts = (one.cut_g_per_l for one in steps if sitting_of(one) == mine and one.cut_g_per_l)
    return cut_as_laid(step.cut_g_per_l, cuts, jar_g_per_l)


def jar_cut(step: Step, steps: Iterable[Step]) -> float:
    """Return the cut of the jar that a coat of a cut comes out of: its step's strongest coat's.

    Source: our assumption, as in ``account.cut_as_laid``.

    Args:
        step: the coat, of a cut in g of flakes per litre of alcohol.
        steps: of its schedule, itself among them.

    """
    return jar_cuts([step, *steps])[sitting_of(step)]


def jar_cuts(steps: Iterable[Step]) -> dict[str, float]:
    """Return for each sitting the cut of its jar, in g/l: its strongest coat's.

    Source: our assumption, as in ``account.cut_as_laid``.

    Args:
        steps: of one schedule; those without a cut are passed over.

    """
    cuts: dict[str, float] = {}
    for step in steps:
        if step.cut_g_per_l is not None:
            cuts[sitting_of(step)] = max(cuts.get(sitting_of(step), 0.0), step.cut_g_per_l)
    return cuts


def sitting_of(step: Step) -> str:
    """Return what the coats of one step in one round have in common.

    Source: the keys of steps, by definition.

    Args:
        step: any of them.

    """
    return step.key.rpartition(".")[0]
