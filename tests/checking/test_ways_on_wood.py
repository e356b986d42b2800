"""Ways on wood that nothing lies on yet, and what is named where the log rules all out.

Common practice, no source, but for the widest step of grades (printed step rule, 2.0).
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from all_reworks import Work

from finishsched.checking.defects.evidence import Evidence
from finishsched.checking.defects.options import rework_of
from finishsched.checking.defects.ranking import diagnose
from finishsched.checking.defects.relaying import sanded
from finishsched.checking.defects.rework import rework_steps
from finishsched.checking.defects.seen import Seen
from finishsched.documents.library import shipped_schedules
from finishsched.model.grades import grade_of
from finishsched.model.schedule import Verb

WIDEST = 2.02
SCHEDULE = shipped_schedules()["dyed-and-varnished"]
OF_A_FILM = (Seen.SAG, Seen.DUST_NIB, Seen.WITNESS_LINES, Seen.BURN)


@pytest.mark.parametrize("grades", [("P120", "P240"), ("P80", "P150", "P220"), ("P60", "P240")])
def test_wood_sanded_once_more_leaps_over_no_grade(grades):
    """Where the leap left the scratches, the grades between are taken this time."""
    used = Work(SCHEDULE, 3).used
    own = replace(used, sands=tuple(replace(used.sand, grade=grade) for grade in grades))
    grains = [grade_of(plan.grade[0]).grain_um for plan in sanded(own)]
    assert grains[0] == grade_of(grades[0]).grain_um
    assert grains[-1] == grade_of(grades[-1]).grain_um
    assert all(1 < coarse / fine <= WIDEST for coarse, fine in pairwise(grains))


def test_wood_half_sanded_is_sanded_again_with_what_it_had():
    """A grade that is still to come is none to go back over: the next would be coarser."""
    every = [step.grade for step in Work(SCHEDULE, 0).steps if step.verb is Verb.SAND]
    assert [step.grade for step in Work(SCHEDULE, 0).used.sands] == every
    assert [step.grade for step in Work(SCHEDULE, 1).used.sands] == every[:1]


@pytest.mark.parametrize("seen", OF_A_FILM)
def test_bare_wood_is_not_left_to_harden(seen):
    """No film lies there by the log: it is cleaned, and what was laid is asked for."""
    work = Work(SCHEDULE, 1)
    first = work.offered_for(diagnose(seen, Evidence(laid=False)))[0]
    assert first.option == "wipe-off"
    assert [step.verb for step in rework_steps(first, 1)] == [Verb.TACK_OFF]
    assert rework_of("wipe-off", Work(SCHEDULE, len(work.steps)).used) is None


@pytest.mark.parametrize("seen", Seen)
def test_what_only_a_maker_can_say_is_not_named_where_nobody_said_it(seen):
    """Nor where the log rules out all the others, as on wood with nothing laid."""
    named = diagnose(seen, Evidence(laid=False, papered=False)).causes
    assert not any(one.cause.only_said for one in named)
