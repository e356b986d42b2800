"""An evening ends with time to clear up: the brush is cleaned before the hours are over."""

from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest

from finishsched.cli.plan.plan_words import plan_lines
from finishsched.model.doing import Lays
from finishsched.model.room import Preparing, preparing_for
from finishsched.model.verbs import Verb
from finishsched.planning.judging.checker import check
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


def minutes_after(plan):
    """Return each work of hands with the minutes until the next of the same hours, or their end."""
    works = [step for step in plan.steps if step.person and step.end > step.start]
    for one, then in pairwise(works):
        closes = one.start.replace(hour=19, minute=0)
        yield one, (min(then.start, closes) - one.end) / timedelta(minutes=1)


def test_clearing_up_has_its_minutes_before_the_hours_end(plan):
    """Whatever is laid leaves its minutes free behind it, unless more of the kind comes next."""
    assert not check(plan.problem, plan.plan)
    cleared = [(step, free) for step, free in minutes_after(plan) if step.clear_up_min]
    assert len({step.step.verb for step, _ in cleared}) >= 3
    assert all(free >= step.clear_up_min for step, free in cleared)
    laid = [step for step, free in minutes_after(plan) if free == 0 and step.step.verb.lays]
    assert not any(step.clear_up_min for step in laid)


def test_nothing_is_cleared_up_twice_in_a_run_of_one_kind(plan):
    """Between two coats by the same tool in the same hours nothing is cleared up."""
    works = [step for step in plan.steps if step.person and step.end > step.start]
    runs = [
        one
        for one, then in pairwise(works)
        if one.start.date() == then.start.date() and one.step.verb is then.step.verb
    ]
    assert runs
    assert not any(step.clear_up_min for step in runs)


def test_the_plan_says_what_is_cleared_up(plan):
    """A line under the last coat says for how long, and what is to be done."""
    lines = list(plan_lines(plan, None, why=False))
    assert "      then 3 min: lay the cloths out flat, apart" in lines
    assert "      then 5 min: clean the brush" in lines


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
    assert preparing_for(verb, ()) == Preparing(verb, after_s=60.0 * does.clear_up_min)
