"""Whatever is read or printed of a hazard says that the data sheet and the codes come first."""

from __future__ import annotations

import re
from datetime import UTC, datetime

import pytest

from finishsched.model.readings import read_reading
from finishsched.reports.compare import compare_page
from finishsched.reports.condition import condition_page
from finishsched.reports.labels import label_sheet
from finishsched.reports.record import record_page, record_text
from finishsched.reports.sheet import sheet_page
from finishsched.reports.week import week_page
from finishsched.safety.deferring import IN_PRINT, defers, speaks_of_hazard
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.demo.demo import make_demo
from finishsched.workshop.film.gauge_entries import log_film
from finishsched.workshop.papers.bench_sheet import bench_sheet
from finishsched.workshop.papers.compared import compared
from finishsched.workshop.papers.conditions import condition_of
from finishsched.workshop.papers.handbook import page, topics
from finishsched.workshop.papers.labels import jar_labels
from finishsched.workshop.papers.records import record_of
from finishsched.workshop.plan.plans import plan_answer
from finishsched.workshop.stock.shop_stock import shop_stock

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)


@pytest.fixture
def papers(tmp_path, little_search):  # noqa: ARG001  # the plan is only read here
    """Return every printed paper of the demo shop by its name, its tags taken away."""
    folder = tmp_path / "shop"
    make_demo(folder, NOW)
    with Workshop.open(folder, NOW) as shop:
        log_film(shop, "tea-chest/lid", read_reading("found flaking"), NOW)
        log_film(shop, "tea-chest/lid", read_reading("swab alcohol: sticky"), NOW)
        record = record_of(shop, "tea-chest/lid", NOW)
        made = {
            "record": record_page([record], folder),
            "record as text": record_text([record]),
            "condition": condition_page(condition_of(shop, "tea-chest/lid", NOW), folder),
            "compare": compare_page(compared(shop, "tea-chest", NOW), "tea-chest"),
            "week": week_page(plan_answer(shop, NOW), "The shop"),
            "labels": label_sheet(jar_labels(shop_stock(shop, NOW), shop.papers.products), "Shop"),
            "sheet": sheet_page(bench_sheet(shop, "tea-chest/lid", NOW)),
        }
    return {name: re.sub(r"<style.*?</style>|<[^>]+>", " ", text, flags=re.DOTALL)
            for name, text in made.items()}  # fmt: skip


@pytest.mark.parametrize("topic", topics())
def test_a_page_that_speaks_of_a_hazard_defers(topic):
    """Steps, tours, words and all: no page names fire, solvent or dust and stops there."""
    shown = page(topic)
    text = f"{shown.title}\n{shown.text}"
    assert defers(text) or not speaks_of_hazard(text)


def test_every_printed_paper_that_speaks_of_a_hazard_defers(papers):
    """Record, condition report, comparison, week, labels and bench sheet."""
    speaking = {name for name, text in papers.items() if speaks_of_hazard(text)}
    assert len(speaking) >= 5
    assert [name for name in speaking if not defers(papers[name])] == []


def test_hazards_are_known_by_their_words():
    """What hurts is known however it stands in the line; what only sounds like it is not."""
    assert speaks_of_hazard("Cloths can set themselves on\nFire.")
    assert speaks_of_hazard("wood dust")
    assert not speaks_of_hazard("burnish until it shines; a dusty-blue glaze")
    assert defers(IN_PRINT)
    assert defers("the data\nsheet comes first")
