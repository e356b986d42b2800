"""What somebody should know before they go by any answer: a wrong clock, faults in documents."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from finishsched.documents.faults import Fault
from finishsched.workshop.views.notices import clock_stands_wrong, document_faults

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("since", "said"),
    [
        (timedelta(seconds=-61), "before an entry that was written earlier"),
        (timedelta(seconds=-60), ""),
        (timedelta(days=400), ""),
        (timedelta(days=401), "after the last entry"),
    ],
)
def test_a_clock_that_can_hardly_be_right_is_told(since, said):
    """A minute before the last entry, or 400 days after it: every wait is reckoned by it."""
    told = [notice.text for notice in clock_stands_wrong(NOW - since, NOW, UTC)]
    assert bool(told) == bool(said)
    assert all(said in text for text in told)
    assert list(clock_stands_wrong(None, NOW, UTC)) == []


@pytest.mark.parametrize(("count", "more"), [(1, ""), (2, " (and 1 more)"), (5, " (and 4 more)")])
def test_of_faults_the_first_is_told_and_how_many_more_there_are(count, more):
    """One line for all of them; none without any."""
    faults = [
        Fault("shop.yaml", n, 1, "not so", "but so", "bad-value") for n in range(1, count + 1)
    ]
    (notice,) = document_faults(faults)
    assert notice.text == f"{faults[0]}{more}; finishsched check tells all"
    assert list(document_faults([])) == []
