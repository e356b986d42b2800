"""Several schedules one after the other are one life: nothing is lost, no two steps share a key."""

from __future__ import annotations

import pytest

from finishsched.documents import library
from finishsched.model.schedule import one_after_another
from finishsched.model.step import steps_of

GLUE, PATTERN = "veneer-glue-up", "padded-shellac-pattern"


@pytest.mark.parametrize("names", [(GLUE,), (GLUE, PATTERN), (GLUE, PATTERN, GLUE, GLUE)])
def test_the_steps_of_each_come_in_turn_under_keys_of_their_own(names):
    """As many steps as all have together, in their order, each known by a key that is its only."""
    each = [library.shipped_schedules()[name] for name in names]
    joined = steps_of(one_after_another(each))
    assert [step.how for step in joined] == [s.how for one in each for s in steps_of(one)]
    assert len({step.key for step in joined}) == len(joined)


def test_the_first_keeps_its_keys_when_another_is_added():
    """A piece begun on the first alone goes on where it is."""
    glue, pattern = (library.shipped_schedules()[name] for name in (GLUE, PATTERN))
    joined = steps_of(one_after_another([glue, pattern]))
    assert [step.key for step in steps_of(glue)] == [
        step.key for step in joined[: len(steps_of(glue))]
    ]
