"""Whole documents as a finisher might write them: one slip each, found at its place, and no more.

Every one begins from the same sound schedule; what a slip is and what comes of it is common
practice, no source, where nothing else is said.
"""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from finishsched.workshop.defects.checks import check_files

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)

SOUND = """\
schedule: mine
title: Mine
look: gloss
source: common practice
stages:
  - stage: prepare
    steps:
      - sand: block, with the grain
        mark: coarse
        grade: P120
        lubricant: dry
        hands_on: 5 min
      - sand: block, with the grain
        mark: middle
        grade: P180
        lubricant: dry
        hands_on: 5 min
      - sand: block, with the grain
        mark: fine
        grade: P240
        lubricant: dry
        hands_on: 5 min
      - tack off: brush and vacuum
        hands_on: 2 min
  - stage: seal
    steps:
      - pad: one wet pass
        product: shellac-dewaxed-blonde
        cut: 1 lb
        amount: 25 ml/m2
        hands_on: 3 min
        wait: {earliest: 2 h, likely: 3 h}
        dry_check: no smell of alcohol
  - stage: fill
    steps:
      - fill: across the pores
        product: water-based-filler
        amount: 60 ml/m2
        hands_on: 10 min
        wait: {earliest: 6 h, likely: 12 h}
        dry_check: not cool on the cheek; lifts powder
      - level: light, only the haze
        grade: P320
        lubricant: dry
        hands_on: 5 min
      - tack off: brush and vacuum
        hands_on: 2 min
  - stage: body
    steps:
      - pad: thin ovals
        product: shellac-dewaxed-blonde
        cut: 2 lb
        coats: 20
        amount: 15 ml/m2
        hands_on: 3 min
        wait:
          between: {earliest: 5 min, likely: 15 min}
          after: {earliest: 12 h, likely: 20 h}
        dry_check: the paper lifts dry powder
      - level: cork block, off the edges, high spots only
        grade: P600
        lubricant: soapy water
        hands_on: 10 min
        wait: {earliest: 2 h, likely: 4 h}
        dry_check: as warm to the cheek as dry wood
  - stage: polish
    steps:
      - pad: long straight strokes
        product: shellac-dewaxed-blonde
        cut: 1 lb
        thin_to: 0.5 lb
        coats: 8
        amount: 12 ml/m2
        hands_on: 3 min
        wait:
          between: {earliest: 5 min, likely: 15 min}
          after: {earliest: 8 h, likely: 12 h}
        dry_check: slides without a squeak
      - spirit off: barely damp pad
        product: denatured-alcohol
        hands_on: 3 min
        wait: {earliest: 30 min, likely: 1 h}
        dry_check: breath clears evenly
  - stage: cure
    steps:
      - rest: on pins
        wait: {earliest: 24 h, likely: 4 days}
        dry_check: a coin leaves no ring
"""

SEAL_WAITS = """\
        wait: {earliest: 2 h, likely: 3 h}
        dry_check: no smell of alcohol
"""
TACK_OFF = """\
      - tack off: brush and vacuum
        hands_on: 2 min
"""
HAZE = """\
      - level: light, only the haze
        grade: P320
        lubricant: dry
        hands_on: 5 min
"""
SOAP_WAITS = """\
        wait: {earliest: 2 h, likely: 4 h}
        dry_check: as warm to the cheek as dry wood
"""
SPIRIT = "      - spirit off: barely damp pad"
END = "        dry_check: a coin leaves no ring\n"
ALCOHOL = """\
      - tack off: a damp cloth
        product: denatured-alcohol
"""
VARNISH = """\
      - wipe: one more
        product: wiping-varnish
        amount: 20 ml/m2
        hands_on: 5 min
        wait: {earliest: 24 h, likely: 30 h}
        dry_check: no tack
"""
WAX = """\
      - wax: thin
        product: paste-wax
        hands_on: 5 min
        wait: {earliest: 24 h, likely: 30 h}
        dry_check: no tack
"""
WOOL = """\
      - rub out: straight strokes, off the edges
        grade: 0000 wool
        lubricant: soapy water
        hands_on: 5 min
"""
POWDER = """\
      - rub out: straight strokes, off the edges
        product: rottenstone
        lubricant: water
        hands_on: 5 min
"""


def with_(*changes):
    """Return the sound schedule with some of its words changed, each of them once."""
    text = SOUND
    for old, new in changes:
        assert text.count(old) >= 1, old
        text = text.replace(old, new, 1)
    return text


