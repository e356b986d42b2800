"""What is shown without asking the registry is what the registry would say.

The registry is pint's, over ``units.txt``; pint's documentation (pint.readthedocs.io) gives the
conversion of offset scales.
"""

import subprocess
import sys

import pytest

from finishsched import unit_table, units


@pytest.mark.parametrize(("kept", "shown"), unit_table.SHOWN)
def test_a_factor_that_is_written_out_is_the_registrys(kept, shown):
    """Each factor for showing agrees with pint's own to the last digits of a float."""
    registry = unit_table._registry()
    theirs = registry.Quantity(1.0, shown).to(kept).magnitude
    assert unit_table.SHOWN[kept, shown] == pytest.approx(theirs, rel=1e-15)


@pytest.mark.parametrize("celsius", [-40.0, 0.0, 18.5, 37.0, 100.0])
def test_warmth_in_degf_is_the_registrys(celsius):
    """Degrees Fahrenheit are worked out as pint does, for showing too."""
    theirs = unit_table._registry().Quantity(celsius, "degC").to("degF").magnitude
    assert units.convert(celsius, units.TEMPERATURE, "degF") == pytest.approx(theirs, abs=1e-10)


def test_what_shops_show_is_shown_without_the_registry():
    """Each unit of a new shop, metric or US, is shown without loading the units library."""
    code = (
        "import sys\n"
        "from finishsched import units as u\n"
        "from finishsched.model.shop import UNIT_SETS\n"
        "for s in UNIT_SETS.values():\n"
        "    shown = [(u.VOLUME, s.volume), (u.MASS, s.mass), (u.CUT, s.cut),\n"
        "             (u.TEMPERATURE, s.temperature), (u.LENGTH, s.length), (u.AREA, s.area)]\n"
        "    for measure, unit in shown:\n"
        "        print(u.show(20.0, measure, unit))\n"
        "sys.exit('pint' in sys.modules)\n"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert ran.returncode == 0, ran.stderr
    assert ran.stdout.split("\n")[:2] == ["20 ml", "20 g"]
