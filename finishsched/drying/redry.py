"""How long a wetted layer of wood takes to dry again.

After water-sanding, wetted veneer tape, a waterborne filler or glue. Water leaves a plane sheet by
Fick's law; the exact series is in Crank, The Mathematics of Diffusion, chapter 4.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from finishsched.drying.air import emc_percent
from finishsched.drying.laws import AirState
from finishsched.drying.rates import time_factor

DIFFUSIVITY_M2_PER_S = 1.0e-10
"""Of water across the grain, at 20 degC: spruce 0.94 to 1.00e-10 (published)."""
DENSE_DIFFUSIVITY_M2_PER_S = 0.5e-10
LIGHT_KG_PER_M3, DENSE_KG_PER_M3 = 600.0, 800.0
"""Half as much in the densest woods, and evenly less from light to dense (our assumption)."""
ENERGY_KJ_PER_MOL = 30.0
REFERENCE_C = 20.0
"""How warmth speeds diffusion in wood (our assumption)."""

LOW, LIKELY, HIGH = 2.0, 3.0, 4.0
"""Real panels take 2 to 4 times the ideal sheet's time (our assumption)."""
READY_WITHIN_PERCENT = 1.0
"""Moisture this near to what the room brings it to counts as dry again (our assumption)."""

_ODD_SQUARES = tuple(n**2 for n in range(1, 20, 2))
"""From 0.1 tau on the next term of the series is lost in rounding."""


@dataclass(frozen=True, slots=True)
class Layer:
    """A layer of wood that was wetted.

    Raises:
        ValueError: for no thickness, no density, or other than one or two open faces.

    """

    thickness_mm: float
    open_faces: int = 1
    """2 for a loose leaf or panel, 1 for veneer on a glue line."""
    density_kg_per_m3: float = 600.0

    def __post_init__(self) -> None:
        if not (0 < self.thickness_mm < math.inf and 0 < self.density_kg_per_m3 < math.inf):
            raise ValueError("a layer of wood has a thickness and a density above 0")
        if self.open_faces not in (1, 2):
            raise ValueError(f"water leaves a layer by 1 or 2 faces, not {self.open_faces}")

    def tau_s(self, temperature_c: float = REFERENCE_C) -> float:
        """Return the time in seconds in which the slowest part of the water falls to 1/e."""
        path_m = self.thickness_mm / 1000 / self.open_faces
        slower = time_factor(temperature_c, REFERENCE_C, ENERGY_KJ_PER_MOL)
        return 4 * path_m**2 / (math.pi**2 * self.diffusivity_m2_per_s) * slower

    @property
    def diffusivity_m2_per_s(self) -> float:
        """How quickly water goes across the grain at 20 degC: the denser, the slower."""
        way = (self.density_kg_per_m3 - LIGHT_KG_PER_M3) / (DENSE_KG_PER_M3 - LIGHT_KG_PER_M3)
        dense = min(1.0, max(0.0, way))
        return (1 - dense) * DIFFUSIVITY_M2_PER_S + dense * DENSE_DIFFUSIVITY_M2_PER_S


class Redrying(NamedTuple):
    """How long until the wood is dry again: a range."""

    low_s: float
    likely_s: float
    high_s: float
    to_percent: float
    """The moisture that the room brings it to."""


def redrying(layer: Layer, moisture_percent: float, air: AirState) -> Redrying:
    """Return how long until the layer is within 1 % of the moisture that this air brings it to.

    Source: Crank, The Mathematics of Diffusion, chapter 4; how much longer real panels take is our
    assumption.

    Args:
        layer: how thick, how open, how dense.
        moisture_percent: the mean moisture now, percent of its dry mass, 0 to about 200.
        air: the air of the room, -10 to 60 degC.

    Raises:
        ValueError: for a moisture that is no number.

    """
    to_percent = emc_percent(air.temperature_c, air.humidity_percent)
    away_percent = abs(moisture_percent - to_percent)
    left = READY_WITHIN_PERCENT / away_percent if away_percent > READY_WITHIN_PERCENT else 1.0
    ideal_s = layer.tau_s(air.temperature_c) * taus_until(left)
    return Redrying(LOW * ideal_s, LIKELY * ideal_s, HIGH * ideal_s, to_percent)


def ideal_s(layer: Layer, way_percent: float, temperature_c: float = REFERENCE_C) -> float:
    """Return the ideal sheet's time for ``way_percent`` of the way, in s.

    Real panels take ``LOW`` to ``HIGH`` times as long.

    Source: Crank, The Mathematics of Diffusion, chapter 4.

    Args:
        layer: how thick, how open, how dense.
        way_percent: percent of the change of moisture, 0 to below 100.
        temperature_c: degC, about 0 to 60.

    Raises:
        ValueError: outside 0 to below 100 %.

    """
    return layer.tau_s(temperature_c) * taus_until(1 - way_percent / 100)


def share_left(taus: float) -> float:
    """Return the share of the moisture change still to come after ``taus`` times tau, 0 to 1.

    Exact: 8/pi^2 times the sum of exp[-(2n+1)^2 t/tau]/(2n+1)^2. For the first moments its
    equal, 1 - 2 sqrt(D t/pi)/l, which converges at once there.

    Source: Crank, The Mathematics of Diffusion, chapter 4.

    Args:
        taus: times the time constant, no unit, 0 or more.

    """
    if taus < 0.1:  # the next term of this form is below 1e-9 here
        return 1 - 4 * math.sqrt(max(0.0, taus) / math.pi) / math.pi
    terms = [math.exp(-square * taus) / square for square in _ODD_SQUARES]
    return 8 / math.pi**2 * sum(terms)


@lru_cache(maxsize=256)  # a plan asks of every wait on a wetted veneer, in much the same air
def taus_until(left: float) -> float:
    """Return after how many tau the share ``left`` of the change is still to come, no unit.

    Source: ``share_left`` turned round by halving; Crank, The Mathematics of Diffusion, chapter 4.

    Args:
        left: share, above 0 and at most 1.

    Raises:
        ValueError: unless the share is above 0 and at most 1.

    """
    if not 0 < left <= 1:
        raise ValueError(f"a share of {left:g} still to come; above 0, at most 1")
    low, high = 0.0, 1.0 - math.log(left)
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if share_left(middle) > left else (low, middle)
    return high if left < 1 else 0.0
