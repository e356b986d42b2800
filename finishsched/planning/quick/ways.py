"""In which ways windows tie what is placed together, and what places by each of them."""

from __future__ import annotations

from itertools import chain
from typing import NamedTuple

from finishsched.planning.numbers.inner import Inner
from finishsched.planning.quick.blocks import Blocks, blocks_of
from finishsched.planning.quick.forward import Forward
from finishsched.planning.quick.keys import ORDERLY_RULE, Pressure
from finishsched.planning.quick.ordering import bare_of

WIDE_MIN = 120
"""Windows from this width on can be kept by the order alone: a coat need not follow at once."""


class WaysToTie:
    """The blocks of a problem in each way to tie windows, made when they are needed.

    A way is known by its number, its mode; the one that mostly does best has the number 0.
    """

    def __init__(self, inner: Inner) -> None:
        """Know which ways differ in this problem."""
        self._inner = inner
        self.ties = _ways_to_tie(inner)
        """By mode, whether windows that can be mended tie too."""
        self._blocks: dict[int, Blocks] = {}
        self._forward: dict[int, tuple[Forward, Pressure]] = {}

    def blocks(self, mode: int) -> Blocks:
        """Return the blocks with windows tied in one way."""
        if mode not in self._blocks:
            self._blocks[mode] = blocks_of(self._inner, keep_soft=self.ties[mode])
        return self._blocks[mode]

    @property
    def blocks_in_each(self) -> list[Blocks]:
        """Return the blocks with windows tied in each way."""
        return [self.blocks(mode) for mode in range(len(self.ties))]

    def forward(self, mode: int) -> tuple[Forward, Pressure]:
        """Return how to place forward in time with windows tied in one way."""
        if mode not in self._forward:
            blocks = self.blocks(mode)
            forward = Forward(self._inner, blocks)
            pressure = Pressure(self._inner, blocks)
            self._forward[mode] = forward, pressure
        return self._forward[mode]


def _ways_to_tie(inner: Inner) -> list[bool]:
    """Return whether windows that can be mended are left loose, or tied; both where any can.

    Loose ones come first where dust and wet keep apart: there it seldom pays to hurry a coat.
    """
    marks = chain.from_iterable(inner.marks)
    stirs = any(not track & 1 for track, _ in marks)
    loose_first = stirs and any(bare_of(inner))
    windows = chain.from_iterable(inner.windows)
    any_can_be_mended = any(remedy >= 0 for _, _, remedy in windows)
    tied_first = not loose_first
    if any_can_be_mended:
        return [tied_first, loose_first]
    return [tied_first]


class Orderly(NamedTuple):
    """How a maker would do it: dry work first, wet last, sittings in one go."""

    forward: Forward
    pressure: Pressure
    keys: list[int]


def orderly(inner: Inner) -> Orderly:
    """Return how to place forward in time by the plainest of the rules, sittings in one go."""
    blocks = blocks_of(inner, keep_soft=True, soft_below_min=WIDE_MIN)
    pressure = Pressure(inner, blocks)
    return Orderly(Forward(inner, blocks), pressure, pressure.keys(ORDERLY_RULE))
