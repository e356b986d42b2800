"""The shelf of the invented shop: what it bought, what it mixed, and when somebody last counted."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from finishsched.factors import G_PER_L_IN_A_POUND_CUT
from finishsched.journal import events
from finishsched.journal.events import NewEvent
from finishsched.mixing.cut import mix_for_volume
from finishsched.model.step import Step
from finishsched.workshop.base.documents import Papers

_ALCOHOL = "alcohol can"


@dataclass(frozen=True, slots=True)
class _Jar:
    name: str
    product: str
    cut_lb: float
    makes_ml: float
    days_ago: int
    lot: str
    by: str


_LOTS = (
    (420, events.LotBought("blonde tin", "shellac-dewaxed-blonde", amount_g=500.0)),
    (260, events.LotBought("garnet bag", "shellac-garnet", amount_g=250.0)),
    (150, events.LotBought(_ALCOHOL, "denatured-alcohol", amount_ml=5000.0)),
    (48, events.LotBought("varnish tin", "wiping-varnish", amount_ml=500.0, by="Tam")),
    (21, events.LotBought("filler tin", "oil-paste-filler", amount_ml=250.0, by="Nell")),
)
_JARS = (
    _Jar("jar 4", "shellac-garnet", 1.5, 250.0, 118, "garnet bag", "Nell"),
    _Jar("jar 2", "shellac-garnet", 1.0, 100.0, 33, "garnet bag", "Nell"),
    _Jar("jar 1", "shellac-dewaxed-blonde", 1.0, 250.0, 26, "blonde tin", "Tam"),
    _Jar("jar 3", "shellac-dewaxed-blonde", 2.0, 250.0, 12, "blonde tin", "Nell"),
)
_COUNTED = (
    (10, events.StockCounted("jar 2", left_ml=14.0, by="Nell")),
    (10, events.StockCounted("jar 4", left_ml=85.0, by="Nell", note="a drop was hard overnight")),
)


def jar_for(step: Step) -> str:
    """Return the name of the jar that serves for ``step``; empty when none does."""
    for jar in _JARS:
        cut_g_per_l = jar.cut_lb * G_PER_L_IN_A_POUND_CUT
        if jar.product == step.product and abs((step.cut_g_per_l or 0.0) - cut_g_per_l) < 1:
            return jar.name
    return ""


def shelf_entries(papers: Papers, now: datetime) -> Iterator[NewEvent]:
    """Give every entry about the stock, as if made around this hour on days before ``now``."""
    for days, bought in _LOTS:
        yield NewEvent(now - timedelta(days=days), None, bought)
    for jar in _JARS:
        yield NewEvent(now - timedelta(days=jar.days_ago), None, _mixed(jar, papers))
    for days, counted in _COUNTED:
        yield NewEvent(now - timedelta(days=days), None, counted)


def _mixed(jar: _Jar, papers: Papers) -> events.BatchMixed:
    cut_g_per_l = jar.cut_lb * G_PER_L_IN_A_POUND_CUT
    batch = mix_for_volume(cut_g_per_l, jar.makes_ml, papers.shop.alcohol)
    return events.BatchMixed(
        batch=jar.name,
        product=jar.product,
        makes_ml=jar.makes_ml,
        cut_g_per_l=cut_g_per_l,
        draws=(
            events.Draw(jar.lot, amount_g=batch.flakes_g),
            events.Draw(_ALCOHOL, amount_ml=batch.alcohol_ml),
        ),
        by=jar.by,
    )
