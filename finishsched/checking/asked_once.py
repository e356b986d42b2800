"""What many rules ask of one schedule, worked out once for all of them."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar, cast

from finishsched.checking.cases import ScheduleCase

Answer = TypeVar("Answer")


def asked_once(work: Callable[[ScheduleCase], Answer]) -> Callable[[ScheduleCase], Answer]:
    """Return ``work`` so that it is done once for each schedule, however many rules ask for it."""

    @wraps(work)
    def answer(case: ScheduleCase) -> Answer:
        known = case.worked_out
        if work not in known:
            known[work] = work(case)
        return cast("Answer", known[work])

    return answer
