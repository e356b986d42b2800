"""How quick the cure clocks are over a year of readings: a table, for people to compare.

    .venv/bin/python tests/speed/measure_drying.py

Milliseconds in this process, on the machine it runs on; nothing here is ever asserted.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable

from finishsched.drying.course import Course, Readings
from finishsched.drying.figures import Phase
from finishsched.drying.forecast import DAY_S, Reading
from finishsched.drying.integral import DryingSums
from finishsched.drying.laws import Law, law_for
from finishsched.model.product import Mechanism
from finishsched.model.shop import Air

BEGIN_S = 1_767_225_600.0
"""2026-01-01, midnight UTC."""
EVERY_S = 300.0
YEAR = 105_120
CLOCKS = 40
HOUR_S = 3600.0


def year_of_readings() -> list[Reading]:
    """Return a year of readings, five minutes apart, in the steps of a cheap instrument."""
    return [
        Reading(
            BEGIN_S + number * EVERY_S,
            round(18 + 5 * math.sin(number / 45.8) + 3 * math.sin(number / 16_730), 1),
            round(55 + 15 * math.cos(number / 45.8)),
        )
        for number in range(YEAR)
    ]


def laws() -> list[Law]:
    """Return one law for each mechanism, in two phases."""
    return [law_for(kind, phase) for kind in Mechanism for phase in (Phase.RECOAT, Phase.SAND)]


def clocks(sums: DryingSums, spread_s: float, now_s: float) -> None:
    """Ask 40 clocks, laid over ``spread_s`` before ``now_s``, how far they are and when ready."""
    used = laws()
    for number in range(CLOCKS):
        laid_s = now_s - spread_s * (number + 1) / CLOCKS
        law = used[number % len(used)]
        sums.progress_s(law, laid_s, now_s)
        sums.when_s(law, laid_s, 12 * HOUR_S)


def taken_ms(task: Callable[[], object]) -> float:
    """Return how long a task takes once."""
    start = time.perf_counter()
    task()
    return (time.perf_counter() - start) * 1000


def main() -> None:
    """Measure and print."""
    readings = year_of_readings()
    now_s = readings[-1].at_s + 60
    table: list[tuple[str, float]] = []
    kept: list[Readings] = []
    table.append(("sort a year of readings", taken_ms(lambda: kept.append(Readings.of(readings)))))

    def course() -> DryingSums:
        return DryingSums(Course(kept[0], Air(20.0, 50.0), lambda _: 0.0))

    table.append(("a course of them", taken_ms(course)))
    recent = course()
    for what, spread_s in (("a fortnight", 14 * DAY_S), ("a year", 365 * DAY_S)):
        for turn in ("first", "second"):
            spent = taken_ms(lambda spread_s=spread_s: clocks(recent, spread_s, now_s))
            table.append((f"40 clocks over {what}, {turn} time", spent))
    late = Reading(now_s + EVERY_S, 20.3, 51.0)
    table.append(("a reading at the end", taken_ms(lambda: recent.add(late))))
    table.append(("40 clocks after it", taken_ms(lambda: clocks(recent, 365 * DAY_S, now_s))))
    past = Reading(now_s - 30 * DAY_S, 20.3, 51.0)
    table.append(("a reading a month ago", taken_ms(lambda: recent.add(past))))
    table.append(("40 clocks after it", taken_ms(lambda: clocks(recent, 365 * DAY_S, now_s))))
    for what, spent in table:
        print(f"{what:40} {spent:9.2f} ms")


if __name__ == "__main__":
    main()
