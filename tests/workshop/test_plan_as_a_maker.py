"""The plan goes about it as a maker would: dry work first, wet last, like pieces in step."""

from dataclasses import replace
from datetime import UTC, date, datetime
from itertools import groupby, product

import pytest

from finishsched.cli.plan.change_words import change_lines
from finishsched.documents.formats.hours import read_extra
from finishsched.planning.judging.checker import check
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entries
from finishsched.workshop.plan.as_it_stands import plan_as_it_stands
from finishsched.workshop.plan.change_sentences import changed_since
from finishsched.workshop.plan.hands_and_hours import WhatIf
from finishsched.workshop.plan.plans import Asked, plan_answer, shop_sound
from finishsched.workshop.plan.what_now import HeldBy, what_now

NOW = datetime(2026, 3, 2, 17, 0, tzinfo=UTC)
SHOP = """\
shop: Five panels
time_zone: Europe/Lisbon
people: [Ada]
usual_air: {temperature: 20 degC, humidity: 50 %}
hours: [Mon-Thu 18:30-21:30, "Sat 9:00-12:30, 13:30-17:00"]
rooms:
  - {room: shed, settle: 15 min}
"""
JOB = """\
job: j
title: J
due: 2026-06-01
pieces:
  - piece: panel
    title: Panel
    count: 5
    schedule: padded-shellac-closed-pored
    faces: [{face: all, area: 0.06 m2}]
"""


@pytest.fixture(scope="module")
def five(tmp_path_factory):
    """Return the plan of five panels alike."""
    folder = tmp_path_factory.mktemp("five")
    (folder / "jobs").mkdir()
    (folder / "shop.yaml").write_text(SHOP, "utf-8")
    (folder / "jobs" / "j.yaml").write_text(JOB, "utf-8")
    with Workshop.open(folder, NOW) as workshop:
        return plan_answer(workshop, NOW, Asked(insight=False))


@pytest.fixture(scope="module")
def evenings(five):
    """Return the work of each of its days, in order."""
    work = [step for step in five.steps if step.person]
    return [list(those) for _, those in groupby(work, lambda step: step.start.date())]


def test_no_coat_is_laid_while_there_is_dusty_work_for_the_evening(evenings):
    """On the first evening all five are sanded before the first is padded."""
    kinds = [step.step.verb.abrades for step in evenings[0]]
    assert kinds.index(True) == 0
    coats = [at for at, step in enumerate(evenings[0]) if step.step.verb.lays_coats]
    assert coats
    assert not any(kinds[coats[0] :])


def test_pieces_alike_go_in_step(evenings):
    """Each step is done on all five panels before the next one is begun on any."""
    for work in evenings[:2]:
        runs = [
            sum(len(step.refs) for step in those)
            for _, those in groupby(work, lambda step: step.step.number)
        ]
        assert set(runs[:-1]) == {5}


def test_what_dries_through_the_night_is_the_last_of_the_evening(evenings):
    """The first evening ends with coats, and so does the third, on which a whole sitting is had."""
    assert all(work[-1].step.verb.lays_coats for work in (evenings[0], evenings[2]))


def test_an_evening_is_filled_with_what_is_ready_before_it_ends(five):
    """No step of a later day could be done, as things lie, in what the first evenings leave."""
    problem, placed = five.problem, five.plan.placed
    for window in problem.hands[0].windows[:2]:
        here = [p for p in placed if p.by and window.start_min <= p.start_min < window.end_min]
        free_from = [max(window.start_min, problem.now_min), *(p.end_min for p in here)]
        later = [p for p in placed if p.by and p.start_min >= window.end_min]
        for step, at in product(later, free_from):
            ends = at + step.end_min - step.start_min
            if ends > window.end_min or any(p.start_min < ends and at < p.end_min for p in here):
                continue
            sooner = replace(step, start_min=at, end_min=ends)
            others = [p for p in placed if p.key != step.key]
            moved = sorted([*others, sooner], key=lambda p: (p.start_min, p.key))
            assert check(problem, replace(five.plan, placed=tuple(moved)))


