"""Rests and pots in a plan: nothing is begun with nobody there, and nothing set is used."""

from datetime import UTC, datetime, timedelta

import pytest

from finishsched.planning.judging.checker import check
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.plan.plans import Asked, plan_answer
from finishsched.workshop.plan.what_now import what_now

MONDAY = datetime(2026, 10, 19, 17, 30, tzinfo=UTC)  # half past six by the clock in Lisbon
PLAIN = Asked(insight=False)
HOURS = "hours: [Mon-Fri 18:30-21:30]\n"
RESTS = """\
schedule: two-coats
title: A rest between
source: common practice
stages:
  - stage: body
    steps:
      - wipe: thin
        product: wiping-varnish
        amount: 25 ml/m2
        hands_on: 10 min
        wait: {earliest: 8 h, likely: 12 h, latest: 24 h}
        dry_check: no tack
  - stage: cure
    steps:
      - rest: on pins
        wait: {earliest: 24 h, likely: 36 h, latest: 60 h}
        dry_check: no smell
      - rub out: light
        grade: 0000 wool
        hands_on: 10 min
"""
REST_FIRST = """\
schedule: two-coats
title: A rest first
source: common practice
stages:
  - stage: prepare
    steps:
      - rest: in the room
        wait: {earliest: 24 h, likely: 36 h, latest: 60 h}
        dry_check: no movement
      - wax: thin
        hands_on: 10 min
      - rest: until it is hard
        wait: {earliest: 1 h, likely: 2 h, latest: 3 h}
        dry_check: no smear
"""
CLOSING = """\
schedule: two-coats
title: Two coats with a window between
source: common practice
stages:
  - stage: body
    steps:
      - wipe: thin
        product: wiping-varnish
        coats: 2
        amount: 25 ml/m2
        hands_on: 10 min
        wait: {earliest: 8 h, likely: 12 h, latest: 24 h, next_by: 26 h}
        dry_check: no tack
"""
FILLS = """\
schedule: two-coats
title: Two fills
source: common practice
stages:
  - stage: fill
    steps:
      - fill: across the pores
        product: two-part-epoxy
        amount: 60 ml/m2
        hands_on: 5 min
        wait: {earliest: 3 min, likely: 8 min}
        dry_check: bubbles are out
      - fill: again from the same pot
        id: second
        product: two-part-epoxy
        amount: 40 ml/m2
        hands_on: 5 min
        wait: {earliest: 12 h, likely: 24 h, latest: 48 h}
        dry_check: rings like glass
"""


@pytest.fixture
def opened(folder):
    """Open a shop of evenings, with one piece on a schedule."""
    shops = []

    def make(schedule):
        job = folder / "jobs" / "box.yaml"
        job.write_text(job.read_text().partition("  - piece: body")[0])
        shop = folder / "shop.yaml"
        shop.write_text(shop.read_text() + HOURS)
        (folder / "schedules" / "two-coats.yaml").write_text(schedule)
        shops.append(Workshop.open(folder, MONDAY))
        return shops[-1]

    yield make
    for shop in shops:
        shop.close()


def starts(plan):
    """Return by step number when it starts, by the clock in UTC."""
    return {s.step.number: f"{s.start.astimezone(UTC):%a %H:%M}" for s in plan.steps}


def test_a_rest_after_a_coat_begins_with_the_coat(opened):
    """Its days run from the coat, and nobody has to come in between to begin it."""
    plan = plan_answer(opened(RESTS), MONDAY, PLAIN)
    assert check(plan.problem, plan.plan) == ()
    assert starts(plan) == {1: "Mon 17:30", 2: "Mon 17:40", 3: "Wed 17:30"}


def test_doing_what_the_plan_says_keeps_its_promise(opened):
    """Logged as planned, in the evenings alone, the end is where it was foretold."""
    shop = opened(RESTS)
    promised = plan_answer(shop, MONDAY, Asked(insight=False, keep=True)).finish
    tuesday = MONDAY + timedelta(days=1)
    for what, at in (
        (What.START, MONDAY),
        (What.DONE, MONDAY + timedelta(minutes=10)),
    ):
        log_entry(shop, Entry(what, "lid", at=at), at)
    assert plan_answer(shop, tuesday, PLAIN).finish == promised


def test_a_first_rest_needs_somebody_and_one_after_work_nobody(opened):
    """A piece not begun is begun by somebody; what follows work at once begins by itself."""
    plan = plan_answer(opened(REST_FIRST), MONDAY - timedelta(hours=3), PLAIN)
    by = {s.step.number: s.person for s in plan.steps}
    assert starts(plan)[1] == "Mon 17:30"
    assert by[1] == "Ada"
    assert not by[3]
    assert plan.steps[2].start == plan.steps[1].end


def test_the_check_at_the_end_of_a_rest_is_what_to_do_now(opened):
    """While it rests there is nothing to do; then its dry check comes, and the work after it."""
    shop = opened(RESTS)
    tuesday, wednesday = MONDAY + timedelta(days=1), MONDAY + timedelta(days=2)
    for what, at in ((What.START, MONDAY), (What.DONE, MONDAY)):
        log_entry(shop, Entry(what, "lid", at=at), at)
    assert what_now(shop, tuesday).best is None
    found = what_now(shop, wednesday).best
    assert found.words(found.step.title).startswith("dry check, then rub out")


def test_mending_counts_in_what_to_do_now(opened):
    """A coat that comes too late is rubbed dull first: the plan's minutes, not the coat's alone."""
    shop = opened(CLOSING)
    for what in (What.START, What.DONE):
        log_entry(shop, Entry(what, "lid", at=MONDAY), MONDAY)
    late = MONDAY + timedelta(days=2)
    plan = plan_answer(shop, late, Asked(insight=False, keep=True))
    assert plan.steps[0].mend_min > 0
    planned_min = (plan.steps[0].end - plan.steps[0].start).total_seconds() / 60
    assert what_now(shop, late).best.minutes == planned_min
    for what in (What.READY, What.DONE):
        log_entry(shop, Entry(what, "lid", at=late), late)
    last = what_now(shop, late + timedelta(days=1)).best
    assert last.only_check
    assert last.words("wipe") == "the last dry check, of wipe"


def test_a_window_that_will_be_missed_is_told_at_the_coat_that_opens_it(opened):
    """A coat on Friday whose window closes at the weekend warns on Friday, not on Monday alone."""
    shop = opened(CLOSING)
    friday = MONDAY + timedelta(days=4)
    first, second = plan_answer(shop, friday, PLAIN).steps
    assert first.next_late_min == second.late_min > 0
    assert second.next_late_min == 0


def test_a_mix_past_its_life_is_no_window_any_more(opened):
    """Half an hour after the pot has set the second fill is planned from a new mix, and told so.

    Its 30 min at 22 degC are 34 at the 20 degC of this shop: twice as long for ten less.
    """
    shop = opened(FILLS)
    for what, minutes in ((What.START, 0), (What.DONE, 5), (What.READY, 15)):
        at = MONDAY + timedelta(minutes=minutes)
        log_entry(shop, Entry(what, "lid", at=at), at)
    in_time = plan_answer(shop, MONDAY + timedelta(minutes=20), PLAIN)
    assert not any("mix anew" in note for note in in_time.notes)
    assert any(lag.most_min == 34 for lag in in_time.problem.lags)
    late = plan_answer(shop, MONDAY + timedelta(minutes=70), PLAIN)
    assert any("past its life of 34 min; mix anew" in note for note in late.notes)
    assert late.plan.misses == ()
    assert not late.faults
    assert starts(late) == {2: "Mon 18:40"}
