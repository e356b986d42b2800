"""Leaning towards the old plan: what moved without need moves back, and nothing is later for it."""

from __future__ import annotations

import pytest

from finishsched.factors import DAY_MIN as DAY
from finishsched.planning.going_on.around import Around
from finishsched.planning.going_on.leaning import Leaning, halves
from finishsched.planning.going_on.steady import IN_TIME, kept_share
from finishsched.planning.problem import Activity, Goal, Hands, Placed, Plan, Problem
from finishsched.planning.window import Window

EVENING = 18 * 60


def shop(**due):
    """Return a shop of two works, each as long as an evening, due as asked."""
    works = tuple(Activity(key, 60, ("Ada",), key) for key in ("box", "tray"))
    evenings = tuple(Window(day * DAY + EVENING, day * DAY + EVENING + 60) for day in range(1, 6))
    goals = tuple(Goal(key, due.get(key)) for key in ("box", "tray"))
    return Problem(works, hands=(Hands("Ada", evenings),), goals=goals)


def plan(first, second):
    """Return the plan with one work on the first evening, the other on the second."""
    starts = {first: DAY + EVENING, second: 2 * DAY + EVENING}
    return Plan(tuple(Placed(key, at, at + 60, "Ada") for key, at in starts.items()))


def leant(problem, old, least_late, tries=8):
    """Return the plan that leans as far as it can towards the old one, None where it cannot."""
    around = Around(problem, old)
    blocks = around.least_moved(least_late, 0, 7 * DAY)
    leaning = Leaning(around, least_late, IN_TIME, blocks)
    leaning.lean(blocks, tries)
    return None if leaning.best is None else around.plan(leaning.best)


def test_what_changed_places_for_nothing_goes_back():
    """Two works that nothing presses lie again where they were shown."""
    problem, old = shop(), plan("box", "tray")
    swapped = plan("tray", "box")
    assert kept_share(problem, old, swapped) == 0
    assert kept_share(problem, old, leant(problem, old, swapped)) == 1


def test_what_changed_places_to_be_in_time_does_not():
    """The tray is due on the first evening, so that it stays there, and the box where it went."""
    problem, old = shop(tray=DAY + EVENING + 60), plan("box", "tray")
    found = leant(problem, old, plan("tray", "box"))
    assert found is None or [each.key for each in found.placed] == ["tray", "box"]


def test_no_more_is_tried_than_there_is_time_for():
    """Without a single try nothing leans."""
    assert leant(shop(), plan("box", "tray"), plan("tray", "box"), tries=0) is None


@pytest.mark.parametrize(
    ("group", "parts"),
    [([1], []), ([1, 2], [[2], [1]]), ([1, 2, 3], [[2, 3], [1]])],
)
def test_a_group_is_halved_until_one_is_left(group, parts):
    """What comes first is tried first, so it stands last; one alone is not halved."""
    assert halves(group) == parts
