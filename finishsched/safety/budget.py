"""The vapour of a whole day in one well-mixed room: every source, over time, by closed forms.

A source is laid evenly over a time, and what is laid evaporates with a time constant; either may
be nothing. So a spill, a steady source, a film that dries off and a coat that is being laid while
it dries off are all one form. Sources add up, because the room is linear:

    wet film    m'(t) = grams/laid over - a m,      a = 1/time constant
    room's air  g'(t) = a m - r g,                  r = flow / (mixing factor x volume)

Instants are seconds on any one clock; masses are grams. The balance is that of dilution
ventilation (industrial hygiene formula sheets), the film between source and air is ours.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from operator import mul
from typing import NamedTuple

from finishsched.factors import HOUR_S
from finishsched.model.solvent import Liquid, LocalLimit
from finishsched.safety.solvents import Part, Solvent, limit_ppm
from finishsched.safety.ventilation import RoomAir, vapour_m3

SAME_RATES = 1e-5
"""Two rates this near, relatively, count as their middle: the closed form loses digits there."""

BETWEEN = 4
"""Into how many parts the time between two turns is cut to look for a crest."""

DRY_SHARE = 1e-9
"""A film that holds less than this share of what was laid is dry."""

FASTEST_FLOW_M3_PER_H = 1e5
"""No shop moves more air than this; what would need more is not helped by air."""


def _filled(rate: float, age: float) -> float:
    """Return the integral of exp(-rate u) from 0 to ``age``."""
    return age if rate == 0 else -math.expm1(-rate * age) / rate


def _pulse(dry: float, air: float, age: float) -> float:
    """Return what is in the air of one gram laid at once ``age`` ago, at two rates."""
    if abs(dry - air) <= SAME_RATES * (dry + air):
        rate = (dry + air) / 2
        return dry * age * math.exp(-rate * age)
    slow, gap = min(dry, air), abs(dry - air)
    return dry * math.exp(-slow * age) * -math.expm1(-gap * age) / gap


def _ramp(dry: float, air: float, age: float) -> float:
    """Return the integral of ``_pulse`` from 0 to ``age``."""
    if abs(dry - air) <= SAME_RATES * (dry + air):
        rate = (dry + air) / 2
        if rate == 0:
            return 0.0
        return dry * (_filled(rate, age) - age * math.exp(-rate * age)) / rate
    return dry * (_filled(dry, age) - _filled(air, age)) / (air - dry)


@dataclass(frozen=True, slots=True)
class Release:
    """Some grams of one liquid, laid from ``begins_s`` on and leaving as vapour."""

    solvent: Solvent
    grams: float
    begins_s: float
    laid_over_s: float = 0.0
    """0 for all at once."""
    dries_s: float = 0.0
    """Time constant of its evaporation; 0 for vapour at once."""
    what: str = ""
    """Of what, in words."""

    @property
    def laid_at_s(self) -> float:
        """When all of it was laid."""
        return self.begins_s + self.laid_over_s

    def in_air_g(self, at_s: float, air_rate_per_s: float) -> float:
        """Return the grams in the room's air at ``at_s``; the room was clean when it began."""
        air = air_rate_per_s
        if self.dries_s <= 0:
            return self._laid(at_s, lambda age: math.exp(-air * age), lambda age: _filled(air, age))
        dry = 1 / self.dries_s
        return self._laid(at_s, lambda age: _pulse(dry, air, age), lambda age: _ramp(dry, air, age))

    def wet_g(self, at_s: float) -> float:
        """Return the grams that are laid and still wet at ``at_s``."""
        if self.dries_s <= 0:
            return 0.0
        dry = 1 / self.dries_s
        return self._laid(at_s, lambda age: math.exp(-dry * age), lambda age: _filled(dry, age))

    def to_come_g(self, at_s: float) -> float:
        """Return the grams that are not laid yet at ``at_s``."""
        if at_s >= self.laid_at_s:
            return 0.0
        return self.grams * min(1.0, (self.laid_at_s - at_s) / self.laid_over_s)

    def released_g(self, at_s: float) -> float:
        """Return the grams that have left as vapour by ``at_s``."""
        return self.grams - self.to_come_g(at_s) - self.wet_g(at_s)

    def crest_s(self, air_rate_per_s: float) -> float:
        """Return an instant after which its vapour in the air only falls."""
        if self.dries_s <= 0 or air_rate_per_s <= 0:
            return self.laid_at_s
        dry = 1 / self.dries_s
        if abs(dry - air_rate_per_s) <= SAME_RATES * dry:
            return self.laid_at_s + self.dries_s
        after = math.log(dry / air_rate_per_s) / (dry - air_rate_per_s)
        return self.laid_at_s + after

    def carried_on(self, at_s: float) -> Iterator[Release]:
        """Give what is left of it to evaporate from ``at_s`` on: what is wet, what is to come."""
        if self.begins_s > at_s:
            yield self
            return
        wet_g, to_come_g = self.wet_g(at_s), self.to_come_g(at_s)
        if wet_g > self.grams * DRY_SHARE:
            yield replace(self, grams=wet_g, begins_s=at_s, laid_over_s=0.0)
        if to_come_g > 0:
            yield replace(self, grams=to_come_g, begins_s=at_s, laid_over_s=self.laid_at_s - at_s)

    def _laid(
        self, at_s: float, pulse: Callable[[float], float], ramp: Callable[[float], float]
    ) -> float:
        age = at_s - self.begins_s
        if age < 0:
            return 0.0
        if self.laid_over_s <= 0:
            return self.grams * pulse(age)
        since = max(0.0, age - self.laid_over_s)
        return self.grams / self.laid_over_s * (ramp(age) - ramp(since))


