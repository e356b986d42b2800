"""Days as people write them: read where they can be only one, else asked about."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishsched.workshop.base.typed_days import DayError, UnclearDayError, read_typed_day

TODAY = date(2026, 12, 7)  # a Monday


@pytest.mark.parametrize(
    ("text", "ahead", "behind"),
    [
        ("2026-12-19", "2026-12-19", "2026-12-19"),
        ("Dec 19", "2026-12-19", "2025-12-19"),
        ("19 dec", "2026-12-19", "2025-12-19"),
        ("December 19th", "2026-12-19", "2025-12-19"),
        ("Jan 5", "2027-01-05", "2026-01-05"),
        ("Jan 5 2028", "2028-01-05", "2028-01-05"),
        ("12/19", "2026-12-19", "2025-12-19"),
        ("19.12.", "2026-12-19", "2025-12-19"),
        ("19.12.2026", "2026-12-19", "2026-12-19"),
        ("5/5", "2027-05-05", "2026-05-05"),
        ("Feb 29", "2028-02-29", "2024-02-29"),
        ("today", "2026-12-07", "2026-12-07"),
        ("Dec 7", "2026-12-07", "2026-12-07"),
        ("Saturday", "2026-12-12", "2026-12-05"),
        ("mon", "2026-12-14", "2026-11-30"),
    ],
)
def test_a_day_without_its_year_is_the_nearest_that_way(text, ahead, behind):
    """A due date is the next such day, and what happened was on the last."""
    assert read_typed_day(text, TODAY, ahead=True) == date.fromisoformat(ahead)
    assert read_typed_day(text, TODAY, ahead=False) == date.fromisoformat(behind)


@pytest.mark.parametrize(
    ("text", "what", "remedy"),
    [
        ("12/11", "may be 11 December 2026 or 12 November 2027", "write 2026-12-11 or 2027-11-12"),
        ("1/2/27", "may be 2 January 2027 or 1 February 2027", "write 2027-01-02 or 2027-02-01"),
        ("Fri Dec 19", "2026-12-19, which is a Saturday", "write 2026-12-19"),
    ],
)
def test_what_may_be_two_days_is_asked_about(text, what, remedy):
    """Month and day in figures either way round, and a day of the week that does not fit."""
    with pytest.raises(UnclearDayError) as refused:
        read_typed_day(text, TODAY, ahead=True)
    assert what in refused.value.message
    assert remedy in refused.value.remedy


@pytest.mark.parametrize("text", ["", "soon", "Dec", "19", "2026-13-01", "19 Dec 18:30", "9 x 12"])
def test_what_is_no_day_is_refused(text):
    """A month alone, a day alone and a time of day are no date."""
    with pytest.raises(DayError, match=r"write 2026-12-19, Dec 19 or|check the month and the day"):
        read_typed_day(text, TODAY, ahead=True)


@given(st.text(max_size=50) | st.from_regex(r"[0-9a-z/. -]{1,20}", fullmatch=True), st.booleans())
def test_any_text_is_a_day_or_a_fault(text, ahead):
    """No text raises anything else."""
    try:
        found = read_typed_day(text, TODAY, ahead=ahead)
    except DayError as error:
        assert error.remedy  # noqa: PT017  # only when there is a fault
        return
    assert isinstance(found, date)
