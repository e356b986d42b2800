"""The exact model's rules about rooms: what stirs dust up keeps clear of what lies wet."""

from __future__ import annotations

from collections.abc import Mapping

from finishsched.planning.exact.facts import bare_for
from finishsched.planning.exact.intervals import Interval, intervals_of, keep_clear
from finishsched.planning.exact.parts import Draft, Part
from finishsched.planning.problem import RoomRule


def draw_rule(draft: Draft, rule: RoomRule) -> None:
    """Keep what stirs and what is bare apart.

    Bare stretches begin early by the settling. What each pair of hands stirs up is drawn by itself,
    so that two may stir at once.

    Args:
        draft: the model.
        rule: the room, what must not be stirred up in it, and how long that hangs there.

    """
    here = [part for part in draft.parts.values() if part.activity.room == rule.room]
    bares = [part for part in here if _lies_bare(part, rule)]
    stirrers = [part for part in here if _stirs(part, rule)]
    if not bares or not stirrers:
        return
    wet = {part.activity.key: _bare(draft, part, rule) for part in bares}
    alone: list[Part] = []
    together: list[Part] = []
    for part in stirrers:
        is_alone = part.activity.key in wet or not part.activity.by
        if is_alone:
            alone.append(part)
        else:
            together.append(part)
    _keep_hands_clear(draft, wet, together)
    for part in alone:
        _keep_one_clear(draft, wet, part)


def _keep_hands_clear(draft: Draft, wet: Mapping[str, Interval], stirrers: list[Part]) -> None:
    """Keep what hands stir up clear of what is bare.

    Hands that stir never do so twice at once, so that what one pair stirs is drawn together.

    Args:
        draft: the model.
        wet: by activity, when nothing may be stirred up for it.
        stirrers: what hands do that stirs, and does not lie bare itself.

    """
    for name in draft.facts.hands:
        theirs = [part for part in stirrers if name in part.activity.by]
        stirring = intervals_of(draft, theirs, name)
        keep_clear(draft, list(wet.values()), stirring)


def _keep_one_clear(draft: Draft, wet: Mapping[str, Interval], part: Part) -> None:
    """Keep one part that stirs clear of what is bare; it is not in its own way where it is both.

    Args:
        draft: the model.
        wet: by activity, when nothing may be stirred up for it.
        part: what stirs.

    """
    own_key = part.activity.key
    others = [interval for key, interval in wet.items() if key != own_key]
    stirring = draft.interval(part.start, part.size, part.end)
    keep_clear(draft, others, [stirring])


def _stirs(part: Part, rule: RoomRule) -> bool:
    """Return whether a part stirs up what a rule is about, for any time at all."""
    return part.takes_time and rule.stirs in part.activity.stirs


def _lies_bare(part: Part, rule: RoomRule) -> bool:
    """Return whether a part lies bare to what a rule is about, for any time at all."""
    after_min = bare_for(part.activity, rule.stirs)
    if not after_min:
        return False
    return part.takes_time or any(after_min)


def _bare(draft: Draft, part: Part, rule: RoomRule) -> Interval:
    """Return when nothing may be stirred up for a part: from the settling before it on.

    Args:
        draft: the model.
        part: one that lies bare.
        rule: the rule of its room.

    """
    longest_min = max(bare_for(part.activity, rule.stirs))
    settle = draft.grid.up(rule.settle_min)
    after = draft.grid.up(longest_min)
    return draft.interval(
        start=part.start - settle,
        size=part.size + (settle + after),
        end=part.end + after,
    )
