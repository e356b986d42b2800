"""The bench sheet as one page that prints well on A4 and on letter paper."""

from __future__ import annotations

import itertools

from finishsched.reports.pages import page
from finishsched.workshop.papers.bench_sheet import BenchSheet


def sheet_page(sheet: BenchSheet) -> str:
    """Return the HTML page of a bench sheet, which needs nothing beside it."""
    return page(
        "sheet.html",
        sheet=sheet,
        places=[
            (place, list(steps))
            for place, steps in itertools.groupby(sheet.steps, key=lambda step: step.place)
        ],
        made=f"{sheet.made_at.astimezone(sheet.zone):%Y-%m-%d %H:%M %Z}",
    )
