"""What a defect and its causes are, as the catalogue writes them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from finishsched.checking.defects.seen import Seen
from finishsched.checking.defects.signs import Sign
from finishsched.model.kinds import SHELLACS
from finishsched.model.product import ProductKind

STRONG = 2.0
"""Log-odds: a sign that speaks fully makes the cause about 7 times as likely (our assumption)."""
SEEN_SO = 3.0
"""About 20 times: what a maker sees and says, which is more than the log can tell."""
FAIR = 1.2
"""About 3 times."""
SLIGHT = 0.6
"""About twice; a slight sign speaks for a cause when it is there, and says nothing when not."""


ALCOHOL_BORNE = frozenset((*SHELLACS, ProductKind.ALCOHOL))
"""What alcohol carries, and what water in it spoils."""


@dataclass(frozen=True, slots=True)
class Cause:
    """One thing that may have made it."""

    id: str
    words: str
    often: float
    """How often it is the cause when nothing else is known, beside the others of its defect."""
    look: str
    """What to look at, to tell it from the others."""
    reworks: tuple[str, ...]
    """The ways to put it right, the best first, by the names in ``options``."""
    speaks: Mapping[Sign, float] = field(default_factory=lambda: MappingProxyType({}))
    """How much each sign speaks for it, in log-odds at its full grade; below zero against."""
    of: frozenset[ProductKind] = frozenset()
    """The kinds of product that it can befall; empty for all."""

    def can_be_of(self, kind: ProductKind | None) -> bool:
        """Tell whether it can befall a coat of ``kind``; None for not known."""
        return kind is None or not self.of or kind in self.of


@dataclass(frozen=True, slots=True)
class Defect:
    """One defect of the catalogue. All of it is common practice, no source, unless it says so."""

    seen: Seen
    looks: str
    """What it looks like, in a sentence."""
    causes: tuple[Cause, ...]
    source: str = "common practice, no source"
