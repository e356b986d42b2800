"""The liquids of a finisher's shop: their weight, how they burn, how much may be breathed.

Planning figures. Lower explosive limits: the lowest of the NIOSH Pocket Guide, NFPA 497 and IEC
60079-20-1 (the latter two as reprinted). Exposure limits here: OSHA PEL (29 CFR 1910.1000, mostly
of 1971, a legal floor) and NIOSH REL, further lists in ``exposure``; IDLH from NIOSH. Densities at
20 degC are handbook values from memory; hazard codes as found in data sheets, those of mineral
spirits, turpentine and xylene from memory. The product's safety data sheet and local codes come
first.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import NamedTuple

from finishsched.model.reason import Reason
from finishsched.model.solvent import FlameClass, Liquid, LocalLimit
from finishsched.safety.exposure import MOLAR_VOLUME_L, limits_of, lowest_limit


class Solvent(NamedTuple):
    """One liquid with the figures that a room is judged by; limits in ppm of the air."""

    liquid: Liquid
    title: str
    cas: str
    molar_mass_g: float
    density_g_per_ml: float
    lels_percent: tuple[float, ...]
    """Lower explosive limits in percent of the air by volume, NIOSH's first, then the others."""
    boils_c: float
    """Where a range is published, its low end, as is ``flash_c``."""
    flash_c: float
    pel_ppm: float | None
    """OSHA's eight-hour limit."""
    rel_ppm: float | None
    """NIOSH's limit."""
    stel_ppm: float | None
    """NIOSH's limit for fifteen minutes, or its ceiling."""
    idlh_ppm: float | None
    """Immediately dangerous to life or health."""
    category: int
    """Of flammable liquids in the GHS."""
    hazards: tuple[str, ...]
    """Empty where only the data sheet tells."""
    rate: float
    """Evaporation by volume in the time of 1 of n-butyl acetate."""
    through_skin: bool = False
    source: str = "NIOSH Pocket Guide, OSHA 29 CFR 1910.1000"

    @property
    def lel_percent(self) -> float:
        """The lowest of the published lower explosive limits, in percent of the air."""
        return min(self.lels_percent)

    @property
    def lel_ppm(self) -> float:
        """The lower explosive limit in ppm."""
        return self.lel_percent * 1e4

    @property
    def published_limit_ppm(self) -> float:
        """The lowest of all published limits; every liquid here has one."""
        return lowest_limit(self).ppm

    @property
    def flame_class(self) -> FlameClass:
        """The class by flash and boiling point."""
        return flame_class(self.flash_c, self.boils_c)


def flame_class(flash_c: float, boils_c: float) -> FlameClass:
    """Return the class of a liquid by how readily it burns.

    Class I below 100 degF, of it IA and IB below 73 degF (IA boiling below 100 degF); II below 140,
    IIIA below 200 degF.

    Source: 29 CFR 1910.106(a) as long printed, and NFPA 30 (from memory).

    Args:
        flash_c: degC, closed cup, any.
        boils_c: degC at one atmosphere, any.

    """
    if flash_c < 22.8:
        return FlameClass.IA if boils_c < 37.8 else FlameClass.IB
    for below_c, found in ((37.8, FlameClass.IC), (60.0, FlameClass.II), (93.3, FlameClass.IIIA)):
        if flash_c < below_c:
            return found
    return FlameClass.IIIB


def _from_mg(mg_per_m3: float, molar_mass_g: float) -> float:
    return mg_per_m3 * MOLAR_VOLUME_L / molar_mass_g


