"""How long one walk is gone on with before another is begun."""

from __future__ import annotations

from collections.abc import Callable

from finishsched.planning.quick.so_far import SoFar


def until_tired(
    step: Callable[[], None],
    patience: int,
    so_far: SoFar,
    over: Callable[[], bool],
) -> None:
    """Take steps until so many, one after the other, have brought no better plan.

    Args:
        step: tries another plan.
        patience: how many steps to take in vain.
        so_far: knows the best plan so far.
        over: tells whether to stop at once.

    """
    tired = 0
    while tired < patience and not over():
        before = so_far.best_cost
        step()
        tired = 0 if so_far.best_cost < before else tired + 1
