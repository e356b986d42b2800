"""Products as bought: flakes, alcohol, oil, varnish, filler, glue."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType

from finishsched.model.kinds import Mechanism as Mechanism  # noqa: PLC0414  # also asked for here
from finishsched.model.kinds import ProductKind as ProductKind  # noqa: PLC0414  # also asked for here
from finishsched.model.recipe import Recipe
from finishsched.model.solvent import SolventShare


class RagHabit(StrEnum):
    """What a cloth wet with the product does when it is thrown in a heap."""

    SELF_HEATING = "self-heating"
    FLAMMABLE = "flammable"
    HARMLESS = "harmless"

    @property
    def gravity(self) -> int:
        """The higher, the graver: of a mix the gravest counts."""
        return -list(RagHabit).index(self)


@dataclass(frozen=True, slots=True)
class DryingTimes:
    """Times as published for the product's normal film, with the air they hold for."""

    touch_s: float | None = None
    recoat_s: float | None = None
    sand_s: float | None = None
    cured_s: float | None = None
    at_c: float = 23.0
    at_humidity_percent: float = 50.0


FLAMMABLE_LIQUIDS = frozenset({"H224", "H225", "H226"})
"""What the label of a liquid that burns says (UN GHS, annex 3)."""


@dataclass(frozen=True, slots=True)
class Product:
    """A material as it is bought, with what its figures rest on."""

    id: str
    title: str
    kind: ProductKind
    mechanism: Mechanism | None = None
    waxy: bool | None = None
    """For flakes and shellac: True when the wax is still in it."""
    dissolved_density_g_per_ml: float | None = None
    """For flakes: mass per volume that they add to a solution."""
    density_g_per_ml: float | None = None
    volume_solids_percent: float | None = None
    thinner: str | None = None
    """The id of the product that thins it."""
    dries: DryingTimes | None = None
    pot_life_s: float | None = None
    open_s: float | None = None
    """For glue: how long after it is spread the parts can still be put together."""
    keeps_s: float | None = None
    """How long it stays good once mixed or opened."""
    hazards: tuple[str, ...] = ()
    """GHS hazard statements, such as H225."""
    rags: RagHabit = RagHabit.HARMLESS
    solvents: tuple[SolventShare, ...] | None = None
    """What leaves it as vapour; empty for nothing, None where its document does not say."""
    cautions: tuple[str, ...] = ()
    notes: str = ""
    recipe: Recipe | None = None
    """What the shop makes it of; None for what is bought."""
    sources: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    """For each figure given, where it comes from, or 'common practice'."""

    @property
    def hazard_codes(self) -> frozenset[str]:
        """Its hazard statements, without the letters that narrow one: ``H360`` for ``H360D``."""
        return frozenset(code[:4] for code in self.hazards)

    @property
    def is_flammable_liquid(self) -> bool:
        """True for what gives off vapour that burns."""
        return bool(FLAMMABLE_LIQUIDS & self.hazard_codes)

    @property
    def is_two_part_film(self) -> bool:
        """True for a finish that a hardener sets."""
        return self.kind.row.is_film and self.mechanism is Mechanism.TWO_PART

    @property
    def is_solvent(self) -> bool:
        """True for what takes oil and wax off a face: alcohol and thinners, but not water."""
        return self.kind.row.is_solvent and self.mechanism is not Mechanism.WATER
