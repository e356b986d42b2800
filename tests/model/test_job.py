"""Pieces that are alike: one entry of a job's document, each with a name of its own."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from finishsched.model.job import Face, Job, Piece
from finishsched.model.names import natural

FRONT = Piece("front", "Drawer front", "some-schedule", (Face("face", 400, 150),), count=12)


def test_twelve_alike_are_twelve_pieces_that_know_what_they_are_one_of():
    """Each has its number in name and title, the same faces, and counts for one."""
    twelve = list(FRONT.each())
    assert [piece.id for piece in twelve[::5]] == ["front-1", "front-6", "front-11"]
    assert {(piece.alike, piece.count, piece.area_m2) for piece in twelve} == {
        ("front", 1, FRONT.area_m2)
    }
    assert twelve[2].title == "Drawer front 3"


def test_a_single_piece_is_itself():
    """One piece keeps its id, and is one of no others."""
    one = Piece("lid", "Lid", "some-schedule", FRONT.faces)
    assert next(Job("box", "Box", (one, FRONT)).each_piece()) is one


@given(st.lists(st.integers(0, 300), min_size=2, unique=True))
def test_names_are_sorted_as_people_count(numbers):
    """The order of the numbers in names is the order of the names, with or without a number."""
    names = sorted([*(f"job/front-{number}" for number in numbers), "job/front"], key=natural)
    assert names == ["job/front", *(f"job/front-{number}" for number in sorted(numbers))]
