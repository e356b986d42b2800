"""Rules of schedules at their edges: the documents that just fail, and those that just pass.

All of it is common practice, no source, where no other is named; the limits are the rules' own.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from finishsched.checking.cases import ScheduleCase
from finishsched.checking.findings import schedule_findings
from finishsched.documents.library import shipped_products, shipped_schedules
from finishsched.model.schedule import Rounds, StageName, StepPlan, Verb

SHELLAC = "product: shellac-dewaxed-blonde, cut: 2 lb, amount: 15 ml/m2"
DAY = "wait: {earliest: 24 h, likely: 36 h}, dry_check: lifts dry powder"
NIGHT = "wait: {earliest: 12 h, likely: 20 h}, dry_check: lifts dry powder"
HOUR = "wait: {earliest: 1 h, likely: 2 h}, dry_check: no smell"
SIX_DAYS = "wait: {earliest: 6 days, likely: 8 days}, dry_check: no smell"


def stage(name: str, *steps: str) -> str:
    """Return a stage of steps, each of them written in braces."""
    return f"- stage: {name}\n  steps:\n" + "".join(f"    - {{{step}}}\n" for step in steps)


def body(*steps: str) -> str:
    """Return the body."""
    return stage("body", *steps)


PADS = f"pad: ovals, coats: 12, {SHELLAC}, {NIGHT}"
TOP = f"pad: more, id: top, {SHELLAC}, {DAY}"

TOLD = [
    # Grains of ISO 6344: P120 over P240 is 2.14, and over P220, which passes below, 1.84.
    ("grade-skipped", stage("prepare", "sand: a, grade: P120", "sand: b, grade: P240")),
    ("grade-skipped", stage("prepare", "sand: a, grade: P120", "sand: b, grade: P280")),
    ("grade-skipped", stage("prepare", "sand: a, grade: CAMI 120", "sand: b, grade: CAMI 320")),
    ("grade-reversed", stage("prepare", "sand: a, grade: P320", "sand: b, grade: CAMI 320",
                             "sand: c, grade: P320")),
    ("water-under-coat", body(PADS, f"level: a, grade: P400, lubricant: water, {HOUR}", TOP)),
    ("water-under-coat", body("tack off: damp, lubricant: water", TOP)),
    ("water-under-coat", body("tack off: damp, product: water", "wax: thin, product: paste-wax")),
    ("too-few-coats", body(f"pad: a, coats: 4, {SHELLAC}, {NIGHT}", "level: a, grade: P240")),
    ("too-few-coats", body(f"pad: a, coats: 4, {SHELLAC}, {NIGHT}",
                           "level: a, grade: P400, reach: flush")),
    ("no-rest-before-levelling", body(f"brush: a, product: oil-varnish, {HOUR}",
                                      "level: a, grade: P320")),
    ("no-rest-before-levelling", stage("fill", "fill: a, product: water-based-filler",
                                       "level: a, grade: P320")),
    # Half of a published time may do for one that dries; half-cured dust of two parts sensitises.
    ("no-rest-before-levelling", stage("fill", "fill: a, product: two-part-epoxy, "
                                       "wait: {earliest: 7 h, likely: 8 h}, dry_check: hard",
                                       "level: a, grade: P240, reach: flush")),
    ("rub-out-too-early", body(f"brush: a, product: oil-varnish, {SIX_DAYS}")
     + stage("cure", "level: a, grade: P2000, lubricant: soapy water")),
    ("pad-too-heavy", body("pad: a, product: shellac-dewaxed-blonde, cut: 3.1 lb")),
    ("pad-too-heavy", body("pad: a, product: shellac-dewaxed-blonde, cut: 380 g/L")),
    ("filler-over-seal", body(TOP, "fill: a, product: oil-paste-filler")),
    ("filler-over-seal", stage("seal", f"pad: a, coats: 3, {SHELLAC}")
     + stage("fill", "fill: a, product: water-based-filler")),
    ("filler-over-seal", stage("seal", "wipe: a, product: tung-oil")
     + stage("fill", "fill: a, product: water-based-filler")),
    ("over-waxy-shellac", body("brush: a, id: a, product: shellac-waxy-orange, cut: 1 lb",
                               "brush: b, id: b, product: waterborne-clear")),
    ("over-waxy-shellac", body("brush: a, id: a, product: shellac-waxy-orange, cut: 1 lb",
                               "brush: b, id: b, product: two-part-clear")),
    ("alcohol-lifts", body(PADS, "level: a, grade: P600, lubricant: ethanol")),
    ("alcohol-lifts", body("brush: a, product: waterborne-clear",
                           "spirit off: b, product: ethanol")),
    ("alcohol-lifts", body("brush: a, product: waterborne-clear", TOP)),
    ("film-too-thick", body("brush: a, coats: 8, product: oil-varnish, amount: 110 ml/m2")),
    ("recoat-too-soon", body("brush: a, coats: 2, product: waterborne-clear, "
                             "wait: {earliest: 30 min, likely: 1 h}, dry_check: dry")),
    # Past the 30 min of the pot, or with work between, it is another mix on a film half hard.
    ("recoat-too-soon", stage("fill", "fill: a, product: two-part-epoxy, "
                              "wait: {earliest: 30 min, likely: 40 min}, dry_check: dry",
                              "fill: b, id: b, product: two-part-epoxy")),
    ("recoat-too-soon", stage("fill", "fill: a, product: two-part-epoxy, "
                              "wait: {earliest: 3 min, likely: 8 min}, dry_check: bubbles are out",
                              "tack off: dry", "fill: b, id: b, product: two-part-epoxy")),
    ("thinned-too-far", body("wipe: a, product: oil-varnish, thinned: 60 %")),
    ("no-tack-off", stage("fill", "sand: a, grade: P180", "fill: a, product: oil-paste-filler")),
    ("coat-over-wax", stage("cure", "rub out: a, product: paste-wax, grade: 0000 wool", TOP)),
    ("cut-rising", body("pad: a, id: a, product: shellac-garnet, cut: [1 lb, 0.5 lb], coats: 2",
                        "pad: b, id: b, product: shellac-garnet, cut: 1 lb")),
    ("rub-out-too-early", body(f"brush: a, product: oil-varnish, {DAY}")
     + stage("cure", "rub out: a, grade: 0000 wool, lubricant: soapy water")),
    ("no-dry-check", stage("prepare", "glue up: a, product: pva-glue, wait: none")),
    ("no-dry-check", stage("cure", "rest: on pins")),
    ("oily-rags", body("pad: a, lubricant: danish-oil, " + SHELLAC)),
    ("clamp-too-short", stage("prepare", "glue up: a, product: pva-glue")),
    ("coat-amount", body("brush: a, product: oil-varnish, amount: 10 ml/m2")),
]  # fmt: skip

SILENT = [
    ("no-rest-before-levelling", stage("fill", "fill: a, product: two-part-epoxy, "
                                       "wait: {earliest: 12 h, likely: 24 h}, dry_check: hard",
                                       "level: a, grade: P240, reach: flush")),
    # A white pad leaves satin, as 0000 wool does, and no gloss that would sink.
    ("rub-out-too-early", body(f"brush: a, product: oil-varnish, {SIX_DAYS}")
     + stage("cure", "rub out: a, grade: white pad, lubricant: soapy water")),
    ("grade-skipped", stage("prepare", "sand: a, grade: P120", "sand: b, grade: P220")),
    ("grade-skipped", stage("prepare", "sand: a, grade: P180")
     + body(TOP, "level: b, grade: P400")),
    ("grade-reversed", stage("prepare", "sand: a, grade: P240", "glue up: a, product: pva-glue",
                             "sand: b, grade: P150")),
    ("grade-reversed", body(PADS, "level: a, grade: P800", TOP, "level: b, grade: P400")),
    ("water-under-coat", body(PADS, f"level: a, grade: P400, lubricant: water, {HOUR}",
                              f"tack off: b, {HOUR}", TOP)),
    ("water-under-coat", body(PADS, "level: a, grade: P400, lubricant: water")),
    ("too-few-coats", body(f"pad: a, coats: 3, {SHELLAC}, {NIGHT}",
                           "level: a, grade: P400, reach: scuff", PADS)),
    ("too-few-coats", stage("seal", f"pad: a, {SHELLAC}, {NIGHT}", "level: a, grade: P320")),
    ("too-few-coats", body("wipe: a, product: tung-oil", "level: a, grade: P400")),
    ("pad-too-heavy", body("pad: a, product: shellac-dewaxed-blonde, cut: 3 lb")),
    ("pad-too-heavy", body("brush: a, product: shellac-dewaxed-blonde, cut: 4 lb")),
    ("filler-over-seal", stage("seal", "pad: a, coats: 2, product: shellac-garnet, cut: 1 lb")
     + stage("fill", "fill: a, product: water-based-filler")),
    ("filler-over-seal", body(TOP, "fill: a, product: pumice, lubricant: ethanol")),
    ("over-waxy-shellac", body("brush: a, id: a, product: shellac-waxy-orange, cut: 1 lb",
                               "brush: b, id: b, product: shellac-garnet, cut: 1 lb",
                               "brush: c, id: c, product: oil-varnish")),
    ("over-waxy-shellac", body("brush: a, coats: 2, product: shellac-waxy-orange, cut: 1 lb")),
    ("alcohol-lifts", body(PADS, "spirit off: b, product: ethanol")),
    ("alcohol-lifts", body("wipe: a, product: tung-oil", "tack off: b, product: ethanol")),
    ("coat-over-wax", stage("cure", "wax: a, product: paste-wax",
                            "tack off: b, product: mineral-spirits", TOP)),
    ("oil-left-in", body("wipe: a, product: tung-oil",
                         "level: a, grade: P400, lubricant: tung-oil")),
    ("recoat-too-soon", body("pad: a, coats: 6, wait: {earliest: 5 min, likely: 15 min}, "
                             f"dry_check: no drag, {SHELLAC}")),
    ("recoat-too-soon", stage("fill", "fill: a, product: two-part-epoxy, "
                              "wait: {earliest: 3 min, likely: 8 min}, dry_check: bubbles are out",
                              "fill: again from the same pot, id: b, product: two-part-epoxy")),
    ("no-cure", stage("prepare", "sand: a, grade: P180")),
    ("no-tack-off", body(PADS, "level: a, grade: P600, lubricant: mineral-spirits", TOP)),
    ("sheen-not-reached", body(PADS)),
    *[("no-bite", body(f"brush: a, product: oil-varnish, {DAY}",
                       f"{how}: it, id: dull", f"brush: b, id: b, product: oil-varnish, {DAY}"))
      for how in ("level", "cut back", "rub out")],
]  # fmt: skip


@pytest.mark.parametrize(
    ("code", "stages"), TOLD, ids=[f"{i}-{c}" for i, (c, _) in enumerate(TOLD)]
)
def test_what_spoils_the_work_is_told_of(judge, code, stages):
    """Each of these a finisher would stop."""
    assert code in judge.schedule(stages)


@pytest.mark.parametrize(
    ("code", "stages"), SILENT, ids=[f"{i}-{c}" for i, (c, _) in enumerate(SILENT)]
)
def test_what_only_looks_like_it_is_not(judge, code, stages):
    """Each of these is like a fault and is none."""
    assert code not in judge.schedule(stages)


@pytest.mark.parametrize(
    ("look", "last", "reached"),
    [
        ("satin", "rub out: a, grade: 0000 wool", True),
        ("gloss", "rub out: a, grade: 0000 wool", False),
        ("satin", "level: a, grade: P600", True),
        ("semi-gloss", "level: a, grade: P1200", True),
        ("gloss", "level: a, grade: P1200", False),
        ("gloss", "level: a, grade: P2000", True),
        ("high gloss", "level: a, grade: P2000", False),
        ("high gloss", "rub out: a, product: rottenstone", True),
        ("satin", "rub out: a, product: rottenstone", False),
        ("satin", "cut back: a, grade: P600", True),
        ("gloss", "cut back: a, grade: P600", False),
        ("gloss", "rub out: a, with: soft cotton", True),
        ("satin", "rub out: a, with: soft cotton", False),
    ],
)
def test_the_last_grade_decides_the_sheen(judge, look, last, reached):
    """Wool and P400 to P600 satin, P1000 to P1500 semi-gloss, P2000 and powder gloss.

    Common practice; the classes as class names use ASTM D523 and ISO 2813 units.
    """
    told = "sheen-not-reached" in judge.schedule(body(PADS) + stage("cure", last), look)
    assert told != reached


@pytest.mark.parametrize("name", shipped_schedules())
def test_every_shipped_schedule_is_clean(name):
    """No rule tells of any schedule that is shipped, advice no more than faults."""
    case = ScheduleCase(shipped_schedules()[name], shipped_products())
    assert [(f.code, f.message) for f in schedule_findings(case)] == []


def test_what_is_cut_back_over_colour_is_told_to_be_levelled():
    """More coats would not help: all of them come off, and the colour with them."""
    whole = shipped_schedules()["shellac-cut-back"]
    dye = StepPlan("dye", Verb.STAIN, "wipe", product="spirit-dye")
    stages = [
        replace(one, steps=(dye, *one.steps)) if one.name is StageName.SEAL else one
        for one in whole.stages
    ]
    case = ScheduleCase(replace(whole, stages=tuple(stages)), shipped_products())
    told = [one for one in schedule_findings(case) if one.code == "too-few-coats"]
    assert "goes through the colour" in told[0].message
    assert told[0].remedy.startswith("level it there")


def test_to_cut_back_is_one_thing_by_the_verb_and_by_how_far_it_goes(judge):
    """Through to the stain it is told to be levelled, whichever of the two says so."""
    dyed = stage("prepare", "stain: wipe, product: spirit-dye")
    laid = body(f"pad: a, coats: 12, {SHELLAC}, {NIGHT}")
    ways = ("cut back: a, grade: P320", "level: a, grade: P320, reach: cut back")
    told = [
        {(one.code, one.remedy) for one in schedule_findings(judge.case(text))}
        for text in (dyed + laid + stage("level", way) for way in ways)
    ]
    assert told[0] == told[1]
    assert any(remedy.startswith("level it there") for _, remedy in told[0])


def test_a_shipped_schedule_spoilt_is_told_of():
    """Being clean is no blindness: with one coat a round in place of eight, the paper goes through.

    The grade before is taken out too, so that the last one skips two.
    """
    whole = shipped_schedules()["padded-shellac-pattern"]
    stages = [replace(stage_, steps=tuple(map(_spoilt, stage_.steps))) for stage_ in whole.stages]
    case = ScheduleCase(replace(whole, stages=tuple(stages)), shipped_products())
    told = {finding.code for finding in schedule_findings(case)}
    assert {"too-few-coats", "grade-skipped"} <= told


def _spoilt(item):
    if isinstance(item, Rounds):
        return replace(item, steps=tuple(map(_spoilt, item.steps)))
    grades = tuple(grade for grade in item.grade if grade not in ("P180", "P240"))
    grades += item.grade[-1:] * (len(item.grade) - len(grades))
    return replace(item, coats=(1,), grade=grades)
