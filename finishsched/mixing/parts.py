"""Other mixtures of the bench: parts by volume or by weight, thinning, powder in a liquid.

A density that is needed and not given is asked for, never assumed. Volumes are taken to add up:
some mixtures shrink by a few percent.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from finishsched.model.reason import Reason
from finishsched.model.said import Quantity, Said, said
from finishsched.refusals import RefusalError


class By(StrEnum):
    """What a ratio counts. Data sheets state one or the other, and they differ."""

    VOLUME = "volume"
    WEIGHT = "weight"


class DensityNeededError(RefusalError, ValueError):
    """Going between volume and weight without every part's density."""


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a mixture; None for what cannot be known without its density."""

    name: str
    ratio: float
    volume_ml: float | None
    mass_g: float | None


@dataclass(frozen=True, slots=True)
class Mixture:
    """What goes together. A total is None where a part of it is."""

    parts: tuple[Part, ...]
    reasons: tuple[Reason, ...]

    @property
    def makes_ml(self) -> float | None:
        """The volume of all parts together."""
        return _total([part.volume_ml for part in self.parts])

    @property
    def makes_g(self) -> float | None:
        """The weight of all parts together."""
        return _total([part.mass_g for part in self.parts])


def mix_parts(
    names: Sequence[str],
    ratio: Sequence[float],
    by: By,
    *,
    makes_ml: float | None = None,
    makes_g: float | None = None,
    densities_g_per_ml: Sequence[float] | None = None,
) -> Mixture:
    """Return how much of each part makes ``makes_ml`` or ``makes_g``, whichever is given.

    Source: shares of a whole, by definition; volumes are taken to add up (our assumption).

    Args:
        names: of the parts, two or more.
        ratio: one number above 0 for each part, no unit.
        by: whether the ratio counts volumes or weights.
        makes_ml: ml, above 0; or None.
        makes_g: g, above 0; or None.
        densities_g_per_ml: the parts' own in g/ml, above 0; None where they are not known.

    Raises:
        DensityNeededError: when the ratio and the amount are of two kinds, with no densities.
        ValueError: for numbers that are no parts.

    """
    _refuse_no_parts(names, ratio, densities_g_per_ml)
    amount = makes_ml if makes_ml is not None else makes_g
    if amount is None or not (math.isfinite(amount) and amount > 0):
        raise ValueError("how much it should make; it must be more than zero")
    kind = By.VOLUME if makes_ml is not None else By.WEIGHT
    if kind is not by and densities_g_per_ml is None:
        raise DensityNeededError(f"parts by {by} do not tell a {kind} without each part's density")
    densities: Sequence[float | None] = densities_g_per_ml or [None] * len(ratio)
    pairs = list(zip(ratio, densities, strict=True))
    scale = amount / sum(_in(kind, by, share, density) for share, density in pairs)
    parts = tuple(
        _part(name, share, scale * share, by, density)
        for name, (share, density) in zip(names, pairs, strict=True)
    )
    return Mixture(parts, (_reason(ratio, by, amount, kind, densities_g_per_ml),))


def thin(
    share_percent: float, makes_ml: float, names: Sequence[str] = ("material", "thinner")
) -> Mixture:
    """Return material and thinner for ``makes_ml`` of which ``share_percent`` is thinner.

    Source: a share of a whole, by definition; volumes are taken to add up (our assumption).

    Args:
        share_percent: percent by volume of what is applied, more than 0 to under 100.
        makes_ml: ml, above 0.
        names: the material's and the thinner's.

    Raises:
        DensityNeededError: never: both are volumes.
        ValueError: outside those ranges.

    """
    if not 0 < share_percent < 100:
        raise ValueError(f"thinned by {share_percent:g} %; it may be more than 0 to under 100 %")
    return mix_parts(names, (100 - share_percent, share_percent), By.VOLUME, makes_ml=makes_ml)


def dissolve(strength_g_per_l: float, liquid_ml: float, names: Sequence[str]) -> Mixture:
    """Return the powder for ``liquid_ml``: a stain or a dye counted as weight per volume of liquid.

    The room that the powder takes is not counted.

    Source: as dye powders are labelled (common practice).

    Args:
        strength_g_per_l: g of powder for each litre of liquid, above 0.
        liquid_ml: ml, above 0.
        names: the powder's and the liquid's.

    Raises:
        ValueError: outside those ranges.

    """
    for value in (strength_g_per_l, liquid_ml):
        if not (math.isfinite(value) and value > 0):
            raise ValueError(f"{value:g}; it must be more than zero")
    powder_g = strength_g_per_l * liquid_ml / 1000
    reason = Reason(
        "powder = strength x volume of liquid",
        (
            said("strength {}", Quantity(strength_g_per_l, "g/l")),
            said("liquid {}", Quantity(liquid_ml, "ml")),
        ),
        "weight per volume of liquid, as dye powders are labelled (common practice)",
    )
    powder, liquid = names
    parts = (
        Part(powder, strength_g_per_l, None, powder_g),
        Part(liquid, 1000.0, liquid_ml, None),
    )
    return Mixture(parts, (reason,))


def _in(kind: By, by: By, share: float, density_g_per_ml: float | None) -> float:
    """Return so many parts counted ``by`` as a number counted in ``kind``."""
    if kind is by or density_g_per_ml is None:
        return share
    return share * density_g_per_ml if by is By.VOLUME else share / density_g_per_ml


def _part(name: str, ratio: float, amount: float, by: By, density_g_per_ml: float | None) -> Part:
    if by is By.VOLUME:
        mass_g = None if density_g_per_ml is None else amount * density_g_per_ml
        return Part(name, ratio, amount, mass_g)
    volume_ml = None if density_g_per_ml is None else amount / density_g_per_ml
    return Part(name, ratio, volume_ml, amount)


def _total(amounts: Sequence[float | None]) -> float | None:
    known = [amount for amount in amounts if amount is not None]
    return sum(known) if len(known) == len(amounts) else None


def _refuse_no_parts(
    names: Sequence[str], ratio: Sequence[float], densities: Sequence[float] | None
) -> None:
    if len(ratio) < 2:
        raise ValueError("a mixture has two parts or more")
    if len(names) != len(ratio) or (densities is not None and len(densities) != len(ratio)):
        raise ValueError("as many names and densities as there are parts")
    if not all(math.isfinite(value) and value > 0 for value in (*ratio, *(densities or ()))):
        raise ValueError("every part and every density must be more than zero")


def _reason(
    ratio: Sequence[float], by: By, amount: float, kind: By, densities: Sequence[float] | None
) -> Reason:
    parts = ":".join(f"{share:g}" for share in ratio)
    made = Quantity(amount, "ml" if kind is By.VOLUME else "g")
    inputs: list[str | Said] = [f"{parts} by {by}", said("makes {}", made)]
    inputs += [said("density {}", Quantity(density, "g/ml")) for density in densities or ()]
    return Reason(
        "each part = its share of the whole; weight = volume x density",
        tuple(inputs),
        "ratio and densities as given; volumes are taken to add up",
    )
