"""What a pad keeps and when: a heavy coat is seen, and a dry pad's charge is taken for none."""

import pytest

from finishsched.model.said import told
from finishsched.workshop.amounts.uses import habits_of
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.shown import tell_in
from finishsched.workshop.film.films import film_answer
from finishsched.workshop.log.log import log_entry, remarks_on
from finishsched.workshop.standing.where import find
from finishsched.workshop.views.views import piece_view

COAT_ML = 15 * 0.1 / 0.9
"""15 ml/m2 on 0.1 m2, a tenth of it lost."""
WEEK_MIN = 7 * 24 * 60


def _log(workshop, now, *words, piece="lid", **given):
    for word in words:
        log_entry(workshop, Entry(What(word), piece, **given), now)


def _second_coat(workshop, at, minute, amount_ml):
    """Lay the first coat with a dry pad, and the second at ``minute``; return its clock's view."""
    _log(workshop, at(0), "start", "done")
    _log(workshop, at(0), "done", amount_ml=COAT_ML + 10)
    _log(workshop, at(minute), "ready")
    _log(workshop, at(minute), "done", amount_ml=amount_ml)
    return piece_view(workshop, "lid", at(minute + 1))


def test_a_heavy_coat_with_a_charged_pad_is_seen(workshop, at):
    """Three times the coat on a pad that has its charge lies on the work: the wait is longer."""
    view = _second_coat(workshop, at, 180, 3 * COAT_ML)
    assert any("the coat 3 times the schedule's" in reason for reason in view.why)
    assert any("times the normal one" in warning for warning in view.warnings)


def test_a_pad_that_dried_takes_its_charge_again(workshop, at):
    """The same amount after more than a week went into the pad, and no wait changes by it."""
    view = _second_coat(workshop, at, WEEK_MIN + 60, 3 * COAT_ML)
    assert not any("times the schedule's" in reason for reason in view.why)
    assert not view.warnings


def test_another_piece_charges_the_pad_too(workshop, at):
    """One pad serves every piece of a product, the first to be coated brings its charge."""
    _log(workshop, at(0), "start", "done", piece="body")
    _log(workshop, at(0), "done", piece="body", amount_ml=2 * COAT_ML + 10)
    _log(workshop, at(1), "start", "done")
    step = find(workshop, "lid").step
    pads = habits_of(workshop).pads
    assert pads.is_charged(step, at(2))
    assert not pads.is_charged(step, at(WEEK_MIN + 2))
    sheet = piece_view(workshop, "lid", at(2)).sheet
    assert sheet.takes.pad_ml == 0
    assert sheet.takes.amount.likely == pytest.approx(COAT_ML)


def test_how_the_pad_is_is_told(workshop, at):
    """Before any coat, while it is charged, and once it has lain too long."""
    _log(workshop, at(0), "start", "done")
    assert any("pad: none" in text for text in piece_view(workshop, "lid", at(0)).how_much)
    _log(workshop, at(0), "done", amount_ml=COAT_ML + 10)
    _log(workshop, at(150), "ready")
    (charged,) = (t for t in piece_view(workshop, "lid", at(150)).how_much if "pad:" in t)
    assert charged.startswith("pad: charged, last used 2 h 30 ago")
    later = piece_view(workshop, "lid", at(WEEK_MIN + 60)).how_much
    assert any("so taken to be dry: 10 ml go into it first" in text for text in later)


def test_film_says_what_the_pad_kept(workshop, at):
    """What was logged for the first coat is told with what of it went into the dry pad."""
    _second_coat(workshop, at, 180, COAT_ML)
    answer = film_answer(workshop, "lid", at(200))
    tell = tell_in(workshop.papers.shop.units)
    inputs = " | ".join(told(text, tell) for reason in answer.reasons for text in reason.inputs)
    assert "of which the dry pad kept 10 ml" in inputs


def test_an_amount_for_several_pieces_charges_the_pad_once(workshop, at):
    """Of an amount for both pieces the pad's charge goes with the first; each coat is its own."""
    _log(workshop, at(0), "start", "done", piece="all")
    _log(workshop, at(0), "done", piece="all", amount_ml=3 * COAT_ML + 10)
    for name in ("lid", "body"):
        view = piece_view(workshop, name, at(1))
        assert not any("times the schedule's" in reason for reason in view.why)


def test_who_logs_far_too_much_hears_of_it_and_who_does_as_told_does_not(workshop, at):
    """Three times the coat is remarked on, with how to put it right; the told amount never."""
    _log(workshop, at(0), "start", "done")
    told = log_entry(workshop, Entry(What.DONE, "lid", amount_ml=COAT_ML + 10), at(0))
    assert remarks_on(workshop, told, at(0)) == ()
    _log(workshop, at(180), "ready")
    heavy = log_entry(workshop, Entry(What.DONE, "lid", amount_ml=3 * COAT_ML), at(180))
    (remark,) = remarks_on(workshop, heavy, at(180))
    assert remark.startswith("5 ml for box/lid is a coat 3 times the schedule's")
    assert "finishsched log box/lid amend --used" in remark
