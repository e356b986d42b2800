"""Five pieces, three of them filled with epoxy: one mix serves what fits into its life."""

from datetime import UTC, datetime, timedelta

import pytest

from finishsched.bench.at_hand.side import now_words
from finishsched.cli.plan.plan_words import plan_data, plan_lines
from finishsched.cli.work.now_words import now_lines
from finishsched.mixing.amount import pad_charge_ml
from finishsched.model.verbs import Verb
from finishsched.planning.judging.checker import check
from finishsched.planning.problem import HeldBy
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.papers.bench_sheet import bench_sheet
from finishsched.workshop.plan.mixes_ahead import mixes_as_planned, shared_mix
from finishsched.workshop.plan.plans import Asked, plan_answer
from finishsched.workshop.plan.what_now import Suggestion, WhatNow
from finishsched.workshop.stock.needs import job_need

NOW = datetime(2026, 3, 2, 17, 0, tzinfo=UTC)
SHOP = """\
shop: Five pieces
time_zone: Europe/Lisbon
people: [Ada]
usual_air: {temperature: AIR degC, humidity: 55 %}
hours: [Mon-Thu 18:30-21:30, "Sat 9:00-12:30, 13:30-17:00"]
rooms:
  - {room: shed, settle: 15 min}
"""
PIECE = """\
  - piece: {piece}
    title: {piece}
    schedule: {schedule}
    faces: [{{face: all, area: {area} m2}}]
"""
FILLED = "sprayed-lacquer-epoxy-fill"
FIVE = (
    ("lid", FILLED, 0.10),
    ("front", FILLED, 0.05),
    ("small", FILLED, 0.05),
    ("tray", "quick-shellac-insides", 0.08),
    ("panel", "padded-shellac-open-pored", 0.12),
)
EPOXY = "two-part-epoxy"


def opened(folder, air_c=20):
    """Return the shop open, in air of a temperature."""
    (folder / "jobs").mkdir()
    (folder / "shop.yaml").write_text(SHOP.replace("AIR", str(air_c)), "utf-8")
    pieces = [PIECE.format(piece=p, schedule=s, area=a) for p, s, a in FIVE]
    text = "job: j\ntitle: J\npieces:\n" + "".join(pieces)
    (folder / "jobs" / "j.yaml").write_text(text, "utf-8")
    return Workshop.open(folder, NOW)


@pytest.fixture(scope="module")
def five(tmp_path_factory):
    """Return the plan of the five, its lines, and what need and the sheet of one of them read."""
    with opened(tmp_path_factory.mktemp("five")) as workshop:
        plan = plan_answer(workshop, NOW, Asked(insight=False, keep=True))
        lines = list(plan_lines(plan, None, why=True))
        mixes = mixes_as_planned(workshop, [EPOXY], ["j/front"], NOW)
        return plan, lines, mixes, bench_sheet(workshop, "j/front", NOW)


def fills(plan):
    """Return the steps that are done from the pot, in the order of time."""
    return [step for step in plan.steps if step.step.product == EPOXY]


@pytest.fixture(scope="module")
def told_now(tmp_path_factory):
    """Return by piece the mix that what now names for its fill, and a time zone."""
    with opened(tmp_path_factory.mktemp("now")) as workshop:
        plan = plan_answer(workshop, NOW, Asked(insight=False, keep=True))
        mixes = {s.ref: shared_mix(workshop, s.step, [s.ref], NOW) for s in fills(plan)}
        return plan, mixes


def test_what_now_names_one_mix_for_all_that_it_serves(told_now):
    """Each of the two that share says so, with both names and by when; the third says nothing."""
    plan, mixes = told_now
    (shared,) = [mix for mix in plan.mixes if mix.is_shared]
    assert {ref for ref, mix in mixes.items() if mix is not None} == set(shared.refs)
    first = next(step for step in fills(plan) if step.key == shared.keys[0])
    best = Suggestion(first.ref, first.step, "Ada", NOW, 13, None, check_first=False)
    found = WhatNow(("Ada",), None, None, best, None, one_mix=mixes[first.ref])
    until = f"{shared.good_until.astimezone(plan.zone):%H:%M}"
    _, line, *_ = now_lines(found, NOW, plan.zone)
    assert line.startswith("  one mix, ")
    assert line.endswith(f"for {' and '.join(shared.refs)}: good till {until}")
    (said,) = now_words(found, {ref: ref[2:] for ref in shared.refs}, NOW, plan.zone)
    assert said.endswith(f"; one mix for {' and '.join(r[2:] for r in shared.refs)}, by {until}")


