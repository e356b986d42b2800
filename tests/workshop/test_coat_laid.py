"""How heavy a coat was, by what was logged of it."""

import pytest
from defect_logs import VARNISH, Told, coat, tell

from finishsched.mixing.amount import SMALLEST_BATCH_ML
from finishsched.workshop.standing.where import cure_room, find

THIN = coat("brush", VARNISH, "20 h", amount="30 ml/m2")


@pytest.fixture
def share(tmp_path):
    """Return what tells the share of a coat of 3 ml that so many times of it were logged for."""

    def told(times):
        workshop, _ = tell(Told("", "", "", [THIN], used={1: times}), tmp_path / f"{times}")
        with workshop:
            laid = find(workshop, "p").laid
            return laid.done.amount_ml, cure_room(workshop).share_laid(laid)

    return told


def test_the_least_that_is_mixed_tells_nothing_of_the_coat(share):
    """Ten ml logged for a coat of three may be the jar: no coat as scheduled, and no heavy one."""
    used_ml, known = share(SMALLEST_BATCH_ML / 3.6)
    assert used_ml == pytest.approx(SMALLEST_BATCH_ML, rel=0.1)
    assert known is None


@pytest.mark.parametrize("times", [0.5, 2.0, 3.9])
def test_any_other_amount_tells_how_heavy_it_was(share, times):
    """Half of the schedule's amount is half a coat, twice of it two."""
    assert share(times)[1] == pytest.approx(times, rel=0.35)
