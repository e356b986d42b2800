"""What makes one paper of a shop, in a process of its own: a page on standard output, or why not.

It only reads the shop. A plan takes seconds of reckoning, which the server has no time for.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

from finishsched.refusals import RefusalError
from finishsched.reports.labels import label_sheet
from finishsched.reports.record import record_page
from finishsched.reports.sheet import sheet_page
from finishsched.reports.week import week_page
from finishsched.workshop.base.entries import RefusedError
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.papers.bench_sheet import row_sheets
from finishsched.workshop.papers.labels import jar_labels
from finishsched.workshop.papers.records import records_of
from finishsched.workshop.plan.plans import Asked, plan_answer
from finishsched.workshop.stock.shop_stock import shop_stock
from finishsched.workshop.views.row_views import row_views
from finishsched.workshop.views.views import bench_view

MADE, REFUSED = 0, 1
"""How the process ends: with a page, or with the reasons for none."""


def main(shop: str, paper: str, of: str) -> None:
    """Write one paper of a shop to standard output."""
    try:
        with Workshop.open(Path(shop), now := datetime.now(UTC)) as workshop:
            text, status = _MAKERS[paper](workshop, of, now), MADE
    except RefusalError as error:
        text, status = "\n".join(error.lines), REFUSED
    sys.stdout.buffer.write(text.encode())
    sys.stdout.flush()
    sys.exit(status)


def _record(workshop: Workshop, of: str, now: datetime) -> str:
    return record_page(records_of(workshop, of, now), workshop.folder)


def _sheet(workshop: Workshop, of: str, now: datetime) -> str:
    sheets = row_sheets(workshop, of, now)
    if len(sheets) != 1:
        raise RefusedError(f"{of} is {len(sheets)} sheets", "ask for one piece after the other")
    return sheet_page(sheets[0])


def _labels(workshop: Workshop, _of: str, now: datetime) -> str:
    labels = jar_labels(shop_stock(workshop, now), workshop.papers.products)
    if not labels:
        raise RefusedError("there is no batch to label", "log one: m on the bench")
    return label_sheet(labels, workshop.papers.shop.name)


def _week(workshop: Workshop, _of: str, now: datetime) -> str:
    found = plan_answer(workshop, now, Asked(insight=False))
    return week_page(found, workshop.papers.shop.name)


def _list(workshop: Workshop, _of: str, now: datetime) -> str:
    """Return as JSON which papers there are: what each is, its title, of which pieces."""
    papers = [{"paper": "week", "title": "The week", "of": ""}]
    papers.append({"paper": "labels", "title": "Labels for the jars", "of": ""})
    papers.extend(_of_pieces(workshop, now))
    return json.dumps({"shop": workshop.papers.shop.name, "papers": papers})


def _of_pieces(workshop: Workshop, now: datetime) -> Iterator[dict[str, str]]:
    """Give the sheet of each row of pieces, and the record of each piece that was begun."""
    pieces = bench_view(workshop, now).pieces
    for row in row_views(workshop, pieces, now):
        yield {"paper": "sheet", "title": row.row.title, "of": ",".join(row.row.refs)}
    for piece in pieces:
        if piece.log:
            yield {"paper": "record", "title": piece.title, "of": piece.ref}


_MAKERS: dict[str, Callable[[Workshop, str, datetime], str]] = {
    "list": _list,
    "record": _record,
    "sheet": _sheet,
    "labels": _labels,
    "week": _week,
}
