"""One job's amounts are the same on every face: one account, one range."""

import pytest
from one_amount import one_amount


@pytest.mark.parametrize("units", ["g", "oz"])
def test_a_coat_takes_the_same_on_every_face(tmp_path, units):
    """Due, need, log, film, record and stock: one likely amount, and one range where it is told."""
    said = one_amount(tmp_path / "shop", units)
    due = said[0]
    assert 0 < due.low_ml < due.likely_ml < due.high_ml
    for one in said[1:]:
        assert one.likely_ml == pytest.approx(due.likely_ml, rel=0.01), one.face
        if one.low_ml is not None:
            # Film's ends are read off 64 worlds, the others' are worked out.
            near = 0.03 if one.face == "film" else 1e-6
            assert one.low_ml == pytest.approx(due.low_ml, rel=near), one.face
            assert one.high_ml == pytest.approx(due.high_ml, rel=near), one.face
    unit = {"g": " ml", "oz": " floz"}[units]
    words = [one.words for one in said if one.words]
    assert all(unit in text for text in words), words
    assert said[2].words in said[4].words
