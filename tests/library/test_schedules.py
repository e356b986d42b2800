"""The shipped schedules as a master would look them over: order, names, waits, papers, film."""

from __future__ import annotations

from itertools import pairwise

import pytest

from finishsched.checking.cases import ScheduleCase
from finishsched.checking.findings import schedule_findings
from finishsched.documents import library
from finishsched.documents.decode import load
from finishsched.documents.references import unknown_names
from finishsched.model.product import Mechanism, ProductKind
from finishsched.model.schedule import StageName, Verb
from finishsched.model.step import steps_of

ONLY_VENEERED = {"veneer-glue-up", "hammer-veneering"}
"""They end where the first paper begins, so they have no film and no cure."""

BARE_HANDS = {None, "dry", "water", "soapy water"}
"""Lubricants that need no product."""

# Mean grain in micrometres, FEPA P (ISO 6344), P240 and finer rounded as cross charts print them.
GRAIN_UM = {
    "P80": 201, "P100": 162, "P120": 125, "P150": 100, "P180": 82, "P220": 68, "P240": 58.5,
    "P280": 52.2, "P320": 46.2, "P360": 40.5, "P400": 35.0, "P500": 30.2, "P600": 25.8,
    "P800": 21.8, "P1000": 18.3, "P1200": 15.3, "P1500": 12.6, "P2000": 10.3, "P2500": 8.4,
}  # fmt: skip
LADDER = list(GRAIN_UM)


def share_of_resin(step, products):
    """Return the volume solids of what a coat is laid with, 0 to 1."""
    if step.cut_g_per_l is not None:
        resin = step.cut_g_per_l / 1000 / products[step.product].dissolved_density_g_per_ml
        return resin / (1 + resin)
    solids = products[step.product].volume_solids_percent / 100
    return solids * (1 - (step.thinned_percent or 0) / 100)


def film_um(step, products):
    """Return the dry film of one coat if nothing of it is lost or soaks in."""
    return step.spread.ml_per_m2 * share_of_resin(step, products)


def coats_of(schedule):
    """Return the steps that lay a finish."""
    return [step for step in steps_of(schedule) if step.verb.lays_coats]


def papers_of(schedule):
    """Return the P grades in the order in which they touch the face."""
    steps = [step for step in steps_of(schedule) if step.verb in (Verb.SAND, Verb.LEVEL)]
    return [step.grade for step in steps]


def is_wet_with_water(step, products):
    """Tell whether a step leaves water on or in the face, a glue line's own apart."""
    water = (
        step.product
        and products[step.product].mechanism is Mechanism.WATER
        and step.verb is not Verb.GLUE_UP
    )
    return bool(water) or step.lubricant in ("water", "soapy water")


def test_the_library_holds_what_a_shop_needs(schedules):
    """At least ten schedules ship, among them the one for pattern work."""
    assert len(schedules) >= 10
    assert "padded-shellac-pattern" in schedules


def test_the_package_ships_these_files(schedules, products):
    """What the program finds for a user is what these tests have judged."""
    assert set(library.schedule_names()) == set(schedules)
    assert set(library.product_names()) == set(products)


def test_no_faults_across_the_library(shipped_file, schedules, products):
    """No name is unknown, no cut of what has none, nothing thinned without a thinner."""
    assert unknown_names([load(shipped_file)], products, schedules) == []


def test_the_rules_of_the_trade_find_nothing(schedule, products):
    """Every rule of the checker is content, and nothing had to be accepted for it."""
    assert schedule_findings(ScheduleCase(schedule, products)) == ()
    assert schedule.accepted == ()


def test_file_is_pleasant_to_read(shipped_file):
    """No line is longer than 100 characters, no tab, and the file is named after its id."""
    lines = shipped_file.read_text("utf-8").splitlines()
    assert max(map(len, lines)) <= 100
    assert not any("\t" in line or line != line.rstrip() for line in lines)
    ids = [line for line in lines if line.startswith(("product: ", "schedule: "))]
    assert ids == [f"{ids[0].split(':')[0]}: {shipped_file.stem}"]


def test_schedule_file_says_who_it_is_for(shipped_file):
    """A schedule opens with two lines or more for the person who is choosing one."""
    if shipped_file.parent.name == "schedules":
        lines = shipped_file.read_text("utf-8").splitlines()
        assert all(line.startswith("# ") for line in lines[:2])


