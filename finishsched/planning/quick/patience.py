"""How long one walk is gone on with before another is begun."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from finishsched.planning.quick.search import Search


def until_tired(
    step: Callable[[], None],
    patience: int,
    search: Search,
    over: Callable[[], bool],
) -> None:
    """Take steps until so many, one after the other, have brought no better plan.

    Args:
        step: tries another plan.
        patience: how many steps to take in vain.
        search: knows the best plan so far.
        over: tells whether to stop at once.

    """
    tired = 0
    while tired < patience and not over():
        before = search.best_cost
        step()
        tired = 0 if search.best_cost < before else tired + 1
