"""What to do now: it fits the hours that are left of the hands that are here."""

from datetime import UTC, datetime, timedelta

import pytest

from finishsched.cli.work.now_words import now_data, now_lines
from finishsched.cli.work.piece_words import when_words
from finishsched.planning.replan import replan
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.place import PLAN_NOW_FILE
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.begin.joining import tell_done
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.plan.for_later import due_with_later
from finishsched.workshop.plan.memory import recall
from finishsched.workshop.plan.plans import Asked, plan_answer
from finishsched.workshop.plan.what_now import HeldBy, what_now
from finishsched.workshop.views.views import due_answer

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
HOURS = """\
hours: [Mon-Thu 18:30-21:30, "Sat 9:00-12:30, 13:30-17:00"]
rooms:
  - {room: shed, settle: 20 min}
"""


def reopened(folder, more):
    """Return the shop with more written in its document."""
    text = (folder / "shop.yaml").read_text()
    (folder / "shop.yaml").write_text(text + more)
    return Workshop.open(folder, NOW)


@pytest.fixture
def shop(folder):
    """Return the shop with hours of its own, open."""
    with reopened(folder, HOURS) as opened:
        yield opened


def log(workshop, what, piece, at):
    """Log one entry at its own time."""
    log_entry(workshop, Entry(what, piece, at=at), at)


def test_what_now_follows_the_plan(shop):
    """What the plan has first is best, be it shown already or not; asking for it keeps no plan."""
    at = NOW + timedelta(minutes=30)
    assert what_now(shop, NOW).hands == ()
    assert what_now(shop, NOW).next_hours == at
    unshown = what_now(shop, at).best
    first = plan_answer(shop, at, Asked(insight=False)).steps[0]
    assert (unshown.ref, unshown.step, unshown.planned_at) == (first.ref, first.step, at)
    assert recall(shop.folder) is None
    plan = plan_answer(shop, NOW, Asked(keep=True, insight=False))
    found = what_now(shop, at)
    assert (found.best.ref, found.best.step) == (plan.steps[0].ref, plan.steps[0].step)
    assert found.hands == ("Ada",)
    assert found.best.planned_at == at
    assert found.until == NOW + timedelta(hours=3, minutes=30)


def test_what_was_planned_stands_until_something_is_logged(shop):
    """Asked seconds after an entry, nothing is planned twice; another entry has it made anew."""
    file = shop.folder / PLAN_NOW_FILE

    def asked_at(seconds):
        what_now(shop, NOW + timedelta(seconds=seconds))
        return file.stat().st_mtime_ns

    log(shop, What.START, "box/lid", NOW)
    first = asked_at(1)
    assert asked_at(5) == asked_at(40) == first
    log(shop, What.DONE, "box/lid", NOW + timedelta(seconds=41))
    assert asked_at(42) > first


def test_what_now_is_over_before_the_hours_are(shop):
    """Four minutes before the end sanding for five or six is not suggested, but told as too long.

    Six minutes before it the lid's five fit, though the body's six may be first in the plan.
    """
    end = NOW + timedelta(hours=3, minutes=30)
    late = what_now(shop, end - timedelta(minutes=4))
    assert (late.best, late.if_few) == (None, None)
    assert late.until == late.too_long.hours_end == end
    assert late.too_long.minutes > 4
    five = what_now(shop, end - timedelta(minutes=5))
    assert (five.best.ref, five.best.minutes, five.too_long) == ("box/lid", 5, None)
    assert what_now(shop, NOW).best is not None, "with nobody here no hours end"


def test_what_is_too_long_is_said(shop):
    """The line says by when it would have to be over, and what longer hours would bring."""
    at = NOW + timedelta(hours=3, minutes=26)
    said = tuple(now_lines(what_now(shop, at), at, shop.zone))
    assert said == (
        "in the next 15 min: nothing can be begun that is over by 21:30",
        "  in longer hours: Ada, box/body: 1 sand P180, 6 min (planned for Thu 18:30)",
    )
    data = now_data(what_now(shop, at))
    assert (data["best"], data["too_long"]["minutes"]) == (None, 6)


def test_what_now_goes_by_the_hours_of_who_would_do_it(folder):
    """Ben goes at 19:00 and Ada stays: at five to, Ada is asked for what Ben has no time for."""
    text = (folder / "shop.yaml").read_text()
    people = "people: [{name: Ben, hours: Wed 18:00-19:00}, {name: Ada, hours: Wed 18:30-21:30}]"
    (folder / "shop.yaml").write_text(text.replace("people: [Ada]", people))
    with reopened(folder, "rooms: [{room: shed}]\n") as workshop:
        found = what_now(workshop, NOW + timedelta(minutes=58))
    assert found.hands == ("Ben", "Ada")
    assert (found.best.person, found.best.minutes) == ("Ada", 6)


