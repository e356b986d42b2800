"""The sheet of jar labels as a page."""

from __future__ import annotations

from datetime import date

import pytest
from reader_of_pages import Page

from finishsched.reports.labels import label_sheet
from finishsched.reports.pages import write_whole
from finishsched.safety.labels import hazard_lines, pictograms
from finishsched.workshop.papers.labels import JarLabel

CODES = ("H225", "H319")


def label(**changed):
    """Return a label of a usual jar, with changes."""
    usual = {
        "name": "jar 2",
        "content": "Blonde flakes",
        "strength": "2-lb cut",
        "mixed_on": date(2026, 11, 25),
        "test_from": date(2027, 2, 24),
        "not_after": date(2027, 11, 25),
        "lots": ("tin", "can (Alcohol)"),
        "hazards": hazard_lines(CODES),
        "pictograms": pictograms(CODES),
        "unknown": (),
    }
    return JarLabel(**{**usual, **changed})


def test_a_label_says_all_that_a_jar_must_say():
    """Name, content, cut, dates, lots, pictograms, hazards, and what comes first."""
    said = Page(label_sheet([label()], "Thistle Row")).words
    for words in (
        "jar 2", "Blonde flakes, 2-lb cut", "mixed 2026-11-25", "from 2027-02-24, a drop on glass",
        "not after 2027-11-25", "tin; can (Alcohol)", "GHS02 flame, GHS07 exclamation mark",
        "H225 highly flammable liquid and vapour", "H319 irritates the eyes badly",
        "The product's safety data sheet and local codes come first.",
    ):  # fmt: skip
        assert words in said


def test_what_is_not_known_is_left_out_or_said():
    """A jar of a plain product without dates; a product of which nothing tells is named."""
    bare = label(
        strength="", test_from=None, not_after=None, lots=(), hazards=(), pictograms=(),
        unknown=("aunts-balm",),
    )  # fmt: skip
    said = Page(label_sheet([bare], "Thistle Row")).words
    assert "hazards not known of: aunts-balm" in said
    assert "not after" not in said
    assert "GHS" not in said


def test_the_page_is_sound_and_fetches_nothing():
    """Tags close in order, one article a label, no script, no link, no picture from elsewhere."""
    page = label_sheet([label(), label(name="jar 3")], "Thistle Row")
    read = Page(page)
    assert read.tags.count("article") == 2
    assert read.addresses == []
    assert not {"script", "link", "img", "iframe"} & set(read.tags)
    assert "url(" not in page
    assert "break-inside: avoid" in page
    assert "@page" in page


@pytest.mark.parametrize("field", ["name", "content", "strength"])
def test_no_text_can_become_a_tag(field):
    """Whatever stands in a document or a name, it is words on the page."""
    evil = '<script>alert("x")</script>&amp;\'"'
    page = label_sheet([label(**{field: evil})], evil)
    assert "<script>" not in page
    assert evil in Page(page).words


def test_evil_lots_and_products_are_words_too():
    """Joined texts are escaped as well."""
    page = label_sheet([label(lots=("<i>", "b"), unknown=("<u>",))], "Thistle Row")
    assert "<i>" not in page
    assert "<u>" not in page
    assert "<i>; b" in Page(page).words


def test_a_page_is_written_whole_or_not_at_all(tmp_path, monkeypatch):
    """When it cannot be put in place the old page stands, and nothing is left beside it."""
    page = tmp_path / "l.html"
    write_whole(page, "one")
    assert page.read_text() == "one"

    def fail(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("pathlib.Path.replace", fail)
    with pytest.raises(OSError, match="No space"):
        write_whole(page, "two")
    assert [path.name for path in tmp_path.iterdir()] == ["l.html"]
    assert page.read_text() == "one"
