"""What is shipped is safe by the program's own figures: a job that follows it loses nothing."""

import pytest
from face_cases import SHELL, STRINGING, piece

from finishsched.documents.library import shipped_products, shipped_schedules
from finishsched.film.works import Terms, ledger_of
from finishsched.model.film import FilmRules, Reach
from finishsched.model.job import Inlay
from finishsched.model.step import steps_of

MOST = FilmRules().cut_through_odds_percent / 100
FLUSH_SHELL = Inlay("shell", 0.6, in_mm=0.6, area_m2=1e-3, width_mm=10.0)


def _ledger(name, *inlays, species="walnut"):
    panel = piece(*inlays, species=species)
    schedule = shipped_schedules()[name]
    return ledger_of(panel, steps_of(schedule), Terms(shipped_products()), schedule.over)


@pytest.mark.parametrize("name", sorted(shipped_schedules()))
@pytest.mark.parametrize("species", ["walnut", "maple"])
def test_who_follows_a_shipped_schedule_loses_nothing(name, species):
    """On a 0.6 mm face of 0.06 m2 no step loses anything with more than the shop's own odds."""
    for reckoned, line in _ledger(name, species=species):
        assert line.worst is None or line.worst.odds <= MOST, reckoned.step.key


def test_cutting_back_is_safe_on_veneer_with_inlay():
    """Down to the high wood three times: no veneer, no stringing, no shell is gone through."""
    ledger = _ledger("shellac-cut-back", STRINGING, SHELL, FLUSH_SHELL)
    back = [line for _, line in ledger if getattr(line.work, "reach", None) is Reach.CUT_BACK]
    assert len(back) == 3
    for line in back:
        assert line.after.film_um.likely == 0
        assert line.after.relief_um.likely < line.before.relief_um.likely + 1e-9
        assert line.odds > 0.99
        assert line.worst is None or line.worst.odds <= MOST
    end = ledger[-1][1].after
    assert end.film_um.likely > 20
    for part in end.parts:
        assert part.left_um.low > 0.4 * part.zone.thick_um.likely
    assert abs(end.steps_um()["holly inlay"].likely) < 5


def test_cutting_back_over_stain_loses_the_colour():
    """What is harmless to clear wood is not over a stain: the same step then loses colour."""
    from dataclasses import replace

    from finishsched.film.face import enter_face
    from finishsched.film.odds import Stake, Stakes

    _, line = next(
        (one, line)
        for one, line in _ledger("shellac-cut-back")
        if getattr(one.work, "reach", None) is Reach.CUT_BACK
    )
    stained = Stakes(frozenset((Stake.COLOUR,)), line.stakes.lost | {Stake.COLOUR})
    worst = enter_face(line.work, line.before, stained).worst
    assert worst.stake is Stake.COLOUR
    assert worst.odds > 0.99
    clear = replace(stained, under=frozenset())
    assert enter_face(line.work, line.before, clear).worst is None
