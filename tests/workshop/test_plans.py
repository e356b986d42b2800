"""The plan of a shop: in its hours, by its clocks, kept to as far as can be."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from finishsched.documents.formats.hours import read_away
from finishsched.planning.judging.checker import check
from finishsched.planning.plan_fault import FaultKind
from finishsched.planning.problem import HeldBy
from finishsched.planning.replan import ChangeKind
from finishsched.workshop.base.entries import Entry, RefusedError, What
from finishsched.workshop.base.place import PLAN_FILE
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.plan import reading
from finishsched.workshop.plan.away import back, log_away
from finishsched.workshop.plan.hands_and_hours import WhatIf, place_of
from finishsched.workshop.plan.plans import Asked, plan_answer
from finishsched.workshop.plan.timeline import Stretch, timeline

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
HOURS = """\
hours: [Mon-Thu 18:30-21:30, "Sat 9:00-12:30, 13:30-17:00"]
rooms:
  - {room: shed, settle: 20 min}
stores:
  - {store: rack, capacity: 2, for: pad, held: wait}
"""
KEEP = Asked(keep=True, insight=False)
PLAIN = Asked(insight=False)
EPOXY = "two-part-epoxy"


@pytest.fixture
def shop(folder):
    """Return the shop with hours of its own, open."""
    text = (folder / "shop.yaml").read_text()
    (folder / "shop.yaml").write_text(text + HOURS)
    with Workshop.open(folder, NOW) as opened:
        yield opened


def reopened(folder, more="", now=NOW):
    """Return the shop with more written in its document."""
    text = (folder / "shop.yaml").read_text()
    (folder / "shop.yaml").write_text(text + more)
    return Workshop.open(folder, now)


def lines(plan):
    """Return each step's piece, number and start by the wall clock."""
    zone = plan.zone
    return [(s.ref, s.step.number, f"{s.start.astimezone(zone):%a %H:%M}") for s in plan.steps]


def log(workshop, what, piece, at, **more):
    """Log one entry at its own time."""
    log_entry(workshop, Entry(what, piece, at=at, **more), at)


def step(plan, ref, number):
    """Return one planned step."""
    return next(s for s in plan.steps if (s.ref, s.step.number) == (ref, number))


def test_the_evening_by_hand(shop):
    """Two pieces of four steps: sand both, settle, coat both, two hours, coat, Thursday wax.

    The lid has 0.1 m2, the body 0.2 m2: sanding 5 and 6 min, coats 3 and 4 min, wax 3 min. Dust
    settles for 20 min, and the second coat comes 2 h after the first.
    """
    plan = plan_answer(shop, NOW, PLAIN)
    assert check(plan.problem, plan.plan) == ()
    wednesday = [each for each in lines(plan) if each[2].startswith("Wed")]
    assert [each[:2] for each in wednesday[:2]] in (
        [("box/lid", 1), ("box/body", 1)],
        [("box/body", 1), ("box/lid", 1)],
    )
    assert {each[1] for each in wednesday} == {1, 2, 3}
    coats = sorted(s.start for s in plan.steps if s.step.number == 2)
    assert coats[0] == datetime(2026, 11, 25, 19, 1, tzinfo=UTC)
    again = min(s.start for s in plan.steps if s.step.number == 3)
    assert again >= min(s.end for s in plan.steps if s.step.number == 2) + timedelta(hours=2)
    held = {(s.step.number, s.held_by) for s in plan.steps}
    assert {(2, HeldBy.ROOM), (3, HeldBy.LAG), (4, HeldBy.HOURS)} <= held
    wax = [s.start.date() for s in plan.steps if s.step.number == 4]
    assert wax == [date(2026, 11, 26)] * 2
    assert plan.finish == datetime(2026, 11, 26, 18, 36, tzinfo=UTC)
    assert plan.promised


def test_a_shop_that_says_nothing_is_told_what_was_assumed(workshop):
    """Without hours and rooms there is a plan, with each assumption in a sentence."""
    plan = plan_answer(workshop, NOW, PLAIN)
    assert check(plan.problem, plan.plan) == ()
    assert any("no hours are written" in note for note in plan.notes)
    assert any("no rooms are written" in note for note in plan.notes)


