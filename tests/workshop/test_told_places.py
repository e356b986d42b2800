"""A place is one of the words of places: whatever else follows 'at', 'on' and 'in' is none."""

from __future__ import annotations

from itertools import product
from pathlib import Path

import pytest

from finishsched.model.job import Face, Inlay, Piece
from finishsched.model.place_words import PLACES, SURE, Says, words_of_places
from finishsched.workshop.base.place_reading import where_in
from finishsched.workshop.base.places import place_named


def _lines(table):
    text = (Path(__file__).parent / table).read_text("utf-8")
    return [line for line in text.splitlines() if line.strip() and not line.startswith("#")]


PIECE = Piece("tea-caddy", "Tea caddy", "padded", (Face("all", 200.0, 100.0),))
ROWS = [tuple(part.strip() for part in line.split("->")) for line in _lines("told_places.txt")]
PREPOSITIONS = ("at", "on", "in", "along", "near", "by", "over", "under", "round", "next to")
NO_PLACES = " ".join(_lines("no_places.txt")).split()


@pytest.mark.parametrize(("said", "where"), ROWS, ids=[said for said, _ in ROWS])
def test_a_sentence_names_the_place_that_a_maker_reads_in_it(said, where):
    """Forty-four with a place and more without, each as it stands in the table."""
    assert where_in(said, PIECE) == where


@pytest.mark.parametrize("word", NO_PLACES)
def test_words_of_time_persons_and_things_are_never_places(word):
    """Whatever stands before them: all of these are in no part of the table."""
    for before, article in product(PREPOSITIONS, ("", "the ", "a ", "my ", "one ", "the other ")):
        assert where_in(f"it went dull {before} {article}{word} and stayed so", PIECE) == ""
        assert where_in(f"dull {before} the edge of {article}{word}", PIECE) == ""


def test_every_word_of_a_place_is_read_as_one():
    """Each row of the table with 'on the other' before it, and of the sure ones with 'near the'."""
    table = words_of_places()
    every = {word for kind in PLACES for word in table[kind]}
    unread = {word for word in every if not where_in(f"dull on the other {word}", PIECE)}
    assert unread == set()
    sure = {word for kind in SURE for word in table[kind]}
    assert {word for word in sure if where_in(f"dull near the {word}.", PIECE) != word} == set()
    assert not (every & table[Says.FOREIGN])


def test_what_the_piece_itself_has_is_a_place_of_it_alone():
    """Its inlay by its material, its face by its name; what it is called is all of it."""
    faces = (Face("gallery", 200.0, 100.0), Face("plateau", 90.0, 90.0))
    own = Piece("lid", "Lid", "padded", faces, inlays=(Inlay("holly", 0.6, in_mm=0.6),))
    for said, where in (
        ("dull on the holly", "holly"),
        ("dull on the gallery", "gallery"),
        ("dull on the lid", ""),
        ("dull at the edge of the lid", "edge of the lid"),
    ):
        assert where_in(said, own) == where
    assert where_in("dull on the holly", PIECE) == where_in("dull on the gallery", PIECE) == ""


def test_a_rim_is_an_edge_and_a_trim_is_none():
    """Paper presses harder at any word of an edge; only whole words count."""
    zones = {word: place_named(word, PIECE).zone for word in ("rim", "chamfers", "trim", "slip")}
    assert zones == {"rim": "edges", "chamfers": "edges", "trim": "field", "slip": "field"}
