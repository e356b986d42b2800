"""What the next coat would do to a room's air, and what can be done about it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import NamedTuple

from finishsched.model.room import Room
from finishsched.safety.budget import (
    Budget,
    Release,
    Weight,
    flow_needed_m3_per_h,
    wait_needed_s,
)
from finishsched.safety.ventilation import (
    AT_THE_PAD,
    FIRE_SHARE_OF_LEL,
    VAPOUR_DEFERRAL,
    RoomAir,
)
from finishsched.units import AIR_FLOW, plain_number, show
from finishsched.workshop.base.spans import span
from finishsched.workshop.base.words import one_line

WINDOW_CHANGES_PER_H = 6.0
"""Changes of the air in an hour through a window that is wide open (our assumption)."""

HARDLY_ANY = 0.01
"""Less than a hundredth of the limits is not worth a figure."""

DAY = timedelta(days=1)


class CoatVapour(NamedTuple):
    """What the coat in hand would do to the room, were it begun now."""

    ref: str
    room: str
    peak: float
    """Share of the limits that the room would come to; more than 1 passes them."""
    lel_peak: float
    alone: float
    """The same for this coat by itself in clean air."""
    flow_m3_per_h: float | None
    """The least fresh air that keeps the limits; None where no flow does, or none is needed."""
    wait_s: float | None
    """How long to put it off; None where waiting does not help, or none is needed."""
    helps: tuple[str, ...]
    """What can be done, the best first; empty for a coat that passes no limit."""
    line: str
    """The warning in a line; empty for a coat that passes no limit."""
    mind: str = AT_THE_PAD
    deferral: str = VAPOUR_DEFERRAL

    @property
    def passes(self) -> bool:
        """True when it would pass a limit."""
        return self.peak > 1 or self.lel_peak > FIRE_SHARE_OF_LEL


def share_words(share: float) -> str:
    """Return a share of a limit for people: ``8 %``, ``130 %``, ``hardly any``."""
    return "hardly any" if share < HARDLY_ANY else f"{plain_number(100 * share, 2)} %"


def judged(
    ref: str,
    room: Room,
    budget: Budget,
    coat: Sequence[Release],
    now: datetime,
    flow_unit: str = "m3/h",
) -> CoatVapour:
    """Return what ``coat``, begun at ``now``, does to a room whose vapour is ``budget``.

    What helps is told with flows in ``flow_unit``.
    """
    now_s = now.timestamp()
    until_s = now_s + DAY.total_seconds()
    both = budget.with_more(coat)
    clean = Budget(tuple(coat), budget.room, budget.local)
    tests: list[tuple[Weight, float]] = [(both.of_limits, 1.0), (both.of_lel, FIRE_SHARE_OF_LEL)]
    peak, lel = (most.value for most in both.peaks([weight for weight, _ in tests], now_s, until_s))
    alone = clean.peak(clean.of_limits, now_s, until_s).value
    if peak <= 1 and lel <= FIRE_SHARE_OF_LEL:
        return CoatVapour(ref, one_line(room.name), peak, lel, alone, None, None, (), "")
    flow = flow_needed_m3_per_h(both, tests, now_s, until_s)
    wait_s = wait_needed_s(budget, coat, tests, now_s)
    aired = _aired(budget, coat, tests, now_s) if flow is None else None
    others = [
        what for what, share in budget.shares(budget.of_limits, now_s) if what and share > 0.1
    ]
    return CoatVapour(
        ref=ref,
        room=one_line(room.name),
        peak=peak,
        lel_peak=lel,
        alone=alone,
        flow_m3_per_h=flow,
        wait_s=wait_s,
        helps=tuple(_helps(_Ways(flow, wait_s, aired, others), budget.room, flow_unit)),
        line=_warning(peak, lel),
    )


def _warning(peak: float, lel: float) -> str:
    if lel > FIRE_SHARE_OF_LEL:
        return (
            f"this coat would bring the room to {share_words(lel)} of what can burn, and a tenth "
            "is the most"
        )
    return f"this coat would bring the room to {share_words(peak)} of the vapour limits"


class _Ways(NamedTuple):
    """What can be done before a coat that passes a limit; None for what does not help."""

    flow_m3_per_h: float | None
    wait_s: float | None
    aired_s: float | None
    others: Sequence[str]


def _with_a_window(room: RoomAir) -> RoomAir:
    flow = max(room.flow_m3_per_h, WINDOW_CHANGES_PER_H * room.volume_m3)
    return replace(room, flow_m3_per_h=flow)


def _aired(
    budget: Budget, coat: Sequence[Release], tests: Sequence[tuple[Weight, float]], now_s: float
) -> float | None:
    """Return how long the coat has to wait with a window open; None where that does not help."""
    open_room = _with_a_window(budget.room)
    return wait_needed_s(budget.restarted(now_s, open_room), coat, tests, now_s)


def _helps(ways: _Ways, room: RoomAir, flow_unit: str) -> Iterator[str]:
    def shown(flow_m3_per_h: float) -> str:
        return show(flow_m3_per_h, AIR_FLOW, flow_unit, digits=2)

    if ways.flow_m3_per_h is not None:
        has = shown(room.flow_m3_per_h)
        yield f"open up: {shown(ways.flow_m3_per_h)} of fresh air instead of {has}"
    elif ways.aired_s is not None:
        flow = shown(_with_a_window(room).flow_m3_per_h)
        yield f"open up first, and wait {span(ways.aired_s, up=True)} with {flow} of fresh air"
    if ways.wait_s is not None:
        yield f"wait {span(ways.wait_s, up=True)}"
    if ways.others:
        yield f"fewer pieces at once: the air still holds that of {', '.join(ways.others[:3])}"
    if ways.wait_s is None:
        yield "less at once: by itself it is too much for this room, so lay it in parts"
