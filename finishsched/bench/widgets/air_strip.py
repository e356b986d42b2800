"""The strip of the air: how warm and how damp it was, where it goes, how old the reading is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from textual.content import Content

from finishsched.bench import words
from finishsched.bench.widgets.drawn import Drawn
from finishsched.workshop.base.answers import AirPoint, AirView, Trend

_BARS = "▁▂▃▄▅▆▇█"
_NOW = "│"
_LEAST_SPREAD = {"K": 4.0, "%": 16.0}
"""A steady room is drawn as a flat line, not as mountains of a tenth of a degree."""
_STEPS = (1, 2, 3)
"""Hours from one bar to the next."""


@dataclass(frozen=True, slots=True)
class AirFacts:
    """The air, when it is, and the unit to say it in."""

    air: AirView
    now: datetime
    unit: str


class AirStrip(Drawn[AirFacts]):
    """One line; hidden while nothing was read."""

    def show(self, facts: AirFacts) -> None:
        """Take the air; take up no room while nothing was read, nor on the lowest screens."""
        self.display = bool(facts.air.points) and not self.is_lowest
        super().show(facts)

    async def on_click(self) -> None:
        """Ask for a reading of the air."""
        await self.run_action("app.do('air')")

    def draw(self, facts: AirFacts, width: int) -> Content:
        """Return two curves, twelve hours back and ahead, each with its value and its trend.

        They are as fine as leaves room for the reading's age; where even the coarsest does not, an
        age that is too old goes before the curves, and any other gives way to them.
        """
        age = words.age(facts.air, facts.now)
        style = "bold $text-warning" if facts.air.is_old else "$text-muted"
        for step in _STEPS:
            drawn = _curves(facts, step)
            if drawn.cell_length + len(age) + 2 <= width:
                return Content.assemble(drawn, ("  ", ""), (age, style))
        if facts.air.is_old:
            drawn = Content.assemble(*_figures(facts), ("  ", ""), (age, style))
        return drawn.truncate(width, ellipsis=True)


def _figures(facts: AirFacts) -> tuple[tuple[str, str], ...]:
    answer = facts.air.answer
    warm = words.temperature(answer.temperature_c, facts.unit)
    return (warm, "bold"), (", ", ""), (f"{answer.humidity_percent:.0f} %", "bold")


def _curves(facts: AirFacts, step: int) -> Content:
    points = [p for p in facts.air.points if _hours(p, facts.now) % step == 0]
    if not points:
        return Content("")
    warm, _, damp = _figures(facts)
    return Content.assemble(
        *_figure(warm[0], facts.air.warmth),
        *_curve([p.temperature_c for p in points], points, "K"),
        ("  ", ""),
        *_figure(damp[0], facts.air.damp),
        *_curve([p.humidity_percent for p in points], points, "%"),
    )


def _hours(point: AirPoint, now: datetime) -> int:
    return round((point.at - now).total_seconds() / 3600)


def _figure(value: str, trend: Trend) -> list[tuple[str, str]]:
    word = f" {trend.value}" if trend.value else ""
    return [(value, "bold"), (f"{word} ", "")]


def _curve(values: Sequence[float], points: Sequence[AirPoint], kind: str) -> list[tuple[str, str]]:
    """Return the curve as it was read, the mark of now, and the curve as it is foretold."""
    low, high = min(values), max(values)
    spare = max(0.0, _LEAST_SPREAD[kind] - (high - low)) / 2
    low, high = low - spare, high + spare
    drawn = {True: "", False: ""}
    for value, point in zip(values, points, strict=True):
        height = int(8 * (value - low) / (high - low))
        drawn[point.foretold] += _BARS[min(7, height)]
    read, ahead = drawn[False], drawn[True]
    return [(read, "$text-accent"), (_NOW, "$text-muted"), (ahead, "$text-muted")]
