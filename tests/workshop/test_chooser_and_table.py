"""The chooser of schedules asks the table of what goes on what, and rules of what is let in."""

from __future__ import annotations

import pytest

from finishsched.checking.cases import ScheduleCase
from finishsched.checking.layers.bare import on_wood
from finishsched.documents.library import shipped_products, shipped_schedules
from finishsched.workshop.begin.answers import wanted_of
from finishsched.workshop.begin.choosing import offer_of, papers_without_a_shop
from finishsched.workshop.begin.offers import Wanted


@pytest.mark.parametrize("wood", ["rosewood", "pine", "maple", "cherry"])
def test_what_the_table_says_of_a_bare_wood_is_held_against_a_schedule(wood):
    """Each row that speaks against a schedule there is a refusal, or what speaks against it."""
    papers, spoken = papers_without_a_shop(), 0
    for name, schedule in shipped_schedules().items():
        offer = offer_of(name, Wanted(species=wood), papers)
        rows = list(on_wood(ScheduleCase(schedule, shipped_products()), wood)) if offer else []
        for row in rows:
            told = (*offer.against, *offer.refused)
            assert any(row.pair.why in says for says in told), (name, row.pair)
            spoken += 1
    assert spoken


def test_varnish_on_bare_rosewood_is_refused():
    """The table is certain of it, so the chooser never recommends it."""
    offer = offer_of("wiping-varnish", Wanted(species="rosewood"), papers_without_a_shop())
    assert any("rosewood" in says and "sticky" in says for says in offer.refused)


def test_what_is_let_in_is_held_against_a_schedule():
    """Celluloid bears no alcohol: shellac that is wiped on is told of, and oil is not."""
    wanted = wanted_of({"wood": "walnut", "inlay": "celluloid 1 mm"})
    papers = papers_without_a_shop()
    shellac, oil = (offer_of(name, wanted, papers) for name in ("waxed-shellac", "wiped-oil"))
    plain = offer_of("waxed-shellac", Wanted(species="walnut"), papers)
    assert any("celluloid" in says for says in shellac.against)
    assert not any("celluloid" in says for says in oil.against)
    assert shellac.points < plain.points
