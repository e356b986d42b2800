"""The mixing view: what to weigh and measure for a cut and a volume as they are typed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from finishsched import units
from finishsched.bench.drawing import big_letters
from finishsched.bench.typed.reading import FormFaultError, read_all, read_quantity
from finishsched.factors import G_PER_L_IN_A_POUND_CUT
from finishsched.mixing.cut import FreshBatch, mix_for_volume
from finishsched.mixing.measure import on_tools
from finishsched.model.shop import Alcohol, Shop, ShownUnits, Tools
from finishsched.safety.cautions import DEFERRAL, FLAMMABLE_VAPOUR
from finishsched.workshop.base.answers import BenchView, PieceView, StepSheet
from finishsched.workshop.base.mixed_words import coarse_words, gives_words, readings
from finishsched.workshop.base.shown import shown_of
from finishsched.workshop.stock.shelf_entries import Mixed


@dataclass(frozen=True, slots=True)
class MixingBench:
    """What the shop mixes with, and the units that it likes to see."""

    alcohol: Alcohol = Alcohol()
    tools: Tools = Tools()
    shown: ShownUnits = field(default_factory=ShownUnits)

    @property
    def shop(self) -> Shop:
        """As much of the shop as mixing asks for."""
        return Shop("", units=self.shown, alcohol=self.alcohol, tools=self.tools)


USUAL_CUT_G_PER_L = 2 * G_PER_L_IN_A_POUND_CUT
USUAL_VOLUMES = ("250 ml", "8 floz")
"""What is asked for first where the chosen piece's step has no cut, in a shop that measures in
litres and in one that does not (our assumption)."""


def first_asked(piece: PieceView | None, view: BenchView) -> tuple[str, str]:
    """Return the cut and the volume to begin with: those of the jar to mix, where there is one.

    Where a jar of that cut serves the step, nobody mixes for it alone: a jar full is offered.
    """
    sheet = (piece.sheet or piece.next_sheet) if piece else None
    cut_g_per_l = (sheet.jar_cut_g_per_l or sheet.step.cut_g_per_l) if sheet else None
    cut = units.show(cut_g_per_l or USUAL_CUT_G_PER_L, units.CUT, view.units.cut)
    usual = _usual_volume(view.units)
    if sheet is None or not cut_g_per_l or sheet.jar_name:
        return cut, usual
    return cut, sheet.jar_holds or usual


def _usual_volume(shown: ShownUnits) -> str:
    """Return a jar full, round in the shop's own unit."""
    usual = USUAL_VOLUMES[shown.volume not in ("ml", "l")]
    return units.show(units.read(usual, units.VOLUME), units.VOLUME, shown.volume)


def of_the_step(sheet: StepSheet | None) -> str:
    """Say what of the step in hand speaks against mixing a cut for it; empty for nothing."""
    if sheet is None:
        return ""
    if sheet.jar:
        return f"{sheet.jar}, serves this step: nothing has to be mixed for it"
    if sheet.mix and not sheet.step.cut_g_per_l:
        mix = " and ".join(f"{line.amount} {line.what}" for line in sheet.mix)
        return f"this step takes no flakes: it is mixed of {mix}"
    return ""


def mixing_lines(
    values: Mapping[str, str], bench: MixingBench, shelf: tuple[str, ...], first: str = ""
) -> Iterator[str]:
    """Give what to weigh and measure, large, and what stands on the shelf already.

    ``first`` of all, what is to be known of the step in hand.

    Amounts are as the shop's tools can read them, in the units that it likes to see.

    Raises:
        FormFaultError: naming the units that would do.

    """
    batch = _batch(values, bench.alcohol)
    tooled = on_tools(batch, bench.tools)
    read = readings(tooled, shown_of(bench.shop))
    by_weight = tooled.better_to_weigh
    if first:
        yield first
    # A row for each, so that a narrow card never breaks a drawn figure.
    yield from big_letters.small(read.flakes)
    yield from big_letters.small(f"+ {read.weighed if by_weight else read.measured}")
    ways = (f"weigh {read.weighed}", read.measure)
    better, other = ways if by_weight else ways[::-1]
    yield f"{read.flakes} of flakes; {better} of alcohol: the better way here"
    yield from (f"! {warning}" for warning in coarse_words(tooled.coarse, bench.shop))
    yield f"gives {gives_words(tooled.cut, bench.shop)}"
    yield f"or {other}"
    yield from (f"! {warning}" for warning in batch.warnings)
    yield f"! {FLAMMABLE_VAPOUR} {DEFERRAL}"
    yield from (f"on the shelf: {row}" for row in shelf)


def mixed_entry(values: Mapping[str, str], product: str, bench: MixingBench) -> Mixed:
    """Return the entry that logs the batch, of ``product`` where the step names it.

    Its cut and its volume are those that the amounts shown give, not those that were asked for: the
    shop's tools read no finer.

    Raises:
        FormFaultError: for a quantity that cannot be read, or a batch without a name.

    """
    batch = _batch(values, bench.alcohol)
    tooled = on_tools(batch, bench.tools)
    name = values["name"].strip()
    if not name:
        raise FormFaultError("write a name for the jar, such as jar 5")
    product = product or values.get("product", "").strip()
    if not product:
        raise FormFaultError("write which flakes, such as shellac-dewaxed-blonde")
    cut_g_per_l = tooled.cut.g_per_l
    return Mixed(name=name, makes_ml=tooled.makes_ml, cut_g_per_l=cut_g_per_l, product=product)


def _batch(values: Mapping[str, str], alcohol: Alcohol) -> FreshBatch:
    cut_g_per_l, makes_ml = _asked(values)
    return mix_for_volume(cut_g_per_l, makes_ml, alcohol)


def _asked(values: Mapping[str, str]) -> tuple[float, float]:
    """Read both quantities, so that the faults of both are told at once."""
    cut_g_per_l, makes_ml = read_all(
        lambda: read_quantity("cut", values["cut"], units.CUT),
        lambda: read_quantity("makes", values["makes"], units.VOLUME),
    )
    return cut_g_per_l, makes_ml
