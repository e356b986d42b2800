"""The figures of the drying laws, by mechanism and phase, each with what it rests on."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import NamedTuple

from finishsched.model.product import Mechanism, Product


class Phase(StrEnum):
    """What a film, or a glued joint, has to reach."""

    DUST = "dust free"
    TOUCH = "touch"
    RECOAT = "recoat"
    SAND = "sand"
    CURE = "cure"
    CLAMP = "clamp"


SURFACE_PHASES = frozenset({Phase.DUST, Phase.TOUCH})
"""Phases that are over when the top of the film is dry."""


class Figures(NamedTuple):
    """The figures of a mechanism in a phase.

    ``energy_kj_per_mol`` is the activation energy of the share that goes on through the film, and
    its time goes with the film's weight to ``thin_power`` below the normal film, ``thick_power``
    above.
    """

    surface_share: float
    """Share of the time that goes with evaporation, 0 to 1."""
    energy_kj_per_mol: float
    thin_power: float
    thick_power: float
    basis: str
    """Which figures are computed from data sheets, and which are assumed."""


def _evaporating(share: float, energy: float, basis: str = "computed from data sheets") -> Figures:
    """Films from which something leaves: twice as thick, four times as long (published)."""
    return Figures(share, energy, 2.0, 2.0, f"share by evaporation assumed; energy {basis}")


def _oxygen(energy: float) -> Figures:
    """Films that take up oxygen: by themselves when thin, from the top when thick."""
    basis = "film powers and energy computed from data sheets"
    return Figures(0.0, energy, 1.0, 2.0, basis)


def _reaction(energy: float, basis: str = "computed from data sheets") -> Figures:
    """Films that react all through: a thin one is no sooner done."""
    return Figures(0.0, energy, 0.0, 1.0, f"film powers assumed; energy {basis}")


_HALVES = "from pot life, which halves for each {10 K} more (UFGS 09971)"
_HARDENED = "assumed, at the middle of figures computed from data sheets"

_BY_MECHANISM: Mapping[Mechanism, tuple[Figures, Figures, Figures, Figures, Figures]] = {
    # dust free; touch; recoat and sand; cure; clamp
    Mechanism.SOLVENT: (
        _evaporating(0.5, 20),
        _evaporating(0.5, 20),
        _evaporating(0.2, 15),
        _evaporating(0.0, 15),
        _evaporating(0.2, 15),
    ),
    Mechanism.OXIDISING: (
        _evaporating(0.5, 20),
        _evaporating(0.5, 20),
        _oxygen(32),
        _oxygen(35),
        _oxygen(32),
    ),
    Mechanism.COALESCING: (
        _evaporating(0.7, 40),
        _evaporating(0.7, 40),
        _evaporating(0.3, 40),
        _evaporating(0.0, 40),
        _evaporating(0.3, 40),
    ),
    Mechanism.WATER: (
        _evaporating(0.7, 30, "assumed"),
        _evaporating(0.7, 30, "assumed"),
        _evaporating(0.3, 30, "assumed"),
        _evaporating(0.0, 30, "assumed"),
        _evaporating(0.0, 30, "assumed"),
    ),
    Mechanism.TWO_PART: (
        _reaction(31),
        _reaction(40),
        _reaction(50, _HALVES),
        _reaction(90, _HARDENED),
        _reaction(50, _HALVES),
    ),
}
_COLUMN = {
    Phase.DUST: 0,
    Phase.TOUCH: 1,
    Phase.RECOAT: 2,
    Phase.SAND: 2,
    Phase.CURE: 3,
    Phase.CLAMP: 4,
}


SHELLAC_KJ_PER_MOL = 45.0
"""Of shellac, once its top is dry: so that 10 degC colder takes about twice as long, the published
rule for films from which only solvent leaves. A printed table for a chlorinated rubber paint shows
a fifth more only; that stays the figure of lacquers."""


def figures_of(mechanism: Mechanism, phase: Phase) -> Figures:
    """Return the usual figures of ``mechanism`` in ``phase``."""
    return _BY_MECHANISM[mechanism][_COLUMN[phase]]


def product_figures(product: Product, phase: Phase) -> Figures:
    """Return the figures of a product in ``phase``: those of its mechanism, or shellac's own.

    Raises:
        ValueError: for a product that does not dry.

    """
    mechanism = mechanism_of(product)
    if mechanism is None:
        raise ValueError(f"{product.id} does not dry; ask only of products that do")
    usual = figures_of(mechanism, phase)
    if not product.kind.is_shellac or mechanism is not Mechanism.SOLVENT or phase in SURFACE_PHASES:
        return usual
    basis = "share by evaporation assumed; energy from the rule that {10 K} colder takes twice"
    return usual._replace(energy_kj_per_mol=SHELLAC_KJ_PER_MOL, basis=basis)


def mechanism_of(product: Product) -> Mechanism | None:
    """Return how ``product`` dries, by itself or by its kind; None for what does not dry."""
    return product.mechanism or product.kind.row.mechanism
