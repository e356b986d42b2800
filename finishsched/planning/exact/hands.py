"""The exact model's rules about hands: one thing at a time, inside their hours, with set-ups."""

from __future__ import annotations

from itertools import combinations

from finishsched.planning.exact.facts import closed
from finishsched.planning.exact.intervals import (
    Interval,
    Margin,
    blocks_of,
    interval_of,
    intervals_of,
    keep_clear,
    span_min,
)
from finishsched.planning.exact.parts import Draft, Part
from finishsched.planning.exact.past import Past, past_of
from finishsched.planning.hands_work import NO_SET_UP, SetUpMinutes
from finishsched.planning.problem import Hands
from finishsched.planning.window import Window


def draw_hands(draft: Draft, hands: Hands) -> None:
    """Draw all that one pair of hands can do, and when.

    Args:
        draft: the model.
        hands: their name, and when they are there.

    """
    mine = [part for part in draft.parts.values() if hands.name in part.activity.by]
    working = [part for part in mine if part.takes_time]
    moments = [part for part in mine if not part.takes_time]
    past = past_of(draft.facts, hands)
    _draw_work(draft, hands, working, past)
    _draw_moments(draft, hands, moments)
    _draw_kinds(draft, hands, working, past)
    for kind in sorted(draft.facts.at_end_min):
        _draw_end(draft, hands, working, kind)


def _draw_kinds(draft: Draft, hands: Hands, working: list[Part], past: Past) -> None:
    """Leave time to get ready for each kind of work, and to clear up after it.

    Args:
        draft: the model.
        hands: whose work it is.
        working: what they can do and takes time.
        past: what they were and are at.

    """
    set_ups = draft.facts.set_ups
    now_min = draft.facts.problem.now_min
    kinds = sorted({part.activity.kind for part in working})
    for kind in kinds:
        if kind in set_ups:
            _draw_set_up(draft, hands, working, past, kind)
        elif past.ready_min(kind) > now_min:
            _draw_ready(draft, hands, working, past, kind)
    with_set_ups = [kind for kind in kinds if kind in set_ups]
    for one, other in combinations(with_set_ups, 2):
        _draw_change(draft, hands, working, one, other)


def _draw_work(draft: Draft, hands: Hands, working: list[Part], past: Past) -> None:
    """Hold work inside hours, one thing at a time, after what hands are at now.

    Args:
        draft: the model.
        hands: whose work it is.
        working: what they can do and takes time.
        past: what they were and are at.

    """
    from_min, to_min = span_min(draft)
    taken = [*past.running, *past.overrun]
    outside = closed(hands.windows, taken, from_min, to_min)
    shut = blocks_of(draft, outside)
    if working:
        # Closed hours are to the solver work that does not move: one rule then holds both.
        work = intervals_of(draft, working, hands.name)
        draft.cp.add_no_overlap([*shut, *work])


def _draw_moments(draft: Draft, hands: Hands, moments: list[Part]) -> None:
    """Hold what takes no time inside hours; any number of it may fall on other work.

    Args:
        draft: the model.
        hands: whose hours.
        moments: what they can do and takes no time, such as taking a clamp off.

    """
    from_min, to_min = span_min(draft)
    outside = closed(hands.windows, (), from_min, to_min)
    shut = blocks_of(draft, outside)
    for part in moments:
        moment = interval_of(draft, part, hands.name)
        draft.cp.add_no_overlap([*shut, moment])


def _draw_set_up(draft: Draft, hands: Hands, mine: list[Part], past: Past, kind: str) -> None:
    """Keep set-ups of one kind inside hours, and clear of work that needs none.

    Args:
        draft: the model.
        hands: whose work it is.
        mine: what they can do and takes time.
        past: what they were and are at.
        kind: the kind of work.

    """
    # A set-up may reach out of the time that is planned: hours are shut that far on both sides.
    longest_min = 0
    for set_up in draft.facts.set_ups.values():
        longest_min = max(longest_min, set_up.before, set_up.after)
    margin_min = 1 + longest_min
    first_min, last_min = span_min(draft)
    first_min -= margin_min
    last_min += margin_min
    taken = list(past.overrun)
    if past.kind != kind:
        taken.append(Window(first_min, past.ready_min(kind)))
    set_ups = _widened(draft, hands, mine, kind, NO_SET_UP)
    outside = closed(hands.windows, taken, first_min, last_min)
    shut = blocks_of(draft, outside)
    plain = [part for part in mine if part.activity.kind not in draft.facts.set_ups]
    plain_work = intervals_of(draft, plain, hands.name)
    keep_clear(draft, set_ups, [*shut, *plain_work])


def _draw_end(draft: Draft, hands: Hands, mine: list[Part], kind: str) -> None:
    """Have work of a kind over some minutes before the hours end.

    Args:
        draft: the model.
        hands: whose work it is.
        mine: what they can do and takes time.
        kind: the kind of work.

    """
    at_end_min = draft.facts.at_end_min[kind]
    same = [part for part in mine if part.activity.kind == kind]
    margin = Margin(before=0, after=draft.grid.up(at_end_min))
    first_min, last_min = span_min(draft)
    outside = closed(hands.windows, (), first_min, last_min + 1 + at_end_min)
    keep_clear(draft, intervals_of(draft, same, hands.name, margin), blocks_of(draft, outside))


def _draw_change(draft: Draft, hands: Hands, mine: list[Part], one: str, other: str) -> None:
    """Leave time between two kinds of work to clear up after the first and get ready for the next.

    Only one of the two is widened, by both: work of one kind may share its set-up.

    Args:
        draft: the model.
        hands: whose work it is.
        mine: what they can do and takes time.
        one: a kind of work that has a set-up.
        other: another.

    """
    widened = _widened(draft, hands, mine, one, draft.facts.set_ups[other])
    others = [part for part in mine if part.activity.kind == other]
    work_of_other = intervals_of(draft, others, hands.name)
    keep_clear(draft, widened, work_of_other)


def _widened(
    draft: Draft,
    hands: Hands,
    mine: list[Part],
    kind: str,
    other: SetUpMinutes,
) -> list[Interval]:
    """Draw work of a kind with the set-up around it, and that of the work next to it.

    Args:
        draft: the model.
        hands: whose work it is.
        mine: all their work.
        kind: the kind to draw.
        other: what the work next to it takes.

    """
    own = draft.facts.set_ups[kind]
    margin = Margin(
        before=draft.grid.up(other.after + own.before),
        after=draft.grid.up(own.after + other.before),
    )
    same = [part for part in mine if part.activity.kind == kind]
    return intervals_of(draft, same, hands.name, margin)


def _draw_ready(draft: Draft, hands: Hands, mine: list[Part], past: Past, kind: str) -> None:
    """Hold back work that needs no set-up while what was done before it is cleared up.

    Args:
        draft: the model.
        hands: whose work it is.
        mine: what they can do and takes time.
        past: what they were and are at.
        kind: the kind of work.

    """
    ready = draft.grid.at_or_after(past.ready_min(kind))
    for part in mine:
        if part.activity.kind == kind:
            held = draft.cp.add(part.start >= ready)
            if part.by:
                held.only_enforce_if(part.by[hands.name])
