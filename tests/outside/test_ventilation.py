"""Vapour and ventilation against published figures and worked examples.

The ppm of the tables hold at 25 degC and one atmosphere, 24.45 L/mol.

NIOSH Pocket Guide to Chemical Hazards, DHHS (NIOSH) Publication 2005-149, Cincinnati, 2007;
Documentation for Immediately Dangerous to Life or Health Concentrations (IDLH), NIOSH, 1994; 29 CFR
1910.1000, Air contaminants, US Department of Labor. Teaching examples bear no title.
"""

from __future__ import annotations

import math

import pytest

from finishsched.model.solvent import FlameClass, Liquid
from finishsched.safety.budget import HOUR_S, Budget, Release
from finishsched.safety.contents import parts_of_liquid
from finishsched.safety.exposure import lowest_limit
from finishsched.safety.solvents import SOLVENTS, flame_class
from finishsched.safety.ventilation import (
    RoomAir,
    air_needed_m3_per_h,
    build_up_ppm,
    mg_per_m3_to_ppm,
    mixture_index,
    ppm_to_mg_per_m3,
    purge_h,
    vapour_m3,
    vent_answer,
)

PINT_ML, CUBIC_FOOT_M3 = 473.176473, 0.028316846592


def litre_of(liquid):
    """Return one litre of a liquid."""
    (part,) = parts_of_liquid(liquid, ml=1000.0)
    return part


@pytest.mark.parametrize(
    ("liquid", "m3"),
    [
        (Liquid.ETHANOL, 0.419),
        (Liquid.METHANOL, 0.604),
        (Liquid.ISOPROPANOL, 0.319),
        (Liquid.ACETONE, 0.333),
    ],
)
def test_a_litre_becomes_this_much_vapour(liquid, m3):
    """Litres x 24.45 x density / molar mass, densities at 20 degC of handbooks (computed)."""
    assert vapour_m3(litre_of(liquid)) == pytest.approx(m3, abs=0.0006)


@pytest.mark.parametrize(("liquid", "mg"), [(Liquid.ETHANOL, 1.88), (Liquid.ISOPROPANOL, 2.46)])
def test_one_ppm_in_mg(liquid, mg):
    """NIOSH Pocket Guide, conversion: 1 ppm is so many mg/m3; and back."""
    assert ppm_to_mg_per_m3(1.0, SOLVENTS[liquid]) == pytest.approx(mg, abs=0.005)
    assert mg_per_m3_to_ppm(mg, SOLVENTS[liquid]) == pytest.approx(1.0, abs=0.005)


@pytest.mark.parametrize(
    ("liquid", "ppm"),
    [
        (Liquid.ACETONE, 2500),
        (Liquid.ETHANOL, 3300),
        (Liquid.METHANOL, 6000),
        (Liquid.ISOPROPANOL, 2000),
        (Liquid.TURPENTINE, 800),
    ],
)
def test_a_tenth_of_the_explosive_limit(liquid, ppm):
    """NIOSH IDLH documentation prints 10 % of its LEL, which is the IDLH; ours is never above.

    The explosive limit that goes first among the published ones is that of NIOSH.
    """
    solvent = SOLVENTS[liquid]
    assert solvent.lels_percent[0] * 1e4 / 10 == pytest.approx(ppm)
    assert solvent.lel_ppm / 10 <= ppm
    assert solvent.idlh_ppm == pytest.approx(ppm)


