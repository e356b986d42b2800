"""In which state a layer is so long after it was laid."""

import pytest

from finishsched.checking.layers.states import USUAL, course_of, state_after
from finishsched.model.product import DryingTimes

HOUR_S, DAY_S = 3600.0, 86400.0


@pytest.mark.parametrize("matter", USUAL)
def test_states_come_one_after_the_other(matter):
    """Nothing is hard through before it is dry to the touch, nor cured before that."""
    course = USUAL[matter]
    assert 0 < course.touch_s <= course.through_s <= course.cured_s


@pytest.mark.parametrize(
    ("matter", "hours", "state"),
    [
        ("varnish.alkyd", 2, "still wet"),
        ("varnish.alkyd", 12, "dry to the touch and soft below"),
        ("varnish.alkyd", 72, "dry through and not cured"),
        ("varnish.alkyd", 2000, ""),
        ("shellac.dewaxed", 2, "dry to the touch and soft below"),
        ("oil.raw", 48, "still wet"),
        ("oil.mineral", 9000, "still wet"),
        ("bleach.oxalic", 2, ""),
    ],
)
def test_a_full_coat_is_named_by_its_state(matter, hours, state):
    """Common practice: varnish is soft all night, and raw oil for days."""
    assert state_after(matter, None, hours * HOUR_S, 1.0) == state


def test_what_its_maker_prints_goes_first_and_a_thin_coat_is_sooner_there():
    """A quick varnish that may be sanded after 4 h is dry through then; so is a tenth of a coat."""
    quick = DryingTimes(touch_s=HOUR_S, sand_s=4 * HOUR_S, cured_s=3 * DAY_S)
    assert course_of("varnish.alkyd", quick) == (HOUR_S, 4 * HOUR_S, 3 * DAY_S)
    assert state_after("varnish.alkyd", quick, 5 * HOUR_S, 1.0) == "dry through and not cured"
    assert state_after("lacquer", None, HOUR_S, 0.1) == "dry through and not cured"
