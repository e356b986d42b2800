"""What a unit is in another: plain factors, by hand, for what cannot wait for the registry."""

from __future__ import annotations

MIN_S, HOUR_S, DAY_S = 60.0, 3600.0, 86_400.0
"""A minute, an hour and a day in seconds."""
DAY_MIN = 1440
"""A day in minutes."""
G_PER_L_IN_A_POUND_CUT = 453.59237 / 3.785411784
"""A one-pound cut, 1 lb in a US gallon of alcohol, in grams in a litre of alcohol: 119.826427. Both
by definition: NIST Special Publication 811, 2008, appendix B."""
SHOWN = {
    ("ml", "floz"): 29.5735295625,
    ("ml", "cup"): 236.5882365,
    ("ml", "l"): 1000.0,
    ("g", "oz"): 28.349523125,
    ("g", "lb"): 453.59237,
    ("g/l", "lb/gal"): G_PER_L_IN_A_POUND_CUT,
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
    ("s", "min"): MIN_S,
    ("s", "h"): HOUR_S,
}
"""By the kept unit and one that answers are shown in: how many of the first the second is. What is
shown at every look need not wait for the registry; ``tests/units`` holds each against it."""
