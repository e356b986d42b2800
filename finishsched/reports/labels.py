"""The sheet of jar labels: one page that prints well on A4 and on letter paper."""

from __future__ import annotations

from collections.abc import Sequence

from finishsched.reports.pages import page
from finishsched.workshop.base.words import one_line
from finishsched.workshop.papers.labels import JarLabel


def label_sheet(labels: Sequence[JarLabel], shop: str) -> str:
    """Return the HTML page with all ``labels``."""
    return page("labels.html", labels=labels, shop=one_line(shop))
