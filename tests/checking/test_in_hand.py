"""What is in the hand and how it is used: every row is heard, and what is denied is not."""

from __future__ import annotations

import pytest
from classics import MADE_UP, schedule

from finishsched.checking.cases import ScheduleCase
from finishsched.checking.rules.in_hand import IN_HAND_RULES, UNFIT
from finishsched.documents.library import shipped_products

(RULE,) = IN_HAND_RULES
LAID = {
    "shellac": "wipe shellac 1lb 25ml",
    "waterborne": "brush waterborne 80ml",
    "varnish": "brush varnish 80ml",
    "oil": "wipe danish 25ml",
    "bleach": "bleach oxalic 60ml",
    "wax": "wax waxpolish",
    "filler.oil": "fill paste 60ml",
    "filler.epoxy": "fill epoxy 60ml",
    "tape": "mask",
    "alcohol": "spirit-off alcohol",
}


def _told(text):
    products = {**shipped_products(), **MADE_UP}
    case = ScheduleCase(schedule(text, "", tuple(shipped_products())), products)
    return [found.message for found in RULE.on_schedule(case)]


@pytest.mark.parametrize("row", UNFIT, ids=lambda row: row.words.split(",")[0])
def test_each_row_is_told_of_what_it_names(row):
    """By its first words, over one of its products (common practice)."""
    word = row.words.split(",")[0]
    said = f"thinned with {word}" if row.thinned else word
    products = [one.strip() for one in row.products.split(",")]
    laid = next(how for matter, how in LAID.items() if matter in products)
    assert any(row.why in one for one in _told(f'{laid} "{said}" @24h'))


@pytest.mark.parametrize(
    "text",
    [
        'brush waterborne 80ml "synthetic, no natural bristle" @4h',
        'fill paste 60ml "wipe off across, then light along the grain" @48h',
        'pad shellac 1lb x6 15ml "wet, not dripping, never stop on the work" @12h',
        'spirit-off alcohol "barely damp, no flame near" @24h',
        'wax waxpolish "thick tin, laid thin as breath" @12h',
        'wipe danish 25ml "flood, leave 15 minutes, wipe off dry, never leave it standing" @24h',
        'stain spirit-dye 30ml "a fine mist from the gun, not wiped" @1h',
        'brush shellac 1lb 60ml "one quick coat, never back over it" @3h',
        'brush varnish 80ml "stirred, not shaken, dry out of the draught, not in the sun" @24h',
    ],
)
def test_what_the_words_deny_is_not_heard(text):
    """A step that warns of a fault does not make it."""
    assert _told(text) == []
