"""Which due dates of a plan are told as at risk, and in what order."""

from __future__ import annotations

from datetime import UTC, date, datetime

from finishsched.workshop.plan.answers import PlannedPiece
from finishsched.workshop.plan.sentences import at_risk

DAY = date(2026, 12, 9)
NOON = datetime(2026, 12, 8, 12, tzinfo=UTC)


def piece(ref: str, odds: float, late_min: int = 0) -> PlannedPiece:
    """Return a piece that is due, finished late by so much, and late in so many cases."""
    return PlannedPiece(ref, ref, DAY, NOON, NOON, late_min=late_min, late_odds=odds)


def test_the_worst_is_told_first():
    """What is late comes before what may be, and the likelier before the less likely."""
    told = at_risk([piece("a", 0.1), piece("b", 0.4), piece("c", 1.0, 60), piece("d", 0.2)])
    assert [each.ref for each in told] == ["c", "b", "d", "a"]


def test_what_is_late_in_fewer_than_one_case_of_twenty_is_not_at_risk():
    """A due date is told as at risk from one case in twenty on; one without odds never is."""
    undue = PlannedPiece("e", "e", None, None, NOON)
    told = at_risk([piece("a", 0.04), piece("b", 0.05), undue])
    assert [each.ref for each in told] == ["b"]
