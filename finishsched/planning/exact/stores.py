"""The exact model's rules about stores: no more is held at once than there is."""

from __future__ import annotations

from typing import NamedTuple

from finishsched.planning.exact.intervals import Interval
from finishsched.planning.exact.parts import Draft, Part, Value
from finishsched.planning.exact.past import past_holds
from finishsched.planning.problem import Store, Use


class _Row(NamedTuple):
    """How much of a store is held, and when."""

    interval: Interval
    amount: int


def draw_store(draft: Draft, store: Store) -> None:
    """Hold what is taken of a store within its capacity, by what is done and what is to do.

    Args:
        draft: the model.
        store: its name, and how much there is of it.

    """
    rows = _held_by_past(draft, store)
    for part in draft.parts.values():
        for use in part.activity.uses:
            if use.store != store.name or not use.amount:
                continue
            interval = _held(draft, part, use)
            if interval is not None:
                rows.append(_Row(interval, use.amount))
    if not rows:
        return
    intervals = [row.interval for row in rows]
    # A press for one piece at a time is a machine: for these the solver has a stronger argument.
    amounts = [row.amount for row in rows]
    one_at_a_time = store.capacity == 1 and max(amounts) == 1
    if one_at_a_time:
        draft.machines = True
        draft.cp.add_no_overlap(intervals)
    else:
        draft.cp.add_cumulative(intervals, amounts, store.capacity)


def _held(draft: Draft, part: Part, use: Use) -> Interval | None:
    """Return when a part holds what it uses; None where that takes no time.

    Args:
        draft: the model.
        part: what uses it.
        use: how much, and for how long.

    """
    start = part.start if use.from_start else part.end
    if use.until is not None and use.until in draft.parts:
        end = _until(draft, part, use.until)
        size = draft.cp.new_int_var(0, draft.horizon, "")
        return draft.cp.new_interval_var(start, size, end, "")
    is_given_back = use.until in draft.facts.done
    hold = 0 if is_given_back else draft.grid.up(use.hold_min)
    held = part.size + hold if use.from_start else hold
    if isinstance(held, int) and held == 0:
        return None
    return draft.interval(start, held, part.end + hold)


def _until(draft: Draft, part: Part, until: str) -> Value:
    """Return the end of what is held until another starts, and at least to the part's own end.

    Args:
        draft: the model.
        part: what uses the store.
        until: the activity that ends it.

    """
    other = draft.parts[until]
    key = part.activity.key
    for lag in draft.facts.lags:
        is_between_them = lag.before == key and lag.after == until
        if is_between_them and lag.least_min >= 0:
            return other.start
    end = draft.cp.new_int_var(0, draft.horizon, "")
    draft.cp.add_max_equality(end, [part.end, other.start])
    return end


def _held_by_past(draft: Draft, store: Store) -> list[_Row]:
    """Return what done activities still hold; no more than there is, for the past is not judged.

    Args:
        draft: the model.
        store: its name, and how much there is of it.

    """
    grid = draft.grid
    now = grid.at_or_before(draft.facts.problem.now_min)
    holds = past_holds(draft.facts, store.name)
    left = store.capacity
    rows: list[_Row] = []
    for hold in holds.until_a_start:
        # How long it is held hangs on when the activity that ends it starts.
        taken = min(hold.amount, left)
        if taken:
            size = draft.cp.new_int_var(0, draft.horizon, "")
            end = _until_after(draft, hold.end_min, hold.until)
            interval = draft.cp.new_interval_var(now, size, end, "")
            rows.append(_Row(interval, taken))
        left -= taken
    if not left:
        return rows
    for step in holds.steps:
        start = grid.at_or_before(step.start_min)
        end_mark = grid.at_or_after(step.end_min)
        block = draft.block(start, end_mark)
        rows.append(_Row(block, min(step.amount, left)))
    return rows


def _until_after(draft: Draft, end_min: int, until: str) -> Value:
    """Return the end of what something done holds until another starts, and to its own end.

    Args:
        draft: the model.
        end_min: when what is done ended.
        until: the activity that ends what it holds.

    """
    start = draft.parts[until].start
    own_end = draft.grid.at_or_after(end_min)
    earliest_start = draft.grid.at_or_after(draft.facts.earliest_min[until])
    if own_end <= earliest_start:
        return start
    end = draft.cp.new_int_var(own_end, max(own_end, draft.horizon), "")
    draft.cp.add_max_equality(end, [start, own_end])
    return end
