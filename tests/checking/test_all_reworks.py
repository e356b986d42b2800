"""What is offered is borne by the work that is left: a part of the sweep over all schedules."""

from __future__ import annotations

import pytest
from all_reworks import Work, faults_of

from finishsched.checking.defects.repairs import REPAIRS
from finishsched.checking.defects.seen import Seen
from finishsched.documents.library import shipped_schedules
from finishsched.model.schedule import Verb
from finishsched.model.step import steps_of


@pytest.mark.parametrize("name", ["quick-shellac-insides", "waxed-shellac"])
def test_no_way_brings_an_error_spoils_the_sheen_or_builds_too_much(name):
    """At the end of the work, whatever is seen there: no error more, the sheen, film in bounds."""
    end = len(steps_of(shipped_schedules()[name]))
    *faults, (last, tried) = faults_of(name, [end])
    assert (faults, last) == ([], "")
    assert tried > 30


@pytest.mark.parametrize(
    ("name", "last"), [("dyed-and-varnished", Verb.WAX), ("wiping-varnish", Verb.TACK_OFF)]
)
def test_a_finished_and_waxed_piece_has_every_repair_of_a_film(name, last):
    """Washed off first and waxed again, with the rubbing out or after it: none is refused."""
    schedule = shipped_schedules()[name]
    work = Work(schedule, len(steps_of(schedule)))
    offered = {rework.option: rework for seen in Seen for rework in work.offered(seen)}
    of_film = {repair.name for repair in REPAIRS} - {"steam-dent"}
    assert of_film <= set(offered)
    for each in of_film:
        plans = offered[each].plans
        assert (plans[0].id, plans[-1].verb) == ("spot-wash", last)


def test_coats_still_to_come_are_part_of_what_makes_a_levelling_good():
    """Before the last coat of varnish one coat is enough: with it, the film stays in bounds."""
    work = Work(shipped_schedules()["dyed-and-varnished"], 17)
    over = next(one for one in work.offered(Seen.BURN) if one.option == "level-coat")
    assert [plan.coats for plan in over.plans if plan.verb is Verb.BRUSH] == [(1,)]
    assert work.faults(over) == []
