"""Stretches of time in the exact model, and keeping some of them clear of others."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from ortools.sat.python import cp_model

from finishsched.planning.exact.parts import Draft, Part
from finishsched.planning.window import Window

Interval = cp_model.IntervalVar


class Margin(NamedTuple):
    """Units of the grid by which a stretch is widened."""

    before: int
    after: int


NO_MARGIN = Margin(0, 0)


def interval_of(draft: Draft, part: Part, hands: str, margin: Margin = NO_MARGIN) -> Interval:
    """Return the time that a part takes of one pair of hands, widened by a margin.

    Where others could do it too, the interval is there only if these do.

    Args:
        draft: the model.
        part: one that these hands can do.
        hands: their name.
        margin: units to widen it by.

    """
    start = part.start - margin.before
    end = part.end + margin.after
    size = part.size + (margin.before + margin.after)
    # Only where several can do it does the model have a variable for whose work it is.
    if hands not in part.by:
        return draft.interval(start, size, end)
    literal = part.by[hands]
    if isinstance(size, int):
        return draft.cp.new_optional_fixed_size_interval_var(start, size, literal, "")
    return draft.cp.new_optional_interval_var(start, size, end, literal, "")


def intervals_of(
    draft: Draft,
    parts: Iterable[Part],
    hands: str,
    margin: Margin = NO_MARGIN,
) -> list[Interval]:
    """Return the same for several parts.

    Args:
        draft: the model.
        parts: those that these hands can do.
        hands: their name.
        margin: units to widen each by.

    """
    return [interval_of(draft, part, hands, margin) for part in parts]


def span_min(draft: Draft) -> tuple[int, int]:
    """Return the minutes between which everything lies."""
    return draft.facts.problem.now_min, draft.grid.time_min(draft.horizon)


def blocks_of(draft: Draft, windows: Iterable[Window]) -> list[Interval]:
    """Draw closed hours rounded outwards, joined where that makes them touch.

    Args:
        draft: the model.
        windows: closed hours, in the order of time.

    """
    blocks: list[_Block] = []
    for window in windows:
        start = draft.grid.at_or_before(window.start_min)
        end = draft.grid.at_or_after(window.end_min)
        if blocks and start <= blocks[-1].end:
            last = blocks.pop()
            blocks.append(_Block(last.start, max(last.end, end)))
        else:
            blocks.append(_Block(start, end))
    return [draft.block(block.start, block.end) for block in blocks]


class _Block(NamedTuple):
    """A stretch that does not move, by its marks."""

    start: int
    end: int


def keep_clear(draft: Draft, sharing: list[Interval], alone: list[Interval]) -> None:
    """Let intervals of the first list overlap each other, and none of them one of the second.

    Each of the first takes one of as many places as there are of them; the others, which other
    rules keep from each other, take them all.

    Args:
        draft: the model.
        sharing: stretches that may overlap each other.
        alone: stretches that may not overlap these.

    """
    if sharing and alone:
        places = len(sharing)
        one_each = [1] * places
        all_of_them = [places] * len(alone)
        demands = [*one_each, *all_of_them]
        draft.cp.add_cumulative([*sharing, *alone], demands, places)