def test_what_now_counts_getting_ready_and_clearing_up(folder):
    """Sanding the body takes 6 min, with 10 and 5 about it: a quarter of an hour is too short.

    Who has just sanded is ready, and has only to clear up.
    """
    end = NOW + timedelta(hours=3, minutes=30)
    more = "set_up: [{for: sand, before: 10 min, after: 5 min}]\n"
    with reopened(folder, HOURS + more) as workshop:
        best = what_now(workshop, end - timedelta(minutes=21)).best
        assert best.whole_min == 6 + 15
        assert what_now(workshop, end - timedelta(minutes=15)).best is None
        log(workshop, What.START, "lid", end - timedelta(minutes=30))
        log(workshop, What.DONE, "lid", end - timedelta(minutes=20))
        best = what_now(workshop, end - timedelta(minutes=15)).best
        assert (best.ref, best.minutes, best.whole_min) == ("box/body", 6, 6 + 5)


def test_no_dust_is_suggested_on_a_wet_coat(shop):
    """While the lid is wet, sanding the body is not suggested, and is once the lid has dried."""
    at = NOW + timedelta(minutes=30)
    log(shop, What.START, "lid", at)
    log(shop, What.DONE, "lid", at)
    log(shop, What.DONE, "lid", at + timedelta(minutes=5))
    soon = what_now(shop, at + timedelta(minutes=6))
    assert soon.best is None
    (held,) = [each for each in soon.held if each.ref == "box/body"]
    assert (held.by, held.why) == (HeldBy.DUST, "dust would fall on the wet coat of box/lid")
    assert at + timedelta(minutes=6) < held.until <= at + timedelta(hours=2)
    said = tuple(now_lines(soon, at, shop.zone))
    assert any("not now, box/body: sand P180" in line and " until " in line for line in said)
    assert what_now(shop, at + timedelta(hours=2)).best is not None


def test_dust_holds_while_nobody_is_here_too(shop):
    """A coat that is wet past the end of the hours keeps its neighbour for later all the same."""
    at = NOW + timedelta(hours=3, minutes=20)
    log(shop, What.START, "lid", at)
    log(shop, What.DONE, "lid", at)
    log(shop, What.DONE, "lid", at + timedelta(minutes=5))
    now = NOW + timedelta(hours=3, minutes=31)
    found = what_now(shop, now)
    assert found.hands == ()
    due = due_with_later(due_answer(shop, now), found)
    later = {piece.ref: piece.later.why for piece in due.coming if piece.later is not None}
    assert later["box/body"] == "dust would fall on the wet coat of box/lid"


@pytest.mark.parametrize("is_begun", [True, False])
def test_what_is_held_is_not_told_as_to_do(shop, is_begun):
    """Begun or not, what dust holds stands among what is coming, as later, with its reason."""
    at = NOW + timedelta(minutes=30)
    if is_begun:
        log(shop, What.START, "body", at)
    log(shop, What.START, "lid", at)
    log(shop, What.DONE, "lid", at)
    log(shop, What.DONE, "lid", at + timedelta(minutes=5))
    now = at + timedelta(minutes=6)
    found = what_now(shop, now)
    plain = due_answer(shop, now)
    assert "box/body" in [piece.ref for piece in plain.at_hand]
    due = due_with_later(plain, found)
    assert "box/body" not in [piece.ref for piece in due.at_hand]
    (body,) = [piece for piece in due.coming if piece.ref == "box/body"]
    assert body.word == "later"
    assert body.later.why == "dust would fall on the wet coat of box/lid"
    assert when_words(body, now, shop.zone).startswith("not before ")
    told = list(now_lines(found, now, shop.zone, {"box/body"}))
    assert told == ["in the next 15 min: nothing can be begun"]


def test_dust_in_the_air_is_not_forgotten_when_something_else_is_logged(folder):
    """What was sanded and wiped off is coated once its dust has settled, as the plan has it too.

    Sanding that was told afterwards was done at another time: nothing is in the air from it.
    """
    wiped = "      - {tack off: with a dry cloth, hands_on: 1 min}\n  - stage: body\n"
    file = folder / "schedules" / "two-coats.yaml"
    file.write_text(file.read_text().replace("  - stage: body\n", wiped))
    at = NOW + timedelta(minutes=30)
    with reopened(folder, HOURS) as shop:
        log(shop, What.START, "lid", at)
        log(shop, What.DONE, "lid", at)
        log(shop, What.DONE, "lid", at + timedelta(minutes=2))
        now = at + timedelta(minutes=3)
        (held,) = [each for each in what_now(shop, now).held if each.ref == "box/lid"]
        assert (held.by, held.why) == (HeldBy.DUST, "dust is settling from box/lid")
        assert held.until == at + timedelta(minutes=20)
        plan = plan_answer(shop, now, Asked(keep=False, insight=False))
        first = next(step for step in plan.steps if step.ref == "box/lid")
        assert first.start >= held.until
    with reopened(folder, "") as shop:
        tell_done(shop, "body", "sanded to P180", at)
        held = [each for each in what_now(shop, at).held if each.ref == "box/body"]
        assert [each.why for each in held] == ["dust is settling from box/lid"]


