"""The table of the trade's units in ``units.txt``: their names, kinds and factors, by pint."""

from __future__ import annotations

import math
import sys
from contextlib import contextmanager
from functools import lru_cache
from importlib import resources
from typing import TYPE_CHECKING

from finishsched.factors import SHOWN as SHOWN  # noqa: PLC0414  # a part of the table

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pint import UnitRegistry

_LAST_BITS = 1e-15
"""By so much a product of a few exact factors may miss a plain figure."""


@lru_cache(maxsize=1)
def _registry() -> UnitRegistry:  # type: ignore[type-arg]  # pint's generic differs by release
    """Return the one registry of the trade's units, built on first use."""
    with _numpy_hidden():
        from pint import UnitRegistry  # noqa: PLC0415  # dear to import: only when a unit is read

        path = resources.files("finishsched") / "units.txt"
        with resources.as_file(path) as definitions:
            return UnitRegistry(
                str(definitions), on_redefinition="raise", autoconvert_offset_to_baseunit=True
            )


@contextmanager
def _numpy_hidden() -> Iterator[None]:
    """Keep pint from importing numpy, which it does wherever it finds it, for nothing we use."""
    if "numpy" in sys.modules:
        yield
        return
    sys.modules["numpy"] = None  # type: ignore[assignment]  # Python's own mark for 'absent'
    try:
        yield
    finally:
        del sys.modules["numpy"]


@lru_cache(maxsize=1024)
def factor(unit: str, kept: str) -> float:
    """Return how many of ``kept`` one of ``unit`` is; not for warmth, whose scales are offset.

    A litre is 1000 ml, and not a bit more, whichever release of pint multiplies it out.
    """
    found = convert(1.0, unit, kept)
    plain = float(f"{found:.12g}")
    return plain if math.isclose(plain, found, rel_tol=_LAST_BITS) else found


def convert(value: float, unit: str, other: str) -> float:
    """Return a quantity in one unit as a figure in another of the same kind."""
    if unit == other:
        return value
    return float(_registry().Quantity(value, unit).to(other).magnitude)


def is_same(unit: str, other: str) -> bool:
    """Tell whether two names are of one unit."""
    return bool(_registry().Unit(unit) == _registry().Unit(other))


@lru_cache(maxsize=1024)
def same_kind(unit: str, other: str) -> bool:
    """Tell whether two units measure one kind of quantity."""
    units = _registry()
    return bool(units.Unit(unit).dimensionality == units.Unit(other).dimensionality)


@lru_cache(maxsize=1)
def unit_names() -> frozenset[str]:
    """Return every name that the table has for a unit."""
    text = (resources.files("finishsched") / "units.txt").read_text("utf-8")
    lines = (line.split("#")[0] for line in text.splitlines())
    names: set[str] = set()
    for line in lines:
        head, _, rest = line.partition("=")
        if rest:
            names.add(head.strip())
            aliases = rest.split(";")[-1].split("=")[1:]
            names.update(alias.strip() for alias in aliases)
    return frozenset(names - {""})
