"""What holds of every rule, whatever stands in the documents."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from finishsched.checking.cases import PieceCase, ScheduleCase, ShopCase
from finishsched.checking.findings import (
    accepted_out,
    piece_findings,
    schedule_findings,
    seen_in,
    shop_findings,
)
from finishsched.checking.registry import RULES
from finishsched.checking.rule import Severity
from finishsched.documents.decode import dump, read
from finishsched.documents.document import Document
from finishsched.documents.library import shipped_products, shipped_schedules
from finishsched.model.accepted import Accepted
from finishsched.model.film import BareGrades, FilmRules, Reach
from finishsched.model.job import Face, Piece
from finishsched.model.schedule import (
    HandsOn,
    Rounds,
    Schedule,
    Spread,
    Stage,
    StageName,
    StepPlan,
    Verb,
    Wait,
    Waits,
)
from finishsched.model.shop import Air, Shop
from finishsched.workshop.defects.checks import open_spans

PRODUCTS = shipped_products()
NAMES = (None, "no-such-thing", *PRODUCTS)
GRADES = ("P80", "P120", "P180", "P240", "P320", "P400", "P600", "P1500", "CAMI 320", "0000 wool",
          "white pad")  # fmt: skip
LUBRICANTS = (None, "dry", "water", "soapy water", "mineral-oil", "mineral-spirits", "nothing")
QUICK = settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])

times = st.sampled_from([0.0, 300.0, 7200.0, 43200.0, 86400.0, 2_000_000.0])


@st.composite
def waits(draw):
    """Draw a wait of any length, or none."""
    if draw(st.booleans()):
        return None
    low, high = sorted((draw(times), draw(times)))
    return Waits(Wait(low, high, next_by_s=draw(st.sampled_from([None, high + 3600.0]))))


@st.composite
def steps(draw):
    """Draw any step at all, sensible or not; its id comes later."""
    wait, product = draw(waits()), draw(st.sampled_from(NAMES))
    cuts, shares = [(), (60.0,), (240.0,), (480.0,)], [(), (10.0,), (60.0,)]
    return StepPlan(
        id="",
        verb=draw(st.sampled_from(Verb)),
        how="as it comes",
        product=product,
        lubricant=draw(st.sampled_from(LUBRICANTS)),
        cut_g_per_l=draw(st.sampled_from(cuts)) if product else (),
        thinned_percent=draw(st.sampled_from(shares)) if product else (),
        grade=draw(st.sampled_from([(), *((grade,) for grade in GRADES)])),
        coats=(draw(st.integers(1, 12)),),
        spread=draw(
            st.sampled_from([None, Spread(ml_per_m2=15.0), Spread(400.0), Spread(g_per_m2=90.0)])
        ),
        hands_on=HandsOn(draw(st.sampled_from([0.0, 90.0]))),
        waits=wait,
        dry_check="it powders" if wait else "",
        reach=draw(st.sampled_from([(), *((reach,) for reach in Reach)])),
    )


@st.composite
def schedules(draw):
    """Draw a schedule of any steps in any order."""
    stages = []
    for name in draw(st.lists(st.sampled_from(StageName), min_size=1, max_size=4, unique=True)):
        number = itertools.count()
        items = []
        for _ in range(draw(st.integers(1, 3))):
            group = tuple(
                replace(step, id=f"own-{next(number)}")
                for step in draw(st.lists(steps(), min_size=1, max_size=3))
            )
            items += [Rounds(2, group)] if draw(st.booleans()) else group
        stages.append(Stage(name, tuple(items)))
    look = draw(st.sampled_from(["", "satin", "high gloss"]))
    return Schedule("any", "Any", tuple(stages), look=look, source="made up")


shops = st.builds(
    Shop,
    name=st.just("Any"),
    usual_air=st.builds(Air, st.floats(0, 40), st.floats(1, 100)),
    film=st.builds(FilmRules, st.sampled_from(BareGrades)),
)
pieces = st.builds(
    Piece,
    id=st.just("lid"),
    title=st.just("Lid"),
    schedule=st.just("any"),
    faces=st.just((Face("top", stated_area_m2=0.1),)),
    species=st.sampled_from(["", "walnut", "teak and maple", "moonwood"]),
    veneer_mm=st.sampled_from([None, 0.1, 0.6]),
    relief_um=st.sampled_from([None, 80.0]),
    sheen=st.sampled_from(["", "flat", "gloss"]),
)


def as_read(schedule: Schedule) -> Document:
    """Return the schedule as its document is read, so that its places are known."""
    return read(dump(schedule).encode(), "any.yaml")


@QUICK
@given(schedules(), shops)
def test_every_finding_has_a_place_of_its_own_kind(schedule, shop):
    """Whatever the steps, no rule fails, and each finding's path leads to something written."""
    document = as_read(schedule)
    for finding in schedule_findings(ScheduleCase(document.model, PRODUCTS, shop)):
        assert finding.path in document.places, finding
        assert finding.message
        assert not finding.message.endswith(".")
        assert "\n" not in finding.message + finding.remedy


