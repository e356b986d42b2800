"""Keeping of the next week: where not all can stay, most of it stays where it lay."""

from __future__ import annotations

from dataclasses import replace

import pytest

from finishsched.factors import DAY_MIN as DAY
from finishsched.planning.going_on import near_kept as module
from finishsched.planning.going_on.around import Around
from finishsched.planning.going_on.steady import IN_TIME, NearStarts, kept_share, near_starts
from finishsched.planning.problem import Activity, Goal, Hands, Placed, Plan, Problem
from finishsched.planning.window import Window

EVENING = 18 * 60
PIECES = ("bowl", "box", "spoon", "tray")


def shop(**due):
    """Return a shop of four works of an hour, with evenings of two hours, due as asked."""
    works = tuple(Activity(key, 60, ("Ada",), key) for key in PIECES)
    evenings = tuple(Window(day * DAY + EVENING, day * DAY + EVENING + 120) for day in range(1, 6))
    goals = tuple(Goal(key, due.get(key)) for key in PIECES)
    return Problem(works, hands=(Hands("Ada", evenings),), goals=goals)


def plan(**days):
    """Return the plan with each piece on the evening of a day, those of one evening in turn."""
    placed: list[Placed] = []
    for number, (key, day) in enumerate(days.items()):
        sooner = sum(other == day for other in list(days.values())[:number])
        start = day * DAY + EVENING + sooner * 60
        placed.append(Placed(key, start, start + 60, "Ada"))
    return Plan(tuple(placed))


def first_kept(problem, old, least_late):
    """Return the share that the first plan keeps that is offered to go on by."""
    around = Around(problem, old)
    found = next(module.near_kept(around, least_late, IN_TIME, IN_TIME))
    return kept_share(problem, old, found)


def test_all_stays_where_it_can():
    """Nothing is due: all lies again where it was shown."""
    old = plan(bowl=1, box=2, spoon=3, tray=4)
    assert first_kept(shop(), old, plan(tray=1, spoon=1, box=2, bowl=2)) == 1


def test_what_lay_in_an_evening_that_is_over_is_no_start_of_the_next_week():
    """Of the bowl, missed on the first evening, nothing is counted; the box slips by a day."""
    now = replace(shop(), now_min=2 * DAY)
    old = plan(bowl=1, box=2, spoon=3, tray=9)
    was = {placed.key: placed.start_min for placed in old.placed}
    found = near_starts(now, was, plan(bowl=2, box=3, spoon=3, tray=9))
    # The spoon has to wait for the box: an hour is noticed.
    assert found == NearStarts(moved=2, shown=2)
    assert near_starts(now, was, plan(bowl=2, box=3, tray=9)) == NearStarts(moved=1, shown=1)
    assert near_starts(now, was, plan(bowl=2, spoon=3)) == NearStarts(moved=0, shown=1)


@pytest.mark.parametrize(
    ("old", "least_late"),
    [
        # The tray moved most: the three that moved least are held at once.
        (plan(bowl=1, box=2, spoon=3, tray=4), plan(tray=1, spoon=1, box=2, bowl=2)),
        # The box moved most, for nothing: it takes other three quarters, of whole pieces.
        (plan(bowl=1, tray=2, spoon=3, box=4), plan(tray=1, box=1, bowl=2, spoon=5)),
    ],
)
def test_one_piece_moves_and_the_other_three_stay(old, least_late, monkeypatch):
    """Only the tray is due on the first evening, and goes there; nothing has to lean before."""
    monkeypatch.setattr(module, "Leaning", None)
    problem = shop(tray=DAY + EVENING + 120)
    assert first_kept(problem, old, least_late) == 3 / 4
