"""The one reader of the tables of text, by a package with three small ones."""

import sys

import pytest

from finishsched.tables import blocks_of, lines_of, parts_of, rows_of, several, weighed

PARTS = """# what they are
[forms]
begin: began
# between a row and what goes on with it
  begun

[seen]
soft: gum, wax
"""
BLOCKS = """# what they are
sag: a curtain
says: thick
# a remark
  or heavy

run: a line: or two
"""
ROWS = """# what they are

below | above
oil | shellac
# a remark
wax |  any,  none
"""


@pytest.fixture
def package(tmp_path, monkeypatch):
    """Make a package that is nothing but tables; give its name."""
    folder = tmp_path / "made_up_tables"
    folder.mkdir()
    for name, text in (("__init__.py", ""), ("p.txt", PARTS), ("b.txt", BLOCKS), ("r.txt", ROWS)):
        (folder / name).write_text(text, "utf-8")
    monkeypatch.syspath_prepend(tmp_path)
    yield folder.name
    sys.modules.pop(folder.name, None)


def test_what_is_set_in_goes_on_with_the_line_before_it_beyond_a_remark(package):
    """A remark between a row and the rest of it parts nothing, in each kind of table."""
    assert lines_of("p.txt", package)[1] == "begin: began begun"
    assert next(iter(blocks_of("b.txt", package)))["says"] == "thick or heavy"


def test_lines_stand_under_their_heading(package):
    """Each part has its own lines, and no others."""
    assert dict(parts_of("p.txt", package)) == {
        "forms": ("begin: began begun",),
        "seen": ("soft: gum, wax",),
    }


def test_a_block_has_its_name_its_words_and_its_keys(package):
    """The first line is the name and the words; only the first colon of a line parts it."""
    first, second = blocks_of("b.txt", package)
    assert first == {"name": "sag", "words": "a curtain", "says": "thick or heavy"}
    assert second == {"name": "run", "words": "a line: or two"}


def test_rows_are_told_by_their_cells_below_the_heads(package):
    """Heads and remarks are no rows, and a cell that names several is parted by its commas."""
    assert rows_of("r.txt", package) == (("oil", "shellac"), ("wax", "any,  none"))
    assert several("any,  none,") == ("any", "none")


def test_what_is_weighed_has_its_figure_behind_it():
    """A name may have several words; the last word is the figure."""
    assert dict(weighed("dull patch 0.5; sag 2", ";")) == {"dull patch": 0.5, "sag": 2.0}