_TABLE = (
    Solvent(
        Liquid.ETHANOL, "ethanol", "64-17-5", 46.07, 0.789, (3.3, 3.3, 3.1), 78, 12,
        1000, 1000, None, 3300, 2, ("H225", "H319"), 1.4,
    ),
    Solvent(
        Liquid.METHANOL, "methanol", "67-56-1", 32.04, 0.792, (6.0,), 65, 9,
        200, 200, 250, 6000, 2, ("H225", "H301", "H311", "H331", "H370"), 3.0, through_skin=True,
    ),
    Solvent(
        Liquid.ISOPROPANOL, "isopropanol", "67-63-0", 60.10, 0.785, (2.0,), 83, 12,
        400, 400, 500, 2000, 2, ("H225", "H319", "H336"), 1.7,
    ),
    Solvent(
        Liquid.ACETONE, "acetone", "67-64-1", 58.08, 0.791, (2.5, 2.6, 2.5), 56, -20,
        1000, 250, None, 2500, 2, ("H225", "H319", "H336"), 5.6,
    ),
    Solvent(
        Liquid.MINERAL_SPIRITS, "mineral spirits", "8052-41-3", 144.0, 0.78, (0.8, 0.6), 154, 39,
        500, _from_mg(350, 144), _from_mg(1800, 144), _from_mg(20_000, 144),
        3, ("H226", "H304", "H336"), 0.1,
        source="NIOSH Pocket Guide for Stoddard solvent, 350 mg/m3; explosive limit from memory",
    ),
    Solvent(
        Liquid.TURPENTINE, "turpentine", "8006-64-2", 136.0, 0.865, (0.8,), 154, 35,
        100, 100, None, 800, 3,
        ("H226", "H302", "H304", "H312", "H315", "H317", "H319", "H332", "H411"), 0.4,
    ),
    Solvent(
        Liquid.NAPHTHA, "VM&P naphtha", "8032-32-4", 87.0, 0.74, (1.2,), 95, -7,
        None, _from_mg(350, 114), None, None, 2, (), 1.3,
        source="NIOSH Pocket Guide, 350 mg/m3, taken for its heaviest",
    ),
    Solvent(
        Liquid.TOLUENE, "toluene", "108-88-3", 92.14, 0.867, (1.1, 1.1, 1.0), 111, 4,
        200, 100, 150, 500, 2, ("H225", "H304", "H315", "H336", "H361d", "H373"), 2.0,
    ),
    Solvent(
        Liquid.XYLENE, "xylene", "1330-20-7", 106.17, 0.864, (0.9, 1.1), 137, 25,
        100, 100, 150, 900, 3, ("H226", "H312", "H315", "H332"), 0.7,
    ),
    Solvent(
        Liquid.BUTYL_ACETATE, "n-butyl acetate", "123-86-4", 116.16, 0.882, (1.7, 1.7, 1.2),
        126, 22, 150, 150, 200, 1700, 3, ("H226", "H336"), 1.0,
    ),
    Solvent(
        Liquid.ETHYL_ACETATE, "ethyl acetate", "141-78-6", 88.1, 0.902, (2.0,), 77, -4,
        400, 400, None, 2000, 2, ("H225", "H319", "H336"), 4.1,
    ),
    Solvent(
        Liquid.BUTOXYETHANOL, "2-butoxyethanol", "111-76-2", 118.2, 0.901, (1.1,), 171, 61,
        50, 5, None, 700, 4, (), 0.07, through_skin=True,
    ),
)  # fmt: skip

SOLVENTS: Mapping[Liquid, Solvent] = MappingProxyType({one.liquid: one for one in _TABLE})
"""Every liquid but the two blends of unknown make-up."""

_CALLED = {
    "alcohol": Liquid.DENATURED_ALCOHOL,
    "meths": Liquid.DENATURED_ALCOHOL,
    "methylated-spirits": Liquid.DENATURED_ALCOHOL,
    "spirit": Liquid.DENATURED_ALCOHOL,
    "ethyl-alcohol": Liquid.ETHANOL,
    "methyl-alcohol": Liquid.METHANOL,
    "isopropyl-alcohol": Liquid.ISOPROPANOL,
    "white-spirit": Liquid.MINERAL_SPIRITS,
    "stoddard-solvent": Liquid.MINERAL_SPIRITS,
    "vm&p-naphtha": Liquid.NAPHTHA,
    "n-butyl-acetate": Liquid.BUTYL_ACETATE,
    "butoxyethanol": Liquid.BUTOXYETHANOL,
    "thinner": Liquid.UNKNOWN_THINNER,
}


def liquid_named(name: str) -> Liquid | None:
    """Return the liquid that a person calls ``name``, in any case; None for none."""
    plain = "-".join(name.lower().split())
    if plain in _CALLED:
        return _CALLED[plain]
    return next((liquid for liquid in Liquid if liquid.value == plain), None)


class Part(NamedTuple):
    """One liquid of known figures, and how much of it there is."""

    solvent: Solvent
    grams: float

    @property
    def ml(self) -> float:
        """The volume as a liquid at 20 degC."""
        return self.grams / self.solvent.density_g_per_ml


def limit_ppm(solvent: Solvent, local: Iterable[LocalLimit] = ()) -> float:
    """Return the lowest limit known of ``solvent``, the shop's own among them."""
    return lowest_limit(solvent, local).ppm


def limit_reason(solvent: Solvent, local: Iterable[LocalLimit] = ()) -> Reason:
    """Return which limit of ``solvent`` decides, and all that it was taken from."""
    found = limits_of(solvent, tuple(local))
    return Reason(
        f"limit of {solvent.title}: the lowest of all that are known",
        (
            *(f"{limit.whose} {limit.ppm:.0f} ppm" for limit in found),
            f"lower explosive limit {solvent.lel_percent:g} %",
        ),
        f"{found[0].whose} decides; explosive limits: {solvent.source}",
    )
