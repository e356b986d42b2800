"""A sound way of working is left alone, and the wrong one that looks like it is told.

Pairs from common practice, no source; what is washed off oily woods: M. Spagnuolo, "Finishing oily
woods", online article, 2011.
"""

from __future__ import annotations

import functools

import pytest
from classics import MADE_UP, on_what, schedule

from finishsched.checking.cases import PieceCase, ScheduleCase
from finishsched.checking.findings import piece_findings, schedule_findings
from finishsched.checking.rule import Severity
from finishsched.documents.library import shipped_products

PREP = "sand P120; sand P180"
PAIRS = [
    (
        "oily-wood",
        "teak",
        f"{PREP}; wash spirits @30min; wipe danish 20ml @2d; rest @3w",
        f"{PREP}; wash spirits @3d; wipe danish 20ml @2d; rest @3w",
    ),
    (
        "oily-wood",
        "teak",
        f"{PREP}; wash acetone @15min; wipe wiping 25ml @24h; rest @3w",
        f"{PREP}; tack; wipe wiping 25ml @24h; rest @3w",
    ),
    (
        "no-tack-off",
        "ebony",
        f"{PREP}; wash naphtha @30min; pad shellac 1lb 10ml @24h",
        f"{PREP}; pad shellac 1lb 10ml @24h",
    ),
    (
        "no-tack-off",
        "maple",
        'sand P120; scrape "toward the dark, blown out"; pad shellac 1lb 10ml @24h',
        'sand P120; scrape "toward the dark"; pad shellac 1lb 10ml @24h',
    ),
    (
        "recoat-too-soon",
        "maple",
        f"{PREP}; tack; spray shellac 1lb 50ml x3 @1h/24h",
        f"{PREP}; tack; spray shellac 2lb 90ml x3 @1h/24h",
    ),
    (
        "no-rest-before-levelling",
        "maple",
        f"{PREP}; tack; spray shellac 1lb 40ml @1h; sand P320; tack; spray shellac 1lb 40ml @24h",
        f"{PREP}; tack; brush shellac 2lb 90ml @1h; sand P320; tack; spray shellac 1lb 40ml @24h",
    ),
    (
        "tape-not-dry",
        "maple; veneer 0.6",
        'glue-up pva @12h; rest @3d; strip-tape "dry, warmed with an iron"; sand P180',
        'glue-up pva @12h; rest @3d; strip-tape "damp, wait until it lets go"; sand P180',
    ),
    (
        "film-too-thin",
        "lime",
        f"{PREP}; tack; brush shellac 1lb 40ml x2 @2h/12h; scuff P400; tack; wax waxpolish @24h",
        f"{PREP}; tack; brush shellac 1lb 40ml x2 @2h/12h; scuff P400; tack; rest @2w",
    ),
    (
        "bare-wood-too-coarse",
        "pine",
        "sand P120; sand P150; tack; brush milk-paint 100ml @24h; wax waxpolish @24h",
        "sand P120; sand P150; tack; brush varnish 80ml @24h; rest @4w",
    ),
    (
        "sets-too-fast",
        "ash",
        'sand P180; tack; brush lacquer 90ml "the brushing kind" @2h; brush lacquer 90ml @24h',
        'sand P180; tack; brush lacquer 90ml "full brush" @2h; brush lacquer 90ml @24h',
    ),
    (
        "alcohol-lifts",
        "cherry",
        'over shellac; wash naphtha @1h; cut-back alcohol "until the crackle flows together" @24h',
        'over shellac; wash naphtha @1h; cut-back alcohol "hard, with a rag" @24h',
    ),
    (
        "coat-over-wax",
        "oak",
        'over varnish; wash paint-stripper "twice" @1h; wash spirits @24h; wipe linseed 20ml @3d',
        "over varnish; wash water @1d; wipe linseed 20ml @3d",
    ),
    (
        "film-not-fit",
        "mahogany",
        'over shellac; wash naphtha @2h; steam "a dent where the film is long gone" @24h',
        'over shellac; wash naphtha @2h; steam "a dent in the top" @24h',
    ),
    (
        "stain-over-seal",
        "maple",
        "prep; spray vinyl-sealer 60ml @1h; scuff P320; tack; tone nr-dye 15ml @1h",
        "prep; spray vinyl-sealer 60ml @1h; scuff P320; tack; stain nr-dye 15ml @1h",
    ),
    (
        "pores-unfilled",
        "koa; gloss",
        'sand P180; tack; brush shellac 2lb 60ml "the pores may show" @24h',
        "sand P180; tack; brush shellac 2lb 60ml @24h",
    ),
    (
        "too-fine-for-stain",
        "pear",
        "sand P240; sand P400; tack; stain iron-liquor @24h; brush shellac 1lb 40ml @24h",
        "sand P240; sand P400; tack; stain oil-stain @24h; brush shellac 1lb 40ml @24h",
    ),
]


@functools.cache
def _products():
    return {**shipped_products(), **MADE_UP}


def told(on, how):
    """Return what is told of a shorthand on a wood, and how gravely."""
    made = on_what(on)
    laid = schedule(how.replace("prep", PREP), made.sheen, tuple(shipped_products()))
    case = ScheduleCase(laid, _products())
    found = (*schedule_findings(case), *piece_findings(PieceCase(made, case)))
    return {one.code: one.severity for one in found}


@pytest.mark.parametrize(
    ("code", "on", "right", "wrong"), PAIRS, ids=[f"{n}-{one[0]}" for n, one in enumerate(PAIRS)]
)
def test_the_sound_way_is_left_alone_and_the_wrong_one_beside_it_is_told(code, on, right, wrong):
    """One step, its words or its time is all that parts them."""
    assert code not in told(on, right)
    assert code in told(on, wrong)


def test_oil_on_washed_rosewood_is_a_word_of_advice_and_unwashed_an_error():
    """Wiped first it dries, say some, and others not: what is not known for certain advises."""
    washed = told("Indian rosewood", f"{PREP}; wash acetone @15min; wipe danish 20ml @24h")
    dry = told("Indian rosewood", f"{PREP}; tack; wipe danish 20ml @24h")
    assert (washed["oily-wood"], dry["oily-wood"]) == (Severity.ADVICE, Severity.ERROR)


def test_a_scuff_that_leaves_most_of_a_thin_film_only_advises_and_one_that_may_take_it_errs():
    """P400 over 6 um of clear film goes through here and there; P180 goes through for certain."""
    how = f"{PREP}; tack; brush shellac 1lb 50ml x2 @2h/12h; scuff {{}}; tack; rest @2w"
    fine, coarse = (told("lime", how.format(grade)) for grade in ("P400", "P180"))
    assert fine["too-few-coats"] is Severity.ADVICE
    assert coarse["too-few-coats"] is Severity.ERROR


def test_filler_that_is_filled_again_may_be_cut_down_to_the_seal():
    """Epoxy goes on twice, and only after the second time a cut through it is a loss."""
    fill, seal = "fill epoxy 80ml @24h", "brush shellac 1lb 40ml x2 @2h/12h; scuff P320; tack"
    once = (
        f"{PREP}; tack; {seal}; {fill}; level P180 flush; tack; pad shellac 1lb 15ml x8 @10min/24h"
    )
    twice = once.replace("; tack; pad", f"; tack; {fill}; scuff P400; tack; pad")
    assert "too-few-coats" in told("walnut", once)
    assert "too-few-coats" not in told("walnut", twice)
