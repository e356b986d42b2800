"""Mixing and reducing a cut by the exact balance.

A cut is the mass of dry flakes added to a volume of alcohol, not a share of the finished solution
(Federal Specification TT-S-300A, Shellac, Cut, 1977, 1.2 note 1). Flakes add their own volume to
the solution: published yields all give about 0.100 US gallon per pound, 1.20 g/mL. The widespread
short rule that forgets this volume is several times worse against printed reducing tables.
Volumes of alcohol are as measured at the alcohol's own temperature.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from finishsched.factors import G_PER_L_IN_A_POUND_CUT
from finishsched.mixing.alcohol import alcohol_g_per_ml
from finishsched.model.reason import Reason
from finishsched.model.said import Quantity, said
from finishsched.model.shop import Alcohol

DISSOLVED_G_PER_ML = 1.20
"""Mass of flakes per volume that they add to a solution."""

LEAST_STRENGTH_PERCENT_VOL = 90.0
"""Weaker alcohol dissolves shellac badly (common practice, no source)."""

HEAVIEST_NAMED_CUT_LB = 8.0
"""'Extra heavy', the heaviest class with a name (TT-S-300A 1.2; ASTM D360-89 6.1)."""


class FreshBatch(NamedTuple):
    """A batch by weight and by volume."""

    cut_g_per_l: float
    flakes_g: float
    alcohol_ml: float
    alcohol_g: float
    makes_ml: float
    mass_percent: float
    """Dry resin in the solution by mass: what a dried sample shows."""
    volume_solids_percent: float
    density_g_per_ml: float
    warnings: tuple[str, ...]
    reasons: tuple[Reason, ...]

    @property
    def cut_lb_per_gal(self) -> float:
        """The cut in pounds per US gallon of alcohol."""
        return self.cut_g_per_l / G_PER_L_IN_A_POUND_CUT


class Reduction(NamedTuple):
    """What to add to a solution to change its cut."""

    from_g_per_l: float
    to_g_per_l: float
    have_ml: float
    add_alcohol_ml: float
    add_alcohol_g: float
    add_flakes_g: float
    makes_ml: float
    warnings: tuple[str, ...]
    reasons: tuple[Reason, ...]

    @property
    def parts_alcohol_per_part(self) -> float:
        """Parts of alcohol by volume for each part of the solution at hand."""
        return self.add_alcohol_ml / self.have_ml

    @property
    def to_lb_per_gal(self) -> float:
        """The cut that it becomes, in pounds per US gallon of alcohol."""
        return self.to_g_per_l / G_PER_L_IN_A_POUND_CUT


def mix_for_volume(
    cut_g_per_l: float, makes_ml: float, alcohol: Alcohol, moisture_percent: float = 0.0
) -> FreshBatch:
    """Return the batch of ``cut_g_per_l`` that fills ``makes_ml`` of solution.

    Source: TT-S-300A, Shellac, Cut, 1977; the balance of masses and volumes.

    Args:
        cut_g_per_l: g of flakes per litre of alcohol, above 0.
        makes_ml: ml of solution, above 0.
        alcohol: its strength in %vol, 0 to 100, and its own temperature, -20 to 40 degC.
        moisture_percent: percent of the flakes as weighed that is no resin, 0 to under 100.

    Raises:
        ValueError: outside those ranges.

    """
    _refuse_nothing(cut_g_per_l=cut_g_per_l, makes_ml=makes_ml)
    alcohol_ml = makes_ml / (1 + cut_g_per_l / 1000 / DISSOLVED_G_PER_ML)
    return mix_for_alcohol(cut_g_per_l, alcohol_ml, alcohol, moisture_percent)


def mix_for_flakes(
    cut_g_per_l: float, flakes_g: float, alcohol: Alcohol, moisture_percent: float = 0.0
) -> FreshBatch:
    """Return the batch of ``cut_g_per_l`` that uses ``flakes_g`` of flakes.

    Source: TT-S-300A, Shellac, Cut, 1977; the balance of masses and volumes.

    Args:
        cut_g_per_l: g of flakes per litre of alcohol, above 0.
        flakes_g: g of flakes as weighed, above 0.
        alcohol: its strength in %vol, 0 to 100, and its own temperature, -20 to 40 degC.
        moisture_percent: percent of the flakes as weighed that is no resin, 0 to under 100.

    Raises:
        ValueError: outside those ranges.

    """
    _refuse_nothing(cut_g_per_l=cut_g_per_l, flakes_g=flakes_g)
    return mix_for_alcohol(cut_g_per_l, flakes_g / cut_g_per_l * 1000, alcohol, moisture_percent)


def mix_for_alcohol_mass(
    cut_g_per_l: float, alcohol_g: float, alcohol: Alcohol, moisture_percent: float = 0.0
) -> FreshBatch:
    """Return the batch of ``cut_g_per_l`` that uses ``alcohol_g`` of alcohol.

    Source: TT-S-300A, Shellac, Cut, 1977; the balance of masses and volumes.

    Args:
        cut_g_per_l: g of flakes per litre of alcohol, above 0.
        alcohol_g: g of alcohol, above 0.
        alcohol: its strength in %vol, 0 to 100, and its own temperature, -20 to 40 degC.
        moisture_percent: percent of the flakes as weighed that is no resin, 0 to under 100.

    Raises:
        ValueError: outside those ranges.

    """
    _refuse_nothing(cut_g_per_l=cut_g_per_l, alcohol_g=alcohol_g)
    alcohol_ml = alcohol_g / alcohol_g_per_ml(alcohol.strength_percent_vol, alcohol.at_c)
    return mix_for_alcohol(cut_g_per_l, alcohol_ml, alcohol, moisture_percent)


def mix_for_alcohol(
    cut_g_per_l: float, alcohol_ml: float, alcohol: Alcohol, moisture_percent: float = 0.0
) -> FreshBatch:
    """Return the batch of ``cut_g_per_l`` that uses ``alcohol_ml`` of alcohol.

    The cut counts flakes as weighed.

    Source: TT-S-300A, Shellac, Cut, 1977; the balance of masses and volumes.

    Args:
        cut_g_per_l: g of flakes per litre of alcohol, above 0.
        alcohol_ml: ml of alcohol at its own temperature, above 0.
        alcohol: its strength in %vol, 0 to 100, and its own temperature, -20 to 40 degC.
        moisture_percent: percent of the flakes as weighed that is no resin, 0 to under 100.

    Raises:
        ValueError: outside those ranges.

    """
    _refuse_nothing(cut_g_per_l=cut_g_per_l, alcohol_ml=alcohol_ml)
    if not 0 <= moisture_percent < 100:
        raise ValueError(f"a moisture of {moisture_percent:g} %; it may be 0 to under 100 %")
    density = alcohol_g_per_ml(alcohol.strength_percent_vol, alcohol.at_c)
    flakes_g = cut_g_per_l * alcohol_ml / 1000
    alcohol_g = alcohol_ml * density
    flakes_ml = flakes_g / DISSOLVED_G_PER_ML
    makes_ml = alcohol_ml + flakes_ml
    resin_share = 1 - moisture_percent / 100
    return FreshBatch(
        cut_g_per_l=cut_g_per_l,
        flakes_g=flakes_g,
        alcohol_ml=alcohol_ml,
        alcohol_g=alcohol_g,
        makes_ml=makes_ml,
        mass_percent=100 * flakes_g * resin_share / (flakes_g + alcohol_g),
        volume_solids_percent=100 * flakes_ml * resin_share / makes_ml,
        density_g_per_ml=(flakes_g + alcohol_g) / makes_ml,
        warnings=heavy_warnings(cut_g_per_l) + _weak_warnings(alcohol),
        reasons=_mixing_reasons(cut_g_per_l, alcohol_ml, alcohol, density, moisture_percent),
    )


def reduce_from(
    from_g_per_l: float, to_g_per_l: float, have_ml: float, alcohol: Alcohol
) -> Reduction:
    """Return what to add to ``have_ml`` of solution to bring it to ``to_g_per_l``.

    Alcohol when the target is weaker, flakes when it is stronger.

    Source: TT-S-300A, Shellac, Cut, 1977; the balance of masses and volumes.

    Args:
        from_g_per_l: g of flakes per litre of alcohol, above 0.
        to_g_per_l: in the same unit, above 0.
        have_ml: ml of solution, above 0.
        alcohol: its strength in %vol, 0 to 100, and its own temperature, -20 to 40 degC.

    Raises:
        ValueError: outside those ranges.

    """
    _refuse_nothing(from_g_per_l=from_g_per_l, to_g_per_l=to_g_per_l, have_ml=have_ml)
    alcohol_in_it_ml = have_ml / (1 + from_g_per_l / 1000 / DISSOLVED_G_PER_ML)
    add_alcohol_ml = max(0.0, alcohol_in_it_ml * (from_g_per_l / to_g_per_l - 1))
    add_flakes_g = max(0.0, alcohol_in_it_ml / 1000 * (to_g_per_l - from_g_per_l))
    density = alcohol_g_per_ml(alcohol.strength_percent_vol, alcohol.at_c)
    return Reduction(
        from_g_per_l=from_g_per_l,
        to_g_per_l=to_g_per_l,
        have_ml=have_ml,
        add_alcohol_ml=add_alcohol_ml,
        add_alcohol_g=add_alcohol_ml * density,
        add_flakes_g=add_flakes_g,
        makes_ml=have_ml + add_alcohol_ml + add_flakes_g / DISSOLVED_G_PER_ML,
        warnings=heavy_warnings(max(from_g_per_l, to_g_per_l)),
        reasons=_reducing_reasons(from_g_per_l, to_g_per_l, have_ml),
    )


def thin_by(
    from_g_per_l: float, have_ml: float, add_alcohol_ml: float, alcohol: Alcohol
) -> Reduction:
    """Return what ``have_ml`` of solution becomes when so much alcohol is added to it.

    Source: TT-S-300A, Shellac, Cut, 1977; the balance of masses and volumes.

    Args:
        from_g_per_l: g of flakes per litre of alcohol, above 0.
        have_ml: ml of solution, above 0.
        add_alcohol_ml: ml, above 0.
        alcohol: its strength in %vol, 0 to 100, and its own temperature, -20 to 40 degC.

    Raises:
        ValueError: outside those ranges.

    """
    _refuse_nothing(from_g_per_l=from_g_per_l, have_ml=have_ml, add_alcohol_ml=add_alcohol_ml)
    alcohol_in_it_ml = have_ml / (1 + from_g_per_l / 1000 / DISSOLVED_G_PER_ML)
    to_g_per_l = from_g_per_l * alcohol_in_it_ml / (alcohol_in_it_ml + add_alcohol_ml)
    density = alcohol_g_per_ml(alcohol.strength_percent_vol, alcohol.at_c)
    return Reduction(
        from_g_per_l=from_g_per_l,
        to_g_per_l=to_g_per_l,
        have_ml=have_ml,
        add_alcohol_ml=add_alcohol_ml,
        add_alcohol_g=add_alcohol_ml * density,
        add_flakes_g=0.0,
        makes_ml=have_ml + add_alcohol_ml,
        warnings=heavy_warnings(from_g_per_l),
        reasons=(_thinning_reason(from_g_per_l, have_ml, add_alcohol_ml),),
    )


def reduce_to_make(
    from_g_per_l: float, to_g_per_l: float, makes_ml: float, alcohol: Alcohol
) -> Reduction:
    """Return how much solution and what to add to it so that it makes ``makes_ml`` in the end.

    Source: TT-S-300A, Shellac, Cut, 1977; the balance of masses and volumes.

    Args:
        from_g_per_l: g of flakes per litre of alcohol, above 0.
        to_g_per_l: in the same unit, above 0.
        makes_ml: ml of the solution that is wanted, above 0.
        alcohol: its strength in %vol, 0 to 100, and its own temperature, -20 to 40 degC.

    Raises:
        ValueError: outside those ranges.

    """
    _refuse_nothing(makes_ml=makes_ml)
    one = reduce_from(from_g_per_l, to_g_per_l, 1.0, alcohol)
    return reduce_from(from_g_per_l, to_g_per_l, makes_ml / one.makes_ml, alcohol)


def _refuse_nothing(**amounts: float) -> None:
    for name, amount in amounts.items():
        if not (math.isfinite(amount) and amount > 0):
            raise ValueError(f"{name} is {amount:g}; it must be more than zero")


def heavy_warnings(cut_g_per_l: float) -> tuple[str, ...]:
    """Return the warning that a cut is heavier than any with a name, or none."""
    if cut_g_per_l <= HEAVIEST_NAMED_CUT_LB * G_PER_L_IN_A_POUND_CUT * 1.0001:
        return ()
    return (
        (
            f"heavier than {HEAVIEST_NAMED_CUT_LB:g} lb, the heaviest cut with a name: "
            "it may not dissolve, and is too thick to work"
        ),
    )


def _weak_warnings(alcohol: Alcohol) -> tuple[str, ...]:
    """Return the warning that the alcohol holds too much water, or none."""
    if alcohol.strength_percent_vol >= LEAST_STRENGTH_PERCENT_VOL:
        return ()
    return (
        (
            f"alcohol under {LEAST_STRENGTH_PERCENT_VOL:g} %vol holds much water: shellac "
            "dissolves badly in it, or clouds (common practice)"
        ),
    )


def _mixing_reasons(
    cut_g_per_l: float, alcohol_ml: float, alcohol: Alcohol, density: float, moisture_percent: float
) -> tuple[Reason, ...]:
    return (
        Reason(
            "flakes = cut x volume of alcohol",
            (
                said("cut {}", Quantity(cut_g_per_l, "g/l", 4)),
                said("alcohol {}", Quantity(alcohol_ml, "ml", 4)),
            ),
            "a cut counts flakes per alcohol: Federal Specification TT-S-300A, 1977, 1.2 note 1",
        ),
        Reason(
            "makes = alcohol + flakes / {1.20 g/ml}",
            (said("dissolved density {}", Quantity(DISSOLVED_G_PER_ML, "g/ml")),),
            "published yields of about 0.100 US gal per lb",
        ),
        Reason(
            "alcohol by weight = volume x density",
            (
                f"{alcohol.strength_percent_vol:g} %vol",
                said("{}", Quantity(alcohol.at_c, "degC")),
                said("density {}", Quantity(density, "g/ml", 4)),
            ),
            "OIML R 22:1975, general formula",
        ),
        Reason(
            "mass percent = dry resin / (flakes + alcohol)",
            (f"moisture and insolubles {moisture_percent:g} %",),
            "mass balance; agrees with ASTM D360-89, 6.1",
        ),
    )


def _thinning_reason(from_g_per_l: float, have_ml: float, add_alcohol_ml: float) -> Reason:
    return Reason(
        "to = from x alcohol in it / (alcohol in it + added)",
        (
            said("from {}", Quantity(from_g_per_l, "g/l", 4)),
            said("have {}", Quantity(have_ml, "ml", 4)),
            said("added {}", Quantity(add_alcohol_ml, "ml", 4)),
            said("dissolved density {}", Quantity(DISSOLVED_G_PER_ML, "g/ml")),
        ),
        "balance of resin and alcohol; checked on a published reducing table",
    )


def _reducing_reasons(from_g_per_l: float, to_g_per_l: float, have_ml: float) -> tuple[Reason, ...]:
    inputs = (
        said("from {}", Quantity(from_g_per_l, "g/l", 4)),
        said("to {}", Quantity(to_g_per_l, "g/l", 4)),
        said("have {}", Quantity(have_ml, "ml", 4)),
        said("dissolved density {}", Quantity(DISSOLVED_G_PER_ML, "g/ml")),
    )
    if to_g_per_l > from_g_per_l:
        rule = "flakes to add = (to - from) x alcohol in it"
    else:
        rule = "alcohol to add = have x (from/to - 1) / (1 + from / dissolved density)"
    return (
        Reason(rule, inputs, "balance of resin and alcohol; checked on a published reducing table"),
    )
