"""Whoever does as told hears no contradiction: a sample; ``measure_obedience.py`` has the table."""

import pytest
from obedient import Maker
from obedient_shops import TOO_THIN, panels, with_schedule


@pytest.mark.parametrize(
    ("schedule", "units", "pieces", "turns"),
    [("wiped-oil", "g", 1, 60), ("quick-shellac-insides", "oz", 2, 12)],
)
def test_whoever_does_as_told_hears_no_contradiction(tmp_path, schedule, units, pieces, turns):
    """Nothing told is refused, plan and due name the same, no told amount changes a wait."""
    maker = Maker.of_panels(tmp_path / "shop", units, schedule, pieces)
    assert maker.work(turns) == []
    assert maker.turns > 5


@pytest.mark.parametrize("units", ["g", "oz"])
def test_pieces_alike_are_worked_as_one_by_one_pad(tmp_path, units):
    """Three panels of one entry, padded in rows: the told amount of all, logged, is no surprise."""
    maker = Maker.of_panels(tmp_path / "shop", units, "satin-shellac-and-wax", 3, alike=True)
    assert maker.work(16) == []
    assert maker.coats >= 3


def test_check_and_film_warn_of_the_same_paper(tmp_path):
    """Paper after the last thin coats: check finds fault, and film asks before it; by one limit."""
    job = with_schedule(panels("g", "too-thin", 1), TOO_THIN)
    maker = Maker(tmp_path / "shop", job)
    assert maker.work(40) == []
    assert maker.cuts
    assert maker.asked_first == ["level P320"]
