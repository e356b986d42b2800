"""What a unit is in another, for what is shown at every look: plain factors, by hand."""

from __future__ import annotations

SHOWN = {
    ("ml", "floz"): 29.5735295625,
    ("ml", "cup"): 236.5882365,
    ("ml", "l"): 1000.0,
    ("g", "oz"): 28.349523125,
    ("g", "lb"): 453.59237,
    ("g/l", "lb/gal"): 453.59237 / 3.785411784,
    ("mm", "in"): 25.4,
    ("um", "mil"): 25.4,
    ("m2", "cm2"): 1e-4,
    ("m2", "sqft"): 0.09290304,
    ("ml/m2", "floz/ft2"): 29.5735295625 / 0.09290304,
    ("ml/m2", "floz/sqft"): 29.5735295625 / 0.09290304,
    ("g/m2", "oz/sqft"): 28.349523125 / 0.09290304,
    ("g/ml", "lb/gal"): 453.59237 / 3785.411784,
    ("m/s", "ft/min"): 0.3048 / 60,
    ("m3", "cuft"): 0.3048**3,
    ("m3/h", "cfm"): 0.3048**3 * 60,
    ("s", "min"): 60.0,
    ("s", "h"): 3600.0,
}
"""By the kept unit and one that answers are shown in: how many of the first the second is. What is
shown at every look need not wait for the registry; ``tests/units`` holds each against it."""
