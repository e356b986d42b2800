"""What due tells of coats is what the need of their job counts: one pad, one mix for what keeps."""

import pytest
from conftest import NOW

from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entries
from finishsched.workshop.stock.needs import job_need
from finishsched.workshop.views.row_views import row_views
from finishsched.workshop.views.views import due_answer


@pytest.fixture
def at_the_coat(folder):
    """Return the shop with both pieces of the box, which are not alike, at their first coat."""
    with Workshop.open(folder, NOW) as workshop:
        for what in (What.START, What.DONE):
            log_entries(workshop, Entry(what, "all"), NOW)
        yield workshop


def _sheets(workshop):
    return [row.view.sheet for row in row_views(workshop, due_answer(workshop, NOW).at_hand, NOW)]


def test_a_dry_pad_is_charged_once_for_all_pieces(at_the_coat):
    """The coats at hand take together what need counts for them, one charge among them."""
    sheets = _sheets(at_the_coat)
    need = job_need(at_the_coat, "box", NOW)
    keys = {sheet.step.key for sheet in sheets}
    wanted = sum(coat.amount.likely for coat in need.coats if coat.step.key in keys)
    assert len(sheets) == 2
    assert sum(sheet.takes.amount.likely for sheet in sheets) == pytest.approx(wanted)
    assert sorted(sheet.takes.pad_ml for sheet in sheets) == [0.0, 10.0]
    (told,) = (
        text
        for view in due_answer(at_the_coat, NOW).at_hand
        for text in view.how_much
        if text.startswith("pad: dry; the 10 ml that go into it are counted once")
    )
    assert told.endswith("box/lid")


def test_the_mix_of_each_piece_is_the_one_that_need_has(at_the_coat):
    """Both pieces are told the same one jar, for all coats that it keeps for; need mixes that."""
    (jar,) = job_need(at_the_coat, "box", NOW).supply.batches
    assert {sheet.makes_ml for sheet in _sheets(at_the_coat)} == {jar.makes_ml}
    assert all("4 coats on 2 pieces, 0.3 m2" in sheet.mix_makes for sheet in _sheets(at_the_coat))
