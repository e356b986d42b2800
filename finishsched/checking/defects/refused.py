"""What the checker would say of a piece's remaining work with a rework in it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping

from finishsched.checking.cases import ScheduleCase
from finishsched.checking.defects.rework import entered
from finishsched.checking.findings import schedule_findings
from finishsched.checking.rule import Severity
from finishsched.model.product import Product
from finishsched.model.schedule import Schedule
from finishsched.model.shop import Shop
from finishsched.model.step import Step


def new_errors(  # the work, what enters it, and by what it is judged
    schedule: Schedule,
    steps: tuple[Step, ...],
    added: tuple[Step, ...],
    begun: Iterable[str],
    products: Mapping[str, Product],
    shop: Shop,
) -> tuple[str, ...]:
    """Return the codes of the errors that ``added`` would bring into the work, each once.

    ``begun`` holds the keys of what is done or skipped. What the checker found wrong before is no
    fault of the rework, as long as it does not find it once more.
    """
    before = _errors(ScheduleCase(schedule, products, shop, steps))
    after = _errors(ScheduleCase(schedule, products, shop, entered(steps, added, begun)))
    return tuple(sorted(code for code, count in after.items() if count > before[code]))


def _errors(case: ScheduleCase) -> Counter[str]:
    found = schedule_findings(case)
    return Counter(one.code for one in found if one.severity is Severity.ERROR)
