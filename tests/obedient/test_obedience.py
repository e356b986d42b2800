"""Whoever does as told hears no contradiction: a sample; ``measure_obedience.py`` has the table."""

import pytest
from obedient import Maker


@pytest.mark.parametrize(
    ("schedule", "units", "pieces", "turns"),
    [("wiped-oil", "g", 1, 60), ("quick-shellac-insides", "oz", 2, 12)],
)
def test_whoever_does_as_told_hears_no_contradiction(tmp_path, schedule, units, pieces, turns):
    """Nothing told is refused, plan and due name the same, no told amount changes a wait."""
    maker = Maker(tmp_path / "shop", units, schedule, pieces)
    assert maker.work(turns) == []
    assert maker.turns > 5