def test_where_steps_are_many_it_says_how_little_was_looked_for(shop, monkeypatch):
    """With more steps than a search has time for the plan says so; with few it says nothing."""
    assert not any("steps are many" in note for note in plan_answer(shop, NOW, PLAIN).notes)
    monkeypatch.setattr(reading, "MANY_STEPS", 7)
    (told,) = (n for n in plan_answer(shop, NOW, PLAIN).notes if "steps are many" in n)
    assert told.startswith("8 steps are many: no more than 120 plans were tried")
    monkeypatch.setattr(reading, "usual_rounds", lambda _: 1)
    (told,) = (n for n in plan_answer(shop, NOW, PLAIN).notes if "steps are many" in n)
    assert "no more than the plain rules were tried" in told


def test_where_rules_found_no_plan_it_says_so_and_what_may_find_one(shop, monkeypatch):
    """The steps are named as people call them, and whoever reads is not told that nothing is."""
    monkeypatch.setattr(reading, "not_found", lambda problem, _: [problem.activities[0].key])
    (told,) = (n for n in plan_answer(shop, NOW, PLAIN).notes if "no plan found by rules" in n)
    assert told.startswith("no plan found by rules for box/lid 1 sand P180: ")
    assert "plan --until-better 60" in told


def test_a_due_date_missed_is_a_promise_broken(shop):
    """Everything due tomorrow noon is late, by what the plan says."""
    plan = plan_answer(shop, NOW, replace(PLAIN, what_if=WhatIf(by=date(2026, 11, 25))))
    assert not plan.promised
    assert plan.late_min == sum(piece.late_min for piece in plan.pieces) > 0


def test_the_plan_goes_on_as_it_was(shop):
    """Logged as planned, the rest of the plan stays to the minute, in a new process too."""
    plan = plan_answer(shop, NOW, KEEP)
    first = plan.steps[0]
    log(shop, What.START, first.ref, first.start)
    log(shop, What.DONE, first.ref, first.end)
    with Workshop.open(shop.folder, first.end) as again:
        later = plan_answer(again, first.end, PLAIN)
    starts = {s.key: s.start for s in plan.steps[1:]}
    assert {s.key: s.start for s in later.steps} == starts
    assert all(change.kind is ChangeKind.GONE for change in later.changes)


def test_a_coat_logged_late_and_a_not_yet_move_what_follows(shop):
    """A coat an hour late pushes its second coat; a 'not yet' pushes it again; each is told."""
    plan = plan_answer(shop, NOW, KEEP)
    coat = step(plan, "box/lid", 2)
    sand = step(plan, "box/lid", 1)
    log(shop, What.START, "lid", sand.start)
    log(shop, What.DONE, "lid", sand.end)
    late = coat.end + timedelta(hours=1)
    log(shop, What.DONE, "lid", late)
    after = plan_answer(shop, late, KEEP)
    assert check(after.problem, after.plan) == ()
    moved = {c.key for c in after.changes if c.kind is ChangeKind.LATER}
    assert step(plan, "box/lid", 3).key in moved
    second = step(after, "box/lid", 3)
    look = max(second.start, late + timedelta(hours=2))
    log(shop, What.NOT_READY, "lid", look)
    again = plan_answer(shop, look, KEEP)
    assert step(again, "box/lid", 3).start >= look + timedelta(minutes=30)


def test_work_planned_for_now_is_under_way(shop):
    """In the middle of a planned step it counts as running, and goes on past its planned end."""
    plan = plan_answer(shop, NOW, KEEP)
    first = plan.steps[0]
    during = first.start + timedelta(minutes=2)
    now = plan_answer(shop, during, PLAIN)
    assert now.steps[0].under_way
    assert now.steps[0].start == first.start
    assert [s.start for s in now.steps[1:]] == [s.start for s in plan.steps[1:]]
    for minute in (2, 4):
        plan_answer(shop, first.start + timedelta(minutes=minute), KEEP)
    overrun = plan_answer(shop, first.end + timedelta(minutes=3), PLAIN)
    assert overrun.steps[0].under_way
    assert overrun.steps[1].start >= first.end + timedelta(minutes=3)
    forgotten = plan_answer(shop, first.end + timedelta(hours=1), PLAIN)
    assert not forgotten.steps[0].under_way


