"""Made-up shops to plan: pieces of 25 steps in five styles of finishing, the same for a seed.

The waits, windows and lengths of the styles are our own round figures, of the size met in the
trade; the hours are those of people who finish in the evenings and at weekends.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

from finishsched.planning.problem import (
    Activity,
    Bare,
    Goal,
    Hands,
    Lag,
    Problem,
    RoomRule,
    Store,
    Use,
)
from finishsched.planning.window import Window

STEPS = 25
ROOM = "shop"
MONDAY = datetime(2026, 3, 2, 12, tzinfo=UTC)
HOURS = 60
DAY = 24 * HOURS


@dataclass(frozen=True)
class Style:
    """A way of finishing: what its coats need, in minutes."""

    wait_min: int
    window_min: int | None
    bare_min: int
    coats: int
    cure_min: int
    pot_life_min: int | None = None
    wipe_off_min: int | None = None


STYLES = (
    Style(12 * HOURS, 36 * HOURS, 4 * HOURS, 5, 72 * HOURS),  # slow varnish
    Style(2 * HOURS, 24 * HOURS, 45, 6, 24 * HOURS),  # waterborne
    Style(45, None, 20, 8, 24 * HOURS),  # shellac
    Style(6 * HOURS, 24 * HOURS, 90, 4, 48 * HOURS, pot_life_min=60),  # two parts
    Style(8 * HOURS, None, 2 * HOURS, 6, 12 * HOURS, wipe_off_min=30),  # wipe-on oil
)


@dataclass
class Bench:
    """What is being made up."""

    chance: random.Random
    step_min: int
    activities: list[Activity] = field(default_factory=list)
    lags: list[Lag] = field(default_factory=list)


def shop(
    pieces: int, seed: int = 0, *, dust: bool = True, people: int = 1, due: bool = False
) -> Problem:
    """Return a shop with so many open pieces."""
    chance = random.Random(f"{pieces} {seed}")  # noqa: S311 - made-up shops
    bench = Bench(chance, {1: 15, 5: 15, 12: 10, 30: 7, 100: 5}.get(pieces, 10))
    names = ("Ash", "Birch")[:people]
    for piece in range(pieces):
        _piece(bench, f"piece {piece}", names)
    hands = tuple(Hands(name, _hours(chance, other=at == 1)) for at, name in enumerate(names))
    goals = []
    for piece in range(pieces):
        share = chance.uniform(0.55, 1.0)
        length = {1: 10, 5: 14, 12: 20, 30: 36, 100: 78}.get(pieces, 20) * DAY
        due_min = _minutes(MONDAY) + int(share * length / people) if due else None
        goals.append(Goal(f"piece {piece}", due_min))
    return Problem(
        activities=tuple(bench.activities),
        lags=tuple(bench.lags),
        hands=hands,
        stores=(Store("rack", max(4, pieces // 2)), Store("clamps", 6 if pieces >= 100 else 3)),
        rules=(RoomRule(ROOM, "dust", 15),) if dust else (),
        goals=tuple(goals),
        now_min=_minutes(MONDAY),
    )


def _piece(bench: Bench, piece: str, names: tuple[str, ...]) -> None:
    chance = bench.chance
    style = chance.choice(STYLES)
    start = len(bench.activities)

    def step(what: str, minutes: int, **more: object) -> str:
        at = len(bench.activities) - start
        key = f"{piece}/{at:02d} {what}"
        bench.activities.append(
            Activity(key, minutes, names, goal=piece, room=ROOM, kind=what, **more),  # type: ignore[arg-type]
        )
        return key

    def hands_on(share: float = 1.0) -> int:
        usual = bench.step_min * share
        return max(5, 5 * round(chance.uniform(0.5, 1.6) * usual / 5))

    def wait(
        before: str, after: str, least: int = 0, most: int | None = None, remedy: int | None = None
    ) -> None:
        bench.lags.append(Lag(before, after, least, most, remedy))

    last = ""
    if chance.random() < 0.6:
        spread = step("glue", 5)
        hold = chance.choice((60, 120, 240))
        last = step("clamp", hands_on(), uses=(Use("clamps", hold_min=hold),))
        wait(spread, last, 0, chance.choice((0, 5, 10)))
        freed = step("sand", hands_on(), stirs=("dust",))
        wait(last, freed, hold)
        last = freed
    while len(bench.activities) - start < chance.choice((3, 4, 5)):
        sanded = step("sand", hands_on(1.5), stirs=("dust",))
        if last:
            wait(last, sanded)
        last = sanded
    if chance.random() < 0.5:
        stained = step("stain", hands_on(), bare=(Bare("dust", 60),))
        wait(last, stained)
        wiped = step("wipe", 5)
        wait(stained, wiped, 5, 30)
        last = wiped
        rest = 4 * HOURS
    else:
        rest = 0
    _coats(bench, start, style, (last, rest), step, hands_on, wait)


def _coats(bench, start, style, came, step, hands_on, wait) -> None:
    chance = bench.chance
    last, rest = came
    earlier_coat = ""
    while (left := STEPS - (len(bench.activities) - start)) > 0:
        sanded_since = False
        if left >= 4 and (earlier_coat == "" or chance.random() < 0.45):
            sanded = step("sand", hands_on(), stirs=("dust",))
            wait(last, sanded, rest)
            last, rest, sanded_since = sanded, 0, True
            left -= 1
        before = last
        if left >= 3 and chance.random() < 0.6:
            tacked = step("tack", 5)
            wait(last, tacked, rest)
            last, rest = tacked, 0
            left -= 1
        mixed = ""
        if style.pot_life_min is not None and left >= 2:
            mixed = step("mix", 5)
            wait(before, mixed)
            left -= 1
        final = left <= (2 if style.wipe_off_min else 1)
        coat = step(
            "coat",
            hands_on(),
            bare=(Bare("dust", style.bare_min),),
            uses=(Use("rack", from_start=False, hold_min=style.wait_min),),
            tail_min=style.cure_min if final else style.wait_min,
        )
        if last.endswith("tack"):
            wait(last, coat, 0, 4 * HOURS)
        else:
            wait(last, coat, rest)
        if mixed:
            wait(mixed, coat, 0, style.pot_life_min)
        if earlier_coat and style.window_min is not None and not sanded_since:
            remedy_min = max(5, 5 * round(bench.step_min * 0.6 / 5))
            wait(earlier_coat, coat, style.wait_min, style.window_min, remedy_min)
        earlier_coat = last = coat
        rest = style.wait_min
        if style.wipe_off_min is not None and STEPS - (len(bench.activities) - start) > 0:
            wiped = step("wipe", 5, tail_min=style.cure_min)
            wait(coat, wiped, 10, style.wipe_off_min)
            last = wiped


def _hours(chance: random.Random, *, other: bool) -> tuple[Window, ...]:
    """Evenings and the weekend; the other person has mornings and part of Saturday."""
    evenings = ((9.0, 11.5),) if other else ((18.5, 21.5),)
    week = {
        **dict.fromkeys((1, 3) if other else (0, 1, 2, 3), evenings),
        5: ((9.0, 12.5), (13.5, 17.0)),
        **({} if other else {6: ((10.0, 13.0),)}),
    }
    windows = []
    midnight = MONDAY.replace(hour=0)
    for day in range(400):
        date = midnight + timedelta(days=day)
        if chance.random() < 0.07:
            continue
        for first, last in week.get(date.weekday(), ()):
            start = _minutes(date) + int(first * HOURS)
            windows.append(Window(start, _minutes(date) + int(last * HOURS)))
    return tuple(windows)


def _minutes(when: datetime) -> int:
    return int(when.timestamp()) // 60