@pytest.mark.parametrize(
    ("liquid", "pel", "rel", "stel"),
    [
        (Liquid.ETHANOL, 1000, 1000, None),
        (Liquid.METHANOL, 200, 200, 250),
        (Liquid.ISOPROPANOL, 400, 400, 500),
        (Liquid.ACETONE, 1000, 250, None),
        (Liquid.TURPENTINE, 100, 100, None),
        (Liquid.TOLUENE, 200, 100, 150),
        (Liquid.XYLENE, 100, 100, 150),
        (Liquid.BUTYL_ACETATE, 150, 150, 200),
        (Liquid.ETHYL_ACETATE, 400, 400, None),
        (Liquid.BUTOXYETHANOL, 50, 5, None),
    ],
)
def test_limits_as_published(liquid, pel, rel, stel):
    """NIOSH Pocket Guide and OSHA 29 CFR 1910.1000, ppm; no higher one is planned with."""
    solvent = SOLVENTS[liquid]
    assert (solvent.pel_ppm, solvent.rel_ppm, solvent.stel_ppm) == (pel, rel, stel)
    assert solvent.published_limit_ppm <= min(pel, rel)


# Ontario Regulation 833 (transcribed), ACGIH threshold limit values (public listings; turpentine
# and xylene from memory), NIOSH and OSHA: the lowest of all four, ppm, and whose it is.
@pytest.mark.parametrize(
    ("liquid", "ppm", "whose"),
    [
        (Liquid.ETHANOL, 1000, "NIOSH REL"),
        (Liquid.METHANOL, 200, "NIOSH REL"),
        (Liquid.ISOPROPANOL, 200, "Ontario Regulation 833"),
        (Liquid.ACETONE, 250, "NIOSH REL"),
        (Liquid.TURPENTINE, 20, "Ontario Regulation 833"),
        (Liquid.TOLUENE, 20, "Ontario Regulation 833"),
        (Liquid.XYLENE, 20, "ACGIH TLV"),
        (Liquid.BUTYL_ACETATE, 50, "ACGIH TLV"),
        (Liquid.ETHYL_ACETATE, 400, "NIOSH REL"),
        (Liquid.BUTOXYETHANOL, 5, "NIOSH REL"),
    ],
)
def test_the_lowest_of_all_limits_decides(liquid, ppm, whose):
    """Every list that is known is asked, and the one that decides is named."""
    lowest = lowest_limit(SOLVENTS[liquid])
    assert (lowest.ppm, lowest.whose) == (ppm, whose)


def test_stoddard_solvent_by_weight():
    """NIOSH Pocket Guide: REL 350 mg/m3, ceiling 1800, IDLH 20 000, OSHA 500 ppm."""
    stoddard = SOLVENTS[Liquid.MINERAL_SPIRITS]
    assert ppm_to_mg_per_m3(stoddard.published_limit_ppm, stoddard) == pytest.approx(350)
    assert ppm_to_mg_per_m3(stoddard.stel_ppm, stoddard) == pytest.approx(1800)
    assert ppm_to_mg_per_m3(stoddard.idlh_ppm, stoddard) == pytest.approx(20_000)


def test_build_up_worked_example():
    """Hygienists' teaching, no title: G 1.4 cfm, Q' 2500 cfm, 11 min, 75 000 ft3: 171.90 ppm.

    The form holds in any one set of units: here feet and minutes.
    """
    assert build_up_ppm(1.4, 2500, 75_000, 11) == pytest.approx(171.90, abs=0.05)


def test_half_life_worked_example():
    """Hygienists' teaching, no title: a 20 m3 room with a half-life of 1.4 h has 9.9 m3/h."""
    assert purge_h(100, 50, 9.9, 20) == pytest.approx(1.4, abs=0.005)


@pytest.mark.parametrize(
    ("liquid", "limit", "m3"), [(Liquid.ETHANOL, 1000, 419), (Liquid.METHANOL, 200, 3022)]
)
def test_air_for_a_litre_evaporated(liquid, limit, m3):
    """Q = K G 1e6/C with K = 1, for one litre in an hour (computed)."""
    found = air_needed_m3_per_h(vapour_m3(litre_of(liquid)), limit, 1)
    assert found == pytest.approx(m3, abs=1)


def test_ten_ml_of_ethanol_in_a_closed_room():
    """10 ml of ethanol in 30 m3 come to about 140 ppm (computed)."""
    part = parts_of_liquid(Liquid.ETHANOL, ml=10)
    found = vent_answer(part, 0.2, RoomAir(30.0))
    assert found.peak_ppm == pytest.approx(140, abs=1)
    assert not found.over_limit
    assert found.clear_after_h == 0


