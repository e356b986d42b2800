"""The mixing view: what to weigh and measure for a cut and a volume as they are typed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from finishsched import units
from finishsched.bench import letters
from finishsched.bench.reading import FormFaultError
from finishsched.mixing.cut import FreshBatch, mix_for_volume
from finishsched.mixing.measure import on_tools
from finishsched.model.shop import Alcohol, Tools
from finishsched.safety.cautions import DEFERRAL, FLAMMABLE_VAPOUR
from finishsched.workshop.answers import BenchView, PieceView
from finishsched.workshop.stock_entries import Mixed

USUAL_CUT_G_PER_L = 2 * units.LB_PER_GAL_IN_G_PER_L
USUAL_VOLUME_ML = 250.0
"""What is asked for first where the chosen piece's step has no cut (our assumption)."""


def first_asked(piece: PieceView | None, view: BenchView) -> tuple[str, str]:
    """Return the cut and the volume to begin with: the step's own, where it has a cut."""
    sheet = (piece.sheet or piece.next_sheet) if piece else None
    cut_g_per_l = sheet.step.cut_g_per_l if sheet else None
    cut = units.show(cut_g_per_l or USUAL_CUT_G_PER_L, units.CUT, view.units.cut)
    volume = units.show(USUAL_VOLUME_ML, units.VOLUME, view.units.volume)
    makes = sheet.mix_makes.partition(" for ")[0] if sheet and cut_g_per_l else ""
    return cut, makes or volume


def mixing_lines(
    values: Mapping[str, str], alcohol: Alcohol, tools: Tools, shelf: tuple[str, ...]
) -> Iterator[str]:
    """Give what to weigh and measure, large, and what stands on the shelf already.

    Raises:
        FormFaultError: naming the units that would do.

    """
    batch = _batch(values, alcohol)
    tooled = on_tools(batch, tools)
    flakes = units.plain_number(tooled.weigh_flakes_g, 4)
    alcohol_g = units.plain_number(tooled.weigh_alcohol_g, 4)
    alcohol_ml = units.plain_number(tooled.measure_alcohol_ml, 4)
    # A row for each, so that a narrow card never breaks a drawn figure.
    yield from letters.small(f"{flakes} g")
    yield from letters.small(f"+ {alcohol_g} g")
    better = ": the better way" if tooled.better_to_weigh else ""
    yield f"{flakes} g of flakes + {alcohol_g} g of alcohol, weighed{better}"
    cut, low, high = tooled.weighed.in_pounds
    most = f"{high:.3g}" if high is not None else "any"
    yield f"gives a {cut:.3g}-lb cut, {low:.3g} to {most} lb, on these scales"
    yield f"or measure {alcohol_ml} ml of alcohol"
    yield from (f"! {warning}" for warning in (*batch.warnings, *tooled.warnings))
    yield f"! {FLAMMABLE_VAPOUR} {DEFERRAL}"
    yield from (f"on the shelf: {row}" for row in shelf)


def mixed_entry(values: Mapping[str, str], product: str) -> Mixed:
    """Return the entry that logs the batch as typed, of ``product`` where the step names it.

    Raises:
        FormFaultError: for a quantity that cannot be read, or a batch without a name.

    """
    cut_g_per_l, makes_ml = _asked(values)
    name = values["name"].strip()
    if not name:
        raise FormFaultError("write a name for the jar, such as jar 5")
    product = product or values.get("product", "").strip()
    if not product:
        raise FormFaultError("write which flakes, such as shellac-dewaxed-blonde")
    return Mixed(name=name, makes_ml=makes_ml, cut_g_per_l=cut_g_per_l, product=product)


def next_jar(names: tuple[str, ...]) -> str:
    """Return the first ``jar N`` that no lot or batch is called."""
    number = 1
    while f"jar {number}" in names:
        number += 1
    return f"jar {number}"


def _batch(values: Mapping[str, str], alcohol: Alcohol) -> FreshBatch:
    cut_g_per_l, makes_ml = _asked(values)
    return mix_for_volume(cut_g_per_l, makes_ml, alcohol)


def _asked(values: Mapping[str, str]) -> tuple[float, float]:
    """Read both quantities, so that the faults of both are told at once."""
    found: list[float] = []
    faults: list[str] = []
    for name, measure in (("cut", units.CUT), ("makes", units.VOLUME)):
        try:
            found.append(units.read(values[name], measure))
        except units.UnitFaultError as fault:
            faults.append(f"{name}: {fault}")
    if faults:
        raise FormFaultError(". ".join(faults))
    return found[0], found[1]