def test_a_sick_day_is_an_entry_and_can_be_taken_back(shop):
    """Logged away today, nothing is planned today; taken back, the evening is worked again."""
    plan = plan_answer(shop, NOW, PLAIN)
    log_away(shop, read_away("Ada 2026-11-25"), NOW)
    ill = plan_answer(shop, NOW, PLAIN)
    assert min(s.start for s in ill.steps).date() == date(2026, 11, 26)
    back(shop, NOW)
    assert plan_answer(shop, NOW, PLAIN).steps == plan.steps
    with pytest.raises(RefusedError, match="nobody is logged as away"):
        back(shop, NOW)
    with pytest.raises(RefusedError, match="those days are over"):
        log_away(shop, read_away("2026-11-20"), NOW)


def test_a_window_that_no_hours_meet_is_told_and_mended(folder):
    """A recoat window of an hour, three hours after the coat, costs a rub-down, and is told."""
    schedule = folder / "schedules/two-coats.yaml"
    text = schedule.read_text().replace(
        "between: {earliest: 1 h, likely: 2 h}",
        "between: {earliest: 3 h, likely: 5 h, next_by: 6 h}",
    )
    schedule.write_text(text)
    with reopened(folder, "hours: [Mon-Sun 18:30-21:30]\n") as workshop:
        plan = plan_answer(workshop, NOW, PLAIN)
    assert {fault.kind for fault in plan.faults} == {FaultKind.NO_WINDOW}
    second = step(plan, "box/lid", 3)
    assert second.mend_min == 5
    assert second.late_min > 0
    assert not second.hard
    assert check(plan.problem, plan.plan) == ()


def test_a_step_longer_than_any_session_is_told_and_the_rest_planned(folder):
    """Four hours of sanding in evenings of three: it is told, and the other piece is planned."""
    (folder / "jobs/box.yaml").write_text(
        (folder / "jobs/box.yaml").read_text().replace("area: 0.2 m2", "area: 24 m2")
    )
    with reopened(folder, HOURS) as workshop:
        plan = plan_answer(workshop, NOW, PLAIN)
    assert {fault.kind for fault in plan.faults} == {FaultKind.TOO_LONG}
    assert "box/body 1 sand" in plan.faults[0].sentence
    assert {s.ref for s in plan.steps} == {"box/lid"}
    assert not plan.promised
    assert next(p for p in plan.pieces if p.ref == "box/body").finish is None


def test_skills_and_own_hours(folder):
    """Only Ben pads, on Saturdays; only Ada sands: each step is done by who can, when they can."""
    shop = (
        (folder / "shop.yaml")
        .read_text()
        .replace(
            "people: [Ada]",
            "people:\n  - {name: Ada, skills: [sand, wax]}\n"
            "  - {name: Ben, skills: pad, hours: Sat 9:00-13:00}",
        )
    )
    (folder / "shop.yaml").write_text(shop)
    with reopened(folder, "hours: Mon-Fri 18:00-21:00\n") as workshop:
        plan = plan_answer(workshop, NOW, PLAIN)
    assert check(plan.problem, plan.plan) == ()
    for each in plan.steps:
        assert each.person == ("Ben" if each.step.verb.value == "pad" else "Ada")
        assert (each.start.weekday() == 5) == (each.person == "Ben")


def test_a_skill_that_nobody_has_is_told(folder):
    """Where nobody can pad, each piece stops before its first coat, and it says what would help."""
    shop = (folder / "shop.yaml").read_text()
    shop = shop.replace("people: [Ada]", "people: [{name: Ada, skills: [sand, wax]}]")
    (folder / "shop.yaml").write_text(shop)
    with reopened(folder, HOURS) as workshop:
        plan = plan_answer(workshop, NOW, PLAIN)
    assert {s.step.verb.value for s in plan.steps} == {"sand"}
    assert {fault.kind for fault in plan.faults} == {FaultKind.NO_HOURS}
    assert "needs somebody who can pad" in plan.faults[0].sentence
    assert plan.people == ("Ada",)


@pytest.mark.parametrize(
    "text", ["", "{", "[]", '{"plan": 3}', '{"plan": {"placed": [1]}, "shown_min": 1}', "\x00"]
)
def test_a_damaged_memory_is_no_harm(shop, folder, text):
    """Whatever stands in the file of the last plan, there is a plan, and it is kept again."""
    (folder / PLAN_FILE).write_text(text)
    plan = plan_answer(shop, NOW, KEEP)
    assert check(plan.problem, plan.plan) == ()
    assert plan_answer(shop, NOW, PLAIN).changes == ()


