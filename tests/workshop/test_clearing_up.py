"""An evening ends with time to clear up: the brush is cleaned before the hours are over."""

from collections import Counter
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from finishsched.cli.plan.plan_words import plan_lines
from finishsched.model.doing import Lays
from finishsched.model.room import Preparing, preparing_for
from finishsched.model.verbs import Verb
from finishsched.planning.judging.checker import check
from finishsched.planning.judging.violations import Broken
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.plans import Asked, plan_answer

NOW = datetime(2026, 3, 2, 17, 0, tzinfo=UTC)
SHOP = """\
shop: Evenings
time_zone: UTC
people: [Ada]
usual_air: {temperature: 20 degC, humidity: 50 %}
hours: [Mon-Fri 18:00-19:00]
"""
JOB = """\
job: j
title: J
pieces:
  - {piece: lid, title: lid, schedule: wiping-varnish, faces: [{face: all, area: 0.2 m2}]}
  - {piece: tray, title: tray, schedule: quick-shellac-insides, faces: [{face: all, area: 0.3 m2}]}
  - {piece: body, title: body, schedule: padded-shellac-closed-pored,
     faces: [{face: all, area: 0.4 m2}]}
"""


def planned(folder, more=""):
    """Return the plan of a small shop with an hour an evening."""
    (folder / "jobs").mkdir(parents=True)
    (folder / "shop.yaml").write_text(SHOP + more, "utf-8")
    (folder / "jobs" / "j.yaml").write_text(JOB, "utf-8")
    with Workshop.open(folder, NOW) as workshop:
        return plan_answer(workshop, NOW, Asked(insight=False))


@pytest.fixture(scope="module")
def plan(tmp_path_factory):
    """Return the plan where the shop says nothing of clearing up."""
    return planned(tmp_path_factory.mktemp("said") / "shop")


def minutes_left(plan):
    """Return each work of hands with the minutes that are left of its hours after it."""
    works = [step for step in plan.steps if step.person and step.end > step.start]
    for one in works:
        closes = one.start.replace(hour=19, minute=0)
        yield one, (closes - one.end) / timedelta(minutes=1)


def test_clearing_up_has_its_minutes_before_the_hours_end(plan):
    """Whatever is laid is over so long before its hours end; dry work may go on to the end."""
    assert not check(plan.problem, plan.plan)
    cleared = [(step, left) for step, left in minutes_left(plan) if step.clear_up_min]
    assert len({step.step.verb for step, _ in cleared}) >= 3
    assert all(left >= step.step.verb.does.clear_up_min for step, left in minutes_left(plan))
    assert all(step.clear_up_min == step.step.verb.does.clear_up_min for step, _ in cleared)


def test_a_plan_without_that_time_is_found_wrong(plan):
    """The checker, which shares nothing with the planners, refuses a coat to the last minute."""
    coat = next(step for step in plan.steps if step.clear_up_min)
    to_the_end = next(left for step, left in minutes_left(plan) if step is coat)
    late = [
        replace(
            each, start_min=each.start_min + int(to_the_end), end_min=each.end_min + int(to_the_end)
        )
        if each.key == coat.key
        else each
        for each in plan.plan.placed
    ]
    found = check(plan.problem, replace(plan.plan, placed=tuple(late)))
    assert any(each.kind is Broken.SET_UP and each.keys == (coat.key,) for each in found)


def test_a_tool_is_cleaned_once_in_the_same_hours(plan):
    """However often it is taken up again that evening, whatever lies between."""
    cleaned = Counter(
        (step.start.date(), step.step.verb) for step in plan.steps if step.clear_up_min
    )
    used = Counter((step.start.date(), step.step.verb) for step in plan.steps if step.person)
    assert max(used[each] for each in cleaned) > 1
    assert set(cleaned.values()) == {1}


def test_the_plan_says_what_is_cleared_up(plan):
    """A line under the last coat says for how long, and what is to be done."""
    lines = list(plan_lines(plan, None, why=False))
    assert "      3 min are left to lay the cloths out flat, apart" in lines
    assert "      5 min are left to clean the brush" in lines


def test_a_shop_may_say_otherwise(tmp_path):
    """What it says of a kind of work stands, none included."""
    more = "set_up: [{for: wipe, after: 12 min}, {for: brush, after: 0 min}]\n"
    found = planned(tmp_path / "own", more)
    minutes = {step.step.verb: step.clear_up_min for step in found.steps if step.clear_up_min}
    assert minutes[Verb.WIPE] == 12
    assert Verb.BRUSH not in minutes


@pytest.mark.parametrize("verb", Verb)
def test_what_lays_something_is_cleared_up_after(verb):
    """Every verb that leaves something on the face has minutes of clearing up, and words for it."""
    does = verb.does
    if does.lays is not Lays.NOTHING:
        assert does.clear_up_min > 0
        assert does.clear_up != "clear up"
    assert preparing_for(verb, ()) == Preparing(verb, at_end_s=60.0 * does.clear_up_min)