def test_every_product_named_is_shipped(schedule, products):
    """Products and lubricants are in the library, so that a new shop can use any schedule."""
    named = {step.product for step in steps_of(schedule)} - {None}
    lubricants = {step.lubricant for step in steps_of(schedule)} - BARE_HANDS
    assert named | lubricants <= set(products)


def test_cut_and_thinner_fit_the_product(schedule, products):
    """Shellac is laid at a cut and nothing else is; only what has a thinner is thinned."""
    for step in coats_of(schedule):
        product = products[step.product]
        assert (step.cut_g_per_l is not None) == (product.kind is ProductKind.FLAKES)
        assert not step.thinned_percent or product.thinner


def test_every_schedule_says_where_it_comes_from(schedule):
    """Each schedule names its sources, and what wood it suits."""
    assert schedule.source
    assert schedule.suits


def test_stages_come_in_a_sensible_order(schedule):
    """Prepare first; fill and seal before body, in either order; then level, polish, cure."""
    names = [stage.name for stage in schedule.stages]
    place = dict.fromkeys((StageName.FILL, StageName.SEAL), 1) | {
        StageName.PREPARE: 0,
        StageName.BODY: 2,
        StageName.LEVEL: 3,
        StageName.POLISH: 4,
        StageName.CURE: 5,
    }
    assert names[0] is StageName.PREPARE
    assert len(names) == len(set(names))
    assert [place[name] for name in names] == sorted(place[name] for name in names)


def test_a_finish_begins_with_paper_and_ends_cured(schedule):
    """A finish goes from the first paper to the end of its cure; veneering ends before both."""
    steps = steps_of(schedule)
    if schedule.id in ONLY_VENEERED:
        assert {step.stage for step in steps} == {StageName.PREPARE}
        return
    # What begins on an old finish washes it first, and papers no wood.
    assert steps[0].verb is (Verb.SAND if schedule.over is None else Verb.WASH)
    last_coat = coats_of(schedule)[-1].number
    rests = [step for step in steps if step.stage is StageName.CURE and step.verb is Verb.REST]
    assert any(rest.number > last_coat for rest in rests)
    assert schedule.look


def test_what_must_dry_has_a_wait(schedule):
    """Every coat, fill, glue-up, wetting and rest is followed by a wait."""
    always = {Verb.FILL, Verb.GLUE_UP, Verb.STRIP_TAPE, Verb.SPIRIT_OFF, Verb.WAX, Verb.REST}
    for step in steps_of(schedule):
        if step.verb.lays_coats or step.verb in always:
            assert step.wait is not None, step.key
            assert step.wait.likely_s > 0, step.key


def test_every_wait_has_a_dry_check(schedule):
    """A wait is ended by a person's test and never by the clock alone."""
    for step in steps_of(schedule):
        assert step.wait is None or step.dry_check, step.key


def test_every_step_but_a_rest_takes_time(schedule):
    """Hands-on time is stated wherever hands are on: up to half an hour on 0.1 m2."""
    for step in steps_of(schedule):
        minutes = step.hands_on.minutes(0.1)
        if step.verb is Verb.REST:
            assert minutes == 0, step.key
        else:
            assert 1 <= minutes <= 30, step.key


def test_how_lines_are_short(schedule):
    """What to do fits beside the work: one line, 90 characters at most (our own limit)."""
    for step in steps_of(schedule):
        assert 0 < len(step.how) <= 90, step.how
        assert "\n" not in step.how


def test_steps_have_keys_of_their_own(schedule):
    """The journal names steps by key, so no two share one."""
    keys = [step.key for step in steps_of(schedule)]
    assert len(keys) == len(set(keys))


def test_papers_never_skip_more_than_one_grade(schedule):
    """Published rule: no more than one standard grade skipped, grain at most halved."""
    for coarse, fine in pairwise(grade for grade in papers_of(schedule) if grade):
        assert LADDER.index(fine) - LADDER.index(coarse) in (0, 1, 2), (coarse, fine)
        assert GRAIN_UM[coarse] / GRAIN_UM[fine] <= 2.0


def test_every_paper_has_a_grade(schedule):
    """Sanding and levelling name their paper, and whether it is dry or what is on it."""
    for step in steps_of(schedule):
        if step.verb in (Verb.SAND, Verb.LEVEL):
            assert step.grade, step.key
            assert step.lubricant, step.key