def test_what_decides_and_what_is_at_risk(shop):
    """With insight there are odds for what is due, slow finishes, and what decides the end."""
    plan = plan_answer(shop, NOW, Asked(what_if=WhatIf(by=date(2026, 11, 26))))
    for piece in plan.pieces:
        assert 0.0 <= piece.late_odds <= 1.0
        assert piece.finish_latest >= piece.finish
    assert plan.decides
    again = plan_answer(shop, NOW, Asked(what_if=WhatIf(by=date(2026, 11, 26))))
    assert again == plan, "the draws are the same every time"


def test_a_timeline_shows_the_plan(shop):
    """Hands have their hours and work, pieces work and waits, the rack never more than it holds."""
    plan = plan_answer(shop, NOW, KEEP)
    seen = timeline(shop, NOW, 3)
    (ada,) = seen.hands
    work = [bar for bar in ada.bars if bar.what is Stretch.WORK]
    assert len(work) == len([s for s in plan.steps if s.person])
    assert {row.name for row in seen.pieces} == {"box/lid", "box/body"}
    for row in seen.pieces:
        assert [bar.what for bar in row.bars].count(Stretch.WORK) == 4
    (rack,) = seen.stores
    assert rack.capacity == 2
    assert max(bar.amount for bar in rack.bars) <= 2


@pytest.mark.parametrize("due", ["0001-01-01", "2020-02-29", "9999-12-31"])
def test_any_date_can_be_due(folder, due):
    """The first day there is, a leap day long past and the last day are dates like others."""
    job = folder / "jobs/box.yaml"
    job.write_text(job.read_text().replace("2026-12-20", due))
    with reopened(folder, HOURS) as workshop:
        plan = plan_answer(workshop, NOW, PLAIN)
    assert plan.promised == due.startswith("9")
    late = {fault.kind for fault in plan.faults}
    assert late == (set() if due.startswith("9") else {FaultKind.PAST_DUE})


def test_hours_by_a_rule_and_a_shop_never_open(folder):
    """The first Sunday of each month is a session; a shop with no hours ahead says so."""
    rule = "hours: [{rule: FREQ=MONTHLY;BYDAY=1SU, start: 1990-01-07 10:00, length: 3 h}]\n"
    with reopened(folder, rule) as workshop:
        plan = plan_answer(workshop, NOW, PLAIN)
        assert {s.start.day for s in plan.steps if s.start.month == 12} == {6}
    with reopened(folder, "away: 2020-01-01 to 2199-12-31\n") as workshop:
        shut = plan_answer(workshop, NOW, PLAIN)
    assert shut.steps == ()
    assert {fault.kind for fault in shut.faults} == {FaultKind.NO_HOURS}
    assert "no hours ahead" in shut.faults[0].sentence


def test_a_pot_and_a_glue_that_are_outlasted_are_told(folder):
    """Work that takes longer than its mix is good for in the shop's air is told."""
    schedule = folder / "schedules/two-coats.yaml"
    schedule.write_text(
        schedule.read_text()
        .replace("pad: thin ovals", "brush: even")
        .replace("shellac-dewaxed-blonde\n        cut: 2 lb\n        thin_to: 1 lb", EPOXY)
        .replace("2 min + 10 min/m2", "60 min")
    )
    with reopened(folder, HOURS) as workshop:
        plan = plan_answer(workshop, NOW, PLAIN)
        life_min = place_of(workshop, NOW).waits.pot_life_min(workshop.papers.products[EPOXY])
    assert 30 < life_min < 60  # colder than the 22 degC that its 30 minutes hold for
    told = f"takes 60 min and its mix is good for {life_min} min"
    assert any(told in note for note in plan.notes)


def test_over_a_clock_change(folder):
    """Evenings in New York keep their wall time over 8 March 2026, when the clock goes forward."""
    now = datetime(2026, 3, 7, 20, 0, tzinfo=UTC)
    shop = (folder / "shop.yaml").read_text().replace("Europe/Lisbon", "America/New_York")
    (folder / "shop.yaml").write_text(shop)
    with reopened(folder, "hours: [Sat-Mon 18:00-20:30]\n", now) as workshop:
        plan = plan_answer(workshop, now, PLAIN)
    assert check(plan.problem, plan.plan) == ()
    walls = {s.start.astimezone(plan.zone).hour for s in plan.steps}
    assert walls <= {18, 19, 20}
    saturday, sunday = plan.problem.hands[0].windows[:2]
    assert sunday.start_min - saturday.start_min == 23 * 60
