"""From a schedule as written to the steps as done."""

import pytest

from finishsched.model.schedule import (
    HandsOn,
    Rounds,
    Schedule,
    Stage,
    StageName,
    StepPlan,
    Verb,
    Wait,
    Waits,
)
from finishsched.model.step import steps_of

FIRST, BETWEEN, AFTER = Wait(3600, 7200), Wait(300, 900), Wait(28800, 43200, next_by_s=259200)


def _plan(verb=Verb.PAD, id_="pad", **given):
    return StepPlan(id=id_, verb=verb, how="as it is done", **given)


def _steps(*items):
    return steps_of(Schedule("s", "S", (Stage(StageName.BODY, items),)))


def test_coats_become_steps_each_with_its_own_wait():
    """First coat, coats between and last coat get the wait written for them."""
    steps = _steps(_plan(coats=(4,), waits=Waits(AFTER, FIRST, BETWEEN)))
    assert [step.wait for step in steps] == [FIRST, BETWEEN, BETWEEN, AFTER]
    assert [step.number for step in steps] == [1, 2, 3, 4]
    assert steps[1].title == "pad coat 2 of 4"


def test_a_single_coat_takes_the_wait_after_the_last():
    """Where there is one coat only, it is the last one."""
    assert _steps(_plan(waits=Waits(AFTER, FIRST, BETWEEN)))[0].wait == AFTER


def test_without_a_wait_between_the_last_one_serves():
    """A single wait serves every coat."""
    steps = _steps(_plan(coats=(3,), waits=Waits(AFTER)))
    assert [step.wait for step in steps] == [AFTER] * 3


def test_rounds_repeat_and_take_their_own_values():
    """In a group of rounds lists go by round: ever finer grades, fewer coats, thinner cuts."""
    steps = _steps(
        Rounds(
            3,
            (
                _plan(coats=(3, 2, 1), cut_g_per_l=(240.0, 180.0, 120.0)),
                _plan(Verb.LEVEL, "level", grade=("P400", "P600", "P1000")),
            ),
        )
    )
    assert [step.verb.value for step in steps] == ["pad"] * 3 + ["level"] + ["pad"] * 2 + [
        "level",
        "pad",
        "level",
    ]
    assert [step.grade for step in steps if step.grade] == ["P400", "P600", "P1000"]
    assert [step.cut_g_per_l for step in steps if step.cut_g_per_l] == [240] * 3 + [180] * 2 + [120]
    assert steps[-1].place == "body, round 3 of 3"


def test_later_coats_are_thinned_step_by_step():
    """From the first cut to the last the coats step down evenly."""
    steps = _steps(_plan(coats=(5,), cut_g_per_l=(240.0,), thin_to_g_per_l=120.0))
    assert [step.cut_g_per_l for step in steps] == [240, 210, 180, 150, 120]


def test_a_list_outside_rounds_goes_by_coat():
    """Thinning by coat: half, a quarter, none."""
    steps = _steps(_plan(coats=(3,), thinned_percent=(50.0, 25.0, 0.0)))
    assert [step.thinned_percent for step in steps] == [50, 25, 0]


def test_keys_are_unique_and_do_not_move_when_another_step_grows():
    """A step keeps its key when coats are added to the step before it."""
    short = _steps(_plan(coats=(2,)), _plan(Verb.LEVEL, "level"))
    longer = _steps(_plan(coats=(5,)), _plan(Verb.LEVEL, "level"))
    assert len({step.key for step in longer}) == len(longer)
    assert short[-1].key == longer[-1].key == "body/level:1.1"


@pytest.mark.parametrize(("area_m2", "minutes"), [(0.0, 2.0), (0.5, 7.0)])
def test_hands_on_time_grows_with_the_area(area_m2, minutes):
    """Hands-on minutes are a fixed part and a part for each square metre."""
    assert HandsOn(2.0, 10.0).minutes(area_m2) == minutes
