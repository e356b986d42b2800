"""What became of each piece from one plan to the next, the gravest first."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from finishsched.cli.plan.change_words import change_lines, changed_data
from finishsched.documents.formats.hours import read_away
from finishsched.planning.replan import Change, ChangeKind, changes
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.away import log_away
from finishsched.workshop.plan.change_sentences import changed_since
from finishsched.workshop.plan.changes import Grave, piece_changes
from finishsched.workshop.plan.plans import Asked, plan_answer

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
HOURS = "hours: [Mon-Thu 18:30-21:30]\nrooms: [{room: shed, settle: 20 min}]\n"
KEEP = Asked(keep=True, insight=False)


def opened(folder, due="2026-12-20"):
    """Return the shop with hours, due on another day."""
    (folder / "shop.yaml").write_text((folder / "shop.yaml").read_text() + HOURS)
    job = folder / "jobs/box.yaml"
    job.write_text(job.read_text().replace("2026-12-20", due))
    return Workshop.open(folder, NOW)


def test_a_first_plan_changed_nothing(folder):
    """With nothing shown before there is nothing to tell."""
    with opened(folder) as shop:
        assert piece_changes(plan_answer(shop, NOW, KEEP)) == ()


def test_a_broken_promise_stands_before_what_moved(folder):
    """A day away makes both pieces late: that comes first, then one line for each piece."""
    with opened(folder, "2026-11-26") as shop:
        before = plan_answer(shop, NOW, KEEP)
        assert before.promised
        log_away(shop, read_away("Ada 2026-11-25 to 2026-11-26"), NOW)
        after = plan_answer(shop, NOW, KEEP)
    found = piece_changes(after)
    assert [each.what for each in found] == [Grave.NOW_LATE] * 2 + [Grave.MOVED] * 2
    for piece in before.pieces:
        late, moved = (each for each in found if each.ref == piece.ref)
        assert late.due == date(2026, 11, 26)
        assert late.finish_was == moved.finish_was == piece.finish
        assert moved.steps == (1, 2, 3, 4)
        assert moved.later_min > 1440


def test_a_promise_that_holds_again_is_told(folder):
    """What was planned past its due date and is not any more is in time again."""
    with opened(folder, "2026-11-26") as shop:
        plan = plan_answer(shop, NOW, KEEP)
    last = max((s for s in plan.steps if s.ref == "box/lid"), key=lambda s: s.start)
    is_min = int(last.start.timestamp()) // 60
    sooner = Change(ChangeKind.SOONER, last.key, 2880, is_min + 2880, is_min, "Ada")
    met, moved = piece_changes(replace(plan, changes=(sooner,)))
    assert (met.what, met.ref) == (Grave.IN_TIME, "box/lid")
    assert met.finish_was - met.finish_is == timedelta(days=2)
    assert (moved.what, moved.sooner_min) == (Grave.MOVED, 2880)


def test_the_gravest_first(folder):
    """A missed window, what is left out, what is new, and then the widest move."""
    with opened(folder) as shop:
        plan = plan_answer(shop, NOW, KEEP)
    keys = [step.key for step in plan.steps]
    at = plan.plan.placed[0].start_min
    changes = (
        Change(ChangeKind.LATER, keys[0], 300, at - 300, at),
        Change(ChangeKind.NEW, keys[1], 0, None, at),
        Change(ChangeKind.MISSED, keys[2], 60),
        Change(ChangeKind.LEFT_OUT, keys[3], 0, at),
        Change(ChangeKind.LATER, keys[5], 900, at - 900, at),
    )
    found = [each.what for each in piece_changes(replace(plan, changes=changes))]
    assert found[:3] == [Grave.MISSED, Grave.LEFT_OUT, Grave.NEW]
    assert found[3:] == [Grave.MOVED] * 2
    moves = [each.later_min for each in piece_changes(replace(plan, changes=changes))[3:]]
    assert moves == [900, 300]


def test_a_date_now_missed_stands_before_a_missed_window(folder):
    """Somebody waits for the piece; a window is mended by those who work."""
    with opened(folder, "2026-11-26") as shop:
        plan_answer(shop, NOW, KEEP)
        log_away(shop, read_away("Ada 2026-11-25 to 2026-11-26"), NOW)
        after = plan_answer(shop, NOW, KEEP)
    missed = Change(ChangeKind.MISSED, after.steps[1].key, 60)
    found = piece_changes(replace(after, changes=(missed, *after.changes)))
    assert [each.what for each in found[:3]] == [Grave.NOW_LATE] * 2 + [Grave.MISSED]


def test_minutes_within_an_evening_are_no_move_and_another_evening_is(folder):
    """Three quarters of an hour later the same evening nobody notices; across a break they do."""
    with opened(folder) as shop:
        plan = plan_answer(shop, NOW, KEEP)
    first = plan.plan.placed[0]
    begins = min(w.start_min for hands in plan.problem.hands for w in hands.windows)
    little = Change(ChangeKind.LATER, first.key, 45, begins, begins + 45)
    across = Change(ChangeKind.LATER, first.key, 45, begins - 40, begins + 5)
    assert piece_changes(replace(plan, changes=(little,))) == ()
    (found,) = piece_changes(replace(plan, changes=(across,)))
    assert found.later_min == 45


def passed_on(plan, by_min):
    """Return a plan whose first work is somebody else's now, and later by so many minutes."""
    first = next(each for each in plan.plan.placed if each.by is not None)
    other = "Ben" if first.by == "Ada" else "Ada"
    start, end = first.start_min - by_min, first.end_min - by_min
    was = replace(first, by=other, start_min=start, end_min=end)
    before = replace(plan.plan, placed=tuple(was if p is first else p for p in plan.plan.placed))
    return replace(plan, changes=changes(before, plan.plan, plan.problem)), first.by


@pytest.fixture
def of_two(folder):
    """Return the plan of a shop of two people."""
    shop = folder / "shop.yaml"
    shop.write_text(shop.read_text().replace("[Ada]", "[Ada, Ben]"))
    with opened(folder) as workshop:
        return plan_answer(workshop, NOW, KEEP)


@pytest.mark.parametrize("by_min", [0, -15, -45])
def test_what_others_do_now_is_told_however_little_it_moved(of_two, by_min):
    """Minutes nobody notices, but who has got the work does: it is counted, and named."""
    plan, now_for = passed_on(of_two, by_min)
    (found,) = piece_changes(plan)
    assert (found.what, found.hands) == (Grave.MOVED, (now_for,))
    assert found.later_min == found.sooner_min == 0
    head, line = change_lines(plan)
    assert head == "changed since the last plan: 1 other hands"
    assert line.endswith(f": now for {now_for}")
    assert changed_since(plan).line.endswith(f": now for {now_for}")
    (data,) = changed_data(plan)
    assert data["other_hands"] == [now_for]


def test_what_moved_far_and_to_others_is_told_as_both(of_two):
    """Three hours later and somebody else's: the one hides nothing of the other."""
    plan, now_for = passed_on(of_two, 180)
    (found,) = piece_changes(plan)
    assert (found.later_min, found.hands) == (180, (now_for,))
    head, line = change_lines(plan)
    assert head == "changed since the last plan: 1 later, 1 other hands"
    assert f"3 h 00 later, now for {now_for}" in line
    assert changed_since(plan).line.endswith(f", for {now_for}")
