"""The cure clocks over the real air, by what the shop has learnt."""

from datetime import timedelta

import pytest

from finishsched.model.shop import Air
from finishsched.workshop.air.reading_entries import add_air
from finishsched.workshop.base.answers import State
from finishsched.workshop.base.entries import Entry, What
from finishsched.workshop.base.notice import Notice
from finishsched.workshop.base.workshop import Workshop
from finishsched.workshop.log.log import log_entry
from finishsched.workshop.views.views import piece_view, shop_notices


def _log(workshop, now, *words, piece="lid", **given):
    for word in words:
        log_entry(workshop, Entry(What(word), piece, **given), now)


def test_in_the_books_air_the_clock_is_the_books(workshop, at):
    """At 20 degC and 50 %, for which the schedule's waits hold, two hours are two hours."""
    _log(workshop, at(0), "start", "done", "done")
    clock = piece_view(workshop, "lid", at(0)).clock
    assert clock.likely_at - at(0) == timedelta(hours=2)
    assert piece_view(workshop, "lid", at(0)).pace == ""


def test_a_wait_comes_to_the_minute_by_which_it_is_told(workshop, at):
    """Logged at 18:00:25, two hours end at 20:01: told so before, then by, and after that minute.

    It was 'likely 20:01' to whoever logged it, and 'likely since 20:00' to whoever came back.
    """
    _log(workshop, at(0) + timedelta(seconds=25), "start", "done", "done")
    for minutes, state in ((90, State.NEARLY), (120.9, State.NEARLY), (121, State.CHECK)):
        view = piece_view(workshop, "lid", at(minutes))
        assert view.clock.likely_at == at(121)
        assert view.clock.latest_at.second == 0
        assert view.state is state
    assert piece_view(workshop, "lid", at(60)).clock.earliest_at == at(60) + timedelta(seconds=25)


def test_a_cold_room_is_slower_and_says_so(workshop, at):
    """At 12 degC the same wait ends later, and the reason names the temperature."""
    add_air(workshop, Air(12.0, 50.0), at(0))
    _log(workshop, at(0), "start", "done", "done")
    view = piece_view(workshop, "lid", at(0))
    assert view.clock.likely_at > at(130)
    assert view.pace.startswith("slower than the book because 12 degC")


def test_what_is_read_after_a_wait_did_not_slow_it(workshop, at):
    """A damp cold evening is no reason for a wait that was likely over before it."""
    _log(workshop, at(0), "start", "done", "done")
    add_air(workshop, Air(12.0, 80.0), at(300))
    view = piece_view(workshop, "lid", at(300))
    assert view.clock.likely_at == at(120)
    assert view.pace == ""


def test_a_reading_of_the_past_changes_the_clock(workshop, at):
    """Logged afterwards, a cold hour still counts."""
    _log(workshop, at(0), "start", "done", "done")
    before = piece_view(workshop, "lid", at(60)).clock
    add_air(workshop, Air(10.0, 50.0, at=at(5)), at(60))
    after = piece_view(workshop, "lid", at(60)).clock
    assert after.likely_at > before.likely_at
    assert after.percent < before.percent


def test_a_clock_is_the_same_opened_anew(workshop, folder, at):
    """The same journal gives the same clock, whoever reads it and when."""
    add_air(workshop, Air(14.0, 60.0), at(0))
    _log(workshop, at(0), "start", "done", "done")
    with type(workshop).open(folder, at(30)) as again:
        assert piece_view(again, "lid", at(30)).clock == piece_view(workshop, "lid", at(30)).clock


@pytest.mark.parametrize("amount_ml", [1.6, 1.7, 11.0, 12.0, 12.5])
def test_what_was_told_is_the_schedules_coat(workshop, at, amount_ml):
    """With a fresh pad or a charged one, and rounded as it was told, no wait changes by it."""
    _log(workshop, at(0), "start", "done")
    _log(workshop, at(0), "done", amount_ml=amount_ml)
    clock = piece_view(workshop, "lid", at(0)).clock
    assert clock.likely_at == at(120)


def test_a_heavy_coat_takes_longer(workshop, at):
    """Three times the scheduled amount on the piece dries later (physical drying)."""
    _log(workshop, at(0), "start", "done")
    _log(workshop, at(0), "done", amount_ml=16.0)
    heavy = piece_view(workshop, "lid", at(0)).clock
    _log(workshop, at(0), "undo")
    _log(workshop, at(0), "done")
    assert heavy.likely_at > piece_view(workshop, "lid", at(0)).clock.likely_at


