"""What stands on the shelf: lots as bought, and batches mixed from them."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from itertools import count
from typing import TypeAlias

from finishsched.model.recipe import Weighed


@dataclass(frozen=True, slots=True)
class Lot:
    """One purchase of a product, with what is left of it: by weight or by volume, as bought."""

    name: str
    product: str
    bought_at: datetime
    had_g: float | None = None
    left_g: float | None = None
    had_ml: float | None = None
    left_ml: float | None = None
    short: bool = False
    """True when more was taken than there was, and nobody has counted since."""

    @property
    def left(self) -> float:
        """What is left, in grams or millilitres as bought."""
        return (self.left_ml if self.left_g is None else self.left_g) or 0.0

    @property
    def had(self) -> float:
        """What was bought, in the same unit."""
        return (self.had_ml if self.left_g is None else self.had_g) or 0.0

    def with_left(self, left: float) -> Lot:
        """Return the lot with so much left, in the same unit."""
        if self.left_g is None:
            return replace(self, left_ml=left)
        return replace(self, left_g=left)


HARD_OVERNIGHT_S = 16 * 3600.0
"""A drop of good shellac is hard within hours, overnight at most (common practice, no source)."""
TEST_HOLDS = timedelta(days=30)
"""For so long a drop that went hard stands for its jar (our assumption)."""


@dataclass(frozen=True, slots=True)
class DropTest:
    """A drop of a batch on glass: when it was put there, and after how long it was hard."""

    at: datetime
    hard_after_s: float | None
    """None where it was still soft the next day."""

    @property
    def passed(self) -> bool:
        """True where it went hard overnight or sooner."""
        return self.hard_after_s is not None and self.hard_after_s <= HARD_OVERNIGHT_S


@dataclass(frozen=True, slots=True)
class Batch:
    """Something mixed on a date, with what is left of it."""

    name: str
    product: str
    """What was dissolved or thinned."""
    mixed_at: datetime
    made_ml: float
    left_ml: float
    cut_g_per_l: float | None = None
    thinned_percent: float | None = None
    lots: tuple[str, ...] = ()
    """The lots that went into it."""
    parts: tuple[Weighed, ...] = ()
    """What went into it by its recipe."""
    short: bool = False
    """True when more was taken than there was, and nobody has counted since."""
    tested: DropTest | None = None
    """The newest drop on glass."""


Thing: TypeAlias = Lot | Batch
"""Something that stands on the shelf. Lots and batches share one set of names."""

EMPTY_BELOW = 0.05
"""In grams or millilitres: less than a drop is nothing."""
DREGS_SHARE = 0.02
"""What clings to the glass: less than a fiftieth of what there was (our assumption)."""


def is_empty(left: float, had: float) -> bool:
    """Tell whether nothing can be taken from a lot or batch any more; both in its own unit."""
    return left < max(EMPTY_BELOW, had * DREGS_SHARE)


def next_jar(names: Collection[str]) -> str:
    """Return the first ``jar N`` that no lot or batch of some ``names`` is called."""
    return next(name for number in count(1) if (name := f"jar {number}") not in names)


SAME_STRENGTH = 0.05
"""A twentieth of a cut is less than a kitchen measure tells apart (our assumption)."""


def same_strength(batch: Batch, cut_g_per_l: float | None, thinned_percent: float | None) -> bool:
    """Tell whether ``batch`` is of that cut or thinning, as near as a shop can measure."""
    if cut_g_per_l is not None and batch.cut_g_per_l is not None:
        return abs(batch.cut_g_per_l / cut_g_per_l - 1) <= SAME_STRENGTH
    return abs((batch.thinned_percent or 0.0) - (thinned_percent or 0.0)) <= 100 * SAME_STRENGTH
