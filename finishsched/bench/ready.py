"""What the keys open, loaded before they are first pressed."""

from __future__ import annotations

from importlib import import_module

READY = (
    "finishsched.workshop.log.log",
    "finishsched.workshop.air.reading_entries",
    "finishsched.workshop.stock.shop_stock",
    "finishsched.bench.pages.defect_pages",
    "finishsched.bench.pages.handbook_pages",
    "finishsched.bench.pages.rags_pages",
    "finishsched.bench.screens.dry_check",
    "finishsched.bench.screens.film",
    "finishsched.bench.screens.forms",
    "finishsched.bench.screens.plan",
    "finishsched.bench.screens.question",
    "finishsched.bench.screens.sitting",
    "finishsched.bench.screens.sitting_card",
    "finishsched.workshop.plan.change_sentences",
    "finishsched.workshop.film.sentences",
    "finishsched.workshop.plan.better",
)
"""What the keys load when they are first pressed, unless it is there by then."""


def make_ready(_: object) -> None:
    """Load it, so that the first press of each key is felt as soon as the next.

    It is soon loaded too: what is put in the place of the program later does no harm.
    """
    for name in READY:
        import_module(name)
