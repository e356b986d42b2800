"""The condition report as one page: what was found, tried and left alone, with pictures."""

from __future__ import annotations

from pathlib import Path

from finishsched.reports.pages import page
from finishsched.reports.pictures import embedded
from finishsched.safety.deferring import IN_PRINT
from finishsched.workshop.base.words import one_line
from finishsched.workshop.papers.conditions import DEFERS, NOT_TOUCHED, Condition, sections


def condition_page(report: Condition, folder: Path) -> str:
    """Return the page; pictures are looked for in ``folder``.

    Raises:
        PictureFaultError: when a picture cannot be put in.

    """
    return page(
        "condition.html",
        report=report,
        sections=list(sections(report)),
        pictures=[
            (embedded(folder, one.path), one_line(one.caption))
            for row in report.pictures
            for one in row.pictures
        ],
        day=lambda at: f"{at.astimezone(report.zone):%Y-%m-%d}",
        not_touched=NOT_TOUCHED,
        defers=DEFERS,
        deferral=IN_PRINT,
    )
