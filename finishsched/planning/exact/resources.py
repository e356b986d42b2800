"""The exact model's rules about what is shared: hands and their hours, set-ups, stores, rooms."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations

from ortools.sat.python import cp_model

from finishsched.planning.exact.facts import bare_for, closed
from finishsched.planning.exact.parts import Draft, Part, Value
from finishsched.planning.exact.past import Past, past_holds, past_of
from finishsched.planning.problem import Hands, RoomRule, Store, Use
from finishsched.planning.window import Window

Interval = cp_model.IntervalVar
NO_SET_UP = (0, 0)


def draw_resources(draft: Draft) -> None:
    """Draw everything that activities share."""
    for hands in draft.facts.problem.hands:
        _draw_hands(draft, hands)
    for store in draft.facts.problem.stores:
        _draw_store(draft, store)
    for rule in draft.facts.problem.rules:
        _draw_rule(draft, rule)


def _interval(draft: Draft, part: Part, hands: str, before: int = 0, after: int = 0) -> Interval:
    """Return the time a part takes of one pair of hands, widened by units before and after."""
    start, end, size = part.start - before, part.end + after, part.size + (before + after)
    if hands not in part.by:
        return draft.interval(start, size, end)
    literal = part.by[hands]
    if isinstance(size, int):
        return draft.cp.new_optional_fixed_size_interval_var(start, size, literal, "")
    return draft.cp.new_optional_interval_var(start, size, end, literal, "")


def _draw_hands(draft: Draft, hands: Hands) -> None:
    mine = [part for part in draft.parts.values() if hands.name in part.activity.by]
    past = past_of(draft.facts, hands)
    shut = _blocks(draft, closed(hands.windows, [*past.running, *past.overrun], *_span(draft)))
    working = [part for part in mine if part.takes_time]
    if working:
        draft.cp.add_no_overlap([*shut, *(_interval(draft, part, hands.name) for part in working)])
    hours = _blocks(draft, closed(hands.windows, (), *_span(draft)))
    for part in mine:
        if not part.takes_time:
            draft.cp.add_no_overlap([*hours, _interval(draft, part, hands.name)])
    set_ups = draft.facts.set_ups
    kinds = sorted({part.activity.kind for part in working})
    for kind in kinds:
        if kind in set_ups:
            _draw_set_up(draft, hands, working, past, kind)
        elif past.ready_min(kind) > draft.facts.problem.now_min:
            _draw_ready(draft, hands, working, past, kind)
    for one, other in combinations(filter(set_ups.__contains__, kinds), 2):
        _draw_change(draft, hands, working, one, other)


def _span(draft: Draft) -> tuple[int, int]:
    return draft.facts.problem.now_min, draft.grid.time_min(draft.horizon)


def _blocks(draft: Draft, windows: Iterable[Window]) -> list[Interval]:
    """Draw closed hours rounded outwards, joined where that makes them touch."""
    marks: list[tuple[int, int]] = []
    for window in windows:
        start = draft.grid.at_or_before(window.start_min)
        end = draft.grid.at_or_after(window.end_min)
        if marks and start <= marks[-1][1]:
            start, end = marks[-1][0], max(marks.pop()[1], end)
        marks.append((start, end))
    return [draft.block(start, end) for start, end in marks]


def _draw_set_up(draft: Draft, hands: Hands, mine: list[Part], past: Past, kind: str) -> None:
    """Keep set-ups of one kind inside hours, and clear of work that needs none."""
    first_min, last_min = _span(draft)
    margin_min = 1 + max(max(set_up) for set_up in draft.facts.set_ups.values())
    begin_min, last_min = first_min - margin_min, last_min + margin_min
    taken = [*past.overrun]
    if past.kind != kind:
        taken.append(Window(begin_min, past.ready_min(kind)))
    plain = [part for part in mine if part.activity.kind not in draft.facts.set_ups]
    _draw_clear(
        draft,
        _widened(draft, hands, mine, kind, NO_SET_UP),
        [
            *_blocks(draft, closed(hands.windows, taken, begin_min, last_min)),
            *(_interval(draft, part, hands.name) for part in plain),
        ],
    )


def _draw_change(draft: Draft, hands: Hands, mine: list[Part], one: str, other: str) -> None:
    """Leave time between two kinds of work to clear up after the first and get ready for the next.

    Only one of the two is widened, by both: work of one kind may share its set-up.
    """
    others = [part for part in mine if part.activity.kind == other]
    _draw_clear(
        draft,
        _widened(draft, hands, mine, one, draft.facts.set_ups[other]),
        [_interval(draft, part, hands.name) for part in others],
    )


def _widened(
    draft: Draft, hands: Hands, mine: list[Part], kind: str, other: tuple[int, int]
) -> list[Interval]:
    """Draw work of a kind with the set-up around it, and that of the work next to it."""
    before_min, after_min = draft.facts.set_ups[kind]
    before = draft.grid.up(before_min + other[1])
    after = draft.grid.up(after_min + other[0])
    same = [part for part in mine if part.activity.kind == kind]
    return [_interval(draft, part, hands.name, before, after) for part in same]


def _draw_ready(draft: Draft, hands: Hands, mine: list[Part], past: Past, kind: str) -> None:
    """Hold back work that needs no set-up while what was done before it is cleared up."""
    ready = draft.grid.at_or_after(past.ready_min(kind))
    for part in mine:
        if part.activity.kind == kind:
            held = draft.cp.add(part.start >= ready)
            if part.by:
                held.only_enforce_if(part.by[hands.name])


def _draw_store(draft: Draft, store: Store) -> None:
    rows: list[tuple[Interval, int]] = _held_by_past(draft, store)
    for part in draft.parts.values():
        for use in part.activity.uses:
            if use.store == store.name and use.amount:
                rows += [(interval, use.amount) for interval in _held(draft, part, use)]
    if not rows:
        return
    if store.capacity == 1 and all(amount == 1 for _interval, amount in rows):
        draft.machines = True
        draft.cp.add_no_overlap([interval for interval, _amount in rows])
    else:
        draft.cp.add_cumulative([r[0] for r in rows], [r[1] for r in rows], store.capacity)


def _held(draft: Draft, part: Part, use: Use) -> list[Interval]:
    start = part.start if use.from_start else part.end
    if use.until is None or use.until not in draft.parts:
        over = use.until in draft.facts.done
        hold = 0 if over else draft.grid.up(use.hold_min)
        size = part.size + hold if use.from_start else hold
        if isinstance(size, int) and size == 0:
            return []
        return [draft.interval(start, size, part.end + hold)]
    end = _until(draft, part, use.until)
    size = draft.cp.new_int_var(0, draft.horizon, "")
    return [draft.cp.new_interval_var(start, size, end, "")]


def _until(draft: Draft, part: Part, until: str) -> Value:
    """Return the end of what is held until another starts, and at least to the part's own end."""
    other = draft.parts[until]
    key = part.activity.key
    for lag in draft.facts.lags:
        if lag.before == key and lag.after == until and lag.least_min >= 0:
            return other.start
    end = draft.cp.new_int_var(0, draft.horizon, "")
    draft.cp.add_max_equality(end, [part.end, other.start])
    return end


