"""A job's ``count`` and ``schedules``: what is read, and the faults that are told."""

from __future__ import annotations

import pytest

from finishsched.documents.decode import read
from finishsched.documents.faults import DocumentFaultsError

JOB = """\
job: chest
title: Chest of drawers
pieces:
  - piece: front
    title: Drawer front
    {}
    faces:
      - {{face: face, length: 400 mm, width: 150 mm}}
  - piece: front-3
    title: Another
    schedule: one
    faces:
      - {{face: face, length: 400 mm, width: 150 mm}}
"""


def told(lines: str) -> list[str]:
    """Return the faults of the job with ``lines`` in its first piece."""
    with pytest.raises(DocumentFaultsError) as caught:
        read(JOB.format(lines).encode(), "job.yaml")
    return [str(fault) for fault in caught.value.faults]


def test_schedules_are_read_in_their_order():
    """The first is where the piece begins; the others follow."""
    job = read(JOB.format("schedules: [glue, body]").encode(), "job.yaml").model
    assert job.pieces[0].schedules == ("glue", "body")


@pytest.mark.parametrize(
    ("lines", "fault"),
    [
        ("{schedule: a, count: 3}", "'front-3' is one of the 3 pieces 'front' on line 4 already"),
        ("{schedule: a, count: 0}", "write a whole number from 1 to 99"),
        ("{schedule: a, schedules: [b]}", "a piece has both a schedule and schedules"),
        ("{schedules: []}", "there are no schedules here"),
        ("{count: 2}", "a piece has no 'schedule'"),
    ],
)
def test_a_fault_says_what_would_be_right(lines, fault):
    """Names that collide, counts that cannot be, both keys at once, and neither."""
    laid_out = lines.strip("{}").replace(", ", "\n    ")
    assert any(fault in line for line in told(laid_out))
