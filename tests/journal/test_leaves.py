"""Rows read leaf by leaf out of the bytes of a file, against what SQLite itself reads."""

from __future__ import annotations

import sqlite3
from contextlib import closing

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from finishsched.journal.leaves import PAGE, leaf_rows

LONG = st.integers(0, 20_000).map(lambda length: "ab-\u00e9" * (length // 4))
columns = (
    st.none()
    | st.integers(-(2**63), 2**63 - 1)
    | st.sampled_from([0, 1, 127, 128, 255, 256, 32_767, 32_768, 2**31, 2**47, -1, -129])
    | st.floats(allow_nan=False)
    | st.text(alphabet=st.characters(exclude_categories=["Cs"], exclude_characters="\0"))
    | LONG
    | st.binary(max_size=9000)
)
rows = st.lists(st.tuples(columns, columns, columns), max_size=25)


@settings(
    max_examples=40,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(some=rows)
def test_leaves_hold_what_the_table_holds(some, tmp_path):
    """Numbers of every width, texts over many pages, and nothing: each row reads as it was put."""
    path = tmp_path / "x.db"
    path.unlink(missing_ok=True)
    with closing(sqlite3.connect(path)) as db:
        db.execute(f"PRAGMA page_size = {PAGE}")
        db.execute("CREATE TABLE t (a, b, c)")
        db.executemany("INSERT INTO t VALUES (?, ?, ?)", some)
        db.commit()
        put = db.execute("SELECT rowid, * FROM t").fetchall()
    found = list(leaf_rows(path.read_bytes()))
    # The page that begins the file is the table of tables, and a leaf as well.
    assert found[0][1][:2] == ("table", "t")
    assert sorted(found[1:], key=lambda row: row[0]) == [(n, (*rest,)) for n, *rest in put]


def test_a_row_whose_end_is_lost_is_passed_over_and_the_others_are_read(tmp_path):
    """A text that went on on a page that is gone costs its own row alone."""
    path = tmp_path / "x.db"
    with closing(sqlite3.connect(path)) as db:
        db.execute(f"PRAGMA page_size = {PAGE}")
        db.execute("CREATE TABLE t (a)")
        db.executemany("INSERT INTO t VALUES (?)", [("one",), ("x" * 3 * PAGE,), ("three",)])
        db.commit()
    data = path.read_bytes()
    found = [columns for number, columns in leaf_rows(data[: 3 * PAGE]) if len(columns) == 1]
    assert found == [("one",), ("three",)]