def _held_by_past(draft: Draft, store: Store) -> list[tuple[Interval, int]]:
    """Return what done activities still hold; no more than there is, for the past is not judged."""
    first = draft.grid.at_or_before(draft.facts.problem.now_min)
    open_, fixed = past_holds(draft.facts, store.name)
    left = store.capacity
    rows: list[tuple[Interval, int]] = []
    for until, end_min, amount in open_:
        taken = min(amount, left)
        if taken:
            size = draft.cp.new_int_var(0, draft.horizon, "")
            end = _until_after(draft, end_min, until)
            rows.append((draft.cp.new_interval_var(first, size, end, ""), taken))
        left -= taken
    for start_min, end_min, amount in fixed:
        start, end_mark = draft.grid.at_or_before(start_min), draft.grid.at_or_after(end_min)
        if left:
            rows.append((draft.block(start, end_mark), min(amount, left)))
    return rows


def _until_after(draft: Draft, end_min: int, until: str) -> Value:
    other = draft.parts[until].start
    own_end = draft.grid.at_or_after(end_min)
    if own_end <= draft.grid.at_or_after(draft.facts.earliest_min[until]):
        return other
    end = draft.cp.new_int_var(own_end, max(own_end, draft.horizon), "")
    draft.cp.add_max_equality(end, [other, own_end])
    return end


def _draw_rule(draft: Draft, rule: RoomRule) -> None:
    """Keep what stirs and what is bare apart.

    Bare stretches begin early by the settling. What each pair of hands stirs up is drawn by itself,
    so that two may stir at once.
    """
    here = [part for part in draft.parts.values() if part.activity.room == rule.room]
    bares = [part for part in here if bare_for(part.activity, rule.stirs)]
    bares = [part for part in bares if part.takes_time or any(bare_for(part.activity, rule.stirs))]
    stirrers = [part for part in here if rule.stirs in part.activity.stirs]
    stirrers = [part for part in stirrers if part.takes_time]
    if not bares or not stirrers:
        return
    settle = draft.grid.up(rule.settle_min)
    wet = {part.activity.key: _bare(draft, part, rule.stirs, settle) for part in bares}
    alone = [part for part in stirrers if part.activity.key in wet or not part.activity.by]
    together = [part for part in stirrers if part not in alone]
    for name in draft.facts.hands:
        set_ = [_interval(draft, part, name) for part in together if name in part.activity.by]
        _draw_clear(draft, list(wet.values()), set_)
    for part in alone:
        others = [interval for key, interval in wet.items() if key != part.activity.key]
        _draw_clear(draft, others, [draft.interval(part.start, part.size, part.end)])


def _bare(draft: Draft, part: Part, stirs: str, settle: int) -> Interval:
    after = draft.grid.up(max(bare_for(part.activity, stirs)))
    return draft.interval(part.start - settle, part.size + (settle + after), part.end + after)


def _draw_clear(draft: Draft, sharing: list[Interval], alone: list[Interval]) -> None:
    """Let intervals of the first list overlap each other, and none of them one of the second.

    Each of the first takes one of as many places as there are of them; the others, which other
    rules keep from each other, take them all.
    """
    if sharing and alone:
        places = len(sharing)
        demands = [1] * places + [places] * len(alone)
        draft.cp.add_cumulative([*sharing, *alone], demands, places)
