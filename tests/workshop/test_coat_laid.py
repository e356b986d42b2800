"""How heavy a coat was, by what was logged of it."""

import pytest
from conftest import NOW
from defect_logs import VARNISH, Told, coat, tell

from finishsched.mixing.amount import SMALLEST_BATCH_ML
from finishsched.workshop.amounts.as_told import as_told
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entries, log_entry, remarks_on
from finishsched.workshop.standing.standing import MOISTURE_HOLDS, _moisture
from finishsched.workshop.standing.where import cure_room, find

ROW = """\
job: row
title: A row
pieces:
  - piece: panel
    title: Panel
    schedule: two-coats
    count: 3
    faces:
      - {face: top, area: 0.08 m2}
"""
THIN = coat("brush", VARNISH, "20 h", amount="30 ml/m2")


@pytest.fixture
def share(tmp_path):
    """Return what tells the share of a coat of 3 ml that so many times of it were logged for."""

    def told(times):
        workshop, _ = tell(Told("", "", "", [THIN], used={1: times}), tmp_path / f"{times}")
        with workshop:
            laid = find(workshop, "p").laid
            return laid.done, cure_room(workshop).share_laid(laid)

    return told


def test_the_least_that_is_mixed_tells_nothing_of_the_coat(share):
    """Ten ml logged for a coat of three may be the jar: no coat as scheduled, and no heavy one."""
    done, known = share(SMALLEST_BATCH_ML / 3.6)
    assert done.mixed_ml == pytest.approx(SMALLEST_BATCH_ML, rel=0.1)
    assert done.reckoned
    assert known is None


@pytest.mark.parametrize("times", [0.5, 2.0, 3.9])
def test_any_other_amount_tells_how_heavy_it_was(share, times):
    """Half of the schedule's amount is half a coat, twice of it two."""
    assert share(times)[1] == pytest.approx(times, rel=0.35)


def test_the_mix_for_a_row_tells_nothing_of_its_coats(folder):
    """Who logs for a row what was to be mixed for it waits as the book says, and hears of it."""
    (folder / "jobs/row.yaml").write_text(ROW)
    with Workshop.open(folder, NOW) as workshop:
        for what in (What.START, What.DONE):
            log_entries(workshop, Entry(what, "row/panel"), NOW)
        first = find(workshop, "row/panel-1")
        mix_ml = as_told(workshop, NOW).sheet(first, first.step).makes_ml
        taken = log_entries(workshop, Entry(What.DONE, "row/panel", amount_ml=mix_ml), NOW).events
        assert {event.what.mixed_ml for event in taken} == {mix_ml}
        assert sum(event.what.amount_ml for event in taken) < mix_ml / 1.2
        for event in taken:
            assert cure_room(workshop).share_laid(find(workshop, event.piece).laid) is None
            assert "is what was to be mixed" in remarks_on(workshop, event, NOW)[0]
        log_entry(workshop, Entry(What.AMEND, "row/panel-1", amount_ml=4.0), NOW)
        amended = find(workshop, "row/panel-1").laid.done
        assert (amended.mixed_ml, amended.amount_ml, amended.reckoned) == (None, 4.0, False)


def test_moisture_that_was_measured_holds_though_nobody_measures_again(workshop, at):
    """Measured with the sanding it still counts after the next coat, and not beyond three days."""
    log_entry(workshop, Entry(What.START, "lid"), at(0))
    log_entry(workshop, Entry(What.DONE, "lid", moisture_percent=9.5), at(5))
    log_entry(workshop, Entry(What.DONE, "lid"), at(10))
    lid = find(workshop, "lid")
    assert _moisture(lid, at(15)) == 9.5
    assert _moisture(lid, at(5) + MOISTURE_HOLDS) == 9.5
    assert _moisture(lid, at(6) + MOISTURE_HOLDS) is None