def test_nothing_is_sanded_before_it_powders(schedule):
    """Common practice: before paper the check asks for dry powder, or that no dent is left."""
    drying = ""
    for step in steps_of(schedule):
        if step.verb.lays_coats or step.verb is Verb.FILL:
            drying = step.dry_check
        elif step.verb is Verb.REST:
            drying += step.dry_check
        elif step.verb in (Verb.SAND, Verb.LEVEL) and drying:
            assert "powder" in drying or "no dent" in drying, step.key


def test_raw_wood_is_never_wetted_under_a_film(schedule, products):
    """Water is gone before the next coat: a wait of its own, and a check that looks for damp."""
    signs = ("cheek", "dark line", "dark band", "damp", "dry")
    for step in steps_of(schedule):
        if is_wet_with_water(step, products):
            assert step.wait is not None, step.key
            assert any(sign in step.dry_check for sign in signs), step.key


def test_nothing_peels_off_wax(schedule, products):
    """Common practice: polyurethane and waterborne coats go only over dewaxed shellac."""
    waxed = False
    for step in coats_of(schedule):
        product = products[step.product]
        waxed = waxed or bool(product.waxy)
        if product.kind in (ProductKind.VARNISH, ProductKind.WATERBORNE):
            assert not waxed, step.key


def test_nothing_is_laid_over_wax_polish(schedule, products):
    """Once wax is on, no finish follows: nothing sticks to it (common practice)."""
    waxes = [
        step.number
        for step in steps_of(schedule)
        if step.product and products[step.product].kind is ProductKind.WAX
    ]
    assert not waxes or waxes[0] > coats_of(schedule)[-1].number


def test_shellac_is_never_made_stronger(schedule):
    """Later coats are as thin as the earlier ones or thinner, from the first body coat on."""
    cuts = [
        step.cut_g_per_l
        for step in coats_of(schedule)
        if step.cut_g_per_l and step.stage is not StageName.SEAL
    ]
    assert all(later <= earlier + 1e-9 for earlier, later in pairwise(cuts))


def test_coats_are_of_the_size_that_hands_lay(schedule):
    """Wiped and padded 10 to 30 ml/m2 (our assumption); brushed 60 to 110 (common practice)."""
    limits = {Verb.PAD: (10, 30), Verb.WIPE: (10, 30), Verb.BRUSH: (60, 110), Verb.SPRAY: (40, 250)}
    limits[Verb.TONE] = (20, 60)  # a dry mist, common practice
    for step in coats_of(schedule):
        low, high = limits[step.verb]
        assert low <= step.spread.ml_per_m2 <= high, step.key


def test_film_is_no_thicker_than_furniture_takes(schedule, products):
    """Published: about 150 um in total for clear wood finish, at most 76 um for nitrocellulose.

    Worked with nothing lost or soaked in, so the true film is thinner.
    """
    coats = coats_of(schedule)
    total_um = sum(film_um(step, products) for step in coats)
    lacquered = any(products[step.product].kind is ProductKind.LACQUER for step in coats)
    assert total_um <= (76 if lacquered else 150)


def test_a_padded_pass_is_as_thin_as_a_pad_lays(schedule, products):
    """A padded pass lays 0.5 to 3.5 um (our assumption of 1 to 3 um, last coats thinner)."""
    for step in coats_of(schedule):
        if step.verb is Verb.PAD:
            assert 0.5 <= film_um(step, products) <= 3.5, step.key


@pytest.mark.parametrize(
    ("cut_lb", "percent"), [(1, 9.1), (2, 16.7), (3, 23.1), (4, 28.6), (5, 33.3)]
)
def test_solids_of_a_cut(cut_lb, percent, products):
    """At 0.100 gal per lb of resin: 1 lb in 1 gal is 9.1 % resin by volume, and so on."""
    resin = cut_lb * 0.119826427 / products["shellac-dewaxed-blonde"].dissolved_density_g_per_ml
    assert 100 * resin / (1 + resin) == pytest.approx(percent, abs=0.1)


def test_pattern_sanding_leaves_the_veneer(schedules):
    """Erasing each paper's scratch takes half its grain: under 30 % of a 0.6 mm face (assumed)."""
    steps = steps_of(schedules["padded-shellac-pattern"])
    papers = [step.grade for step in steps if step.verb is Verb.SAND]
    taken_um = sum(GRAIN_UM[grade] / 2 for grade in papers[:-1])
    assert taken_um < 0.3 * 600