def test_one_long_evening_changes_no_sitting(tmp_path):
    """Twelve coats that fit into no usual hours are split though one evening is long for once.

    Else all of them would wait for that one evening, and one hour more would make things later.
    """
    (tmp_path / "jobs").mkdir()
    (tmp_path / "shop.yaml").write_text(SHOP, "utf-8")
    text = JOB.replace("padded-shellac-closed-pored", "padded-shellac-pattern")
    (tmp_path / "jobs" / "j.yaml").write_text(text, "utf-8")
    long_once = WhatIf(extras=(read_extra("2026-03-05 21:30-23:59"),))
    with Workshop.open(tmp_path, NOW) as workshop:
        as_it_is, _ = shop_sound(workshop, NOW)
        longer, _ = shop_sound(workshop, NOW, long_once)
    assert any("the sitting is split" in note for note in as_it_is.notes)
    assert longer.problem.hands != as_it_is.problem.hands
    assert longer.problem.lags == as_it_is.problem.lags


def test_no_sitting_is_split_over_a_break(evenings):
    """Ten coats minutes apart do not fit what is left of the second evening: they wait for one."""
    coats = [
        (at, step.ref, step.step.number)
        for at, work in enumerate(evenings)
        for step in work
        if step.step.verb.lays_coats
    ]
    first_round = {at for at, _, number in coats if 12 <= number <= 21}
    assert len(first_round) == 1
    assert not any(step.broken_off for work in evenings for step in work)


def test_a_sitting_that_no_hours_are_long_enough_for_is_split_and_says_so(tmp_path):
    """In hours of one each, ten coats take several evenings, and a note tells why."""
    (tmp_path / "jobs").mkdir()
    short = SHOP.replace(
        '[Mon-Thu 18:30-21:30, "Sat 9:00-12:30, 13:30-17:00"]', "[Mon-Sun 18:00-19:00]"
    )
    (tmp_path / "shop.yaml").write_text(short, "utf-8")
    (tmp_path / "jobs" / "j.yaml").write_text(JOB.replace("count: 5", "count: 1"), "utf-8")
    with Workshop.open(tmp_path, NOW) as workshop:
        plan = plan_answer(workshop, NOW, Asked(insight=False))

    assert any("the sitting is split" in note for note in plan.notes), plan.notes


def _panels(folder, hours):
    """Write five panels in a row for these hours, and open their shop."""
    (folder / "jobs").mkdir()
    shop = SHOP.replace('[Mon-Thu 18:30-21:30, "Sat 9:00-12:30, 13:30-17:00"]', hours)
    (folder / "shop.yaml").write_text(shop, "utf-8")
    (folder / "jobs" / "j.yaml").write_text(JOB, "utf-8")
    return Workshop.open(folder, NOW)


def test_no_sitting_is_split_to_end_a_day_sooner(tmp_path):
    """Nine of ten coats fit the second evening and would end all a day sooner: none is laid."""
    with _panels(tmp_path, "[Mon-Fri 18:30-21:30, Sat 9:00-17:00]") as workshop:
        plan = plan_answer(workshop, NOW, Asked(insight=False))

    coats = [step for step in plan.steps if step.person and step.step.verb.lays_coats]
    rounds = [range(12, 22), range(23, 31), range(32, 40)]
    for numbers in rounds:
        days = {step.start.date() for step in coats if step.step.number in numbers}
        assert len(days) == 1
    assert not any(step.broken_off for step in plan.steps)


def test_what_to_do_now_waits_for_the_sitting_as_the_plan_does(tmp_path):
    """With too little left of the evening no first coat is offered, and it says until when."""
    late = datetime(2026, 3, 2, 19, 0, tzinfo=UTC)
    with _panels(tmp_path, "[Mon-Fri 18:30-21:30]") as workshop:
        for what in (What.START, *[What.SKIPPED] * 11):
            text = "done elsewhere" if what is What.SKIPPED else ""
            log_entries(workshop, Entry(what, "j/panel", text=text), late)
        plan = plan_answer(workshop, late, Asked(keep=True, insight=False))
        found = what_now(workshop, late)

    first = next(step for step in plan.steps if step.person)
    assert first.start.date() == date(2026, 3, 3)
    assert found.best is None
    held = [(one.by, one.step.number, one.until) for one in found.held]
    assert held == [(HeldBy.SITTING, first.step.number, first.start)]