def test_what_dust_holds_for_some_minutes_is_offered_from_then_on(shop):
    """Ten minutes before the dust has settled a coat is named with its time, not as for now."""
    at = NOW + timedelta(minutes=30)
    for piece in ("lid", "body"):
        log(shop, What.START, piece, at)
        log(shop, What.DONE, piece, at)
    clear = at + timedelta(minutes=20)
    found = what_now(shop, clear - timedelta(minutes=10))
    assert found.best is not None
    assert found.best.start == clear
    assert not found.held
    due = due_with_later(due_answer(shop, clear - timedelta(minutes=10)), found)
    assert {piece.word for piece in due.coming} == {"later"}
    assert {piece.later.until for piece in due.coming} == {clear}
    assert not due.at_hand


def test_a_stale_plan_sends_nobody_to_sand_beside_a_wet_coat(shop):
    """A plan that was shown before the lid was coated does not count: it is made anew."""
    at = NOW + timedelta(minutes=30)
    shown = plan_answer(shop, NOW, Asked(keep=True, insight=False))
    assert {step.ref for step in shown.steps[:2]} == {"box/lid", "box/body"}
    log(shop, What.START, "lid", at)
    log(shop, What.DONE, "lid", at)
    log(shop, What.DONE, "lid", at + timedelta(minutes=5))
    now = at + timedelta(minutes=6)
    found = what_now(shop, now)
    assert found.best is None
    assert {each.by for each in found.held} == {HeldBy.WAIT, HeldBy.DUST}


def test_what_now_is_what_the_plan_says_whenever_it_is_asked(shop):
    """Evening after evening, whatever was logged, both name the same first thing."""
    plan_answer(shop, NOW, Asked(keep=True, insight=False))
    now = NOW + timedelta(minutes=30)
    for _ in range(6):
        found = what_now(shop, now)
        plan = plan_answer(shop, now, Asked(insight=False))
        first = min(plan.steps, key=lambda step: step.start)
        if first.start > now + timedelta(minutes=2):
            now = first.start
            continue
        assert (found.best.ref, found.best.step) == (first.ref, first.step)
        if found.best.check_first:
            log(shop, What.READY, found.best.ref, now)
        elif found.best.step.number == 1:
            log(shop, What.START, found.best.ref, now)
        now += timedelta(minutes=found.best.minutes)
        log(shop, What.DONE, found.best.ref, now)


def test_what_was_planned_anew_is_planned_once(shop, monkeypatch):
    """Asked again it is at hand, until something is logged, or planned work is not begun."""
    made = []

    def counted(*asked, **how):
        made.append(asked)
        return replan(*asked, **how)

    monkeypatch.setattr("finishsched.planning.replan.replan", counted)
    at = NOW + timedelta(minutes=30)
    first = what_now(shop, at)
    assert what_now(shop, at + timedelta(minutes=1)).best.planned_at == first.best.planned_at
    assert len(made) == 1
    log(shop, What.START, first.best.ref, at + timedelta(minutes=2))
    what_now(shop, at + timedelta(minutes=2))
    assert len(made) == 2
    what_now(shop, at + timedelta(minutes=40))
    assert len(made) == 3


def test_what_now_says_clearing_up_only_where_the_plan_has_it(folder):
    """Between two coats of a sitting the pad stays out; after the last it is shut in its jar.

    Whether a coat fits before the hours end, its clearing up is counted for either.
    """
    schedule, job = folder / "schedules" / "two-coats.yaml", folder / "jobs" / "box.yaml"
    apart = "between: {earliest: 1 h, likely: 2 h}"
    text = schedule.read_text().replace(apart, "between: {earliest: 5 min, likely: 6 min}")
    schedule.write_text(text)
    job.write_text(job.read_text().partition("  - piece: body")[0])
    at = NOW + timedelta(minutes=30)
    with reopened(folder, HOURS) as workshop:
        log(workshop, What.START, "lid", at)
        log(workshop, What.DONE, "lid", at + timedelta(minutes=5))
        told = []
        for minute in (30, 40):
            now = at + timedelta(minutes=minute)
            found = what_now(workshop, now)
            told += list(now_lines(found, now, UTC))[:1]
            assert found.best.whole_min == found.best.minutes + 2
            if found.best.check_first:
                log(workshop, What.READY, "lid", now)
            log(workshop, What.DONE, "lid", now + timedelta(minutes=3))
    first, second = told
    assert first == "begin within 15 min: Ada, box/lid: 2 pad coat 1 of 2, 3 min"
    assert second.endswith("3 pad coat 2 of 2, 3 min; then 2 min to shut the pad in its jar")