class Peak(NamedTuple):
    """The most that something comes to, and when."""

    value: float
    at_s: float


Weight = Callable[[Release], float]
"""What one gram of a release in the air counts for."""


@dataclass(frozen=True, slots=True)
class Budget:
    """Every source of vapour in one room whose air does not change its flow."""

    releases: tuple[Release, ...]
    room: RoomAir
    local: tuple[LocalLimit, ...] = ()

    @property
    def air_rate_per_s(self) -> float:
        """Share of the room's air that is replaced, each second."""
        return self.room.effective_m3_per_h / self.room.volume_m3 / HOUR_S

    @property
    def solvents(self) -> tuple[Solvent, ...]:
        """Every liquid, the first met first."""
        return tuple(dict.fromkeys(one.solvent for one in self.releases))

    def ppm(self, liquid: Liquid) -> Weight:
        """Return the weight that makes the concentration of one liquid, in ppm."""
        return lambda one: self._ppm_of_a_gram(one) if one.solvent.liquid is liquid else 0.0

    def of_limits(self, release: Release) -> float:
        """Weigh by the limit: all together, more than 1 passes the limits."""
        return self._ppm_of_a_gram(release) / limit_ppm(release.solvent, self.local)

    def of_lel(self, release: Release) -> float:
        """Weigh by the lower explosive limit: all together, 1 can burn."""
        return self._ppm_of_a_gram(release) / release.solvent.lel_ppm

    def at(self, weight: Weight, at_s: float) -> float:
        """Return the weighted sum over every source at ``at_s``."""
        rate = self.air_rate_per_s
        return sum(
            amount * one.in_air_g(at_s, rate)
            for one in self.releases
            if at_s >= one.begins_s and (amount := weight(one))
        )

    def peak(self, weight: Weight, from_s: float, to_s: float) -> Peak:
        """Return the most that the weighted sum comes to between two instants, both counted."""
        return self.peaks((weight,), from_s, to_s)[0]

    def peaks(self, weights: Sequence[Weight], from_s: float, to_s: float) -> tuple[Peak, ...]:
        """Return the peak of each weighted sum, for which the room is followed only once."""
        marks = self._marks(from_s, to_s)
        rate = self.air_rate_per_s
        aloft = [[one.in_air_g(mark, rate) for one in self.releases] for mark in marks]
        return tuple(self._peak(weight, marks, aloft) for weight in weights)

    def below_from(self, weight: Weight, ceiling: float, at_s: float) -> float | None:
        """Return from when on, at or after ``at_s``, the sum stays at ``ceiling`` or less.

        None when it never does by itself: in a room that is shut.
        """
        if self.air_rate_per_s <= 0:
            all_of_it = sum(weight(one) * one.grams for one in self.releases)
            return at_s if all_of_it <= ceiling else None
        last_s = max((one.crest_s(self.air_rate_per_s) for one in self.releases), default=at_s)
        end_s = max(at_s, last_s) + 1.0
        step_s = HOUR_S
        while self.at(weight, end_s) > ceiling:
            end_s, step_s = end_s + step_s, 2 * step_s
            if step_s > 1e9:
                return None
        marks = self._marks(at_s, end_s)
        above = [mark for mark in marks if self.at(weight, mark) > ceiling]
        if not above:
            return at_s
        low = above[-1]
        high = next(mark for mark in marks if mark > low)
        while high - low > 1.0:
            middle = (low + high) / 2
            low, high = (middle, high) if self.at(weight, middle) > ceiling else (low, middle)
        return high

    def restarted(self, at_s: float, room: RoomAir) -> Budget:
        """Return the budget from ``at_s`` on, when the air changes to that of ``room``."""
        rate = self.air_rate_per_s
        aloft: dict[tuple[Solvent, str], float] = {}
        for one in self.releases:
            key = one.solvent, one.what
            aloft[key] = aloft.get(key, 0.0) + one.in_air_g(at_s, rate)
        in_air = (
            Release(solvent, grams, at_s, what=what)
            for (solvent, what), grams in aloft.items()
            if grams > 0
        )
        left = (rest for one in self.releases for rest in one.carried_on(at_s))
        return Budget((*in_air, *left), room, self.local)

    def with_more(self, releases: Iterable[Release]) -> Budget:
        """Return the budget with other sources beside its own."""
        return replace(self, releases=(*self.releases, *releases))

    def shares(self, weight: Weight, at_s: float) -> tuple[tuple[str, float], ...]:
        """Return what each ``what`` has in the weighted sum at ``at_s``, the most first."""
        found: dict[str, float] = {}
        for one in self.releases:
            amount = weight(one) * one.in_air_g(at_s, self.air_rate_per_s)
            found[one.what] = found.get(one.what, 0.0) + amount
        return tuple(sorted(found.items(), key=lambda pair: -pair[1]))

    def _peak(
        self, weight: Weight, marks: Sequence[float], aloft: Sequence[Sequence[float]]
    ) -> Peak:
        amounts = [weight(one) for one in self.releases]
        values = [sum(map(mul, amounts, grams)) for grams in aloft]
        best = max(range(len(marks)), key=values.__getitem__)
        low, high = marks[max(0, best - 1)], marks[min(len(marks) - 1, best + 1)]
        refined = self._crest(weight, low, high)
        found = Peak(values[best], marks[best])
        return refined if refined.value > found.value else found

    def _ppm_of_a_gram(self, release: Release) -> float:
        return vapour_m3(Part(release.solvent, 1.0)) / self.room.volume_m3 * 1e6

    def _marks(self, from_s: float, to_s: float) -> list[float]:
        """Return the instants where a source turns, and some between, in order of time.

        Between two turns each source only rises or only falls; the sum of both kinds may crest in
        between, which the instants between are close enough to find.
        """
        rate = self.air_rate_per_s
        turns = {from_s, to_s}
        for one in self.releases:
            own = one.begins_s, one.laid_at_s, one.crest_s(rate)
            turns.update(turn for turn in own if from_s < turn < to_s)
        ordered = sorted(turns)
        found = [
            low + (high - low) * part / BETWEEN
            for low, high in pairwise(ordered)
            for part in range(BETWEEN)
        ]
        return [*found, ordered[-1]]

    def _crest(self, weight: Weight, low: float, high: float) -> Peak:
        """Return the highest point between two instants, to a second, by golden section."""
        golden = (math.sqrt(5) - 1) / 2
        left, right = high - golden * (high - low), low + golden * (high - low)
        at_left, at_right = self.at(weight, left), self.at(weight, right)
        while high - low > 1.0:
            if at_left >= at_right:
                high, right, at_right = right, left, at_left
                left = high - golden * (high - low)
                at_left = self.at(weight, left)
            else:
                low, left, at_left = left, right, at_right
                right = low + golden * (high - low)
                at_right = self.at(weight, right)
        return max(Peak(at_left, left), Peak(at_right, right), key=lambda peak: peak.value)


