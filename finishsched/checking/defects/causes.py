"""What a defect and its causes are, and how much what is known of a piece speaks for each."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from finishsched.checking.defects.evidence import Evidence
from finishsched.checking.defects.seen import Seen
from finishsched.checking.defects.signs import Sign
from finishsched.model.product import ProductKind
from finishsched.model.schedule import Verb

PLAIN = 3.0
"""Log-odds: about 20 times, what a maker sees and says, which is more than the log can tell."""
STRONG = 2.0
"""A sign that speaks fully makes the cause about 7 times as likely (our assumption)."""
FAIR = 1.2
"""About 3 times."""
TOLD = 2.5
"""What a maker says of how it came, beside what the log knows."""
NAMED = 4.0
"""What a maker says that is all but the cause by its name."""
SLIGHT = 0.6
"""About twice; a slight sign speaks for a cause when it is there, and says nothing when not."""

NOTHING: Mapping[Sign, float] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Cause:
    """One thing that may have made it: a row of the table, as it holds for one defect."""

    id: str
    words: str
    often: float
    """How often it is the cause when nothing else is known, beside the others of its defect."""
    look: str
    """What to look at, to tell it from the others."""
    reworks: tuple[str, ...]
    """The ways to put it right, the best first, by the names in ``options``."""
    speaks: Mapping[Sign, float] = field(default_factory=lambda: NOTHING)
    """How much each sign speaks for it, in log-odds at its full grade; below zero against."""
    needs: tuple[tuple[Sign, ...], ...] = ()
    """What must have been for it: of each, one sign."""
    rules: tuple[str, ...] = ()
    """Rules of the checker that, found in the work as logged, speak strong for it."""
    told: Mapping[str, float] = field(default_factory=dict)
    """What maker's words may mean, by the names of ``words.txt``, and how much that speaks."""
    of: frozenset[ProductKind] = frozenset()
    """The kinds of product that it can befall; empty for all."""
    only_said: bool = False
    """No log shows it: it is named where somebody says what names it, and nowhere else."""
    by: frozenset[Verb] = frozenset()
    """The ways of laying that it can come of; empty for all."""
    source: str = ""
    again: str = ""
    """What is done otherwise where a way lays coats again; empty for as before."""
    colour_again: str = ""
    """The same where it lays the colour of the wood again."""
    thinned_again: float = 0.0
    """Share that is taken off the cut, or thinned further, where it lays coats again."""

    def can_befall(self, evidence: Evidence) -> bool:
        """Tell whether it can befall what was laid, as it was laid; what is not known may be."""
        if evidence.laid is False:
            return not self.of and not self.by
        of_kind = evidence.kind is None or not self.of or evidence.kind in self.of
        return of_kind and (evidence.verb is None or not self.by or evidence.verb in self.by)


@dataclass(frozen=True, slots=True)
class Defect:
    """One defect of the catalogue."""

    seen: Seen
    looks: str
    """What it looks like, in a sentence."""
    causes: tuple[Cause, ...]
