"""Figures of the liquids in the air's budget, against atomic weights, a handbook and the GHS."""

from __future__ import annotations

import pytest

from finishsched.safety.solvents import SOLVENTS, Liquid

WEIGHTS = {"C": 12.011, "H": 1.008, "O": 15.999}
"""Standard atomic weights (abridged), IUPAC Commission on Isotopic Abundances, 2021."""
MOLECULES = {
    Liquid.ETHANOL: {"C": 2, "H": 6, "O": 1},
    Liquid.METHANOL: {"C": 1, "H": 4, "O": 1},
    Liquid.ISOPROPANOL: {"C": 3, "H": 8, "O": 1},
    Liquid.ACETONE: {"C": 3, "H": 6, "O": 1},
    Liquid.TOLUENE: {"C": 7, "H": 8},
    Liquid.XYLENE: {"C": 8, "H": 10},
    Liquid.BUTYL_ACETATE: {"C": 6, "H": 12, "O": 2},
    Liquid.ETHYL_ACETATE: {"C": 4, "H": 8, "O": 2},
    Liquid.BUTOXYETHANOL: {"C": 6, "H": 14, "O": 2},
    Liquid.TURPENTINE: {"C": 10, "H": 16},
}
"""Of turpentine its pinenes, which nearly all of it is."""
DENSITIES = {
    Liquid.ETHANOL: 0.7893,
    Liquid.METHANOL: 0.7914,
    Liquid.ISOPROPANOL: 0.7855,
    Liquid.ACETONE: 0.7899,
    Liquid.TOLUENE: 0.8669,
    Liquid.BUTYL_ACETATE: 0.8825,
    Liquid.ETHYL_ACETATE: 0.9003,
    Liquid.BUTOXYETHANOL: 0.9015,
}
"""g/ml at 20 degC: CRC Handbook of Chemistry and Physics, Physical Constants of Organic Compounds,
CRC Press; from memory."""
PHRASES = {"H224": 1, "H225": 2, "H226": 3, "H227": 4}
"""What a label says of a flammable liquid, by category: GHS, United Nations, 9th edition, 2021,
chapter 2.6."""


@pytest.mark.parametrize("liquid", MOLECULES)
def test_a_mole_weighs_what_its_atoms_do(liquid):
    """By the formula of each, to a tenth of a percent, and of a mixture to the half."""
    grams = sum(WEIGHTS[atom] * count for atom, count in MOLECULES[liquid].items())
    within = 0.005 if liquid is Liquid.TURPENTINE else 0.001
    assert SOLVENTS[liquid].molar_mass_g == pytest.approx(grams, rel=within)


@pytest.mark.parametrize("liquid", DENSITIES)
def test_a_liquid_is_as_dense_as_the_handbook_prints(liquid):
    """To three in a thousand."""
    assert SOLVENTS[liquid].density_g_per_ml == pytest.approx(DENSITIES[liquid], rel=0.003)


@pytest.mark.parametrize("solvent", SOLVENTS.values(), ids=lambda one: one.title)
def test_the_category_goes_by_flash_point_and_label(solvent):
    """GHS 2.6: below 23 degC category 2, to 60 category 3, to 93 category 4, and so the label.

    n-Butyl acetate flashes at the very border, and is sold as category 3.
    """
    if solvent.liquid is not Liquid.BUTYL_ACETATE:
        by_flash = 2 if solvent.flash_c < 23 else 3 if solvent.flash_c <= 60 else 4
        assert solvent.category == by_flash
        assert solvent.boils_c > 35, "below it would be category 1"
    said = [PHRASES[phrase] for phrase in solvent.hazards if phrase in PHRASES]
    assert said in ([], [solvent.category])
