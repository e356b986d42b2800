"""What the checker would say of a piece's remaining work with a rework in it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping

from finishsched.checking.cases import ScheduleCase
from finishsched.checking.defects.rework import Rework, entered, rework_steps
from finishsched.checking.findings import schedule_findings
from finishsched.checking.rule import Severity
from finishsched.model.product import Product
from finishsched.model.schedule import Schedule
from finishsched.model.shop import Shop
from finishsched.model.step import Step


def new_errors(  # the work, what enters it, and by what it is judged
    schedule: Schedule,
    steps: tuple[Step, ...],
    rework: Rework,
    begun: Collection[str],
    products: Mapping[str, Product],
    shop: Shop,
) -> tuple[str, ...]:
    """Return the codes of the errors that a rework would bring into the work, each once.

    ``begun`` holds the keys of the steps that come before it. What the checker finds wrong with the
    piece's own work is no fault of the rework, as long as it does not find it once more.
    """

    def errors(work: tuple[Step, ...]) -> Counter[str]:
        return _errors(ScheduleCase(schedule, products, shop, work))

    known, added = errors(steps), rework_steps(rework, 1)
    if rework.bare:
        # On new wood lies nothing of what was done before: the spot has a stack of its own.
        left = tuple(step for step in steps if step.key not in begun)
        known |= errors(left)
        after = errors(entered(left, added, ()))
    else:
        after = errors(entered(steps, added, begun))
    return tuple(sorted(code for code, count in after.items() if count > known[code]))


def _errors(case: ScheduleCase) -> Counter[str]:
    found = schedule_findings(case)
    return Counter(one.code for one in found if one.severity is Severity.ERROR)
