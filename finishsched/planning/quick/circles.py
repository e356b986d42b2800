"""Joining blocks that wait for each other in a circle: none can go first, so all go as one.

The way is Tarjan's (Depth-first search and linear graph algorithms, SIAM Journal on Computing,
1972; from memory): from each block go on to those it waits for, and note how far back on the way
one can come again. Where no block before it can be reached, everything since is one circle.
"""

from __future__ import annotations

from collections.abc import Iterator


def without_circles(roots: list[int], graph: list[list[int]]) -> list[int]:
    """Return roots with all blocks joined that wait for each other in a circle.

    Args:
        roots: by activity, the one that stands for its block.
        graph: by root, those of the blocks that it waits for.

    Returns:
        By activity, the one that stands for its joined block.

    """
    search = _Search(graph)
    for first in dict.fromkeys(roots):
        search.go_from(first)
    return [search.joined[root] for root in roots]


class _Search:
    """The way through the blocks, and what has been found of circles."""

    def __init__(self, graph: list[list[int]]) -> None:
        self.graph = graph
        self.joined: dict[int, int] = {}
        """The block that stands for the circle of each, once it is known."""
        self._depth: dict[int, int] = {}
        """How many blocks were met before each."""
        self._low: dict[int, int] = {}
        """The least depth that each can come back to."""
        self._path: list[int] = []
        """The blocks met, those apart whose circle is known."""
        self._walk: list[tuple[int, Iterator[int]]] = []
        """The way from the first block to here, with those that each has still to look at."""

    def go_from(self, first: int) -> None:
        """Walk from a block through all that it waits for, as far as that was not walked yet."""
        if first in self._depth:
            return
        self._enter(first)
        while self._walk:
            block, others = self._walk[-1]
            other = next((each for each in others if each not in self.joined), None)
            if other is None:
                self._leave(block)
            elif other not in self._depth:
                self._enter(other)
            else:
                self._low[block] = min(self._low[block], self._depth[other])

    def _enter(self, block: int) -> None:
        """Go on to a block that was not met before."""
        depth = len(self._depth)
        self._depth[block] = depth
        self._low[block] = depth
        self._path.append(block)
        others = iter(self.graph[block])
        self._walk.append((block, others))

    def _leave(self, block: int) -> None:
        """Go back, and where the block comes back to nothing before it, close its circle."""
        self._walk.pop()
        if self._walk:
            above, _ = self._walk[-1]
            self._low[above] = min(self._low[above], self._low[block])
        comes_back_to_itself = self._low[block] == self._depth[block]
        if comes_back_to_itself:
            while block not in self.joined:
                last = self._path.pop()
                self.joined[last] = block
