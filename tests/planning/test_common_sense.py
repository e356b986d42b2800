"""No plan is later than what a plain rule makes of the same shop, at any size."""

import sys
from dataclasses import replace
from pathlib import Path

import pytest

from finishsched.planning.judging.checker import check
from finishsched.planning.problem import Done
from finishsched.planning.quick import first_plan, quick_plan
from finishsched.planning.score import score

sys.path.insert(0, str(Path(__file__).parents[1] / "speed"))
from document_shops import document_problem
from plain_rules import PLAIN_RULES, plain_plan


@pytest.fixture(scope="module", params=[(8, 1), (20, 1), (30, 0)], ids=str)
def shop(request):
    """Return a shop that was written as documents."""
    return document_problem(*request.param)


def half_done(problem):
    """Return the shop after a plain rule's first fifty steps, the next evening missed."""
    begun = plain_plan(problem, "due date").placed[:50]
    now_min = begun[-1].start_min + 1440
    done = tuple(Done(each.key, each.start_min, each.end_min, each.by) for each in begun)
    return replace(problem, done=done, now_min=max(now_min, *(each.end_min for each in done)))


def plain_late_min(problem):
    """Return the lateness of the best plain rule, whose plans the checker finds nothing in."""
    plans = [plain_plan(problem, rule) for rule in PLAIN_RULES]
    assert not any(check(problem, plan) for plan in plans)
    return min(score(problem, plan).late_min for plan in plans)


@pytest.mark.parametrize("state", [lambda problem: problem, half_done], ids=["new", "half done"])
def test_never_later_than_the_best_plain_rule(shop, state):
    """Due date, slack, longest remaining, whatever can be done now: none is less late in sum."""
    problem = state(shop)
    plain = plain_late_min(problem)
    for plan in (first_plan(problem), quick_plan(problem, rounds=12)):
        assert not check(problem, plan)
        assert score(problem, plan).late_min <= plain
