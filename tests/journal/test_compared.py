"""Long lists of rows are held against each other a few rows at a time."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from finishsched.journal.compared import differing

LISTS = st.dictionaries(st.integers(0, 9), st.sampled_from([None, 1.5, "a"])).map(
    lambda rows: sorted(rows.items(), key=lambda row: row[0])
)


@given(made=LISTS, held=LISTS)
def test_what_differs_is_what_stands_in_one_only(made, held):
    """As many rows as sets of all of them would differ in, whatever the columns hold."""
    assert differing(iter(made), iter(held)) == len(set(made) ^ set(held))