def test_a_sitting_that_is_begun_may_be_broken_off(tmp_path):
    """One coat of ten laid an hour before the end: the other nine follow by the next evening."""
    late = datetime(2026, 3, 2, 20, 30, tzinfo=UTC)
    with _panels(tmp_path, "[Mon-Fri 18:30-21:30]") as workshop:
        for what in (What.START, *[What.SKIPPED] * 11, What.DONE):
            text = "done elsewhere" if what is What.SKIPPED else ""
            log_entries(workshop, Entry(what, "j/panel", text=text), late)
        plan = plan_answer(workshop, late, Asked(insight=False))

    coats = [step for step in plan.steps if step.person and step.step.number in range(13, 22)]
    assert len(coats) == 9
    assert coats[-1].start.date() == date(2026, 3, 3)
    assert not plan.faults


@pytest.mark.parametrize("asked_at", ["2026-03-02T21:20+00:00", "2026-03-03T18:30+00:00"])
def test_what_is_left_of_a_sitting_is_begun_again_after_a_coat_that_is_logged(tmp_path, asked_at):
    """A coat logged at the end of the evening counts as one that was planned there would.

    The plan said so of coats that were still to lay, and forgot it once they were logged: it put
    the rest off for nothing, and gave no time to charge the pad anew.
    """
    late = datetime(2026, 3, 2, 21, 20, tzinfo=UTC)
    with _panels(tmp_path, "[Mon-Fri 18:30-21:30]") as workshop:
        for what in (What.START, *[What.SKIPPED] * 11, What.DONE):
            text = "done elsewhere" if what is What.SKIPPED else ""
            log_entries(workshop, Entry(what, "j/panel", text=text), late)
        plan = plan_answer(workshop, datetime.fromisoformat(asked_at), Asked(insight=False))

    following = next(step for step in plan.steps if step.step.number == 13)
    assert following.start.date() == date(2026, 3, 3)
    assert (following.broken_off, following.mend_min) == (True, 10)
    assert sum(step.broken_off for step in plan.steps) == 1


def test_a_sitting_that_is_broken_off_is_told_as_that(tmp_path):
    """What the plan changed names the sitting, and no window: nothing that was laid is spoilt."""
    begun = datetime(2026, 3, 2, 18, 40, tzinfo=UTC)
    with _panels(tmp_path, "[Mon-Fri 18:30-21:30]") as workshop:
        for what in (What.START, *[What.SKIPPED] * 11, What.DONE):
            text = "done elsewhere" if what is What.SKIPPED else ""
            log_entries(workshop, Entry(what, "j/panel", text=text), begun)
        plan_answer(workshop, begun, Asked(keep=True, insight=False))
        plan = plan_answer(workshop, begun.replace(hour=21, minute=28), Asked(insight=False))

    told = (*change_lines(plan), *changed_since(plan).sentences)
    assert any("1 sitting broken off" in line for line in told), told
    assert any("  sitting broken off for" in line for line in told), told
    assert any("its sitting is broken off for" in line for line in told), told
    assert not [line for line in told if "window" in line]


def test_what_is_begun_in_its_window_takes_no_time_to_begin_again(tmp_path, monkeypatch):
    """Where the plan goes on with a sitting tomorrow, the next coat takes its own time tonight."""
    begun = datetime(2026, 3, 2, 20, 20, tzinfo=UTC)
    with _panels(tmp_path, "[Mon-Fri 18:30-21:30]") as workshop:
        for what in (What.START, *[What.SKIPPED] * 11, What.DONE):
            text = "done elsewhere" if what is What.SKIPPED else ""
            log_entries(workshop, Entry(what, "j/panel", text=text), begun)
        planned = plan_as_it_stands(workshop, begun.replace(hour=21, minute=28))
        monkeypatch.setattr(
            "finishsched.workshop.plan.what_now.plan_as_it_stands", lambda *_: planned
        )
        tonight = what_now(workshop, begun.replace(minute=52)).best
        tomorrow = what_now(workshop, datetime(2026, 3, 3, 18, 30, tzinfo=UTC)).best

    assert tonight.planned_at.date() == date(2026, 3, 3)
    assert tonight.step.number == tomorrow.step.number == 13
    assert tomorrow.minutes == tonight.minutes + 10