SLIPS = {
    "the middle paper left out": (
        with_(("grade: P180", "grade: P120"), ("grade: P240", "grade: P320")),
        {"grade-skipped": "grade: P320"},
    ),
    "papers the wrong way round": (
        with_(("P180", "P999"), ("P240", "P180"), ("P999", "P240")),
        {"grade-skipped": "grade: P240", "grade-reversed": "grade: P180"},
    ),
    "dust left under the seal": (
        with_((TACK_OFF, "")),
        {"no-tack-off": "sand: block"},
    ),
    "two coats for a levelling that wants more": (
        with_(("coats: 20", "coats: 2"), ("coats: 8", "coats: 2")),
        {"too-few-coats": "grade: P600"},
    ),
    "levelled the same hour": (
        with_(("after: {earliest: 12 h, likely: 20 h}", "after: {earliest: 20 min, likely: 1 h}")),
        {"film-not-fit": "level: cork block"},  # it is levelled wet, which asks for more
    ),
    "levelled the same evening": (
        with_(("after: {earliest: 12 h, likely: 20 h}", "after: {earliest: 3 h, likely: 5 h}")),
        {"short-rest-before-levelling": "between:"},
    ),
    "polished over wet soap": (
        with_(("{earliest: 2 h, likely: 4 h}", "{earliest: 10 min, likely: 30 min}")),
        {"water-under-coat": "wait: {earliest: 10 min"},
    ),
    "no wait after the wet paper at all": (
        with_((SOAP_WAITS, "")),
        {"water-under-coat": "level: cork block"},
    ),
    "a pad with a brushing cut": (
        with_(("cut: 2 lb", "cut: 4 lb")),
        {"pad-too-heavy": "cut: 4 lb"},
    ),
    "filler over a heavy seal": (
        with_(("cut: 1 lb\n        amount: 25", "cut: 3 lb\n        amount: 25")),
        {"filler-over-seal": "fill: across"},
    ),
    "haze left under the body": (
        with_((HAZE, "")),
        {"filler-haze": "fill: across"},
    ),
    "the body wiped down with alcohol": (
        with_((SPIRIT, ALCOHOL + SPIRIT)),
        {"alcohol-lifts": "product: denatured-alcohol"},
    ),
    "spirited off while it is soft": (
        with_(("{earliest: 8 h, likely: 12 h}", "{earliest: 30 min, likely: 2 h}")),
        {"spirit-off-too-early": "spirit off: barely"},
    ),
    "polish stronger than the body": (
        with_(("cut: 1 lb\n        thin_to: 0.5 lb", "cut: 2.5 lb")),
        {"cut-rising": "cut: 2.5 lb", "last-cut-heavy": "cut: 2.5 lb"},
    ),
    "gone to the customer the next morning": (
        with_(("{earliest: 24 h, likely: 4 days}", "{earliest: 4 h, likely: 6 h}")),
        {"no-cure": "pad: long"},
    ),
    "ten times too much": (
        with_(("amount: 15 ml/m2", "amount: 150 ml/m2")),
        {"coat-amount": "amount: 150", "film-too-thick": "coats: 20"},
    ),
    "wax, and another thought": (
        with_((SPIRIT, WAX + VARNISH + SPIRIT)),
        {
            "coat-over-wax": "product: wiping-varnish",
            "too-soon-over": "product: paste-wax",
            "film-not-fit": "product: denatured-alcohol",  # on varnish of a day
        },
    ),
    "no check for the seal": (
        with_((SEAL_WAITS, "")),
        {"no-dry-check": "pad: one wet pass", "recoat-too-soon": "pad: one wet pass"},
    ),
    "rubbed out with wool for a gloss": (
        with_((END, END + WOOL)),
        {"sheen-not-reached": "look: gloss"},
    ),
    "gloss rubbed up within the week": (
        with_((END, END + POWDER)),
        {"rub-out-too-early": "rub out: straight"},
    ),
    "waxy flakes under varnish": (
        with_((SPIRIT, VARNISH + SPIRIT)).replace("shellac-dewaxed-blonde", "shellac-waxy-orange"),
        {
            "over-waxy-shellac": "product: wiping-varnish",
            "film-not-fit": "product: denatured-alcohol",  # on varnish of a day
        },
    ),
    "a body that is never done": (
        with_(("coats: 20", "coats: 200")),
        {"film-too-thick": "coats: 200", "sitting-too-long": "coats: 200"},
    ),
    "no amount for the body": (
        with_(("        amount: 15 ml/m2\n", "")),
        {"no-amount": "pad: thin ovals"},
    ),
    "paper with no grade": (
        with_(("        grade: P600\n", "")),
        {"no-grade": "level: cork block"},
    ),
}


def told(tmp_path, text):
    """Return what the rules tell of a schedule: each rule with the line of the file it is at."""
    file = tmp_path / "mine.yaml"
    file.write_text(text)
    lines = text.splitlines()
    return {fault.rule: lines[fault.line - 1] for fault in check_files([file], None, NOW)}


def test_the_sound_schedule_is_sound(tmp_path):
    """What every slip begins from has nothing wrong with it, neither fault nor advice."""
    assert told(tmp_path, SOUND) == {}


@pytest.mark.parametrize("slip", SLIPS)
def test_a_slip_is_found_where_it_is_and_nothing_else(tmp_path, slip):
    """Each slip is told of at the line of its key, and brings no finding but those that it is."""
    text, expected = SLIPS[slip]
    found = told(tmp_path, text)
    assert set(found) == set(expected)
    for code, words in expected.items():
        assert words in found[code], code


@pytest.mark.parametrize("slip", SLIPS)
def test_a_slip_can_be_accepted(tmp_path, slip):
    """Each of them is silent once the schedule says why, and nothing else is silenced by it."""
    text, expected = SLIPS[slip]
    accepted = "".join(f"  - {{rule: {code}, because: tried and good}}\n" for code in expected)
    head, body = text.split("stages:\n", 1)
    assert told(tmp_path, f"{head}accepted:\n{accepted}stages:\n{body}") == {}