@QUICK
@given(schedules(), pieces, shops)
def test_every_finding_of_a_piece_is_at_one_of_its_keys(schedule, piece, shop):
    """A finding of a piece lies within the piece, or is about the date of the whole job."""
    case = PieceCase(
        piece, ScheduleCase(schedule, PRODUCTS, shop), None, ("pieces", 0), shop, open_spans(shop)
    )
    for finding in piece_findings(case):
        assert finding.path[:2] == ("pieces", 0) or finding.path == ("due",)


@settings(QUICK, max_examples=20)
@given(schedules(), st.data())
def test_accepting_takes_away_those_rules_and_no_other(schedule, data):
    """Accepting any of the codes found leaves every other finding as it was, and adds none."""
    found = schedule_findings(ScheduleCase(schedule, PRODUCTS))
    assume(found)
    codes = sorted({finding.code for finding in found})
    silenced = data.draw(st.sets(st.sampled_from(codes), min_size=1))
    accepted = tuple(Accepted(code, "so it is done here") for code in sorted(silenced))
    left = schedule_findings(ScheduleCase(replace(schedule, accepted=accepted), PRODUCTS))
    assert left == tuple(finding for finding in found if finding.code not in silenced)


@QUICK
@given(schedules())
def test_a_longer_wait_is_never_too_short(schedule):
    """Doubling every wait brings nothing new that the rules which ask for more time see."""
    asks_for_time = {
        "water-under-coat", "tape-not-dry", "spirits-under-coat", "no-rest-before-levelling",
        "recoat-too-soon", "no-cure", "spirit-off-too-early", "oil-on-fresh-shellac",
        "clamp-too-short", "two-part-over-green", "rub-out-too-early",
    }  # fmt: skip
    assert asks_for_time <= set(RULES)

    def told(one):
        case = ScheduleCase(one, PRODUCTS)
        return {(f.code, f.path) for f in seen_in(case) if f.code in asks_for_time}

    assert told(_slower(schedule)) <= told(schedule)


def _slower(schedule: Schedule) -> Schedule:
    def plan(step):
        if step.waits is None:
            return step
        after = step.waits.after
        longer = replace(after, earliest_s=2 * after.earliest_s, likely_s=2 * after.likely_s)
        return replace(step, waits=Waits(replace(longer, next_by_s=None)))

    stages = [
        replace(
            stage,
            steps=tuple(
                replace(item, steps=tuple(map(plan, item.steps)))
                if isinstance(item, Rounds)
                else plan(item)
                for item in stage.steps
            ),
        )
        for stage in schedule.stages
    ]
    return replace(schedule, stages=tuple(stages))


@pytest.mark.parametrize("name", list(shipped_schedules()))
def test_a_shipped_schedule_has_nothing_to_tell(name):
    """Every shipped schedule is free of faults and advice, by whichever way a number is meant."""
    for bare in BareGrades:
        shop = Shop("Any", film=FilmRules(bare))
        case = ScheduleCase(shipped_schedules()[name], PRODUCTS, shop)
        assert schedule_findings(case) == ()


@given(shops)
def test_a_shop_of_any_air_can_be_judged(shop):
    """No air, however odd, breaks the rules of shops."""
    for finding in shop_findings(ShopCase(shop, frozenset({"shop", "usual_air"}))):
        assert finding.severity in Severity


def test_a_code_of_no_rule_is_told_with_the_nearest():
    """A misspelt silence is an error that names the code that was probably meant."""
    (finding,) = accepted_out((), (Accepted("water-under-cot", "why not"),))
    assert finding.code == "unknown-rule"
    assert finding.severity is Severity.ERROR
    assert "did you mean 'water-under-coat'?" in finding.remedy
