"""What the checker would say of a piece's remaining work with a rework in it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping

from finishsched.checking.cases import ScheduleCase
from finishsched.checking.defects.rework import Rework, entered, rework_steps
from finishsched.checking.findings import schedule_findings
from finishsched.checking.layers.bare import on_wood
from finishsched.checking.registry import GROUPS, RULES
from finishsched.checking.rule import Severity
from finishsched.model.product import Product
from finishsched.model.schedule import Schedule
from finishsched.model.shop import Shop
from finishsched.model.step import Step

OF_THE_SHOP = frozenset(
    rule.code for group in ("what can hurt", "the shop", "the air") for rule in GROUPS[group]
)
"""What is wrong with the shop and not with the work: told once, it is so for every coat alike."""


class Bearing:
    """What one piece's work bears: the checker judges it with a rework in it, and without."""

    def __init__(
        self,
        schedule: Schedule,
        steps: tuple[Step, ...],
        products: Mapping[str, Product],
        shop: Shop,
        made_of: str = "",
    ) -> None:
        """Take the work as it is, and by what it is judged; ``made_of`` are the piece's woods."""
        self._schedule, self._steps = schedule, steps
        self._products, self._shop, self._made_of = products, shop, made_of
        self._known: dict[tuple[Step, ...], Counter[str]] = {}

    def new_errors(self, rework: Rework, begun: Collection[str]) -> tuple[str, ...]:
        """Return the codes of the errors that a rework would bring into the work, each once.

        ``begun`` holds the keys of the steps that come before it. What the checker finds wrong with
        the piece's own work is no fault of the rework, as long as it does not find it once more.
        """
        known, added = self._errors_of(self._steps), rework_steps(rework, 1)
        if rework.bare:
            # On new wood lies nothing of what was done before: the spot has a stack of its own.
            left = tuple(step for step in self._steps if step.key not in begun)
            known = known | self._errors_of(left)
            after = self._errors(entered(left, added, ()))
        else:
            after = self._errors(entered(self._steps, added, begun))
        new = (code for code, count in after.items() if count > known[code])
        return tuple(sorted(code for code in new if not (known[code] and code in OF_THE_SHOP)))

    def _errors_of(self, work: tuple[Step, ...]) -> Counter[str]:
        """Return the errors of the work without any rework: the same for each that may enter it."""
        if work not in self._known:
            self._known[work] = self._errors(work)
        return self._known[work]

    def _errors(self, work: tuple[Step, ...]) -> Counter[str]:
        case = ScheduleCase(self._schedule, self._products, self._shop, work)
        found = Counter(
            one.code for one in schedule_findings(case) if one.severity is Severity.ERROR
        )
        # What the table of layers has against it where it comes on bare wood.
        bare = (one.pair for one in on_wood(case, self._made_of) if one.pair.is_certain)
        found.update(pair.rule for pair in bare if RULES[pair.rule].severity is Severity.ERROR)
        return found
