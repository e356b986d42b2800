"""``condition``: an old piece as it was found, before it is begun, deferring to conservators."""

from __future__ import annotations

import pytest

OLD = """\
job: old-box
title: Old box
pieces:
- piece: top
  title: Top of an old box
  schedule: refreshed-polish
  species: Brazilian rosewood
  faces: [{face: top, area: 0.1 m2}]
"""


@pytest.fixture
def old(shop):
    """Return the demo shop with an old piece that nobody has begun, looked at."""
    (shop.cwd / "jobs" / "old.yaml").write_text(OLD)
    for said in ("found flaking at the left edge", "swab spirits: nothing",
                 "swab alcohol: sticky at a hidden corner", "leave the label inside"):  # fmt: skip
        assert shop("log", "top", "--reading", said).status == 0
    return shop


def test_what_was_found_tried_and_left_stands_in_the_makers_words(old):
    """Each in its part, with where it was, in the order in which solvents were tried."""
    found = old("condition", "top", "--json").json
    assert [(one["what"], one["where"]) for one in found["found"]] == [("flaking", "the left edge")]
    assert [one["what"] for one in found["tried_on_a_spot"]] == [
        "spirits: nothing", "alcohol: sticky",
    ]  # fmt: skip
    assert found["left_alone"][0]["what"] == "the label inside"
    assert "conservator" in found["deferral"]
    assert "CITES I" in found["facts"]["protected"]


def test_it_is_written_before_the_piece_is_begun_and_stays_after(old):
    """A coat's reading wants a piece that is begun; the condition is told without, and kept."""
    assert "is not begun" in old("log", "top", "--reading", "judged 3").err
    old("log", "top", "start")
    assert "flaking, the left edge" in old("condition", "top").out


def test_the_page_defers_and_names_what_is_not_touched(old):
    """The report as a page, by itself, with both sentences that come first."""
    old("condition", "top", "--out", "c.html")
    page = (old.cwd / "c.html").read_text("utf-8")
    assert "until a conservator has looked at it" in page
    assert "local codes come first" in page


def test_a_word_that_no_conservator_uses_is_refused_with_those_that_do(old):
    """What is found is of the list; a solvent is one that is tried; an empty report is none."""
    assert "craquelure" in old("log", "top", "--reading", "found ugliness").err
    assert "lacquer thinner" in old("log", "top", "--reading", "swab gin: nice").err
    assert "nothing is written down" in old("condition", "lid").err
