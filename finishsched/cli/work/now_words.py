"""What to do in the next quarter of an hour, in words and as JSON values."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from datetime import datetime, tzinfo
from typing import TYPE_CHECKING, Any, NamedTuple

from finishsched.cli.plan.mix_words import mix_data
from finishsched.journal.events import utc_text
from finishsched.workshop.base.spans import span, wall
from finishsched.workshop.plan.pots import mix_words
from finishsched.workshop.plan.what_now import FEW_MIN, HeldBy

if TYPE_CHECKING:
    from finishsched.workshop.plan.what_now import Held, Suggestion, WhatNow


class Teller(NamedTuple):
    """By which clock things are told."""

    now: datetime
    zone: tzinfo

    def wall(self, instant: datetime) -> str:
        """Return what the wall clock says at an instant."""
        return wall(instant, self.now, self.zone)


def now_lines(
    found: WhatNow, now: datetime, zone: tzinfo, told: Collection[str] = ()
) -> Iterator[str]:
    """Say the best thing to do, what if only ten minutes are left, and what is held.

    Of the pieces ``told`` it was said already that they are left for later, and why.
    """
    teller = Teller(now, zone)
    yield from _to_begin(found, teller)
    yield from _held((each for each in found.held if not {*each.refs} & {*told}), teller)


def _to_begin(found: WhatNow, teller: Teller) -> Iterator[str]:
    if not found.hands and found.next_hours is not None:
        yield f"no hours now; the next are {teller.wall(found.next_hours)}"
    if found.best is None:
        if found.hands:
            yield from _nothing(found, teller)
        return
    when = "begin within 15 min" if found.hands else "if somebody is here all the same"
    yield f"{when}: {_words(found.best, teller)}"
    if found.one_mix is not None:
        yield f"  {mix_words(found.one_mix, teller.zone)}"
    if found.if_few is not None:
        yield f"  with 10 min left: {_words(found.if_few, teller)}"


def _held(held: Iterable[Held], teller: Teller) -> Iterator[str]:
    """Say what cannot be begun now, and why; a wait that runs has been told with its clock."""
    told: set[str] = set()
    for each in held:
        if each.by in (HeldBy.DUST, HeldBy.HANDS, HeldBy.SITTING):
            until = f" until {teller.wall(each.until)}" if each.until is not None else ""
            line = f"  not now, {each.ref}: {each.step.title}: {each.why}{until}"
            if line not in told:
                yield line
            told.add(line)


def _nothing(found: WhatNow, teller: Teller) -> Iterator[str]:
    """Say that nothing can be begun, and what only the end of the hours keeps from it."""
    long = found.too_long
    if long is None or long.hours_end is None:
        yield "in the next 15 min: nothing can be begun"
        return
    ends = teller.wall(long.hours_end)
    yield f"in the next 15 min: nothing can be begun that is over by {ends}"
    yield f"  in longer hours: {_words(long, teller)}"


def _words(found: Suggestion, teller: Teller) -> str:
    at = f" from {teller.wall(found.start)}" if found.start > teller.now else ""
    what = found.words(f"{found.step.number} {found.step.title}")
    ready_min, clears_min = found.beside.get_ready_min, found.beside.clears_min
    ready = f"{span(ready_min * 60)} to get ready and " if ready_min else ""
    clear_up = found.step.verb.does.clear_up
    then = f"; then {span(clears_min * 60)} to {clear_up}" if clears_min else ""
    later = f" (planned for {teller.wall(found.planned_later)})" if found.planned_later else ""
    takes = f"{ready}{span(found.minutes * 60)}{then}"
    return f"{found.person}, {found.ref}: {what}{at}, {takes}{later}"


def now_data(found: WhatNow) -> dict[str, Any]:
    """Return it as JSON values."""
    return {
        "hands": list(found.hands),
        "hands_until": utc_text(found.until) if found.until else None,
        "next_hours": utc_text(found.next_hours) if found.next_hours else None,
        "best": _data(found.best),
        "one_mix": mix_data(found.one_mix) if found.one_mix else None,
        "within_ten_minutes": _data(found.if_few or _if_short(found.best)),
        "too_long": _data(found.too_long),
        "held": [
            {
                "piece": each.ref,
                "step": each.step.key,
                "title": each.step.title,
                "by": each.by.value,
                "why": each.why,
                "until": utc_text(each.until) if each.until else None,
            }
            for each in found.held
        ],
    }


def _if_short(best: Suggestion | None) -> Suggestion | None:
    return best if best is not None and best.whole_min <= FEW_MIN else None


def _data(found: Suggestion | None) -> dict[str, Any] | None:
    if found is None:
        return None
    return {
        "piece": found.ref,
        "pieces": list(found.refs),
        "step": found.step.key,
        "number": found.step.number,
        "title": found.step.title,
        "person": found.person,
        "start": utc_text(found.start),
        "minutes": found.minutes,
        "set_up_minutes": found.whole_min - found.minutes,
        "get_ready_minutes": found.beside.get_ready_min,
        "clear_up_minutes": found.beside.clears_min,
        "hours_end": utc_text(found.hours_end) if found.hours_end else None,
        "planned_at": utc_text(found.planned_at) if found.planned_at else None,
        "dry_check_first": found.check_first,
        "last_dry_check": found.only_check and not found.then_rests,
        "only_dry_check": found.only_check,
        "rest_follows": found.then_rests,
    }
