"""The table of layers: every row can be reached, is told by a rule, and says who says so."""

from __future__ import annotations

import pytest
from classics import MADE_UP, schedule
from hypothesis import given, settings
from hypothesis import strategies as st

from finishsched.checking.cases import ScheduleCase
from finishsched.checking.layers.bare import BARE
from finishsched.checking.layers.matter import matter_of
from finishsched.checking.layers.pairs import Status, asked_of, pairs, sources
from finishsched.checking.layers.stack import verdicts
from finishsched.checking.registry import RULES
from finishsched.documents.library import shipped_products
from finishsched.model.product import Product, ProductKind

MATTERS = (
    *("shellac.waxy", "shellac.dewaxed", "spirit", "lacquer", "varnish.alkyd", "varnish.urethane"),
    *("waterborne", "two-part.varnish", "two-part.epoxy", "oil.raw", "oil.boiled", "oil.tung"),
    *("oil.blend", "oil.mineral", "wax", "silicone", "filler.oil", "filler.water", "filler.epoxy"),
    *("dye.water", "dye.spirit", "stain.oil", "glaze", "bleach.oxalic", "bleach.chlorine"),
    *("bleach.peroxide", "alkali", "glue.hide", "glue.pva", "glue.contact", "glue.epoxy"),
    *("work.steam", "work.soak", "work.tape", "work.alcohol", "work.thinner", "work.paper"),
    *(
        "filler.pumice",
        "lacquer.sealer",
        "lacquer.vinyl",
        "varnish.tree",
        "varnish.alkyd.wiping",
        "alkali.colour",
        "work.knife",
        "work.burnish",
        "work.rub",
    ),
    *("work.rub.thinner", "work.soak.acid", "work.soak.ammonia", "work.soak.alkali"),
    *("work.soak.tape", "work.soak.grain", "fumes", "paint", "stripper", "filler.glue"),
    *("mordant.iron", "mordant.tannin"),
)


@pytest.mark.parametrize("pair", pairs(), ids=lambda pair: f"{pair.below[0]}-{pair.above[0]}")
def test_a_row_is_whole(pair):
    """It is asked of some pair, a rule tells it, and its sources have titles."""
    fitting = [(b, a) for b in (*MATTERS, *BARE) for a in MATTERS if pair in asked_of(b, a)]
    assert fitting
    assert pair.rule in RULES
    assert pair.why
    assert pair.mend
    assert pair.after_s or pair.needs
    keys = pair.sources.replace(";", ",").split(",")
    assert all(key.strip() in sources() for key in keys)
    assert (pair.status is Status.COMMON) <= ("ME" not in pair.sources)


@pytest.mark.parametrize("kind", ProductKind, ids=str)
def test_every_kind_of_product_is_of_some_matter(kind):
    """No kind breaks the reader, whatever its product is called."""
    assert matter_of(Product("mine", "Mine", kind))


def _case(text):
    products = {**shipped_products(), **MADE_UP}
    return ScheduleCase(schedule(text, "", tuple(shipped_products())), products)


def told(days):
    """Return whether lacquer so many days after danish oil is told of."""
    text = f"sand P180; tack; wipe danish 20ml @{days}d; spray lacquer 130ml @24h"
    return [one.pair.rule for one in verdicts(_case(text))]


@settings(max_examples=20)
@given(st.integers(1, 60), st.integers(0, 60))
def test_waiting_longer_never_brings_a_fault(days, more):
    """What is told after a longer wait was told after the shorter one too."""
    assert set(told(days + more)) <= set(told(days))


def test_the_wait_of_the_row_is_the_limit():
    """Lacquer over a thin oil is told of at six days, and no more at seven (row of the table)."""
    assert told(6) == ["lacquer-over-oil"]
    assert told(7) == []


def test_what_is_contested_hides_nothing_that_is_known():
    """Waxy shellac under varnish is contested, and its two hours below any varnish hold as well."""
    rows = asked_of("shellac.waxy", "varnish.urethane")
    assert [row.status for row in rows] == [Status.COMMON, *[Status.CONTESTED] * 2]
    assert all(row.is_certain for row in asked_of("shellac.dewaxed", "waterborne"))


def test_masking_tape_is_pulled_off_dry_and_gummed_tape_is_not():
    """Tape that masked brings no water; what holds a seam after a glue-up is wetted."""
    masked = "prep; mask; stain oil-stain 20ml @24h; strip-tape; brush varnish 70ml @24h"
    gummed = "glue-up pva @24h; strip-tape; sand P180; tack; brush varnish 70ml @24h"
    wets = [[move.wets.value for move in _case(text).moves if move.verb.value == "strip tape"]
            for text in (masked.replace("prep", "sand P180"), gummed)]  # fmt: skip
    assert wets == [["nothing"], ["water"]]


def test_a_polished_film_has_no_bite():
    """Varnish of a week that was rubbed with P1500 is as if it were smooth; P400 holds."""
    text = "sand P180; tack; brush varnish 70ml @7d; scuff {}; tack; brush varnish 70ml @24h"
    told = [[one.pair.rule for one in verdicts(_case(text.format(grade)))]
            for grade in ("P1500", "P400")]  # fmt: skip
    assert told == [["no-bite"], []]


def test_glue_that_dried_on_the_face_is_scraped_off_before_anything_else():
    """Oil, dye and varnish a day after a glue-up want bare wood; scraped, they have it."""
    for coat in ("wipe danish 20ml", "stain spirit-dye 20ml", "brush varnish 70ml"):
        text = f"glue-up pva @30h; {coat} @3d"
        assert verdicts_of(text), coat
        assert not verdicts_of(text.replace(f"; {coat}", f"; scrape; {coat}")), coat


def verdicts_of(text):
    """Return what the table has against a shorthand."""
    return list(verdicts(_case(text)))


def test_alcohol_is_kept_off_green_varnish_and_a_green_waterborne_film():
    """Spirited off the next day both are told of; a week and more later neither is."""
    for coat in ("varnish 70ml", "waterborne 70ml"):
        text = f"sand P180; tack; brush {coat} @{{}}; spirit-off alcohol @2h"
        assert [one.pair.rule for one in verdicts_of(text.format("1d"))] == ["film-not-fit"], coat
        assert not verdicts_of(text.format("8d")), coat
