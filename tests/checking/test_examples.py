"""Every rule teaches by an example of its own: the wrong one is told of, the right one is not."""

from __future__ import annotations

import re

import pytest

from finishsched.checking.registry import GROUPS, RULES
from finishsched.checking.rule import Severity

EVERY = list(RULES.values())


@pytest.mark.parametrize("rule", EVERY, ids=lambda rule: rule.code)
def test_the_wrong_example_is_told_of(judge, rule):
    """The failing document of each rule fails it."""
    assert rule.code in judge.example(rule, rule.example.wrong)


@pytest.mark.parametrize("rule", EVERY, ids=lambda rule: rule.code)
def test_the_right_example_is_not(judge, rule):
    """The passing document differs from the failing one, and passes."""
    assert rule.example.right != rule.example.wrong
    assert rule.code not in judge.example(rule, rule.example.right)


@pytest.mark.parametrize("rule", EVERY, ids=lambda rule: rule.code)
def test_a_rule_says_all_that_is_asked_of_it(rule):
    """Code in plain words, what, why, what to do and the source, each of them said."""
    assert re.fullmatch(r"[a-z]+(-[a-z]+)+", rule.code)
    assert rule.title
    assert len(rule.why) > 40
    assert rule.remedy
    assert not rule.remedy.endswith(".")
    assert rule.source


def test_there_are_enough_of_them():
    """At least thirty, every code once, and both severities in use."""
    assert len(RULES) >= 30
    assert sum(map(len, GROUPS.values())) == len(RULES)
    assert {rule.severity for rule in RULES.values()} == set(Severity)


@pytest.mark.parametrize(
    "code",
    [
        "water-under-coat", "grade-skipped", "grade-reversed", "too-few-coats",
        "no-rest-before-levelling", "pad-too-heavy", "filler-over-seal", "pores-unfilled",
        "over-waxy-shellac", "oily-wood", "film-too-thick", "window-too-short", "alcohol-lifts",
        "oily-rags", "past-its-life", "caution-missing", "no-dry-check", "sheen-not-reached",
    ],
)  # fmt: skip
def test_what_a_master_names_first_is_among_them(code):
    """The faults that spoil most work each have a rule."""
    assert code in RULES
