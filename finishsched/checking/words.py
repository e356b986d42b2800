"""Figures in the sentences of findings."""

from __future__ import annotations

from finishsched.checking.cases import DAY_S, HOUR_S, LB_G_PER_L


def duration(seconds: float) -> str:
    """Return a length of time in words, no finer than they are known: ``90 min``, ``2.5 h``."""
    if seconds <= 0:
        return "no time"
    if seconds < 2 * HOUR_S:
        return f"{seconds / 60:.0f} min"
    if seconds < 2 * DAY_S:
        return f"{seconds / HOUR_S:.3g} h"
    return f"{seconds / DAY_S:.3g} days"


def cut(g_per_l: float) -> str:
    """Return a cut as the trade says it: ``2-lb cut``."""
    return f"{g_per_l / LB_G_PER_L:.3g}-lb cut"