def _keeps(
    budget: Budget, tests: Sequence[tuple[Weight, float]], from_s: float, to_s: float
) -> bool:
    """Tell whether each weighted sum keeps its ceiling between two instants."""
    peaks = budget.peaks([weight for weight, _ in tests], from_s, to_s)
    return all(peak.value <= most for peak, (_, most) in zip(peaks, tests, strict=True))


def flow_needed_m3_per_h(
    budget: Budget, tests: Sequence[tuple[Weight, float]], from_s: float, to_s: float
) -> float | None:
    """Return the least flow, in m3/h, that keeps each weighted sum under its ceiling.

    None when no flow that a shop can have would do, as when the air is over a ceiling already.

    Source: a well-mixed room by closed forms, textbook; ceilings by 29 CFR 1910.1000(d)(2).

    Args:
        budget: the room and every source in it.
        tests: weights of the liquids, and the ceiling of their sum, no unit, above 0.
        from_s: s since the epoch, any.
        to_s: s since the epoch, after ``from_s``.

    """

    def holds(flow: float) -> bool:
        other = budget.restarted(from_s, replace(budget.room, flow_m3_per_h=flow))
        return _keeps(other, tests, from_s, to_s)

    if holds(budget.room.flow_m3_per_h):
        return budget.room.flow_m3_per_h
    low, high = budget.room.flow_m3_per_h, max(1.0, 2 * budget.room.flow_m3_per_h)
    while not holds(high):
        if high > FASTEST_FLOW_M3_PER_H:
            return None
        low, high = high, 2 * high
    while high / max(low, 1e-9) > 1.01 and high - low > 0.5:
        middle = (low + high) / 2
        low, high = (low, middle) if holds(middle) else (middle, high)
    return high


def wait_needed_s(
    budget: Budget,
    coat: Sequence[Release],
    tests: Sequence[tuple[Weight, float]],
    from_s: float,
    longest_s: float = 24 * HOUR_S,
) -> float | None:
    """Return how long to put off ``coat`` to keep every ceiling, in s, to five minutes upwards.

    None when even ``longest_s`` does not help, as when the coat by itself is too much for the room.

    Source: a well-mixed room by closed forms, textbook; ceilings by 29 CFR 1910.1000(d)(2).

    Args:
        budget: the room and every source in it.
        coat: what it sends into the air, and when.
        tests: weights of the liquids, and the ceiling of their sum, no unit, above 0.
        from_s: s since the epoch at which the coat begins, any.
        longest_s: s, above 0.

    """

    def holds(wait_s: float) -> bool:
        later = [replace(one, begins_s=one.begins_s + wait_s) for one in coat]
        both = budget.with_more(later)
        begins_s = from_s + wait_s
        return _keeps(both, tests, begins_s, begins_s + longest_s)

    if holds(0.0):
        return 0.0
    low, high = 0, math.ceil(longest_s / 300)
    if not holds(high * 300.0):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if holds(middle * 300.0) else (middle, high)
    return high * 300.0
