"""What people say of a piece reads in one way at every door."""

from __future__ import annotations

import pytest

from finishsched.model.readings import ALSO_CALLED, LOOKS
from finishsched.refusals import RefusalError
from finishsched.workshop.begin.read_answers import read_sheen


@pytest.mark.parametrize("said", [*ALSO_CALLED, *LOOKS])
def test_a_sheen_goes_by_what_people_call_it(said):
    """A sheen and what else it is called are one, however they are written."""
    meant = ALSO_CALLED.get(said, said)
    assert meant in LOOKS
    assert read_sheen(said) == read_sheen(f"  {said.replace(' ', '  ').upper()} ") == meant


def test_a_sheen_that_nobody_knows_is_refused():
    """What is no word for a sheen is never taken for one."""
    with pytest.raises((RefusalError, ValueError)):
        read_sheen("shinyish")