def test_the_us_form_agrees():
    """403e6 SG ER K/(MW C) of a formula sheet, no title: at 70 degF, so 1.4 % under 25 degC."""
    pints_per_min = 0.01
    ml_per_h = pints_per_min * PINT_ML * 60
    (part,) = parts_of_liquid(Liquid.ETHANOL, ml=ml_per_h)
    metric = air_needed_m3_per_h(vapour_m3(part), 1000, 3)
    cfm = 403e6 * 0.789 * pints_per_min * 3 / (46.07 * 1000)
    us = cfm * CUBIC_FOOT_M3 * 60
    assert us == pytest.approx(metric / 1.014, rel=0.002)


def test_ethanol_at_its_limit_is_far_from_burning():
    """Health limits bind long before fire: 1000 ppm of ethanol is 3 % of its LEL (computed)."""
    assert 1000 / SOLVENTS[Liquid.ETHANOL].lel_ppm == pytest.approx(0.03, abs=0.003)


def test_mixtures_add():
    """29 CFR 1910.1000(d)(2): sum of C/L over 1 is over; its worked example says 0.925.

    500 ppm of limit 1000, 45 of 200 and 40 of 200: 0.500 + 0.225 + 0.200 = 0.925.
    """
    assert mixture_index([(500, 1000), (45, 200), (40, 200)]) == pytest.approx(0.925)


@pytest.mark.parametrize("hours", [0.1, 0.5, 1, 4, 24])
def test_the_day_follows_the_closed_form_of_a_steady_source(hours):
    """C(t) = (G/Q')(1 - exp(-Q' t/V)), to a part in a million million."""
    room = RoomAir(30.0, 60.0, 3.0)
    (part,) = parts_of_liquid(Liquid.ETHANOL, ml=1000)
    budget = Budget((Release(part.solvent, part.grams, 0.0, 24 * HOUR_S),), room)
    found = budget.at(budget.ppm(Liquid.ETHANOL), hours * HOUR_S)
    closed = vapour_m3(part) / 24 / 20 * (1 - math.exp(-20 * hours / 30)) * 1e6
    assert found == pytest.approx(closed, rel=1e-12)


@pytest.mark.parametrize("hours", [0, 0.25, 1, 5])
def test_the_day_follows_the_closed_form_of_decay(hours):
    """After a spill C(t) = C0 exp(-Q' t/V); and the purge time is its inverse."""
    room = RoomAir(30.0, 60.0, 3.0)
    (part,) = parts_of_liquid(Liquid.ETHANOL, ml=100)
    budget = Budget((Release(part.solvent, part.grams, 0.0),), room)
    ppm = budget.ppm(Liquid.ETHANOL)
    start = vapour_m3(part) / 30 * 1e6
    assert budget.at(ppm, hours * HOUR_S) == pytest.approx(start * math.exp(-20 * hours / 30))
    below_h = budget.below_from(ppm, 100.0, 0.0) / HOUR_S
    assert below_h == pytest.approx(purge_h(start, 100.0, 20, 30), abs=0.001)


@pytest.mark.parametrize(
    ("liquid", "expected"),
    [
        (Liquid.ETHANOL, FlameClass.IB),  # 29 CFR 1910.106, as reprinted
        (Liquid.ACETONE, FlameClass.IB),  # the rest by the definitions of 1910.106(a), from memory
        (Liquid.MINERAL_SPIRITS, FlameClass.II),
        (Liquid.TURPENTINE, FlameClass.IC),
        (Liquid.BUTOXYETHANOL, FlameClass.IIIA),
    ],
)
def test_classes_of_liquids(liquid, expected):
    """By flash and boiling point; IA only where it boils below 100 degF."""
    assert SOLVENTS[liquid].flame_class is expected
    assert flame_class(-20, 30) is FlameClass.IA
    assert flame_class(95, 300) is FlameClass.IIIB
