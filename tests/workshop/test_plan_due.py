"""Due dates as they are written, and what held starts back in words."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from finishsched.documents.formats.hours import read_away
from finishsched.planning.problem import HeldBy
from finishsched.workshop.base.place import PLAN_FILE
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.plan.away import back, log_away
from finishsched.workshop.plan.hands_and_hours import WhatIf
from finishsched.workshop.plan.plans import Asked, plan_answer
from finishsched.workshop.plan.sentences import piece_words

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
HOURS = """\
hours: [Mon-Thu 18:30-21:30, "Sat 9:00-12:30, 13:30-17:00"]
rooms:
  - {room: shed, settle: 20 min}
"""
KEEP = Asked(keep=True, insight=False)
PLAIN = Asked(insight=False)


@pytest.fixture
def shop(folder):
    """Return the shop with hours of its own, open."""
    with reopened(folder, HOURS) as opened:
        yield opened


def reopened(folder, more):
    """Return the shop with more written in its document."""
    text = (folder / "shop.yaml").read_text()
    (folder / "shop.yaml").write_text(text + more)
    return Workshop.open(folder, NOW)


def test_due_dates_are_the_end_of_that_days_hours(shop):
    """A piece due on Saturday has until five; one due on a Sunday without hours, to its end.

    Neither somebody away nor a holiday moves it, nor does it to the day before.
    """
    due = {"lid": date(2026, 11, 28), "body": date(2026, 11, 29)}
    wanted = {
        "box/lid": datetime(2026, 11, 28, 17, 0, tzinfo=UTC),
        "box/body": datetime(2026, 11, 30, 0, 0, tzinfo=UTC),
    }
    for away in ((), (read_away("2026-11-26 to 2026-12-31"),)):
        plan = plan_answer(shop, NOW, replace(PLAIN, what_if=WhatIf(due=due, away=away)))
        assert {piece.ref: piece.due_at for piece in plan.pieces} == wanted


@pytest.mark.parametrize(
    ("hours", "ends"),
    [
        ("[Sat 21:00-2:00]", "2026-11-28T00:00+00:00"),
        ("[Fri 21:00-2:00]", "2026-11-28T00:00+00:00"),
        ("[Mon-Sun 0:00-24:00]", "2026-11-28T00:00+00:00"),
        ("[Thu 21:00-2:00, Fri 9:00-10:00]", "2026-11-27T10:00+00:00"),
    ],
)
def test_a_session_over_midnight_belongs_to_the_evening_it_begins_on(folder, hours, ends):
    """Due on Friday the 27th is never over in Thursday's session, nor after Friday."""
    with reopened(folder, f"hours: {hours}\n") as workshop:
        what_if = WhatIf(due={"lid": date(2026, 11, 27)})
        plan = plan_answer(workshop, NOW, replace(PLAIN, what_if=what_if))
    lid = next(piece for piece in plan.pieces if piece.ref == "box/lid")
    assert lid.due_at == datetime.fromisoformat(ends)


def test_the_due_date_is_told_as_it_is_written(shop):
    """A date without hours is neither moved nor told as another, late or not."""
    sunday = WhatIf(by=date(2026, 11, 22))
    plan = plan_answer(shop, NOW, replace(PLAIN, what_if=sunday))
    assert all("due Sun 22 Nov: " in piece_words(piece, plan) for piece in plan.pieces)
    assert all(piece.late_min for piece in plan.pieces)
    assert plan.faults[0].sentence == "box/lid was due Sun 22 Nov, 3 days ago, and is not finished"
    after = plan_answer(shop, NOW, replace(PLAIN, what_if=WhatIf(by=date(2026, 11, 29))))
    assert all("due Sun 29 Nov: " in piece_words(piece, after) for piece in after.pieces)
    night = datetime(2026, 11, 25, 22, 0, tzinfo=UTC)
    today = plan_answer(shop, night, replace(PLAIN, what_if=WhatIf(by=date(2026, 11, 25))))
    assert "was due Wed 25 Nov, today, and is not finished" in today.faults[0].sentence


def test_what_is_only_kept_says_so(shop):
    """A start that nothing holds back, in a plan that goes on, is told to be kept where it was."""
    log_away(shop, read_away("Ada 2026-11-25"), NOW)
    fresh = plan_answer(shop, NOW, KEEP)
    assert (shop.folder / PLAN_FILE).is_file()
    back(shop, NOW)
    kept = plan_answer(shop, NOW, PLAIN)
    assert [s.start for s in kept.steps] == [s.start for s in fresh.steps]
    assert kept.steps[0].held_by is HeldBy.ORDER
    assert kept.steps[0].held_back_by == "kept where it was; it could begin sooner"


def test_setting_up_is_named(folder):
    """The minutes before a coat are told: after hours begin, after other work, and from now on."""
    more = HOURS + "set_up: [{for: pad, before: 25 min}, {for: sand, before: 10 min}]\n"
    with reopened(folder, more) as workshop:
        plan = plan_answer(workshop, NOW, PLAIN)
        first = plan.steps[0].held_back_by
        assert first == "hours of Ada, then getting ready for sand"
        assert any(
            s.held_back_by.startswith("Ada is busy with ")
            and s.held_back_by.endswith(", then getting ready for pad")
            for s in plan.steps
        )
        during = plan_answer(workshop, NOW + timedelta(hours=1), PLAIN)
        assert during.steps[0].held_back_by == "getting ready for sand"
