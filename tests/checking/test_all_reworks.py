"""What is offered is borne by the work that is left: a part of the sweep over all schedules."""

from __future__ import annotations

import pytest
from all_reworks import faults_of

from finishsched.documents.library import shipped_schedules
from finishsched.model.step import steps_of


@pytest.mark.parametrize("name", ["quick-shellac-insides", "waxed-shellac"])
def test_no_way_brings_an_error_spoils_the_sheen_or_builds_too_much(name):
    """At the end of the work, whatever is seen there: no error more, the sheen, film in bounds."""
    end = len(steps_of(shipped_schedules()[name]))
    *faults, (last, tried) = faults_of(name, [end])
    assert (faults, last) == ([], "")
    assert tried > 30