def test_dry_checks_teach_the_shop(workshop, at):
    """After a wait that needed half as long again, the next of its kind is foretold longer."""
    _log(workshop, at(0), "start", "done", "done")
    first = piece_view(workshop, "lid", at(0)).clock
    assert first.likely_at == at(120)
    _log(workshop, at(160), "not ready")
    _log(workshop, at(200), "ready")
    _log(workshop, at(200), "start", "done", "done", piece="body")
    body = piece_view(workshop, "body", at(200))
    assert body.clock.likely_at - at(200) > timedelta(minutes=125)
    assert any("times the book, from 1 check" in line for line in body.why)


def test_kin_send_nobody_to_look_before_the_schedule_does(folder, at):
    """Quick waits of another kind shorten this one, but never below the schedule's earliest."""
    file = folder / "schedules" / "two-coats.yaml"
    file.write_text(file.read_text().replace("earliest: 8 h", "earliest: 11 h 50 min"))
    with Workshop.open(folder, at(0)) as workshop:
        _log(workshop, at(0), "start", "done", "done")
        _log(workshop, at(70), "not ready")
        _log(workshop, at(80), "ready", "done")
        view = piece_view(workshop, "lid", at(80))
        assert any("no check of this wait yet; 1 check of other waits" in line for line in view.why)
        assert view.clock.likely_at - at(80) == timedelta(hours=11, minutes=50)
        assert view.clock.earliest_at <= view.clock.likely_at < view.clock.latest_at


def test_damp_air_warns_before_an_alcohol_coat(workshop, at):
    """At 90 % humidity the sheet of the next coat says what speaks against it."""
    add_air(workshop, Air(18.0, 90.0), at(0))
    _log(workshop, at(0), "start", "done")
    view = piece_view(workshop, "lid", at(0))
    assert view.state is State.TO_DO
    assert view.warnings
    add_air(workshop, Air(20.0, 45.0), at(1))
    assert not piece_view(workshop, "lid", at(1)).warnings


@pytest.mark.parametrize("minutes", [0, 45, 119, 121, 5000])
def test_looking_never_changes_what_is_foretold(workshop, at, minutes):
    """The same entries foretell the same instants, whenever one looks."""
    add_air(workshop, Air(16.0, 55.0), at(0))
    _log(workshop, at(0), "start", "done", "done")
    now, later = (
        piece_view(workshop, "lid", at(0)).clock,
        piece_view(workshop, "lid", at(minutes)).clock,
    )
    assert (now.earliest_at, now.likely_at, now.latest_at) == (
        later.earliest_at,
        later.likely_at,
        later.latest_at,
    )


def test_the_window_is_not_forgotten_once_the_film_is_ready(workshop, at):
    """Three days after the last coat the next step is late, however ready the film is."""
    _log(workshop, at(0), "start", "done", "done")
    _log(workshop, at(120), "ready", "done")
    _log(workshop, at(120 + 13 * 60), "ready")
    day = 24 * 60
    assert not piece_view(workshop, "lid", at(120 + day)).warnings
    (soon,) = piece_view(workshop, "lid", at(120 + 2.5 * day)).warnings
    assert "closes in 12 h" in soon
    (late,) = piece_view(workshop, "lid", at(120 + 4 * day)).warnings
    assert "closed 1 d ago" in late
    assert "Rub the film dull" in late


def test_a_journal_that_is_gone_is_told(workshop, folder, at):
    """A shop whose journal is missing begins a new one, and says so."""
    workshop.close()
    (folder / "journal.db").unlink()
    with type(workshop).open(folder, at(0)) as again:
        assert Notice("no journal was here: a new one was begun") in shop_notices(again, at(0))
        workshop._journal = again._journal  # the fixture closes what is open


def test_air_unlike_the_schedules_widens_the_range(workshop, at):
    """In a warm damp room the slow end lies further beyond the likely time than in the book's."""
    _log(workshop, at(0), "start", "done", "done")
    book = piece_view(workshop, "lid", at(0)).clock
    add_air(workshop, Air(28.0, 75.0), at(0))
    there = piece_view(workshop, "lid", at(0)).clock
    slow = [(c.latest_at - c.laid_at) / (c.likely_at - c.laid_at) for c in (book, there)]
    assert slow[1] > 1.02 * slow[0]