def test_three_fills_take_two_mixes(five):
    """Fifteen, 13 and 13 minutes do not fit into 34: the plan mixes twice, not three times."""
    plan, *_ = five
    assert not check(plan.problem, plan.plan)
    assert sum((step.end - step.start for step in fills(plan)), timedelta()) > timedelta(minutes=36)
    assert plan.score.pots == len(plan.mixes) == 2
    (shared,) = [mix for mix in plan.mixes if len(mix.keys) > 1]
    assert shared.done <= shared.good_until
    assert sorted(ref for mix in plan.mixes for ref in mix.refs) == ["j/front", "j/lid", "j/small"]


def test_one_line_says_what_is_mixed_once_and_for_what(five):
    """It stands below the first fill, with the amount of both and till when it is good."""
    plan, lines, *_ = five
    (shared,) = [mix for mix in plan.mixes if len(mix.keys) > 1]
    told = [line for line in lines if "one mix, " in line]
    assert len(told) == 1
    assert all(ref in told[0] for ref in shared.refs)
    assert f"good till {shared.good_until:%H:%M}" in told[0]
    assert [mix["pieces"] for mix in plan_data(plan)["mixes"]] == [list(m.refs) for m in plan.mixes]


def test_need_and_the_sheet_count_the_same_mixes(five):
    """What need lists for one of them, and what its sheet says, is the mix that the plan tells."""
    plan, _, mixes, sheet = five
    mine = [mix for mix in plan.mixes if "j/front" in mix.refs]
    assert [mix.keys for mix in mixes] == [mix.keys for mix in mine]
    told = [words for step in sheet.steps for _, words in step.mixes if "by the plan" in words]
    assert bool(told) == (len(mine[0].keys) > 1)


def test_in_a_warm_shop_a_mix_is_good_for_less(tmp_path):
    """At 32 degC the same pot sets in some 15 minutes: each fill that takes 12 has its own."""
    with opened(tmp_path, air_c=32) as workshop:
        plan = plan_answer(workshop, NOW, Asked(insight=False))
    (pot,) = plan.problem.pots
    assert 12 <= pot.life_min <= 20
    assert not plan.plan.mixed


def test_a_shop_without_such_a_product_plans_nothing_for_a_paper(tmp_path):
    """Who asks of shellac alone is told no mix, and no plan is made for it."""
    with opened(tmp_path) as workshop:
        assert mixes_as_planned(workshop, ["shellac-dewaxed-blonde"], ["j/tray"], NOW) == ()
    assert not list(tmp_path.glob(".plan*"))


def test_a_fill_that_waits_for_the_mix_says_so(five):
    """Whatever is held back for one pot names the other that is done from it."""
    plan, *_ = five
    words = {step.held_back_by for step in plan.steps if step.held_by is HeldBy.POT}
    assert all(text.startswith("one mix for it and ") for text in words)


PADDED_POT = """\
schedule: padded-pot
title: A pot by a pad
source: common practice
stages:
  - stage: body
    steps:
      - pad: thin ovals
        product: two-part-epoxy
        amount: 50 ml/m2
        hands_on: 3 min
        wait: {earliest: 8 h, likely: 12 h}
        dry_check: no dent
"""


def test_coats_out_of_one_pot_charge_one_pad(tmp_path):
    """What a mix holds for two pieces counts a dry pad once, as need counts what keeps."""
    (tmp_path / "jobs").mkdir()
    (tmp_path / "schedules").mkdir()
    (tmp_path / "shop.yaml").write_text(SHOP.replace("AIR", "20"), "utf-8")
    (tmp_path / "schedules/padded-pot.yaml").write_text(PADDED_POT, "utf-8")
    pieces = [PIECE.format(piece=p, schedule="padded-pot", area=0.1) for p in ("one", "two")]
    text = "job: j\ntitle: J\npieces:\n" + "".join(pieces)
    (tmp_path / "jobs/j.yaml").write_text(text, "utf-8")
    with Workshop.open(tmp_path, NOW) as workshop:
        (mix,) = plan_answer(workshop, NOW, Asked(insight=False)).mixes
        need = job_need(workshop, "j", NOW)
    assert sorted(mix.refs) == ["j/one", "j/two"]
    assert sum(coat.pad_ml for coat in need.coats) == pad_charge_ml(Verb.PAD)
    assert mix.amount == pytest.approx(sum(coat.from_jar.likely for coat in need.coats))
